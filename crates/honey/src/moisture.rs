//! Water in honey, as a type.

use comb::{Mass, Share};
use serde::{Deserialize, Serialize};

use crate::HoneyError;
use crate::bound::Bound;

/// Any mixture can be described so; what is believable as honey is narrower, see [`BELIEVABLE`].
const POSSIBLE: Bound = Bound {
    quantity: "moisture",
    low: 0.0,
    high: 100.0,
    unit: "%",
    advice: "read the instrument again: it gives per cent of water by mass",
};

/// What a reading of honey may be before it is refused as a slip of the pen. Ripe honey lies
/// within 13 to 25 % (reference table of refractive indices), stingless bee honey up to 28 %
/// (limit of Std 2.8.3, 2024); a little more is left on both sides (common practice, no source).
pub(crate) const BELIEVABLE: Bound = Bound {
    quantity: "moisture of a lot",
    low: 10.0,
    high: 35.0,
    unit: "%",
    advice: "no honey reads so; clean the prism, check the scale (water, not Brix) and read again",
};

/// Water in honey, per cent by mass. Serialises as per cent; name the field `.._pct`.
///
/// ```
/// use honey::Moisture;
/// assert!((Moisture::percent(18.6)?.to_percent() - 18.6).abs() < 1e-12);
/// assert!(Moisture::percent(120.0).is_err());
/// # Ok::<(), honey::HoneyError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Moisture(f64);

impl Moisture {
    /// From per cent by mass.
    ///
    /// # Errors
    /// [`HoneyError::OutOfRange`] outside 0 to 100 %, or not a number.
    pub fn percent(percent: f64) -> Result<Self, HoneyError> {
        POSSIBLE.check(percent).map(Self)
    }

    /// From a figure that a checked table or formula gave; only for use inside the crate.
    pub(crate) const fn known(percent: f64) -> Self {
        Self(percent)
    }

    /// In per cent by mass.
    pub const fn to_percent(self) -> f64 {
        self.0
    }

    /// In per cent, rounded half up to one decimal: the precision at which limits are tested
    /// (20.0 passes a limit of 20 %, 20.1 does not).
    pub fn to_tenths(self) -> f64 {
        // the small lift undoes binary fractions: 20.05 is stored as 20.0499999...
        libm::floor(self.0 * 10.0 + 0.5 + 1e-9) / 10.0
    }

    /// As a share of the mass.
    pub fn share(self) -> Share {
        Share::clamped(self.0 / 100.0)
    }

    /// Water in so much honey.
    pub fn water_in(self, honey: Mass) -> Mass {
        honey * (self.0 / 100.0)
    }

    /// Total order, for sorting.
    pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

impl TryFrom<f64> for Moisture {
    type Error = HoneyError;
    fn try_from(percent: f64) -> Result<Self, HoneyError> {
        Self::percent(percent)
    }
}

impl From<Moisture> for f64 {
    fn from(moisture: Moisture) -> f64 {
        moisture.0
    }
}

impl std::fmt::Display for Moisture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:.1} %", self.to_tenths())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hundred_and_twenty_per_cent_is_refused_in_words() {
        let error = Moisture::percent(120.0).unwrap_err().to_string();
        assert!(error.contains("120") && error.contains("100"), "{error}");
        assert!(serde_json::from_str::<Moisture>("120.0").is_err());
    }

    #[test]
    fn tenths_round_half_up() {
        // 20.0 passes and 20.1 fails a limit of 20 %: reference notes, section 1 (practice)
        for (percent, tenths) in [(20.04, 20.0), (20.05, 20.1), (19.96, 20.0), (18.0, 18.0)] {
            let got = Moisture::known(percent).to_tenths();
            assert!((got - tenths).abs() < 1e-12, "{percent} gave {got}");
        }
    }
}
