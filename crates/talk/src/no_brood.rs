//! "no brood, capped both sides": the caps are of the honey, though "no" stands before them.

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

impl Ear<'_> {
    /// Parts what there is none of from the caps that are told after it.
    pub(crate) fn part_no_brood(&self, marks: &[Mark]) -> Option<[Vec<Mark>; 2]> {
        let none = |at: usize| at > 0 && marks[at - 1].concept == C::Not;
        let concept = |at: usize| marks.get(at).map(|m| m.concept);
        // "no brood, capped this side"
        let apart = (0..marks.len()).find(|&at| {
            marks[at].concept == C::Brood
                && none(at)
                && concept(at + 1) == Some(C::Stop)
                && concept(at + 2) == Some(C::Capped)
                && matches!(concept(at + 3), Some(C::Both | C::This | C::Other))
        });
        if let Some(at) = apart {
            return Some([marks[..=at].to_vec(), marks[at + 2..].to_vec()]);
        }
        // without a pause "brood capped" is one thing; of a single face it may be meant so
        let at = (0..marks.len()).find(|&at| {
            let m = &marks[at];
            m.concept == C::SealedBrood
                && m.to == m.from + 2
                && self.word(m.from) == "brood"
                && none(at)
                && concept(at + 1) == Some(C::Both)
        })?;
        let whole = marks[at];
        let brood = Mark::of_words(C::Brood, whole.from, whole.from + 1);
        let capped = Mark::of_words(C::Capped, whole.from + 1, whole.to);
        Some([
            [&marks[..at], &[brood]].concat(),
            [&[capped], &marks[at + 1..]].concat(),
        ])
    }
}
