//! The honey house over the journal: which combs came out of the hives and what became of them.
//!
//! Pure: no clock, no files, no words for a screen. The journal keeps honey-house entries as they
//! were given; here they are read and laid over the combs that visits took ([`kept`], [`taking`]),
//! and what the keeper wants to record is thought through and refused before it is written
//! ([`record`]). Answers are data; whoever shows them finds the words.
//!
//! Start with [`Kept::of`], then [`record::plan`]. One file a thing done: [`pail`], [`lot`],
//! [`mod@reading`], [`blend`], [`jars`], [`money`]; [`trace`] follows honey both ways, [`withheld`] says
//! what speaks against a hive's honey.

pub mod day;
pub mod kept;
pub mod taking;

pub mod record;

pub mod blend;
pub mod jars;
pub mod lot;
pub mod money;
pub mod pail;
pub mod reading;

pub mod page;
pub mod trace;
pub mod withheld;

pub mod error;
pub mod words;

pub use day::DayOf;
pub use error::HouseError;
pub use kept::Kept;
pub use record::{Batch, Planned, Standing, plan};
pub use taking::Taking;
