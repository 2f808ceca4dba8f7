//! What is settled on this device, outside the journal: looks, units, voice, the days ahead.
//!
//! Each is a small group of its own, read before the first screen is drawn and provided by
//! [`crate::app::App`] as an `RwSignal` of its type.

pub mod ahead;
pub mod looks;
pub mod units;
pub mod voice;

pub use ahead::DaysAhead;
pub use looks::{Light, Looks};
pub use units::Units;
pub use voice::{ENGLISH, Recording, Voice};

use leptos::prelude::*;

/// Reads all of it and provides it.
pub fn provide() {
    let looks = Looks::kept();
    looks.apply();
    provide_context(RwSignal::new(looks));
    provide_context(RwSignal::new(Units::kept()));
    provide_context(RwSignal::new(Voice::kept()));
    provide_context(RwSignal::new(DaysAhead::kept()));
}
