//! Whole milligrams: sums that come out even.

use comb::Mass;

use crate::HoneyError;

/// A mass in whole milligrams, never negative. A hundred tonnes are 1e11 of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Amount(u64);

/// No keeper's lot weighs more, kg; it keeps sums far from overflow.
const MOST_KG: f64 = 1e6;

impl Amount {
    pub(crate) const ZERO: Self = Self(0);

    /// Of something that must weigh something.
    pub(crate) fn some(what: &'static str, mass: Mass) -> Result<Self, HoneyError> {
        let amount = Self::any(what, mass)?;
        if amount == Self::ZERO {
            HoneyError::positive(what, "kg", 0.0)?;
        }
        Ok(amount)
    }

    /// Of something that may be nothing.
    pub(crate) fn any(what: &'static str, mass: Mass) -> Result<Self, HoneyError> {
        let kg = mass.to_kg();
        if (0.0..=MOST_KG).contains(&kg) {
            Ok(Self(libm::round(kg * 1e6) as u64))
        } else {
            Err(HoneyError::OutOfRange {
                quantity: what,
                value: kg,
                low: 0.0,
                high: MOST_KG,
                unit: "kg",
                advice: "weigh again",
            })
        }
    }

    pub(crate) fn mass(self) -> Mass {
        Mass::kg(self.0 as f64 / 1e6)
    }

    pub(crate) fn plus(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }

    /// `None` when more would be taken than there is.
    pub(crate) fn less(self, other: Self) -> Option<Self> {
        self.0.checked_sub(other.0).map(Self)
    }

    pub(crate) fn times(self, count: u32) -> Self {
        Self(self.0 * u64::from(count))
    }

    /// This part of the whole, rounded down.
    pub(crate) fn part(self, count: u32, of: u32) -> Self {
        let wide = u128::from(self.0) * u128::from(count) / u128::from(of.max(1));
        Self(u64::try_from(wide).unwrap_or(self.0))
    }
}

impl std::iter::Sum for Amount {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::ZERO, Self::plus)
    }
}
