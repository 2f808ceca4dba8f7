//! The journal's entries, bars that keep their identity, visits, and the fold that gives the state.
//!
//! Pure: no clock, no files; ids and instants come from outside. Start with [`Entry`] (what is
//! written), then [`Yard`] (the fold) and [`Hive`] (what a journal leaves).

pub mod id;

pub mod entry;
pub mod known;
mod parse;
pub mod sign;
pub mod treatment;
pub mod values;
pub mod vocabulary;

pub mod history;
pub mod look;
pub mod row;

pub mod bar;
pub mod health;
pub mod hive;
pub mod numbers;
pub mod visit;

pub mod order;
mod resolve;

mod amend;
mod fold;
pub mod yard;

pub mod matching;
pub mod of_bar;

pub mod check;
pub mod founding;
pub mod pen;
pub mod undo;

pub mod error;
pub mod fault;

pub use bar::{Bar, Lies};
pub use check::check;
pub use entry::{Entry, Known, What};
pub use error::HiveError;
pub use fault::{Fault, Why};
pub use history::{Event, Happened, Look};
pub use hive::{Apiary, Hive};
pub use id::{ApiaryId, BarId, DeviceId, EntryId, HiveId};
pub use pen::Pen;
pub use row::Row;
pub use undo::{Scope, redo_last, undo_last};
pub use visit::Visit;
pub use yard::Yard;
