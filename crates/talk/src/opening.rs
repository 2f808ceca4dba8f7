//! Which comb is meant: a new one, or one met before.

use crate::act::{Act, Noted};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::visit::Comb;

/// A comb or combs named in the talk.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Named {
    /// By the numbers on the bars.
    Bars(Vec<u32>),
    /// Counted from the opened end.
    Ordinal(usize),
    /// Several, counted from the opened end.
    Ordinals(Vec<usize>),
    /// The next one, or the next few.
    Next(usize),
    /// "the first two".
    FirstFew(usize),
    /// The one put aside.
    Aside,
    /// Of two met together, the one not in hand.
    OtherOfTwo,
    /// The one before the one in hand.
    Previous,
    /// The last one of this end.
    Last,
}

pub(crate) const UNITS: [C; 25] = [
    C::Kg,
    C::Stone,
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
            C::Number if !self.state.visit.ends.is_empty() && !self.item_of_a_list(marks) => {
                self.bar_number(marks, at)
            }
            C::Num => self
                .bare_number(marks, at)
                .or_else(|| self.begins_with_one(marks))
                .or_else(|| self.next_bar(marks, at))
                .or_else(|| self.counts_on(marks, at))
                .or_else(|| self.more(marks, at)),
            C::Ord if self.entrance_number(marks, at).is_some() => {
                let (used, bar) = self.entrance_number(marks, at)?;
                Some((used, Named::Bars(vec![bar])))
            }
            C::Ord if self.called_by_number(marks, at).is_some() => {
                self.called_by_number(marks, at)
            }
            // "first we take the board out": what is done first
            C::Ord if self.done_first(&marks[at]) => None,
            C::Ord => self
                .counted_together(marks, at)
                .or_else(|| self.counted(marks, at)),
            // "fifth comb", a pause, "now this one's stuck"
            C::Next
                if (self.said(&marks[at], "this") || self.named_before_it(&marks[at]))
                    && self
                        .comb()
                        .is_some_and(|c| !c.described() && c.decision.is_none()) =>
            {
                None
            }
            C::Next
                if (fresh(marks, at)
                    || self.asks_of_the_next(&marks[at])
                    || next_then_few(marks, at)
                    || self.verdict_ahead(marks, at))
                    && !self.another_half(marks, at)
                    // its cell is counted already
                    && !((self.said(&marks[at], "another") || self.said(&marks[at], "more"))
                        && (self.acts.iter().any(|n| matches!(n.act, Act::QueenCells(_)))
                            || self.cells_in_hand()))
                    && !(self.state.washing
                        && ["another", "more"].iter().any(|w| self.said(&marks[at], w)))
                    && !matches!(
                        self.word(marks[at].to),
                        "queen" | "cell" | "cells" | "cup" | "swarm" | "supersedure"
                    ) =>
            {
                Some(self.next(marks, at))
            }
            C::BothOf | C::Word if self.a_pair_of(marks, at) => Some((1, Named::Next(2))),
            C::Last | C::Word
                if self.word(marks[at].from) == "last" && self.last_few(marks, at).is_some() =>
            {
                self.last_few(marks, at)
            }
            C::Last
                if (fresh(marks, at) || self.verdict_ahead(marks, at)) && !self.state.washing =>
            {
                Some((1, Named::Last))
            }
            C::First if fresh(marks, at) && self.here() == 0 => Some(
                self.end_bar_by_number(marks, at)
                    .unwrap_or((1, Named::Ordinal(1))),
            ),
            C::AsideRef if self.state.visit.combs.iter().any(|c| c.aside) => {
                Some((1, Named::Aside))
            }
            // "then there's that one I put aside"
            C::Aside
                if matches!(self.word(marks[at].from.wrapping_sub(1)), "i" | "we")
                    && matches!(
                        self.word(marks[at].from.wrapping_sub(2)),
                        "one" | "comb" | "bar"
                    )
                    && self.state.visit.combs.iter().any(|c| c.aside) =>
            {
                Some((1, Named::Aside))
            }
            C::Previous => Some((1, Named::Previous)),
            C::Other if self.other_of_two(marks, at) => Some((1, Named::OtherOfTwo)),
            _ => None,
        }
    }

    /// Queen cells were counted on the comb in hand, which is not settled: "another one" is a cell.
    fn cells_in_hand(&self) -> bool {
        self.state.cells_added > 0 && self.comb().is_some_and(|c| c.decision.is_none())
    }

    /// "alrighty, what have we got on the next one".
    fn asks_of_the_next(&self, m: &Mark) -> bool {
        matches!(
            self.word(m.from.wrapping_sub(1)),
            "on" | "in" | "of" | "the" | "with"
        ) && (0..m.from).any(|i| matches!(self.word(i), "what" | "how"))
            && m.to == self.tokens.len()
    }

    /// "now the next", a pause, "the next is pollen": one comb.
    fn named_before_it(&self, m: &Mark) -> bool {
        let verb = matches!(self.word(m.to - 1), "is" | "'s" | "has")
            || matches!(self.word(m.to), "is" | "'s" | "has");
        let met = |(_, act): &(Option<usize>, Act)| matches!(act, Act::CombMet { bar: None });
        let last = &self.state.last_acts;
        // "the next", a pause, "um, the next comb"
        let again = matches!(self.word(0), "um" | "uh" | "er" | "erm");
        (verb || again) && m.from <= 2 && !last.is_empty() && last.iter().all(met)
    }

    /// "the first one behind it is nineteen": the number on its bar.
    fn called_by_number(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let last = marks.last()?;
        let n = whole(last).filter(|&n| n > 6 && self.bar_index(n).is_none())?;
        let mut name = last.from;
        while matches!(self.word(name.wrapping_sub(1)), "bar" | "number") {
            name -= 1;
        }
        let is =
            matches!(self.word(name.wrapping_sub(1)), "is" | "'s") && last.to == self.tokens.len();
        let little = marks[at + 1..marks.len() - 1].iter().all(|m| {
            matches!(
                m.concept,
                C::Word | C::That | C::Comb | C::Bar | C::Num | C::Next
            )
        });
        (is && little && !self.state.washing).then(|| (marks.len() - at, Named::Bars(vec![n])))
    }

    /// "at the end bar twenty two": the number on it.
    fn end_bar_by_number(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let m = &marks[at];
        let number = marks.get(at + 1).filter(|n| n.from == m.to)?;
        let bar = whole(number).filter(|_| self.word(m.to - 1) == "bar")?;
        let counts = marks.get(at + 2).is_some_and(|u| {
            u.from == number.to && (UNITS.contains(&u.concept) || u.concept == C::Comb)
        });
        (!counts).then(|| (2, Named::Bars(vec![bar])))
    }

    /// "and another half", said of feed: no comb.
    fn another_half(&self, marks: &[Mark], at: usize) -> bool {
        let half = marks
            .get(at + 1)
            .is_some_and(|m| m.concept == C::Share && m.from == marks[at].to);
        half && at + 2 == marks.len() && self.said(&marks[at], "another")
    }

    /// "then a pair of honey combs": two not met before.
    fn a_pair_of(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let decided = self.comb().is_none_or(|c| c.decision.is_some());
        let pair = self.said(m, "pair") || self.said(m, "couple");
        pair && self.word(m.from.wrapping_sub(1)) == "a"
            && (self.word(m.to) == "of" || self.word(m.to - 1) == "of")
            && (m.to..m.to + 6).any(|i| matches!(self.word(i), "combs" | "bars" | "ones"))
            && fresh(marks, at)
            && decided
            && !self.state.washing
    }

    /// "the last two come out": of those met together, or of those of this end.
    fn last_few(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let few = marks
            .get(at + 1)
            .filter(|n| n.from <= marks[at].to)
            .and_then(whole)
            .filter(|n| (2..=6).contains(n))? as usize;
        let settles = marks
            .get(at + 2)
            .is_some_and(|m| matches!(m.concept, C::Take | C::Leave));
        let all = if self.in_group(1).is_some() {
            self.state.group.len()
        } else {
            self.here()
        };
        (settles && all >= few).then(|| (2, Named::Ordinals((all - few + 1..=all).collect())))
    }

    /// "... and the other goes back", after one of two was named.
    fn other_of_two(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let one = self.state.group.len() == 2
            && self.state.hand.len() == 1
            && self.state.group.contains(&self.state.hand[0]);
        one && self.said(m, "other")
            && !self.said(m, "side")
            && !self.said(m, "face")
            && marks.get(at + 1).is_some_and(|n| n.concept.is_verdict())
            && !marks
                .iter()
                .any(|n| matches!(n.concept, C::Share | C::Capped | C::This))
    }

    /// Combs met at this end.
    pub(crate) fn here(&self) -> usize {
        self.state.visit.combs.len() - self.state.end_start
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
        } else if marks
            .get(at)
            .is_some_and(|m| matches!(self.word(m.to), "couple" | "pair"))
        {
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
            Named::Ordinal(n) if self.in_group(n).is_some() => {
                self.back_to(self.in_group(n).into_iter().collect());
            }
            Named::FirstFew(few) if self.in_group(few).is_some() => {
                self.back_to(self.state.group[..few].to_vec());
            }
            Named::Ordinal(n) if n <= self.here() => {
                self.back_to(vec![first + n - 1]);
            }
            Named::Ordinals(all) => {
                let combs = all
                    .iter()
                    .map(|&n| self.in_group(n).unwrap_or(first + n - 1));
                self.back_to(combs.collect());
            }
            Named::Ordinal(_) => self.meet_or_replace("ordinal", None, words),
            Named::FirstFew(few) if few <= self.here() => {
                self.back_to((first..first + few).collect());
            }
            Named::Next(few) | Named::FirstFew(few) => {
                if few == 1 {
                    self.meet_or_replace("next", None, words);
                } else {
                    self.meet("next few", &vec![None; few], words);
                }
            }
            Named::Last => self.meet_or_replace("last", None, words),
            Named::Aside => {
                let combs = &self.state.visit.combs;
                let mut aside: Vec<usize> = (0..combs.len()).filter(|&c| combs[c].aside).collect();
                if !self.several(words) {
                    aside.drain(..aside.len().saturating_sub(1));
                }
                if !aside.is_empty() {
                    self.back_to(aside);
                }
            }
            Named::OtherOfTwo => {
                let other = self.state.group.iter().copied();
                let other = other.filter(|c| !self.state.hand.contains(c)).collect();
                self.back_to(other);
            }
            Named::Previous => {
                let in_hand = self.state.hand.first().copied().unwrap_or(total);
                if in_hand > 0 {
                    self.back_to(vec![in_hand - 1]);
                }
            }
        }
    }

    /// "the two on the stand", "both of the ones aside".
    fn several(&self, words: &[Mark]) -> bool {
        let many = [
            "two", "both", "ones", "maybes", "pair", "three", "those", "all",
        ];
        words.iter().any(|m| {
            many.iter().any(|w| self.said(m, w))
                || (m.from.saturating_sub(4)..m.from)
                    .any(|i| matches!(self.word(i), "two" | "both" | "those" | "pair" | "three"))
        })
    }

    fn bars_in_hand(&mut self, bars: &[u32], words: &[Mark]) {
        let old: Vec<usize> = bars.iter().filter_map(|&b| self.bar_index(b)).collect();
        if let [bar] = *bars
            && old.is_empty()
            && (self.names_it(words) || self.met_a_word_ago(words))
        {
            self.note_hand("named late", &Act::Renumbered(bar), words);
        } else if let [bar] = *bars
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
        } else if self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "joined" | "crossed" | "together" | "sheet" | "slab"
            )
        }) {
            // "so twenty one and twenty are joined together": one of them is met now
            for &bar in bars
                .iter()
                .filter(|&&b| self.bar_index(b).is_none())
                .collect::<Vec<_>>()
            {
                self.meet("joined", &[Some(bar)], words);
            }
            let all = bars.iter().filter_map(|&b| self.bar_index(b)).collect();
            self.back_to(all);
        } else {
            self.back_to(old);
        }
    }

    /// "first we take the board out", not "the first I left half capped".
    fn done_first(&self, m: &Mark) -> bool {
        self.said(m, "first")
            && self.word(m.from.wrapping_sub(1)) != "the"
            && matches!(self.word(m.to), "we" | "i" | "let")
    }

    /// "first one, bar four": the comb that was met in the same breath, and nothing is told of it yet.
    fn met_a_word_ago(&self, words: &[Mark]) -> bool {
        let from = words.first().map_or(0, |m| m.from);
        let another = matches!(
            self.word(from.wrapping_sub(1)),
            "then" | "and" | "next" | "after"
        );
        let met = |noted: &Noted| matches!(noted.act, Act::CombMet { bar: None });
        let blank = |c: &Comb| c.bar.is_none() && !c.described() && c.decision.is_none();
        !another && self.acts.last().is_some_and(met) && self.comb().is_some_and(blank)
    }

    /// "that's bar six", said of a comb that was told without its number.
    fn names_it(&self, words: &[Mark]) -> bool {
        let from = words.first().map_or(0, |m| m.from);
        let that = (0..from).any(|i| matches!(self.word(i), "that" | "it" | "this"))
            && (0..from).all(|i| {
                matches!(
                    self.word(i),
                    "that" | "it" | "this" | "'s" | "is" | "and" | "was" | "so"
                )
            });
        let which = from > 1
            && self.word(from - 2) == "which"
            && matches!(self.word(from - 1), "is" | "'s" | "was");
        let to = words.last().map_or(0, |m| m.to);
        let ends = matches!(self.word(to), "" | "," | "." | "i" | "number");
        (that || which)
            && ends
            && self.state.hand.len() == 1
            && self
                .comb()
                .is_some_and(|c| c.bar.is_none() && (c.described() || c.decision.is_some()))
    }

    /// A comb whose words were all taken back is the one that is named now.
    fn meet_or_replace(&mut self, rule: &'static str, bar: Option<u32>, words: &[Mark]) {
        let blank = self
            .comb()
            .is_some_and(|c| !c.described() && c.decision.is_none());
        if self.state.retracted && blank {
            self.state.retracted = false;
            if let Some(bar) = bar {
                self.note_hand("renumbered", &Act::Renumbered(bar), words);
            }
            return;
        }
        self.meet(rule, &[bar], words);
    }
}

pub(crate) fn next(marks: &[Mark], at: usize, concept: C) -> bool {
    marks.get(at).is_some_and(|m| m.concept == concept)
}

fn next_then_few(marks: &[Mark], at: usize) -> bool {
    marks.get(at + 1).is_some_and(|m| m.concept == C::Num)
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
            ) || m.concept == C::Right && m.from == 0 && m.to == 1
        })
}

/// Words that describe a comb or decide on it.
pub(crate) fn describes(concept: C) -> bool {
    concept.is_held()
        || concept.is_verdict()
        || matches!(
            concept,
            C::Comb
                | C::Open
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
                | C::More
                | C::Less
                | C::Extent
                | C::WhiteCap
                | C::This
                | C::Other
                | C::Both
                | C::Unsure
                | C::Lost
                | C::Same
                | C::Not
                | C::AfterAll
                | C::Next
        )
}
