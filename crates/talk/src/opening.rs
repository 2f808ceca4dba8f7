//! Which comb is meant: a new one, or one met before.

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

/// A comb or combs named in the talk.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Named {
    /// By the numbers on the bars.
    Bars(Vec<u32>),
    /// Counted from the opened end.
    Ordinal(usize),
    /// The next one, or the next few.
    Next(usize),
    /// "the first two".
    FirstFew(usize),
    /// The one put aside.
    Aside,
    /// The one before the one in hand.
    Previous,
    /// The last one of this end.
    Last,
}

const UNITS: [C; 24] = [
    C::Kg,
    C::Gram,
    C::Pound,
    C::Ounce,
    C::Mm,
    C::Cm,
    C::Inch,
    C::Litre,
    C::Ml,
    C::Gallon,
    C::Quart,
    C::Pint,
    C::Degrees,
    C::Fahrenheit,
    C::Celsius,
    C::Mites,
    C::Bees,
    C::QueenCell,
    C::Cups,
    C::Ratio,
    C::Num,
    C::Total,
    C::Wash,
    C::Honey,
];

impl Ear<'_> {
    /// A comb named at this place: how many marks, and which.
    pub(crate) fn named(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        match marks.get(at)?.concept {
            C::Bar | C::Comb => self.bar_number(marks, at),
            C::Number if !self.state.visit.ends.is_empty() => self.bar_number(marks, at),
            C::Num => self.bare_number(marks, at),
            C::Ord => self.counted(marks, at),
            C::Next
                if (fresh(marks, at) || next_then_few(marks, at))
                    && !(self.state.washing && self.said(&marks[at], "another")) =>
            {
                Some(self.next(marks, at))
            }
            C::Last if fresh(marks, at) => Some((1, Named::Last)),
            C::First if fresh(marks, at) && self.here() == 0 => Some((1, Named::Ordinal(1))),
            C::AsideRef if self.state.visit.combs.iter().any(|c| c.aside) => {
                Some((1, Named::Aside))
            }
            C::Previous => Some((1, Named::Previous)),
            _ => None,
        }
    }

    /// Combs met at this end.
    pub(crate) fn here(&self) -> usize {
        self.state.visit.combs.len() - self.state.end_start
    }

    fn bar_number(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let mut i = at + 1;
        if next(marks, i, C::Number) || next(marks, i, C::Bar) {
            i += 1;
        }
        // "bar, um, twelve": a comma may stand between
        let first = whole(marks.get(i)?)?;
        if marks
            .get(i + 1)
            .is_some_and(|m| matches!(m.concept, C::Kg | C::Pound | C::Mm | C::Degrees))
        {
            return None;
        }
        let mut bars = vec![first];
        i += 1;
        while let Some((used, more)) = self.more_bars(marks, i, *bars.last()?) {
            bars.extend(more);
            i += used;
        }
        Some((i - at, Named::Bars(bars)))
    }

    /// "and thirteen", "to sixteen", "through seven" after a bar's number.
    fn more_bars(&self, marks: &[Mark], at: usize, last: u32) -> Option<(usize, Vec<u32>)> {
        let before = marks.get(at.checked_sub(1)?)?;
        let mut i = at;
        while next(marks, i, C::Then)
            || next(marks, i, C::And)
            || next(marks, i, C::Bar)
            || next(marks, i, C::Word) && self.through(&marks[i])
            || next(marks, i, C::Stop) && self.listed(marks, i)
        {
            i += 1;
        }
        let m = marks.get(i)?;
        let n = whole(m)?;
        if marks.get(i + 1).is_some_and(|u| UNITS.contains(&u.concept)) {
            return None;
        }
        let ranged = self.between(
            before,
            m,
            &["to", "through", "thru", "till", "until", "til"],
        );
        if ranged {
            let range: Vec<u32> = if last < n {
                (last + 1..=n).collect()
            } else {
                (n..last).rev().collect()
            };
            return (range.len() < 40).then_some((i + 1 - at, range));
        }
        let joined = i > at && marks[at..i].iter().any(|m| m.concept != C::Bar)
            || self.between(before, m, &["and", "or"]);
        let row = i == at
            && last.abs_diff(n) == 1
            && self.bar_index(n).is_some()
            && self.bar_index(last).is_some();
        (joined || row).then_some((i + 1 - at, vec![n]))
    }

    fn through(&self, m: &Mark) -> bool {
        matches!(
            self.word(m.from),
            "through" | "thru" | "till" | "until" | "til"
        )
    }

    /// "bars four, five and six": a comma between two numbers of a row that a third ends.
    fn listed(&self, marks: &[Mark], comma: usize) -> bool {
        self.word(marks[comma].from) == ","
            && marks.get(comma + 1).and_then(whole).is_some()
            && marks.get(comma + 2).is_some_and(|m| {
                matches!(m.concept, C::And | C::Then)
                    || m.concept == C::Stop && self.word(m.from) == ","
            })
            && marks.get(comma + 3).and_then(whole).is_some()
    }

    /// "twelve", where the bars have been called by number.
    fn bare_number(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let n = whole(&marks[at])?;
        let row = marks.get(at + 1).and_then(whole).is_some_and(|b| {
            b.abs_diff(n) == 1 && self.bar_index(b).is_some() && self.bar_index(n).is_some()
        });
        let last = self.state.visit.combs[self.state.end_start..]
            .iter()
            .rev()
            .find_map(|c| c.bar);
        let beside = last.is_some_and(|l| l.abs_diff(n) == 1);
        let starts = last.is_none() && self.here() == 0 && !self.state.visit.ends.is_empty();
        let unit = marks
            .get(at + 1)
            .is_some_and(|m| UNITS.contains(&m.concept));
        let noted = (beside || starts) && at == 0 && self.noted(marks);
        if !fresh(marks, at) || !row && unit && !noted {
            return None;
        }
        if self.state.washing || self.state.closing {
            return None;
        }
        if noted {
            return Some((1, Named::Bars(vec![n])));
        }
        let known = self.bar_index(n).is_some();
        let near = last.is_some_and(|l| l.abs_diff(n) <= 2);
        if let Some((used, more)) = self.more_bars(marks, at + 1, n)
            && (known || near)
        {
            let mut bars = vec![n];
            bars.extend(more);
            let mut i = at + 1 + used;
            while let Some((used, more)) = bars.last().and_then(|&l| self.more_bars(marks, i, l)) {
                bars.extend(more);
                i += used;
            }
            return Some((i - at, Named::Bars(bars)));
        }
        let follows = marks
            .get(at + 1)
            .is_none_or(|m| describes(m.concept) || m.concept == C::Stop);
        (last.is_some() && near && follows).then_some((1, Named::Bars(vec![n])))
    }

    /// "three honey sealed a quarter", "18: brood": a line that begins with a bar's number.
    fn noted(&self, marks: &[Mark]) -> bool {
        let m = &marks[0];
        let first_word =
            (0..m.from).all(|i| matches!(self.word(i), "um" | "uh" | "er" | "okay" | "right"));
        let counts = matches!(
            self.word(m.to),
            "of" | "more"
                | "or"
                | "and"
                | "at"
                | "in"
                | "on"
                | "side"
                | "sides"
                | "with"
                | "combs"
                | "ones"
                | "bars"
                | "full"
                | "thing"
                | "things"
                | "for"
                | "each"
                | "that"
                | "face"
                | "to"
                | "out"
                | "off"
                | "left"
                | "gone"
        );
        if !first_word || counts {
            return false;
        }
        let told = |c: C| {
            describes(c)
                && !matches!(
                    c,
                    C::Comb | C::Take | C::Next | C::Not | C::Open | C::This | C::Other | C::Both
                )
        };
        match marks.get(1) {
            Some(n) if n.concept == C::Stop => matches!(self.word(n.from), ":" | "."),
            Some(n) if n.concept == C::Honey => marks.get(2).is_none_or(|o| {
                describes(o.concept) && o.concept != C::Comb
                    || matches!(o.concept, C::Stop | C::And | C::Then)
            }),
            Some(n) if told(n.concept) => true,
            Some(n) => {
                matches!(n.concept, C::But | C::Word)
                    && marks[1..]
                        .iter()
                        .take(3)
                        .any(|m| told(m.concept) && m.concept != C::Leave)
                    && !marks[1..]
                        .iter()
                        .take(3)
                        .any(|m| UNITS.contains(&m.concept) || m.concept == C::Stop)
            }
            None => false,
        }
    }

    pub(crate) fn bar_index(&self, bar: u32) -> Option<usize> {
        let combs = &self.state.visit.combs;
        let first = self.state.end_start.min(combs.len());
        combs[first..]
            .iter()
            .rposition(|c| c.bar == Some(bar))
            .map(|i| first + i)
            .or_else(|| combs.iter().rposition(|c| c.bar == Some(bar)))
    }

    /// The bars of the second end are counted afresh, and this is one not met there yet.
    fn counted_afresh(&self, bar: u32) -> bool {
        let combs = &self.state.visit.combs;
        let (before, here) = combs.split_at(self.state.end_start.min(combs.len()));
        if before.is_empty() || here.iter().any(|c| c.bar == Some(bar)) {
            return false;
        }
        match here.iter().rev().find_map(|c| c.bar) {
            None => here.is_empty() && before.first().is_some_and(|c| c.bar == Some(bar)),
            Some(last) => {
                let again = here
                    .iter()
                    .any(|h| h.bar.is_some() && before.iter().any(|b| b.bar == h.bar));
                again && last.abs_diff(bar) == 1
            }
        }
    }

    fn counted(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let n = marks[at].value as usize;
        if n == 0 || n > 60 {
            return None;
        }
        if marks[at + 1..]
            .iter()
            .take(3)
            .any(|m| matches!(m.concept, C::Cups | C::Cells))
        {
            return None;
        }
        let mut i = at + 1;
        // "first two combs"
        if let Some(few) = marks.get(i).and_then(whole)
            && n == 1
            && (2..=6).contains(&few)
            && !marks
                .get(i + 1)
                .is_some_and(|m| UNITS.contains(&m.concept) && m.concept != C::Honey)
        {
            return Some((
                if next(marks, i + 1, C::Comb) || next(marks, i + 1, C::Bar) {
                    3
                } else {
                    2
                },
                Named::FirstFew(few as usize),
            ));
        }
        let named = next(marks, i, C::Comb)
            || next(marks, i, C::Bar)
            || marks.get(i).is_some_and(|m| {
                m.concept == C::Num && self.word(m.from) == "one" && m.to == m.from + 1
            });
        if named {
            i += 1;
        }
        let mut after = marks[at].to;
        while matches!(
            self.word(after),
            "uh" | "um" | "er" | "erm" | "oh" | "well" | "now" | "yeah" | "okay" | "ah"
        ) {
            after += 1;
        }
        let verb = matches!(
            self.word(after),
            "it" | "that"
                | "this"
                | "'s"
                | "is"
                | "has"
                | "have"
                | "had"
                | "was"
                | "one"
                | "looks"
                | "goes"
                | "comes"
                | "got"
                | "seems"
                | "weighs"
                | "hangs"
                | "also"
                | "too"
                | "then"
                | "over"
                | "just"
                | "wants"
                | "up"
                | "in"
                | "along"
                | "down"
                | "here"
                | "there"
                | "now"
                | "still"
                | "holds"
                | "starts"
                | "likewise"
                | "same"
                | "on"
        ) || self.thing(after);
        let runs_on =
            at > 0 && marks[at - 1].concept == C::StraightNo && self.runs_into(&marks[at - 1]);
        // "plus the first open brood": no comb, where the first was met
        let first_of = n <= self.here()
            && !named
            && at > 0
            && matches!(marks[at - 1].concept, C::Then | C::And | C::See)
            && marks.get(at + 1).is_some_and(|m| {
                matches!(
                    m.concept,
                    C::Brood
                        | C::SealedBrood
                        | C::Eggs
                        | C::Drone
                        | C::Capped
                        | C::Honey
                        | C::Pollen
                        | C::Unripe
                        | C::Open
                )
            });
        if runs_on {
            return Some((i - at, Named::Ordinal(n)));
        }
        let no_comb = no_thing(self.word(after))
            || no_thing(self.word(after + 1))
                && matches!(
                    self.word(after),
                    "warm"
                        | "cold"
                        | "hot"
                        | "fine"
                        | "real"
                        | "proper"
                        | "good"
                        | "big"
                        | "hard"
                        | "few"
                );
        if first_of || no_comb && !named {
            return None;
        }
        // "second oh dear": the next in order, at the start of what is said
        let in_turn = n == self.here() + 1
            && (n > 1 || !self.state.visit.ends.is_empty())
            && (0..marks[at].from).all(|i| {
                matches!(
                    self.word(i),
                    "the" | "now" | "so" | "and" | "then" | "okay" | "right" | "well"
                )
            });
        if in_turn {
            return Some((i - at, Named::Ordinal(n)));
        }
        let end = at + 1 == marks.len();
        let follows = marks.get(at + 1).is_some_and(|m| m.concept != C::Word);
        let article = marks[at].from > 0
            && matches!(
                self.word(marks[at].from - 1),
                "the" | "that" | "this" | "my"
            );
        if named || fresh(marks, at) && (verb || end || follows) || article && (verb || end) {
            return Some((i - at, Named::Ordinal(n)));
        }
        None
    }

    /// "the second lad has", "the third beauty is": any thing that a comb may be called.
    fn thing(&self, at: usize) -> bool {
        let verb = matches!(
            self.word(at + 1),
            "is" | "'s"
                | "has"
                | "have"
                | "had"
                | "was"
                | "got"
                | "looks"
                | "now"
                | "here"
                | "in"
                | "up"
                | "along"
                | "comes"
                | "hangs"
                | "seems"
                | "feels"
                | "weighs"
                | "holds"
                | "'ve"
        );
        let known = matches!(
            self.word(at),
            "lad"
                | "fella"
                | "fellow"
                | "feller"
                | "chap"
                | "guy"
                | "boy"
                | "boyo"
                | "girl"
                | "lass"
                | "beauty"
                | "bugger"
                | "beggar"
                | "baby"
                | "yoke"
                | "fel"
                | "piece"
                | "slab"
                | "fin"
        );
        known || verb && self.word(at).len() > 2 && !no_thing(self.word(at))
    }

    fn next(&self, marks: &[Mark], at: usize) -> (usize, Named) {
        let mut i = at + 1;
        let mut few = 1;
        if let Some(n) = marks.get(i).and_then(whole)
            && (1..=6).contains(&n)
            && !marks
                .get(i + 1)
                .is_some_and(|m| UNITS.contains(&m.concept) && m.concept != C::Honey)
        {
            few = n as usize;
            i += 1;
        } else if marks.get(at).is_some_and(|m| self.word(m.to) == "couple") {
            few = 2;
            i += usize::from(marks.get(i).is_some_and(|m| m.from == marks[at].to));
        }
        while next(marks, i, C::Comb) || next(marks, i, C::Bar) || next(marks, i, C::Next) {
            i += 1;
        }
        // "next bar fourteen"
        if let Some(n) = marks.get(i).and_then(whole)
            && few == 1
            && marks[at + 1..i].iter().any(|m| m.concept == C::Bar)
        {
            return (i + 1 - at, Named::Bars(vec![n]));
        }
        (i - at, Named::Next(few))
    }

    /// Takes the named combs in hand, as new ones or old ones.
    pub(crate) fn take_in_hand(&mut self, named: Named, words: &[Mark]) {
        let first = self.state.end_start;
        let total = self.state.visit.combs.len();
        match named {
            Named::Bars(bars) => self.bars_in_hand(&bars, words),
            Named::Ordinal(n) if n <= self.here() => {
                self.back_to(vec![first + n - 1]);
            }
            Named::Ordinal(_) => self.meet_or_replace("ordinal", None, words),
            Named::Next(few) | Named::FirstFew(few) => {
                if few == 1 {
                    self.meet_or_replace("next", None, words);
                } else {
                    self.meet("next few", &vec![None; few], words);
                }
            }
            Named::Last => self.meet_or_replace("last", None, words),
            Named::Aside => {
                let aside = self.state.visit.combs.iter().rposition(|c| c.aside);
                if let Some(comb) = aside {
                    self.back_to(vec![comb]);
                }
            }
            Named::Previous => {
                let in_hand = self.state.hand.first().copied().unwrap_or(total);
                if in_hand > 0 {
                    self.back_to(vec![in_hand - 1]);
                }
            }
        }
    }

    fn bars_in_hand(&mut self, bars: &[u32], words: &[Mark]) {
        let old: Vec<usize> = bars.iter().filter_map(|&b| self.bar_index(b)).collect();
        if let [bar] = *bars
            && self.counted_afresh(bar)
        {
            self.meet("bar number", &[Some(bar)], words);
        } else if old.len() == bars.len() {
            self.back_to(old);
        } else if let [bar] = *bars {
            self.meet_or_replace("bar number", Some(bar), words);
        } else if old.is_empty() {
            let bars: Vec<_> = bars.iter().copied().map(Some).collect();
            self.meet("bar numbers", &bars, words);
        } else {
            self.back_to(old);
        }
    }

    /// A comb whose words were all taken back is the one that is named now.
    fn meet_or_replace(&mut self, rule: &'static str, bar: Option<u32>, words: &[Mark]) {
        let blank = self
            .comb()
            .is_some_and(|c| !c.described() && c.decision.is_none());
        if self.state.retracted && blank {
            self.state.retracted = false;
            if let Some(bar) = bar {
                self.note_hand("renumbered", &crate::act::Act::Renumbered(bar), words);
            }
            return;
        }
        self.meet(rule, &[bar], words);
    }
}

