//! The season at one hive: weather, the colony's budget, what must stay, how fast combs ripen.
//!
//! Pure: no clock, no files, no network; every random number comes from a seed that the caller
//! passes and prints, so that phone and desk give the same answer. Knows nothing of journals,
//! visits or screens. Start with [`ripening`] for "when do I come back".

pub mod error;
pub mod random;
pub mod ripening;

pub use error::SeasonError;
