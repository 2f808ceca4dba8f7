//! Twelve monthly means with spread, and years made up from them.

use jiff::civil::{Date, date};
use serde::{Deserialize, Serialize};

use super::{Day, Series};
use crate::SeasonError;
use crate::random::Dice;

/// Means of one month.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct MonthMeans {
    /// Mean of the daily lowest, degrees Celsius.
    pub tmin_c: f64,
    /// Mean of the daily highest, degrees Celsius.
    pub tmax_c: f64,
    /// Standard deviation of a day's temperature about that mean, kelvin.
    #[serde(default = "usual_spread")]
    pub spread_k: f64,
    /// Rain of the month, mm.
    pub rain_mm: f64,
    /// Days with 1 mm or more.
    pub rain_days: f64,
}

/// Day-to-day spread where none is given: 3 K, between warm coasts (2) and continental places (5), as
/// in the project's daily series (computed).
fn usual_spread() -> f64 {
    3.0
}

/// January to December.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct YearOfMonths(pub [MonthMeans; 12]);

/// Today's departure that is left tomorrow (computed on the project's daily series: 0.5 to 0.8).
const LASTS: f64 = 0.7;
/// A wet day follows a wet day more often than a dry one: this much of the way from the month's
/// share to certainty (computed likewise: 0.27 to 0.40).
const WET_LASTS: f64 = 0.32;

impl YearOfMonths {
    /// Checks what was typed.
    ///
    /// # Errors
    /// [`SeasonError::MonthMeans`] with the month and what is wrong.
    pub fn check(&self) -> Result<(), SeasonError> {
        for (index, m) in self.0.iter().enumerate() {
            let month = index + 1;
            let fault = |what: &'static str| Err(SeasonError::MonthMeans { month, what });
            let numbers = [m.tmin_c, m.tmax_c, m.spread_k, m.rain_mm, m.rain_days];
            if numbers.iter().any(|x| !x.is_finite()) {
                return fault("has a figure that is not a number");
            }
            if m.tmax_c > 50.0 {
                return fault("looks like Fahrenheit (over 50); give degrees Celsius");
            }
            if m.tmin_c > m.tmax_c {
                return fault("has its lowest above its highest");
            }
            if !(0.0..=31.0).contains(&m.rain_days) || m.rain_mm < 0.0 {
                return fault("has rain or rain days that cannot be");
            }
            if !(0.0..=15.0).contains(&m.spread_k) {
                return fault("has a spread outside 0 to 15 kelvin");
            }
        }
        Ok(())
    }

    /// Made-up years that have these means and spreads, with runs of warm, cold, wet and dry days.
    ///
    /// # Errors
    /// As [`Self::check`].
    pub fn years(&self, count: i16, seed: u64) -> Result<Series, SeasonError> {
        self.check()?;
        let mut dice = Dice::seeded(seed);
        let mut days = Vec::new();
        let (mut off, mut wet) = (0.0, false);
        let last = date(2000 + count, 12, 31);
        let mut today = date(2001, 1, 1);
        while today <= last {
            days.push(self.day(today, &mut off, &mut wet, &mut dice));
            match today.tomorrow() {
                Ok(next) => today = next,
                Err(_) => break,
            }
        }
        Ok(Series::new(days).0)
    }

    fn day(&self, date: Date, off: &mut f64, wet: &mut bool, dice: &mut Dice) -> Day {
        let between = |part: fn(&MonthMeans) -> f64| interpolate(date, |m| part(&self.0[m]));
        let month = &self.0[date.month().unsigned_abs() as usize - 1];
        *off = LASTS * *off + libm::sqrt(1.0 - LASTS * LASTS) * dice.normal();
        let shift = *off * between(|m| m.spread_k);
        let share = (month.rain_days / 30.4).clamp(0.0, 1.0);
        let chance = if *wet {
            share + WET_LASTS * (1.0 - share)
        } else {
            share * (1.0 - WET_LASTS)
        };
        *wet = dice.uniform() < chance;
        // rain of a wet day is taken as exponential
        let fall = -libm::log(1.0 - dice.uniform()) * month.rain_mm / month.rain_days.max(0.5);
        Day {
            date,
            tmin_c: Some(between(|m| m.tmin_c) + shift),
            tmax_c: Some(between(|m| m.tmax_c) + shift),
            rain_mm: Some(if *wet { fall } else { 0.0 }),
            wind_ms: None,
        }
    }
}

/// A monthly figure on a day: by straight line between mid-months, so that no month begins with a
/// step. `of` takes the month, January 0.
pub(crate) fn interpolate(date: Date, of: impl Fn(usize) -> f64) -> f64 {
    let month = date.month().unsigned_abs() as usize - 1;
    let through = (f64::from(date.day()) - 0.5) / f64::from(date.days_in_month());
    let (from, to, share) = if through < 0.5 {
        ((month + 11) % 12, month, through + 0.5)
    } else {
        (month, (month + 1) % 12, through - 0.5)
    };
    of(from) + (of(to) - of(from)) * share
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn made_up_years_have_the_means_they_were_made_from() {
        let month = |i: usize| MonthMeans {
            tmin_c: 5.0 + i as f64,
            tmax_c: 15.0 + i as f64,
            spread_k: 3.0,
            rain_mm: 60.0,
            rain_days: 10.0,
        };
        let year = YearOfMonths(std::array::from_fn(month));
        let series = year.years(60, 3).unwrap();
        let july: Vec<_> = series
            .days()
            .iter()
            .filter(|d| d.date.month() == 7)
            .collect();
        let count = july.len() as f64;
        let mean = july.iter().map(|d| d.tmax_c.unwrap()).sum::<f64>() / count;
        let wet = july.iter().filter(|d| d.rain_mm.unwrap() > 0.0).count() as f64 / count;
        assert!((mean - 21.0).abs() < 0.35, "{mean}");
        assert!((wet - 10.0 / 30.4).abs() < 0.03, "{wet}");
    }
}
