//! The keeper's own weighed combs bring the prediction to this yard's bees and this keeper's eye.
//!
//! For each weighed comb the logarithm of weighed over predicted is a reading of one unknown, the
//! yard's log ratio. It has a normal prior around 0, each reading a normal error, so the posterior
//! is in closed form:
//!
//! `1/s^2 = 1/tau^2 + n/sigma^2`,  `m = s^2 * sum(r) / sigma^2`
//!
//! Few combs move the factor little (shrinkage), many carry it to their mean.

use serde::{Deserialize, Serialize};

use crate::judged::Judged;
use crate::order::InOrder as _;
use crate::{CombError, Mass, MassRange};

/// tau: how far yards differ from the formula, as a logarithm. With 0.15 a full deep frame of
/// 2.7 kg predicted spans 2.1 to 3.5 kg, about what reference/colony.md B lists as seen (2.2 to
/// 3.6). Status: common practice, no source.
pub const PRIOR_SD: f64 = 0.15;
/// sigma: how far single combs of one yard scatter, as a logarithm: 10 %.
/// Status: common practice, no source.
pub const NOISE_SD: f64 = 0.10;
/// A reading counts at most this far from the formula: a factor of 1.6 either way. Beyond it a
/// slip (pounds for kilograms is a factor of 2.2) is likelier than such a comb, and one slip must
/// not carry the yard. Status: common practice, no source.
pub const GREATEST_LOG_RATIO: f64 = 0.47;
/// Nine times in ten a normal figure lies within this many standard deviations.
pub(crate) const NINETY_PER_CENT: f64 = 1.645;

/// One comb that was weighed, and what had been predicted for it with [`Calibration::PRIOR`].
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeighedComb {
    /// Best guess from geometry alone, of the same thing that was weighed.
    pub predicted_kg: Mass,
    /// By the scale.
    pub weighed_kg: Mass,
}

impl WeighedComb {
    fn log_ratio(self) -> Result<f64, CombError> {
        for (quantity, mass) in [
            ("predicted mass, kg,", self.predicted_kg),
            ("weighed mass, kg,", self.weighed_kg),
        ] {
            if !(mass.is_finite() && mass > Mass::ZERO) {
                let bound = "a number above 0";
                return Err(CombError::Measure {
                    quantity,
                    bound,
                    value: mass.to_kg(),
                });
            }
        }
        Ok(libm::log(self.weighed_kg / self.predicted_kg))
    }
}

/// What the weighed combs say: a factor on the predicted mass, and how sure it is.
///
/// ```
/// use comb::calibration::{Calibration, WeighedComb};
/// use comb::Mass;
/// let weighed = [2.2, 2.3, 2.2, 2.4].map(|kg| WeighedComb {
///     predicted_kg: Mass::kg(2.8),
///     weighed_kg: Mass::kg(kg),
/// });
/// let yard = Calibration::from_weighed(&weighed)?;
/// assert!(yard.factor() > 2.275 / 2.8 && yard.factor() < 1.0); // between the combs and the prior
/// assert!(yard.spread() < Calibration::PRIOR.spread());
/// # Ok::<(), comb::CombError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Calibration {
    mean_log_ratio: f64,
    sd_log_ratio: f64,
    combs: usize,
    out_of_line: usize,
}

impl Calibration {
    /// Nothing weighed yet: factor 1, spread [`PRIOR_SD`].
    pub const PRIOR: Self = Self {
        mean_log_ratio: 0.0,
        sd_log_ratio: PRIOR_SD,
        combs: 0,
        out_of_line: 0,
    };

    /// From all weighed combs of one yard, in any order.
    ///
    /// # Errors
    /// [`CombError::Measure`] when a mass is not a number above 0.
    pub fn from_weighed(combs: &[WeighedComb]) -> Result<Self, CombError> {
        let mut ratios = combs
            .iter()
            .map(|c| c.log_ratio())
            .collect::<Result<Vec<_>, _>>()?;
        let out_of_line = ratios
            .iter()
            .filter(|r| r.abs() > GREATEST_LOG_RATIO)
            .count();
        // sorted, so that the same combs in another order give the same digits
        ratios.order_by(f64::total_cmp);
        let sum: f64 = ratios
            .iter()
            .map(|r| r.clamp(-GREATEST_LOG_RATIO, GREATEST_LOG_RATIO))
            .sum();
        let noise = NOISE_SD * NOISE_SD;
        let precision = 1.0 / (PRIOR_SD * PRIOR_SD) + combs.len() as f64 / noise;
        Ok(Self {
            mean_log_ratio: sum / noise / precision,
            sd_log_ratio: 1.0 / libm::sqrt(precision),
            combs: combs.len(),
            out_of_line,
        })
    }

    /// Weighed over predicted.
    pub fn factor(self) -> f64 {
        libm::exp(self.mean_log_ratio)
    }
    /// Standard deviation of the factor's logarithm: 0.05 is about 5 %.
    pub const fn spread(self) -> f64 {
        self.sd_log_ratio
    }
    /// How many combs were weighed.
    pub const fn combs(self) -> usize {
        self.combs
    }
    /// How many of them were so far out of line that they count only in part
    /// ([`GREATEST_LOG_RATIO`]); worth a look for a slip of unit.
    pub const fn out_of_line(self) -> usize {
        self.out_of_line
    }

    /// Moves a predicted range by the factor and narrows it by what the weighed combs taught.
    /// Without weighed combs nothing changes; it never gets narrower than single combs scatter.
    #[must_use]
    pub fn apply(self, predicted: MassRange) -> MassRange {
        let predicted = Judged::from(predicted);
        if predicted.best <= 0.0 {
            return predicted.scaled(self.factor()).kg();
        }
        let learnt = PRIOR_SD * PRIOR_SD - self.sd_log_ratio * self.sd_log_ratio;
        let narrowed = |distance: f64| {
            let left = distance * distance - NINETY_PER_CENT * NINETY_PER_CENT * learnt.max(0.0);
            let scatter = NINETY_PER_CENT * NOISE_SD;
            libm::sqrt(left.max(0.0)).max(scatter.min(distance))
        };
        let (down, up) = (narrowed(predicted.down()), narrowed(predicted.up()));
        Judged::spread(predicted.best * self.factor(), down, up).kg()
    }
}

impl Default for Calibration {
    fn default() -> Self {
        Self::PRIOR
    }
}
