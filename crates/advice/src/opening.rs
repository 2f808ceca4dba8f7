//! Weather for opening, and the cautions that stand where the work happens.
//!
//! Source of the limits: reference/colony.md G; all of them are practice, and settable.

use comb::{Temperature, ToldIn};
use serde::Serialize;

/// Air temperature from which a hive may be opened. Common practice, no source.
pub const OPEN_FROM: Temperature = Temperature::celsius(13.0);
/// Air temperature from which brood combs may be lifted.
/// Source: reference/colony.md G, 15 to 16 C; status seen, disputed.
pub const BROOD_FROM: Temperature = Temperature::celsius(15.0);
/// Air temperature up to which combs are cut and shaken.
/// Source: reference/colony.md G, one keeper's 30 C; status seen.
pub const CUT_BELOW: Temperature = Temperature::celsius(30.0);
/// Air temperature from which no heavy comb is lifted.
/// Source: reference/colony.md G, not at 35 to 40 C; status seen.
pub const LIFT_BELOW: Temperature = Temperature::celsius(35.0);
/// Below this only a quick look, bees flying. Common practice, no source.
pub const QUICK_LOOK_FROM: Temperature = Temperature::celsius(10.0);

/// How a piece of advice on weather binds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// Worth knowing.
    Note,
    /// Better not.
    Caution,
    /// Stop.
    Stop,
}

/// One word of caution, with what it rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Caution {
    /// How it binds.
    pub weight: Weight,
    /// The words.
    pub text: String,
    /// The temperature that they speak of, where they speak of one, and the words after it.
    #[serde(skip)]
    air: Option<(Temperature, &'static str)>,
}

impl Caution {
    /// One that speaks of no temperature.
    pub const fn plain(weight: Weight, text: String) -> Self {
        Self {
            weight,
            text,
            air: None,
        }
    }

    fn of_air(weight: Weight, air: Temperature, words: &'static str) -> Self {
        let degrees = ToldIn::Metric.temperature_words(air);
        Self {
            weight,
            text: format!("{degrees}: {words}"),
            air: Some((air, words)),
        }
    }

    /// The words with the temperature told so.
    pub fn text_in(&self, told_in: ToldIn) -> String {
        self.air.map_or_else(
            || self.text.clone(),
            |(air, words)| format!("{}: {words}", told_in.temperature_words(air)),
        )
    }
}

/// What the temperature said means for the work. Nothing when none was said: unknown is not mild.
pub fn weather_cautions(temperature: Option<Temperature>) -> Vec<Caution> {
    let Some(air) = temperature else {
        return Vec::new();
    };
    let (weight, words) = if air >= LIFT_BELOW {
        (
            Weight::Stop,
            "soft comb tears off its bar, lift nothing heavy today",
        )
    } else if air >= CUT_BELOW {
        (
            Weight::Caution,
            "cut and shake no comb, new comb is soft; turn combs only in their plane",
        )
    } else if air < QUICK_LOOK_FROM {
        (Weight::Stop, "close up, open only in an emergency")
    } else if air < OPEN_FROM {
        (Weight::Caution, "a quick look only, with bees flying")
    } else if air < BROOD_FROM {
        (Weight::Caution, "leave the brood combs in")
    } else {
        return Vec::new();
    };
    vec![Caution::of_air(weight, air, words)]
}

/// The safety lines for work at the hive: short, dismissible for the day.
/// Source: reference/health.md 7 (seen and practice, as marked there).
pub const SAFETY_LINES: [&str; 4] = [
    "Stings: scrape the sting out at once and move away. Hard breathing, swollen tongue or throat, \
     dizziness, vomiting: lie down, adrenaline injector first if you have one, call the emergency number.",
    "Fire: on a declared fire-danger day light no smoker before you have read the local authority's \
     order for the day; water stands by.",
    "Heat: suit and veil stop cooling. Drink, work early, stop at headache, cramp or confusion.",
    "Lifting and knives: a honey comb is 2 to 4 kg on a bar, hold it edge-on and cut away from your hand.",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_advised_on_a_temperature_that_was_not_said() {
        assert!(weather_cautions(None).is_empty());
    }

    // Limits: reference/colony.md G, suggested defaults.
    #[test]
    fn the_limits_are_those_of_the_reference() {
        let weight = |c: f64| {
            weather_cautions(Some(Temperature::celsius(c)))
                .first()
                .map(|c| c.weight)
        };
        assert_eq!(weight(9.9), Some(Weight::Stop));
        assert_eq!(weight(12.0), Some(Weight::Caution));
        assert_eq!(weight(14.0), Some(Weight::Caution));
        assert_eq!(weight(21.0), None);
        assert_eq!(weight(31.0), Some(Weight::Caution));
        assert_eq!(weight(36.0), Some(Weight::Stop));
    }

    #[test]
    fn a_temperature_is_told_with_its_unit() {
        let hot = weather_cautions(Some(Temperature::celsius(31.0)));
        assert!(
            hot[0]
                .text
                .starts_with("31 degrees C: cut and shake no comb")
        );
        let told = hot[0].text_in(ToldIn::Us);
        assert!(told.starts_with("88 degrees F: cut and shake no comb"));
        let plain = Caution::plain(Weight::Stop, "no honey is taken".to_owned());
        assert_eq!(plain.text_in(ToldIn::Us), "no honey is taken");
    }
}
