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
                C::Not => not = true,
                C::Share if m.value < 0.01 => not = true,
                C::Stop | C::But | C::Then | C::See => not = false,
                _ => {}
            }
            // "grubs curled up": not the comb
            // "full of flowers"
            let of_else = m.concept == C::FillFull
                && m.to == m.from + 1
                && self.word(m.to) == "of"
                && marks
                    .get(i + 1)
                    .is_some_and(|n| n.concept == C::Word && n.from <= m.to + 3);
            // "the pail wasn't full", "I'm not here for honey"
            let vessel = m.concept == C::FillFull
                && (m.from.saturating_sub(4)..m.from).any(|k| {
                    matches!(
                        self.word(k),
                        "pail"
                            | "jar"
                            | "bucket"
                            | "tub"
                            | "feeder"
                            | "tin"
                            | "can"
                            | "jug"
                            | "kettle"
                            | "hands"
                            | "bottle"
                    )
                });
            // "drone brood in worker cells"
            let in_cells = m.concept == C::Brood
                && self.word(m.to - 1).starts_with("cell")
                && m.from > 0
                && self.word(m.from - 1) == "in"
                && marks[..i].iter().any(|n| n.concept == C::Drone);
            // "they're light": the colony
            let colony = matches!(m.concept, C::FillFull | C::FillLight)
                && self.state.hand.len() < 2
                && (m.from.saturating_sub(3)..m.from).any(|k| {
                    matches!(self.word(k), "they" | "hive" | "colony")
                        && matches!(self.word(k + 1), "'re" | "are" | "is" | "'s" | "feel")
                });
            let keeper = not
                && (m.from.saturating_sub(6)..m.from).any(|k| {
                    matches!(self.word(k), "'m" | "am" | "'re" | "ain't")
                        && matches!(self.word(k.wrapping_sub(1)), "i" | "we")
                        && (k..m.from).any(|j| {
                            matches!(
                                self.word(j),
                                "for" | "carrying" | "leaving" | "wasting" | "risking" | "here"
                            )
                        })
                });
            let curled = m.concept == C::StraightNo
                && i > 0
                && marks[i - 1].concept == C::Brood
                && marks[i - 1].to + 1 >= m.from
                && (m.from..m.to).any(|k| self.word(k).starts_with("curl"));
            if of_else
                || in_cells
                || colony
                || vessel
                || keeper
                || curled
                || self.known_by_eggs(marks, i)
            {
                continue;
            }
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
                C::NewComb => &[Hold::NewComb],
                C::DroneBees if self.drone_cells(marks, i) => &[Hold::DroneBrood],
                C::Open if self.wet(m) => &[Hold::Unripe],
                C::Weather if self.dry_comb(marks, m) => &[Hold::Empty],
                _ => {
                    if m.concept == C::FillLight && self.of_a_patch(marks, i) {
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
            // "an empty patch in the middle"
            let patch = m.concept == C::Empty
                && m.to == m.from + 1
                && matches!(
                    self.word(m.to),
                    "patch"
                        | "area"
                        | "spot"
                        | "hole"
                        | "holes"
                        | "centre"
                        | "center"
                        | "ring"
                        | "space"
                        | "spots"
                );
            if patch || Self::elsewhere(marks, i) {
                continue;
            }
            for &hold in holds {
                self.hold(hold, not, words);
            }
            not = not
                && marks
                    .get(i + 1)
                    .is_some_and(|n| self.between(m, n, &["or", "nor"]) || n.concept == C::And);
        }
    }

    /// "with those eggs she was here this week", "the eggs will do": told before, of another comb.
    fn known_by_eggs(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        if m.concept != C::Eggs {
            return false;
        }
        let told = self.state.visit.eggs_seen
            && m.from > 1
            && matches!(
                self.word(m.from - 1),
                "those" | "these" | "them" | "the" | "her"
            )
            && matches!(self.word(m.from - 2), "with" | "from" | "by" | "given");
        let enough = matches!(self.word(m.to), "will" | "'ll" | "would")
            && matches!(self.word(m.to + 1), "do" | "tell" | "say")
            || matches!(self.word(m.to), "are" | "is")
                && matches!(self.word(m.to + 1), "enough" | "proof")
            || matches!(
                self.word(m.to),
                "do" | "tell" | "say" | "mean" | "prove" | "means"
            );
        told || enough
    }

    fn hold(&mut self, hold: Hold, not: bool, words: &[Mark]) {
        if not {
            self.note_hand("holds not", &Act::HoldsNot(hold), words);
            return;
        }
        if hold == Hold::Eggs {
            self.note("eggs seen", Act::EggsSeen, None, words);
        }
        self.note_hand("holds", &Act::Holds(hold), words);
        if hold == Hold::Honey || hold == Hold::WorkerBrood {
            self.note_hand("not empty", &Act::HoldsNot(Hold::Empty), words);
        }
    }

    /// "the brood starts after this", "five with honey".
    fn elsewhere(marks: &[Mark], at: usize) -> bool {
        at > 0 && marks[at - 1].concept == C::Num && marks[at].concept == C::Honey
    }

    /// "drones mainly", "a few big domed drones": brood, not bees that walk.
    fn drone_cells(&self, marks: &[Mark], at: usize) -> bool {
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
                .any(|n| {
                    matches!(
                        n.concept,
                        C::Brood
                            | C::SealedBrood
                            | C::Drone
                            | C::Eggs
                            | C::Pollen
                            | C::Honey
                            | C::Capped
                            | C::Unripe
                    )
                })
    }

    /// "the rest is wet".
    fn wet(&self, m: &Mark) -> bool {
        self.said(m, "wet")
            && (matches!(
                self.word(m.to),
                "" | "as" | "and" | "still" | "yet" | "," | "." | "in" | "behind"
            ) || m.from > 0
                && matches!(
                    self.word(m.from - 1),
                    "is" | "'s" | "still" | "all" | "rest" | "too"
                ))
    }

    /// "dry", said of a comb.
    fn dry_comb(&self, marks: &[Mark], m: &Mark) -> bool {
        let weather = marks.iter().filter(|n| n.concept == C::Weather).count();
        let stored = marks.iter().any(|n| {
            matches!(
                n.concept,
                C::Honey
                    | C::Unripe
                    | C::Brood
                    | C::SealedBrood
                    | C::Drone
                    | C::Pollen
                    | C::Eggs
                    | C::Capped
                    | C::Degrees
            )
        });
        self.said(m, "dry")
            && weather == 1
            && !stored
            && matches!(
                self.word(m.to),
                "" | "as" | "," | "." | "and" | "inside" | "comb"
            )
            && self.comb().is_some_and(|c| {
                c.decision.is_none() && c.this.is_none() && !c.holds.contains(&Hold::Honey)
            })
    }

    fn shape(&mut self, m: &Mark, not: bool, words: &[Mark]) {
        match m.concept {
            C::FillFull if !not => self.note_hand("fill", &Act::Filled(Fill::Full), words),
            C::FillFull | C::FillPart => self.note_hand("fill", &Act::Filled(Fill::Part), words),
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
            C::AttachedNo => self.note_hand("attached", &Act::Attached(false), words),
            C::StraightYes => self.note_hand("straight", &Act::Straight(!not), words),
            C::StraightNo => self.note_hand("straight", &Act::Straight(not), words),
            _ => {}
        }
    }
}
