//! The season at one hive: weather, the colony's budget, what must stay, how fast combs ripen.
//!
//! Pure: no clock, no files, no network; every random number comes from a seed that the caller
//! passes and prints, so that phone and desk give the same answer. Knows nothing of journals,
//! visits or screens. Start with [`reserve`] for "how much must stay" and [`ripening`] for "when do
//! I come back"; every constant stands in [`figures`].

pub mod calibrate;
pub mod colony;
pub mod consumption;
pub mod draw;
pub mod drivers;
pub mod engine;
pub mod ensemble;
pub mod error;
mod explain;
pub mod feed;
pub mod figures;
pub mod forage;
pub mod khoury;
pub mod outlook;
pub mod random;
pub mod report;
pub mod reserve;
pub mod ripening;
pub mod sensitivity;
pub mod swarm;
pub mod thumb;
pub mod weather;

pub use colony::{Colony, Queen};
pub use ensemble::{Setting, Span, WhatIf};
pub use error::SeasonError;
pub use forage::{Climate, Forage};
pub use weather::{Forecast, Place, Series, Source, Years};
