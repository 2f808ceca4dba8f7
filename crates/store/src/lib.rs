//! The journal kept: one SQLite file, append only, durable before it is acknowledged.
//!
//! The only crate that knows SQL. It keeps entries and never looks into what happened: folding and
//! deciding are for the pure crates. Start with [`Journal::open`] and [`Journal::append`].
//!
//! - Each device's entries form a chain: the hash of an entry covers the hash before it and the
//!   entry's exact text ([`exchange::Record`]). [`Journal::verify`] proves it.
//! - Export and import are JSON Lines, told in [`exchange::lines`]; [`Journal::merge`] takes in another file.
//!   All are set unions of proved entries.
//! - Two machines never write under one device id: a file that finds itself copied, moved or
//!   restored goes on under a fresh id, and so does one that meets foreign entries under its own.
//!   Where that fails, both branches are kept and reported as a [`Fork`].
//!
//! ```
//! use hive::{DeviceId, EntryId, Known};
//! use store::{Journal, OpenOptions, Pending};
//! use uuid::Uuid;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! # tokio::runtime::Builder::new_current_thread().enable_all().build()?.block_on(async {
//! let journal = Journal::in_memory(OpenOptions::write(|| DeviceId(Uuid::from_u128(7)))).await?;
//! let now = "2026-09-12T02:00:00Z".parse()?;
//! let note = Pending {
//!     id: EntryId(Uuid::from_u128(1)),
//!     at: now,
//!     recorded: now,
//!     zone: "+10:00".into(),
//!     by: "keeper".into(),
//!     hive: None,
//!     visit: None,
//!     said: None,
//!     what: Known::Note { text: "wattle in flower".into() }.into(),
//! };
//! let written = journal.append(vec![note]).await?;
//! assert_eq!(written[0].seq, 1);
//! assert!(journal.verify().await?.is_sound());
//! # Ok(()) })
//! # }
//! ```

pub mod pending;

mod home;
mod line_reader;
pub mod options;
mod schema;
mod sql;

pub mod journal;

pub mod append;
pub mod read;
pub mod verify;

pub mod export;
pub mod import;
pub mod intake;
pub mod merge;
pub mod pass_on;

pub mod error;

pub use append::Standing;
pub use error::StoreError;
pub use exchange::{Hash, LineFault, Record, RecordFault};
pub use export::{Progress, Rescue};
pub use intake::{Fork, Gap, Joined, Taken};
pub use journal::{FILE_NAME, Journal};
pub use options::{Access, OpenOptions};
pub use pending::Pending;
pub use read::{Cursor, Head};
pub use schema::FILE_VERSION;
pub use verify::{Damage, Fault, Verification};
