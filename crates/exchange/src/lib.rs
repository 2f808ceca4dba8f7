//! How two journals come together: what goes over the wire and one round of give and take.
//!
//! A journal is a set of entries, so bringing two together is a union. An entry travels as a
//! [`Record`]: its text byte for byte as its device wrote it, chained by hash to the entry before it
//! on that device, so that each proves itself wherever it comes from.
//!
//! What makes a round quick and safe to break off anywhere:
//!
//! - The far side hands records out in the order in which they reached it. "What is new since I last
//!   asked" is one [`Position`]: a number and the hash of the record at it. A far side that was
//!   restored from a backup, or is another one, does not have that hash there; it says so and the
//!   near side begins anew ([`wire::Pulled::Elsewhere`]), unless it has no record in common with
//!   it: two journals are joined only when the keeper says so ([`RoundError::Another`]).
//! - The near side marks each of its records as *waiting* until it has come back from the far side
//!   in a pull. An answer lost on the way therefore costs a repetition and never a record.
//! - Giving a record twice changes nothing.
//!
//! This crate knows no network and no storage: [`Near`] is the journal at hand, [`Far`] the one over
//! the wire. Start with [`Record`], then [`round()`].

pub mod hash;
pub mod record;

pub mod lines;
pub mod proof;

pub mod far;
pub mod near;
pub mod round;
pub mod wire;

pub mod error;

pub use error::{LineFault, RecordFault};
pub use far::{Far, FarError};
pub use hash::Hash;
pub use near::Near;
pub use proof::Proof;
pub use record::Record;
pub use round::{Exchanged, RoundError, round};
pub use wire::{About, Position, Problem, Pull, Pulled, Push, Pushed};
