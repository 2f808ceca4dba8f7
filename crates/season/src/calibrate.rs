//! What a keeper's own weights say of consumption.
//!
//! The bottom-up consumption comes out well under the handbooks' winters (about 14 kg against 25 to
//! 41 in a cold one). That gap is shown, not tuned away; the one thing that moves the model is the
//! keeper's own scale: a hive weighed at two dates without income between.

use comb::Mass;
use serde::{Deserialize, Serialize};

use crate::SeasonError;
use crate::figures as fig;

/// A factor on consumption and how sure it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Calibration {
    /// Factor, 1 before any weight.
    pub factor: f64,
    /// Spread of its natural logarithm, between colonies and years.
    pub spread: f64,
    /// Weighings that it rests on.
    pub weighings: usize,
}

impl Default for Calibration {
    fn default() -> Self {
        Self {
            factor: 1.0,
            spread: fig::CONSUMPTION_SPREAD.value,
            weighings: 0,
        }
    }
}

/// One hive weighed twice with no income between, against what the model gives for these bees, this
/// weather and these days.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Weighing {
    /// What the hive lost on the scale.
    pub lost_kg: Mass,
    /// What the model says was eaten, its middle run (see [`crate::reserve::eaten`]).
    pub modelled_kg: Mass,
}

/// How unsure the mean factor of a yard is before any weight: the handbooks' winters are up to twice
/// the bottom-up figure, which this spread holds within two of itself (ours).
const PRIOR_SPREAD: f64 = 0.35;
/// How far one weighing strays from the yard's factor: scale, moisture of the wood, bees miscounted
/// (ours, no source).
const WEIGHING_SPREAD: f64 = 0.25;

impl Calibration {
    /// From weighings, shrunk toward 1: on a logarithmic scale the mean of prior and weighings, each
    /// by its certainty.
    ///
    /// # Errors
    /// [`SeasonError::Weighing`] when a loss is not between a fifth and five times the model's.
    pub fn from_weighings(weighings: &[Weighing]) -> Result<Self, SeasonError> {
        let mut sum = 0.0;
        for weighing in weighings {
            let ratio = weighing.lost_kg / weighing.modelled_kg;
            if !(0.2..=5.0).contains(&ratio) {
                return Err(SeasonError::Weighing {
                    lost: weighing.lost_kg.to_kg(),
                    modelled: weighing.modelled_kg.to_kg(),
                });
            }
            sum += libm::log(ratio);
        }
        let certain = weighings.len() as f64 / (WEIGHING_SPREAD * WEIGHING_SPREAD);
        let prior = 1.0 / (PRIOR_SPREAD * PRIOR_SPREAD);
        let mean = sum / (WEIGHING_SPREAD * WEIGHING_SPREAD) / (certain + prior);
        Ok(Self {
            factor: libm::exp(mean),
            // colonies go on differing however well the yard's mean is known
            ..Self {
                weighings: weighings.len(),
                ..Self::default()
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_pull_the_factor_and_more_pull_more() {
        let heavy = Weighing {
            lost_kg: Mass::kg(16.0),
            modelled_kg: Mass::kg(10.0),
        };
        let one = Calibration::from_weighings(&[heavy]).unwrap();
        let four = Calibration::from_weighings(&[heavy; 4]).unwrap();
        assert!(1.0 < one.factor && one.factor < four.factor && four.factor < 1.6);
        let absurd = Weighing {
            lost_kg: Mass::kg(-1.0),
            ..heavy
        };
        assert!(Calibration::from_weighings(&[absurd]).is_err());
        assert_eq!(
            Calibration::from_weighings(&[]).unwrap(),
            Calibration::default()
        );
    }
}
