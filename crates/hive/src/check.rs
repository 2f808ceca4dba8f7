//! Refusing bad input before it is recorded.
//!
//! What the fold would list as a fault afterwards is refused here with words that help. A row that
//! is too long for the cavity is NOT refused: the keeper sees the hive, the program only widths.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::{Offset, TimeZone};

use crate::HiveError;
use crate::bar::Bar;
use crate::entry::{Entry, Known, Piece, What};
use crate::fault::Why;
use crate::fold::State;
use crate::history::Look;
use crate::hive::Hive;
use crate::id::{BarId, EntryId, HiveId};
use crate::order::CLOCK_PLAY;
use crate::row::Row;
use crate::yard::{Standing, Yard, same_name};

/// Whether an entry may be recorded as the next one of its device; `now` comes from outside.
///
/// # Errors
/// The first cause found, see [`HiveError`].
pub fn check(yard: &Yard, entry: &Entry, now: Timestamp) -> Result<(), HiveError> {
    entry.what.check_values()?;
    check_stamp(yard, entry, now)?;
    let Some(known) = entry.what.known() else {
        return Ok(());
    };
    not_to_come(known, now)?;
    match known {
        Known::Undone { target } => return check_undo(yard, *target),
        Known::Corrected { target, what } => return check_correction(yard, *target, what),
        Known::Apiary { .. }
        | Known::HoneyHouse { .. }
        | Known::MedicineBought(_)
        | Known::MedicineDisposed(_) => return Ok(()),
        Known::HiveStarted { name, apiary, .. } => {
            let hive = entry.hive.ok_or_else(|| no_hive(known))?;
            if yard.hive(hive).is_some() {
                return Err(taken("hive", &hive));
            }
            check_name(yard, name, None)?;
            return apiary.map_or(Ok(()), |apiary| known_apiary(yard, &apiary));
        }
        Known::Note { .. } if entry.hive.is_none() => return Ok(()),
        _ => {}
    }
    let id = entry.hive.ok_or_else(|| no_hive(known))?;
    let hive = yard.hive(id).ok_or_else(|| no_such_hive(yard, &id))?;
    check_times(hive, entry)?;
    match known {
        Known::HiveRenamed { name } => check_name(yard, name, Some(hive))?,
        Known::HiveMoved { apiary } => known_apiary(yard, apiary)?,
        Known::BarAdded { bar, .. } if yard.hive_of_bar(*bar).is_some() => {
            return Err(taken("bar", bar));
        }
        Known::SplitTo { to, .. } if yard.hive(*to).is_none() => {
            return Err(no_such_hive(yard, to));
        }
        _ => check_health(hive, known)?,
    }
    rehearse(yard, hive, entry)
}

fn no_hive(known: &Known) -> HiveError {
    HiveError::NoHive {
        kind: known.kind().to_owned(),
    }
}

fn no_such_hive(yard: &Yard, name: &impl ToString) -> HiveError {
    let known = yard
        .living_hives()
        .iter()
        .map(|hive| hive.name.clone())
        .collect();
    HiveError::NoSuchHive {
        name: name.to_string(),
        near: Vec::new(),
        known,
    }
}

fn taken(thing: &'static str, id: &impl ToString) -> HiveError {
    HiveError::IdTaken {
        thing,
        id: id.to_string(),
    }
}

fn known_apiary(yard: &Yard, apiary: &crate::id::ApiaryId) -> Result<(), HiveError> {
    if yard.apiary(*apiary).is_some() {
        return Ok(());
    }
    Err(HiveError::NoSuchApiary {
        name: apiary.to_string(),
        near: Vec::new(),
        known: yard.apiaries().map(|apiary| apiary.name.clone()).collect(),
    })
}

fn check_stamp(yard: &Yard, entry: &Entry, now: Timestamp) -> Result<(), HiveError> {
    if yard.entry(entry.id).is_some() {
        return Err(taken("entry", &entry.id));
    }
    let expected = yard.next_seq(entry.device);
    if entry.seq != expected {
        let seq = entry.seq;
        return Err(HiveError::Sequence { seq, expected });
    }
    for at in [entry.at, entry.recorded] {
        if at.duration_since(now) > CLOCK_PLAY {
            return Err(HiveError::InTheFuture { at, now });
        }
    }
    match yard.last_recorded(entry.device) {
        Some(last) if last.duration_since(entry.recorded) > CLOCK_PLAY => {
            let recorded = entry.recorded;
            Err(HiveError::ClockWentBack { recorded, last })
        }
        _ => Ok(()),
    }
}

