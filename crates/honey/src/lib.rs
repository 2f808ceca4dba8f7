//! The honey house: from a refractometer reading to a lawful jar that can be traced to its comb.
//!
//! Pure: no clock, no files, no drawing. Every function names its source and the range within
//! which the source speaks; outside it refuses and says what to do. Law is given with its
//! instrument and month and is never the last word: check with your authority.
//!
//! Start with [`Reading::moisture`], [`blend::bring_to_target`] and [`lots::House`].

pub mod blend;
mod bound;
pub mod colour;
pub mod density;
pub mod drying;
pub mod error;
pub mod fermentation;
pub mod instrument;
pub mod label;
pub mod limits;
pub mod lots;
pub mod moisture;
pub mod net_quantity;
pub mod refraction;
pub mod region;
pub mod syrup;
pub mod viscosity;
pub mod yields;

pub use error::HoneyError;
pub use instrument::Reading;
pub use moisture::Moisture;
pub use region::Region;
pub use syrup::Syrup;
