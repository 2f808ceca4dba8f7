//! What to feed when stores are short, and until when.

use comb::{Mass, Volume};
use jiff::Span;
use jiff::civil::Date;
use serde::Serialize;

use crate::figures as fig;
use crate::weather::{SLOTS, Years, slot};

/// Until when syrup can be fed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LastFeed {
    /// It is warm enough until the end of the span.
    AnyDay,
    /// The last good day.
    On(Date),
    /// It is too cold already: syrup would not be taken down.
    TooLate,
}

/// A feed that makes up what is short. Autumn feed; follow the local code on feeding and never feed
/// honey of unknown origin.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Feed {
    /// Stores that are short.
    pub short_kg: Mass,
    /// White sugar that makes as much.
    pub sugar_kg: Mass,
    /// The syrup of that sugar, two parts sugar to one of water by mass.
    pub syrup_l: Volume,
    /// Until when.
    pub last: LastFeed,
}

impl Feed {
    /// The feed for so much that is short.
    ///
    /// `sugar = short * 0.82 / 0.82` (sugar in stores, share of a feed that ends as stores) and
    /// `litres = 1.5 sugar / 1.3265` (density from reference/sucrose-density.csv).
    pub fn for_short(short: Mass, last: LastFeed) -> Self {
        let sugar = short * (fig::SUGAR_IN_HONEY.value / fig::SUGAR_KEPT.value);
        Self {
            short_kg: short,
            sugar_kg: sugar,
            syrup_l: Volume::litres(1.5 * sugar.to_kg() / fig::SYRUP_DENSITY.value),
            last,
        }
    }
}

/// How often, of the source years, a week is warm enough for feeding.
const USUALLY: f64 = 0.8;

/// The last day on which syrup is still taken down and ripened in four years of five: warm weeks
/// from then on for two weeks.
pub fn last_good_day(years: &Years, warmer_k: f64, from: Date, until: Date) -> LastFeed {
    let warm = warm_weeks(years, warmer_k);
    let days = from
        .series(Span::new().days(1))
        .take_while(|day| *day <= until);
    let Some(cold) = days.into_iter().find(|day| warm[slot(*day)] < USUALLY) else {
        return LastFeed::AnyDay;
    };
    let lead = Span::new().days(fig::FEED_LEAD.value as i64);
    match cold.checked_sub(lead) {
        Ok(last) if last >= from => LastFeed::On(last),
        _ => LastFeed::TooLate,
    }
}

/// Per day of the year, the share of source years whose week from that day is warm enough.
fn warm_weeks(years: &Years, warmer_k: f64) -> Vec<f64> {
    let (mut warm, mut all) = (vec![0.0; SLOTS], vec![0.0; SLOTS]);
    for week in years.days().windows(7) {
        let highs: f64 = week.iter().filter_map(|day| day.tmax_c).sum();
        let at = slot(week[0].date);
        all[at] += 1.0;
        if highs / 7.0 + warmer_k >= fig::FEED_FROM.value {
            warm[at] += 1.0;
        }
    }
    warm.iter()
        .zip(all)
        .map(|(warm, all)| warm / f64::max(all, 1.0))
        .collect()
}

/// Per day of the year, the usual highest temperature: mean over the source years and the week around.
pub(crate) fn usual_highs(years: &Years) -> Vec<f64> {
    let (mut sums, mut counts) = (vec![0.0; SLOTS], vec![0.0; SLOTS]);
    for day in years.days() {
        if let Some(high) = day.tmax_c {
            for near in 0..7 {
                let at = (slot(day.date) + SLOTS + near - 3) % SLOTS;
                sums[at] += high;
                counts[at] += 1.0;
            }
        }
    }
    sums.iter()
        .zip(counts)
        .map(|(sum, n)| sum / f64::max(n, 1.0))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ten_kilograms_short_want_ten_of_sugar_in_eleven_litres() {
        let feed = Feed::for_short(Mass::kg(10.0), LastFeed::AnyDay);
        assert!((feed.sugar_kg.to_kg() - 10.0).abs() < 0.5);
        // 15 kg of syrup at 1.3265 kg/l
        assert!((feed.syrup_l.to_litres() - 11.3).abs() < 0.1);
    }
}
