//! What is foretold: the probability of being ripe, day by day, of one comb and of several together.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::grid::{CELL_VARIANCE, ripe_from};
use super::{Comb, CombKey, RATES, Ripening, WANDER_VARIANCE, normal_cdf};
use crate::SeasonError;

/// Probability that a comb is ripe, day by day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RipeForecast {
    by_day: Vec<f64>,
}

impl RipeForecast {
    /// One probability a day, today first; never falling.
    pub fn by_day(&self) -> &[f64] {
        &self.by_day
    }
    /// Probability of being ripe `days` from now; past the horizon the last one known.
    pub fn on_day(&self, days: usize) -> f64 {
        let last = self.by_day.len().saturating_sub(1);
        self.by_day.get(days.min(last)).copied().unwrap_or(0.0)
    }
    /// Days from now until the probability reaches `sure`, between days by straight line; `None`
    /// when it does not within the horizon.
    pub fn days_until(&self, sure: f64) -> Option<f64> {
        let after = self.by_day.iter().position(|&p| p >= sure)?;
        if after == 0 {
            return Some(0.0);
        }
        let (before, reached) = (self.by_day[after - 1], self.by_day[after]);
        Some((after - 1) as f64 + (sure - before) / (reached - before))
    }
    /// The band of the ripe day, in days from now; an end is `None` when it lies past the horizon.
    pub fn band(&self) -> [Option<f64>; 3] {
        [0.1, 0.5, 0.9].map(|sure| self.days_until(sure))
    }
}

/// How some combs ripen.
#[derive(Debug, Clone, Default)]
pub struct Outlook {
    /// How likely each rate of capping is.
    weights: [f64; RATES],
    days: usize,
    /// Probability of being ripe, per day and rate.
    combs: BTreeMap<CombKey, Vec<[f64; RATES]>>,
}

impl Outlook {
    /// `paces`: full-flow days gone by from now, one a day, today first.
    pub(super) fn of(yard: &Ripening, combs: &[(CombKey, &Comb)], paces: &[f64]) -> Self {
        let ripe_from = ripe_from(yard.rule);
        let normal = Normal::table();
        let ahead = |comb: &Comb| {
            let mut days = vec![[0.0; RATES]; paces.len()];
            for (i, rate) in yard.rates.iter().enumerate() {
                let short = comb.grid.shortfall(i, &ripe_from);
                let farthest = short.last().map_or(0.0, |(gap, _)| *gap);
                for (day, pace) in days.iter_mut().zip(paces) {
                    let gone = comb.behind + pace;
                    let wander = libm::sqrt(WANDER_VARIANCE * gone + CELL_VARIANCE);
                    let reach = rate * gone;
                    // most combs of long ago are ripe whatever the rate
                    if reach - farthest > Normal::REACH * wander {
                        day[i] = 1.0;
                        continue;
                    }
                    let ripe = |(gap, mass): &(f64, f64)| mass * normal.cdf((reach - gap) / wander);
                    day[i] = short.iter().map(ripe).sum();
                }
            }
            days
        };
        Self {
            weights: yard.weights,
            days: paces.len(),
            combs: combs
                .iter()
                .map(|(key, comb)| (*key, ahead(comb)))
                .collect(),
        }
    }

    fn comb(&self, comb: CombKey) -> Result<&[[f64; RATES]], SeasonError> {
        let known = self.combs.get(&comb).map(Vec::as_slice);
        known.ok_or(SeasonError::UnknownComb(comb.0))
    }

    /// Probability that a comb is ripe, today and on each of the coming days.
    ///
    /// # Errors
    /// [`SeasonError::UnknownComb`] when it is not in this outlook.
    pub fn ripe_by(&self, comb: CombKey) -> Result<RipeForecast, SeasonError> {
        let all_rates =
            |ripe: &[f64; RATES]| self.weights.iter().zip(ripe).map(|(w, p)| w * p).sum();
        let mut by_day: Vec<f64> = self.comb(comb)?.iter().map(all_rates).collect();
        never_falling(&mut by_day);
        Ok(RipeForecast { by_day })
    }

    /// The first day on which at least `wanted` of `combs` are ripe with probability `sure`.
    /// Combs hang together through the shared rate, which is taken into account. `None` when that
    /// does not come within the horizon.
    ///
    /// # Errors
    /// [`SeasonError::UnknownComb`] when one is not in this outlook.
    pub fn first_day_with(
        &self,
        wanted: usize,
        combs: &[CombKey],
        sure: f64,
    ) -> Result<Option<usize>, SeasonError> {
        let combs = combs
            .iter()
            .map(|comb| self.comb(*comb))
            .collect::<Result<Vec<_>, _>>()?;
        Ok((0..self.days).find(|&day| {
            let chance: f64 = (0..RATES)
                .map(|i| {
                    let ripe = combs.iter().map(|days| days[day][i]);
                    self.weights[i] * at_least(wanted, ripe)
                })
                .sum();
            chance >= sure
        }))
    }
}

/// The distribution function of the standard normal, read off a table between its points: within 5e-6
/// (the error of linear interpolation, step^2 / 8 times the greatest curvature, 0.242).
struct Normal(Vec<f64>);

impl Normal {
    /// Beyond this a billionth is left.
    const REACH: f64 = 6.0;
    const STEPS: usize = 1024;
    const STEP: f64 = 2.0 * Self::REACH / Self::STEPS as f64;

    fn table() -> Self {
        let at = |i: usize| normal_cdf(i as f64 * Self::STEP - Self::REACH);
        Self((0..=Self::STEPS + 1).map(at).collect())
    }

    fn cdf(&self, z: f64) -> f64 {
        let place = (z.clamp(-Self::REACH, Self::REACH) + Self::REACH) / Self::STEP;
        let below = place as usize;
        match self.0.get(below..=below + 1) {
            Some(&[low, high]) => low + (high - low) * (place - below as f64),
            _ => 1.0,
        }
    }
}

/// Probability that at least `wanted` of independent events come true.
fn at_least(wanted: usize, chances: impl Iterator<Item = f64>) -> f64 {
    // counts[k]: probability of exactly k so far; the last entry gathers `wanted` and more
    let mut counts = vec![0.0; wanted + 1];
    counts[0] = 1.0;
    for chance in chances {
        for k in (0..=wanted).rev() {
            let stays = if k == wanted { 1.0 } else { 1.0 - chance };
            let arrives = if k > 0 { counts[k - 1] * chance } else { 0.0 };
            counts[k] = counts[k] * stays + arrives;
        }
    }
    counts[wanted]
}

fn never_falling(values: &mut [f64]) {
    let mut highest = 0.0;
    for value in values {
        highest = f64::max(highest, *value);
        *value = highest;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_of_the_normal_distribution_is_within_its_error() {
        let normal = Normal::table();
        for i in -700..=700 {
            let z = f64::from(i) / 100.0 + 0.003;
            let off = normal.cdf(z) - normal_cdf(z);
            assert!(off.abs() < 5e-6, "{z}: {off}");
        }
    }

    #[test]
    fn at_least_counts_like_pencil_and_paper() {
        // two coins: at least one head 3/4, both 1/4, none asked 1
        let coins = || [0.5, 0.5].into_iter();
        assert!((at_least(1, coins()) - 0.75).abs() < 1e-15);
        assert!((at_least(2, coins()) - 0.25).abs() < 1e-15);
        assert!((at_least(0, coins()) - 1.0).abs() < 1e-15);
        assert!(at_least(3, coins()).abs() < 1e-15);
    }
}
