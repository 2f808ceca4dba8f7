//! Stores added up: "a half and three quarters makes one frame", "nine and a half kilos in all". Said of
//! several combs, and of none.

use crate::act::Decision;
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::visit::Comb;

/// Whether combs were counted that were taken or stay.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Recap {
    #[default]
    None,
    /// In this phrase.
    Told,
    /// In the phrase before.
    Before,
}

impl Recap {
    /// A phrase later.
    pub(crate) const fn later(self) -> Self {
        match self {
            Self::Told => Self::Before,
            Self::None | Self::Before => Self::None,
        }
    }
}

impl Ear<'_> {
    /// Whether the phrase sums up frames of stores, when the comb in hand is settled.
    pub(crate) fn frames_added_up(&self, marks: &[Mark]) -> bool {
        let frame = |i: &usize| matches!(self.word(*i), "frame" | "frames");
        let Some(at) = (0..self.tokens.len()).find(frame) else {
            return false;
        };
        let sum = marks.iter().any(|m| m.concept == C::Total && m.from < at)
            || marks.iter().any(|m| {
                m.concept == C::Num && m.value > 1.5 && m.to == at && self.word(at) == "frames"
            });
        let named = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Bar | C::Ord | C::Next | C::Capped | C::This | C::Other | C::Both
            )
        });
        sum && !named && self.comb().is_some_and(|c| c.decision.is_some())
    }

    /// "nine point six kilos, if the scale's right", right after the combs were counted that were taken.
    pub(crate) fn weight_of_the_lot(&self, marks: &[Mark]) -> bool {
        let kilos = marks
            .iter()
            .any(|m| matches!(m.concept, C::Kg | C::Pound | C::Stone));
        let named = marks
            .iter()
            .any(|m| matches!(m.concept, C::Bar | C::Ord | C::Next | C::That));
        // "that makes two", a pause, "one point eight kilos": of the comb just taken
        let open = |c: &Comb| c.decision == Some(Decision::Take) && c.kg.is_none();
        self.state.recap == Recap::Before && kilos && !named && !self.comb().is_some_and(open)
    }
}
