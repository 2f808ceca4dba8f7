//! How fast combs ripen: a Bayesian filter on the logit of the capped share.
//!
//! Per comb the filter holds the mean logit of its two faces and half their difference; all combs of
//! a yard share one rate of capping (logit units a day in full flow), so what one hive shows speeds
//! or slows the forecast of the others. Given the rate the combs are independent; the rate stands on
//! a small grid, each comb on a grid of (mean, difference) under each rate, and every step is then
//! exact up to the grid: no sampling, no seed.
//!
//! Not modelled: bees that deepen a comb (its capped share falls), combs that are cut. Call
//! [`Ripening::start_over`] for these.
//!
//! ```
//! use season::ripening::{Flow, Looked, Reading, Ripening, Word};
//! let mut yard = Ripening::default();
//! let comb = yard.add_comb();
//! yard.read(comb, Reading::word(Looked::Left, Word::Third))?;
//! yard.read(comb, Reading::word(Looked::Right, Word::Half))?;
//! yard.pass(4, Flow::Good);
//! yard.read(comb, Reading::word(Looked::Both, Word::TwoThirds))?;
//! let ahead = yard.ripe_by(comb, &[Flow::Good], 28)?;
//! assert!(ahead.on_day(7) > ahead.on_day(0));
//! # Ok::<(), season::SeasonError>(())
//! ```

mod grid;
mod outlook;
mod reading;

use comb::Share;
use serde::{Deserialize, Serialize};

use crate::SeasonError;
use crate::figures::{
    RIPEN_DEARTH, RIPEN_MEMORY, RIPEN_RATE, RIPEN_RATE_SPREAD, RIPEN_THIN, RIPEN_WANDER,
};
use grid::CombGrid;
pub use outlook::{Outlook, RipeForecast};
pub use reading::{Looked, Reading, Word};

/// Points of the rate's grid and how many spreads it reaches to either side.
const RATES: usize = 11;
const RATE_REACH: f64 = 2.6;
/// Days after which next to nothing is left of what was learnt of the rate (less than one part in two
/// hundred): older readings need not be given again.
pub const REMEMBERED_DAYS: u32 = (8.0 * RIPEN_MEMORY.value) as u32;
/// Variance that a comb's own wander adds in a day of full flow.
const WANDER_VARIANCE: f64 = RIPEN_WANDER.value * RIPEN_WANDER.value;

/// How well nectar comes in, as far as ripening is concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Flow {
    /// A flow: bees build, cap and fly.
    Good,
    /// A little comes in.
    Thin,
    /// Nothing comes in, or they cannot fly.
    Dearth,
}

impl Flow {
    /// Speed of capping against full flow. Common practice has it that combs stand still in a
    /// dearth; the figures are ours, no source.
    pub const fn speed(self) -> f64 {
        match self {
            Self::Good => 1.0,
            Self::Thin => RIPEN_THIN.value,
            Self::Dearth => RIPEN_DEARTH.value,
        }
    }
}

/// When a comb counts as ripe: mean capped share over both faces, and the least of either face.
/// Common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RipeRule {
    mean: Share,
    face: Share,
}

impl RipeRule {
    /// A rule with its own mean; no face may be under one half.
    ///
    /// # Errors
    /// [`SeasonError::Rule`] unless `mean` lies between two thirds and three quarters.
    pub fn new(mean: Share) -> Result<Self, SeasonError> {
        let (low, high) = (2.0 / 3.0, 0.75);
        if (low - 0.01..=high + 0.01).contains(&mean.get()) {
            let face = Share::HALF;
            Ok(Self { mean, face })
        } else {
            let (rule, value) = ("the mean capped share of a ripe comb", mean.get());
            Err(SeasonError::Rule {
                rule,
                low,
                high,
                value,
            })
        }
    }
    /// The least mean capped share of both faces.
    pub const fn mean(self) -> Share {
        self.mean
    }
    /// The least capped share of either face.
    pub const fn face(self) -> Share {
        self.face
    }
}

