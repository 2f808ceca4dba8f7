//! The app in a real browser, driven by WebDriver: Debian's Chromium, and other engines.
//!
//! Opt in by the feature `browser`, with the app in the build:
//! `COMBWRIGHT_SKIP_WEB=0 cargo test -p web-tests --features browser`. A `stage::Stage` is a server
//! and a browser of its own; everything it started ends with it.

#![allow(
    clippy::missing_panics_doc,
    reason = "a test's helper panics where the test fails; not expect: without the feature it is empty"
)]

#[cfg(feature = "browser")]
pub mod axe;
#[cfg(feature = "browser")]
pub mod browser;
#[cfg(feature = "browser")]
pub mod display;
#[cfg(feature = "browser")]
pub mod driver;
#[cfg(feature = "browser")]
pub mod engine;
#[cfg(feature = "browser")]
pub mod home;
#[cfg(feature = "browser")]
pub mod looks;
#[cfg(feature = "browser")]
pub mod recognition;
#[cfg(feature = "browser")]
pub mod stage;
#[cfg(feature = "browser")]
pub mod wattle_bend;
