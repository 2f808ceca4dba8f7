//! Tolerances and the packers' rules, against the directive's table.

mod reference;

use comb::Mass;
use honey::Region;
use honey::net_quantity::{SampleVerdict, sample_test, tolerable_error};
use proptest::prelude::*;
use reference::{figure, rows};

const TABLE: &str = include_str!("reference/net-quantity-tolerance.csv");

fn grams(region: Region, nominal: f64) -> f64 {
    let got = tolerable_error(region, Mass::grams(nominal));
    got.unwrap_or_else(|e| panic!("{nominal}: {e}")).to_grams()
}

/// The row's own arithmetic at a nominal quantity, percentages rounded up to 0.1 g in the EU.
fn expected(row: &reference::Row, nominal: f64, round: bool) -> f64 {
    match (figure(row, "tolerance_g"), figure(row, "tolerance_pct")) {
        (Some(grams), _) => grams,
        (None, Some(percent)) if round => {
            // whole tenths of a milligram, so that the ceiling is of exact figures
            let exact = (nominal * percent * 100.0).round() as u64;
            exact.div_ceil(1000) as f64 / 10.0
        }
        (None, Some(percent)) => nominal * percent / 100.0,
        (None, None) => panic!("no tolerance in {row:?}"),
    }
}

#[test]
fn every_row_holds_at_both_ends_and_in_the_middle() {
    let (mut european, mut american) = (0, 0);
    for row in rows(TABLE) {
        let us = row["system"] == "US-MAV";
        let region = if us { Region::Us } else { Region::Uk };
        let from = figure(&row, "from_g").unwrap();
        let to = figure(&row, "to_g").unwrap_or(25_000.0);
        let first = if us { from + 1.0 } else { from };
        for nominal in [first, f64::midpoint(first, to).round(), to] {
            let want = expected(&row, nominal, !us);
            let got = grams(region, nominal);
            assert!(
                (got - want).abs() < 1e-6,
                "{nominal} g of {row:?}: {got}, not {want}"
            );
        }
        if us {
            american += 1;
        } else {
            european += 1;
        }
    }
    assert_eq!((european, american), (9, 23));
}

#[test]
fn known_jars_have_their_known_tolerance() {
    // reference notes, section 10 (computed there from the table)
    let table = [
        (28.0, 2.6),
        (50.0, 4.5),
        (113.0, 5.1),
        (200.0, 9.0),
        (227.0, 9.0),
        (250.0, 9.0),
        (340.0, 10.2),
        (375.0, 11.3),
        (454.0, 13.7),
        (500.0, 15.0),
        (907.0, 15.0),
        (1000.0, 15.0),
        (1134.0, 17.1),
        (1360.0, 20.4),
    ];
    for (nominal, tne) in table {
        for region in [Region::Eu, Region::Uk, Region::Codex] {
            let got = grams(region, nominal);
            assert!((got - tne).abs() < 1e-9, "{nominal} g: {got}, not {tne}");
        }
    }
    for (region, bad) in [
        (Region::Eu, 4.9),
        (Region::Eu, 10_001.0),
        (Region::Uk, 25_001.0),
        (Region::Us, 2_631.0),
        (Region::Us, f64::NAN),
    ] {
        let told = tolerable_error(region, Mass::grams(bad)).unwrap_err();
        assert!(told.to_string().contains("covers") || told.to_string().contains("ends"));
    }
}

fn jars(weights: &[f64]) -> Vec<Mass> {
    weights.iter().copied().map(Mass::grams).collect()
}

#[test]
fn the_three_rules_are_told_apart() {
    // 340 g: T1 329.8, T2 319.6 (reference notes, section 10)
    let test =
        |weights: &[f64]| sample_test(Region::Uk, Mass::grams(340.0), &jars(weights)).unwrap();
    let good = test(&[341.0, 340.5, 339.0, 342.0]);
    assert!((good.t1_kg.to_grams() - 329.8).abs() < 1e-9, "{good:?}");
    assert!((good.t2_kg.to_grams() - 319.6).abs() < 1e-9, "{good:?}");
    assert_eq!(good.average_system, SampleVerdict::Passes);
    // one is under nominal: lawful by the average, not by the minimum system
    assert_eq!(good.minimum_system, SampleVerdict::Fails);
    // mean short by a hair
    assert_eq!(test(&[340.0, 339.9]).average_system, SampleVerdict::Fails);
    assert_eq!(test(&[340.0, 340.0]).average_system, SampleVerdict::Passes);
    // one non-standard jar of few: weigh more; of forty: allowed
    let mut weights = vec![345.0; 9];
    weights.push(325.0);
    let few = test(&weights);
    assert_eq!(
        few.average_system,
        SampleVerdict::WeighMore { at_least: 40 }
    );
    weights.resize(40, 345.0);
    assert_eq!(test(&weights).average_system, SampleVerdict::Passes);
    // 329.8 itself is not below T1
    assert_eq!(test(&[329.8, 360.0]).below_t1, 0);
    // one inadequate jar spoils any batch
    weights.resize(400, 345.0);
    weights.push(319.5);
    assert_eq!(test(&weights).average_system, SampleVerdict::Fails);
    // US: no jar short by more than the variation
    let us = |weights: &[f64]| sample_test(Region::Us, Mass::grams(340.0), &jars(weights)).unwrap();
    assert_eq!(us(&[350.0, 323.7]).average_system, SampleVerdict::Fails);
    let within = us(&[360.0, 323.8]);
    assert_eq!(within.average_system, SampleVerdict::Passes);
    assert!(sample_test(Region::Uk, Mass::grams(340.0), &[]).is_err());
}

proptest! {
    #[test]
    fn percentages_never_round_down(nominal in 5_u32..10_000) {
        let got = grams(Region::Eu, f64::from(nominal));
        let tenths = got * 10.0;
        prop_assert!((tenths - tenths.round()).abs() < 1e-6, "{} g: {}", nominal, got);
        // and by less than a tenth up, against the plain share where the row is a share
        let share = match nominal {
            5..50 => 9.0, 101..200 => 4.5, 301..500 => 3.0, 1001.. => 1.5, _ => return Ok(()),
        };
        let plain = f64::from(nominal) * share / 100.0;
        prop_assert!(got - plain > -1e-9 && got - plain < 0.1, "{}: {} {}", nominal, got, plain);
    }
}
