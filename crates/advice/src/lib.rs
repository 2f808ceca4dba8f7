//! What the program advises at the hive, each piece with the rule and the figures behind it.
//!
//! Pure: no clock, no files, no randomness.
//!
//! Start with [`advise::advise`], which puts together:
//!
//! - [`ripe`]: the verdict on one comb;
//! - [`reserve`] and [`stores`]: what must stay, and the account of what is there;
//! - [`taking`] and [`count`]: what may be taken, outermost first, and the running count;
//! - [`closing_plan`] and [`closing_up`]: the order in which bars go back, the lid beyond the follower
//!   board, the shims;
//! - [`own_order`]: what speaks against the keeper's own order of closing;
//! - [`returning`]: when to come back;
//! - [`opening`]: weather and cautions;
//! - [`needs`] and [`carry`]: what a hive needs next and why, and what to carry there;
//! - [`on_record`]: the colony as the season's model needs it, [`season_model`]: the model asked about it.

pub mod advise;

pub mod ripe;

pub mod reserve;
pub mod stores;

pub mod count;
pub mod taking;

pub mod closing_assumed;
pub mod closing_plan;
pub mod closing_up;
pub mod own_order;
pub mod returning;

pub mod opening;

pub mod carry;
pub mod fed;
pub mod needs;
pub mod on_record;
pub mod season_model;

pub mod error;

pub use error::AdviceError;
