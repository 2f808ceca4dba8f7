//! Hands out the app and exchanges the journal.
//!
//! This machine's own browser is free to do everything; the local network is let in only over
//! HTTPS and only with a token that a device got for a code shown on this machine's screen. The
//! server thinks nothing about bees: it keeps and passes on entries through one trait,
//! [`Exchange`], and knows nothing of where they are kept.
//!
//! Start with [`Config`] and [`Server::bind`]; `examples/serve.rs` is the shortest whole use.

pub mod config;
pub mod serve;

pub mod calendar;
pub mod exchange;
pub mod memory;

mod embedded;
pub mod files;
pub mod phone;

mod api;
mod guard;
mod problem;
mod state;

mod addresses;
pub mod authority;
pub mod pairing;
pub mod welcome;

pub mod error;

pub use api::{ROUTES, Route};
pub use calendar::{Calendar, FeedKey};
pub use config::{Config, Lan};
pub use embedded::{Embedded, has_app};
pub use error::ServerError;
pub use exchange::{Answer, Exchange, ExchangeError};
pub use serve::{News, Offer, Server};
