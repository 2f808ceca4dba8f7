//! Years put together from blocks of real days, so that a week of rain stays a week of rain.

use jiff::civil::Date;

use super::{Day, Series};
use crate::SeasonError;
use crate::random::Dice;

/// Days of the year that are told apart; 29 February is left out.
pub(crate) const SLOTS: usize = 365;
/// A block's length: even between these, mean 20 days. Long enough for a blocking high or a wet
/// spell, short enough that few source years still give many different ones (ours).
const BLOCK: (usize, usize) = (10, 31);
/// Gaps up to this many days are bridged by a straight line (rain: the days around, halved).
const BRIDGED: usize = 2;

/// One year of weather to live through: for each day a row of [`Years`].
pub type Path = Vec<u32>;

/// The source days of a place, laid out for drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Years {
    days: Vec<Day>,
    /// Per day of the year: rows that can start a block, and how many usable days follow in a row.
    starts: Vec<Vec<(u32, u32)>>,
}

/// Day of the year from 0, 29 February counted as the 28th.
pub(crate) fn slot(date: Date) -> usize {
    let day = date.day_of_year().unsigned_abs() as usize - 1;
    if date.in_leap_year() && day >= 59 {
        day - 1
    } else {
        day
    }
}

impl Years {
    /// Lays out a series. Short gaps are bridged; longer ones are never drawn from.
    ///
    /// # Errors
    /// [`SeasonError::MonthMissing`] when a month has no usable days, [`SeasonError::TooFewYears`]
    /// when fewer than three years can be drawn from for some day.
    pub fn new(series: &Series) -> Result<Self, SeasonError> {
        let days: Vec<Day> = bridge(series.days())
            .into_iter()
            .filter(|day| !(day.date.month() == 2 && day.date.day() == 29))
            .collect();
        let mut following = vec![0_u32; days.len()];
        for i in (0..days.len()).rev() {
            if days[i].is_whole() {
                let next = days.get(i + 1);
                let joined = next.is_some_and(|next| {
                    (slot(days[i].date) + 1) % SLOTS == slot(next.date)
                        && next.date.duration_since(days[i].date).as_hours() <= 48
                });
                following[i] = 1 + if joined { following[i + 1] } else { 0 };
            }
        }
        let mut starts = vec![Vec::new(); SLOTS];
        for (row, (day, &following)) in days.iter().zip(&following).enumerate() {
            if following > 0 {
                starts[slot(day.date)].push((row as u32, following));
            }
        }
        for month in 1..=12 {
            let has = |day: &&Day| day.date.month() == month && day.is_whole();
            if days.iter().filter(has).count() < 10 {
                return Err(SeasonError::MonthMissing(month.unsigned_abs()));
            }
        }
        let fewest = starts.iter().map(Vec::len).min().unwrap_or(0);
        if fewest < 3 {
            return Err(SeasonError::TooFewYears(fewest));
        }
        Ok(Self { days, starts })
    }

    /// The source days; a path's entries are rows of it.
    pub fn days(&self) -> &[Day] {
        &self.days
    }

    /// Fewest source years for any day of the year.
    pub fn depth(&self) -> usize {
        self.starts.iter().map(Vec::len).min().unwrap_or(0)
    }

    /// Draws the weather of `days` days from `from` on: blocks of one source year after another,
    /// each at its own time of the year.
    pub fn draw(&self, from: Date, days: usize, dice: &mut Dice) -> Path {
        let mut path = Path::with_capacity(days);
        let first = slot(from);
        while path.len() < days {
            let here = &self.starts[(first + path.len()) % SLOTS];
            let wanted = BLOCK.0 + dice.below(BLOCK.1 - BLOCK.0);
            // of three draws the one with most usable days, so that gaps seldom cut a block short
            let best = (0..3).map(|_| here[dice.below(here.len())]).reduce(|a, b| {
                if b.1 as usize >= wanted && (a.1 as usize) < wanted {
                    b
                } else {
                    a
                }
            });
            let Some((row, usable)) = best else { break };
            let length = wanted.min(usable as usize).min(days - path.len());
            path.extend(row..row + length as u32);
        }
        path
    }
}

/// Fills gaps of one or two days between whole days.
fn bridge(days: &[Day]) -> Vec<Day> {
    let mut filled: Vec<Day> = Vec::with_capacity(days.len());
    let whole: Vec<&Day> = days.iter().filter(|day| day.is_whole()).collect();
    for pair in whole.windows(2) {
        filled.push(*pair[0]);
        let gap = (pair[1].date.duration_since(pair[0].date).as_hours() / 24 - 1).max(0);
        let gap = usize::try_from(gap).unwrap_or(usize::MAX);
        if (1..=BRIDGED).contains(&gap) {
            filled.extend((1..=gap).filter_map(|k| between(pair[0], pair[1], k, gap)));
        }
    }
    filled.extend(whole.last().map(|day| **day));
    filled
}

fn between(before: &Day, after: &Day, k: usize, gap: usize) -> Option<Day> {
    let share = k as f64 / (gap + 1) as f64;
    let line = |a: Option<f64>, b: Option<f64>| Some(a? + (b? - a?) * share);
    let mut date = before.date;
    for _ in 0..k {
        date = date.tomorrow().ok()?;
    }
    Some(Day {
        date,
        tmin_c: line(before.tmin_c, after.tmin_c),
        tmax_c: line(before.tmax_c, after.tmax_c),
        rain_mm: line(before.rain_mm, after.rain_mm).map(|rain| 0.5 * rain),
        wind_ms: line(before.wind_ms, after.wind_ms),
    })
}
