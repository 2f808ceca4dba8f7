//! The honey house over the journal: which combs came out of the hives, what became of them.
//!
//! The hive crate keeps honey-house entries as they were given; here they are read, laid over the
//! combs that visits took, and refused before they are recorded when they cannot be.

use std::collections::{BTreeMap, BTreeSet};

use hive::entry::Harvest;
use hive::{BarId, EntryId, HiveId, Known, Yard};
use honey::HoneyError;
use honey::lots::event::CombIn;
use honey::lots::{Cause, CombId, House, LotEvent, Until, Withholding};
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde::Serialize;
use serde_json::{Map, Value};

use crate::failure::Failure;

impl From<HoneyError> for Failure {
    fn from(why: HoneyError) -> Self {
        Self::input(why.to_string())
    }
}

/// The honey house as the journal leaves it.
pub(crate) struct Kept {
    /// Lots, jars and how they hang together.
    pub(crate) house: House,
    /// Entries that could not be, in words, with the day they tell of.
    pub(crate) refused: Vec<String>,
}

impl Kept {
    /// From a yard's acts, in the order in which they act.
    pub(crate) fn of(yard: &Yard) -> Self {
        let mut house = House::default();
        let mut refused = Vec::new();
        for act in yard.acts() {
            let Some(Known::HoneyHouse { event }) = act.what().known() else {
                continue;
            };
            let day = local_day(act.entry().at, &act.entry().zone);
            match serde_json::from_value::<LotEvent>(Value::Object(event.clone())) {
                Ok(event) => {
                    if let Err(why) = house.apply(&event) {
                        refused.push(format!("{day}: {why}"));
                    }
                }
                Err(_) => refused.push(format!(
                    "{day}: something a newer program wrote ({})",
                    kind_of(event)
                )),
            }
        }
        refused.extend(astray(yard, &house));
        Self { house, refused }
    }
}

/// Combs in pails whose taking no longer stands in the journal.
fn astray(yard: &Yard, house: &House) -> Vec<String> {
    let taken: BTreeSet<String> = takings(yard).map(|t| t.comb.to_string()).collect();
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

/// One comb that left a hive.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Taking {
    /// The entry that says so.
    pub(crate) comb: EntryId,
    /// From which hive.
    #[serde(skip)]
    pub(crate) hive_id: HiveId,
    /// Its name.
    pub(crate) hive: String,
    /// The bar.
    #[serde(skip)]
    pub(crate) bar_id: BarId,
    /// Its number.
    pub(crate) bar: u32,
    /// In which visit.
    pub(crate) visit: Option<EntryId>,
    /// On which day, as the keeper counted it.
    pub(crate) on: Date,
    /// How.
    pub(crate) how: Harvest,
}

/// Every comb taken that stands in the journal, in order.
pub(crate) fn takings(yard: &Yard) -> impl Iterator<Item = Taking> {
    yard.acts().iter().filter_map(move |act| {
        let Some(Known::CombTaken { bar, how }) = act.what().known() else {
            return None;
        };
        let entry = act.entry();
        let hive = yard.hive(entry.hive?)?;
        let number = hive.bar(*bar).map(|bar| bar.number).or_else(|| {
            let departed = hive.departed.iter().find(|departed| departed.bar == *bar);
            departed.map(|departed| departed.number)
        })?;
        Some(Taking {
            comb: entry.id,
            hive_id: hive.id,
            hive: hive.name.clone(),
            bar_id: *bar,
            bar: number,
            visit: entry.visit,
            on: local_day(entry.at, &entry.zone),
            how: *how,
        })
    })
}

/// Combs taken that are in no pail yet.
pub(crate) fn waiting(yard: &Yard, house: &House) -> Vec<Taking> {
    let in_pails: BTreeSet<&str> = house
        .combs()
        .iter()
        .map(|comb| comb.taken.comb.as_str())
        .collect();
    takings(yard)
        .filter(|taking| !in_pails.contains(taking.comb.to_string().as_str()))
        .collect()
}

impl Taking {
    /// As it goes into a pail.
    pub(crate) fn comb_in(&self) -> CombIn {
        CombIn {
            comb: CombId::from(self.comb.to_string()),
            hive: self.hive.clone(),
            bar: self.bar.to_string(),
            visit: self
                .visit
                .map_or_else(|| "outside a visit".to_owned(), |id| id.to_string()),
            taken_on: self.on,
            mass_kg: None,
        }
    }
}

/// Combs of the house that came from a bar, under whatever number and name: those that its
/// identity says, and those recorded under this name and number.
pub(crate) fn combs_of_bar<'a>(
    yard: &Yard,
    house: &'a House,
    hive: &str,
    number: u32,
) -> Vec<&'a CombId> {
    let found = yard.hive_named(hive).ok();
    let bar = found.and_then(|hive| hive.bar_numbered(number).ok());
    let ids: BTreeSet<String> = takings(yard)
        .filter(|t| {
            bar.is_some_and(|bar| bar.id == t.bar_id)
                || (t.bar == number && found.is_some_and(|hive| hive.id == t.hive_id))
        })
        .map(|t| t.comb.to_string())
        .collect();
    let text = number.to_string();
    house
        .combs()
        .iter()
        .map(|comb| &comb.taken)
        .filter(|comb| {
            ids.contains(comb.comb.as_str())
                || (comb.hive.eq_ignore_ascii_case(hive) && comb.bar == text)
        })
        .map(|comb| &comb.comb)
        .collect()
}

/// What the record knows that speaks against a hive's honey: feeds. How long stores made of a feed
/// stay in the combs is not known, so it warns and does not block. Treatments are not recorded by
/// this program yet; the commands say so.
pub(crate) fn withholdings(yard: &Yard) -> Vec<Withholding> {
    let mut latest: BTreeMap<(String, Date), String> = BTreeMap::new();
    for hive in yard.hives() {
        for fed in &hive.feeds {
            let zone = yard
                .entry(fed.when.entry)
                .map_or("UTC", |e| e.zone.as_str());
            let day = local_day(fed.when.at, zone);
            latest.insert((hive.name.clone(), day), fed.food.clone());
        }
    }
    latest
        .into_iter()
        .map(|((hive, from), food)| Withholding {
            what: format!("{hive} was fed {food} on {from}"),
            hive,
            from,
            until: Until::NotKnown,
            cause: Cause::Feed,
        })
        .collect()
}

/// Said wherever withholding is judged.
pub(crate) const NO_TREATMENT_RECORD: &str = "Treatments are not recorded here yet: look into your own record whether a product's label \
     withholds this honey.";

/// The day of an instant in the zone in which it was written.
pub(crate) fn local_day(at: Timestamp, zone: &str) -> Date {
    at.to_zoned_datetime(zone_of(zone)).date()
}

/// A zone by the name that stands in an entry: an IANA name or an offset; UTC for one that this
/// machine does not know.
pub(crate) fn zone_of(name: &str) -> TimeZone {
    TimeZone::get(name)
        .ok()
        .or_else(|| {
            // an offset such as +10:00 is read through a date that bears it
            let bearing = format!("2000-01-01T00:00{name}[{name}]");
            let read = bearing.parse::<jiff::ZonedDateTime>().ok();
            read.map(|zoned| zoned.time_zone().clone())
        })
        .unwrap_or(TimeZone::UTC)
}

fn kind_of(event: &Map<String, Value>) -> &str {
    event.get("event").and_then(Value::as_str).unwrap_or("?")
}