fn next(marks: &[Mark], at: usize, concept: C) -> bool {
    marks.get(at).is_some_and(|m| m.concept == concept)
}

fn next_then_few(marks: &[Mark], at: usize) -> bool {
    marks.get(at + 1).is_some_and(|m| m.concept == C::Num)
}

/// What is counted with "first" and is no comb.
fn no_thing(word: &str) -> bool {
    matches!(
        word,
        "time"
            | "times"
            | "thing"
            | "things"
            | "week"
            | "month"
            | "year"
            | "day"
            | "days"
            | "hive"
            | "visit"
            | "look"
            | "inspection"
            | "swarm"
            | "queen"
            | "cell"
            | "cells"
            | "frost"
            | "rain"
            | "sting"
            | "half"
            | "crop"
            | "flow"
            | "wash"
            | "count"
            | "litre"
            | "feed"
            | "side"
            | "face"
            | "end"
            | "box"
            | "jar"
            | "round"
            | "try"
            | "place"
            | "hour"
            | "minute"
            | "drop"
            | "batch"
            | "mite"
            | "thought"
            | "thoughts"
            | "spring"
            | "summer"
            | "autumn"
            | "winter"
            | "flight"
            | "colony"
            | "yard"
            | "morning"
            | "evening"
            | "afternoon"
            | "season"
            | "sign"
            | "hand"
            | "glance"
            | "opinion"
            | "sight"
            | "bees"
            | "wall"
            | "job"
            | "harvest"
            | "date"
            | "generation"
            | "puff"
            | "lesson"
            | "bee"
            | "grade"
            | "floor"
            | "gear"
            | "class"
            | "monday"
            | "sunday"
            | "saturday"
            | "march"
            | "april"
            | "may"
            | "june"
            | "july"
            | "august"
            | "september"
            | "october"
    )
}

