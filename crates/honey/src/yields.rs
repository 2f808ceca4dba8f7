//! What crushed comb will give, learned from the keeper's own batches.

use comb::{Mass, Share};
use serde::{Deserialize, Serialize};

use crate::HoneyError;

/// A share of the comb's weight with its usual range.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Yield {
    /// Lower end of what is usual.
    pub low: Share,
    /// Most likely.
    pub likely: Share,
    /// Upper end of what is usual.
    pub high: Share,
}

/// One batch of the keeper's own, all weighed. Without wax the rest is not known apart.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Batch {
    /// Comb cut from the bars.
    pub comb_kg: Mass,
    /// Strained honey.
    pub honey_kg: Mass,
    /// Clean wax, if it was melted and weighed.
    pub wax_kg: Option<Mass>,
}

/// What is believed before the first own batch.
struct Prior {
    low: f64,
    likely: f64,
    high: f64,
}

/// Strained honey as a share of comb weight. Source: suggested default; one reported case gave
/// 0.80 (grandmab.blogspot.com 2012; seen); status practice.
const HONEY: Prior = Prior {
    low: 0.70,
    likely: 0.80,
    high: 0.90,
};

/// Clean wax as a share of comb weight. Source: suggested default; white honey comb holds 2.6 to
/// 4.5 %, old brood comb more (seen); status practice.
const WAX: Prior = Prior {
    low: 0.025,
    likely: 0.04,
    high: 0.10,
};

/// The prior weighs as much as this many own batches (ours, no source): the keeper's second
/// batch counts as much as what we said before.
const PRIOR_BATCHES: f64 = 2.0;
/// The prior's spread weighs as much as this many batches (ours, no source).
const PRIOR_SPREAD_BATCHES: f64 = 4.0;

/// Strained honey as a share of the weight of comb crushed, from own batches (any order; may be
/// none), drawn toward the usual 0.80 (0.70 to 0.90) while they are few.
/// Source: prior as above; the mean and range follow from the normal model with a conjugate prior.
///
/// # Errors
/// [`HoneyError::NotPositive`]; [`HoneyError::OutOfRange`] when a batch gave more than its comb.
pub fn strained_honey(own: &[Batch]) -> Result<Yield, HoneyError> {
    let seen: Result<Vec<f64>, _> = own.iter().map(|b| part(b.honey_kg, b.comb_kg)).collect();
    Ok(learned(&HONEY, &seen?))
}

/// Clean wax as a share of the weight of comb crushed; batches without weighed wax are left out.
/// Usual: 0.04 (0.025 to 0.10). Source: as [`strained_honey`].
///
/// # Errors
/// As [`strained_honey`].
pub fn clean_wax(own: &[Batch]) -> Result<Yield, HoneyError> {
    let weighed = own.iter().filter_map(|b| Some((b.wax_kg?, b.comb_kg)));
    let seen: Result<Vec<f64>, _> = weighed.map(|(wax, comb)| part(wax, comb)).collect();
    Ok(learned(&WAX, &seen?))
}

/// What did not come out as honey or wax: comb less honey less wax. `None` without wax.
///
/// # Errors
/// [`HoneyError::OutOfRange`] when more came out than went in.
pub fn loss(batch: &Batch) -> Result<Option<Mass>, HoneyError> {
    let Some(wax) = batch.wax_kg else {
        return Ok(None);
    };
    part(batch.honey_kg + wax, batch.comb_kg)?;
    Ok(Some(batch.comb_kg - batch.honey_kg - wax))
}

impl Yield {
    /// Low, likely and high mass from so much comb.
    pub fn of(self, comb: Mass) -> (Mass, Mass, Mass) {
        (comb * self.low, comb * self.likely, comb * self.high)
    }
}

