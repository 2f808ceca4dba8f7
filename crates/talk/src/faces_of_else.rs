//! Words for caps and their share that are said of something else than honey.

use crate::act::{Act, Hold};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

impl Ear<'_> {
    /// "here's brood", a pause, "sealed, both sides": its lids.
    pub(crate) fn sealed_after_brood(&self, marks: &[Mark]) -> bool {
        let brood = |h: Hold| matches!(h, Hold::WorkerBrood | Hold::DroneBrood);
        let mut last = self.state.last_acts.iter().rev();
        let told = last.find_map(|(_, act)| match act {
            Act::Holds(hold) => Some(*hold),
            _ => None,
        });
        let alone = self.comb().is_some_and(|c| {
            c.this.is_none()
                && c.other.is_none()
                && c.decision.is_none()
                && !c
                    .holds
                    .iter()
                    .any(|h| matches!(h, Hold::Honey | Hold::Unripe))
        });
        let lids = marks.iter().any(|m| m.concept == C::Capped);
        // a share, a face or honey is told of what is stored
        let little = marks.iter().all(|m| {
            m.concept.is_brood()
                || matches!(
                    m.concept,
                    C::Capped
                        | C::Both
                        | C::Word
                        | C::Stop
                        | C::That
                        | C::And
                        | C::Eggs
                        | C::End
                        | C::Here
                )
        });
        told.is_some_and(brood) && alone && lids && little
    }

    /// "no queen", a pause, "none here"; a bit of leg among the mites.
    pub(crate) fn none_of_what_is_sought(&self, marks: &[Mark]) -> bool {
        let of_caps = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Capped
                    | C::Uncapped
                    | C::WhiteCap
                    | C::Both
                    | C::This
                    | C::Other
                    | C::Honey
                    | C::Unripe
            )
        });
        let none = marks
            .iter()
            .any(|m| m.concept == C::Not || m.concept == C::Share && m.value < 0.01);
        let here = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "here" | "on"));
        let queen = self.state.hunting && none && here && !self.state.visit.queen_seen;
        let capped = |(_, act): &(Option<usize>, Act)| matches!(act, Act::Capped(..));
        let just = self.state.last_acts.iter().any(capped);
        // "queen cells none"
        let cells = marks
            .iter()
            .any(|m| matches!(m.concept, C::QueenCell | C::Cells | C::Cups));
        !of_caps && !just && (queen || self.state.washing) || !of_caps && none && cells
    }
}
