//! Feed given.

use crate::act::Act;
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;
use crate::measures::weight_unit;

/// Litres in a US gallon, quart and pint. Source: NIST Handbook 44, appendix C.
const US_GALLON_L: f64 = 3.785;
const US_QUART_L: f64 = 0.946;
/// A pint is taken as the imperial one when kilograms were spoken of, else the US one.
const US_PINT_L: f64 = 0.473;
/// Source: Weights and Measures Act 1985 (UK), schedule 1; from memory.
const IMPERIAL_PINT_L: f64 = 0.568;

/// More than this nobody carries to a hive at once. Common practice, no source.
const MOST_FEED_KG: f64 = 30.0;

impl Ear<'_> {
    /// Hears "a litre and a half of one to one"; gives the marks it did not use.
    pub(crate) fn feeding(&mut self, marks: Vec<Mark>) -> Vec<Mark> {
        // "no make it one point two", after litres
        if self.correcting
            && self.state.fact == Fact::Litres
            && let [m] = marks.as_slice()
            && m.concept == C::Num
            && (0.1..30.0).contains(&m.value)
            && self.state.visit.litres.is_some()
        {
            let again = Act::Fed {
                litres: Some(m.value),
                kg: None,
                kind: None,
            };
            self.note("fed, told again", again, None, &marks);
            return Vec::new();
        }
        let kind = Self::kind(&marks);
        let mut marks = marks;
        if kind.is_some() {
            // "five hundred mil of one to one"
            for m in &mut marks {
                if m.concept == C::Mm {
                    m.concept = C::Ml;
                }
            }
        }
        let unit = marks
            .iter()
            .position(|m| litres(m.concept).is_some() && self.fluid(m));
        let fed = marks.iter().any(|m| m.concept == C::Feed);
        let put = ["put", "gave", "give", "given", "left", "on", "added"]
            .iter()
            .any(|w| (0..self.tokens.len()).any(|i| self.word(i) == *w));
        let solid = marks
            .iter()
            .any(|m| matches!(m.concept, C::Fondant | C::DrySugar | C::Patty));
        let not = marks.iter().any(|m| m.concept == C::Not);
        let eaten = ["eaten", "finished", "gone", "old", "last"]
            .iter()
            .any(|w| (0..self.tokens.len()).any(|i| self.word(i) == *w));
        let given = solid && !eaten && !not;
        let fed = fed || put && solid || given;
        let about = kind.is_some() || fed || self.state.fact == Fact::Litres;
        if not && unit.is_none()
            || !(unit.is_some() && about
                || kind.is_some() && (fed || unit.is_some() || self.state.fact == Fact::Litres))
        {
            return marks;
        }
        let amount = unit.and_then(|at| self.amount_fed(&marks, at));
        let kg = if amount.is_none() {
            self.mass_fed(&marks)
        } else {
            None
        };
        let by_mass = |m: &Mark| m.concept == C::Syrup && self.said(m, "sugar");
        let kind = if kg.is_some() && marks.iter().any(by_mass) {
            // what is weighed is not dissolved
            Some("dry sugar".to_owned())
        } else {
            kind
        };
        if amount.is_none() && kind.is_none() {
            return marks;
        }
        self.note(
            "fed",
            Act::Fed {
                litres: amount,
                kg,
                kind,
            },
            None,
            &marks,
        );
        self.state.fact = Fact::Litres;
        marks
            .into_iter()
            .filter(|m| {
                !FEED.contains(&m.concept)
                    && litres(m.concept).is_none()
                    && !matches!(m.concept, C::Kg | C::Gram | C::Pound)
                    && m.concept != C::Num
                    && m.concept != C::Share
                    && m.concept != C::Honey
            })
            .collect()
    }

    /// "two pounds of fondant", "a kilo and a half of sugar".
    fn mass_fed(&self, marks: &[Mark]) -> Option<f64> {
        let (at, unit) = marks
            .iter()
            .enumerate()
            .find_map(|(at, m)| Some((at, weight_unit(m.concept)?)))?;
        let before = at.checked_sub(1).map(|i| &marks[i]);
        let value = match before {
            Some(m) if matches!(m.concept, C::Num | C::Share) => m.value,
            // "a kilo of sugar"
            _ if self.said(&marks[at], "a") || self.word(marks[at].from.wrapping_sub(1)) == "a" => {
                1.0
            }
            _ => return None,
        };
        let from = at.saturating_sub(1);
        let (_, kg) = self.weight_said(marks, from, at - from, value, unit);
        (kg > 0.0 && kg <= MOST_FEED_KG).then_some(kg)
    }

    /// Of several amounts the one that is called the whole; else their sum where one is added.
    fn amount_fed(&self, marks: &[Mark], first: usize) -> Option<f64> {
        let units: Vec<usize> = (first..marks.len())
            .filter(|&i| litres(marks[i].concept).is_some() && self.fluid(&marks[i]))
            .collect();
        let one = self.volume(marks, first)?;
        let already = self
            .state
            .visit
            .litres
            .filter(|_| self.state.fact == Fact::Litres && !self.correcting);
        let added = |i: usize| {
            let from = marks[i].from.saturating_sub(4);
            (from..marks[i].from).any(|k| matches!(self.word(k), "another" | "more" | "plus"))
                || self.word(marks[i].to) == "more"
        };
        let Some(&last) = units.last().filter(|&&l| l != first) else {
            return Some(already.filter(|_| added(first)).map_or(one, |a| a + one));
        };
        let end = self.volume(marks, last)?;
        let total = marks.iter().any(|m| m.concept == C::Total)
            || marks[first..last].iter().any(|m| m.concept == C::But)
            || (marks[last].to..self.tokens.len()).any(|i| self.word(i) == "all");
        let corrected = (marks[first].to..marks[last].from)
            .any(|i| matches!(self.word(i), "no" | "nope" | "sorry" | "rather"));
        if total || corrected {
            return Some(end);
        }
        let sum: f64 = units.iter().filter_map(|&i| self.volume(marks, i)).sum();
        Some(if units.iter().skip(1).all(|&i| added(i)) {
            sum
        } else {
            one
        })
    }

    fn fluid(&self, m: &Mark) -> bool {
        !(m.to == m.from + 1 && matches!(self.word(m.from), "leader" | "leaders"))
            || m.from > 0
                && matches!(
                    self.word(m.from - 1),
                    "a" | "one" | "two" | "half" | "three" | "four" | "five"
                )
    }

    fn volume(&self, marks: &[Mark], at: usize) -> Option<f64> {
        let metric = (self.state.weight_unit - 1.0).abs() < 1e-9;
        let unit = match marks[at].concept {
            C::Pint if metric => IMPERIAL_PINT_L,
            concept => litres(concept)?,
        };
        let before = at.checked_sub(1).and_then(|i| marks.get(i));
        let number = match before {
            Some(m) if m.concept == C::Num => m.value,
            Some(m) if m.concept == C::Share && m.value > 0.0 && m.value < 1.0 => m.value,
            _ => {
                let from = marks[at].from;
                let couple = (from.saturating_sub(3)..from).any(|i| self.word(i) == "couple");
                if couple { 2.0 } else { 1.0 }
            }
        };
        Some((number + self.and_part(marks, at + 1)) * unit)
    }

    fn kind(marks: &[Mark]) -> Option<String> {
        let has = |c: C| marks.iter().any(|m| m.concept == c);
        let ratio = marks
            .iter()
            .find(|m| m.concept == C::Ratio)
            .map(|m| m.value);
        let words = if has(C::Fondant) {
            "fondant"
        } else if let Some(r) = ratio {
            return Some(if (r - 1.5).abs() < 0.01 {
                "3:2 syrup".into()
            } else {
                format!("{}:1 syrup", r.round().max(1.0))
            });
        } else if has(C::ThinSyrup) {
            "1:1 syrup"
        } else if has(C::ThickSyrup) {
            "2:1 syrup"
        } else if has(C::DrySugar) {
            "dry sugar"
        } else if has(C::Patty) {
            "pollen patty"
        } else if has(C::HoneyFeed) {
            "honey"
        } else if has(C::Syrup) {
            "syrup"
        } else {
            return None;
        };
        Some(words.to_owned())
    }
}

const FEED: [C; 9] = [
    C::Feed,
    C::Ratio,
    C::Syrup,
    C::ThinSyrup,
    C::ThickSyrup,
    C::Fondant,
    C::DrySugar,
    C::Patty,
    C::HoneyFeed,
];

fn litres(concept: C) -> Option<f64> {
    Some(match concept {
        C::Litre => 1.0,
        C::Ml => 0.001,
        C::Gallon => US_GALLON_L,
        C::Quart => US_QUART_L,
        C::Pint => US_PINT_L,
        _ => return None,
    })
}
