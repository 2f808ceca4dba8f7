//! What the program advises at the hive, each piece with the rule and the figures behind it.
//!
//! Pure: no clock, no files, no randomness.
//!
//! - [`closing_up`]: the order in which bars go back, the lid beyond the follower board, the shims.

pub mod closing_up;
pub mod error;

pub use error::AdviceError;
