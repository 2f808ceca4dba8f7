//! Units, the body of a top-bar hive, what a comb holds and what it weighs.
//!
//! Pure: no clock, no files, no randomness, nothing of journals or visits. Start with [`units`],
//! then [`Body`] (the hive's measures), [`Outline`] (the comb that hangs in it) and [`Contents`]
//! (what its faces hold).

pub mod units;

pub mod body;
pub mod published;

pub mod outline;

pub mod contents;

pub mod error;

pub use body::{Body, BodyMeasures, Entrance, Section};
pub use contents::{Contents, FaceContents};
pub use error::{BodyFault, CombError};
pub use outline::{BeeSpace, Outline, Point};
pub use units::{Angle, Area, Length, Mass, Share, Temperature, TemperatureDifference, Volume};