fn check_name(yard: &Yard, name: &str, of: Option<&Hive>) -> Result<(), HiveError> {
    let in_use = yard
        .hives()
        .filter(|hive| hive.is_living() && of.is_none_or(|of| of.id != hive.id))
        .any(|hive| same_name(&hive.name, name));
    if in_use {
        let name = name.trim().to_owned();
        return Err(HiveError::NameTaken { name });
    }
    Ok(())
}

/// The day that an entry about health tells of, which cannot be tomorrow anywhere.
fn not_to_come(known: &Known, now: Timestamp) -> Result<(), HiveError> {
    let on = match known {
        Known::TreatmentBegun(given) => given.on,
        Known::TreatmentEnded(end) => end.on,
        Known::SignSeen(sign) => sign.on,
        Known::SignReported(report) => report.on,
        Known::SignCleared(clearing) => clearing.on,
        Known::MedicineBought(bought) => bought.on,
        Known::MedicineDisposed(disposed) => disposed.on,
        _ => return Ok(()),
    };
    // the day begins first 14 hours east of Greenwich
    let first = TimeZone::fixed(Offset::constant(14));
    if on > now.to_zoned_datetime(first).date() {
        return Err(day_refused("today or earlier", on));
    }
    Ok(())
}

fn day_refused(bound: &'static str, day: Date) -> HiveError {
    HiveError::Value {
        field: "the day",
        bound,
        value: day.to_string(),
    }
}

/// Ends not before beginnings, and nothing ended or cleared twice.
fn check_health(hive: &Hive, known: &Known) -> Result<(), HiveError> {
    let over = |what: &'static str, since: Date| HiveError::OverAlready {
        what,
        hive: hive.name.clone(),
        since,
    };
    match known {
        Known::TreatmentEnded(end) => match hive.treatment(end.treatment) {
            Some(treated) if end.on < treated.given.on => Err(day_refused(
                "the day of the treatment's beginning or later",
                end.on,
            )),
            Some(treated) => match &treated.ended {
                Some(ended) => Err(over("treatment", ended.on)),
                None => Ok(()),
            },
            None => Ok(()),
        },
        Known::SignReported(crate::sign::Report { sign, on, .. })
        | Known::SignCleared(crate::sign::Clearing { sign, on, .. }) => match hive.sign(*sign) {
            Some(seen) if *on < seen.sign.on => Err(day_refused(
                "the day on which the sign was seen or later",
                *on,
            )),
            Some(seen) if matches!(known, Known::SignCleared(_)) => match &seen.cleared {
                Some(cleared) => Err(over("sign", cleared.on)),
                None => Ok(()),
            },
            _ => Ok(()),
        },
        _ => Ok(()),
    }
}

/// Not before the hive began, not before the visit that it belongs to; a visit not before the
/// last one.
fn check_times(hive: &Hive, entry: &Entry) -> Result<(), HiveError> {
    let not_before = |what: String, since: Timestamp| {
        if since.duration_since(entry.at) > CLOCK_PLAY {
            let at = entry.at;
            return Err(HiveError::TooEarly { at, what, since });
        }
        Ok(())
    };
    not_before(format!("{} began", hive.name), hive.started)?;
    if matches!(entry.what.known(), Some(Known::VisitOpened { .. })) {
        return hive
            .visits
            .iter()
            .map(|visit| visit.opened)
            .max()
            .map_or(Ok(()), |last| {
                not_before(format!("the last visit to {}", hive.name), last)
            });
    }
    let Some(id) = entry.visit else {
        return Ok(());
    };
    let visit = hive.visit(id).ok_or_else(|| HiveError::NoSuchVisit {
        id: id.to_string(),
        hive: hive.name.clone(),
    })?;
    not_before("its visit began".to_owned(), visit.opened)
}

fn check_undo(yard: &Yard, target: EntryId) -> Result<(), HiveError> {
    match yard.standing(target) {
        None => Err(no_such_entry(target, "take back")),
        Some(Standing::Undone) => Err(HiveError::AlreadyUndone {
            id: target.to_string(),
        }),
        Some(Standing::Stands | Standing::Corrected) => Ok(()),
    }
}

