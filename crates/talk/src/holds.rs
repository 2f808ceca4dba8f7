//! What a comb holds, how full it is, how it hangs.

use crate::act::{Act, Fill, Hold};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

impl Ear<'_> {
    /// Hears contents and shape of the combs in hand.
    pub(crate) fn holds(&mut self, marks: &[Mark]) {
        let mut not = false;
        for (i, m) in marks.iter().enumerate() {
            match m.concept {
                // "stuck to the floor, no, to the wall, it's stuck to the wall": nothing is denied
                C::AttachedYes if not && self.no_far_before(m) => not = false,
                // "it won't go, it's still bent"
                C::Not
                    if self.word(m.from.wrapping_sub(1)) == "wo" && self.new_clause(marks, i) => {}
                C::Not => not = true,
                C::Share if m.value < 0.01 => not = true,
                C::Stop | C::But | C::Then | C::See => not = false,
                _ => {}
            }
            if self.of_something_else_here(marks, i, not) {
                continue;
            }
            not |= self.denied_after(marks, i);
            let words = std::slice::from_ref(m);
            let holds: &[Hold] = match m.concept {
                C::Honey => &[Hold::Honey],
                C::Unripe => &[Hold::Unripe],
                C::Brood | C::SealedBrood => &[Hold::WorkerBrood],
                C::Drone => &[Hold::DroneBrood],
                C::DroneAndWorker => &[Hold::WorkerBrood, Hold::DroneBrood],
                C::Eggs => &[Hold::Eggs],
                C::Pollen => &[Hold::Pollen],
                C::Empty => &[Hold::Empty],
                C::NewComb if self.white_face(marks, i) => &[],
                C::NewComb => &[Hold::NewComb],
                C::DroneBees if self.drone_cells(marks, i) => &[Hold::DroneBrood],
                C::Open if self.wet(m) || self.rest_open(marks, i) => &[Hold::Unripe],
                C::Weather if self.dry_comb(marks, m) => &[Hold::Empty],
                _ => {
                    // "it's only the light on the wax"
                    let shines = m.concept == C::FillLight
                        && self.said(m, "light")
                        && self.word(m.from.wrapping_sub(1)) == "the"
                        && (matches!(self.word(m.to), "on" | "in" | "off" | "through")
                            // "she runs from the light", "hold it up to the light"
                            || m.to == m.from + 1
                                && matches!(
                                    self.word(m.from.wrapping_sub(2)),
                                    "from" | "to" | "of" | "toward" | "towards" | "against" | "into" | "'s" | "is"
                                ));
                    // "scales are wet so no weight"
                    let unweighed =
                        self.said(m, "weight") && marks.iter().any(|n| n.concept == C::Weigh);
                    // "how heavy?"
                    let asked = self.word(m.from.wrapping_sub(1)) == "how";
                    if shines
                        || asked
                        || unweighed
                        || m.concept == C::FillLight && self.of_a_patch(marks, i)
                    {
                        continue;
                    }
                    self.shape(m, not, words);
                    let none = m.concept == C::Share && m.value < 0.01;
                    if crate::opening::describes(m.concept) && m.concept != C::Not && !none {
                        not = false;
                    }
                    continue;
                }
            };
            for &hold in holds {
                self.hold(hold, not, words);
            }
            not = not
                && marks
                    .get(i + 1)
                    .is_some_and(|n| self.between(m, n, &["or", "nor"]) || n.concept == C::And);
        }
    }

    /// "honey along the top but brood no more", "eggs none": denied after it is named.
    fn denied_after(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let ends = |n: &Mark| {
            n.to == self.tokens.len() || self.tokens[n.to].is_stop() || self.word(n.to) == "but"
        };
        let none = |n: &Mark| {
            n.from == m.to
                && ends(n)
                && (n.concept == C::Not
                    && matches!(self.word(n.to - 1), "more" | "longer" | "none")
                    || n.concept == C::Share && self.word(n.from) == "none")
        };
        m.concept.is_held() && marks.get(at + 1).is_some_and(none)
    }

    fn hold(&mut self, hold: Hold, not: bool, words: &[Mark]) {
        if not {
            self.note_hand("holds not", &Act::HoldsNot(hold), words);
            return;
        }
        if hold == Hold::Eggs {
            self.note("eggs seen", Act::EggsSeen, None, words);
            // "didn't see her but there are eggs": of the hive, where the comb in hand is done with
            let said = |word: &str| self.tokens.iter().any(|t| t.is(word));
            // "no sign of the queen but eggs so she was here"
            let was_here = said("queen") && said("she") && said("was");
            let of_her = (said("her") || was_here)
                && self
                    .tokens
                    .iter()
                    .any(|t| matches!(&*t.text, "n't" | "not" | "never"));
            if of_her && self.comb().is_some_and(|c| c.decision.is_some()) {
                return;
            }
        }
        self.note_hand("holds", &Act::Holds(hold), words);
        if hold == Hold::Honey || hold == Hold::WorkerBrood {
            self.note_hand("not empty", &Act::HoldsNot(Hold::Empty), words);
        }
    }

    /// "drones mainly", "a few big domed drones": brood, not bees that walk.
    fn drone_cells(&self, marks: &[Mark], at: usize) -> bool {
        // "a big drone": one bee
        if !self.said(&marks[at], "drones") {
            return false;
        }
        let walk = (0..self.tokens.len()).any(|i| {
            matches!(
                self.word(i),
                "walking"
                    | "walks"
                    | "flying"
                    | "running"
                    | "bees"
                    | "wandering"
                    | "crawling"
                    | "fighting"
                    | "robbing"
                    | "few"
            )
        });
        let cells = (0..self.tokens.len()).any(|i| {
            matches!(
                self.word(i),
                "domed"
                    | "lids"
                    | "caps"
                    | "corner"
                    | "edge"
                    | "bottom"
                    | "wall"
                    | "solid"
                    | "big"
                    | "patch"
                    | "below"
                    | "low"
            )
        });
        let mostly = marks
            .get(at + 1)
            .is_some_and(|m| matches!(m.concept, C::Share | C::Extent))
            || at > 0
                && matches!(
                    marks[at - 1].concept,
                    C::Share | C::Capped | C::That | C::FillFull
                );
        let robbed = self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "fighting" | "robbing" | "front" | "door" | "entrance"
            )
        });
        cells && !robbed || mostly && !walk
    }

    /// "a patch of brood the size of my hand".
    fn of_a_patch(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let by_size = ["size", "sized", "like", "big", "bigger"]
            .iter()
            .any(|w| self.said(m, w));
        by_size
            && marks[..at]
                .iter()
                .rev()
                .take_while(|n| !matches!(n.concept, C::Stop | C::NewComb | C::Comb))
                .any(|n| n.concept.is_held() || n.concept == C::Capped)
    }

    /// "the rest is wet".
    fn wet(&self, m: &Mark) -> bool {
        self.said(m, "wet")
            && (matches!(
                self.word(m.to),
                "" | "as"
                    | "and"
                    | "still"
                    | "yet"
                    | ","
                    | "."
                    | "in"
                    | "behind"
                    | "along"
                    | "underneath"
            ) || self.word(m.to) == "all" && self.word(m.to + 1) == "along"
                || m.from > 0
                    && matches!(
                        self.word(m.from - 1),
                        "is" | "'s" | "still" | "all" | "rest" | "too"
                    ))
    }

    /// "the rest is still open", after a share that is capped: it holds what is not ripe.
    fn rest_open(&self, marks: &[Mark], at: usize) -> bool {
        let capped = |face: Option<f64>| face.is_some_and(|share| share > 0.0);
        self.said(&marks[at], "open")
            && marks[..at]
                .iter()
                .rev()
                .take(2)
                .any(|n| n.concept == C::Rest)
            && self
                .comb()
                .is_some_and(|c| capped(c.this) || capped(c.other))
    }

    /// After this mark another clause begins with its own "it is".
    fn new_clause(&self, marks: &[Mark], at: usize) -> bool {
        let from = marks[at].to;
        let to = marks.last().map_or(from, |m| m.to);
        (from + 1..to).any(|i| {
            matches!(self.word(i), "'s" | "is")
                && matches!(self.word(i - 1), "it" | "that" | "this")
        })
    }

    /// The last "no" before it stands more than two words away.
    fn no_far_before(&self, m: &Mark) -> bool {
        let near = (m.from.saturating_sub(3)..m.from).any(|i| {
            matches!(
                self.word(i),
                "no" | "not" | "n't" | "never" | "nothing" | "none" | "without"
            )
        });
        let plain_no = (0..m.from).any(|i| self.word(i) == "no");
        plain_no && !near
    }

    /// "dry", said of a comb.
    fn dry_comb(&self, marks: &[Mark], m: &Mark) -> bool {
        let weather = marks.iter().filter(|n| n.concept == C::Weather).count();
        let stored = marks
            .iter()
            .any(|n| n.concept.is_held() || matches!(n.concept, C::Capped | C::Degrees));
        self.said(m, "dry")
            && weather == 1
            && !stored
            && !self.tokens.iter().any(|t| t.is("today"))
            && matches!(
                self.word(m.to),
                "" | "as" | "," | "." | "and" | "inside" | "comb"
            )
            && self.comb().is_some_and(|c| {
                c.decision.is_none() && c.this.is_none() && !c.holds.contains(&Hold::Honey)
            })
    }

    /// "run into the wall halfway down", "the left hand wall sort of halfway down".
    fn down_a_wall(&self, m: &Mark) -> bool {
        let before = (m.from.saturating_sub(4)..m.from).rev();
        before
            .map(|i| self.word(i))
            .find(|word| {
                !matches!(
                    *word,
                    "sort" | "kind" | "of" | "about" | "just" | "maybe" | "like"
                )
            })
            .is_some_and(|word| matches!(word, "wall" | "side"))
    }

    fn cut_free(&self, m: &Mark) -> bool {
        let free = ["free", "loose"].iter().any(|w| self.said(m, w));
        let hangs = ["hanging", "hangs", "swinging"]
            .iter()
            .any(|w| self.said(m, w));
        let was = self.comb().is_some_and(|c| c.attached == Some(true));
        free && !hangs && was && !self.correcting
    }

    fn shape(&mut self, m: &Mark, not: bool, words: &[Mark]) {
        match m.concept {
            C::FillFull if !not => self.note_hand("fill", &Act::Filled(Fill::Full), words),
            // "run into the wall halfway down"
            C::FillPart if self.down_a_wall(m) => {}
            C::FillFull | C::FillPart => self.note_hand("fill", &Act::Filled(Fill::Part), words),
            // "tiny little eggs"
            C::FillLight if matches!(self.word(m.to), "eggs" | "egg" | "larvae" | "grubs") => {}
            C::FillLight => {
                self.note_hand("fill", &Act::Filled(Fill::Light), words);
                if ["new", "white", "fresh", "wax"]
                    .iter()
                    .any(|w| self.said(m, w))
                {
                    self.note_hand("holds", &Act::Holds(Hold::NewComb), words);
                }
            }
            C::AttachedYes => self.note_hand("attached", &Act::Attached(!not), words),
            // "it's stuck", a pause, "okay, it's free": it was
            C::AttachedNo if self.cut_free(m) => {}
            C::AttachedNo => self.note_hand("attached", &Act::Attached(false), words),
            C::StraightYes => self.note_hand("straight", &Act::Straight(!not), words),
            C::StraightNo => {
                if self.said(m, "next") && !not {
                    self.state.into_next = self.state.hand.last().copied();
                }
                self.note_hand("straight", &Act::Straight(not), words);
            }
            _ => {}
        }
    }
}
