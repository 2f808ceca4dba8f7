//! Units, the body of a top-bar hive, what a comb holds and what it weighs.
//!
//! Pure: no clock, no files, no randomness, nothing of journals or visits. Start with [`units`],
//! then [`Contents`] (what a face holds).

pub mod contents;
pub mod error;
pub mod units;

pub use contents::{Contents, FaceContents};
pub use error::CombError;
pub use units::{Area, Length, Mass, Share, Temperature, TemperatureDifference, Volume};
