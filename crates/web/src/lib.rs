//! The app in the browser.
//!
//! The journal is kept on the device and folded here, by the same pure crates as on the desk; the
//! server only hands out the app and passes on entries. Everything works without a network.
//!
//! Reading order: [`app`] (the shell), [`lasting`] (what lives as long as it), [`route`] (what stands in
//! the address line), [`screens`] (one file a screen; `at_hive` and `desk` are parts fetched later), [`parts`] (what several screens share), [`journal`] (kept, exchanged, carried), [`room`]
//! (a visit that goes on), [`voice`] and [`sound`] (heard, spoken, recorded), [`preferences`]
//! (settled on this device), [`advised`] (the rules, asked for), [`reserves`] and [`weather`]
//! (what the season model says must stay),
//! [`texts`] (every English word), [`browser`] (what the browser gives). All of it compiles on any
//! target, so that it is checked and its logic tested without a browser; it only runs in one.

#![allow(
    unreachable_pub,
    reason = "the framework writes every component as pub, whatever the module says"
)]

pub mod app;
pub mod lasting;
pub mod route;

pub mod screens;

pub mod parts;

pub mod advised;
pub mod journal;
pub mod preferences;
pub mod reserves;
pub mod room;
pub mod weather;

pub mod sound;
pub mod voice;

pub mod texts;

pub mod browser;

/// Starts the app in the page.
pub fn start() {
    browser::faults::show_panics();
    leptos::mount::mount_to_body(app::App);
}
