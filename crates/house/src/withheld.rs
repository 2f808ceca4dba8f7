//! What the record knows that speaks against a hive's honey.

use std::collections::BTreeMap;

use health::withheld::{Cause as Why, Until as Long, Withheld, of_yard};
use hive::Yard;
use honey::lots::{Cause, Until, Withholding};
use jiff::civil::Date;

use crate::day::DayOf;

/// Said wherever withholding is judged.
pub const AS_RECORDED: &str = "Judged by the treatments and signs that are recorded; one that nobody wrote down is not known \
     here.";

/// What speaks against each hive's honey: treatments while their labels say so, suspected disease,
/// feeds. How long stores made of a feed stay in the combs is not known, so it warns and does not
/// block.
pub fn withholdings(yard: &Yard, day_of: DayOf<'_>) -> Vec<Withholding> {
    let mut all = feeds(yard, day_of);
    for (hive, withheld) in of_yard(yard.hives()) {
        let name = yard.hive(hive).map_or("", |hive| hive.name.as_str());
        all.extend(withheld.iter().map(|withheld| of_health(name, withheld)));
    }
    all
}

fn of_health(hive: &str, withheld: &Withheld) -> Withholding {
    Withholding {
        hive: hive.to_owned(),
        from: withheld.from,
        until: match withheld.until {
            Long::Through { day } => Until::Through(day),
            Long::Open => Until::Open,
            // which comb it is decides, and here only its hive is asked for
            Long::NotKnown { .. } | Long::Lost { .. } => Until::NotKnown,
        },
        cause: match withheld.cause {
            Why::Disease => Cause::Disease,
            Why::Treatment => Cause::Treatment,
        },
        what: format!("{hive}, {}", withheld.what),
    }
}

fn feeds(yard: &Yard, day_of: DayOf<'_>) -> Vec<Withholding> {
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
            what: format!("{hive} was fed {food} on {from}; stores of a feed are not honey"),
            hive,
            from,
            until: Until::NotKnown,
            cause: Cause::Feed,
        })
        .collect()
}
