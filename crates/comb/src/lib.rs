//! Units, the body of a top-bar hive, what a comb holds and what it weighs.
//!
//! Pure: no clock, no files, no randomness, nothing of journals or visits. Start with [`units`],
//! then [`Body`] (the hive's measures), [`Outline`] (the comb that hangs in it), [`Contents`]
//! (what its faces hold) and [`honey_mass::honey_mass`] (what honey it carries, as a range).

pub mod units;

pub mod body;
pub mod oddity;
pub mod published;

pub mod cells;
pub mod inspection;
pub mod outline;
pub mod pitch;

pub mod contents;

pub mod calibration;
pub mod comb_mass;
pub mod honey_mass;
pub mod mass_range;
pub mod told_in;
pub mod typed;

mod honey_share;
mod judged;

pub mod error;
pub mod order;

/// More than any one comb is believed to hold or weigh, kg: what is told above it is a slip, such as grams told as
/// kilograms, or of several combs. Common practice, no source.
pub const HEAVIEST_COMB_KG: f64 = 10.0;

pub use body::{Body, BodyMeasures, Entrance, Section};
pub use calibration::Calibration;
pub use contents::{Contents, FaceContents};
pub use error::{BodyFault, CombError};
pub use mass_range::MassRange;
pub use outline::{BeeSpace, Outline, Point};
pub use pitch::Pitch;
pub use told_in::{In, Tell, ToldIn};
pub use units::{Angle, Area, Length, Mass, Share, Temperature, TemperatureDifference, Volume};
