//! A keeper who says first what becomes of a comb and then what it is: "leaving this one", "it's
//! brood"; "taking the next", "all capped".

use crate::act::{Act, Decision};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::describes;

/// A verdict that was a phrase by itself: what it says, and what was so of the combs in hand.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Lone {
    decision: Decision,
    before: Vec<(usize, Option<Decision>)>,
}

impl Ear<'_> {
    /// "leave", a phrase by itself.
    pub(crate) fn lone_verdict(&mut self, marks: &[Mark]) -> Option<Lone> {
        let [m] = marks else { return None };
        let decision = match m.concept {
            C::Take => Decision::Take,
            C::Leave => Decision::Leave,
            _ => return None,
        };
        if self.state.bare_bar {
            return None;
        }
        let ahead =
            self.state.hand.is_empty() && !self.state.visit.ends.is_empty() && self.here() == 0;
        self.state.verdict_first |= ahead && self.state.visit.combs.is_empty();
        let combs = &self.state.visit.combs;
        let before = self
            .state
            .hand
            .iter()
            .map(|&c| (c, combs[c].decision))
            .collect();
        Some(Lone { decision, before })
    }

    /// "that's the second one": of a keeper who says the verdict first, the lone verdict before was
    /// on the comb that is met now.
    pub(crate) fn belongs_to_the_next(&mut self, due: Option<Lone>, marks: &[Mark]) {
        let met = self
            .acts
            .iter()
            .any(|n| matches!(n.act, Act::CombMet { .. }));
        let decided = self.acts.iter().any(|n| matches!(n.act, Act::Decided(_)));
        let Some(lone) = due.filter(|_| self.state.verdict_first && met && !decided) else {
            return;
        };
        for (comb, old) in lone.before {
            self.note("verdict on the next", Act::Decided(old), Some(comb), marks);
        }
        let hand = self.state.hand.clone();
        self.decide("verdict first", Some(lone.decision), &hand, marks);
    }

    /// "second one yes", "third one yes as well": the verdict beside the name, and what it is comes after.
    pub(crate) fn yes_beside_the_name(&mut self, marks: &[Mark]) {
        let words: Vec<&str> = self.tokens.iter().map(|t| &*t.text).collect();
        let words = match words.as_slice() {
            [name @ .., "as", "well"] | [name @ .., "too" | "again" | "also"] => name,
            all => all,
        };
        let decision = match words {
            [_, .., "yes" | "yep" | "yeah"] => Decision::Take,
            [_, .., "no" | "nope"] => Decision::Leave,
            _ => return,
        };
        let counted = marks.iter().any(|m| m.concept == C::Ord);
        let name = |m: &Mark| {
            matches!(
                m.concept,
                C::Ord | C::Comb | C::Bar | C::Number | C::Num | C::Not | C::Then | C::And
            )
        };
        let met = self
            .acts
            .iter()
            .any(|n| matches!(n.act, Act::CombMet { .. }));
        let sure = counted || self.state.verdict_first;
        if met && sure && marks.iter().all(name) && self.comb().is_some_and(|c| !c.described()) {
            self.state.verdict_first = true;
            let hand = self.state.hand.clone();
            self.decide("verdict first", Some(decision), &hand, marks);
        }
    }

    /// "taking this one as well": a verdict on the comb that is lifted now, and nothing else.
    pub(crate) fn verdict_on_this(&self, marks: &[Mark]) -> bool {
        let at =
            (1..self.tokens.len()).find(|&i| self.word(i) == "one" && self.word(i - 1) == "this");
        // "leave this one, it's only a third capped": the verdict begins the phrase
        let begins = marks
            .first()
            .is_some_and(|m| m.concept.is_verdict() && m.from <= 1)
            && at.is_some_and(|i| i <= 4)
            && marks
                .iter()
                .any(|m| describes(m.concept) && !m.concept.is_verdict());
        if begins {
            return true;
        }
        // "leave this", where the verdict is said first
        let this = self.state.verdict_first
            && self.tokens.len() <= 3
            && self.tokens.last().is_some_and(|t| t.is("this"));
        (at.is_some() || this)
            && self.tokens.len() <= 6
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
