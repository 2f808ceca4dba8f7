//! The honey house as the journal leaves it.

use std::collections::BTreeSet;

use hive::{EntryId, Known, Yard};
use honey::lots::{House, LotEvent};
use jiff::Timestamp;
use jiff::civil::Date;
use serde_json::{Map, Value};

use crate::day::DayOf;
use crate::taking::takings;

/// The honey house as the journal leaves it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Kept {
    /// Lots, jars and how they hang together.
    pub house: House,
    /// Entries that could not be, in words, with the day they tell of.
    pub refused: Vec<String>,
}

impl Kept {
    /// From a yard's acts, in the order in which they act.
    pub fn of(yard: &Yard, day_of: DayOf<'_>) -> Self {
        Self::with(yard, None, day_of)
    }

    /// The same as it would stand with new events.
    pub(crate) fn with(yard: &Yard, mut new: Option<New<'_>>, day_of: DayOf<'_>) -> Self {
        let mut kept = Self::default();
        for act in yard.acts() {
            if let Some(new) = new.take_if(|new| act.effective() > new.at) {
                kept.take_all(&new);
            }
            let Some(Known::HoneyHouse { event }) = act.what().known() else {
                continue;
            };
            let day = day_of(act.entry().at, &act.entry().zone);
            match serde_json::from_value::<LotEvent>(Value::Object(event.clone())) {
                Ok(event) => kept.take(&event, day),
                Err(_) => kept.refused.push(format!(
                    "{day}: something a newer program wrote ({})",
                    kind_of(event)
                )),
            }
        }
        if let Some(new) = new {
            kept.take_all(&new);
        }
        kept.refused.extend(astray(yard, &kept.house, day_of));
        kept
    }

    fn take(&mut self, event: &LotEvent, day: Date) {
        if let Err(why) = self.house.apply(event) {
            self.refused.push(format!("{day}: {why}"));
        }
    }

    fn take_all(&mut self, new: &New<'_>) {
        for event in new.events {
            self.take(event, new.on);
        }
    }
}

/// Events that are not in the journal yet.
#[derive(Clone, Copy)]
pub(crate) struct New<'a> {
    /// When they act: after what is there of the same instant.
    pub(crate) at: Timestamp,
    /// The day of that.
    pub(crate) on: Date,
    /// In order.
    pub(crate) events: &'a [LotEvent],
}

/// Combs in pails whose taking no longer stands in the journal.
fn astray(yard: &Yard, house: &House, day_of: DayOf<'_>) -> Vec<String> {
    let taken: BTreeSet<String> = takings(yard, day_of).map(|t| t.comb.to_string()).collect();
    let gone = house.combs().iter().filter(|comb| {
        let id = comb.taken.comb.as_str();
        // a comb from elsewhere has no entry at all; one that was taken back has
        let known = id.parse::<EntryId>().ok().and_then(|id| yard.entry(id));
        known.is_some() && !taken.contains(id)
    });
    gone.map(|comb| {
        format!(
            "pail {} holds bar {} of {}, but that it was taken has been taken back since",
            comb.pail, comb.taken.bar, comb.taken.hive
        )
    })
    .collect()
}

fn kind_of(event: &Map<String, Value>) -> &str {
    event.get("event").and_then(Value::as_str).unwrap_or("?")
}