fn part(out: Mass, comb: Mass) -> Result<f64, HoneyError> {
    HoneyError::positive("comb weight", "kg", comb.to_kg())?;
    if !out.is_finite() || out < Mass::ZERO || out > comb {
        return Err(HoneyError::OutOfRange {
            quantity: "honey or wax from a batch",
            value: out.to_kg(),
            low: 0.0,
            high: comb.to_kg(),
            unit: "kg",
            advice: "more came out than went in; weigh comb, honey and wax again",
        });
    }
    Ok(out / comb)
}

/// Normal model, mean and spread unknown, conjugate prior. The prior's range is what its own
/// predictive gives without data; both sides then narrow or widen alike.
fn learned(prior: &Prior, seen: &[f64]) -> Yield {
    let n = seen.len() as f64;
    let mean_seen = if seen.is_empty() {
        prior.likely
    } else {
        seen.iter().sum::<f64>() / n
    };
    let kappa = PRIOR_BATCHES + n;
    let mean = (PRIOR_BATCHES * prior.likely + n * mean_seen) / kappa;
    // unit: half the prior's range is two predictive standard deviations
    let half = (prior.high - prior.low) / 2.0;
    let spread_0 = half * half / 4.0 / (1.0 + 1.0 / PRIOR_BATCHES);
    let within: f64 = seen.iter().map(|x| (x - mean_seen) * (x - mean_seen)).sum();
    let shift = mean_seen - prior.likely;
    let between = PRIOR_BATCHES * n / kappa * shift * shift;
    let spread = (PRIOR_SPREAD_BATCHES * spread_0 + within + between) / (PRIOR_SPREAD_BATCHES + n);
    let scale = libm::sqrt(spread * (1.0 + 1.0 / kappa) / (spread_0 * (1.0 + 1.0 / PRIOR_BATCHES)));
    Yield {
        low: Share::clamped(mean - (prior.likely - prior.low) * scale),
        likely: Share::clamped(mean),
        high: Share::clamped(mean + (prior.high - prior.likely) * scale),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn batch(comb: f64, honey: f64) -> Batch {
        Batch {
            comb_kg: Mass::kg(comb),
            honey_kg: Mass::kg(honey),
            wax_kg: None,
        }
    }

    #[test]
    fn without_history_the_usual_figures_come_back() {
        // reference notes, section 8: 0.80 (0.70 to 0.90); wax 0.04 (0.025 to 0.10); practice
        let honey = strained_honey(&[]).unwrap();
        let wax = clean_wax(&[]).unwrap();
        let figures = [
            honey.low,
            honey.likely,
            honey.high,
            wax.low,
            wax.likely,
            wax.high,
        ];
        for (got, want) in figures.iter().zip([0.70, 0.80, 0.90, 0.025, 0.04, 0.10]) {
            assert!((got.get() - want).abs() < 1e-12, "{got:?} {want}");
        }
    }

    #[test]
    fn own_batches_win_over_the_prior_and_narrow_the_range() {
        let two = strained_honey(&[batch(10.0, 7.0), batch(5.0, 3.5)]).unwrap();
        assert!((two.likely.get() - 0.75).abs() < 1e-12, "{two:?}");
        let many = strained_honey(&vec![batch(10.0, 7.0); 40]).unwrap();
        assert!((many.likely.get() - 0.70).abs() < 0.01, "{many:?}");
        assert!(many.high.get() - many.low.get() < 0.10, "{many:?}");
    }

    #[test]
    fn the_reported_case_gives_its_share() {
        // one crush-and-drain case: 5.5 lb comb with bars to about 2.0 kg of 2.5 kg = 0.80
        // (grandmab.blogspot.com 2012, computed); the prior must hold it
        let seen = part(Mass::kg(2.0), Mass::pounds(5.5)).unwrap();
        assert!((HONEY.low..=HONEY.high).contains(&seen), "{seen}");
    }

    #[test]
    fn more_honey_than_comb_is_refused() {
        assert!(strained_honey(&[batch(5.0, 5.1)]).is_err());
        assert!(strained_honey(&[batch(0.0, 0.0)]).is_err());
    }
}
