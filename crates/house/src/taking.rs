//! Combs that left the hives.

use std::collections::BTreeSet;

use hive::entry::Harvest;
use hive::{BarId, EntryId, HiveId, Known, Yard};
use honey::lots::event::CombIn;
use honey::lots::{CombId, House};
use jiff::civil::Date;
use serde::Serialize;

use crate::day::DayOf;

/// One comb that left a hive.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Taking {
    /// The entry that says so.
    pub comb: EntryId,
    /// From which hive.
    #[serde(skip)]
    pub hive_id: HiveId,
    /// Its name.
    pub hive: String,
    /// The bar.
    #[serde(skip)]
    pub bar_id: BarId,
    /// Its number.
    pub bar: u32,
    /// In which visit.
    pub visit: Option<EntryId>,
    /// On which day, as the keeper counted it.
    pub on: Date,
    /// How.
    pub how: Harvest,
}

/// Every comb taken that stands in the journal, in order.
pub fn takings<'a>(yard: &'a Yard, day_of: DayOf<'a>) -> impl Iterator<Item = Taking> + 'a {
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
            on: day_of(entry.at, &entry.zone),
            how: *how,
        })
    })
}

/// Combs taken that are in no pail yet.
pub fn waiting(yard: &Yard, house: &House, day_of: DayOf<'_>) -> Vec<Taking> {
    let in_pails: BTreeSet<&str> = house
        .combs()
        .iter()
        .map(|comb| comb.taken.comb.as_str())
        .collect();
    takings(yard, day_of)
        .filter(|taking| !in_pails.contains(taking.comb.to_string().as_str()))
        .collect()
}

impl Taking {
    /// As it goes into a pail.
    pub fn comb_in(&self) -> CombIn {
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
pub fn combs_of_bar<'a>(
    yard: &Yard,
    house: &'a House,
    hive: &str,
    number: u32,
    day_of: DayOf<'_>,
) -> Vec<&'a CombId> {
    let found = yard.hive_named(hive).ok();
    let bar = found.and_then(|hive| hive.bar_numbered(number).ok());
    let ids: BTreeSet<String> = takings(yard, day_of)
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