impl Default for RipeRule {
    fn default() -> Self {
        Self {
            mean: Share::clamped(2.0 / 3.0),
            face: Share::HALF,
        }
    }
}

/// A comb of this filter; its number is the order of adding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct CombKey(pub usize);

/// A figure with the band that holds it four times in five.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Band {
    /// One in ten lies below.
    pub low: f64,
    /// As many above as below.
    pub median: f64,
    /// One in ten lies above.
    pub high: f64,
}

/// The filter of one yard. Build it anew from the flow's readings whenever it is asked; it is cheap.
#[derive(Debug, Clone)]
pub struct Ripening {
    rule: RipeRule,
    rates: [f64; RATES],
    prior: [f64; RATES],
    weights: [f64; RATES],
    combs: Vec<Comb>,
}

/// One comb; what has passed since it was last read is reckoned when it is asked for.
#[derive(Debug, Clone)]
struct Comb {
    grid: CombGrid,
    /// Days of full flow that have passed since.
    behind: f64,
}

impl Comb {
    fn unread() -> Self {
        Self {
            grid: CombGrid::unread(RATES),
            behind: 0.0,
        }
    }

    /// Lets full-flow days go by on the grid.
    fn drift(&mut self, rates: &[f64; RATES], days: f64) {
        if days > 0.0 {
            for (i, rate) in rates.iter().enumerate() {
                self.grid.drift(i, rate * days, WANDER_VARIANCE * days);
            }
        }
    }
}

impl Default for Ripening {
    fn default() -> Self {
        Self::new(RipeRule::default())
    }
}

impl Ripening {
    /// A yard of which nothing has been seen yet.
    pub fn new(rule: RipeRule) -> Self {
        let step = 2.0 * RATE_REACH / (RATES - 1) as f64;
        let spreads: [f64; RATES] = std::array::from_fn(|i| -RATE_REACH + step * i as f64);
        let density = spreads.map(|z| libm::exp(-0.5 * z * z));
        let total: f64 = density.iter().sum();
        let prior = density.map(|p| p / total);
        Self {
            rule,
            rates: spreads.map(|z| RIPEN_RATE.value * libm::exp(RIPEN_RATE_SPREAD.value * z)),
            prior,
            weights: prior,
            combs: Vec::new(),
        }
    }

    /// Takes up a comb of which nothing has been read yet.
    pub fn add_comb(&mut self) -> CombKey {
        self.combs.push(Comb::unread());
        CombKey(self.combs.len() - 1)
    }

    /// Forgets what was read of a comb (it was cut, or the bees drew it deeper); the yard's rate is
    /// kept.
    ///
    /// # Errors
    /// [`SeasonError::UnknownComb`].
    pub fn start_over(&mut self, comb: CombKey) -> Result<(), SeasonError> {
        let known = self.combs.get_mut(comb.0);
        *known.ok_or(SeasonError::UnknownComb(comb.0))? = Comb::unread();
        Ok(())
    }

    /// Lets days go by for every comb.
    pub fn pass(&mut self, days: u32, flow: Flow) {
        if days == 0 {
            return;
        }
        let days = f64::from(days);
        for comb in &mut self.combs {
            comb.behind += flow.speed() * days;
        }
        self.fade(days);
    }

    /// What was learnt about the rate fades toward the prior.
    fn fade(&mut self, days: f64) {
        let kept = libm::exp(-std::f64::consts::LN_2 * days / RIPEN_MEMORY.value);
        for (weight, prior) in self.weights.iter_mut().zip(self.prior) {
            *weight = libm::pow(*weight, kept) * libm::pow(prior, 1.0 - kept);
        }
        normalise(&mut self.weights);
    }

