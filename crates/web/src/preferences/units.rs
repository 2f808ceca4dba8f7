//! In which units lengths and masses are typed and shown.

use comb::typed::number;
use comb::{Length, Mass, Temperature, ToldIn};
use hive::{What, Yard};
use honey::lots::{LotEvent, told};
use paper::told::Manner;
use serde_json::{Map, Value};

use crate::browser::storage;

/// Units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Millimetres and kilograms.
    #[default]
    Metric,
    /// Inches and pounds.
    Inches,
}

const NAME: &str = "units";

/// Avoirdupois, exact.
const OUNCES_PER_POUND: f64 = 16.0;

impl Units {
    /// All choices, in the order shown.
    pub const ALL: [Self; 2] = [Self::Metric, Self::Inches];

    /// As kept.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Inches => "inches",
        }
    }

    /// As kept; the default where nothing is.
    pub fn kept() -> Self {
        let word = storage::get(NAME).unwrap_or_default();
        Self::ALL
            .into_iter()
            .find(|units| units.word() == word)
            .unwrap_or_default()
    }

    /// Keeps them.
    pub fn keep(self) {
        storage::set(NAME, self.word());
    }

    /// The sign of the unit of length.
    pub const fn length_sign(self) -> &'static str {
        self.told_in().length_sign()
    }

    /// The sign of the unit of mass.
    pub const fn mass_sign(self) -> &'static str {
        self.told_in().mass_sign()
    }

    /// A length as it is typed: millimetres to the whole one, inches to a hundredth.
    pub fn typed_length(self, length: Length) -> String {
        match self {
            Self::Metric => trimmed(format!("{:.1}", length.to_mm())),
            Self::Inches => trimmed(format!("{:.2}", length.to_inches())),
        }
    }

    /// A length that was typed in these units; `None` when it is no number.
    pub fn length(self, typed: &str) -> Option<Length> {
        let number = number(typed)?;
        Some(match self {
            Self::Metric => Length::mm(number),
            Self::Inches => Length::inches(number),
        })
    }

    /// A length with its unit.
    pub fn length_words(self, length: Length) -> String {
        format!("{} {}", self.typed_length(length), self.length_sign())
    }

    /// A mass as it is typed, to a tenth.
    pub fn typed_mass(self, mass: Mass) -> String {
        trimmed(format!("{:.1}", self.told_in().mass(mass)))
    }

    /// A mass that was typed in these units; `None` when it is no number.
    pub fn mass(self, typed: &str) -> Option<Mass> {
        let number = number(typed)?;
        Some(match self {
            Self::Metric => Mass::kg(number),
            Self::Inches => Mass::pounds(number),
        })
    }

    /// A mass with its unit.
    pub fn mass_words(self, mass: Mass) -> String {
        format!("{} {}", self.typed_mass(mass), self.mass_sign())
    }

    /// A mass as a balance shows it, to a hundredth, with its unit.
    pub fn weighed(self, mass: Mass) -> String {
        format!("{:.2} {}", self.told_in().mass(mass), self.mass_sign())
    }

    /// The sign of the unit of what a jar holds.
    pub const fn jar_sign(self) -> &'static str {
        match self {
            Self::Metric => "g",
            Self::Inches => "oz",
        }
    }

    /// What a jar holds, as it is typed: whole grams, ounces to a tenth.
    pub fn typed_jar(self, mass: Mass) -> String {
        match self {
            Self::Metric => format!("{:.0}", mass.to_grams()),
            Self::Inches => trimmed(format!("{:.1}", mass.to_pounds() * OUNCES_PER_POUND)),
        }
    }

    /// What a jar holds that was typed in these units; `None` when it is no number.
    pub fn jar(self, typed: &str) -> Option<Mass> {
        let number = number(typed)?;
        Some(match self {
            Self::Metric => Mass::grams(number),
            Self::Inches => Mass::pounds(number / OUNCES_PER_POUND),
        })
    }

    /// What a jar holds, with its unit. A jar filled by the gram keeps its size, with ounces beside it: its
    /// label says grams.
    pub fn jar_words(self, mass: Mass) -> String {
        let told = format!("{} {}", self.typed_jar(mass), self.jar_sign());
        let (grams, ounces) = (mass.to_grams(), mass.to_pounds() * OUNCES_PER_POUND);
        let whole = |figure: f64| (figure - figure.round()).abs() < 0.01;
        if self == Self::Inches && whole(grams / 5.0) && !whole(ounces * 2.0) {
            format!("{} ({told})", Self::Metric.jar_words(mass))
        } else {
            told
        }
    }

    /// The sign of the unit of temperature.
    pub const fn temperature_sign(self) -> &'static str {
        match self {
            Self::Metric => "\u{b0}C",
            Self::Inches => "\u{b0}F",
        }
    }

    /// A temperature to the whole degree, with its unit.
    pub fn temperature_words(self, temperature: Temperature) -> String {
        let degrees = match self {
            Self::Metric => temperature.to_celsius(),
            Self::Inches => temperature.to_fahrenheit(),
        };
        format!("{degrees:.0} {}", self.temperature_sign())
    }

    /// How pictures and sentences of other crates tell their figures.
    pub const fn told_in(self) -> ToldIn {
        match self {
            Self::Metric => ToldIn::Metric,
            Self::Inches => ToldIn::Us,
        }
    }

    /// An event of the honey house in words.
    pub fn lot_event(self, event: &LotEvent) -> String {
        told::lot_event_in(event, &|mass| self.weighed(mass), &|mass| {
            self.jar_words(mass)
        })
    }

    /// The same as the journal keeps it.
    pub fn honey_house(self, event: &Map<String, Value>) -> String {
        let read = serde_json::from_value(Value::Object(event.clone()));
        read.map_or_else(|_| told::event(event), |event| self.lot_event(&event))
    }

    /// An entry's act in words.
    pub fn told(self, yard: &Yard, what: &What) -> String {
        let manner = Manner {
            honey_house: &|event| self.honey_house(event),
            told_in: self.told_in(),
        };
        paper::told::what(yard, what, manner)
    }

    /// A temperature that was typed in these units; `None` when it is no number.
    pub fn temperature(self, typed: &str) -> Option<Temperature> {
        let number = number(typed)?;
        Some(match self {
            Self::Metric => Temperature::celsius(number),
            Self::Inches => Temperature::fahrenheit(number),
        })
    }
}

