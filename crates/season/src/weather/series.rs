//! A daily weather series: what was observed, and nothing made up.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::Doubt;

/// One day's weather. `None` is "not observed".
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Day {
    /// Local calendar day.
    pub date: Date,
    /// Lowest temperature, degrees Celsius.
    pub tmin_c: Option<f64>,
    /// Highest temperature, degrees Celsius.
    pub tmax_c: Option<f64>,
    /// Rain, mm.
    pub rain_mm: Option<f64>,
    /// Mean wind, m/s.
    pub wind_ms: Option<f64>,
}

impl Day {
    /// Mean of lowest and highest temperature; `None` when either was not observed.
    pub fn mean_c(&self) -> Option<f64> {
        Some(f64::midpoint(self.tmin_c?, self.tmax_c?))
    }
    /// Whether temperature and rain were observed; wind is rarer and may be missing.
    pub fn is_whole(&self) -> bool {
        self.mean_c().is_some() && self.rain_mm.is_some()
    }
}

/// Days in order of date, each date at most once.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Series {
    days: Vec<Day>,
}

impl Series {
    /// Sorts the days and keeps the first of each date; says what it dropped.
    pub fn new(mut days: Vec<Day>) -> (Self, Vec<Doubt>) {
        days.sort_by_key(|day| day.date);
        let mut doubts = Vec::new();
        let mut kept: Vec<Day> = Vec::with_capacity(days.len());
        for day in days {
            match kept.last() {
                Some(last) if last.date == day.date => {
                    let same = *last == day;
                    let date = day.date;
                    doubts.push(Doubt::Twice { date, same });
                }
                _ => kept.push(day),
            }
        }
        doubts.extend(gaps(&kept));
        (Self { days: kept }, doubts)
    }
    /// The days.
    pub fn days(&self) -> &[Day] {
        &self.days
    }
}

/// Runs of dates that have no row.
fn gaps(days: &[Day]) -> Vec<Doubt> {
    days.windows(2)
        .filter_map(|pair| {
            let apart = pair[1].date.duration_since(pair[0].date).as_hours() / 24;
            (apart > 1).then(|| Doubt::Gap {
                after: pair[0].date,
                days: usize::try_from(apart - 1).unwrap_or(0),
            })
        })
        .collect()
}
