//! Pictures of a hive: its long section as SVG and as drawn text.
//!
//! Pure: no files, no clock, no fonts; the same input gives the same picture to the byte, in the
//! browser and on the desk. It decides nothing and knows nothing of advice: whatever should stand on a
//! bar comes in as a [`Mark`]. Start with [`HiveSection::of`], then [`svg::hive`] or [`text::hive`].

pub mod face;
pub mod kind;
pub mod life;
pub mod records;
pub mod section;
pub mod told;

pub mod calendar;
pub mod closing;

#[cfg(feature = "pdf")]
pub mod pdf;
pub mod svg;
pub mod text;

mod words;

pub use closing::ClosingGoal;
pub use face::{Band, FacePicture};
pub use kind::Kind;
pub use life::Life;
pub use section::{Drawn, DrawnBar, HiveSection, Mark};
pub use svg::{PictureOptions, Theme};
pub use text::{TextDrawing, TextOptions};
