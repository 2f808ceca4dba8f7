//! What the keeper's weighed combs may do to a prediction, and what they may not.

use comb::calibration::{NOISE_SD, PRIOR_SD, WeighedComb};
use comb::{Calibration, Mass, MassRange};
use proptest::prelude::*;

fn combs(ratios: &[f64]) -> Vec<WeighedComb> {
    ratios
        .iter()
        .map(|ratio| WeighedComb {
            predicted_kg: Mass::kg(2.5),
            weighed_kg: Mass::kg(2.5 * ratio),
        })
        .collect()
}

fn from_ratios(ratios: &[f64]) -> Calibration {
    Calibration::from_weighed(&combs(ratios)).expect("every mass is above 0")
}

fn range(low: f64, best: f64, high: f64) -> MassRange {
    MassRange::new(Mass::kg(low), Mass::kg(best), Mass::kg(high)).expect("low, best, high")
}

#[test]
fn no_weighed_comb_is_the_prior() {
    assert_eq!(Calibration::from_weighed(&[]).unwrap(), Calibration::PRIOR);
    let predicted = range(2.0, 2.7, 3.6);
    let same = Calibration::PRIOR.apply(predicted);
    for (a, b) in [
        (same.low(), predicted.low()),
        (same.best(), predicted.best()),
        (same.high(), predicted.high()),
    ] {
        assert!(
            (a - b).abs() < Mass::grams(0.001),
            "{same} instead of {predicted}"
        );
    }
}

#[test]
fn the_posterior_agrees_with_numerical_integration() {
    // Bayes' rule summed over a fine grid of log ratios, nothing of the closed form in it
    let ratios = [0.80, 0.91, 1.05];
    let (mut weight, mut first, mut second) = (0.0, 0.0, 0.0);
    for i in -20_000..=20_000 {
        let log_ratio = f64::from(i) * 5e-5;
        let mut log_density = -log_ratio * log_ratio / (2.0 * PRIOR_SD * PRIOR_SD);
        for ratio in ratios {
            let off = libm::log(ratio) - log_ratio;
            log_density -= off * off / (2.0 * NOISE_SD * NOISE_SD);
        }
        let density = libm::exp(log_density);
        weight += density;
        first += density * log_ratio;
        second += density * log_ratio * log_ratio;
    }
    let mean = first / weight;
    let sd = libm::sqrt(second / weight - mean * mean);
    let posterior = from_ratios(&ratios);
    assert!((libm::log(posterior.factor()) - mean).abs() < 1e-6);
    assert!((posterior.spread() - sd).abs() < 1e-6);
}

#[test]
fn many_weighed_combs_carry_the_factor_to_their_mean() {
    let yard = from_ratios(&[0.8; 400]);
    assert!((yard.factor() - 0.8).abs() < 0.002, "{}", yard.factor());
    assert!(yard.spread() < 0.006);
}

#[test]
fn one_slip_of_unit_does_not_carry_the_yard() {
    // the fifth comb was read in pounds
    let clean = from_ratios(&[0.9; 4]);
    let slipped = from_ratios(&[0.9, 0.9, 0.9, 0.9, 0.9 * 2.2046]);
    assert_eq!((clean.out_of_line(), slipped.out_of_line()), (0, 1));
    assert!(
        slipped.factor() / clean.factor() < 1.12,
        "{}",
        slipped.factor() / clean.factor()
    );
}

#[test]
fn a_mass_that_is_none_is_refused() {
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let weighed = WeighedComb {
            predicted_kg: Mass::kg(2.0),
            weighed_kg: Mass::kg(bad),
        };
        assert!(Calibration::from_weighed(&[weighed]).is_err(), "{bad}");
        let predicted = WeighedComb {
            predicted_kg: Mass::kg(bad),
            weighed_kg: Mass::kg(2.0),
        };
        assert!(Calibration::from_weighed(&[predicted]).is_err(), "{bad}");
    }
}

proptest! {
    #[test]
    fn the_order_of_weighing_does_not_matter(mut ratios in prop::collection::vec(0.3..3.0, 1..12)) {
        let one_way = from_ratios(&ratios);
        ratios.reverse();
        prop_assert_eq!(one_way, from_ratios(&ratios));
        ratios.rotate_left(1);
        prop_assert_eq!(one_way, from_ratios(&ratios));
    }

    #[test]
    fn the_factor_stands_between_prior_and_combs(ratio in 0.65..1.5f64, n in 1usize..40) {
        let factor = from_ratios(&vec![ratio; n]).factor();
        prop_assert!(factor >= ratio.min(1.0) - 1e-12 && factor <= ratio.max(1.0) + 1e-12);
        let more = from_ratios(&vec![ratio; n + 1]).factor();
        prop_assert!((more - ratio).abs() <= (factor - ratio).abs() + 1e-12);
    }

    #[test]
    fn every_weighed_comb_narrows_the_range(ratio in 0.7..1.4f64, n in 0usize..40) {
        let predicted = range(1.9, 2.7, 3.7);
        let width = |n: usize| {
            let range = from_ratios(&vec![ratio; n]).apply(predicted);
            range.high() / range.low()
        };
        prop_assert!(width(n + 1) <= width(n) + 1e-12);
        // single combs still scatter
        prop_assert!(width(n) > libm::exp(2.0 * 1.6 * NOISE_SD));
    }

    #[test]
    fn a_range_stays_in_order(low in 0.0..1.0, to_best in 0.0..3.0, to_high in 0.0..3.0,
                              ratios in prop::collection::vec(0.1..9.0, 0..6)) {
        let predicted = range(low, low + to_best, low + to_best + to_high);
        let moved = from_ratios(&ratios).apply(predicted);
        prop_assert!(Mass::ZERO <= moved.low() && moved.low() <= moved.best());
        prop_assert!(moved.best() <= moved.high() && moved.high().is_finite());
    }
}
