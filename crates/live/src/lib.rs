//! A visit while it goes on.
//!
//! The phone at the hive and the desk that hears a file come to the same record by the same way:
//! phrases and taps are [`Step`]s, a [`Session`] is their list, [`Live`] folds it to what was
//! understood, to the hive as it stands open, and to the entries that the journal should hold;
//! [`Live::due`] compares these with what was written before and gives only what is missing, wrong or
//! taken back.
//!
//! Pure: no clock, no ids of its own; both come in. It writes nothing and knows no screen.

pub mod step;

pub mod session;

pub mod due;

pub mod put_right;

mod minding;
mod rematched;

// rules that phone and desk share
pub mod advised;
pub mod answer;
pub mod bare;
pub mod closing;
pub mod concern;
pub mod marks;

pub use due::{Due, Upto, Writing};
pub use session::{Live, Session, Told};
pub use step::{Did, Step};
