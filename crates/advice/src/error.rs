//! What can be wrong with a question put to this crate.

use thiserror::Error;

use crate::closing_up::BrokenRule;

/// One variant a cause, each naming the place in the question.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum AdviceError {
    /// The text is not the JSON that was asked for: wrong type, unknown or missing field.
    #[error("{path}: {message}")]
    Malformed {
        /// Where, as in `standing[2].width_mm`; `problem` for the whole.
        path: String,
        /// What is wrong there.
        message: String,
    },
    /// The types are right and the value makes no sense.
    #[error("{path} {message}")]
    Value {
        /// Where, as in `standing[2].mass_kg`.
        path: String,
        /// The bound it breaks, with the value given.
        message: String,
    },
    /// A colony cannot be told from a hive without combs.
    #[error("{hive} has no combs on record")]
    NoCombs {
        /// The hive's name.
        hive: String,
    },
    /// The season model refuses the question; the words are its own.
    #[error(transparent)]
    Season(#[from] season::SeasonError),
    /// More ways to close up than can be compared in the time and memory of a phone.
    #[error(
        "so many combs and loose bars can be ordered in too many ways; \
         leave out loose bars that need not go in, and ask again"
    )]
    TooManyWays,
    /// The solver's own answer did not pass the separate check of the rules: a fault of the program.
    #[error("the closing-up order found does not pass its own check ({0}); please report this")]
    OwnCheck(#[from] BrokenRule),
}
