//! A decision on all combs but some: "leave everything except bar nine", "all but the first come out".

use crate::act::{Act, Decision};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

impl Ear<'_> {
    /// Hears it; false if the phrase is not that.
    pub(crate) fn all_except(&mut self, marks: &[Mark]) -> bool {
        let Some(at) = self.except_at() else {
            return false;
        };
        let decision = marks.iter().find_map(|m| match m.concept {
            C::Take => Some(Decision::Take),
            C::Leave => Some(Decision::Leave),
            // "leave the lot except four"
            C::All if self.means_none(m) => Some(Decision::Leave),
            _ => None,
        });
        let spared: Vec<usize> = marks
            .iter()
            .filter(|m| m.from > at)
            .filter_map(|m| self.named_before(m))
            .collect();
        let Some(decision) = decision.filter(|_| !spared.is_empty()) else {
            return false;
        };
        let combs: Vec<usize> = (0..self.state.visit.combs.len())
            .filter(|c| !spared.contains(c))
            .filter(|&c| {
                let taken = self.state.visit.combs[c].decision == Some(Decision::Take);
                decision == Decision::Take || !taken
            })
            .collect();
        self.decide("all but", Some(decision), &combs, marks);
        let other = match decision {
            Decision::Take => Decision::Leave,
            Decision::Leave => Decision::Take,
        };
        for &c in &spared {
            if self.state.visit.combs[c].decision.is_none() {
                self.note("all but this", Act::Decided(Some(other)), Some(c), marks);
            }
        }
        self.state.hand = spared;
        true
    }

    /// The word "except" that follows "all" or "everything".
    pub(crate) fn except_at(&self) -> Option<usize> {
        (1..self.tokens.len()).find(|&i| {
            let cue = matches!(
                self.word(i),
                "except" | "but" | "bar" | "excepting" | "excluding" | "save" | "barring"
            ) || self.word(i) == "from" && self.word(i - 1) == "apart";
            let all = (i.saturating_sub(4)..i).any(|j| {
                matches!(
                    self.word(j),
                    "all" | "everything" | "lot" | "every" | "em" | "them" | "others"
                )
            });
            let whole =
                (0..i).any(|j| matches!(self.word(j), "all" | "everything" | "lot" | "every"));
            cue && all && whole
        })
    }

    /// The comb of a number or an ordinal, if it was met.
    fn named_before(&self, m: &Mark) -> Option<usize> {
        if m.concept == C::Ord {
            let n = m.value as usize;
            return (n >= 1 && n <= self.here()).then(|| self.state.end_start + n - 1);
        }
        self.bar_index(crate::opening::whole(m)?)
    }
}
