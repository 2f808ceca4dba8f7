//! What can be wrong with a measure, a body or a comb.

use thiserror::Error;

/// One variant a cause, with the value and its bound.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum CombError {
    /// A share outside 0..=1, or not a number.
    #[error("a share lies between 0 and 1 (0 % and 100 %), this one is {0}")]
    Share(f64),
    /// A quantity that cannot be negative, zero or not a number.
    #[error("{quantity} must be {bound}, this one is {value}")]
    Measure {
        /// What was measured.
        quantity: &'static str,
        /// The bound it breaks, in words.
        bound: &'static str,
        /// The value given.
        value: f64,
    },
    /// The shares of one face add up to more than the whole face.
    #[error("the parts of one face add up to {0:.2}; together they cannot exceed 1")]
    FaceOverfull(f64),
}
