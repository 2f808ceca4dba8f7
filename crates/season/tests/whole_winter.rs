//! A whole winter in three places, on the shared weather, beside the handbooks' totals.
//!
//! Handbook rows: reference/winter-consumption.csv. The answers come out under the cold handbook
//! range; that is reported, asserted with its size, and never tuned away.

#[path = "common/shared.rs"]
mod shared;

use comb::Mass;
use jiff::civil::{Date, date};
use season::calibrate::Calibration;
use season::ensemble::Ensemble;
use season::reserve::{Question, eaten, reserve, share_living};
use season::thumb::Winter;
use season::{Climate, Colony, Place, Queen, Setting, WhatIf, Years};

struct Case {
    series: &'static str,
    latitude: f64,
    climate: Climate,
    winter: Winter,
    from: Date,
    until: Date,
    bees: f64,
    brood: f64,
    /// Where the model's 95 % figure is expected today, kg.
    needed: (f64, f64),
    /// Where what is eaten without income is expected, kg.
    eaten: (f64, f64),
}

fn cases() -> [Case; 3] {
    [
        // Handbook 27 to 41 kg (practice); wild colony 25 kg (seen). The model stays some 10 kg
        // under its lower end: reference/colony.md F works out 14 kg and says why.
        Case {
            series: "champion-nebraska-us",
            latitude: 40.4,
            climate: Climate::ColdContinental,
            winter: Winter::Cold,
            from: date(2026, 10, 1),
            until: date(2027, 4, 15),
            bees: 15_000.0,
            brood: 4000.0,
            needed: (13.0, 20.0),
            eaten: (10.0, 18.0),
        },
        // Handbook at least 18 kg (seen as quoted); that is about what is eaten without income.
        Case {
            series: "wollongong-au",
            latitude: -34.37,
            climate: Climate::MildCoast,
            winter: Winter::Mild,
            from: date(2026, 4, 15),
            until: date(2026, 9, 15),
            bees: 20_000.0,
            brood: 8000.0,
            needed: (5.0, 16.0),
            eaten: (15.0, 23.0),
        },
        // No handbook total for a monsoon dearth; warm US states 14 to 18 kg (practice).
        Case {
            series: "hyderabad-in",
            latitude: 17.4,
            climate: Climate::Monsoon,
            winter: Winter::None,
            from: date(2026, 5, 1),
            until: date(2026, 10, 15),
            bees: 15_000.0,
            brood: 6000.0,
            needed: (15.0, 30.0),
            eaten: (25.0, 38.0),
        },
    ]
}

#[test]
fn whole_winters_stand_beside_the_handbooks() {
    for case in cases() {
        let Some(read) = shared::shared_weather(case.series) else {
            return;
        };
        let years = Years::new(&read.series).unwrap();
        let setting = Setting {
            place: Place::new(case.latitude, None).unwrap(),
            years: &years,
            forage: case.climate.forage(case.latitude),
            warmer_k: 0.0,
            forecast: None,
            calibration: Calibration::default(),
        };
        let colony = Colony {
            bees: case.bees,
            brood_cells: case.brood,
            honey_kg: Mass::kg(18.0),
            unripe_kg: Mass::ZERO,
            pollen_kg: None,
            queen: Queen::Laying,
            room_kg: Mass::kg(60.0),
        };
        let question = Question::new(case.from, case.until);
        let answer = reserve(&setting, &colony, &question).unwrap();
        let eaten = eaten(&setting, &colony, &question.span().unwrap())
            .unwrap()
            .to_kg();
        answer_is_the_least(&setting, &colony, &question, answer.needed_kg.unwrap());
        let winter = Winter::of(&years, 0.0);
        assert_eq!(winter, case.winter, "{}", case.series);
        let (low, high) = winter.handbook().kg;
        let needed = answer.needed_kg.unwrap().to_kg();
        let outside = if needed < low {
            low - needed
        } else {
            (needed - high).max(0.0)
        };
        println!(
            "{}: needed {needed:.1} kg (middle {:.1}, interval {:.1} to {:.1}), eaten without income {eaten:.1}; \
             handbook {low} to {high}: outside by {outside:.1}",
            case.series,
            answer.middle_kg.unwrap().to_kg(),
            answer.between_kg.0.to_kg(),
            answer.between_kg.1.unwrap().to_kg(),
        );
        assert!(
            (case.needed.0..=case.needed.1).contains(&needed),
            "{}: {needed}",
            case.series
        );
        assert!(
            (case.eaten.0..=case.eaten.1).contains(&eaten),
            "{}: {eaten}",
            case.series
        );
    }
}

/// The answer must be what was asked: on it at least 95 % of the runs live, on a little less fewer.
fn answer_is_the_least(setting: &Setting, colony: &Colony, question: &Question, needed: Mass) {
    let span = question.span().expect("a span");
    let ensemble = Ensemble::new(setting, colony, &span).expect("runs");
    let living = |kg: f64| share_living(&ensemble, &WhatIf::default(), Mass::kg(kg));
    let needed = needed.to_kg();
    assert!(living(needed) >= 0.95, "{needed}");
    assert!(living(needed - 0.11) < 0.95, "{needed}");
    assert!(living(needed - 2.0) < 0.95, "{needed}");
}
