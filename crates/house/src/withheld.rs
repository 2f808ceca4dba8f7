//! What the record knows that speaks against a hive's honey.

use std::collections::BTreeMap;

use hive::Yard;
use honey::lots::{Cause, Until, Withholding};
use jiff::civil::Date;

use crate::day::DayOf;

/// Said wherever withholding is judged.
pub const NO_TREATMENT_RECORD: &str = "Treatments are not recorded here yet: look into your own record whether a product's label \
     withholds this honey.";

/// What speaks against a hive's honey: feeds. How long stores made of a feed stay in the combs is
/// not known, so it warns and does not block. Treatments are not recorded by this program yet;
/// whoever judges says so ([`NO_TREATMENT_RECORD`]).
pub fn withholdings(yard: &Yard, day_of: DayOf<'_>) -> Vec<Withholding> {
    let mut latest: BTreeMap<(String, Date), String> = BTreeMap::new();
    for hive in yard.hives() {
        for fed in &hive.feeds {
            let zone = yard
                .entry(fed.when.entry)
                .map_or("UTC", |e| e.zone.as_str());
            let day = day_of(fed.when.at, zone);
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