fn no_such_entry(target: EntryId, verb: &'static str) -> HiveError {
    HiveError::NoSuchEntry {
        id: target.to_string(),
        verb,
    }
}

fn check_correction(yard: &Yard, target: EntryId, what: &What) -> Result<(), HiveError> {
    let wrong = yard
        .entry(target)
        .ok_or_else(|| no_such_entry(target, "correct"))?;
    if yard.standing(target) == Some(Standing::Undone) {
        return Err(HiveError::AlreadyUndone {
            id: target.to_string(),
        });
    }
    let meta = |what: &What| {
        matches!(
            what.known(),
            Some(Known::Undone { .. } | Known::Corrected { .. })
        )
    };
    let undo = matches!(wrong.what.known(), Some(Known::Undone { .. }));
    if undo || meta(what) {
        return Err(HiveError::NotCorrectable {
            kind: wrong.what.kind().to_owned(),
            into: what.kind().to_owned(),
        });
    }
    let Some(hive) = wrong.hive.and_then(|hive| yard.hive(hive)) else {
        return Ok(());
    };
    // the bars that the corrected entry names must be somewhere in the yard
    for bar in what.known().map(bars_named).unwrap_or_default() {
        if yard.hive_of_bar(bar).is_none() {
            return Err(hive.no_such_bar(&bar));
        }
    }
    Ok(())
}

/// Bars that an entry names as being in its hive.
pub fn bars_named(known: &Known) -> Vec<BarId> {
    match known {
        Known::Arranged { row } | Known::EndArranged { row, .. } => {
            row.iter().filter_map(Piece::bar).collect()
        }
        Known::BarMoved { bar, beside, .. } => vec![*bar, *beside],
        Known::BarTurned { bar }
        | Known::BarHangs { bar, .. }
        | Known::SetAside { bar }
        | Known::PutBack { bar }
        | Known::CombTaken { bar, .. }
        | Known::BarRemoved { bar }
        | Known::CombSeen { bar, .. }
        | Known::Decided { bar, .. } => vec![*bar],
        Known::QueenSeen { bar } | Known::QueenCells { bar, .. } => bar.iter().copied().collect(),
        Known::SignSeen(sign) => sign.bar.into_iter().collect(),
        Known::SplitTo { bars, .. } => bars.clone(),
        Known::Matched { bars } => bars.iter().filter_map(|m| m.bar).collect(),
        _ => Vec::new(),
    }
}

/// Applies the entry to a copy of its hive and sees whether the fold would take it.
fn rehearse(yard: &Yard, hive: &Hive, entry: &Entry) -> Result<(), HiveError> {
    let mut stage = State::default();
    let other = match entry.what.known() {
        Some(Known::SplitTo { to, .. }) => yard.hive(*to),
        _ => None,
    };
    for hive in other.into_iter().chain([hive]) {
        stage
            .visits
            .extend(hive.visits.iter().map(|visit| (visit.id, hive.id)));
        stage
            .hives
            .insert(hive.id, Arc::new(hive.without_history(entry.visit)));
    }
    stage.apply_what(entry, &entry.what);
    let refusal = stage.faults.iter().find(|fault| {
        !fault.applied || matches!(fault.why, Why::NumberTaken { .. }) && adds_bar(&entry.what)
    });
    refusal.map_or(Ok(()), |fault| Err(explain(&fault.why, hive, &entry.what)))
}

/// The hive as it would stand with more entries, which nobody has written yet. What they tell that
/// the fold would refuse does nothing; entries of another hive do nothing. Bars that go to another
/// hive leave this one, whatever stands in the other.
///
/// For a visit that goes on: cheap, because only this hive is folded on, and only from here.
#[must_use]
pub fn staged(hive: &Hive, entries: &[Entry]) -> Hive {
    let mut stage = State::default();
    let visits = hive.visits.iter().map(|visit| (visit.id, hive.id));
    stage.visits.extend(visits);
    stage
        .owners
        .extend(hive.bars.keys().map(|bar| (*bar, hive.id)));
    for entry in entries {
        if let Some(Known::SplitTo { to, .. }) = entry.what.known() {
            stage.hives.insert(*to, Arc::new(hive.emptied(*to)));
        }
    }
    stage.hives.insert(hive.id, Arc::new(hive.clone()));
    for entry in entries {
        stage.apply_what(entry, &entry.what);
    }
    stage
        .hives
        .remove(&hive.id)
        .map_or_else(|| hive.clone(), Arc::unwrap_or_clone)
}

