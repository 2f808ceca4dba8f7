//! Weights added up aloud: "two and one point eight, three point eight", "subtotal one nine, one seven,
//! two two is five point eight". They are of several combs, and of none.

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::measures::weight_unit;

impl Ear<'_> {
    /// Whether the phrase adds weights up that were told; what follows as numbers alone goes on with it.
    pub(crate) fn adds_weights_up(&mut self, marks: &[Mark]) -> bool {
        let combs = &self.state.visit.combs;
        let weighed = combs.iter().filter(|c| c.kg.is_some()).count();
        let numbers = marks.iter().filter(|m| m.concept == C::Num).count();
        if weighed < 2 && !self.more_than_one_weighs(marks) && !self.weighed_together(marks)
            || numbers == 0
            || self.state.washing
            || self.state.closing
        {
            return false;
        }
        if self.comes_to_the_sum(marks) || self.weighed_together(marks) {
            return true;
        }
        // "what's that come to, five point four", a pause, "five point four kilos, that'll do us"
        let first = marks.iter().find(|m| m.concept == C::Num);
        if self.state.summing
            && first.map(|m| m.value) == self.state.sum
            && !marks.iter().any(|m| matches!(m.concept, C::Bar | C::Ord))
        {
            return true;
        }
        let little = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::Num
                    | C::And
                    | C::Then
                    | C::Stop
                    | C::But
                    | C::Total
                    | C::That
                    | C::Word
                    | C::Weigh
            ) || weight_unit(m.concept).is_some()
        });
        let named = marks
            .iter()
            .any(|m| m.concept == C::Word && m.to > m.from + 2);
        let sum = self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "plus" | "subtotal" | "sum" | "adding" | "makes" | "total"
            )
        }) || self
            .tokens
            .windows(2)
            .any(|w| matches!(&*w[0].text, "come" | "comes") && w[1].is("to"));
        // "was it sixteen was two point two": which bar weighed what
        let bars = marks
            .iter()
            .filter(|m| self.word(m.from.wrapping_sub(1)) != "point")
            .filter_map(crate::opening::whole)
            .any(|n| n > 6 && self.bar_index(n).is_some());
        let total = self.tokens.first().is_some_and(|t| t.is("total"));
        let weight_in_hand = total
            || self
                .comb()
                .is_some_and(|c| c.kg.is_some() || c.decision.is_some());
        let tenths = marks
            .iter()
            .any(|m| m.concept == C::Num && m.value.fract() > 0.0);
        let goes_on = self.state.summing && marks.iter().all(|m| m.concept == C::Num);
        let adds =
            tenths && !bars && (numbers > 2 || numbers > 1 && sum || sum && self.of_all_of_them())
                || goes_on;
        if !little || named || !weight_in_hand || !adds {
            return false;
        }
        self.state.summing = true;
        let last = marks.iter().rev().find(|m| m.concept == C::Num);
        self.state.sum = last.map(|m| m.value);
        true
    }

    /// "on the scale they're three eight together": no weight of one comb.
    fn weighed_together(&self, marks: &[Mark]) -> bool {
        let any = |words: &[&str]| self.tokens.iter().any(|t| words.contains(&&*t.text));
        let weighs = marks
            .iter()
            .any(|m| m.concept == C::Weigh || weight_unit(m.concept).is_some());
        weighs
            && any(&["together", "altogether"])
            && any(&["they", "both", "two", "them", "three"])
            && !any(&["stuck", "joined", "each"])
            && self.state.visit.taken() > 1
    }

    /// "so that's nine and a half kilos", when the combs that were weighed come to as much.
    fn comes_to_the_sum(&self, marks: &[Mark]) -> bool {
        /// How far a sum done in the head may be off. Common practice, no source.
        const OFF: f64 = 0.15;
        let told: Vec<f64> = self.state.visit.combs.iter().filter_map(|c| c.kg).collect();
        let sum: f64 = told.iter().sum();
        let Some(at) = marks.iter().position(|m| m.concept == C::Num) else {
            return false;
        };
        let unit = marks.get(at + 1).and_then(|u| weight_unit(u.concept));
        let that = marks[..at].iter().all(|m| {
            matches!(
                m.concept,
                C::But | C::That | C::Total | C::And | C::Word | C::Stop | C::Weigh
            )
        }) && (0..marks[at].from).any(|i| {
            matches!(
                self.word(i),
                "that" | "so" | "makes" | "altogether" | "together"
            )
        });
        let weighed = self.comb().is_some_and(|c| c.kg.is_some());
        told.len() > 2
            && that
            && weighed
            && unit.is_some_and(|unit| (marks[at].value * unit - sum).abs() <= OFF * sum)
    }

    /// "what's that come to, five point four", when only one of two was told: no comb weighs as much.
    fn more_than_one_weighs(&self, marks: &[Mark]) -> bool {
        /// Kilograms. A heavier single comb is told as such. Common practice, no source.
        const HEAVY: f64 = 4.0;
        let told: f64 = self.state.visit.combs.iter().filter_map(|c| c.kg).sum();
        let unit = self.last_weight_unit();
        let asked = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "what" | "total"));
        let all = marks.iter().find(|m| m.concept == C::Num);
        asked
            && told > 0.0
            && self.state.visit.taken() > 1
            && all.is_some_and(|m| m.value * unit > told.max(HEAVY))
    }

    /// "what's that come to, five point four".
    fn of_all_of_them(&self) -> bool {
        self.tokens.iter().any(|t| t.is("what")) || self.tokens.iter().any(|t| t.is("total"))
    }
}
