//! Combs that were matched to bars anew.
//!
//! "That was bar twelve" may move everything heard before by a place. What was written of a comb is the
//! keeper's word on that comb: its entries are put right to the other bar, words and all, rather than given
//! what was said of another comb.

use std::collections::{BTreeMap, BTreeSet};

use hive::BarId;
use hive::of_bar::of_bar;

use crate::due::Group;
use crate::due::{Written, group};
use crate::session::Live;

/// To which bar the entries about a bar go, where all of them do as they are.
pub(crate) fn rematched(
    live: &Live,
    written: &[Written],
    stays: impl Fn(BarId) -> bool,
) -> BTreeMap<BarId, BarId> {
    let stands = |w: &Written| live.targets.iter().any(|target| target.known == w.known);
    if written.iter().all(stands) {
        return BTreeMap::new();
    }
    let bars = |known| match group(known) {
        Group::Bar(bar) => Some(bar),
        _ => None,
    };
    let told: BTreeSet<BarId> = written.iter().filter_map(|w| bars(&w.known)).collect();
    let wanted: BTreeSet<BarId> = live.targets.iter().filter_map(|t| bars(&t.known)).collect();
    let mine = |bar| {
        written
            .iter()
            .filter(move |w| group(&w.known) == Group::Bar(bar))
    };
    let fits = |from: BarId, to: BarId| {
        let target = live.wanted(Group::Bar(to));
        mine(from).count() == target.len()
            && mine(from)
                .zip(&target)
                .all(|(w, (_, t))| of_bar(&w.known, to).as_ref() == Some(&t.known))
    };
    let moves = |bar: &BarId| !stays(*bar) && !fits(*bar, *bar);
    let mut free: Vec<BarId> = wanted.into_iter().filter(moves).collect();
    let mut all = BTreeMap::new();
    for from in told.into_iter().filter(moves) {
        if let Some(at) = free.iter().position(|to| *to != from && fits(from, *to)) {
            all.insert(from, free.remove(at));
        }
    }
    all
}
