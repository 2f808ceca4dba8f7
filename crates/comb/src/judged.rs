//! A figure known only roughly, and how rough figures multiply.

use crate::{Mass, MassRange};

/// About nine times in ten the true figure lies between low and high; never negative, in order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Judged {
    pub(crate) low: f64,
    pub(crate) best: f64,
    pub(crate) high: f64,
}

impl Judged {
    pub(crate) const NONE: Self = Self::exactly(0.0);

    pub(crate) const fn new(low: f64, best: f64, high: f64) -> Self {
        Self { low, best, high }
    }
    pub(crate) const fn exactly(value: f64) -> Self {
        Self::new(value, value, value)
    }

    /// Keeps all three at or under a bound.
    pub(crate) fn at_most(self, bound: f64) -> Self {
        let bound = bound.max(0.0);
        Self::new(
            self.low.min(bound),
            self.best.min(bound),
            self.high.min(bound),
        )
    }

    /// End by end, for figures that err together.
    pub(crate) fn plus(self, other: Self) -> Self {
        Self::new(
            self.low + other.low,
            self.best + other.best,
            self.high + other.high,
        )
    }
    pub(crate) fn mean(self, other: Self) -> Self {
        self.plus(other).scaled(0.5)
    }
    /// What is left of the whole, for a share.
    pub(crate) fn rest(self) -> Self {
        Self::new(1.0 - self.high, 1.0 - self.best, 1.0 - self.low)
    }
    pub(crate) fn scaled(self, factor: f64) -> Self {
        Self::new(self.low * factor, self.best * factor, self.high * factor)
    }

    /// Product end by end, for two figures of which nothing more is known.
    pub(crate) fn times_widest(self, other: Self) -> Self {
        Self::new(
            self.low * other.low,
            self.best * other.best,
            self.high * other.high,
        )
    }

    /// Product of figures that err each for its own reason: the best guesses multiply, the
    /// distances add by their squares, taken as ratios.
    pub(crate) fn product(factors: &[Self]) -> Self {
        let best: f64 = factors.iter().map(|f| f.best).product();
        if best <= 0.0 {
            return factors
                .iter()
                .fold(Self::exactly(1.0), |product, f| product.times_widest(*f));
        }
        let down: f64 = factors.iter().map(|f| square(f.down())).sum();
        let up: f64 = factors.iter().map(|f| square(f.up())).sum();
        Self::spread(best, libm::sqrt(down), libm::sqrt(up))
    }

    /// From a best guess and the distances down and up, as logarithms of a ratio.
    pub(crate) fn spread(best: f64, down: f64, up: f64) -> Self {
        Self::new(best * libm::exp(-down), best, best * libm::exp(up))
    }
    /// ln(best / low); infinite when the low end is nothing.
    pub(crate) fn down(self) -> f64 {
        if self.best > 0.0 {
            libm::log(self.best / self.low)
        } else {
            0.0
        }
    }
    /// ln(high / best).
    pub(crate) fn up(self) -> f64 {
        if self.best > 0.0 {
            libm::log(self.high / self.best)
        } else {
            0.0
        }
    }

    /// As a mass in kilograms; rounding of the last digit cannot put it out of order.
    pub(crate) fn kg(self) -> MassRange {
        let best = self.best.max(0.0);
        let (low, high) = (self.low.clamp(0.0, best), self.high.max(best));
        MassRange::new(Mass::kg(low), Mass::kg(best), Mass::kg(high))
            .expect("clamped to 0 <= low <= best <= high; every factor is finite")
    }
}

impl From<MassRange> for Judged {
    fn from(range: MassRange) -> Self {
        Self::new(
            range.low().to_kg(),
            range.best().to_kg(),
            range.high().to_kg(),
        )
    }
}

fn square(x: f64) -> f64 {
    x * x
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn independent_errors_widen_less_than_the_worst_case() {
        let a = Judged::new(0.8, 1.0, 1.25);
        let both = Judged::product(&[a, a]);
        assert!(both.low > 0.64 && both.low < 0.8, "{both:?}");
        assert!(both.high < 1.5625 && both.high > 1.25, "{both:?}");
    }

    #[test]
    fn a_low_end_of_nothing_stays_nothing() {
        let product = Judged::product(&[Judged::new(0.0, 0.5, 1.0), Judged::exactly(2.0)]);
        assert!(
            product.low.abs() < 1e-12 && product.high > 1.9,
            "{product:?}"
        );
    }
}