fn trimmed(figure: String) -> String {
    let trimmed = if figure.contains('.') {
        figure
            .trim_end_matches('0')
            .trim_end_matches('.')
            .to_owned()
    } else {
        figure
    };
    // what rounds to nothing has no sign
    if trimmed == "-0" {
        "0".to_owned()
    } else {
        trimmed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measure_reads_back_as_it_was_typed() {
        for (units, typed) in [
            (Units::Metric, "381"),
            (Units::Inches, "15"),
            (Units::Inches, "14.5"),
            (Units::Metric, "34.9"),
        ] {
            let length = units.length(typed).expect("a number");
            assert_eq!(units.typed_length(length), typed);
        }
        let pounds = Units::Inches.mass("27.5").expect("a number");
        assert_eq!(Units::Inches.typed_mass(pounds), "27.5");
        assert!((pounds.to_kg() - 12.474).abs() < 0.001);
        for (units, typed) in [(Units::Metric, "340"), (Units::Inches, "12")] {
            let jar = units.jar(typed).expect("a number");
            assert_eq!(units.typed_jar(jar), typed);
        }
        let by_the_gram = Mass::grams(250.0);
        assert_eq!(Units::Inches.jar_words(by_the_gram), "250 g (8.8 oz)");
        // 12 oz avoirdupois are 340.19 g
        let twelve = Units::Inches.jar("12").expect("a number");
        assert!((twelve.to_grams() - 340.194).abs() < 0.001);
        assert_eq!(Units::Inches.jar_words(twelve), "12 oz");
    }

    /// 25.4 mm to the inch and 0.45359237 kg to the pound by definition; 20 C are 68 F.
    #[test]
    fn entries_are_told_in_the_units_of_the_device() {
        use hive::entry::{Hanging, Weather};
        use hive::{BarId, Known, What, Yard};

        let yard = Yard::default();
        let told = |known: Known| Units::Inches.told(&yard, &What::from(known));
        let added = Known::BarAdded {
            bar: BarId(uuid::Uuid::from_u128(1)),
            number: 7,
            hanging: Hanging::Comb,
            width_mm: Length::mm(34.925),
            drawn: None,
        };
        assert_eq!(told(added), "bar 7 added, 1.38 in, with comb");
        let fed = Known::Fed {
            food: "fondant".to_owned(),
            litres: None,
            mass_kg: Some(Mass::kg(0.907_184_74)),
        };
        assert_eq!(told(fed), "fed 2.0 lb of fondant");
        let weather = Weather {
            temperature_c: Some(Temperature::celsius(20.0)),
            ..Weather::default()
        };
        let weather = Known::WeatherNoted { weather };
        assert_eq!(told(weather), "68 degrees F");
    }

    #[test]
    fn nothing_has_no_sign() {
        assert_eq!(Units::Metric.mass_words(Mass::kg(-0.0)), "0 kg");
        assert_eq!(Units::Metric.mass_words(Mass::kg(-0.04)), "0 kg");
    }
}
