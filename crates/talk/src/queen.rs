//! The queen, and queen cells.

use crate::act::Act;
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;

impl Ear<'_> {
    /// Hears the queen seen and queen cells counted; gives the marks it did not use.
    pub(crate) fn queen(&mut self, marks: &[Mark]) -> Vec<Mark> {
        self.cells(marks);
        self.seen(marks);
        // "not a cell capped" is of honey
        let stored = marks
            .iter()
            .any(|m| matches!(m.concept, C::Capped | C::Uncapped | C::Honey | C::Share));
        let cells = marks
            .iter()
            .any(|m| m.concept == C::QueenCell || m.concept == C::Cells && !stored);
        let mut kept: Vec<Mark> = Vec::with_capacity(marks.len());
        for (i, m) in marks.iter().enumerate() {
            let count = matches!(m.concept, C::Num | C::Not | C::Capped)
                && cells
                && marks[i + 1..]
                    .iter()
                    .find(|n| !matches!(n.concept, C::Num | C::Capped | C::Word | C::Empty))
                    .is_some_and(|n| matches!(n.concept, C::QueenCell | C::Cups | C::Cells));
            let own = matches!(
                m.concept,
                C::QueenCell | C::Cups | C::Queen | C::She | C::NotSeen | C::Cells
            ) || m.concept == C::See && !self.said(m, "here");
            let of_cups = matches!(m.concept, C::Empty)
                && marks.iter().any(|n| {
                    matches!(n.concept, C::Cups | C::QueenCell)
                        && n.to + 5 >= m.from
                        && m.to + 3 >= n.from
                });
            let cell = m.concept == C::Ord
                && marks[i + 1..]
                    .iter()
                    .take(2)
                    .any(|n| matches!(n.concept, C::Cups | C::QueenCell));
            if cell {
                continue;
            }
            if own {
                kept.push(Mark {
                    concept: C::Stop,
                    ..*m
                });
            } else if !count && !of_cups {
                kept.push(*m);
            }
        }
        kept
    }

    fn seen(&mut self, marks: &[Mark]) {
        if marks.iter().any(|m| matches!(m.concept, C::NotSeen)) {
            return;
        }
        if let Some(m) = marks.iter().find(|m| m.concept == C::She) {
            self.note("queen seen", Act::QueenSeen, None, &[*m]);
            return;
        }
        let Some(at) = marks.iter().position(|m| m.concept == C::Queen) else {
            return;
        };
        let clause_from = marks[..at]
            .iter()
            .rposition(|m| m.concept == C::Stop)
            .map_or(0, |i| i + 1);
        let clause_to = marks[at..]
            .iter()
            .position(|m| m.concept == C::Stop)
            .map_or(marks.len(), |i| at + i);
        let clause = &marks[clause_from..clause_to];
        let no = clause
            .iter()
            .any(|m| m.concept == C::Not || m.concept == C::Share && m.value < 0.01);
        let seen = clause.iter().any(|m| m.concept == C::See)
            || (marks[at].to..marks[at].to + 2)
                .any(|i| matches!(self.word(i), "is" | "'s" | "on" | "here"))
            || clause.len() == 1;
        if seen && !no {
            self.note("queen seen", Act::QueenSeen, None, &[marks[at]]);
        }
    }

    #[expect(
        clippy::too_many_lines,
        reason = "the ways of counting cells, one after another"
    )]
    fn cells(&mut self, marks: &[Mark]) {
        let plain = |i: usize| {
            let m = &marks[i];
            let counted = i > 0 && marks[i - 1].concept == C::Num && marks[i - 1].value < 30.0
                || m.from > 0
                    && matches!(self.word(m.from - 1), "a" | "another")
                    && !matches!(self.word(m.to), "of" | "or" | "in" | "to");
            let stored = marks.iter().any(|n| {
                matches!(
                    n.concept,
                    C::Capped | C::Uncapped | C::Eggs | C::Honey | C::Share | C::Pollen
                )
            });
            m.concept == C::Cells && counted && !stored
        };
        let counting = marks
            .iter()
            .position(|m| m.concept == C::Cells)
            .filter(|&i| {
                marks[i + 1..]
                    .iter()
                    .take_while(|n| n.concept == C::Num)
                    .count()
                    >= 2
            });
        if let Some(at) = counting {
            let run: Vec<&Mark> = marks[at + 1..]
                .iter()
                .take_while(|n| n.concept == C::Num)
                .collect();
            let n = run.last().map_or(0, |m| m.value as u32);
            self.note(
                "queen cells counted",
                Act::QueenCells(self.state.visit.queen_cells + n),
                None,
                &marks[at..=at + run.len()],
            );
            self.state.fact = Fact::QueenCells;
            return;
        }
        let Some(at) = marks
            .iter()
            .position(|m| m.concept == C::QueenCell)
            .or_else(|| (0..marks.len()).find(|&i| plain(i)))
        else {
            self.cells_total(marks);
            return;
        };
        let clause_from = marks[..at]
            .iter()
            .rposition(|m| m.concept == C::Stop)
            .map_or(0, |i| i + 1);
        let before = &marks[clause_from..at];
        if self.dry(marks, at)
            || before
                .iter()
                .any(|m| m.concept == C::Not || m.concept == C::Share && m.value < 0.01)
        {
            return;
        }
        let number = before
            .iter()
            .rev()
            .find(|m| m.concept == C::Num && m.value.fract() == 0.0 && m.value < 60.0);
        let first = marks[at].from;
        let word_before = |k: usize| first.checked_sub(k).map_or("", |i| self.word(i));
        let count = match number {
            Some(m) if m.to + 3 >= first => m.value as u32,
            _ if (1..=3).any(|k| word_before(k) == "couple") => 2,
            _ if (1..=3).any(|k| matches!(word_before(k), "a" | "another" | "one" | "an")) => 1,
            _ if self.word(marks[at].to.saturating_sub(1)).ends_with("cell") => 1,
            _ => 0,
        };
        let told = |m: &Mark| m.concept == C::Total;
        let all = if marks[..at].iter().any(told)
            && number.is_some()
            && marks[..at]
                .iter()
                .filter(|m| told(m))
                .any(|m| self.said(m, "total") || self.said(m, "altogether") || self.said(m, "all"))
        {
            count
        } else {
            self.state.visit.queen_cells + count
        };
        let total = marks[at..]
            .iter()
            .any(told)
            .then(|| marks[at..].iter().rev().find(|m| m.concept == C::Num))
            .flatten();
        let corrected = marks[at..]
            .windows(2)
            .find(|w| w[0].concept == C::Not && w[1].concept == C::Num && w[0].to == w[1].from);
        let all = match corrected {
            Some(w) => self.state.visit.queen_cells + w[1].value as u32,
            None => total.map_or(all, |m| m.value as u32),
        };
        if count > 0 || total.is_some() {
            self.note(
                "queen cells",
                Act::QueenCells(all),
                None,
                &marks[clause_from..=at],
            );
            self.state.fact = Fact::QueenCells;
        }
    }

    /// "one queen cell but it is empty so it does not count".
    fn dry(&self, marks: &[Mark], at: usize) -> bool {
        let from = marks[at].to;
        let uncounted = (from..self.tokens.len()).any(|i| {
            matches!(self.word(i), "count" | "counting")
                && (from..i).any(|k| matches!(self.word(k), "not" | "n't"))
        });
        uncounted || marks[at..].iter().take(4).any(|m| m.concept == C::Empty)
    }

    /// "so that's five total", after cells were spoken of.
    fn cells_total(&mut self, marks: &[Mark]) {
        if self.state.fact != Fact::QueenCells || self.state.visit.queen_cells == 0 {
            return;
        }
        let total = marks.iter().any(|m| m.concept == C::Total) || self.correcting;
        let number = marks
            .iter()
            .rev()
            .find(|m| m.concept == C::Num && m.value.fract() == 0.0 && m.value < 60.0);
        let only = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::Num
                    | C::Total
                    | C::Stop
                    | C::But
                    | C::That
                    | C::Correct
                    | C::Then
                    | C::Word
                    | C::Filler
                    | C::QueenCell
                    | C::Cups
                    | C::Empty
            )
        });
        if let (true, true, Some(m)) = (total, only, number) {
            self.note(
                "queen cells in all",
                Act::QueenCells(m.value as u32),
                None,
                &[*m],
            );
        }
    }
}
