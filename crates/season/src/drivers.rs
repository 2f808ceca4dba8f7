//! What a day's weather means to bees: worked out once per source day, not once per run.

use crate::consumption;
use crate::engine::Lane;
use crate::figures as fig;
use crate::forage::Forage;
use crate::weather::{Day, Place, SLOTS, Years, day_length_hours, slot};
use comb::Temperature;
use jiff::civil::Date;

/// One source day as the colony feels it. `f32`: a day's change is some thousandth of a store, far
/// above the last digit, and twice as many fit a processor's vector.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayRow {
    /// Honey a bee needs that need not heat, kg.
    pub rest: f32,
    /// Mean air temperature, degrees Celsius.
    pub air: f32,
    /// Flying, against a full flying day with enough to fly for.
    pub flight: f32,
    /// Honey (of the nectar) that a forager brings, kg.
    pub nectar: f32,
    /// Pollen that a forager brings, kg.
    pub pollen: f32,
    /// Season factor of laying, 0 to 1.
    pub season: f32,
    /// Share of the bees emerging today that become winter bees.
    pub wintering: f32,
    /// Share of the winter bees that take up summer work today.
    pub returning: f32,
}

impl DayRow {
    /// The row as one vector, in the order of the fields.
    pub fn pack(&self) -> Lane {
        Lane::new([
            self.rest,
            self.air,
            self.flight,
            self.nectar,
            self.pollen,
            self.season,
            self.wintering,
            self.returning,
        ])
    }
}

/// A straight rise from 0 at `from` to 1 at `to` (or a fall, when `to` is the smaller).
fn ramp(value: f64, from: f64, to: f64) -> f64 {
    ((value - from) / (to - from)).clamp(0.0, 1.0)
}

/// Share of a full (twelve-hour, warm, dry, still) flying day. Unknown wind has its own factor.
pub fn flight(day: &Day, day_length: f64) -> f64 {
    let (Some(high), Some(rain)) = (day.tmax_c, day.rain_mm) else {
        return 0.0;
    };
    let warm = ramp(high, fig::FLY_FROM.value, fig::FLY_FULL.value);
    let hot = ramp(high, fig::FLY_HOT_END.value, fig::FLY_HOT.value);
    let dry = 1.0 / (1.0 + rain / fig::RAIN_HALVES.value);
    let still = day.wind_ms.map_or(fig::WIND_UNKNOWN.value, |wind| {
        ramp(wind, fig::WIND_STOPS.value, fig::WIND_FROM.value)
    });
    let long = (day_length / 12.0).min(fig::LONGEST_FLIGHT.value);
    warm * hot * dry * still * long
}

/// Hours by which tomorrow is longer than today.
fn growing_hours(latitude: f64, date: Date) -> f64 {
    let today = day_length_hours(latitude, date);
    date.tomorrow()
        .map_or(0.0, |next| day_length_hours(latitude, next) - today)
}

/// What a day of the year brings wherever the weather comes from: worked out once for each of 365.
#[derive(Debug, Clone, Copy)]
struct Almanac {
    day_length: f64,
    growing: f64,
    nectar: f64,
    pollen: f64,
    interest: f64,
}

impl Almanac {
    /// The days of a common year; other years differ by less than two minutes of daylight.
    fn of_year(place: &Place, forage: &Forage) -> Vec<Self> {
        let on = |date: Date| Self {
            day_length: day_length_hours(place.latitude, date),
            growing: growing_hours(place.latitude, date),
            nectar: forage.nectar_on(date),
            pollen: forage.pollen_on(date),
            interest: forage.interest_on(date),
        };
        jiff::civil::date(2001, 1, 1)
            .series(jiff::Span::new().days(1))
            .take(SLOTS)
            .map(on)
            .collect()
    }

    /// Season factor of laying from the mean temperature of the last weeks and the day length, which
    /// laying leads: growing days bring more brood than shrinking ones.
    fn season(&self, recent_mean_c: f64) -> f64 {
        let led = self.day_length + fig::LAY_DAY_LEAD.value * self.growing;
        ramp(recent_mean_c, fig::LAY_FROM.value, fig::LAY_FULL.value)
            * ramp(led, fig::LAY_DAY_FROM.value, fig::LAY_DAY_FULL.value)
    }
}

/// Share of the bees emerging under a season factor and recent mean temperature that become winter
/// bees.
pub fn wintering(season: f64, recent_mean_c: f64) -> f64 {
    ramp(season, fig::WINTER_FROM.value, fig::WINTER_ALL.value)
        * ramp(
            recent_mean_c,
            fig::WINTER_COOL.value,
            fig::WINTER_COLD.value,
        )
}