/// The same without the histories of before: of each bar the last look, of visits only those that the
/// entries open. What stands in the hive is the same; it costs a small part of [`staged`].
#[must_use]
pub fn staged_without_history(hive: &Hive, entries: &[Entry]) -> Hive {
    staged(&hive.without_history(None), entries)
}

fn adds_bar(what: &What) -> bool {
    matches!(what.known(), Some(Known::BarAdded { .. }))
}

/// A fault in words for the keeper.
fn explain(why: &Why, hive: &Hive, what: &What) -> HiveError {
    let elsewhere = |bar: &BarId, wanted| match hive.bar(*bar) {
        Some(found) => HiveError::BarElsewhere {
            hive: hive.name.clone(),
            number: found.number,
            lies: found.lies.words(),
            wanted,
        },
        None => hive.no_such_bar(bar),
    };
    match why {
        Why::NoSuchBar { bar } => elsewhere(bar, "used so"),
        Why::NotInRow { bar } => elsewhere(bar, "used in the row"),
        Why::NotAside { bar } => elsewhere(bar, "put back"),
        Why::NoComb { bar } => elsewhere(bar, "harvested again"),
        Why::BesideItself { bar } => elsewhere(bar, "set beside itself"),
        Why::BarTwice { bar } => HiveError::BarTwice {
            hive: hive.name.clone(),
            number: hive.bar(*bar).map_or(0, |bar| bar.number),
        },
        Why::NumberTaken { number, given } => HiveError::NumberTaken {
            hive: hive.name.clone(),
            number: *number,
            free: *given,
        },
        Why::NoSuchTreatment { treatment } => HiveError::NoSuchRecord {
            what: "treatment",
            hive: hive.name.clone(),
            id: treatment.to_string(),
        },
        Why::NoSuchSign { sign } => HiveError::NoSuchRecord {
            what: "sign",
            hive: hive.name.clone(),
            id: sign.to_string(),
        },
        Why::NoVisit => HiveError::NoVisit {
            kind: what.kind().to_owned(),
        },
        other => HiveError::malformed(what.kind(), other),
    }
}

impl Hive {
    /// A stand-in for another hive, of which only matters that it is there.
    fn emptied(&self, id: HiveId) -> Self {
        Self {
            id,
            row: Row::default(),
            bars: BTreeMap::new(),
            ..self.without_history(None)
        }
    }

    /// A copy that is cheap to try an entry on: of histories only what the fold looks at.
    fn without_history(&self, visit: Option<EntryId>) -> Self {
        let bars: BTreeMap<_, _> = self
            .bars
            .iter()
            .map(|(id, bar)| (*id, bar.without_history()))
            .collect();
        Self {
            id: self.id,
            name: self.name.clone(),
            apiary: self.apiary,
            body: self.body,
            numbered: self.numbered,
            reserve: self.reserve,
            ripeness: self.ripeness,
            started: self.started,
            ended: self.ended.clone(),
            row: self.row.clone(),
            bars,
            departed: Vec::new(),
            visits: visit
                .and_then(|visit| self.visit(visit))
                .into_iter()
                .cloned()
                .collect(),
            queen_seen: Vec::new(),
            queen_cells: Vec::new(),
            washes: Vec::new(),
            feeds: Vec::new(),
            treatments: self.treatments.clone(),
            signs: self.signs.clone(),
            notes: Vec::new(),
        }
    }
}

impl Bar {
    /// The last look, with all that is known of the comb: what an earlier look told and no later one
    /// did still counts.
    fn last_known(&self) -> Option<Look> {
        let last = self.looks.last()?;
        if last.comb != self.comb {
            return Some(last.clone());
        }
        Some(Look {
            turns: self.turns,
            contents: self.known_contents(),
            ..last.clone()
        })
    }

    fn without_history(&self) -> Self {
        Self {
            id: self.id,
            number: self.number,
            width_mm: self.width_mm,
            hanging: self.hanging,
            lies: self.lies,
            drawn: self.drawn,
            first_seen: self.first_seen,
            bare_at: self.bare_at,
            contents: self.contents.clone(),
            seen: self.seen,
            decision: self.decision,
            looks: self.last_known().into_iter().collect(),
            history: Vec::new(),
            comb: self.comb,
            turns: self.turns,
            taken_in: self.taken_in,
        }
    }
}
