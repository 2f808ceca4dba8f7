//! The days ahead as the keeper sees them: which suit for opening, how nectar comes in, how many
//! ripe combs make a trip worth it.
//!
//! The app asks no weather service: it works without a network and tells nobody where hives stand.
//! The keeper taps the days that the forecast they trust calls mild and still.

use std::collections::BTreeSet;

use advice::returning::WORTH_THE_TRIP;
use jiff::civil::Date;
use season::ripening::Flow;
use serde::{Deserialize, Serialize};

use crate::browser::storage;

/// The days ahead.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct DaysAhead {
    /// Days that suit for opening, in order; none is "no forecast was looked at".
    pub good: BTreeSet<Date>,
    /// How nectar comes in.
    pub nectar: Flow,
    /// Ripe combs that make a trip worth it.
    pub worth: usize,
}

impl Default for DaysAhead {
    fn default() -> Self {
        Self {
            good: BTreeSet::new(),
            nectar: Flow::Good,
            worth: WORTH_THE_TRIP,
        }
    }
}

const NAME: &str = "days-ahead";
/// At most so many combs are waited for.
pub const MOST_COMBS: usize = 20;

impl DaysAhead {
    /// As kept; the defaults where nothing is, or what is cannot be read.
    pub fn kept() -> Self {
        let kept: Self = storage::get(NAME)
            .and_then(|text| serde_json::from_str(&text).ok())
            .unwrap_or_default();
        Self {
            worth: kept.worth.clamp(1, MOST_COMBS),
            ..kept
        }
    }

    /// Keeps it.
    pub fn keep(&self) {
        if let Ok(text) = serde_json::to_string(self) {
            storage::set(NAME, &text);
        }
    }

    /// The days that suit, from a day on.
    pub fn good_from(&self, day: Date) -> Vec<Date> {
        self.good.range(day..).copied().collect()
    }
}
