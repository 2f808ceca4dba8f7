//! What can be wrong with a place, a weather file, a colony or a question put to the model.

use thiserror::Error;

/// One variant a cause, with the value and its bound.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SeasonError {
    /// A comb that this yard's ripening filter never met.
    #[error("comb {0} is not known here; add it before reading it")]
    UnknownComb(usize),
    /// A spread of a reading that is not a usable number.
    #[error("the error of a reading lies between 0.01 and 0.5 (1 and 50 points), this one is {0}")]
    ReadingSpread(f64),
    /// A ripeness rule outside what keepers use.
    #[error("{rule} lies between {low} and {high}, this one is {value}")]
    Rule {
        /// Which rule, in words.
        rule: &'static str,
        /// Lowest value allowed.
        low: f64,
        /// Highest value allowed.
        high: f64,
        /// The value given.
        value: f64,
    },
}
