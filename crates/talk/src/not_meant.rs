//! Words for combs, faces and verdicts that mean none here: how a comb is to be held, what stays of
//! it on its bar, a box that won't shut, days that are counted.

use crate::act::Decision;
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::whole;

/// What is shut and is no comb. Common usage, no source.
const SHUTS: [&str; 14] = [
    "box", "lid", "roof", "tub", "bucket", "crate", "door", "gate", "pail", "tin", "boot", "jar",
    "tote", "feeder",
];

/// Ways to handle a comb, which may be told by a likeness. Common usage, no source.
const HANDLES: [&str; 20] = [
    "tilt", "tip", "hold", "holding", "lift", "lifting", "carry", "carrying", "turn", "turning",
    "open", "swing", "lay", "flip", "fold", "folds", "tilting", "keep", "handle", "bend",
];

/// What is counted and is time. Common usage, no source.
const TIMES: [&str; 15] = [
    "day",
    "days",
    "week",
    "weeks",
    "month",
    "months",
    "year",
    "years",
    "minute",
    "minutes",
    "hour",
    "hours",
    "o'clock",
    "nights",
    "fortnights",
];

/// What is left of a comb that is cut. Common usage, no source.
const RIMS: [&str; 14] = [
    "finger",
    "strip",
    "inch",
    "ridge",
    "edge",
    "line",
    "lip",
    "rib",
    "thumb",
    "centimetre",
    "row",
    "stub",
    "rim",
    "starter",
];

/// What one begins with by saying "first". Common usage, no source.
const FIRST_DO: [&str; 20] = [
    "make", "check", "see", "look", "get", "put", "we", "i", "let", "take", "find", "find", "a",
    "smoke", "some", "remove", "off", "open", "shake", "loosen",
];

