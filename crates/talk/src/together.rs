//! Marks that mean something only together: "stuck" and a wall, "into" and a bucket, "tiny" and comb.

use crate::concept::Concept as C;
use crate::mark::Mark;
use crate::token::Token;

/// How many words a wall may stand after the word that fixes the comb to it.
const WALL_WITHIN: usize = 6;

const DENIED: [&str; 8] = [
    "not", "n't", "no", "never", "ain't", "nae", "without", "hardly",
];
const ANYTHING: [&str; 7] = [
    "anything", "anywhere", "nothing", "nowhere", "any", "owt", "nowt",
];

/// Joins the marks of a phrase.
pub(crate) fn together(tokens: &[Token<'_>], marks: &[Mark]) -> Vec<Mark> {
    let mut joiner = Joiner {
        tokens,
        marks,
        out: Vec::with_capacity(marks.len()),
    };
    let mut at = 0;
    while at < marks.len() {
        at += joiner.join(at);
    }
    joiner.out
}

pub(crate) struct Joiner<'a> {
    pub(crate) tokens: &'a [Token<'a>],
    pub(crate) marks: &'a [Mark],
    pub(crate) out: Vec<Mark>,
}

pub(crate) fn face(m: &Mark) -> bool {
    matches!(m.concept, C::This | C::Other | C::Both)
}

