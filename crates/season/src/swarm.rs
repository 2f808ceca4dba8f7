//! Swarm pressure and windows for splits, with plain reasons.
//!
//! Common practice throughout; the thresholds stand in [`crate::figures`]. A sign to look for queen
//! cells, never a verdict: the keeper's own look decides.

use jiff::civil::Date;
use serde::Serialize;

use crate::ensemble::Setting;
use crate::feed::usual_highs;
use crate::figures as fig;
use crate::outlook::{Outlook, Week};
use crate::weather::slot;

/// How much points to swarming.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Pressure {
    /// Nothing in particular.
    Low,
    /// Two signs of four.
    Some,
    /// Three or four signs.
    High,
}

/// A week's pressure with its reasons.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SwarmWeek {
    /// The week's last day.
    pub date: Date,
    /// How much.
    pub pressure: Pressure,
    /// Why, in words.
    pub reasons: Vec<String>,
}

/// A stretch in which a split can be made.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SplitWindow {
    /// Its first week.
    pub from: Date,
    /// Its last week.
    pub until: Date,
    /// What it waits for before it opens, in words.
    pub opens: String,
    /// What closes it.
    pub closes: String,
}

/// Nectar strength from which it counts as a flow, and under which forage counts as ended (ours).
const FLOW: f64 = 0.8;
const FORAGE_ENDS: f64 = 0.3;
/// Brood for two halves, cells (practice: three combs of brood each).
const SPLIT_BROOD: f64 = 6000.0;
/// Growth of brood in three weeks that counts as building up.
const BUILDING: f64 = 1.15;

/// Pressure week by week. `hold` is the number of bees that cover all drawn combs
/// ([`crate::colony::bees_on`] their faces).
pub fn pressure(setting: &Setting, outlook: &Outlook, hold: f64) -> Vec<SwarmWeek> {
    let weeks = &outlook.weeks;
    weeks
        .iter()
        .enumerate()
        .map(|(i, week)| {
            let before = &weeks[i.saturating_sub(3)];
            let reasons = signs(setting, week, before, hold);
            let pressure = match reasons.len() {
                0 | 1 => Pressure::Low,
                2 => Pressure::Some,
                _ => Pressure::High,
            };
            SwarmWeek {
                date: week.date,
                pressure,
                reasons,
            }
        })
        .collect()
}

fn signs(setting: &Setting, week: &Week, before: &Week, hold: f64) -> Vec<String> {
    let mut reasons = Vec::new();
    let bees = week.bees.p50;
    if bees >= hold * fig::CROWDED.value {
        let times = bees / hold;
        reasons.push(format!("{times:.1} times the bees that the combs hold"));
    }
    if before.brood > 0.0 && week.brood > before.brood * BUILDING {
        let more = (week.brood / before.brood - 1.0) * 100.0;
        reasons.push(format!("brood grew by {more:.0} % in three weeks"));
    }
    if setting.forage.nectar_on(week.date) >= FLOW && bees > fig::SPLIT_BEES.value {
        reasons.push("a flow and many bees".to_owned());
    }
    let growing = setting.place.latitude.abs() > 10.0 && days_grow(setting, week.date);
    if growing && bees > fig::SPLIT_BEES.value {
        reasons.push("days still grow longer".to_owned());
    }
    reasons
}

fn days_grow(setting: &Setting, date: Date) -> bool {
    let length = |date| crate::weather::day_length_hours(setting.place.latitude, date);
    date.tomorrow()
        .is_ok_and(|next| length(next) > length(date))
}

/// What a split still waits for in a week; `None` when it can be made.
fn hindrance(
    setting: &Setting,
    outlook: &Outlook,
    at: usize,
    highs: &[f64],
) -> Option<&'static str> {
    let week = &outlook.weeks[at];
    // drones must have been reared for a while: brood five weeks earlier
    let earlier = &outlook.weeks[at.saturating_sub((fig::DRONE_READY_DAYS.value / 7.0) as usize)];
    let warm = highs[slot(week.date)] + setting.warmer_k >= fig::SPLIT_WARM.value;
    if week.bees.p50 < fig::SPLIT_BEES.value {
        Some("too few bees for two")
    } else if week.brood < SPLIT_BROOD {
        Some("too little brood for two")
    } else if !warm {
        Some("too cool for mating flights")
    } else if earlier.brood < SPLIT_BROOD / 3.0 {
        Some("drones not mature yet")
    } else if days_of_forage(setting, week.date) < fig::SPLIT_BEFORE_DEARTH.value {
        Some("too little forage ahead to build up")
    } else {
        None
    }
}

/// Days until nectar strength falls under what counts as forage.
fn days_of_forage(setting: &Setting, from: Date) -> f64 {
    let days = from.series(jiff::Span::new().days(1)).take(366);
    let left = days.take_while(|day| setting.forage.nectar_on(*day) >= FORAGE_ENDS);
    left.count() as f64
}

/// Stretches of weeks in which a split can be made.
pub fn split_windows(setting: &Setting, outlook: &Outlook) -> Vec<SplitWindow> {
    let highs = usual_highs(setting.years);
    let hindrances: Vec<_> = (0..outlook.weeks.len())
        .map(|at| hindrance(setting, outlook, at, &highs))
        .collect();
    let mut windows = Vec::new();
    let mut at = 0;
    while at < hindrances.len() {
        let open = hindrances[at..].iter().take_while(|h| h.is_none()).count();
        if open > 0 {
            let word = |index: Option<usize>, edge: &str| {
                let found = index.and_then(|i| hindrances.get(i).copied().flatten());
                found.unwrap_or(edge).to_owned()
            };
            windows.push(SplitWindow {
                from: outlook.weeks[at].date,
                until: outlook.weeks[at + open - 1].date,
                opens: word(at.checked_sub(1), "open from the start"),
                closes: word(Some(at + open), "open to the end of the outlook"),
            });
        }
        at += open.max(1);
    }
    windows
}
