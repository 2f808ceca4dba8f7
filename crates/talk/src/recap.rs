//! Counts said again: "so that's two out and three staying".

use crate::act::Decision;
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;
use crate::opening::whole;

const AFTER: [&str; 53] = [
    "looked",
    "checked",
    "done",
    "hanging",
    "remaining",
    "pulled",
    "removed",
    "kept",
    "robbed",
    "harvest",
    "only",
    "gone",
    "across",
    "over",
    "hung",
    "stayed",
    "remain",
    "bide",
    "bided",
    "untouched",
    "carried",
    "then",
    "today",
    "cropped",
    "carry",
    "carried",
    "take",
    "took",
    "bring",
    "out",
    "down",
    "gone",
    "off",
    "taken",
    "staying",
    "stay",
    "stays",
    "left",
    "away",
    "home",
    "in",
    "on",
    "for",
    "still",
    "put",
    "cut",
    "up",
    "to",
    "jars",
    "harvested",
    "go",
    "going",
    "with",
];

impl Ear<'_> {
    /// "so that's the pair in the pail", where the combs were settled one by one.
    fn pair_told(&self, marks: &[Mark]) -> bool {
        let taken = self.state.visit.taken();
        let so = marks.iter().any(|m| matches!(m.concept, C::Total | C::But));
        let verb = marks
            .iter()
            .any(|m| m.concept == C::Take && m.to == m.from + 1 && !self.any_take_verb(m));
        let pair = marks.iter().any(|m| m.concept == C::BothOf)
            || marks.iter().any(|m| self.said(m, "pair"))
            || self.tokens.iter().any(|t| t.is("pair") || t.is("brace"));
        let settled = self.comb().is_some_and(|c| {
            c.decision.is_some()
                || taken == 2
                    && c.holds.iter().any(|h| {
                        matches!(
                            h,
                            crate::act::Hold::WorkerBrood | crate::act::Hold::DroneBrood
                        )
                    })
        });
        taken >= 2 && so && verb && pair && settled
    }

    /// "so in the little box we've got honey, pollen and brood": of all that went there.
    fn lies_in_the_box(&self, marks: &[Mark]) -> bool {
        let Some(into) = marks.iter().find(|m| m.concept == C::Take) else {
            return false;
        };
        let (have, got) = (self.word(into.to), self.word(into.to + 1));
        let begins = marks
            .iter()
            .take_while(|m| m.from < into.from)
            .all(|m| matches!(m.concept, C::But | C::Then | C::And));
        begins
            && (matches!(have, "we" | "i") && matches!(got, "'ve" | "have")
                || have == "there" && matches!(got, "'s" | "is" | "are"))
    }

    /// "so three combs in the box, second third sixth": as many as were taken, and which.
    fn lists_the_taken(&self, marks: &[Mark]) -> bool {
        let combs = &self.state.visit.combs;
        let taken = self.state.visit.taken();
        let so = marks
            .iter()
            .position(|m| m.concept == C::Num && m.value as usize == taken);
        let Some(at) = so.filter(|_| taken > 1) else {
            return false;
        };
        let box_at = marks.iter().position(|m| m.concept == C::Take);
        let Some(list) = box_at.filter(|&i| i > at).map(|i| &marks[i + 1..]) else {
            return false;
        };
        let comb = |m: &Mark| match m.concept {
            C::Ord => (m.value as usize)
                .checked_sub(1)
                .map(|i| self.state.end_start + i),
            C::Num => whole(m).and_then(|n| self.bar_index(n)),
            _ => None,
        };
        let went = |c: usize| {
            combs
                .get(c)
                .is_some_and(|c| c.decision == Some(Decision::Take))
        };
        let little = |m: &Mark| matches!(m.concept, C::And | C::Then | C::Stop | C::Bar | C::Comb);
        let named: Vec<usize> = list.iter().filter_map(comb).collect();
        named.len() == taken
            && named.into_iter().all(went)
            && list.iter().all(|m| little(m) || comb(m).is_some())
    }

    /// "I took three combs, four five and six": as many as were taken.
    fn took_so_many(&self, marks: &[Mark]) -> bool {
        let taken = self.state.visit.taken();
        let took = |w: &[Mark]| {
            w[0].concept == C::Take
                && ["took", "taken", "cut", "had"]
                    .iter()
                    .any(|v| self.said(&w[0], v))
                && w[1].concept == C::Num
                && w[1].value as usize == taken
                && w[2].concept == C::Comb
        };
        taken > 1 && marks.windows(3).any(took)
    }

    fn any_take_verb(&self, m: &Mark) -> bool {
        ["take", "taking", "cut", "harvest", "pull"]
            .iter()
            .any(|w| self.said(m, w))
    }

    /// "so take one only", "pulled two in all", "I carried three".
    fn counts_before(&self, marks: &[Mark], at: usize) -> bool {
        let decided = self.comb().is_some_and(|c| c.decision.is_some());
        let only = matches!(
            self.word(marks[at].to),
            "only" | "in" | "altogether" | "all" | "today" | "total"
        ) || marks[..at]
            .iter()
            .any(|m| matches!(m.concept, C::But | C::Total));
        let verb = at > 0
            && marks[at - 1].concept == C::Take
            && marks[at - 1].to >= marks[at].from.saturating_sub(1);
        let plain = marks[..at.saturating_sub(1)]
            .iter()
            .all(|m| matches!(m.concept, C::But | C::Total | C::Then | C::Here | C::That));
        decided && verb && only && plain && self.bar_index(marks[at].value as u32).is_none()
    }

    /// Whether the phrase counts combs that were spoken of before.
    #[expect(clippy::too_many_lines, reason = "lists of concepts, one a condition")]
    pub(crate) fn is_recap(&self, marks: &[Mark]) -> bool {
        // "eight then a scrap of pollen": the next bar, and what it holds
        let held = marks
            .iter()
            .any(|m| m.concept.is_held() && (m.concept != C::Honey || self.in_its_place(m)));
        let next = |at: usize| held && whole(&marks[at]).is_some() && self.goes_on_to(marks, at);
        let by_its_number = |at: usize| next(at) || self.counts_on(marks, at).is_some();
        if self.state.visit.combs.is_empty() || (0..marks.len()).any(by_its_number) {
            return false;
        }
        let named = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Bar
                    | C::Number
                    | C::Ord
                    | C::Next
                    | C::Mites
                    | C::QueenCell
                    | C::Capped
                    | C::This
                    | C::Other
                    | C::Both
                    | C::Litre
                    | C::Kg
                    | C::Pound
                    | C::Stone
                    | C::Feed
                    | C::Syrup
                    | C::Degrees
            )
        });
        let has = |c: C| marks.iter().any(|m| m.concept == c);
        if self.lies_in_the_box(marks) || self.lists_the_taken(marks) || self.took_so_many(marks) {
            return true;
        }
        // "comb four, brood, so that's all the honey"
        let numbered = marks
            .windows(2)
            .next()
            .is_some_and(|w| w[0].concept == C::Comb && w[1].concept == C::Num);
        let by_name = has(C::Bar) || has(C::Number) || has(C::Ord) || has(C::Next) || numbered;
        let settled = has(C::Take) || has(C::Leave) || has(C::Aside);
        let cells = self.state.fact == Fact::QueenCells;
        // "so that's one for the bucket", of a comb that is not settled; "so nineteen harvest"
        let of_this = marks
            .iter()
            .any(|m| m.concept == C::Num && self.one_as_pronoun(m))
            && self
                .comb()
                .is_some_and(|c| c.decision.is_none() && c.described());
        let by_number = marks.iter().any(|m| {
            crate::opening::whole(m).is_some_and(|n| {
                n as usize > self.state.visit.combs.len() && self.bar_index(n).is_some()
            })
        });
        if of_this || by_number && marks.len() < 4 {
            return false;
        }
        if has(C::Total) && !by_name && (has(C::Comb) || has(C::Num) && settled && !named && !cells)
        {
            return true;
        }
        // "so two in the crate and both from the right"
        let first = marks.iter().find(|m| {
            !matches!(
                m.concept,
                C::But | C::Total | C::That | C::Settled | C::Here | C::And | C::Close | C::Stop
            )
        });
        let exact = first.is_some_and(|m| {
            m.concept == C::Num
                && m.value as usize == self.state.visit.taken()
                && m.value > 0.5
                && !by_name
        });
        // "two combs taken"
        // "one old comb removed"
        let named_plainly: Vec<&Mark> = marks.iter().filter(|m| m.concept != C::Word).collect();
        let counted = named_plainly.windows(3).any(|w| {
            w[0].concept == C::Num
                && w[1].concept == C::Comb
                && w[2].concept == C::Take
                && w[2].to == w[2].from + 1
                && matches!(
                    self.word(w[2].from),
                    "taken" | "removed" | "out" | "cut" | "pulled" | "harvested" | "gone"
                )
        });
        // "three combs into the bucket"
        let several = marks.windows(3).any(|w| {
            w[0].concept == C::Num
                && w[0].value > 1.5
                && w[1].concept == C::Comb
                && w[2].concept == C::Take
        }) && self.comb().is_some_and(|c| c.decision.is_some())
            // "two combs in the box, seventeen and sixteen": which they are
            && !marks
                .iter()
                .rev()
                .take_while(|m| m.concept != C::Take)
                .any(|m| m.concept == C::Num);
        if (counted || several) && !by_name {
            return true;
        }
        if exact && has(C::Take) && !named_content(marks) {
            return true;
        }
        if self.pair_told(marks) && !named {
            return true;
        }
        if named {
            return false;
        }
        // "now I count honey combs fifteen thirteen twelve is three"
        let counts = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "count" | "counting" | "counted"));
        let numbers = marks.iter().filter(|m| m.concept == C::Num).count();
        if counts && numbers > 1 && !self.state.washing {
            return true;
        }
        let Some(at) = marks
            .iter()
            .position(|m| m.concept == C::Num && m.value.fract() == 0.0 && m.value < 30.0)
        else {
            return false;
        };
        if self.counts_before(marks, at) {
            return true;
        }
        let m = marks[at];
        // "I'll take nine after all": a bar, no count
        let verb = at > 0 && matches!(marks[at - 1].concept, C::Take | C::Leave);
        if verb && m.value > 1.5 && self.bar_index(m.value as u32).is_some() {
            return false;
        }
        // "and five I'm pulling right out", next to the bar before
        if self.beside(&m) && matches!(self.word(m.to), "i" | "we") {
            return false;
        }
        let mut after = m.to;
        while matches!(
            self.word(after),
            "honey"
                | "comb"
                | "combs"
                | "full"
                | "of"
                | "them"
                | "bars"
                | "that"
                | "i"
                | "is"
                | "are"
                | "'s"
                | "good"
                | "ripe"
                | "nice"
                | "capped"
                | "have"
                | "had"
                | "'ve"
        ) {
            after += 1;
        }
        let took = at > 0
            && marks[at - 1].concept == C::Take
            && self.comb().is_some_and(|c| c.decision.is_some());
        // "one from the right and one from the left"
        let from_ends = self.word(m.to) == "from"
            && marks
                .iter()
                .any(|n| matches!(n.concept, C::Left | C::Right | C::End));
        let place = took
            || from_ends
            || AFTER.contains(&self.word(after))
            || marks.get(at + 1).is_some_and(|n| n.concept.is_verdict());
        let one_bar = m.value >= 2.0
            && matches!(
                self.word(m.to),
                "goes" | "stays" | "comes" | "is" | "'s" | "can" | "has" | "was" | "may"
            );
        if !place || one_bar && self.state.visit.combs.iter().any(|c| c.bar.is_some()) {
            return false;
        }
        let so = (0..m.from).any(|i| {
            matches!(
                self.word(i),
                "so" | "total"
                    | "altogether"
                    | "makes"
                    | "have"
                    | "all"
                    | "count"
                    | "in"
                    | "took"
                    | "leaves"
            )
        });
        let start = marks[..at].iter().all(|m| {
            matches!(
                m.concept,
                C::But
                    | C::Total
                    | C::That
                    | C::Then
                    | C::Stop
                    | C::Here
                    | C::Settled
                    | C::Take
                    | C::Leave
                    | C::Left
                    | C::Right
                    | C::And
                    | C::See
                    | C::Rest
            ) || m.concept == C::Word && self.said(m, "from")
                || m.concept == C::Share && self.said(m, "all")
        });
        let decided = self.comb().is_some_and(|c| c.decision.is_some());
        let first = marks[..at]
            .iter()
            .all(|m| matches!(m.concept, C::Settled | C::Here | C::But | C::That | C::Stop));
        // "one comb I have taken", and one was
        let exact = at == 0
            && m.value as usize == self.state.visit.taken()
            && marks.iter().any(|n| n.concept == C::Take);
        start && (m.value >= 2.0 || so || exact || decided && first)
    }
}

/// The phrase tells what a comb holds.
fn named_content(marks: &[Mark]) -> bool {
    marks.iter().any(|m| {
        m.concept.is_held() && m.concept != C::Honey
            || matches!(
                m.concept,
                C::Capped
                    | C::Share
                    | C::This
                    | C::Other
                    | C::Kg
                    | C::Pound
                    | C::QueenCell
                    | C::Mites
                    | C::Syrup
            )
    })
}
