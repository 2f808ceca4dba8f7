//! Weight and thickness.

use comb::HEAVIEST_COMB_KG;

use crate::act::{Act, Decision};
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;

/// Kilograms in a pound avoirdupois. Source: international yard and pound agreement of 1959, exact.
const POUND_KG: f64 = 0.453_592_37;
/// Millimetres in an inch. Source: the same agreement, exact.
const INCH_MM: f64 = 25.4;

impl Ear<'_> {
    /// Hears "two point four kilos", "an inch and a half thick", "call it two point eight".
    pub(crate) fn measures(&mut self, marks: &[Mark]) {
        if self.state.hand.is_empty() {
            return;
        }
        let mut i = 0;
        while i < marks.len() {
            i += self.measure(marks, i).unwrap_or(1);
        }
    }

    fn measure(&mut self, marks: &[Mark], at: usize) -> Option<usize> {
        let (used, value) = self.amount(marks, at)?;
        let unit = marks
            .get(at + used)
            .filter(|u| UNITS.contains(&u.concept))
            .copied();
        let words = &marks[at..(at + used + usize::from(unit.is_some())).min(marks.len())];
        // "one and a half litres", a pause: of feed, whatever is said of it later
        if marks
            .get(at + used)
            .is_some_and(|u| matches!(u.concept, C::Litre | C::Ml | C::Gallon | C::Quart | C::Pint))
        {
            return Some(used + 1);
        }
        let Some(unit) = unit else {
            return self.bare(marks, at, used, value);
        };
        if let Some(kg) = weight_unit(unit.concept) {
            return Some(self.weight(marks, at, used, value, kg));
        }
        let mm = match unit.concept {
            C::Mm => 1.0,
            C::Cm => 10.0,
            _ => INCH_MM,
        } * (value + self.and_part(marks, at + used + 1));
        // "I'm only lifting it an inch"
        let lifted = (words[0].from.saturating_sub(5)..words[0].from).any(|i| {
            matches!(
                self.word(i),
                "lifting"
                    | "lift"
                    | "lifted"
                    | "lifts"
                    | "pulled"
                    | "pulling"
                    | "raise"
                    | "raised"
                    | "slide"
                    | "slid"
                    | "moved"
                    | "gap"
            )
        });
        // "fixed to the wall by an inch or so"
        let at_the_wall = marks[..at].iter().any(|m| m.concept == C::AttachedYes)
            && !marks.iter().any(|m| m.concept == C::Thick);
        if lifted || at_the_wall {
            return Some(used + 1);
        }
        let long = matches!(self.word(unit.to), "long" | "down" | "drop");
        // "shim ten mil": of the shim
        let shim = marks.iter().any(|m| m.concept == C::Shim);
        if shim {
            return Some(used + 1);
        }
        if (5.0..=150.0).contains(&mm) && !Self::small_comb(marks) && !long {
            self.note_hand("thickness", &Act::Thick(mm), words);
            self.state.fact = Fact::Mm;
        } else if long || Self::small_comb(marks) {
            let fill = if mm <= 110.0 {
                crate::act::Fill::Light
            } else {
                crate::act::Fill::Part
            };
            self.note_hand("length of new comb", &Act::Filled(fill), words);
        }
        Some(used + 1)
    }

    /// "a couple of inches of new comb" is its length.
    fn small_comb(marks: &[Mark]) -> bool {
        marks
            .iter()
            .any(|m| matches!(m.concept, C::NewComb | C::FillLight | C::CombMade))
            && !marks.iter().any(|m| m.concept == C::Thick)
    }

    fn weight(&mut self, marks: &[Mark], at: usize, used: usize, value: f64, unit: f64) -> usize {
        let (len, kg) = self.weight_said(marks, at, used, value, unit);
        // "jars hold a pound each"
        let of_jars = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "jars" | "jar"));
        // "they make six kilos": all of them together, which is no weight of any one
        let of_several =
            self.state.hand.len() > 1 && !self.each() || self.of_a_full_vessel(&marks[at]);
        if kg > 0.05 && kg < HEAVIEST_COMB_KG && !of_jars && !of_several {
            let words = &marks[at..(at + len).min(marks.len())];
            self.note_hand("weight", &Act::Weighs(kg), words);
            self.state.weight_unit = unit;
            self.state.fact = Fact::Kg;
        }
        len
    }

    /// "the bucket's nine pounds", "four kilos with the two of them in": more than the comb in hand.
    fn of_a_full_vessel(&self, amount: &Mark) -> bool {
        let vessel = (0..amount.from).any(|i| {
            matches!(
                self.word(i),
                "bucket" | "tub" | "pail" | "tote" | "crate" | "box" | "basin" | "bowl" | "tray"
            ) && matches!(
                self.word(i + 1),
                "'s" | "is" | "weighs" | "comes" | "feels" | "must" | "says" | "reads"
            )
        });
        let with = (amount.to..self.tokens.len()).any(|i| {
            self.word(i) == "with"
                && (i + 1..i + 3).any(|k| matches!(self.word(k), "two" | "three" | "both" | "all"))
        });
        vessel || with
    }

    /// A weight with its unit, and what may follow: "one kilo nine hundred", "four pounds six
    /// ounces". How many marks, and kilograms.
    pub(crate) fn weight_said(
        &self,
        marks: &[Mark],
        at: usize,
        used: usize,
        value: f64,
        unit: f64,
    ) -> (usize, f64) {
        let mut kg = (value + self.and_part(marks, at + used + 1)) * unit;
        let mut len = used + 1;
        let and = marks.get(at + len).is_some_and(|m| m.concept == C::And)
            && marks.get(at + len + 1).is_some_and(|m| m.concept == C::Num)
            && (marks.get(at + len + 1).is_some_and(|m| m.value >= 100.0)
                || marks
                    .get(at + len + 2)
                    .is_some_and(|u| matches!(u.concept, C::Gram | C::Ounce)));
        len += usize::from(and);
        // "one kilo nine hundred", "two kilos two hundred grams", "four pounds six ounces"
        if let Some(more) = marks.get(at + len).filter(|m| m.concept == C::Num) {
            let next = marks.get(at + len + 1).map(|m| m.concept);
            if (unit - 1.0).abs() < 1e-9 && more.value >= 100.0 && more.value < 1000.0 {
                kg += more.value / 1000.0;
                len += 1 + usize::from(next == Some(C::Gram));
            } else if let Some(tens) = marks.get(at + len + 1).filter(|n| {
                n.concept == C::Num
                    && n.from == more.to
                    && (10.0..100.0).contains(&n.value)
                    && (1.0..10.0).contains(&more.value)
                    && (unit - 1.0).abs() < 1e-9
            }) {
                // "one kilo six fifty"
                kg += (more.value * 100.0 + tens.value) / 1000.0;
                len += 2;
            } else if next == Some(C::Ounce) && more.value < 16.0 {
                kg += more.value * POUND_KG / 16.0;
                len += 2;
            } else if more.value.fract() == 0.0
                && (more.value < 10.0 || more.value < 16.0 && unit < 0.5)
                && value.fract() == 0.0
                && more.from <= marks[at + len - 1].to + 1
                && matches!(
                    next,
                    None | Some(C::Stop | C::But | C::Take | C::Leave | C::And)
                )
                && !and
            {
                // "one kilo eight", "four pound six"
                kg += more.value
                    * if (unit - POUND_KG).abs() < 1e-9 {
                        POUND_KG / 16.0
                    } else {
                        unit / 10.0
                    };
                len += 1;
            }
        }
        (len, kg)
    }

    /// "I hung them two on the scale": combs counted.
    fn counts_combs(&self, m: &Mark) -> bool {
        let one = self.word(m.from) == "one"
            && m.to == m.from + 1
            && self
                .tokens
                .get(m.to)
                .is_some_and(|t| !t.is_stop() && !crate::numbers::is_number_word(&t.text))
            && self.word(m.to) != "on";
        one || m.from > 0
            && matches!(
                self.word(m.from - 1),
                "them" | "those" | "these" | "the" | "all"
            )
    }

    /// The unit that weights were told in, in kilograms.
    pub(crate) fn last_weight_unit(&self) -> f64 {
        if self.state.weight_unit > 0.0 {
            self.state.weight_unit
        } else {
            1.0
        }
    }

    /// The comb in hand is taken and has no weight yet, where others have theirs.
    fn weight_is_due(&self) -> bool {
        let due = |c: &crate::visit::Comb| c.decision == Some(Decision::Take) && c.kg.is_none();
        self.comb().is_some_and(due) && self.state.visit.combs.iter().any(|c| c.kg.is_some())
    }

    /// "about two I'd say", and no more.
    fn guessed(&self, marks: &[Mark]) -> bool {
        let guess = self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "about"
                    | "say"
                    | "reckon"
                    | "guess"
                    | "roughly"
                    | "maybe"
                    | "probably"
                    | "flat"
                    | "even"
                    | "exactly"
                    | "dead"
            )
        });
        let only = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::Num | C::Word | C::But | C::Stop | C::That | C::Aside | C::Weigh
            )
        });
        guess && only && marks.iter().filter(|m| m.concept == C::Num).count() == 1
    }

    /// A number without a unit: a weight where weights are spoken of.
    fn bare(&mut self, marks: &[Mark], at: usize, used: usize, value: f64) -> Option<usize> {
        let m = marks[at];
        // "two point three percent"
        if matches!(self.word(m.to), "percent" | "per" | "%") {
            return None;
        }
        // "one and a half litres", a pause, "yes, one and a half": of what was fed
        let fed = self.state.fact == Fact::Litres && (self.correcting || self.fed_again(value));
        if self.counts_combs(&m) || fed {
            return None;
        }
        let spelt_next = marks
            .get(at + used)
            .is_some_and(|n| n.concept == C::Num && n.from == marks[at + used - 1].to);
        if m.concept != C::Num
            || marks
                .get(at + used)
                .is_some_and(|n| not_a_weight(n.concept) && !spelt_next)
        {
            return None;
        }
        // "these aren't strong so call it four": a figure of nothing, where no weight was told
        let waits = self.weight_is_due();
        let called = value.fract() == 0.0 && !matches!(self.state.fact, Fact::Kg) && !waits;
        let weighing = marks
            .iter()
            .any(|m| m.concept == C::Weigh && !(called && self.said(m, "call")))
            || waits && self.guessed(marks);
        // "scales read one nine"
        let digit = |v: f64| v.fract() == 0.0 && (0.0..10.0).contains(&v);
        let spelt = marks
            .get(at + used)
            .filter(|n| weighing && n.concept == C::Num && n.from == marks[at + used - 1].to)
            .filter(|n| digit(value) && digit(n.value) && value < 6.0);
        if let Some(n) = spelt {
            let unit = self.last_weight_unit();
            self.note_hand(
                "weight digit by digit",
                &Act::Weighs((value + n.value / 10.0) * unit),
                &marks[at..=at + used],
            );
            self.state.fact = Fact::Kg;
            return Some(used + 1);
        }
        // "reads two thousand one hundred": grams
        if weighing && (300.0..9000.0).contains(&value) {
            self.note_hand(
                "weight in grams",
                &Act::Weighs(value / 1000.0),
                &marks[at..at + used],
            );
            self.state.fact = Fact::Kg;
            return Some(used);
        }
        let tenths = value.fract() != 0.0;
        let alone = marks.iter().enumerate().all(|(i, m)| {
            i >= at && i < at + used
                || matches!(
                    m.concept,
                    C::Stop
                        | C::But
                        | C::Take
                        | C::Leave
                        | C::Weigh
                        | C::That
                        | C::Then
                        | C::Capped
                        | C::Share
                        | C::Both
                        | C::Same
                        | C::Aside
                        | C::Next
                        | C::Bar
                        | C::Num
                )
        });
        let thick = self.state.thick_due || marks.iter().any(|m| m.concept == C::Thick);
        if thick && (15.0..=120.0).contains(&value) {
            self.note_hand("thickness", &Act::Thick(value), &marks[at..at + used]);
            return Some(used);
        }
        let unit = self.last_weight_unit();
        let corrected = self.correcting && matches!(self.state.fact, Fact::Kg);
        let corrected_mm = self.correcting && self.state.fact == Fact::Mm && value > 10.0;
        if corrected_mm {
            self.note_hand("thickness", &Act::Thick(value), &marks[at..at + used]);
        } else if (weighing || corrected || tenths && (alone || value > 0.4 && value < 6.0))
            && value * unit < 8.0
            && value > 0.2
        {
            self.note_hand(
                "weight without unit",
                &Act::Weighs(value * unit),
                &marks[at..at + used],
            );
            self.state.fact = Fact::Kg;
        } else {
            return None;
        }
        Some(used)
    }

    /// The litres that were told, said once more.
    fn fed_again(&self, value: f64) -> bool {
        let told = |(_, act): &(Option<usize>, Act)| matches!(act, Act::Fed { litres: Some(litres), .. } if (litres - value).abs() < 0.01);
        self.state.last_acts.iter().any(told)
    }

    /// A number, or "half a", "a", "a couple of", before a unit.
    fn amount(&self, marks: &[Mark], at: usize) -> Option<(usize, f64)> {
        let m = marks.get(at)?;
        let unit_next = marks
            .get(at + 1)
            .is_some_and(|u| UNITS.contains(&u.concept));
        match m.concept {
            C::Num => {
                // "two or three kilos", "four to five pounds": the middle
                if let Some(n) = marks.get(at + 1)
                    && n.concept == C::Num
                    && self.between(m, n, &["or", "to"])
                    && marks
                        .get(at + 2)
                        .is_some_and(|u| UNITS.contains(&u.concept))
                {
                    return Some((2, f64::midpoint(m.value, n.value)));
                }
                if let (Some(and), Some(n)) = (marks.get(at + 1), marks.get(at + 2))
                    && matches!(and.concept, C::And | C::Then)
                    && n.concept == C::Num
                    && m.from > 0
                    && self.word(m.from - 1) == "between"
                {
                    return Some((3, f64::midpoint(m.value, n.value)));
                }
                Some((1, m.value))
            }
            C::Share if unit_next && m.value > 0.0 && m.value < 1.0 => Some((1, m.value)),
            // "three quarters of a kilo", "half a kilo"
            c if UNITS.contains(&c) => {
                let before = m.from.checked_sub(1).map_or("", |i| self.word(i));
                let couple = m.from > 1 && before == "of" && self.word(m.from - 2) == "couple"
                    || before == "couple";
                let no_number = at == 0 || !matches!(marks[at - 1].concept, C::Num | C::Share);
                if couple {
                    Some((0, 2.0))
                } else if (matches!(before, "a" | "an" | "one" | "")
                    || matches!(c, C::Inch) && self.word(m.to) == "and")
                    && no_number
                {
                    Some((0, 1.0))
                } else {
                    None
                }
            }
            _ => None,
        }
    }

    /// "and a half" after the unit.
    pub(crate) fn and_part(&self, marks: &[Mark], at: usize) -> f64 {
        let part = match marks.get(at).map(|m| m.concept) {
            Some(C::Then | C::And) => marks.get(at + 1),
            _ => marks.get(at),
        };
        let joined = |m: &Mark| {
            m.from > 0
                && (self.word(m.from - 1) == "and" || m.from > 1 && self.word(m.from - 2) == "and")
        };
        part.filter(|m| m.concept == C::Share && m.value > 0.05 && m.value < 1.0 && joined(m))
            .map_or(0.0, |m| m.value)
    }
}

const UNITS: [C; 8] = [
    C::Kg,
    C::Gram,
    C::Pound,
    C::Stone,
    C::Ounce,
    C::Mm,
    C::Cm,
    C::Inch,
];

pub(crate) fn weight_unit(concept: C) -> Option<f64> {
    Some(match concept {
        C::Kg => 1.0,
        C::Gram => 0.001,
        C::Pound => POUND_KG,
        C::Stone => 14.0 * POUND_KG,
        C::Ounce => POUND_KG / 16.0,
        _ => return None,
    })
}

fn not_a_weight(concept: C) -> bool {
    matches!(
        concept,
        C::Comb
            | C::Bar
            | C::Num
            | C::Honey
            | C::This
            | C::Other
            | C::Both
            | C::Degrees
            | C::Mites
            | C::Bees
            | C::QueenCell
            | C::Cups
            | C::Brood
    )
}
