//! The order of closing said again: put right, told once more from the nest, or repeated by a helper
//! who writes it down.

use crate::act::{Act, Closing};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

/// As often as this, what was just said was said once more, and two are speaking.
const TWO_SPEAK: u32 = 3;

/// What a row of combs is to what was said of the order before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Again {
    /// It goes on with these.
    On(Vec<Closing>),
    /// The whole order once more, and perhaps further.
    Whole(Vec<Closing>),
    /// Nothing new.
    Said,
}

impl Ear<'_> {
    /// "no, four of them": how many of the combs said last, in their place. "no five five full ones" is put
    /// right as any row is.
    pub(crate) fn recounted_in_closing(&mut self, marks: &[Mark]) -> bool {
        if !self.state.closing {
            return false;
        }
        self.correcting |= matches!(marks, [no, next, ..] if no.concept == C::Not
            && matches!(next.concept, C::Num | C::FillFull | C::Cut | C::Empty));
        let number = |m: &&Mark| m.concept == C::Num && m.value >= 1.0 && m.value <= 12.0;
        let mut numbers = marks.iter().filter(number);
        let (Some(number), None) = (numbers.next(), numbers.next()) else {
            return false;
        };
        let of_them = self.word(number.to) == "of"
            && matches!(
                self.word(number.to + 1),
                "them" | "those" | "'em" | "em" | "these"
            );
        let last = self.last_closed();
        let one = last.first().copied();
        let Some(one) = one.filter(|one| last.iter().all(|o| o == one)) else {
            return false;
        };
        if !self.correcting || !of_them {
            return false;
        }
        self.takes_back_the_last_row();
        let row = vec![one; number.value as usize];
        self.note("closing", Act::Closed(row), None, marks);
        true
    }

    /// "the little new one on eighteen, call that empty": what it counts as; from which mark on.
    pub(crate) fn counts_as(&self, marks: &[Mark]) -> Option<usize> {
        let call = (0..self.tokens.len()).rfind(|&i| {
            matches!(self.word(i), "call" | "calling" | "count" | "counting")
                && matches!(self.word(i + 1), "that" | "it" | "this" | "him")
        })?;
        let at = marks.iter().position(|m| m.from > call + 1)?;
        let row = |m: &Mark| {
            matches!(
                m.concept,
                C::FillFull
                    | C::Cut
                    | C::Empty
                    | C::EmptyBar
                    | C::NoComb
                    | C::Shim
                    | C::Word
                    | C::Stop
            )
        };
        (self.state.closing && marks[at..].iter().all(row)).then_some(at)
    }

    /// "no, not empty, that was the other end", "no wait, the light one goes in first": the row was
    /// wrong, and is said again.
    pub(crate) fn doubts_the_row(&mut self, marks: &[Mark]) -> bool {
        let denied = self.word(0) == "no" && self.word(1) == "not";
        let none = marks.iter().all(|m| m.concept == C::Stop);
        let goes_in = self.correcting
            && self.tokens.windows(2).any(|w| {
                matches!(&*w[0].text, "goes" | "go" | "comes")
                    && matches!(&*w[1].text, "in" | "first")
            })
            && self
                .tokens
                .last()
                .is_some_and(|t| t.is("first") || t.is("before"));
        let doubted = self.state.closing && denied && none || self.row_was_told() && goes_in;
        self.state.closing_doubted |= doubted;
        doubted
    }

    /// A row told down to the board stands in place of one that was doubted.
    pub(crate) fn in_place_of_the_doubted(&mut self, row: &[Closing]) {
        let whole = row.len() > 2 && row.last() == Some(&Closing::Follower);
        if self.state.closing_doubted && whole {
            self.state.visit.closing.clear();
        }
    }

    /// The order of closing stands, down to the board or not yet, and nothing else was said since.
    fn row_was_told(&self) -> bool {
        let closed = |(_, act): &(Option<usize>, Act)| matches!(act, Act::Closed(_));
        !self.state.visit.closing.is_empty() && self.state.last_acts.iter().all(closed)
    }

    pub(crate) fn closing_again(&self, row: Vec<Closing>, marks: &[Mark]) -> Again {
        let all = &self.state.visit.closing;
        let last = self.last_closed();
        let goes_on = matches!(self.word(0), "then" | "and" | "another" | "next")
            && !matches!(self.word(1), "so")
            || self.where_one_was(marks);
        if all.is_empty() || goes_on || self.correcting {
            return Again::On(row);
        }
        let kinds = |row: &[Closing]| row.iter().any(|one| Some(one) != row.first());
        let restated = self.restates(marks);
        // "full full", a pause, "full full cut" goes on; "full cut", a pause, "full cut board" does not
        let told = kinds(all) && (all.len() > 2 || self.state.echoes > 0);
        let anew = told || restated || self.state.closing_doubted;
        if row.starts_with(all) && anew {
            return Again::Whole(row);
        }
        // "full", a pause, "full": each is a comb of its own; "call that one empty", a pause, "empty"
        let one = last.len() == 1 && !self.state.closed_in_words;
        let echo = self.state.echoes >= TWO_SPEAK && !one;
        if (echo || restated) && row == last {
            return Again::Said;
        }
        // "so empty empty and the follower": told from the last few on
        let most = all.len().min(row.len());
        let again = (1..=most)
            .rev()
            .find(|&n| all.ends_with(&row[..n]))
            .filter(|&n| restated || echo && n == last.len());
        match again {
            Some(n) if n == row.len() => Again::Said,
            Some(n) => Again::On(row[n..].to_vec()),
            None => Again::On(row),
        }
    }

    /// "empty bar where four was": the place of one that was taken.
    fn where_one_was(&self, marks: &[Mark]) -> bool {
        let was = |m: &Mark| {
            matches!(m.concept, C::Num | C::Ord)
                && (m.from.saturating_sub(3)..m.from).any(|i| self.word(i) == "where")
                && matches!(self.word(m.to), "was" | "hung" | "came" | "is" | "used")
        };
        marks.iter().any(was)
    }

    /// "so full full cut", "yes full full": a summing up; "eleven twelve thirteen full full full": the bars
    /// are named beside.
    fn restates(&self, marks: &[Mark]) -> bool {
        let first = marks
            .iter()
            .position(|m| {
                matches!(
                    m.concept,
                    C::FillFull | C::Cut | C::Empty | C::EmptyBar | C::NoComb | C::Follower
                )
            })
            .unwrap_or(marks.len());
        let numbers = marks[..first]
            .iter()
            .filter(|m| m.concept == C::Num)
            .count();
        let to = marks.get(first).map_or(0, |m| m.from);
        let sums = (0..to).any(|i| matches!(self.word(i), "so" | "yes" | "yeah" | "yep" | "again"));
        sums || numbers > 1
    }

    /// What the phrase before told of the order.
    fn last_closed(&self) -> Vec<Closing> {
        let last = self.state.last_acts.iter();
        last.filter_map(|(_, act)| match act {
            Act::Closed(row) => Some(row.clone()),
            _ => None,
        })
        .flatten()
        .collect()
    }
}

impl crate::ear::State {
    /// Counts what is said once more right after it was said: a helper who repeats what is written down.
    pub(crate) fn hears_an_echo(&mut self, marks: &[Mark], acts: &[crate::act::Noted]) {
        let short = marks.len() <= 4;
        let number = match marks {
            [m] => crate::opening::whole(m),
            _ => None,
        };
        let in_hand = self.hand.last().and_then(|&c| self.visit.combs.get(c));
        let bar = number.is_some() && in_hand.is_some_and(|c| c.bar == number);
        let again = !acts.is_empty()
            && acts
                .iter()
                .all(|n| self.last_acts.contains(&(n.comb, n.act.clone())));
        self.echoes += u32::from(short && (bar && acts.is_empty() || again));
    }
}
