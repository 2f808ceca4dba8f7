//! The daily step and the reserve: against the published plateau, against laws, against a golden
//! value, and bad input.

#![expect(clippy::unwrap_used, reason = "a test's own input is known")]

use comb::Mass;
use jiff::civil::date;
use proptest::prelude::*;
use season::calibrate::Calibration;
use season::drivers::DayRow;
use season::engine::{Colonies, Lane, Start, Traits, Weather};
use season::ensemble::Ensemble;
use season::khoury::y2013;
use season::outlook::outlook;
use season::reserve::{Question, needs, quantile, reserve};
use season::weather::{MonthMeans, YearOfMonths};
use season::{Climate, Colony, Place, Queen, SeasonError, Setting, Source, Span, WhatIf, Years};

/// A made-up mild yard: monthly means only, so that this file needs nothing from outside.
fn yard() -> (Place, Years) {
    let month = |i: usize| {
        let warmth = -libm::cos((i as f64 - 0.5) * std::f64::consts::TAU / 12.0);
        MonthMeans {
            tmin_c: 5.0 + 6.0 * warmth,
            tmax_c: 14.0 + 8.0 * warmth,
            spread_k: 3.0,
            rain_mm: 60.0,
            rain_days: 10.0,
        }
    };
    let place = Place::new(44.0, None).unwrap();
    let months = YearOfMonths(std::array::from_fn(month));
    let years = place.years(&Source::Monthly(Box::new(months)), 11).unwrap();
    (place, years)
}

fn setting(place: Place, years: &Years) -> Setting<'_> {
    Setting {
        place,
        years,
        forage: Climate::Temperate.forage(place.latitude),
        warmer_k: 0.0,
        forecast: None,
        calibration: Calibration::default(),
    }
}

fn colony() -> Colony {
    Colony {
        bees: 15_000.0,
        brood_cells: 4000.0,
        honey_kg: Mass::kg(15.0),
        unripe_kg: Mass::ZERO,
        pollen_kg: None,
        queen: Queen::Laying,
        room_kg: Mass::kg(50.0),
    }
}

fn winter() -> Question {
    Question {
        runs: 200,
        ..Question::new(date(2026, 10, 1), date(2027, 4, 1))
    }
}

/// With our extensions held still (endless full season, food and pollen; Khoury's laying; no death
/// in the hive) the daily step must settle on the published plateau of 2013: it was written from the
/// same equations, but in other code, with brood by age and steps of a day.
#[test]
fn the_daily_step_settles_on_the_published_plateau() {
    let published = y2013::Parameters::default();
    for m in [0.15_f32, 0.2, 0.24, 0.3] {
        let plateau = published.plateau(f64::from(m)).unwrap();
        // a day's step takes the idle death too; what is left to flying makes up m
        let traits = Traits {
            laying: Lane::splat(2000.0),
            eats: Lane::ZERO,
            forages: Lane::ZERO,
            forager_death: Lane::splat(m - 0.02),
            hive_death: Lane::ZERO,
            room: Lane::splat(1000.0),
            heating: Lane::ZERO,
        };
        let row = DayRow {
            rest: 0.0,
            air: 20.0,
            flight: 1.0,
            nectar: 0.0,
            pollen: 1.0,
            season: 1.0,
            wintering: 0.0,
            returning: 0.0,
        };
        let mut colonies = Colonies::new(&Start {
            bees: Lane::splat(24_000.0),
            winter_share: 0.0,
            forager_share: 0.33,
            brood: [0.0; 3],
            honey: Lane::splat(500.0),
            unripe: 0.0,
            pollen: 2.0,
        });
        let weather = Weather::of([row.pack(); 8]);
        for _ in 0..4000 {
            colonies.day(&traits, &weather);
        }
        let (hive, foragers) = (colonies.hive.to_array()[0], colonies.foragers.to_array()[0]);
        // pollen stays just under full, so its factor costs a twentieth of the laying: L is 2000 * p/(p + 0.1)
        let pollen = f64::from(colonies.pollen.to_array()[0]);
        let laying = 2000.0 * pollen / (pollen + 0.1);
        let expected = y2013::Parameters {
            laying,
            ..published
        }
        .plateau(f64::from(m))
        .unwrap();
        for (what, ours, theirs) in [
            ("hive bees", f64::from(hive), expected.hive),
            ("foragers", f64::from(foragers), expected.foragers),
        ] {
            let off = (ours / theirs - 1.0).abs();
            assert!(
                off < 0.005,
                "m={m} {what}: ours {ours}, published equations {theirs}"
            );
        }
        assert!(
            (expected.hive / plateau.hive - 1.0).abs() < 0.12,
            "the factor is small"
        );
    }
}

#[test]
fn a_seed_gives_one_answer_on_every_machine() {
    let (place, years) = yard();
    let answer = reserve(&setting(place, &years), &colony(), &winter()).unwrap();
    // Golden value: to the last bit, native and WebAssembly alike. It changes only when a figure or
    // an equation does; then say so in the changelog.
    assert_eq!(answer.needed_kg.unwrap().to_kg().to_bits(), GOLDEN_NEEDED);
    let again = reserve(&setting(place, &years), &colony(), &winter()).unwrap();
    assert_eq!(answer, again);
}
const GOLDEN_NEEDED: u64 = 4_624_801_947_679_981_568;