    /// Takes in one reading of one comb, made today.
    ///
    /// # Errors
    /// [`SeasonError::UnknownComb`].
    pub fn read(&mut self, comb: CombKey, reading: Reading) -> Result<(), SeasonError> {
        let comb = self
            .combs
            .get_mut(comb.0)
            .ok_or(SeasonError::UnknownComb(comb.0))?;
        let behind = std::mem::take(&mut comb.behind);
        comb.drift(&self.rates, behind);
        let evidence = comb.grid.weigh(reading);
        for (weight, seen) in self.weights.iter_mut().zip(evidence) {
            *weight *= seen;
        }
        normalise(&mut self.weights);
        Ok(())
    }

    /// The yard's rate of capping in full flow, logit units a day.
    pub fn rate(&self) -> Band {
        band(self.rates.iter().copied().zip(self.weights).collect())
    }

    /// The mean capped share of a comb's two faces, `days` from now under the flow that is expected
    /// (one a day from tomorrow; the last goes on).
    ///
    /// # Errors
    /// [`SeasonError::UnknownComb`].
    pub fn capped_in(
        &self,
        comb: CombKey,
        ahead: &[Flow],
        days: usize,
    ) -> Result<Band, SeasonError> {
        let mut comb = self.comb(comb)?.clone();
        let behind = comb.behind + paces(ahead, days).last().unwrap_or(&0.0);
        comb.drift(&self.rates, behind);
        Ok(band(comb.grid.mean_shares(&self.weights)))
    }

    /// How combs ripen today and on each of the coming `horizon` days, under the flow that is expected
    /// (one a day from tomorrow; the last goes on; none given means good).
    ///
    /// # Errors
    /// [`SeasonError::UnknownComb`].
    pub fn outlook(
        &self,
        combs: &[CombKey],
        ahead: &[Flow],
        horizon: usize,
    ) -> Result<Outlook, SeasonError> {
        let combs = combs
            .iter()
            .map(|key| Ok((*key, self.comb(*key)?)))
            .collect::<Result<Vec<_>, _>>()?;
        Ok(Outlook::of(self, &combs, &paces(ahead, horizon)))
    }

    /// The [`Outlook::ripe_by`] of one comb alone.
    ///
    /// # Errors
    /// [`SeasonError::UnknownComb`].
    pub fn ripe_by(
        &self,
        comb: CombKey,
        ahead: &[Flow],
        horizon: usize,
    ) -> Result<RipeForecast, SeasonError> {
        self.outlook(&[comb], ahead, horizon)?.ripe_by(comb)
    }

    fn comb(&self, comb: CombKey) -> Result<&Comb, SeasonError> {
        self.combs
            .get(comb.0)
            .ok_or(SeasonError::UnknownComb(comb.0))
    }
}

/// Full-flow days gone by at the end of day 0, 1, ..., `horizon`.
fn paces(ahead: &[Flow], horizon: usize) -> Vec<f64> {
    let mut gone = 0.0;
    let mut paces = vec![0.0];
    for day in 0..horizon {
        let flow = ahead.get(day).or(ahead.last()).unwrap_or(&Flow::Good);
        gone += flow.speed();
        paces.push(gone);
    }
    paces
}

/// Makes them sum to one; gives what they summed to.
fn normalise(weights: &mut [f64]) -> f64 {
    let total = sum(weights);
    let scale = 1.0 / total;
    for weight in weights {
        *weight *= scale;
    }
    total
}

/// Sums in four strands, which a processor can do at once; in the same order on every machine.
fn sum(values: &[f64]) -> f64 {
    let (fours, rest) = values.as_chunks::<4>();
    let mut strands = [0.0; 4];
    for four in fours {
        for (strand, value) in strands.iter_mut().zip(four) {
            *strand += value;
        }
    }
    strands.iter().chain(rest).sum()
}

