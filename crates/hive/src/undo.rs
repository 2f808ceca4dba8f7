//! Taking back the last things said, and taking that back.

use std::collections::BTreeMap;

use comb::order::InOrder as _;
use jiff::Timestamp;

use crate::HiveError;
use crate::entry::{Entry, Known};
use crate::id::{DeviceId, EntryId, HiveId};
use crate::yard::{Standing, Yard};

/// Of what the last acts are meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scope {
    /// Everything recorded of a hive.
    Hive(HiveId),
    /// Everything said in a visit; its opening stays.
    Visit(EntryId),
    /// Everything recorded in the honey house.
    HoneyHouse,
    /// Treatments, signs and medicines, of whatever hive.
    Health,
}

/// The entries to write so that the last `count` acts that the keeper saw never happened, newest
/// act first. A correction is an act; taking it back gives the old words again.
///
/// Entries that one device wrote at one instant from the same words are one act: "into the bucket,
/// two kilos" is taken back as a whole. "Last" is by when it was written, so a backdated entry that
/// was just made is the last.
///
/// # Errors
/// [`HiveError::NothingToUndo`] when there is none; fewer than asked for are taken back when there
/// are fewer.
pub fn undo_last(yard: &Yard, scope: Scope, count: usize) -> Result<Vec<Known>, HiveError> {
    take_back(yard, count, |entry| {
        in_scope(yard, entry, scope) && !is_undo(entry)
    })
}

/// The entries to write so that what the last `count` undos took back stands again.
///
/// # Errors
/// [`HiveError::NothingToUndo`] when nothing in the scope is taken back.
pub fn redo_last(yard: &Yard, scope: Scope, count: usize) -> Result<Vec<Known>, HiveError> {
    let of = |entry: &Entry| match entry.what.known() {
        Some(Known::Undone { target }) => yard.entry(*target),
        _ => None,
    };
    take_back(yard, count, |entry| {
        // an undo of an undo is a redo itself; taking that back is not redoing
        of(entry).is_some_and(|target| in_scope(yard, target, scope) && !is_undo(target))
    })
}

fn is_undo(entry: &Entry) -> bool {
    matches!(entry.what.known(), Some(Known::Undone { .. }))
}

fn in_scope(yard: &Yard, entry: &Entry, scope: Scope) -> bool {
    match scope {
        Scope::HoneyHouse => match entry.what.known() {
            Some(Known::HoneyHouse { .. }) => true,
            Some(Known::Corrected { target, .. }) => yard
                .entry(*target)
                .is_some_and(|target| target.what.kind() == "honey_house"),
            _ => false,
        },
        Scope::Health => match entry.what.known() {
            Some(Known::Corrected { target, .. }) => yard
                .entry(*target)
                .and_then(|target| target.what.known())
                .is_some_and(Known::is_of_health),
            known => known.is_some_and(Known::is_of_health),
        },
        Scope::Hive(hive) => entry.hive == Some(hive),
        Scope::Visit(visit) => entry.visit == Some(visit) && entry.id != visit,
    }
}

fn take_back(
    yard: &Yard,
    count: usize,
    wanted: impl Fn(&Entry) -> bool,
) -> Result<Vec<Known>, HiveError> {
    let written = in_order_of_writing(yard);
    let stands = |entry: &&Entry| {
        wanted(entry)
            && yard
                .standing(entry.id)
                .is_some_and(|s| s != Standing::Undone)
    };
    let mut undos = Vec::new();
    let mut acts = 0;
    let mut last: Option<&Entry> = None;
    for entry in written.into_iter().rev().filter(stands) {
        if last.is_none_or(|last| !same_act(entry, last)) {
            acts += 1;
        }
        if acts > count {
            break;
        }
        undos.push(Known::Undone { target: entry.id });
        last = Some(entry);
    }
    if undos.is_empty() {
        return Err(HiveError::NothingToUndo);
    }
    Ok(undos)
}

fn same_act(one: &Entry, next: &Entry) -> bool {
    one.device == next.device
        && one.seq + 1 == next.seq
        && one.recorded == next.recorded
        && one.at == next.at
        && one.said == next.said
}

/// Every entry in the order in which they were written; a device's clock that falls back does not
/// reorder its own.
fn in_order_of_writing(yard: &Yard) -> Vec<&Entry> {
    let mut entries: Vec<&Entry> = yard.journal().map(AsRef::as_ref).collect();
    entries.order_by_key(|entry| (entry.device, entry.seq, entry.id));
    let mut latest: BTreeMap<DeviceId, Timestamp> = BTreeMap::new();
    let mut written: Vec<_> = entries
        .into_iter()
        .map(|entry| {
            let clock = latest.entry(entry.device).or_insert(entry.recorded);
            *clock = entry.recorded.max(*clock);
            (*clock, entry)
        })
        .collect();
    written.order_by_key(|(clock, entry)| (*clock, entry.device, entry.seq, entry.id));
    written.into_iter().map(|(_, entry)| entry).collect()
}
