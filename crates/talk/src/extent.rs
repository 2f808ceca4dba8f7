//! How far down a comb is built, told by words that elsewhere tell how far it is capped.

use crate::act::{Act, Fill};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

impl Ear<'_> {
    /// "goes right down to the bottom", "built two thirds", with no word of capping.
    pub(crate) fn extent(&mut self, marks: &[Mark]) {
        let capped = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Capped
                    | C::Uncapped
                    | C::Brood
                    | C::SealedBrood
                    | C::Drone
                    | C::Pollen
                    | C::Unripe
            )
        });
        // "all capped, and it goes right down to the floor": another clause than the caps
        let clause = |i: usize| {
            let from = marks[..i].iter().rposition(|m| m.concept == C::Stop);
            let caps = |m: &Mark| {
                matches!(m.concept, C::Capped | C::Uncapped | C::Share) || m.concept.is_held()
            };
            from.is_some_and(|from| !marks[from..i].iter().any(caps))
                && marks.get(i + 1).is_none_or(|m| m.concept == C::Stop)
        };
        if capped {
            let floor = |m: &Mark| m.concept == C::Extent && self.said(m, "floor");
            if let Some(i) = (0..marks.len()).find(|&i| floor(&marks[i]) && clause(i)) {
                self.note_hand("fill", &Act::Filled(Fill::Full), &marks[i..=i]);
            }
            return;
        }
        let new = marks
            .iter()
            .any(|m| matches!(m.concept, C::NewComb | C::CombMade))
            || self.comb().is_some_and(|c| {
                c.holds.contains(&crate::act::Hold::NewComb) && c.fill.is_none() && c.this.is_none()
            });
        if let Some(m) = marks.iter().find(|m| self.part_built(m, new)) {
            self.note_hand("fill", &Act::Filled(Fill::Part), &[*m]);
        }
        let down = marks.iter().find(|m| {
            m.concept == C::Extent
                && (self.said(m, "down") || self.said(m, "bottom") || self.said(m, "floor"))
        });
        if let Some(m) = down {
            self.note_hand("fill", &Act::Filled(Fill::Full), &[*m]);
        }
    }

    /// "half down", "nearly to the floor", "built two thirds".
    fn part_built(&self, m: &Mark, new: bool) -> bool {
        let built = m.from > 0 && matches!(self.word(m.from - 1), "built" | "drawn" | "grown");
        let to_floor =
            (m.from..m.to + 5).any(|i| self.word(i) == "floor" || new && self.word(i) == "bottom");
        // "reaches two thirds of the way", "new comb half way"
        let way =
            (m.to.saturating_sub(1)..m.to + 3).any(|i| matches!(self.word(i), "way" | "halfway"));
        let reaches = (m.from.saturating_sub(5)..m.from).any(|i| {
            matches!(
                self.word(i),
                "reaches" | "goes" | "comes" | "gets" | "hangs" | "drawn"
            )
        });
        // "comb down about halfway"
        let down = (m.from.saturating_sub(3)..m.from).any(|i| self.word(i) == "down")
            && (m.from..m.to).any(|i| matches!(self.word(i), "halfway" | "way"));
        let length = new && self.word(m.to) == "length";
        m.concept == C::Share
            && m.value > 0.05
            && (m.value < 0.9
                && (built
                    || down
                    || length
                    || way && (reaches || new)
                    || self.word(m.to) == "down")
                || m.value < 0.95 && to_floor)
    }
}
