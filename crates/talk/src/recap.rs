//! Counts said again: "so that's two out and three staying".

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

const AFTER: [&str; 24] = [
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
    /// Whether the phrase counts combs that were spoken of before.
    #[expect(clippy::too_many_lines, reason = "lists of concepts, one a condition")]
    pub(crate) fn is_recap(&self, marks: &[Mark]) -> bool {
        if self.state.visit.combs.is_empty() {
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
                    | C::Feed
                    | C::Syrup
                    | C::Degrees
            )
        });
        let weighed = marks.iter().any(|m| m.concept == C::Comb)
            && marks.iter().any(|m| m.concept == C::Total);
        let only_weight = weighed
            && !marks
                .iter()
                .any(|m| matches!(m.concept, C::Bar | C::Number | C::Ord | C::Next));
        if only_weight {
            return true;
        }
        if named {
            return false;
        }
        let Some(at) = marks
            .iter()
            .position(|m| m.concept == C::Num && m.value.fract() == 0.0 && m.value < 30.0)
        else {
            return false;
        };
        let m = marks[at];
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
        ) {
            after += 1;
        }
        let took = at > 0
            && marks[at - 1].concept == C::Take
            && self.comb().is_some_and(|c| c.decision.is_some());
        let place = took
            || AFTER.contains(&self.word(after))
            || marks
                .get(at + 1)
                .is_some_and(|n| matches!(n.concept, C::Take | C::Leave | C::Aside));
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
            ) || m.concept == C::Word && self.said(m, "from")
        });
        let decided = self.comb().is_some_and(|c| c.decision.is_some());
        start && (m.value >= 2.0 || so || decided && at == 0)
    }
}
