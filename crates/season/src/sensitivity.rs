//! What the answer hangs on: each driver moved to its low and its high, all else as drawn.

use comb::{Mass, ToldIn};
use serde::{Deserialize, Serialize};

use crate::ensemble::{Ensemble, Setting, WhatIf};
use crate::figures as fig;
use crate::reserve::{needs, quantile};

/// Something the answer hangs on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Driver {
    /// Bees at the start.
    Bees,
    /// How much these bees eat.
    Eating,
    /// How well the season's forage yields.
    Forage,
    /// How much the queen lays.
    Laying,
    /// How warm the season is.
    Warmth,
}

impl Driver {
    /// The driver in words, with what low and high stand for.
    pub const fn words(self, told_in: ToldIn) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Bees => ("bees now", "a quarter fewer", "a quarter more"),
            Self::Eating => ("what they eat", "a quarter less", "a quarter more"),
            Self::Forage => ("forage", "poor year", "rich year"),
            Self::Laying => ("laying", "less", "more"),
            Self::Warmth => match told_in {
                ToldIn::Metric => ("weather", "1.5 C colder", "1.5 C warmer"),
                ToldIn::Us => ("weather", "2.7 F colder", "2.7 F warmer"),
            },
        }
    }
}

/// Stores needed with a driver low and high; `None` when no stores suffice.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Bar {
    /// Which driver.
    pub driver: Driver,
    /// Stores needed at its low (one year in ten lies below).
    pub at_low_kg: Option<Mass>,
    /// At its high (one in ten above).
    pub at_high_kg: Option<Mass>,
}

impl Bar {
    /// How far the driver moves the answer.
    pub fn swing(&self) -> f64 {
        match (self.at_low_kg, self.at_high_kg) {
            (Some(low), Some(high)) => (high - low).abs().to_kg(),
            _ => f64::INFINITY,
        }
    }
}

/// From the middle to a tenth's point, in spreads.
const TENTH: f64 = 1.2816;
/// How far a whole season is warmer or colder than usual, one in ten (ours).
const WARMTH_K: f64 = 1.5;

/// One bar a driver, the widest swing first. Uses the first `runs` of the ensemble.
pub fn bars(setting: &Setting, ensemble: &Ensemble, sure: f64, runs: usize) -> Vec<Bar> {
    let ensemble = ensemble.first(runs);
    let ask = |what_if: WhatIf| quantile(&needs(&ensemble, &what_if), sure);
    let either = |driver: Driver, spread: f64, set: fn(&mut WhatIf, f64)| {
        let at = |way: f64| {
            let mut what_if = WhatIf::default();
            set(&mut what_if, libm::exp(way * TENTH * spread));
            ask(what_if)
        };
        Bar {
            driver,
            at_low_kg: at(-1.0),
            at_high_kg: at(1.0),
        }
    };
    let under = |kelvin: f64| {
        let warmer = ensemble.warmer(setting, kelvin);
        quantile(&needs(&warmer, &WhatIf::default()), sure)
    };
    let mut bars = vec![
        either(Driver::Bees, fig::BEES_SPREAD.value, |w, f| {
            w.bees = f;
        }),
        either(Driver::Eating, setting.calibration.spread, |w, f| {
            w.eats = f;
        }),
        either(Driver::Forage, fig::FORAGE_SPREAD.value, |w, f| {
            w.forages = f;
        }),
        either(Driver::Laying, fig::QUEEN_SPREAD.value, |w, f| {
            w.laying = f;
        }),
        Bar {
            driver: Driver::Warmth,
            at_low_kg: under(-WARMTH_K),
            at_high_kg: under(WARMTH_K),
        },
    ];
    bars.sort_by(|a, b| b.swing().total_cmp(&a.swing()));
    bars
}
