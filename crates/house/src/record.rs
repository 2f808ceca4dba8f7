//! What is to be recorded, thought through first: dated, looked at by the house, all or none.

use hive::{Known, Yard};
use honey::lots::{House, LotEvent};
use jiff::civil::Date;
use jiff::{SignedDuration, Timestamp, ZonedDateTime};
use serde_json::Value;

use crate::day::DayOf;
use crate::error::HouseError;
use crate::kept::{Kept, New};

/// What the makers of events may look at.
#[derive(Clone, Copy)]
pub struct Standing<'a> {
    /// The yard as it stands.
    pub yard: &'a Yard,
    /// The house as it stands.
    pub house: &'a House,
    /// The day it happened.
    pub on: Date,
    /// Days of other entries.
    pub day_of: DayOf<'a>,
}

/// Events to record, with notes to stand beside them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Batch {
    /// In order.
    pub events: Vec<LotEvent>,
    /// Recorded as notes of the yard.
    pub notes: Vec<String>,
}

impl From<LotEvent> for Batch {
    fn from(event: LotEvent) -> Self {
        Self {
            events: vec![event],
            notes: Vec::new(),
        }
    }
}

/// What can be written down as it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Planned {
    /// When it happened.
    pub at: Timestamp,
    /// What to write, as entries of the yard, all of them or none.
    pub says: Vec<Known>,
    /// The events among it.
    pub events: Vec<LotEvent>,
    /// The house as it then stands.
    pub kept: Kept,
}

/// Thinks through what `make` gives: refuses a day to come, what the house cannot take, and what
/// would make an entry of a later day impossible. Nothing is written here. `on` is the day it
/// happened, today where none is told; a day gone by is recorded at its noon, or after what is
/// recorded of the same day already, so that things of one day keep the order in which they were
/// told.
///
/// # Errors
/// [`HouseError`], or what `make` gives.
pub fn plan<E: From<HouseError>>(
    yard: &Yard,
    now: &ZonedDateTime,
    on: Option<Date>,
    day_of: DayOf<'_>,
    make: &mut dyn FnMut(&Standing<'_>) -> Result<Batch, E>,
) -> Result<Planned, E> {
    let today = now.date();
    let on = on.unwrap_or(today);
    if on > today {
        return Err(HouseError::InTheFuture { on }.into());
    }
    let before = Kept::of(yard, day_of);
    let batch = make(&Standing {
        yard,
        house: &before.house,
        on,
        day_of,
    })?;
    look(yard, now, on, day_of, &before, batch).map_err(E::from)
}

fn look(
    yard: &Yard,
    now: &ZonedDateTime,
    on: Date,
    day_of: DayOf<'_>,
    before: &Kept,
    batch: Batch,
) -> Result<Planned, HouseError> {
    let mut house = before.house.clone();
    for event in &batch.events {
        house.apply(event)?;
    }
    let at = instant(yard, now, on, day_of);
    let new = New {
        at,
        on,
        events: &batch.events,
    };
    let kept = Kept::with(yard, Some(new), day_of);
    if let Some(why) = kept.refused.iter().find(|w| !before.refused.contains(w)) {
        return Err(HouseError::DoesNotFitLater { why: why.clone() });
    }
    let notes = batch.notes.into_iter().map(|text| Known::Note { text });
    Ok(Planned {
        at,
        says: batch.events.iter().map(entry).chain(notes).collect(),
        events: batch.events,
        kept,
    })
}

fn entry(event: &LotEvent) -> Known {
    match serde_json::to_value(event) {
        Ok(Value::Object(event)) => Known::HoneyHouse { event },
        _ => unreachable!("an event is an object with its kind"),
    }
}

fn instant(yard: &Yard, now: &ZonedDateTime, on: Date, day_of: DayOf<'_>) -> Timestamp {
    if on == now.date() {
        return now.timestamp();
    }
    // a noon that no calendar holds is as good as any instant of that day
    let noon = on
        .at(12, 0, 0, 0)
        .to_zoned_datetime(now.time_zone().clone())
        .map_or_else(|_| now.timestamp(), |noon| noon.timestamp());
    let same_day = yard.acts().iter().filter(|act| {
        matches!(act.what().known(), Some(Known::HoneyHouse { .. }))
            && day_of(act.entry().at, &act.entry().zone) == on
    });
    let latest = same_day.map(hive::yard::Act::effective).max();
    match latest.filter(|latest| *latest >= noon) {
        // another device's entry of the very same instant might else act after this one
        Some(latest) => latest
            .checked_add(SignedDuration::from_millis(1))
            .unwrap_or(latest),
        None => noon,
    }
}