impl Joiner<'_> {
    /// Takes the mark at this place, with those that belong to it; how many.
    fn join(&mut self, at: usize) -> usize {
        let m = self.marks[at];
        if let Some(used) = self.join_share(at) {
            return used;
        }
        match m.concept {
            // "run into the wall"
            C::StraightNo
                if self.any_word(m.to - 1..m.to + 1, &["into", "onto", "to"])
                    && self
                        .after(at)
                        .first()
                        .is_some_and(|n| n.concept == C::Wall && n.from <= m.to + 2) =>
            {
                self.push(m, C::AttachedYes);
                return 2;
            }
            // "it's free", with nothing after it
            C::Free
                if self.word(m.from) == "free"
                    && !self.any_word(0..1, &["there"])
                    && self.tokens.get(m.to).is_none_or(Token::is_stop)
                    && (m.from == 0
                        || self.any_word(
                            m.from - 1..m.from,
                            &["'s", "is", "hangs", "hanging", "quite"],
                        )
                        || at > 0
                            && matches!(self.marks[at - 1].concept, C::Num | C::Ord | C::Comb))
                    && self.wall(at).is_none() =>
            {
                self.push(m, C::AttachedNo);
            }
            C::Stuck | C::Holding | C::Free => return self.hanging(at),
            // "straight, no walls"
            C::Wall if self.no_wall(at) => {
                self.out.pop_if(|n| n.concept == C::Not);
                self.push(m, C::AttachedNo);
            }
            C::Wall => {}
            // "capped on the one side, open on the other"
            C::Aside
                if self.any_word(m.from..m.to, &["one"])
                    && self.any_word(m.from..m.to, &["side"])
                    && self.marks.iter().any(|n| n.concept == C::Other) =>
            {
                self.push(m, C::This);
            }
            C::Ord if self.first_of_something(at) => self.push(m, C::Word),
            C::Share if self.small_comb(at) && self.said_little(m) => self.push(m, C::FillLight),
            C::Share if self.little_comb(at) => self.push(m, C::FillLight),
            C::Small => {
                let light = self.small_comb(at);
                self.push(m, if light { C::FillLight } else { C::Word });
            }
            C::People if self.called_so(at) || self.addressed(at) => self.push(m, C::Word),
            C::Take if self.has_a_break(m) || self.fetches(m) || self.cuts_upward(m) => {
                self.push(m, C::Word);
            }
            C::Leave if self.leaves_a_strip(m) => {
                let goes_on =
                    |n: &Mark| matches!(n.concept, C::Stop | C::And | C::But | C::Then | C::Take);
                return 1 + self.after(at).iter().take_while(|n| !goes_on(n)).count();
            }
            // "pass us the jug"
            C::Leave
                if m.to == m.from + 1
                    && self.word(m.from) == "pass"
                    && self.any_word(m.to..m.to + 1, &["me", "us", "the", "my", "your"]) =>
            {
                self.push(m, C::Word);
            }
            // "don't count them"
            C::Wash if self.any_word(m.from.saturating_sub(1)..m.from, &["n't", "not"]) => {
                self.push(m, C::Word);
            }
            C::Aside if self.one_face(m) => self.push(m, C::This),
            C::If if self.no_clause(m) => self.push(m, C::Word),
            C::Honey | C::Brood | C::SealedBrood | C::Drone | C::Pollen | C::Empty | C::NewComb
                if self.one_more(at) =>
            {
                self.out.pop_if(|n| n.concept == C::Word && n.to == m.from);
                self.out.push(Mark {
                    concept: C::Next,
                    from: m.from - 1,
                    to: m.from,
                    phrase: None,
                    ..m
                });
                self.out.push(m);
            }
            C::Word if self.tokens.len() == 1 && self.word(m.from) == "another" => {
                self.push(m, C::Next);
            }
            C::Container | C::SplitBox => self.container(at),
            _ => self.out.push(m),
        }
        1
    }

    /// "leaving a little strip for them to start on": on the bar, of a comb that is cut.
    fn leaves_a_strip(&self, m: Mark) -> bool {
        const STRIP: [&str; 10] = [
            "strip", "stub", "starter", "lip", "inch", "ridge", "ledge", "rim", "line", "edge",
        ];
        const HOW: [&str; 18] = [
            "a", "an", "the", "them", "em", "just", "about", "little", "small", "good", "thin",
            "narrow", "short", "wee", "half", "bare", "finger", "thumb",
        ];
        self.any_word(m.from..m.from + 1, &["leave", "leaving", "leaves", "left"])
            && (m.from + 1..m.from + 7)
                .find(|&i| !HOW.contains(&self.word(i)))
                .is_some_and(|i| {
                    // "leave a finger of comb at the top"
                    let finger = matches!(self.word(i - 1), "finger" | "thumb" | "inch")
                        && self.word(i) == "of";
                    (STRIP.contains(&self.word(i)) || finger) && i > m.from + 1
                })
    }

    /// "no walls", and nothing more said of them.
    fn no_wall(&self, at: usize) -> bool {
        let m = self.marks[at];
        at > 0
            && self.marks[at - 1].concept == C::Not
            && self.word(m.from.wrapping_sub(1)) == "no"
            && self.tokens.get(m.to).is_none_or(Token::is_stop)
    }

    /// "cut it up, not down": how the knife goes along the wall; "cut it up into the tub" is another thing.
    fn cuts_upward(&self, m: Mark) -> bool {
        self.any_word(m.from..m.from + 1, &["cut", "slice", "cutting"])
            && self.any_word(m.to..m.to + 1, &["up", "upward", "upwards"])
            && !self.any_word(m.to..m.to + 5, &["into", "in", "for"])
    }

    /// "the second lad": a comb.
    fn called_so(&self, at: usize) -> bool {
        let m = self.marks[at];
        let kind = [
            "lad", "chap", "fellow", "fella", "bloke", "boy", "guy", "old boy", "kid", "lady",
            "woman", "man",
        ];
        m.to == m.from + 1
            && kind.contains(&self.word(m.from))
            && at > 0
            && matches!(self.marks[at - 1].concept, C::Ord | C::Next | C::Last)
            && self.marks[at - 1].to + 1 >= m.from
    }

    /// "patience my brother we are leaving it": spoken to, not spoken of.
    fn addressed(&self, at: usize) -> bool {
        let m = self.marks[at];
        let kin = [
            "brother", "sister", "dad", "mum", "mom", "gran", "grandad", "son", "uncle", "auntie",
            "friend", "nan", "grandma", "grandpa", "cousin", "pop", "lad", "kid", "kids", "guys",
            "boss", "folks", "father", "mother",
        ];
        let spoken_to = self.any_word(
            m.to..m.to + 1,
            &[
                "we", "i", "please", "let", "look", "leave", "take", "put", "here", "see",
            ],
        );
        // "no man bar five"
        let man = m.from == 1
            && self.any_word(
                1..2,
                &["man", "mate", "love", "boy", "lad", "girl", "dad", "mum"],
            )
            && self.any_word(
                0..1,
                &["no", "yes", "yeah", "nah", "nope", "aye", "oh", "hey"],
            )
            && (m.to == self.tokens.len()
                || self.any_word(2..3, &["bar", "comb", "this", "that", "it", "number"]));
        man || m.to == m.from + 1
            && kin.contains(&self.word(m.from))
            && (spoken_to || m.to == self.tokens.len() && m.from > 2)
    }

    /// "I'll have a cup of tea", "take my time": nothing is taken.
    fn has_a_break(&self, m: Mark) -> bool {
        matches!(
            self.word(m.to - 1),
            "have" | "take" | "taking" | "having" | "took" | "get" | "grab"
        ) && self.any_word(
            m.to..m.to + 1,
            &[
                "a", "an", "my", "some", "to", "no", "any", "care", "time", "ages", "note",
                "stock", "tea", "lunch",
            ],
        )
    }

    /// "now I bring the sack": a thing that is no comb.
    fn fetches(&self, m: Mark) -> bool {
        let verb = matches!(self.word(m.to - 1), "bring" | "fetch" | "carry");
        let combs = [
            "comb", "combs", "bar", "bars", "first", "last", "other", "others", "two", "three",
            "lot", "rest", "next", "one", "ones", "full", "honey", "whole", "heavy", "big",
        ];
        verb && self.word(m.to) == "the"
            && !self.any_word(m.to + 1..m.to + 3, &combs)
            && crate::numbers::ordinal(self.word(m.to + 1)).is_none()
    }

    /// "then a brood one", "another honey comb".
    fn one_more(&self, at: usize) -> bool {
        let m = self.marks[at];
        if m.from == 0 || !self.any_word(m.to..m.to + 1, &["one", "comb", "bar"]) {
            return false;
        }
        let article = self.word(m.from - 1);
        let before = if m.from > 1 {
            self.word(m.from - 2)
        } else {
            ""
        };
        article == "another" && !matches!(before, "'s" | "is" | "was" | "and" | "has")
            || matches!(article, "a" | "an") && matches!(before, "then" | "next" | "comes" | "come")
    }

    /// "capped on the one side": a face, where shares are told.
    fn one_face(&self, m: Mark) -> bool {
        let side = self.any_word(m.from..m.to, &["one"]) && self.word(m.to - 1) == "side";
        side && self
            .marks
            .iter()
            .any(|n| matches!(n.concept, C::Capped | C::Uncapped | C::Share | C::Other))
    }

    /// "built until the half": no clause of condition follows.
    fn no_clause(&self, m: Mark) -> bool {
        matches!(self.word(m.from), "until" | "till")
            && m.to == m.from + 1
            && self.any_word(m.to..m.to + 1, &["the", "half", "its", "bottom", "floor"])
            && !self.any_word(
                m.to..m.to + 4,
                &[
                    "is", "are", "comes", "has", "have", "spring", "summer", "autumn", "winter",
                    "week", "flow",
                ],
            )
    }

    pub(crate) fn push(&mut self, m: Mark, concept: C) {
        self.out.push(Mark { concept, ..m });
    }

    pub(crate) fn word(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", |t| &*t.text)
    }

    pub(crate) fn any_word(&self, mut range: std::ops::Range<usize>, words: &[&str]) -> bool {
        range.any(|i| words.contains(&self.word(i)))
    }

    pub(crate) fn after(&self, at: usize) -> &[Mark] {
        &self.marks[at + 1..]
    }

    /// The wall that the mark speaks of.
    fn wall(&self, at: usize) -> Option<usize> {
        let m = self.marks[at];
        let k = at
            + 1
            + self
                .after(at)
                .iter()
                .take(3)
                .position(|w| w.concept == C::Wall)?;
        let near = self.marks[k].from <= m.to + WALL_WITHIN;
        let plain = |b: &Mark| {
            matches!(
                b.concept,
                C::That
                    | C::Both
                    | C::Left
                    | C::Right
                    | C::Num
                    | C::Word
                    | C::This
                    | C::Other
                    | C::Share
                    | C::Free
                    | C::Stuck
                    | C::End
            ) || b.concept == C::Holding && (m.concept != C::Free || self.is_preposition(*b))
        };
        (near && self.marks[at + 1..k].iter().all(plain)).then_some(k)
    }

    /// "stuck", "fixed to the wall", "clear of the walls".
    fn hanging(&mut self, at: usize) -> usize {
        let m = self.marks[at];
        if let Some(k) = self.wall(at) {
            let wall = self.marks[k];
            let no =
                self.any_word(m.to..wall.from, &["nothing", "neither", "no"]) || self.denied(m);
            let fixed = m.concept != C::Free && !no;
            let concept = if fixed { C::AttachedYes } else { C::AttachedNo };
            self.out.push(Mark {
                concept,
                to: wall.to,
                ..m
            });
            return k + 1 - at;
        }
        let verb = m.concept != C::Free && !self.is_preposition(m);
        if verb && self.to_a_neighbour(at) {
            self.push(m, C::StraightNo);
            return 1;
        }
        let side = self.side(m);
        if let Some(to) = side.filter(|_| verb || m.concept == C::Free) {
            let fixed = verb && !self.denied(m);
            let concept = if fixed { C::AttachedYes } else { C::AttachedNo };
            self.out.push(Mark { concept, to, ..m });
            return 1 + self.after(at).iter().take_while(|n| n.from < to).count();
        }
        if verb && self.denied(m) && self.any_word(m.to..m.to + 3, &ANYTHING) {
            self.push(m, C::AttachedNo);
            return 1;
        }
        match m.concept {
            C::Stuck | C::Holding if self.runs_into_a_bar(at) => self.push(m, C::StraightNo),
            C::Stuck => {
                if !self.of_something_else(m) {
                    self.push(m, C::AttachedYes);
                }
            }
            C::Free if self.after_straight(m) => self.push(m, C::AttachedNo),
            _ => self.push(m, C::Word),
        }
        1
    }

    /// "does not touch", "no joining", "ain't touching".
    fn denied(&self, m: Mark) -> bool {
        let from = (m.from.saturating_sub(3)..m.from)
            .rev()
            .take_while(|&i| {
                !self.tokens[i].is_stop() && !matches!(self.word(i), "but" | "and" | "so")
            })
            .last()
            .unwrap_or(m.from);
        self.any_word(from..m.from, &DENIED)
    }

    /// A little word that fixes a comb only to a wall that is named.
    fn is_preposition(&self, m: Mark) -> bool {
        m.to == m.from + 1
            && matches!(
                self.word(m.from),
                "on" | "to" | "onto" | "against" | "wax" | "knife" | "runs" | "running"
            )
    }

    /// "clear of the sides", "stick to the side": where the side of the box is not a face.
    fn side(&self, m: Mark) -> Option<usize> {
        let at = (m.to..m.to + 5)
            .take_while(|&i| self.tokens.get(i).is_some_and(|t| !t.is_stop()))
            .find(|&i| matches!(self.word(i), "side" | "sides"))?;
        let link = self.any_word(m.to - 1..at, &["of", "from", "to", "onto", "on", "at"]);
        let the = matches!(
            self.word(at.checked_sub(1)?),
            "the" | "left" | "right" | "both" | "either"
        );
        let known = self
            .marks
            .iter()
            // "fastened to the side a bit"
            .any(|n| {
                matches!(n.concept, C::Capped | C::Uncapped)
                    || n.concept == C::Share && !matches!(self.word(n.to - 1), "bit" | "little")
            });
        if self.any_word(m.from..m.to, &["but"]) {
            return None;
        }
        let plural = self.word(at) == "sides" && self.word(at - 1) == "the";
        (link && the && (plural || !known)).then_some(at + 1)
    }

    /// "bridged across to the sixth", "joined to the next comb".
    fn to_a_neighbour(&self, at: usize) -> bool {
        let m = self.marks[at];
        let link = self.any_word(
            m.to..m.to + 3,
            &["to", "with", "into", "onto", "across", "over"],
        ) || self.any_word(m.from..m.to, &["to", "with", "into", "onto", "on"]);
        link && self
            .after(at)
            .iter()
            .take(3)
            .take_while(|n| matches!(n.concept, C::Word | C::Ord | C::Next | C::Bar | C::Holding))
            .any(|n| n.from <= m.to + 4 && matches!(n.concept, C::Bar | C::Ord | C::Next))
    }

    /// "plus the first open brood": no comb.
    fn first_of_something(&self, at: usize) -> bool {
        let m = self.marks[at];
        let the = m.from > 1
            && self.word(m.from - 1) == "the"
            && matches!(
                self.word(m.from - 2),
                "plus" | "with" | "and" | "also" | "see"
            );
        let comb = self.any_word(
            m.to..m.to + 1,
            &[
                "'s", "is", "one", "has", "got", "was", "comb", "had", "looks",
            ],
        );
        the && !comb
            && self.after(at).first().is_some_and(|n| {
                matches!(
                    n.concept,
                    C::Brood | C::SealedBrood | C::Eggs | C::Pollen | C::Unripe | C::Drone
                )
            })
    }

    /// The board, the lid or a glove is stuck, not the comb.
    fn of_something_else(&self, m: Mark) -> bool {
        const AFTER: [&str; 12] = [
            "mesh", "screen", "jar", "propolis", "board", "lid", "roof", "glove", "gloves", "back",
            "veil", "boot",
        ];
        const BEFORE: [&str; 6] = ["board", "lid", "roof", "follower", "shirt", "glove"];
        self.any_word(m.to..m.to + 4, &AFTER)
            || self.any_word(m.from.saturating_sub(6)..m.from, &BEFORE)
    }

    /// "straight and free".
    fn after_straight(&self, m: Mark) -> bool {
        if matches!(self.word(m.to - 1), "off" | "away") {
            return false;
        }
        let before = self
            .out
            .iter()
            .rev()
            .find(|b| b.concept != C::And && (b.concept != C::Stop || b.value > 0.5));
        before.is_some_and(|b| b.concept == C::StraightYes)
    }

    /// "joined to bar four".
    fn runs_into_a_bar(&self, at: usize) -> bool {
        let m = self.marks[at];
        let joined = matches!(
            self.word(m.to - 1),
            "joined"
                | "joins"
                | "joining"
                | "runs"
                | "fused"
                | "run"
                | "running"
                | "bridged"
                | "grown"
                | "bridges"
                | "built"
                | "welded"
                | "stuck"
                | "glued"
                | "married"
                | "stitched"
        ) || self.any_word(m.to..m.to + 1, &["to", "onto", "into"]);
        joined
            && self
                .after(at)
                .iter()
                .take(2)
                .any(|n| n.from <= m.to + 3 && matches!(n.concept, C::Bar | C::Ord | C::Next))
    }

    /// "a little piece of new comb".
    fn little_comb(&self, at: usize) -> bool {
        let m = self.marks[at];
        let little = m.value > 0.0 && m.value < 0.2;
        little
            && self
                .after(at)
                .iter()
                // "a wee bit of fresh new wax"
                .find(|n| !matches!(n.concept, C::Word | C::Weather))
                .is_some_and(|n| n.concept == C::NewComb && n.from <= m.to + 4)
    }

    fn said_little(&self, m: Mark) -> bool {
        m.to == m.from + 1 && self.word(m.from) == "little"
    }

    /// "small comb", "it is small".
    fn small_comb(&self, at: usize) -> bool {
        let m = self.marks[at];
        let m_little = m.concept == C::Share
            && self.word(m.to - 1) == "little"
            && m.from > 0
            && matches!(self.word(m.from - 1), "is" | "'s")
            && self
                .tokens
                .get(m.to)
                .is_none_or(|t| t.is_stop() || t.is("and") || t.is("white"));
        if m_little {
            return true;
        }
        let of_comb = self
            .after(at)
            .iter()
            .take(2)
            .any(|n| matches!(n.concept, C::NewComb | C::Comb) && n.from <= m.to + 2);
        let noun = |n: &Mark| {
            matches!(
                n.concept,
                C::Honey | C::Pollen | C::Word | C::Brood | C::Eggs
            )
        };
        let clause = m.from > 0
            && self.tokens[m.from - 1].is_stop()
            && self
                .tokens
                .get(m.to)
                .is_none_or(crate::token::Token::is_stop)
            && self
                .marks
                .iter()
                .any(|n| matches!(n.concept, C::NewComb | C::Ord | C::Bar));
        if clause {
            return true;
        }
        let told = m.to == m.from + 1
            && m.from > 0
            && matches!(self.word(m.from - 1), "is" | "'s" | "also")
            && !self.marks.get(at + 1).is_some_and(noun);
        of_comb || told
    }

    /// "sealed brood, no queen on it, nuc": the last word of what was told of a comb.
    fn goes_to_the_split(&self, m: Mark) -> bool {
        let after: Vec<&str> = (m.to..self.tokens.len()).map(|i| self.word(i)).collect();
        let last = matches!(after[..], [] | ["too" | "also"] | ["as", "well"]);
        let named = matches!(
            self.word(m.from.wrapping_sub(1)),
            "the" | "a" | "my" | "this" | "that" | "our" | "new" | "small" | "little" | "of"
        );
        let told = self
            .marks
            .iter()
            .any(|n| n.to <= m.from && n.concept.is_held());
        last && !named && told
    }

    /// "into the bucket", "for the kitchen", "to the small hive": it is taken.
    fn container(&mut self, at: usize) {
        let m = self.marks[at];
        let lies = self.any_word(
            m.from.saturating_sub(6)..m.from,
            &["are", "were", "was", "already", "got", "bees"],
        );
        let into = self.any_word(
            m.from.saturating_sub(4)..m.from,
            &["in", "into", "to", "for", "onto"],
        );
        let alone = self.marks.iter().all(|n| {
            matches!(
                n.concept,
                C::Container
                    | C::SplitBox
                    | C::But
                    | C::Stop
                    | C::That
                    | C::Then
                    | C::And
                    | C::Here
                    | C::BothOf
                    | C::Both
            )
        });
        // a tray or a tin that is fed in
        let fed = self.marks.iter().any(|n| {
            matches!(
                n.concept,
                C::Syrup
                    | C::ThinSyrup
                    | C::ThickSyrup
                    | C::Fondant
                    | C::DrySugar
                    | C::Litre
                    | C::Ml
                    | C::Ratio
                    | C::Wash
            )
        });
        // "shaking eleven into the tub": the bees, not the comb
        let shaken = self.any_word(
            m.from.saturating_sub(7)..m.from,
            &[
                "shake", "shaking", "shook", "shaken", "brush", "brushing", "brushed", "scoop",
                "scooping", "scooped", "bees",
            ],
        ) && self.marks.iter().all(|n| n.concept != C::Take);
        // "so just the one in the tote": which, not what becomes of it
        let the_one = (m.from.saturating_sub(4)..m.from).any(|i| {
            matches!(self.word(i), "in" | "on" | "for")
                && matches!(
                    self.word(i.wrapping_sub(1)),
                    "one" | "ones" | "two" | "pair" | "comb"
                )
                && matches!(
                    self.word(i.wrapping_sub(2)),
                    "the" | "just" | "that" | "only" | "s"
                )
                // "this is the comb for the split"
                && !matches!(self.word(i.wrapping_sub(3)), "is" | "'s")
        });
        // "yeah nuc box for that", "nuc box" after a comb was told
        let split = m.concept == C::SplitBox
            && (alone && m.from < 2
                || self.goes_to_the_split(m)
                || self.word(m.to) == "for"
                    && matches!(self.word(m.to + 1), "that" | "this" | "it" | "them"));
        let taken = !fed
            && !shaken
            && !the_one
            && (split || into && !lies || alone && m.concept == C::Container);
        self.push(m, if taken { C::Take } else { C::Word });
    }
}