/// A factor that falls to `least` where there is nothing to fly for.
fn in_dearth(interest: f64, least: f64) -> f64 {
    least + (1.0 - least) * interest
}

/// All source days of a place as the colony feels them, in the rows of [`Years::days`], then the
/// days of a forecast.
#[derive(Debug, Clone)]
pub struct DayTable {
    rows: Vec<Lane>,
    /// Mean over the source years, per day of the year, of the recent mean temperature.
    recent: Vec<f64>,
    almanac: Vec<Almanac>,
    years_rows: usize,
}

/// Days over which "recent" temperature is averaged (exponentially, so about a month in all).
const RECENT_DAYS: f64 = 15.0;

impl DayTable {
    /// Works out every source day. `warmer_k` is added to every temperature: the height's
    /// difference, or a what-if.
    pub fn new(place: &Place, years: &Years, forage: &Forage, warmer_k: f64) -> Self {
        let days = years.days();
        let almanac = Almanac::of_year(place, forage);
        let mut rows = Vec::with_capacity(days.len());
        let (mut sums, mut counts) = (vec![0.0; 365], vec![0.0; 365]);
        let mut recent = f64::NAN;
        for (i, day) in days.iter().enumerate() {
            let fresh = i == 0 || day.date.duration_since(days[i - 1].date).as_hours() > 240;
            recent = if fresh {
                mean_of_next(&days[i..])
            } else {
                recent + (day.mean_c().unwrap_or(recent) - recent) / RECENT_DAYS
            };
            let at = slot(day.date);
            sums[at] += recent;
            counts[at] += 1.0;
            rows.push(day_row(day, recent, &almanac[at], warmer_k).pack());
        }
        let recent = sums
            .iter()
            .zip(&counts)
            .map(|(sum, n)| sum / f64::max(*n, 1.0));
        Self {
            years_rows: rows.len(),
            recent: recent.collect(),
            almanac,
            rows,
        }
    }

    /// Adds foretold days; gives the rows that they have.
    pub fn add_forecast(&mut self, days: &[Day], warmer_k: f64) -> std::ops::Range<u32> {
        self.rows.truncate(self.years_rows);
        let first = self.rows.len() as u32;
        let mut recent = days.first().map_or(0.0, |day| self.recent[slot(day.date)]);
        for day in days {
            recent += (day.mean_c().unwrap_or(recent) - recent) / RECENT_DAYS;
            self.rows
                .push(day_row(day, recent, &self.almanac[slot(day.date)], warmer_k).pack());
        }
        first..self.rows.len() as u32
    }

    /// The rows, packed ([`DayRow::pack`]).
    pub fn rows(&self) -> &[Lane] {
        &self.rows
    }

    /// The share of emerging bees that are winter bees, as is usual on a date.
    pub fn usual_wintering(&self, date: Date) -> f64 {
        let recent = self.recent[slot(date)];
        wintering(self.almanac[slot(date)].season(recent), recent)
    }
}

fn mean_of_next(days: &[Day]) -> f64 {
    let means: Vec<f64> = days
        .iter()
        .take(RECENT_DAYS as usize)
        .filter_map(Day::mean_c)
        .collect();
    means.iter().sum::<f64>() / f64::max(means.len() as f64, 1.0)
}

fn day_row(day: &Day, recent: f64, almanac: &Almanac, warmer_k: f64) -> DayRow {
    let air = day.mean_c().unwrap_or(recent) + warmer_k;
    let warmed = Day {
        tmax_c: day.tmax_c.map(|t| t + warmer_k),
        ..*day
    };
    let flight = flight(&warmed, almanac.day_length);
    let recent = recent + warmer_k;
    let season = almanac.season(recent);
    let per_flight_day = 0.001 * flight;
    let returning = if almanac.growing > 0.0 {
        fig::WINTER_RETURN.value * season
    } else {
        0.0
    };
    DayRow {
        rest: (consumption::per_bee_mg(Temperature::celsius(air)) * 1e-6) as f32,
        air: air as f32,
        flight: (flight * in_dearth(almanac.interest, fig::HOME_DEARTH.value)) as f32,
        nectar: (fig::KHOURY_C.value * per_flight_day * almanac.nectar) as f32,
        pollen: (fig::POLLEN_LOAD.value * per_flight_day * almanac.pollen) as f32,
        season: (season * in_dearth(almanac.interest, fig::LAY_DEARTH.value)) as f32,
        wintering: wintering(season, recent) as f32,
        returning: returning as f32,
    }
}
