//! The order said while closing, from the nest outward.

use crate::act::{Act, Closing, End};
use crate::closing_again::Again;
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

impl Ear<'_> {
    /// Hears "from the nest full, cut, full and the board". True if the phrase was that.
    pub(crate) fn closing(&mut self, marks: &[Mark]) -> bool {
        // "no", a pause, and the row is said again
        if self.state.closing && matches!(marks, [m] if m.concept == C::Not) {
            self.state.correcting = true;
            return true;
        }
        if self.doubts_the_row(marks) || self.state.closing && self.asks_what_counts() {
            return true;
        }
        let from_nest = marks
            .iter()
            .position(|m| matches!(m.concept, C::FromNest | C::FromBoard));
        let reverse = marks.iter().any(|m| m.concept == C::FromBoard);
        let close = marks.iter().position(|m| m.concept == C::Close);
        let start = match (from_nest, close) {
            (Some(i), _) | (None, Some(i)) => i,
            (None, None) => 0,
        };
        let rest = from_the_last_start(&marks[start..]);
        if self.recounted_in_closing(marks) {
            return true;
        }
        let said = marks;
        let counted = self.told_and_counted(marks).filter(|_| self.state.closing);
        let (marks, rest) = counted
            .as_deref()
            .or_else(|| self.row_meant(marks))
            .map_or((marks, rest), |row| (row, row));
        let mut row = self.row(rest);
        if row.is_empty() && from_nest.is_some() {
            row = self.row(marks);
        }
        let other = self.more_than_a_row(marks, from_nest.is_some());
        // "I like a honey comb against the nest" is no row
        let one_comb = rest.iter().all(|m| {
            !matches!(
                m.concept,
                C::FillFull | C::Cut | C::Empty | C::EmptyBar | C::NoComb
            )
        }) && row.len() == 1
            || marks.first().is_some_and(|m| m.concept == C::Leave);
        let sure = from_nest.is_some() && !row.is_empty() && other == 0 && !one_comb
            || close.is_some() && row.len() >= 2 && other == 0
            || row.len() >= 3
                && other == 0
                // "drawn but nothing in it, empty": of one comb
                && !marks.iter().any(|m| m.concept == C::But && self.word(m.from) == "but")
                // "full full full of honey", "closed all here, closed all there"
                && row.iter().any(|one| *one != Closing::Full)
                && (row.last() == Some(&Closing::Follower)
                    || !marks.iter().any(|m| matches!(m.concept, C::Capped | C::Share)))
                && !(0..marks.len()).any(|i| {
                    let m = &marks[i];
                    !self.bar_in_the_row(marks, i) && matches!(
                        m.concept,
                        C::Num | C::Bar | C::Number | C::Comb | C::FillLight | C::NoComb
                    )
                })
            || (self.state.closing || self.begins_the_row(marks)) && !row.is_empty() && other == 0;
        if (from_nest.is_some() || sure) && !self.state.visit.combs.is_empty() && other == 0 {
            self.state.closing = true;
        }
        if !sure {
            self.state.closing_doubted |= self.state.closing && self.correcting;
            return false;
        }
        // "follower cut cut full full and you're at the nest": told from the outside
        let from_outside = row.len() > 2
            && row.first() == Some(&Closing::Follower)
            && row.last() != Some(&Closing::Follower);
        if reverse || from_outside {
            row.reverse();
        }
        // "then three, no wait, three's a full as well": nothing of the row was put right
        let first = said.first().map_or(0, |m| m.from);
        let goes_on = matches!(self.word(0), "then" | "and")
            && !(0..first).any(|i| matches!(self.word(i), "full" | "cut" | "empty"));
        self.state.closing = !row.contains(&Closing::Follower);
        if self.correcting && row.len() >= 2 {
            self.state.visit.closing.clear();
        } else if self.correcting && !self.state.retracted && !goes_on {
            // "no, sorry, the full one": in place of what was said last
            self.takes_back_the_last_row();
        }
        self.in_place_of_the_doubted(&row);
        if self.state.visit.closing.contains(&Closing::Follower) {
            // a second end, or said again: the first row stands
            return true;
        }
        let named = marks.iter().find_map(|m| match m.concept {
            C::Left => Some(End::Left),
            C::Right => Some(End::Right),
            _ => None,
        });
        self.state.visit.closing_end = named.or(self.state.visit.closing_end);
        let again = self.closing_again(row, said);
        self.state.closing_doubted = false;
        if again != Again::Said {
            self.state.closed_in_words = self.tokens.len() > 2 && from_nest.is_none();
        }
        match again {
            Again::Said => {}
            Again::On(row) => self.note("closing", Act::Closed(row), None, marks),
            Again::Whole(row) => {
                self.state.visit.closing.clear();
                self.note("closing", Act::Closed(row), None, marks);
            }
        }
        true
    }

    /// How many words of a phrase are none of a row.
    fn more_than_a_row(&self, marks: &[Mark], from_nest: bool) -> usize {
        // "from the nest the empty comb first, then a cut one"
        let from_nest = from_nest || self.state.closing;
        // a row begins: "a full one first"
        let in_turn = |m: &Mark| m.concept == C::Ord && from_nest && m.value < 1.5;
        // "from the nest out this way"
        let direction = |m: &Mark| {
            matches!(m.concept, C::This | C::Other) && from_nest && self.word(m.to - 1) == "way"
        };
        // "then the other cut bar"
        let another = |i: usize| {
            let one = marks.get(i + 1).filter(|n| n.from == marks[i].to);
            (self.said(&marks[i], "other") || self.said(&marks[i], "another"))
                && one.is_some_and(|n| {
                    matches!(
                        n.concept,
                        C::Cut | C::FillFull | C::Empty | C::NoComb | C::EmptyBar
                    )
                })
        };
        // "from the nest brood brood full cut"
        let drawn = |m: &Mark| from_nest && self.brood_in_the_row(m);
        // "then empty where I took the one"
        let where_one_was = |m: &Mark| {
            m.concept == C::Take
                && (m.from.saturating_sub(3)..m.to).any(|i| self.word(i) == "where")
        };
        (0..marks.len())
            .filter(|&i| !where_one_was(&marks[i]))
            .filter(|&i| matters(marks[i].concept) && !in_turn(&marks[i]) && !another(i))
            .filter(|&i| !drawn(&marks[i]) && !direction(&marks[i]))
            .filter(|&i| !self.named_in_the_row(marks, i))
            .count()
    }

    /// "then the new one, what's that count as": the answer comes after.
    fn asks_what_counts(&self) -> bool {
        let counts = |w: &[crate::token::Token<'_>]| {
            matches!(&*w[0].text, "count" | "counts") && w[1].is("as")
        };
        self.tokens.iter().any(|t| t.is("what")) && self.tokens.windows(2).any(counts)
    }

    /// "then I move the second one up so full", "the short one, call that empty": the row alone.
    fn row_meant<'m>(&self, marks: &'m [Mark]) -> Option<&'m [Mark]> {
        if !self.state.closing {
            return None;
        }
        if let Some(at) = self
            .counts_as(marks)
            .or_else(|| self.counted_at_last(marks))
        {
            return Some(&marks[at..]);
        }
        let but = marks
            .iter()
            .rposition(|m| matches!(m.concept, C::But | C::Total))?;
        let row = &marks[but + 1..];
        let only = !row.is_empty()
            && self.word(marks[but].from) == "so"
            && row
                .iter()
                .all(|m| !matters(m.concept) && m.concept != C::Word);
        only.then_some(row)
    }

    /// "closing up", a pause, "full": nothing but combs of the row, when the last comb is settled.
    fn begins_the_row(&self, marks: &[Mark]) -> bool {
        let of_a_row = |m: &Mark| {
            matches!(
                m.concept,
                C::FillFull
                    | C::Cut
                    | C::Empty
                    | C::EmptyBar
                    | C::Num
                    | C::Comb
                    | C::And
                    | C::Then
                    | C::Stop
            )
        };
        self.state.shut_before
            && marks.iter().all(of_a_row)
            && self.comb().is_some_and(|c| c.decision.is_some())
    }

    /// A brood comb is a drawn comb; "the brood" is where the row begins.
    fn brood_in_the_row(&self, m: &Mark) -> bool {
        matches!(m.concept, C::Brood | C::SealedBrood)
            && !matches!(
                self.word(m.from.wrapping_sub(1)),
                "the" | "to" | "from" | "of" | "by"
            )
    }

    pub(crate) fn takes_back_the_last_row(&mut self) {
        let last = self.state.last_acts.iter();
        let said = last.filter_map(|(_, act)| match act {
            Act::Closed(row) => Some(row.len()),
            _ => None,
        });
        let left = self.state.visit.closing.len().saturating_sub(said.sum());
        self.state.visit.closing.truncate(left);
    }

    fn row(&self, marks: &[Mark]) -> Vec<Closing> {
        let mut row = Vec::new();
        let mut count = 1;
        let mut names = 0;
        for (at, m) in marks.iter().enumerate() {
            // "then the follower and we're done", "I've just done another"
            let over = m.concept == C::Capped
                && matches!(self.word(m.from), "done" | "finished")
                && (m.to == self.tokens.len() || matches!(self.word(m.to), "another" | "one"));
            // "seven five four yes full full full": the bars that are meant
            let other = |n: &Mark| n.concept == C::Num && (n.value - m.value).abs() > 0.1;
            let listed = m.concept == C::Num
                && (at > 0 && other(&marks[at - 1]) || marks.get(at + 1).is_some_and(other));
            // "after the empty one empty": what it is, and what it counts as
            let twice = m.concept == C::EmptyBar
                && self.word(m.to - 1) == "one"
                && marks
                    .get(at + 1)
                    .is_some_and(|n| n.concept == C::Empty && n.from == m.to);
            // "the empty one where I cut": one comb
            let where_cut = m.concept == C::Cut
                && matches!(self.word(m.from.wrapping_sub(1)), "i" | "we")
                && self.word(m.from.wrapping_sub(2)) == "where";
            let one = match m.concept {
                _ if over || twice || where_cut => continue,
                C::FillFull | C::Capped | C::Honey => Closing::Full,
                C::Brood | C::SealedBrood if self.brood_in_the_row(m) => Closing::Full,
                C::Cut => Closing::Cut,
                C::Take if self.is_cut(m) && names > 0 => Closing::Cut,
                C::Empty | C::EmptyBar | C::NoComb => Closing::Empty,
                C::Shim => Closing::Shim,
                C::Follower => Closing::Follower,
                C::Word if self.word(m.from) == "drawn" => Closing::Full,
                C::Word if matches!(self.word(m.from), "gap" | "vacancy") => Closing::Empty,
                C::Num if self.bar_in_the_row(marks, at) => {
                    names += 1;
                    continue;
                }
                C::Num if listed => continue,
                C::Num if m.value >= 1.0 && m.value <= 12.0 => {
                    count = m.value as usize;
                    continue;
                }
                C::Comb | C::Bar | C::Share => continue,
                C::Ord if self.named_in_the_row(marks, at) => {
                    names += 1;
                    continue;
                }
                _ => {
                    if m.concept != C::Word {
                        count = 1;
                    }
                    continue;
                }
            };
            if names > 0 {
                count = Self::of_names(marks, at, names);
                names = 0;
            }
            row.extend(std::iter::repeat_n(one, count));
            count = 1;
        }
        // "full full cut and the door": what a row ends in and is no comb is the board
        let boarded = row.last() == Some(&Closing::Follower);
        let door = marks.last().is_some_and(|m| {
            matches!(m.concept, C::End | C::Wall | C::Word)
                && [
                    "bored",
                    "door",
                    "wall",
                    "plank",
                    "wood",
                    "panel",
                    "partition",
                    "gate",
                    "screen",
                    "slab",
                    "lid",
                    "piece",
                ]
                .iter()
                .any(|w| self.said(m, w))
        });
        let plank = self
            .tokens
            .last()
            .is_some_and(|t| matches!(&*t.text, "plank" | "panel" | "partition" | "divider"));
        let door = door || plank;
        if door && !boarded && row.len() >= 2 {
            row.push(Closing::Follower);
        }
        row
    }
}

/// "full full empty, no, full full full and the board": from where the row is said again.
fn from_the_last_start(marks: &[Mark]) -> &[Mark] {
    let comb = |m: &&Mark| {
        matches!(
            m.concept,
            C::FillFull | C::Cut | C::Empty | C::EmptyBar | C::Shim | C::Follower
        )
    };
    let Some(no) = marks.iter().rposition(|m| m.concept == C::Not) else {
        return marks;
    };
    let so = marks[no..]
        .iter()
        .rposition(|m| m.concept == C::But)
        .unwrap_or(0);
    let again = &marks[no + so..];
    let both = marks[..no].iter().filter(comb).count() > 1 && again.iter().filter(comb).count() > 1;
    if both { again } else { marks }
}

/// Words that an order of closing has no use for.
fn matters(concept: C) -> bool {
    matches!(
        concept,
        C::Ord
            | C::Next
            | C::Brood
            | C::Pollen
            | C::Eggs
            | C::This
            | C::Other
            | C::Both
            | C::Kg
            | C::Pound
            | C::Take
            | C::Unripe
            | C::NewComb
            | C::AttachedYes
            | C::Uncapped
            | C::SealedBrood
            | C::Feed
    )
}
