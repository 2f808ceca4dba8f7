//! What a keeper is told once, and never kept from: a comb with brood taken, a bar that bears none, the
//! reserve broken.

use advice::count::Count;
use advice::stores::covers;
use hive::Bar;
use talk::Comb;
use talk::act::{Decision, Hold};

use crate::session::Live;

/// What stands against what the keeper took.
#[derive(Debug, Clone, PartialEq)]
pub enum Concern {
    /// A comb with brood was taken, and not carried away on its bar.
    Brood {
        /// Its bar's number.
        bar: u32,
    },
    /// Nothing hung on the bar that a comb was taken from.
    NoComb {
        /// Its number.
        bar: u32,
    },
    /// Less stays than must.
    Reserve {
        /// Combs taken so far.
        taken: usize,
        /// Stores that stay, in full combs.
        stays: f64,
        /// What must stay, in full combs.
        must_stay: f64,
        /// Combs that nobody has looked at, and which may hold what is missing.
        not_looked_at: usize,
    },
}

impl Concern {
    /// True when it was not told before: another comb, or one more taken beyond the reserve.
    pub fn is_new(&self, before: &[Self]) -> bool {
        !before.iter().any(|old| match (self, old) {
            (Self::Reserve { taken, .. }, Self::Reserve { taken: before, .. }) => taken <= before,
            (new, old) => new == old,
        })
    }
}

/// Everything that stands against what was taken in this visit, combs in the order met.
pub fn concerns(live: &Live, count: &Count) -> Vec<Concern> {
    let combs = live.visit().combs.iter().enumerate();
    let of_combs = combs.filter_map(|(nth, comb)| {
        let id = live.bars().get(nth)?;
        of_comb(comb, live.before().bar(*id)?, live.carried().contains(id))
    });
    let mut all: Vec<Concern> = of_combs.collect();
    if count.taken > 0 && !covers(count.stores_combs - count.reserve_combs) {
        all.push(Concern::Reserve {
            taken: count.taken,
            stays: count.stores_combs,
            must_stay: count.reserve_combs,
            not_looked_at: count.not_looked_at,
        });
    }
    all
}

/// `bar` as it hung before the visit.
fn of_comb(comb: &Comb, bar: &Bar, carried: bool) -> Option<Concern> {
    if comb.decision != Some(Decision::Take) {
        return None;
    }
    let looked_at = comb.this.is_some() || comb.other.is_some() || !comb.holds.is_empty();
    if !bar.has_comb() && !looked_at {
        return Some(Concern::NoComb { bar: bar.number });
    }
    let is_brood = |hold: &Hold| matches!(hold, Hold::WorkerBrood | Hold::DroneBrood | Hold::Eggs);
    // what was seen today stands before what was known
    let brood = if looked_at {
        comb.all_holds().iter().any(is_brood)
    } else {
        bar.known_contents().has_brood()
    };
    // a split takes brood on its bars, and means to
    (brood && !carried && !comb.whole).then_some(Concern::Brood { bar: bar.number })
}
