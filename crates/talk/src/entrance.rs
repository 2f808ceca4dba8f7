//! The entrance: bars may be counted from it, and where it is says nothing of the end that is opened.

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::{fresh, whole};

impl Ear<'_> {
    /// "sixteen from the entrance": the number of the bar, as this keeper counts them.
    pub(crate) fn entrance_number(&self, marks: &[Mark], at: usize) -> Option<(usize, u32)> {
        let m = &marks[at];
        // "third from the entrance" counts the bars as the number does
        let counted = m.concept == C::Ord && (1.0..=60.0).contains(&m.value);
        let n = if counted { m.value as u32 } else { whole(m)? };
        let mut last = m.to;
        if self.word(last) != "from" {
            return None;
        }
        last += 1;
        if self.word(last) == "the" {
            last += 1;
        }
        let entrance = matches!(self.word(last), "entrance" | "entry" | "door" | "doorway");
        let used = marks[at..].iter().take_while(|w| w.from <= last).count();
        (entrance && fresh(marks, at) && !self.state.washing).then_some((used, n))
    }

    /// "the entrance is on the left", "they wintered against the right": a side of the hive, not the end
    /// that is opened.
    pub(crate) fn where_something_is(&self, m: &Mark) -> bool {
        let mut at = m.from;
        while at > 0
            && matches!(
                self.word(at - 1),
                "the" | "my" | "at" | "on" | "to" | "hand"
            )
        {
            at -= 1;
        }
        let against = matches!(
            self.word(at.wrapping_sub(1)),
            "against" | "toward" | "towards"
        );
        let is = matches!(
            self.word(at.wrapping_sub(1)),
            "is" | "'s" | "faces" | "being"
        );
        let entrance =
            |i: usize| matches!(self.word(i), "entrance" | "entrances" | "door" | "doorway");
        // "the nest's at the left, so we open at the right"
        let nest = |i: usize| {
            matches!(
                self.word(i),
                "nest" | "brood" | "cluster" | "holes" | "hole"
            )
        };
        against || is && at > 1 && (entrance(at - 2) || nest(at - 2))
    }
}
