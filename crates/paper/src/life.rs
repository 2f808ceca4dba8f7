//! One bar through time: what each look at its combs found.

use comb::Contents;
use hive::history::Happened;
use hive::{Bar, Look};
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::words;

/// The life of the combs on one bar, ready to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// The bar's number.
    pub number: u32,
    /// Looks, oldest first.
    pub looks: Vec<LifeLook>,
}

/// One look.
#[derive(Debug, Clone, PartialEq)]
pub struct LifeLook {
    /// The day.
    pub date: Date,
    /// In which place of the row, counted from the left end; `None` when in none.
    pub place: Option<u32>,
    /// What this look found, faces as they hang now when it is the comb that hangs now, else as they
    /// hung then.
    pub contents: Contents,
    /// True when the comb is another one than that of the look before.
    pub another_comb: bool,
    /// What happened since the look before: "cut", "turned", "moved"; each once, in order.
    pub since: Vec<String>,
}

impl Life {
    /// All looks at the combs of this bar; days are counted in `zone`.
    pub fn of(bar: &Bar, zone: &TimeZone) -> Self {
        let mut looks: Vec<LifeLook> = Vec::with_capacity(bar.looks.len());
        let mut before: Option<&Look> = None;
        for look in &bar.looks {
            looks.push(LifeLook {
                date: zone.to_datetime(look.at).date(),
                place: look.place,
                contents: as_hanging_now(look, bar),
                another_comb: before.is_some_and(|b| b.comb != look.comb),
                since: happened(bar, before.map(|b| b.at), look.at),
            });
            before = Some(look);
        }
        Self {
            number: bar.number,
            looks,
        }
    }
}

fn as_hanging_now(look: &Look, bar: &Bar) -> Contents {
    if look.comb == bar.comb {
        look.as_hanging_after(bar.turns).contents
    } else {
        look.contents.clone()
    }
}

fn happened(bar: &Bar, after: Option<Timestamp>, until: Timestamp) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    let between = bar
        .history
        .iter()
        .filter(|event| after.is_some_and(|after| event.at > after) && event.at <= until);
    for word in between.filter_map(|event| word(&event.what)) {
        if !said.iter().any(|s| s == word) {
            said.push(word.to_owned());
        }
    }
    said
}

const fn word(what: &Happened) -> Option<&'static str> {
    match what {
        Happened::Taken { how } => Some(words::harvest(*how)),
        Happened::Turned => Some(words::TURNED),
        Happened::Placed { from: Some(_) } => Some(words::MOVED),
        Happened::Split { .. } => Some(words::SPLIT),
        Happened::Returned => Some(words::RETURNED),
        _ => None,
    }
}