#[test]
fn bees_and_stores_stay_in_bounds_for_two_years() {
    let (place, years) = yard();
    let span = Span {
        from: date(2026, 3, 1),
        days: 730,
        runs: 64,
        seed: 3,
    };
    let ensemble = Ensemble::new(&setting(place, &years), &colony(), &span).unwrap();
    let (honey, unripe) = ensemble.own_stores();
    for group in ensemble.groups() {
        ensemble.live(group, &WhatIf::default(), honey, unripe, |day, colonies| {
            for lane in 0..8 {
                let of = |x: Lane| x.to_array()[lane];
                let (bees, stores) = (of(colonies.bees()), of(colonies.stores()));
                assert!((0.0..120_000.0).contains(&bees), "day {day}: {bees} bees");
                assert!((0.0..=50.01).contains(&stores), "day {day}: {stores} kg");
                assert!(of(colonies.brood()) >= 0.0 && of(colonies.pollen) >= 0.0);
            }
            true
        });
    }
}

#[test]
fn what_should_raise_the_need_raises_it() {
    let (place, years) = yard();
    let setting = setting(place, &years);
    let ensemble = Ensemble::new(&setting, &colony(), &winter().span().unwrap()).unwrap();
    let need = |what_if: WhatIf| quantile(&needs(&ensemble, &what_if), 0.95).unwrap().to_kg();
    let usual = need(WhatIf::default());
    assert!(
        need(WhatIf {
            eats: 1.3,
            ..WhatIf::default()
        }) > usual * 1.15
    );
    assert!(
        need(WhatIf {
            forages: 0.0,
            ..WhatIf::default()
        }) >= usual
    );
    let sure = |share| quantile(&needs(&ensemble, &WhatIf::default()), share).unwrap();
    assert!(sure(0.5) < sure(0.9) && sure(0.9) < sure(0.99));
}

#[test]
fn the_outlook_takes_what_it_is_told_and_loses_nothing() {
    let (place, years) = yard();
    let setting = setting(place, &years);
    let span = Span {
        from: date(2026, 8, 1),
        days: 364,
        runs: 128,
        seed: 2,
    };
    let take = |kg: f64| outlook(&setting, &colony(), &span, Mass::kg(kg), 0.95).unwrap();
    let (none, five) = (take(0.0), take(5.0));
    assert_eq!(none.weeks.len(), 52);
    let apart = none.weeks[0].stores_kg.p50 - five.weeks[0].stores_kg.p50;
    assert!((apart - 5.0).abs() < 0.3, "{apart}");
    for (a, b) in none.weeks.iter().zip(&five.weeks) {
        assert!(a.alive >= b.alive - 1e-9);
        let fan = a.stores_kg;
        assert!(
            fan.p5 <= fan.p25 && fan.p25 <= fan.p50 && fan.p50 <= fan.p75 && fan.p75 <= fan.p95
        );
    }
    let too_much = outlook(&setting, &colony(), &span, Mass::kg(16.0), 0.95);
    assert!(matches!(too_much, Err(SeasonError::TakeTooMuch { .. })));
}

#[test]
fn colonies_that_cannot_be_are_refused_in_clear_words() {
    let (place, years) = yard();
    let ask = |colony: Colony| reserve(&setting(place, &years), &colony, &winter()).unwrap_err();
    let queenless = ask(Colony {
        queen: Queen::Missing,
        ..colony()
    });
    assert!(
        queenless
            .to_string()
            .starts_with("without a laying queen no stores carry")
    );
    assert_eq!(
        ask(Colony {
            bees: 0.0,
            ..colony()
        }),
        SeasonError::NoBees
    );
    assert!(matches!(
        ask(Colony {
            bees: f64::NAN,
            ..colony()
        }),
        SeasonError::Bees { .. }
    ));
    let full = ask(Colony {
        honey_kg: Mass::kg(60.0),
        ..colony()
    });
    assert_eq!(
        full.to_string(),
        "60.0 kg of stores do not fit a body that has room for 50.0 kg; check combs and measures"
    );
    let back = Question {
        until: date(2026, 9, 1),
        ..winter()
    };
    let setting = setting(place, &years);
    assert!(matches!(
        reserve(&setting, &colony(), &back),
        Err(SeasonError::Dates { .. })
    ));
    let certain = Question {
        sure: 1.0,
        ..winter()
    };
    assert!(matches!(
        reserve(&setting, &colony(), &certain),
        Err(SeasonError::Sure(_))
    ));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// The search is only right if a run that lives on so much honey also lives on more.
    #[test]
    fn more_honey_never_hurts(seed in 0_u64..1000, bees in 3000.0..40_000.0_f64, more in 0.2..15.0_f32) {
        let (place, years) = yard();
        let colony = Colony { bees, ..colony() };
        let span = Span { from: date(2026, 10, 1), days: 190, runs: 8, seed };
        let ensemble = Ensemble::new(&setting(place, &years), &colony, &span).unwrap();
        let needed = needs(&ensemble, &WhatIf::default());
        let trial = Lane::new(std::array::from_fn(|l| (needed[l] + more).min(50.0)));
        let end = ensemble.live(0, &WhatIf::default(), trial, 0.0, |_, _| true).alive.to_array();
        let less = Lane::new(std::array::from_fn(|l| (needed[l] - 0.25 - more).max(0.0)));
        let poorer = ensemble.live(0, &WhatIf::default(), less, 0.0, |_, _| true).alive.to_array();
        for l in 0..8 {
            if needed[l].is_finite() {
                prop_assert!(end[l] > 0.5, "lives on {} but not on {}", needed[l], trial.to_array()[l]);
                prop_assert!(poorer[l] < 0.5 || needed[l] < 0.3 + more, "lives on less than {}", needed[l]);
            }
        }
    }
}