impl Ear<'_> {
    /// The marks without those that only look like talk of a comb.
    pub(crate) fn without_what_is_not_meant(&self, marks: &[Mark]) -> Vec<Mark> {
        let mut out = Vec::with_capacity(marks.len());
        for (at, m) in marks.iter().enumerate() {
            if let Some(concept) = self.means_instead(marks, at) {
                out.push(Mark { concept, ..*m });
            } else if self.means_nothing(marks, at) {
                out.push(Mark {
                    concept: C::Word,
                    ..*m
                });
            } else {
                out.push(*m);
            }
        }
        if let [have, it] = self.tokens
            && have.is("have")
            && it.is("it")
            && let Some(m) = out.first_mut()
        {
            m.concept = C::Take;
        }
        out
    }

    /// What a word means that elsewhere means something else.
    fn means_instead(&self, marks: &[Mark], at: usize) -> Option<C> {
        let m = &marks[at];
        let far = || marks[at + 1..].iter().any(|n| n.concept == C::Other);
        match m.concept {
            C::StraightNo => self.goes_over_too(m).then_some(C::Take),
            // "gone across each other": crossed, and not over to another hive
            C::Take if self.word(m.to - 1) == "across" => matches!(
                (self.word(m.to), self.word(m.to + 1)),
                ("one", "another") | ("each", "other")
            )
            .then_some(C::StraightNo),
            // "that's the queen, isn't she long": seen, and asked back
            C::NotSeen
                if self.said(m, "queen")
                    && self.word(m.to - 1) == "n't"
                    && matches!(self.word(m.to), "she" | "he" | "it") =>
            {
                Some(C::Queen)
            }
            // "the first bar has nothing on it": no comb
            C::Empty if self.nothing_on_the_bar(m) => Some(C::NoComb),
            // "it's stuck to four": to the comb beside it
            C::AttachedYes | C::Word if self.to_its_neighbour(marks, at) => Some(C::StraightNo),
            // "new comb, only small": how big it is, where no caps are told
            C::Share if self.said(m, "small") && self.word(m.to - 1) == "small" => {
                let caps = |n: &Mark| {
                    matches!(
                        n.concept,
                        C::Capped | C::Uncapped | C::This | C::Other | C::Both
                    )
                };
                let comb = |n: &Mark| matches!(n.concept, C::NewComb | C::Comb);
                (marks.iter().any(comb) && !marks.iter().any(caps)).then_some(C::FillLight)
            }
            // "two point five on that one": what it weighs
            C::Other if self.word(m.to - 1) == "one" && self.said(m, "that") => {
                let figure =
                    at > 0 && marks[at - 1].concept == C::Num && marks[at - 1].to == m.from;
                let alone = figure && at == 1 && marks.len() == 2;
                (alone && marks[0].value.fract() > 0.0).then_some(C::That)
            }
            // "all over on the one side, all over on the other"
            C::Aside if self.any_word(m.from, m.to, &["one"]) && self.word(m.to - 1) == "side" => {
                far().then_some(C::This)
            }
            _ => None,
        }
    }

    /// "bar one has nothing on it", where no comb is spoken of.
    fn nothing_on_the_bar(&self, m: &Mark) -> bool {
        let on_it = (m.from..m.to + 2).any(|i| {
            self.word(i) == "on"
                && matches!(self.word(i + 1), "it" | "that" | "them" | "this")
                && !matches!(self.word(i + 2), "side" | "face")
        });
        let any = |words: &[&str]| self.tokens.iter().any(|t| words.contains(&&*t.text));
        self.said(m, "nothing") && on_it && any(&["bar", "bars"]) && !any(&["comb", "wax"])
    }

    /// "stuck to four", "joined onto bar ten": the number is the bar's beside the one in hand.
    fn to_its_neighbour(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let joined = [
            "stuck", "joined", "joins", "glued", "fused", "hooked", "grown", "attached", "fixed",
        ]
        .iter()
        .any(|w| self.said(m, w));
        if !joined {
            return false;
        }
        let next = marks[at + 1..]
            .iter()
            .find(|n| !matches!(n.concept, C::Bar | C::Number | C::Comb));
        let Some(number) = next.filter(|n| n.from <= m.to + 3) else {
            return false;
        };
        let to = (m.from..number.from)
            .any(|i| matches!(self.word(i), "to" | "onto" | "on" | "with" | "into"));
        let counts = matches!(
            self.word(number.to),
            "places" | "spots" | "sides" | "points" | "inches" | "ends" | "walls"
        );
        let bar = self.comb().and_then(|c| c.bar);
        let beside = whole(number)
            .zip(bar)
            .is_some_and(|(n, b)| n.abs_diff(b) == 1);
        to && beside && !counts
    }

    /// "ten goes across instead": to the other hive, where combs went before.
    fn goes_over_too(&self, m: &Mark) -> bool {
        let across = matches!(self.word(m.from), "goes" | "go" | "going")
            && self.word(m.to - 1) == "across"
            && m.to == m.from + 2;
        let ends = matches!(
            self.word(m.to),
            "" | "," | "." | "instead" | "too" | "as" | "also" | "with" | "then" | "and" | "now"
        );
        let split = self.state.visit.combs.iter().any(|c| c.to_other_hive);
        across && ends && split
    }

    fn means_nothing(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        if self.tells_nothing(m) {
            return true;
        }
        match m.concept {
            C::Capped | C::Uncapped => self.is_shut(marks, at),
            C::FillFull => self.colony_short_of(m),
            C::FillLight => self.how_it_is_held(m) || self.rim_before(m) || self.colony_short_of(m),
            C::Leave => {
                self.honey_not_taken(marks, at) || self.keeps_it_so(m) || self.back_in_time(m)
            }
            C::Take => self.back_in_time(m),
            C::Not => self.has_its_own_subject(marks, at),
            C::Other => self.behind_the_board(marks, at),
            // "near the bottom": where on the face
            C::This => {
                m.to == m.from + 1
                    && self.word(m.from) == "near"
                    && (m.to..m.to + 2).any(|i| {
                        matches!(
                            self.word(i),
                            "bottom"
                                | "top"
                                | "edge"
                                | "edges"
                                | "end"
                                | "corner"
                                | "middle"
                                | "wall"
                        )
                    })
            }
            // "some open cells", and then how much is capped
            C::Open => {
                matches!(self.word(m.from.wrapping_sub(1)), "some" | "few")
                    && self.word(m.to) == "cells"
                    && marks[at + 1..]
                        .iter()
                        .any(|n| matches!(n.concept, C::Num | C::Share))
            }
            C::Share if self.but_for_a_little(marks, at) => true,
            C::Share => self.all_night(m) || self.colony_short_of(m),
            C::Aside => self.mite_on_the_side(m),
            C::AttachedYes => self.handed_over(),
            // "the second bar nothing either": as well
            C::Both => {
                m.to == m.from + 1
                    && self.word(m.from) == "either"
                    && matches!(self.word(m.from.wrapping_sub(1)), "nothing" | "one")
                    && m.to == self.tokens.len()
            }
            C::AttachedNo if self.handed_over() => true,
            C::AttachedNo => {
                self.any_word(m.from, m.to, &["away"]) && self.any_word(m.from, m.to + 2, &["to"])
            }
            C::NewComb => self.new_queen(m) || self.thought_so(m),
            C::Num => self.counts_time(m) || self.hung_between(marks, at),
            C::Ord => {
                self.first_to_do(m) || self.first_of_the_year(m) || self.how_many_it_was(marks, at)
            }
            C::StraightYes => self.along_the_bar(marks, at) || self.made_straight(m),
            C::Empty => self.empty_face(marks, at) || self.thought_so(m),
            C::Next => self.another_thing(m),
            C::Inch | C::Mm | C::Cm => self.end_of_it(marks, at),
            c if c.is_held() => {
                self.in_the_other_box(marks, at)
                    || self.thought_so(m)
                    || self.told_not_to(m)
                    || c == C::Honey && self.none_today(m)
                    || self.colony_short_of(m)
                    || self.where_it_is(m)
            }
            _ => false,
        }
    }

    fn any_word(&self, from: usize, to: usize, words: &[&str]) -> bool {
        (from..to).any(|i| words.contains(&self.word(i)))
    }

    /// "box won't shut", "the lid's closed".
    fn is_shut(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let plain = marks[at].to == m.from + 1 && matches!(self.word(m.from), "shut" | "closed");
        let before = m.from.saturating_sub(4)..m.from;
        let thing = before.rev().find(|&i| {
            !matches!(
                self.word(i),
                "n't" | "not" | "wo" | "will" | "'s" | "is" | "does" | "ca" | "can" | "do" | "even"
            )
        });
        plain && thing.is_some_and(|i| SHUTS.contains(&self.word(i)))
    }

    /// "don't tilt it like a plate", "it goes like that, like a slice".
    fn how_it_is_held(&self, m: &Mark) -> bool {
        let like = (m.from.saturating_sub(4)..m.to)
            .rev()
            .find(|&i| self.word(i) == "like");
        let Some(like) = like else { return false };
        let far = like.saturating_sub(7);
        self.any_word(far, like, &HANDLES)
            || self.any_word(like.saturating_sub(2), like, &["that", "so"])
                && self.any_word(like.saturating_sub(4), like, &["like", "goes", "go"])
    }

    /// "here you go, at the end against the wall": where a helper is to put it.
    fn handed_over(&self) -> bool {
        matches!(self.word(0), "here" | "there") && self.word(1) == "you" && self.word(2) == "go"
    }

    /// "leave a finger of comb at the top": no size.
    fn rim_before(&self, m: &Mark) -> bool {
        let rim = self.any_word(m.from, m.to, &RIMS) || RIMS.contains(&self.word(m.from));
        rim && self.any_word(
            m.from.saturating_sub(4),
            m.from + 1,
            &["leave", "leaving", "left"],
        )
    }

    /// "keep it upright", "keep that level": how it is to be held.
    fn keeps_it_so(&self, m: &Mark) -> bool {
        let keep = self.any_word(m.from, m.to, &["keep", "keeping"]);
        keep && matches!(
            self.word(m.to),
            "upright"
                | "level"
                | "steady"
                | "still"
                | "straight"
                | "vertical"
                | "flat"
                | "low"
                | "high"
                | "moving"
                | "cool"
                | "shaded"
                | "away"
                | "plumb"
                | "hanging"
        )
    }

    /// "in three, four days".
    fn counts_time(&self, m: &Mark) -> bool {
        let mut i = m.to;
        while crate::numbers::is_number_word(self.word(i))
            || matches!(self.word(i), "or" | "to" | ",")
        {
            i += 1;
        }
        TIMES.contains(&self.word(i)) && i < m.to + 5
    }

    /// "back in eight days": the keeper.
    fn back_in_time(&self, m: &Mark) -> bool {
        // "she comes out in three days"
        let then = m.concept == C::Take && self.word(m.to) == "in";
        let from = m.to + usize::from(then);
        let mut i = from;
        while crate::numbers::is_number_word(self.word(i))
            || matches!(self.word(i), "a" | "or" | "couple" | "of" | "few" | "to")
        {
            i += 1;
        }
        self.word(from - 1) == "in" && i > from && TIMES.contains(&self.word(i))
    }

    /// "the cage hangs between five and six".
    fn hung_between(&self, marks: &[Mark], at: usize) -> bool {
        let known = |m: &Mark| whole(m).is_some_and(|n| self.bar_index(n).is_some());
        let between = |m: &Mark| {
            self.word(m.from.wrapping_sub(1)) == "between"
                || self.word(m.from.wrapping_sub(2)) == "between"
        };
        let pair =
            |a: &Mark, b: &Mark| between(a) && known(a) && known(b) && self.between(a, b, &["and"]);
        let of = |from: usize| {
            let second = marks[from + 1..].iter().find(|m| m.concept == C::Num);
            second.is_some_and(|second| pair(&marks[from], second))
        };
        let first = marks[..at].iter().rposition(|m| m.concept == C::Num);
        known(&marks[at]) && (of(at) || first.is_some_and(of))
    }

    /// "first make sure she's not on it".
    fn first_to_do(&self, m: &Mark) -> bool {
        self.word(m.from) == "first"
            && m.to == m.from + 1
            && self.word(m.from.wrapping_sub(1)) != "the"
            && FIRST_DO.contains(&self.word(m.to))
    }

    /// "so that's our first comb of the year".
    fn first_of_the_year(&self, m: &Mark) -> bool {
        (m.to..m.to + 3).any(|i| {
            self.word(i) == "of"
                && matches!(self.word(i + 1), "the" | "this")
                && matches!(
                    self.word(i + 2),
                    "year" | "season" | "summer" | "crop" | "harvest" | "spring" | "autumn"
                )
        })
    }

    /// "that's the fourth and that's the last": as many were taken.
    fn how_many_it_was(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let n = m.value as usize;
        let that = self.word(m.from.wrapping_sub(1)) == "the"
            && matches!(self.word(m.from.wrapping_sub(2)), "'s" | "is" | "makes")
            && matches!(self.word(m.from.wrapping_sub(3)), "that" | "this" | "it");
        let taken = |c: &crate::visit::Comb| c.decision == Some(Decision::Take);
        let another = self.state.hand.last().is_some_and(|&c| c + 1 != n);
        that && another
            && n == self.state.visit.taken()
            && self.comb().is_some_and(taken)
            && matches!(self.word(m.to), "" | "and" | "one" | "," | "comb")
    }

    /// "honey up along the bar".
    fn along_the_bar(&self, marks: &[Mark], at: usize) -> bool {
        let along = self.any_word(marks[at].from, marks[at].to, &["along"]);
        along && at > 0 && marks[at - 1].concept.is_held()
    }

    /// "tied up straight under its bar": by hand.
    fn made_straight(&self, m: &Mark) -> bool {
        self.any_word(
            m.from.saturating_sub(3),
            m.from,
            &[
                "tied", "tie", "pushed", "pressed", "pulled", "strapped", "propped", "eased",
            ],
        )
    }

    /// "the other side's empty", of a comb that has caps.
    fn empty_face(&self, marks: &[Mark], at: usize) -> bool {
        let face = at > 0 && matches!(marks[at - 1].concept, C::This | C::Other);
        let caps = |share: Option<f64>| share.is_some_and(|share| share > 0.0);
        let near = face && marks[at].from <= marks[at - 1].to + 1;
        near && self.comb().is_some_and(|c| caps(c.this) || caps(c.other))
    }

    /// "another one", where every comb is called by its bar and the one in hand is not settled.
    fn another_thing(&self, m: &Mark) -> bool {
        let combs = &self.state.visit.combs[self.state.end_start..];
        let alone = m.from == 0 && m.to == self.tokens.len() && self.word(0) == "another";
        let open = self
            .comb()
            .is_some_and(|c| c.decision.is_none() && c.described());
        alone && open && combs.len() > 1 && combs.iter().all(|c| c.bar.is_some())
    }

    /// "just the last two inches": a part of the comb.
    fn end_of_it(&self, marks: &[Mark], at: usize) -> bool {
        let number = at > 0 && marks[at - 1].concept == C::Num;
        let from = if number {
            marks[at - 1].from
        } else {
            marks[at].from
        };
        matches!(
            self.word(from.wrapping_sub(1)),
            "last" | "bottom" | "top" | "first" | "lower" | "upper" | "final"
        )
    }

    /// "the new box has eggs": in a box that was spoken of.
    fn in_the_other_box(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let has = matches!(self.word(m.from.wrapping_sub(1)), "has" | "got" | "have");
        let boxed = matches!(
            self.word(m.from.wrapping_sub(2)),
            "box" | "nuc" | "hive" | "split"
        ) && matches!(
            self.word(m.from.wrapping_sub(3)),
            "new" | "other" | "little" | "small" | "second"
        );
        has && boxed
    }

    /// "exactly, we don't, it stays": the verdict has a subject of its own.
    fn has_its_own_subject(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let own = marks.get(at + 1).is_some_and(|v| {
            v.concept == C::Leave
                && v.from == m.to
                && matches!(self.word(v.from), "it" | "that" | "this" | "he" | "they")
                && matches!(
                    self.word(v.from + 1),
                    "stays" | "stay" | "goes" | "can" | "'s"
                )
                // "no we don't, back they go"
                || v.concept == C::Leave
                    && v.from == m.to
                    && self.word(v.from) == "back"
                    && matches!(self.word(v.from + 1), "it" | "they" | "he" | "she")
        });
        own && self.word(m.to - 1) == "n't"
    }

    /// "board's out, a few bees behind it".
    fn behind_the_board(&self, marks: &[Mark], at: usize) -> bool {
        let behind = self.any_word(marks[at].from, marks[at].to, &["behind"]);
        behind && marks[..at].iter().any(|m| m.concept == C::Follower)
    }

    /// "sealed bar a little patch", "all capped except a small strip": as good as all.
    fn but_for_a_little(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let but = (m.from.saturating_sub(3)..m.from).any(|i| {
            let near = i + 1 == m.from || matches!(self.word(i + 1), "a" | "for" | "the" | "some");
            near && matches!(self.word(i), "except" | "bar" | "barring" | "save")
                || self.word(i) == "apart" && self.word(i + 1) == "from"
                || self.word(i) == "but" && self.word(i + 1) == "for"
        });
        let caps = marks[..at]
            .iter()
            .any(|n| n.concept == C::Capped || n.concept == C::Share && n.value > 0.6);
        but && caps && m.value < 0.3
    }

    /// "all night", "all day": no share.
    fn all_night(&self, m: &Mark) -> bool {
        self.word(m.to - 1) == "all"
            && matches!(
                self.word(m.to),
                "night"
                    | "day"
                    | "morning"
                    | "afternoon"
                    | "week"
                    | "month"
                    | "summer"
                    | "winter"
                    | "year"
                    | "spring"
                    | "season"
                    | "evening"
            )
    }

    /// "the cage with the new one": a queen.
    fn new_queen(&self, m: &Mark) -> bool {
        self.word(m.to) != "comb"
            && !self.any_word(m.from, m.to, &["comb", "wax", "white"])
            && self.any_word(m.from.saturating_sub(5), m.from, &["cage", "queen"])
    }

    /// "I thought that was empty but no": what it is comes after.
    fn thought_so(&self, m: &Mark) -> bool {
        let thought = (m.from.saturating_sub(7)..m.from).any(|i| {
            self.word(i) == "thought" && matches!(self.word(i.wrapping_sub(1)), "i" | "we" | "you")
        });
        let but = (m.to..self.tokens.len())
            .find(|&i| matches!(self.word(i), "but" | "no"))
            .is_some_and(|i| i + 1 < self.tokens.len());
        thought && but
    }

    /// "kayla, don't lick the knife honey": an order.
    fn told_not_to(&self, m: &Mark) -> bool {
        (1..m.from).any(|i| {
            matches!(self.word(i), "n't" | "not")
                && self.word(i - 1) == "do"
                && matches!(
                    self.word(i + 1),
                    "lick"
                        | "eat"
                        | "taste"
                        | "drop"
                        | "spill"
                        | "squash"
                        | "breathe"
                        | "poke"
                        | "drip"
                        | "waste"
                        | "step"
                        | "tread"
                )
                && !matches!(self.word(i.wrapping_sub(2)), "i" | "we" | "they")
        })
    }

    /// "honey I don't take today": of no comb.
    fn none_today(&self, m: &Mark) -> bool {
        m.from <= 1
            && matches!(self.word(m.to), "i" | "we")
            && self.word(m.to + 1) == "do"
            && matches!(self.word(m.to + 2), "n't" | "not")
            && matches!(
                self.word(m.to + 3),
                "take" | "harvest" | "want" | "need" | "cut"
            )
    }

    fn honey_not_taken(&self, marks: &[Mark], at: usize) -> bool {
        let before = marks[..at].iter().rev().find(|m| m.concept != C::Word);
        before.is_some_and(|m| m.concept == C::Honey && self.none_today(m))
    }
}