/// Distribution function of the standard normal.
fn normal_cdf(z: f64) -> f64 {
    if z.abs() > 6.0 {
        // a billionth: not worth the digits
        return if z > 0.0 { 1.0 } else { 0.0 };
    }
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// The 10, 50 and 90 % points of weighted values, each value standing for the middle of its mass.
fn band(mut values: Vec<(f64, f64)>) -> Band {
    values.sort_by(|a, b| a.0.total_cmp(&b.0));
    let total: f64 = values.iter().map(|(_, weight)| weight).sum();
    let point = |share: f64| {
        let mut below = 0.0;
        let mut last = (f64::NAN, 0.0);
        for &(value, weight) in &values {
            let middle = (below + 0.5 * weight) / total;
            if middle >= share {
                let (from, at) = if last.0.is_nan() {
                    (value, middle)
                } else {
                    last
                };
                let step = if middle > at {
                    (share - at) / (middle - at)
                } else {
                    1.0
                };
                return from + (value - from) * step.clamp(0.0, 1.0);
            }
            below += weight;
            last = (value, middle);
        }
        last.0
    };
    Band {
        low: point(0.1),
        median: point(0.5),
        high: point(0.9),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_prior_ripens_a_full_open_comb_in_one_to_two_weeks() {
        // DESIGN section 4 point 4, common practice, no source
        let mut yard = Ripening::default();
        let comb = yard.add_comb();
        for looked in [Looked::Left, Looked::Right] {
            yard.read(comb, Reading::word(looked, Word::Begun)).unwrap();
        }
        let [early, middle, late] = yard.ripe_by(comb, &[Flow::Good], 60).unwrap().band();
        let (early, middle, late) = (early.unwrap(), middle.unwrap(), late.unwrap());
        assert!((7.0..14.0).contains(&middle), "{middle}");
        assert!(early > 3.0 && late < 28.0, "{early} {late}");
    }

    #[test]
    fn dearth_slows_and_a_fast_yard_hurries_its_other_combs() {
        let mut yard = Ripening::default();
        let (seen, other) = (yard.add_comb(), yard.add_comb());
        for comb in [seen, other] {
            yard.read(comb, Reading::word(Looked::Both, Word::Quarter))
                .unwrap();
        }
        let good = yard.ripe_by(other, &[Flow::Good], 30).unwrap();
        let dearth = yard.ripe_by(other, &[Flow::Dearth], 30).unwrap();
        assert!(good.on_day(10) > dearth.on_day(10) + 0.2);
        let mut slow = yard.clone();
        yard.pass(4, Flow::Good);
        slow.pass(4, Flow::Good);
        yard.read(seen, Reading::word(Looked::Both, Word::All))
            .unwrap();
        slow.read(seen, Reading::word(Looked::Both, Word::Quarter))
            .unwrap();
        let (fast, slow) = (
            yard.ripe_by(other, &[Flow::Good], 9).unwrap(),
            slow.ripe_by(other, &[Flow::Good], 9).unwrap(),
        );
        assert!(fast.on_day(6) > slow.on_day(6) + 0.1);
    }

    #[test]
    fn one_open_face_keeps_a_comb_unripe() {
        let mut yard = Ripening::default();
        let comb = yard.add_comb();
        yard.read(comb, Reading::word(Looked::Left, Word::All))
            .unwrap();
        yard.read(comb, Reading::word(Looked::Right, Word::Quarter))
            .unwrap();
        assert!(yard.ripe_by(comb, &[], 0).unwrap().on_day(0) < 0.2);
    }

    #[test]
    fn unknown_combs_and_strange_rules_are_refused() {
        let mut yard = Ripening::default();
        let stray = CombKey(3);
        assert_eq!(yard.start_over(stray), Err(SeasonError::UnknownComb(3)));
        assert!(yard.ripe_by(stray, &[], 5).is_err());
        assert!(RipeRule::new(Share::clamped(0.9)).is_err());
        assert!(Reading::new(Looked::Both, Share::HALF, f64::NAN).is_err());
    }
}
