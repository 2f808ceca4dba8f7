//! From the comb to the jar and back: combs go into a pail, pails into a lot, lots blend into
//! lots, lots fill jars.
//!
//! The state ([`House`]) is a pure fold of [`LotEvent`]s in the order they happened. An event that
//! cannot be is refused with the reason and changes nothing. Masses are kept in whole milligrams,
//! so that what went in equals what is there to the last digit ([`House::balance`]).

mod amount;
pub mod balance;
pub mod cautions;
pub mod event;
pub mod house;
pub mod id;
mod making;
pub mod record;
pub mod stock;
pub mod trace;
pub mod withholding;

pub use balance::Balance;
pub use cautions::{Caution, Weight};
pub use event::LotEvent;
pub use house::{House, Refusal};
pub use id::{CombId, FillId, LotId, PailId};
pub use record::{Filling, Lot, LotOrigin, Pail, TakenComb};
pub use stock::SizeLine;
pub use trace::{CombsFound, JarsFound};
pub use withholding::{Cause, Until, Withholding};
