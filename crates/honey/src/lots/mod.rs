//! From the comb to the jar and back: combs go into a pail, pails into a lot, lots blend into
//! lots, lots fill jars.
//!
//! The state ([`House`]) is a pure fold of [`LotEvent`]s in the order they happened. An event that
//! cannot be is refused with the reason and changes nothing. Masses are kept in whole milligrams,
//! so that what went in equals what is there to the last digit ([`House::balance`]).
//!
//! ```
//! use honey::lots::{House, LotEvent};
//! let journal = r#"[
//!   {"event": "pail_filled", "pail": "p1", "on": "2026-02-07", "mass_kg": 2.1, "combs": [
//!     {"comb": "c1", "hive": "Banksia", "bar": "14", "visit": "v1", "taken_on": "2026-02-07"}]},
//!   {"event": "lot_made", "lot": "26-1", "on": "2026-02-08", "pails": ["p1"],
//!    "method": "drained", "honey_kg": 1.7, "country": "Australia"},
//!   {"event": "jars_filled", "fill": "f1", "lot": "26-1", "on": "2026-02-20", "net_kg": 0.34,
//!    "count": 5, "mark": "26-1", "best_before": "2028-02-08"}]"#;
//! let events: Vec<LotEvent> = serde_json::from_str(journal)?;
//! let (house, refused) = House::fold(&events);
//! assert!(refused.is_empty());
//! assert_eq!(house.jars_with_bar("Banksia", "14")?.in_stock(), 5);
//! assert_eq!(house.combs_with_mark("26-1")?.combs[0].taken.bar, "14");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod amount;
pub mod balance;
pub mod cautions;
mod checks;
pub mod event;
mod filling;
pub mod house;
pub mod id;
mod making;
pub mod record;
pub mod stock;
mod tending;
pub mod told;
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