/// A whole number that may stand on a bar.
pub(crate) fn whole(mark: &Mark) -> Option<u32> {
    (mark.concept == C::Num && mark.value.fract() == 0.0 && (1.0..100.0).contains(&mark.value))
        .then_some(mark.value as u32)
}

/// Nothing of weight stands before it in its clause.
pub(crate) fn fresh(marks: &[Mark], at: usize) -> bool {
    marks[..at]
        .iter()
        .rev()
        .take_while(|m| m.concept != C::Stop)
        .all(|m| {
            matches!(
                m.concept,
                C::But
                    | C::Then
                    | C::And
                    | C::Total
                    | C::Here
                    | C::OpenEnd
                    | C::See
                    | C::That
                    | C::Correct
                    | C::AfterAll
                    | C::Settled
                    | C::Follower
            )
        })
}

/// Words that describe a comb or decide on it.
pub(crate) fn describes(concept: C) -> bool {
    matches!(
        concept,
        C::Comb
            | C::Honey
            | C::Unripe
            | C::Open
            | C::Brood
            | C::SealedBrood
            | C::Drone
            | C::DroneAndWorker
            | C::Eggs
            | C::Pollen
            | C::Empty
            | C::NewComb
            | C::NoComb
            | C::FillFull
            | C::FillPart
            | C::FillLight
            | C::AttachedYes
            | C::AttachedNo
            | C::StraightYes
            | C::StraightNo
            | C::Capped
            | C::Uncapped
            | C::Share
            | C::Extent
            | C::WhiteCap
            | C::This
            | C::Other
            | C::Both
            | C::Take
            | C::Leave
            | C::Aside
            | C::Unsure
            | C::Lost
            | C::Same
            | C::Not
            | C::AfterAll
            | C::Next
    )
}
