//! Combs called by the numbers on their bars: "bar twelve", "twelve", "four to seven", "18: brood".

use crate::act::Act;
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::{Named, UNITS, describes, fresh, next, whole};
use crate::verbs::PUTS;

/// "five can go back", "seven yeah I'll have that": what follows the number of a bar.
const VERBS: [&str; 20] = [
    "was", "is", "'s", "can", "could", "may", "should", "must", "will", "'ll", "goes", "comes",
    "stays", "yeah", "yes", "no", "well", "then", "has", "just",
];

impl Ear<'_> {
    pub(crate) fn bar_number(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
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

    /// "number two, which end", "number ten, feeding": of a keeper's own list of what to do.
    pub(crate) fn item_of_a_list(&self, marks: &[Mark]) -> bool {
        let done = self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "which"
                    | "smoke"
                    | "weather"
                    | "temperature"
                    | "feeding"
                    | "feed"
                    | "closing"
                    | "order"
                    | "queen"
                    | "mites"
                    | "notes"
                    | "tools"
                    | "end"
            )
        });
        let of_a_comb = |m: &Mark| {
            describes(m.concept)
                && !matches!(
                    m.concept,
                    C::Not | C::Leave | C::Take | C::This | C::Other | C::Next
                )
                && self.word(m.to - 1) != "done"
        };
        done && !marks.iter().any(of_a_comb)
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
        let honey = marks.get(i + 1).is_some_and(|u| u.concept == C::Honey)
            && marks.get(i + 2).is_none_or(|m| m.concept != C::Comb);
        let listed = marks.get(i + 1).is_some_and(|u| {
            u.concept == C::Num && u.value.fract() == 0.0 && self.plural(&marks[..at])
        });
        // "twenty and nineteen are one big mess": the verb stands between
        let unit = marks.get(i + 1).is_some_and(|u| {
            UNITS.contains(&u.concept) && !self.between(m, u, &["are", "is", "'s", "'re", "were"])
        });
        if unit && !honey && !listed {
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
        let known = self.bar_index(n).is_some() && self.bar_index(last).is_some();
        let row = i == at && last.abs_diff(n) == 1 && (known || self.plural(&marks[..at]));
        (joined || row).then_some((i + 1 - at, vec![n]))
    }

    /// "bars nine ten and eleven".
    fn plural(&self, marks: &[Mark]) -> bool {
        marks
            .iter()
            .any(|m| matches!(self.word(m.to - 1), "bars" | "combs" | "numbers"))
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

    /// "that's one for the crate", "the one with honey": no number.
    pub(crate) fn one_as_pronoun(&self, m: &Mark) -> bool {
        let before = self.word(m.from.wrapping_sub(1));
        self.word(m.from) == "one"
            && m.to == m.from + 1
            && (matches!(
                before,
                "'s" | "is"
                    | "the"
                    | "that"
                    | "this"
                    | "a"
                    | "just"
                    | "only"
                    | "another"
                    | "next"
                    | "far"
                    | "near"
            ) || matches!(self.word(m.to), "for" | "of" | "more" | "i" | "we"))
    }

    /// "put nine back", "honey on this side of thirteen": a bar met before.
    fn known_by_place(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let before = self.word(m.from.wrapping_sub(1));
        let put = PUTS.contains(&before) && matches!(self.word(m.to), "back" | "in");
        let of = before == "of" && at > 0 && matches!(marks[at - 1].concept, C::This | C::Other);
        put || of || self.its_own_clause(marks, at)
    }

    /// "five can go back", "ten that's brood".
    fn verb_follows(&self, m: &Mark) -> bool {
        let that_is = self.word(m.to) == "that" && matches!(self.word(m.to + 1), "'s" | "is");
        VERBS.contains(&self.word(m.to)) || that_is
    }

    /// "six is stuck and seven's straight": what follows is said of that one.
    pub(crate) fn its_own_clause(&self, marks: &[Mark], at: usize) -> bool {
        let told = |m: &Mark| {
            describes(m.concept) && !matches!(m.concept, C::Comb | C::Not | C::Next | C::Share)
        };
        matches!(self.word(marks[at].to), "'s" | "is" | "has")
            && marks.get(at + 1).is_some_and(told)
            && self.word(marks[at].from.wrapping_sub(1)) != "of"
    }

    /// "twelve", where the bars have been called by number.
    pub(crate) fn bare_number(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let n = whole(&marks[at])?;
        if let Some((used, bar)) = self.entrance_number(marks, at) {
            return Some((used, Named::Bars(vec![bar])));
        }
        let to = marks[at].to;
        let enough = (to..to + 2).any(|i| matches!(self.word(i), "plenty" | "enough"));
        if self.one_as_pronoun(&marks[at]) || self.adds_up_cells(&marks[at]) || enough {
            return None;
        }
        if self.state.bar_due && at == 0 {
            return Some((1, Named::Bars(vec![n])));
        }
        if self.bar_index(n).is_some() && self.known_by_place(marks, at) {
            return Some((1, Named::Bars(vec![n])));
        }
        let row = marks.get(at + 1).and_then(whole).is_some_and(|b| {
            b.abs_diff(n) == 1 && self.bar_index(b).is_some() && self.bar_index(n).is_some()
        });
        let last = self.last_called();
        let beside = last.is_some_and(|l| l.abs_diff(n) == 1);
        let starts = last.is_none() && self.here() == 0 && !self.state.visit.ends.is_empty();
        // "one comes out two stays": each with its own verb
        let joint = |m: &Mark| matches!(m.concept, C::But | C::And | C::Then | C::Stop);
        let verb = marks[..at].iter().rev().find(|m| !joint(m));
        let joined = at > 0 && joint(&marks[at - 1]);
        let verdict = at > 0 && marks[at - 1].concept.is_verdict()
            || joined
                && verb.is_some_and(|m| {
                    m.concept.is_verdict() || whole(m).is_some_and(|b| self.bar_index(b).is_some())
                });
        let says = |m: &Mark| m.concept.is_verdict();
        if verdict && self.bar_index(n).is_some() && marks.get(at + 1).is_some_and(says) {
            return Some((1, Named::Bars(vec![n])));
        }
        let in_row = verdict
            && beside
            && self.bar_index(n).is_none()
            && marks
                .get(at + 1)
                .is_some_and(|m| describes(m.concept) && !says(m));
        if in_row && marks[at + 1..].iter().any(says) {
            return Some((1, Named::Bars(vec![n])));
        }
        let unit = marks.get(at + 1).is_some_and(|m| {
            UNITS.contains(&m.concept) && !self.between(&marks[at], m, &["to", "through"])
        });
        let begins = marks[..at].iter().all(|m| m.concept == C::Stop);
        // "bar nine leave it", "next one", a pause, "thirteen full both sides": more than one counts
        let leaps = last.is_some() && n > 6;
        let noted = (beside || starts || leaps) && begins && self.noted(&marks[at..]);
        // "no ten should come out"
        let no = at == 1
            && marks[0].concept == C::Not
            && self.word(marks[0].from) == "no"
            && self.bar_index(n).is_some();
        if no && !unit {
            return Some((1, Named::Bars(vec![n])));
        }
        // "brood on four": the next bar, where bars have been called by number
        let told = at > 0
            && marks[at - 1].concept.is_held()
            && marks[at].from == marks[at - 1].to + 1
            && matches!(self.word(marks[at].from - 1), "on" | "in");
        let comes = last.is_some_and(|l| l.abs_diff(n) <= 2);
        if told && comes && !unit && !self.state.washing && !self.state.closing {
            return Some((1, Named::Bars(vec![n])));
        }
        if !fresh(marks, at) || !row && unit && !noted {
            return None;
        }
        let opens = starts && self.opens_with(marks, at);
        // "four mites in three hundred", a pause, "eleven": the count is told, and the combs go on
        let counting = self.state.washing && !(self.state.wash_told && self.beside(&marks[at]));
        if counting || self.state.closing {
            return None;
        }
        if noted || opens {
            return Some((1, Named::Bars(vec![n])));
        }
        let known = self.bar_index(n).is_some();
        // the side of its share was asked for
        let waits = |c: usize| self.state.loose_on(&[c]).is_some();
        let near = last.is_some_and(|l| l.abs_diff(n) <= 2) || self.bar_index(n).is_some_and(waits);
        if let Some((used, more)) = self.more_bars(marks, at + 1, n)
            && (known
                || at == 0 && last.is_some() && next(marks, at + 1 + used, C::Both)
                || near
                || starts && at == 0 && marks.len() > 2
                || more.iter().any(|&b| self.bar_index(b).is_some()))
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
        let verb = known && self.verb_follows(&marks[at]);
        let follows = verb
            || marks
                .get(at + 1)
                .is_none_or(|m| describes(m.concept) || m.concept == C::Stop);
        (last.is_some() && (near || verb) && follows).then_some((1, Named::Bars(vec![n])))
    }

    /// "three honey sealed a quarter", "18: brood": a line that begins with a bar's number.
    fn noted(&self, marks: &[Mark]) -> bool {
        let m = &marks[0];
        let full = self.word(m.to) == "full"
            && matches!(
                self.word(m.to + 1),
                "combs" | "ones" | "bars" | "of" | "comb"
            );
        let after = |words: &[&str]| (0..m.from).all(|i| words.contains(&self.word(i)));
        let first_word = after(&["um", "uh", "er", "okay", "right", ","])
            // "right end, eighteen, half capped": the end is heard already
            || self
                .acts
                .iter()
                .any(|n| matches!(n.act, Act::EndOpened(_)))
            // "it's eighteen, half capped"
            || after(&["it", "that", "this", "'s", "is", "so", "and", ","])
                && marks.get(1).is_some_and(|n| n.concept == C::Stop)
                && marks.iter().any(|n| n.concept == C::Capped);
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
        if !first_word || counts && !self.more_of_the_same(marks) || full {
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
            Some(n) if n.concept == C::Stop => {
                let figure = self.word(m.from).starts_with(|c: char| c.is_ascii_digit());
                let listed = self.word(n.from) == ","
                    && (marks.get(2).is_some_and(|m| told(m.concept)) || face_told(&marks[2..]));
                matches!(self.word(n.from), ":" | ".") || figure || listed
            }
            Some(n) if n.concept == C::Honey => marks.get(2).is_none_or(|o| {
                describes(o.concept) && o.concept != C::Comb
                    || matches!(o.concept, C::Stop | C::And | C::Then)
                    // "twenty three honey in the top corners"
                    || self.in_its_place(n)
            }),
            Some(n) if told(n.concept) || face_told(&marks[1..]) => true,
            Some(n) => {
                matches!(n.concept, C::But | C::Word)
                    && marks[1..]
                        .iter()
                        .take(3)
                        .take_while(|m| !UNITS.contains(&m.concept) && m.concept != C::Stop)
                        .any(|m| told(m.concept) && m.concept != C::Leave)
            }
            None => false,
        }
    }

    /// "twenty two more brood": nobody counts so many.
    fn more_of_the_same(&self, marks: &[Mark]) -> bool {
        let m = &marks[0];
        self.word(m.to) == "more"
            && m.value > 9.0
            && self.beside(m)
            && marks[1..]
                .iter()
                .take(2)
                .any(|n| n.concept.is_held() || n.concept == C::Empty)
    }

    /// The number of a bar next to the last one that was called, and not called yet.
    pub(crate) fn beside(&self, m: &Mark) -> bool {
        let called = self.last_called();
        let next =
            |n: u32| self.bar_index(n).is_none() && called.is_some_and(|l| l.abs_diff(n) == 1);
        whole(m).is_some_and(next)
    }

    /// The bar that was called last at this end, with a comb on it or bare.
    fn last_called(&self) -> Option<u32> {
        let here = &self.state.visit.combs[self.state.end_start..];
        let bare = self.state.bare_number;
        bare.or_else(|| here.iter().rev().find_map(|c| c.bar))
    }

    /// "twenty two", "so twenty two that's the last one", after the end was opened: the first bar.
    fn opens_with(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let before = (0..m.from).all(|i| {
            matches!(
                self.word(i),
                "so" | "right" | "okay" | "um" | "uh" | "er" | "now" | "and" | "here" | "is" | "'s"
            )
        });
        let alone = m.to == self.tokens.len();
        let that_is = matches!(self.word(m.to), "that" | "this" | "which")
            && matches!(self.word(m.to + 1), "is" | "'s")
            && (m.to + 2..m.to + 5).any(|i| {
                matches!(
                    self.word(i),
                    "last" | "first" | "end" | "outside" | "outer" | "outermost"
                )
            });
        before && (alone || that_is)
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
    pub(crate) fn counted_afresh(&self, bar: u32) -> bool {
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
}

/// "this side half", "sixty percent capped": how much of a face, after a bar's number and a comma.
fn face_told(marks: &[Mark]) -> bool {
    let has = |is: fn(C) -> bool| marks.iter().any(|m| is(m.concept));
    let first = marks.first().map(|m| m.concept);
    let face = matches!(first, Some(C::This | C::Other | C::Both));
    face && has(|c| matches!(c, C::Share | C::Capped | C::Uncapped))
        || first == Some(C::Num) && has(|c| matches!(c, C::Capped | C::Uncapped))
}
