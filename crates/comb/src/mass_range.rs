//! A mass that is judged, not weighed: low, best, high.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, Mul};

use serde::{Deserialize, Serialize};

use crate::{CombError, Mass, Share, ToldIn};

/// A mass with what it may be at least and at most. Low and high are meant to hold the weighed
/// mass about nine times in ten; they rest on judged figures (practice) and have not been tried
/// on a row of weighed combs.
///
/// Ranges add end by end: combs of one hive are misjudged by the same eye, so their errors do
/// not cancel.
///
/// ```
/// use comb::{Mass, MassRange};
/// let comb = MassRange::new(Mass::kg(1.7), Mass::kg(2.1), Mass::kg(2.5))?;
/// assert_eq!((comb + comb).to_string(), "4.2 kg (3.4 to 5.0)");
/// assert!(MassRange::new(Mass::kg(2.0), Mass::kg(1.0), Mass::kg(3.0)).is_err());
/// # Ok::<(), comb::CombError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct MassRange {
    low: Mass,
    best: Mass,
    high: Mass,
}

/// How a range is written down.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(clippy::struct_field_names, reason = "a written key says its unit")]
struct Written {
    low_kg: Mass,
    best_kg: Mass,
    high_kg: Mass,
}

impl MassRange {
    /// Known to be nothing.
    pub const ZERO: Self = Self {
        low: Mass::ZERO,
        best: Mass::ZERO,
        high: Mass::ZERO,
    };

    /// From its three masses.
    ///
    /// # Errors
    /// [`CombError::MassRange`] when one is negative or not a number, or they are out of order.
    pub fn new(low: Mass, best: Mass, high: Mass) -> Result<Self, CombError> {
        if Mass::ZERO <= low && low <= best && best <= high && high.is_finite() {
            Ok(Self { low, best, high })
        } else {
            Err(CombError::MassRange {
                low_kg: low.to_kg(),
                best_kg: best.to_kg(),
                high_kg: high.to_kg(),
            })
        }
    }

    /// Weighed on a scale: no spread. A negative or impossible mass becomes nothing.
    #[must_use]
    pub fn exactly(mass: Mass) -> Self {
        let mass = if mass.is_finite() {
            mass.max(Mass::ZERO)
        } else {
            Mass::ZERO
        };
        Self {
            low: mass,
            best: mass,
            high: mass,
        }
    }

    /// What it is at least.
    pub const fn low(self) -> Mass {
        self.low
    }
    /// The best guess.
    pub const fn best(self) -> Mass {
        self.best
    }
    /// What it is at most.
    pub const fn high(self) -> Mass {
        self.high
    }
    /// From low to high.
    pub fn width(self) -> Mass {
        self.high - self.low
    }
    /// As a part of a whole: at no end more than the whole.
    #[must_use]
    pub fn within(self, whole: Self) -> Self {
        Self {
            low: self.low.min(whole.low),
            best: self.best.min(whole.best),
            high: self.high.min(whole.high),
        }
    }
    /// True when a mass lies in the range, ends included.
    pub fn contains(self, mass: Mass) -> bool {
        self.low <= mass && mass <= self.high
    }
}

impl Add for MassRange {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            low: self.low + other.low,
            best: self.best + other.best,
            high: self.high + other.high,
        }
    }
}

impl Mul<Share> for MassRange {
    type Output = Self;
    fn mul(self, share: Share) -> Self {
        Self {
            low: self.low * share,
            best: self.best * share,
            high: self.high * share,
        }
    }
}

impl Sum for MassRange {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::ZERO, Add::add)
    }
}

impl fmt::Display for MassRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&ToldIn::Metric.range_words(*self))
    }
}

impl TryFrom<Written> for MassRange {
    type Error = CombError;
    fn try_from(written: Written) -> Result<Self, CombError> {
        Self::new(written.low_kg, written.best_kg, written.high_kg)
    }
}

impl From<MassRange> for Written {
    fn from(range: MassRange) -> Self {
        Self {
            low_kg: range.low,
            best_kg: range.best,
            high_kg: range.high,
        }
    }
}
