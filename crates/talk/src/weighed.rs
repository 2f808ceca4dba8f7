//! Combs weighed when the work is done: "now the weights", "the first was five pounds and the other
//! six", "twenty one comes out at two point six".

use comb::HEAVIEST_COMB_KG;

use crate::act::{Act, Decision, End, Fill};
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;
use crate::measures::weight_unit;
use crate::opening::whole;

/// Kilograms, and the unit that they were said in.
type Weight = (f64, f64);

/// What each weight is said of.
#[derive(Debug, Clone, PartialEq)]
enum Of {
    Combs(Vec<usize>),
    /// The taken comb that was not weighed yet.
    Other,
}

impl Ear<'_> {
    /// Hears weights of combs that are named one by one; true if the phrase is that.
    pub(crate) fn weighed_later(&mut self, marks: &[Mark]) -> bool {
        if self.state.visit.combs.is_empty() || self.state.washing || self.state.closing {
            return false;
        }
        self.announced(marks);
        if marks.iter().any(|m| spoils(m.concept)) {
            return false;
        }
        if self.sum_of_weights(marks) {
            return true;
        }
        if self.of_each(marks) || self.of_the_only_one(marks) || self.of_each_in_turn(marks) {
            return true;
        }
        let Some(told) = self.weights(marks) else {
            return false;
        };
        for (of, (kg, unit), words) in told {
            self.state.weight_unit = unit;
            let combs = match of {
                Of::Combs(combs) => combs,
                Of::Other => self.not_weighed().into_iter().take(1).collect(),
            };
            for comb in combs {
                self.note("weighed later", Act::Weighs(kg), Some(comb), &[words]);
                self.state.weighed.push(comb);
                self.back_to(vec![comb]);
            }
            self.state.fact = Fact::Kg;
        }
        true
    }

    /// "now the weights", "scale's on now", "I hung them on the balance".
    fn announced(&mut self, marks: &[Mark]) {
        let scale = self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "scale" | "scales" | "balance" | "weights" | "weighed" | "weighing" | "weigh"
            )
        });
        let plural = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "weights" | "them" | "em" | "those"));
        let amount = marks.iter().any(|m| weight_unit(m.concept).is_some());
        let decided = self.comb().is_none_or(|c| c.decision.is_some());
        if scale && decided && (!amount || plural) {
            self.state.weighing = true;
        }
    }

    /// "each about four pounds": of all that were taken.
    fn of_each(&mut self, marks: &[Mark]) -> bool {
        let combs = if self.state.hand.len() > 1 {
            self.state.hand.clone()
        } else {
            self.not_weighed()
        };
        let named = marks
            .iter()
            .any(|m| matches!(m.concept, C::Bar | C::Ord | C::Number));
        if !self.each() || named || combs.len() < 2 {
            return false;
        }
        let weight = (0..marks.len()).find_map(|at| {
            let unit = marks.get(at + 1).and_then(|u| weight_unit(u.concept));
            unit.and_then(|_| self.told_weight(marks, at, self.state.weight_unit))
        });
        let Some((_, (kg, unit))) = weight else {
            return false;
        };
        self.state.weight_unit = unit;
        for comb in combs {
            self.note("each weighs", Act::Weighs(kg), Some(comb), marks);
        }
        self.state.fact = Fact::Kg;
        true
    }

    /// "it's on the kitchen scale now three pounds twelve": of the one comb that was taken, where
    /// the comb in hand stays.
    fn of_the_only_one(&mut self, marks: &[Mark]) -> bool {
        let taken = self.taken_combs();
        let [only] = taken.as_slice() else {
            return false;
        };
        let stays = self
            .comb()
            .is_some_and(|c| c.decision == Some(Decision::Leave) && c.kg.is_none());
        let scale = self.state.weighing
            || self.tokens.iter().any(|t| {
                matches!(
                    &*t.text,
                    "scale" | "scales" | "weighed" | "balance" | "weight" | "weighs"
                )
            });
        let named = marks
            .iter()
            .any(|m| matches!(m.concept, C::Bar | C::Ord | C::Number | C::Other));
        let it = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "it" | "that" | "'s"));
        if !stays || !scale || !it || named || self.state.visit.combs[*only].kg.is_some() {
            return false;
        }
        let Some((_, (kg, unit))) = (0..marks.len()).find_map(|at| {
            let unit = marks.get(at + 1).and_then(|u| weight_unit(u.concept));
            unit.and_then(|_| self.told_weight(marks, at, self.state.weight_unit))
        }) else {
            return false;
        };
        self.state.weight_unit = unit;
        self.note("weighed later", Act::Weighs(kg), Some(*only), marks);
        self.back_to(vec![*only]);
        self.state.fact = Fact::Kg;
        true
    }

    /// "they weighed two kilos and two point two": one after the other, in the order taken.
    fn of_each_in_turn(&mut self, marks: &[Mark]) -> bool {
        let many = self.state.weighing
            || self
                .tokens
                .iter()
                .any(|t| matches!(&*t.text, "they" | "weighed" | "them"));
        let named = marks
            .iter()
            .any(|m| matches!(m.concept, C::Bar | C::Ord | C::Number | C::Other));
        let named = named || marks.iter().any(|m| self.of_looks(m));
        let to_weigh = self.not_weighed();
        if !many || named || to_weigh.len() < 2 {
            return false;
        }
        let mut told = Vec::new();
        let mut at = 0;
        let mut sure = false;
        while at < marks.len() {
            if let Some((used, kg)) = self.told_weight(marks, at, self.state.weight_unit) {
                sure |= used > 1 || marks[at].value.fract() != 0.0;
                told.push((kg, marks[at]));
                at += used;
            } else {
                at += 1;
            }
        }
        // "two kilos and a half, two point five": one weight told twice
        let again = told
            .windows(2)
            .any(|pair| (pair[0].0.0 - pair[1].0.0).abs() < 0.005);
        if !sure || again || told.len() != to_weigh.len() {
            return false;
        }
        for (comb, ((kg, unit), words)) in to_weigh.into_iter().zip(told) {
            self.state.weight_unit = unit;
            self.note("weighed in turn", Act::Weighs(kg), Some(comb), &[words]);
            self.state.weighed.push(comb);
        }
        self.state.fact = Fact::Kg;
        true
    }

    /// "fourteen pounds all told": of several combs, said of none.
    fn sum_of_weights(&self, marks: &[Mark]) -> bool {
        let amount = marks.iter().any(|m| {
            weight_unit(m.concept).is_some()
                || !self.state.weighed.is_empty() && m.concept == C::Num && m.value.fract() != 0.0
        });
        let sum = marks.iter().any(|m| m.concept == C::Total)
            || self.tokens.iter().any(|t| {
                matches!(
                    &*t.text,
                    "together" | "altogether" | "between" | "combined" | "total"
                )
            });
        let named = marks
            .iter()
            .any(|m| matches!(m.concept, C::Bar | C::Ord | C::Next));
        // "that's four combs say eight kilos"
        let combs = marks
            .windows(2)
            .any(|w| w[0].concept == C::Num && w[0].value > 1.5 && w[1].concept == C::Comb);
        // "so together this makes around eleven kilos": of all the combs met
        let makes = sum
            && self.state.visit.combs.len() > 1
            && self
                .tokens
                .iter()
                .any(|t| matches!(&*t.text, "makes" | "make"));
        // "that's twenty and a half pounds altogether"
        let all_told = self.state.visit.combs.len() > 1
            && (marks.iter().any(|m| m.concept == C::Total)
                || self.tokens.iter().any(|t| t.is("altogether")))
            && self.comb().is_some_and(|c| c.decision.is_some());
        let several = sum && self.state.visit.taken() > 1;
        amount && !named && !self.each() && (several || makes || all_told || combs)
    }

    /// Each weight with the comb that it is said of; none unless every weight has one.
    fn weights(&self, marks: &[Mark]) -> Option<Vec<(Of, Weight, Mark)>> {
        let mut told = Vec::new();
        let mut of = None;
        let mut at = 0;
        let mut last_unit = self.state.weight_unit;
        while at < marks.len() {
            if let Some((used, found)) = self.weighed_comb(marks, at, of.is_some()) {
                of = Some(found);
                at += used;
                continue;
            }
            if let Some((used, kg)) = self.told_weight(marks, at, last_unit) {
                last_unit = kg.1;
                // "two point three the twenty"
                let after = marks
                    .get(at + used)
                    .filter(|n| of.is_none() && self.word(n.from.wrapping_sub(1)) == "the");
                let named = after
                    .and_then(|n| self.bar_index(whole(n)?))
                    .filter(|&c| self.state.visit.combs[c].decision == Some(Decision::Take));
                if let Some(comb) = named {
                    told.push((Of::Combs(vec![comb]), kg, marks[at]));
                    at += used + 1;
                    continue;
                }
                told.push((of.take()?, kg, marks[at]));
                at += used;
                continue;
            }
            at += 1;
        }
        (!told.is_empty() && of.is_none()).then_some(told)
    }

    /// The comb that a weight is said of: how many marks name it.
    fn weighed_comb(&self, marks: &[Mark], at: usize, named: bool) -> Option<(usize, Of)> {
        let m = marks[at];
        let one = |comb: usize| Of::Combs(vec![comb]);
        match m.concept {
            C::Bar | C::Number => {
                let n = whole(marks.get(at + 1)?)?;
                Some((2, one(self.bar_index(n)?)))
            }
            C::Num if !named => {
                let comb = self.bar_index(whole(&m)?)?;
                let next = marks[at + 1..]
                    .iter()
                    .find(|n| !matches!(n.concept, C::Weigh | C::Word | C::Same | C::That))?;
                let weight = matches!(next.concept, C::Num | C::Share)
                    && (self.state.weighing
                        || next.value.fract() != 0.0
                        || marks.iter().any(|n| weight_unit(n.concept).is_some()));
                weight.then(|| (1, one(comb)))
            }
            C::Ord if !self.part_of_number(&m) => {
                let comb = self.counted_taken(m.value as usize)?;
                let noun = marks.get(at + 1).is_some_and(|n| {
                    n.concept == C::Comb || self.word(n.from) == "one" && n.to == n.from + 1
                });
                Some((1 + usize::from(noun), one(comb)))
            }
            C::Other if self.said(&m, "other") && !self.said(&m, "side") => {
                let noun = marks.get(at + 1).is_some_and(|n| {
                    n.concept == C::Comb || self.word(n.from) == "one" && n.to == n.from + 1
                });
                (!self.not_weighed().is_empty()).then_some((1 + usize::from(noun), Of::Other))
            }
            C::That | C::Comb | C::Num | C::AsideRef if !named && self.by_place(&m) => {
                let taken = self.taken_combs();
                (taken.len() == 1).then(|| (1, one(taken[0])))
            }
            C::Left | C::Right | C::FillFull | C::FillLight if !named && self.of_looks(&m) => {
                let noun = marks.get(at + 1).is_some_and(|n| {
                    self.word(n.from) == "one"
                        && n.to == n.from + 1
                        && marks
                            .get(at + 2)
                            .is_none_or(|u| weight_unit(u.concept).is_none())
                });
                Some((1 + usize::from(noun), one(self.taken_by_look(&m)?)))
            }
            C::Both | C::BothOf if self.each() => {
                let pair = self.last_pair()?;
                Some((1, Of::Combs(pair)))
            }
            _ => None,
        }
    }

    /// "the left one", "the full one".
    fn of_looks(&self, m: &Mark) -> bool {
        self.word(m.from.wrapping_sub(1)) == "the"
            && (self.word(m.to) == "one" || self.word(m.to - 1) == "one")
    }

    /// The one comb taken from that end, or of that fill.
    fn taken_by_look(&self, m: &Mark) -> Option<usize> {
        let fits = |c: &usize| {
            let comb = &self.state.visit.combs[*c];
            let end = self.state.visit.ends.get(comb.end).copied().flatten();
            match m.concept {
                C::Left => end == Some(End::Left),
                C::Right => end == Some(End::Right),
                C::FillFull => comb.fill == Some(Fill::Full),
                _ => comb.fill == Some(Fill::Light),
            }
        };
        let mut found = self.taken_combs().into_iter().filter(fits);
        found.next().filter(|_| found.next().is_none())
    }

    /// "that comb on the scale", "the one in the tote".
    fn by_place(&self, m: &Mark) -> bool {
        let one = (m.from..m.to).any(|i| matches!(self.word(i), "one" | "comb"));
        let place = matches!(self.word(m.to), "on" | "in" | "from" | "that")
            || matches!(self.word(m.to), "i" | "we")
                && matches!(self.word(m.to + 1), "took" | "cut" | "pulled");
        let pair = self.state.stand.is_empty();
        one && place && pair && self.word(m.from.wrapping_sub(1)) != "the"
            || one
                && place
                && (m.from..=m.to + 3).any(|i| matches!(self.word(i), "scale" | "scales"))
            || one && place && self.state.weighing
    }

    pub(crate) fn each(&self) -> bool {
        self.tokens
            .iter()
            .any(|t| matches!(&*t.text, "each" | "apiece"))
    }

    fn last_pair(&self) -> Option<Vec<usize>> {
        if self.state.hand.len() > 1 {
            return Some(self.state.hand.clone());
        }
        let taken = self.taken_combs();
        (taken.len() > 1).then_some(taken)
    }

    /// "inch and an eighth": no comb.
    fn part_of_number(&self, m: &Mark) -> bool {
        m.from > 0 && matches!(self.word(m.from - 1), "an" | "a")
    }

    /// Combs taken, in the order met.
    fn taken_combs(&self) -> Vec<usize> {
        let combs = &self.state.visit.combs;
        (0..combs.len())
            .filter(|&c| combs[c].decision == Some(Decision::Take))
            .collect()
    }

    /// Taken, and not weighed before this telling began.
    fn to_weigh(&self) -> Vec<usize> {
        let combs = &self.state.visit.combs;
        self.taken_combs()
            .into_iter()
            .filter(|c| combs[*c].kg.is_none() || self.state.weighed.contains(c))
            .collect()
    }

    fn not_weighed(&self) -> Vec<usize> {
        self.to_weigh()
            .into_iter()
            .filter(|c| !self.state.weighed.contains(c))
            .collect()
    }

    /// "the first was five pounds": of those taken.
    fn counted_taken(&self, n: usize) -> Option<usize> {
        let past = self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "was" | "were" | "came" | "weighed" | "mass" | "weight" | "weights" | "weighs"
            )
        });
        let next = n == self.here() + 1 && !self.state.weighing;
        let past = past
            || self
                .tokens
                .iter()
                .any(|t| matches!(&*t.text, "guess" | "reckon" | "say" | "about" | "'d"))
                && self
                    .state
                    .visit
                    .combs
                    .get(self.state.end_start + n.max(1) - 1)
                    .is_some_and(|c| c.decision == Some(Decision::Take) && c.kg.is_none());
        if n == 0 || next || !(past || self.state.weighing || !self.state.weighed.is_empty()) {
            return None;
        }
        if let Some(comb) = self.in_group(n) {
            return Some(comb);
        }
        // the nth comb met, if it was taken; else the nth of those taken
        let combs = &self.state.visit.combs;
        let met = self.state.end_start + n - 1;
        let by_place = self
            .state
            .weighed
            .iter()
            .enumerate()
            .all(|(k, &c)| self.to_weigh().get(k) != Some(&c) || c == self.state.end_start + k);
        let taken = combs.get(met).is_some_and(|c| {
            c.decision == Some(Decision::Take) && !self.state.weighed.contains(&met)
        });
        if taken && by_place {
            return Some(met);
        }
        self.to_weigh().get(n - 1).copied()
    }

    /// "four pounds ten", "two point six": how many marks, kilograms and the unit.
    fn told_weight(&self, marks: &[Mark], at: usize, last_unit: f64) -> Option<(usize, Weight)> {
        let m = marks[at];
        if !matches!(m.concept, C::Num | C::Share) || m.value <= 0.0 {
            return None;
        }
        let Some(unit) = marks.get(at + 1).and_then(|u| weight_unit(u.concept)) else {
            let unit = if last_unit > 0.0 { last_unit } else { 1.0 };
            let kg = m.value * unit;
            return (m.concept == C::Num && (0.2..9.0).contains(&kg)).then_some((1, (kg, unit)));
        };
        let (len, kg) = self.weight_said(marks, at, 1, m.value, unit);
        (0.05..HEAVIEST_COMB_KG)
            .contains(&kg)
            .then_some((len, (kg, unit)))
    }
}

/// Words that a row of weights has no use for.
fn spoils(concept: C) -> bool {
    matches!(
        concept,
        C::Capped
            | C::Uncapped
            | C::Honey
            | C::Unripe
            | C::Brood
            | C::SealedBrood
            | C::Pollen
            | C::Eggs
            | C::This
            | C::Mm
            | C::Inch
            | C::Cm
            | C::Mites
            | C::QueenCell
            | C::Leave
            | C::Aside
            | C::Litre
            | C::Quart
            | C::Gallon
            | C::Syrup
            | C::Feed
            | C::Degrees
            | C::Next
    )
}
