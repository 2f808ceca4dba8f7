//! Queen cells told once more: by a helper who writes them down, or one by one, "and another round the
//! back".

use crate::act::Act;
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;

impl Ear<'_> {
    /// Cells counted on the comb in hand.
    pub(crate) fn cells_here(&self) -> u32 {
        let all = self.state.visit.queen_cells.unwrap_or(0);
        all.saturating_sub(self.state.cells_before)
    }

    /// "queen cell on the edge", a pause, "and another one round the back": a cell more, and no comb.
    pub(crate) fn another_cell(&self, marks: &[Mark]) -> Option<Mark> {
        let counted = |(_, act): &(Option<usize>, Act)| matches!(act, Act::QueenCells(n) if *n > 0);
        let another = *marks
            .iter()
            .find(|m| m.concept == C::Next && (self.said(m, "another") || self.said(m, "more")))?;
        let comb = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "comb" | "bar" | "next" | "mite" | "litre"));
        let told = marks.iter().any(|m| {
            m.concept.is_held()
                || m.concept.is_verdict()
                || m.concept == C::Share && self.word(m.from.wrapping_sub(1)) != "in"
                || matches!(
                    m.concept,
                    C::Capped | C::Comb | C::QueenCell | C::Cells | C::Cups
                )
        });
        let after = self.state.fact == Fact::QueenCells && self.state.last_acts.iter().any(counted);
        (after && !comb && !told).then_some(another)
    }

    /// "that's five", of cells just added up: no bar.
    pub(crate) fn adds_up_cells(&self, m: &Mark) -> bool {
        let sums = matches!(
            self.word(m.from.wrapping_sub(1)),
            "'s" | "so" | "makes" | "is"
        );
        let told = self
            .acts
            .iter()
            .any(|n| matches!(n.act, Act::QueenCells(n) if f64::from(n) >= m.value));
        sums && told && self.cells_spoken_of()
    }

    /// Cells were told last, or with the bar that was called last.
    pub(crate) fn cells_spoken_of(&self) -> bool {
        let told = |(_, act): &(Option<usize>, Act)| matches!(act, Act::QueenCells(n) if *n > 0);
        match self.state.fact {
            Fact::QueenCells => true,
            Fact::Bar => self.state.last_acts.iter().any(told),
            _ => false,
        }
    }
}
