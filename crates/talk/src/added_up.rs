//! Stores added up: "a half and three quarters makes one frame", "nine and a half kilos in all". Said of
//! several combs, and of none.

use crate::act::Decision;
use crate::concept::Concept as C;
use crate::ear::{Ear, State};
use crate::mark::Mark;
use crate::token::Token;
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

    /// "four and a half and I wanted five": combs of stores, against what the winter asks for.
    pub(crate) fn against_what_was_wanted(&self, marks: &[Mark]) -> bool {
        let numbers: Vec<&Mark> = marks.iter().filter(|m| m.concept == C::Num).collect();
        let little = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::Num | C::And | C::But | C::Word | C::Stop | C::That | C::Total
            )
        });
        let [told, wanted] = numbers.as_slice() else {
            return false;
        };
        let wish = (told.to..wanted.from).any(|i| {
            matches!(
                self.word(i),
                "wanted" | "want" | "need" | "needed" | "hoped"
            ) && matches!(self.word(i.wrapping_sub(1)), "i" | "we" | "they")
        });
        little && wish
    }

    /// "that's two taken, three kilos eight": how many were taken, and what they weigh.
    pub(crate) fn taken_and_their_weight(&self, marks: &[Mark]) -> bool {
        let first = marks
            .iter()
            .position(|m| !matches!(m.concept, C::That | C::Total | C::But | C::Here | C::Stop));
        let counted = first.is_some_and(|at| {
            let n = &marks[at];
            let verb = marks.get(at + 1).is_some_and(|m| {
                m.concept == C::Take
                    && m.to == m.from + 1
                    && matches!(
                        self.word(m.from),
                        "taken" | "pulled" | "out" | "cut" | "gone" | "off" | "harvested"
                    )
            });
            n.concept == C::Num
                && n.value as usize == self.state.visit.taken()
                && n.value > 1.5
                && verb
        });
        let kilos = marks
            .iter()
            .any(|m| matches!(m.concept, C::Kg | C::Pound | C::Stone));
        counted && kilos && self.comb().is_some_and(|c| c.decision.is_some())
    }

    /// "how many have I now", a pause, "honey one, pollen one, and brood two": the kinds of combs that
    /// were carried away.
    pub(crate) fn kinds_added_up(&self, marks: &[Mark]) -> bool {
        let held = |m: &Mark| m.concept.is_held() || matches!(m.concept, C::Empty | C::NewComb);
        let only = marks.iter().all(|m| {
            held(m)
                || matches!(
                    m.concept,
                    C::Num | C::And | C::Then | C::Stop | C::But | C::Comb | C::Total
                )
        });
        self.state.counts_kinds
            && only
            && marks.iter().any(held)
            && self.comb().is_some_and(|c| c.decision.is_some())
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

impl State {
    /// "so how many have I", "the small box has four combs": what comes next may be their kinds.
    pub(crate) fn hears_a_count(&mut self, tokens: &[Token<'_>]) {
        let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
        let how_many = (0..tokens.len()).any(|i| {
            word(i) == "how"
                && word(i + 1) == "many"
                && tokens.iter().any(|t| matches!(&*t.text, "i" | "we"))
        });
        let combs = |i: usize| matches!(word(i), "combs" | "bars");
        let in_a_box = (1..tokens.len())
            .any(|i| combs(i) && crate::numbers::is_number_word(word(i - 1)))
            && tokens
                .iter()
                .any(|t| matches!(&*t.text, "box" | "nuc" | "crate" | "carrier"));
        self.counts_kinds |= how_many || in_a_box;
    }
}
