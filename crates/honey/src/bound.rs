//! The range within which a source speaks, held once beside the figures it guards.

use crate::HoneyError;

/// Rounding slack at the ends of a range, so that an end point computed in floating point is in.
const SLACK: f64 = 1e-9;

/// A closed range, its unit, and what to do when a value lies outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bound {
    /// What is bounded, as the message calls it.
    pub(crate) quantity: &'static str,
    /// Least value that is in.
    pub(crate) low: f64,
    /// Largest value that is in.
    pub(crate) high: f64,
    /// Unit of all three figures; empty for a bare number.
    pub(crate) unit: &'static str,
    /// What the keeper can do about it.
    pub(crate) advice: &'static str,
}

impl Bound {
    /// The value, brought onto the end point if it missed it by rounding alone.
    pub(crate) fn check(&self, value: f64) -> Result<f64, HoneyError> {
        if value >= self.low - SLACK && value <= self.high + SLACK {
            Ok(value.clamp(self.low, self.high))
        } else {
            Err(HoneyError::OutOfRange {
                quantity: self.quantity,
                value,
                low: self.low,
                high: self.high,
                unit: self.unit,
                advice: self.advice,
            })
        }
    }
}

/// Straight line between the two rows that enclose `x`; rows rise in their first figure and `x`
/// lies within them (checked by a [`Bound`] before).
pub(crate) fn between_rows(rows: &[(f64, f64)], x: f64) -> f64 {
    let after = rows
        .partition_point(|row| row.0 < x)
        .clamp(1, rows.len() - 1);
    let (x0, y0) = rows[after - 1];
    let (x1, y1) = rows[after];
    y0 + (y1 - y0) * (x - x0) / (x1 - x0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_met_exactly_and_the_middle_lies_between() {
        let rows = [(1.0, 10.0), (2.0, 20.0), (4.0, 0.0)];
        for (x, y) in [
            (1.0, 10.0),
            (2.0, 20.0),
            (4.0, 0.0),
            (1.5, 15.0),
            (3.0, 10.0),
        ] {
            assert!((between_rows(&rows, x) - y).abs() < 1e-12, "{x}");
        }
    }

    #[test]
    fn outside_is_refused_and_not_a_number_too() {
        let bound = Bound {
            quantity: "moisture",
            low: 13.0,
            high: 25.0,
            unit: "%",
            advice: "read again",
        };
        assert!(bound.check(13.0 - 1e-12).is_ok());
        for bad in [12.99, 25.01, f64::NAN, f64::INFINITY] {
            assert!(bound.check(bad).is_err(), "{bad}");
        }
    }
}
