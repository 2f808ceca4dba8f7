//! A keeper who says first what becomes of a comb and then what it is: "leaving this one", "it's
//! brood"; "taking the next", "all capped".

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::describes;

impl Ear<'_> {
    /// "taking this one as well": a verdict on the comb that is lifted now, and nothing else.
    pub(crate) fn verdict_on_this(&self, marks: &[Mark]) -> bool {
        let this =
            (1..self.tokens.len()).any(|i| self.word(i) == "one" && self.word(i - 1) == "this");
        this && self.tokens.len() <= 6
            && marks
                .iter()
                .any(|m| matches!(m.concept, C::Take | C::Leave))
            && !marks
                .iter()
                .any(|m| describes(m.concept) && !m.concept.is_verdict())
    }

    /// "leaving the next", where verdicts are said first.
    pub(crate) fn verdict_ahead(&self, marks: &[Mark], at: usize) -> bool {
        self.state.verdict_first
            && at > 0
            && matches!(marks[at - 1].concept, C::Take | C::Leave)
            && marks[at].from <= marks[at - 1].to + 1
    }
}
