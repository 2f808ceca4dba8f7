//! Weather: day length against an astronomical crate and almanac values, reading, drawing years.

#[path = "common/shared.rs"]
mod shared;

use jiff::civil::{Date, date};
use season::random::Dice;
use season::weather::{Doubt, Forecast, MonthMeans, YearOfMonths, day_length_hours, read_csv};
use season::{Place, SeasonError, Source, Years};
use solar_positioning::time::JulianDate;
use solar_positioning::{Horizon, Location, SolarEvents};

/// Hours of daylight by the solar position algorithm (an independent library).
fn by_library(latitude: f64, day: Date) -> Option<f64> {
    /// Terrestrial time less universal time in these decades, s.
    const DELTA_T: f64 = 70.0;
    let (year, month) = (i32::from(day.year()), day.month().unsigned_abs().into());
    let start = JulianDate::from_utc(
        year,
        month,
        day.day().unsigned_abs().into(),
        0,
        0,
        0.0,
        DELTA_T,
    )
    .ok()?
    .julian_date();
    let place = Location {
        latitude,
        longitude: 0.0,
    };
    let (sun, horizon) = (SolarEvents::new(), Horizon::SunriseSunset);
    let rise = sun
        .next_rise_from_julian(start, start + 1.0, place, DELTA_T, horizon)
        .ok()??;
    let set = sun
        .next_set_from_julian(rise, rise + 1.0, place, DELTA_T, horizon)
        .ok()??;
    Some((set - rise) * 24.0)
}

#[test]
fn day_length_agrees_with_an_astronomical_library() {
    let mut worst: f64 = 0.0;
    for year in [2000, 2026, 2027, 2040] {
        for latitude in [-55.0, -34.4, -6.2, 0.0, 17.4, 40.4, 50.8, 60.0] {
            let mut day = date(year, 1, 5);
            while day.year() == year {
                let theirs = by_library(latitude, day).unwrap();
                worst = worst.max(60.0 * (day_length_hours(latitude, day) - theirs).abs());
                day = day.checked_add(jiff::Span::new().days(9)).unwrap();
            }
        }
    }
    println!("worst difference {worst:.2} minutes");
    assert!(worst < 2.0, "{worst} minutes");
}

#[test]
fn day_length_agrees_with_almanacs() {
    // published almanac day lengths, all from memory
    let rows = [
        (
            "London, June solstice",
            51.5,
            date(2026, 6, 21),
            16.0 + 38.0 / 60.0,
        ),
        (
            "London, December solstice",
            51.5,
            date(2026, 12, 21),
            7.0 + 50.0 / 60.0,
        ),
        (
            "Sydney, December solstice",
            -33.87,
            date(2026, 12, 22),
            14.0 + 25.0 / 60.0,
        ),
        (
            "Sydney, June solstice",
            -33.87,
            date(2026, 6, 21),
            9.0 + 54.0 / 60.0,
        ),
        (
            "New York, June solstice",
            40.7,
            date(2026, 6, 21),
            15.0 + 5.5 / 60.0,
        ),
        (
            "equator, any day",
            0.0,
            date(2026, 2, 10),
            12.0 + 7.0 / 60.0,
        ),
    ];
    for (what, latitude, day, hours) in rows {
        let off = 60.0 * (day_length_hours(latitude, day) - hours);
        assert!(off.abs() < 2.0, "{what}: off by {off:.1} minutes");
    }
}

#[test]
fn all_shared_series_read_and_can_be_drawn_from() {
    for name in [
        "ballarat-au",
        "brussels-be",
        "champion-nebraska-us",
        "dodoma-tz",
        "hyderabad-in",
        "new-york-us",
        "seattle-us",
        "sydney-au",
        "tunis-tn",
        "witchcliffe-au",
        "wollongong-au",
    ] {
        let Some(read) = shared::shared_weather(name) else {
            return;
        };
        let years = Years::new(&read.series).unwrap();
        let path = years.draw(date(2026, 8, 1), 400, &mut Dice::seeded(4));
        assert_eq!(path.len(), 400, "{name}");
        assert!(
            path.iter()
                .all(|&row| years.days()[row as usize].is_whole()),
            "{name}"
        );
        // PROVENANCE: one day of this file has tmin above tmax
        let crossed = read
            .doubts
            .iter()
            .filter(|d| matches!(d, Doubt::Crossed { .. }))
            .count();
        assert_eq!(crossed, usize::from(name == "witchcliffe-au"), "{name}");
    }
}

#[test]
fn drawn_years_keep_their_season_and_their_runs_of_wet_days() {
    let Some(read) = shared::shared_weather("brussels-be") else {
        return;
    };
    let years = Years::new(&read.series).unwrap();
    let after_wet = |wet: &[bool]| {
        let pairs = wet.windows(2).filter(|pair| pair[0]);
        let (both, all) = pairs.fold((0, 0), |(b, n), p| (b + usize::from(p[1]), n + 1));
        f64::from(u32::try_from(both).unwrap()) / f64::from(u32::try_from(all).unwrap())
    };
    let rainy = |mm: Option<f64>| mm.unwrap_or(0.0) >= 1.0;
    let source: Vec<bool> = read
        .series
        .days()
        .iter()
        .map(|d| rainy(d.rain_mm))
        .collect();
    let mut drawn = Vec::new();
    for seed in 0..30 {
        let from = date(2026, 1, 1);
        let path = years.draw(from, 365, &mut Dice::seeded(seed));
        for (i, &row) in path.iter().enumerate() {
            let day = years.days()[row as usize];
            // a drawn day comes from its own time of the year
            let of_year = usize::try_from(day.date.day_of_year()).unwrap() - 1;
            let leap = usize::from(day.date.in_leap_year() && of_year >= 59);
            assert_eq!(of_year - leap, i, "{}", day.date);
            drawn.push(rainy(day.rain_mm));
        }
    }
    let (theirs, ours) = (after_wet(&source), after_wet(&drawn));
    // breaks between blocks cost a twentieth of the runs at most
    assert!(
        (ours - theirs).abs() < 0.04,
        "wet after wet: source {theirs:.3}, drawn {ours:.3}"
    );
}

const GOOD: &str = "date,tmin_c,tmax_c,rain_mm\n";

fn file(rows: &[&str]) -> String {
    format!("{GOOD}{}", rows.join("\n"))
}

#[test]
fn fahrenheit_under_a_celsius_name_is_refused() {
    let rows: Vec<String> = (1..=28)
        .map(|day| format!("2026-07-{day:02},58,{},0", 70 + day % 9))
        .collect();
    let text = format!("{GOOD}{}", rows.join("\n"));
    assert!(matches!(
        read_csv(&text),
        Err(SeasonError::LooksFahrenheit { of: 28, .. })
    ));
    let named = text.replace("tmin_c,tmax_c", "tmin_f,tmax_f");
    let read = read_csv(&named).unwrap();
    assert!((read.series.days()[0].tmax_c.unwrap() - (71.0 - 32.0) / 1.8).abs() < 1e-9);
    let bare = text.replace("tmin_c,tmax_c", "tmin,tmax");
    assert!(matches!(
        read_csv(&bare),
        Err(SeasonError::WeatherColumn { .. })
    ));
}

#[test]
fn odd_rows_are_named_and_never_made_up() {
    let read = read_csv(&file(&[
        "2026-01-01,5,15,0",
        "2026-01-02,9,3,0",
        "2026-01-03,,12,NA",
        "2026-01-03,5,12,1",
        "2026-01-08,5,99,-4",
    ]))
    .unwrap();
    let days = read.series.days();
    assert_eq!(days.len(), 4);
    assert_eq!((days[1].tmin_c, days[1].tmax_c), (None, None));
    assert_eq!((days[2].tmin_c, days[2].rain_mm), (None, None));
    assert_eq!((days[3].tmax_c, days[3].rain_mm), (None, None));
    let count = |wanted: fn(&Doubt) -> bool| read.doubts.iter().filter(|d| wanted(d)).count();
    assert_eq!(count(|d| matches!(d, Doubt::Crossed { .. })), 1);
    assert_eq!(count(|d| matches!(d, Doubt::Twice { same: false, .. })), 1);
    assert_eq!(count(|d| matches!(d, Doubt::Gap { days: 4, .. })), 1);
    assert_eq!(count(|d| matches!(d, Doubt::Beyond { .. })), 2);
}

#[test]
fn what_cannot_be_read_is_said_with_its_line() {
    assert_eq!(read_csv(""), Err(SeasonError::WeatherEmpty));
    assert_eq!(read_csv(GOOD), Err(SeasonError::WeatherEmpty));
    let wrong = read_csv(&file(&["2026-01-01,5,warm,0"])).unwrap_err();
    assert_eq!(
        wrong.to_string(),
        "weather file, line 2, column tmax_c: \"warm\" cannot be read"
    );
    assert!(read_csv(&file(&["01/02/2026,5,9,0"])).is_err());
    let missing = read_csv("date,tmin_c,rain_mm\n2026-01-01,1,2").unwrap_err();
    assert_eq!(missing.to_string(), "weather column tmax_c is missing");
}

#[test]
fn too_little_weather_is_refused() {
    let Some(read) = shared::shared_weather("seattle-us") else {
        return;
    };
    let part: Vec<_> = read
        .series
        .days()
        .iter()
        .copied()
        .filter(|d| d.date.month() != 6)
        .collect();
    let (without_june, _) = season::Series::new(part);
    assert_eq!(Years::new(&without_june), Err(SeasonError::MonthMissing(6)));
    let year: Vec<_> = read.series.days().iter().copied().take(366).collect();
    let (one_year, _) = season::Series::new(year);
    assert_eq!(Years::new(&one_year), Err(SeasonError::TooFewYears(1)));
}

#[test]
fn a_place_can_be_twelve_monthly_means() {
    let mild = MonthMeans {
        tmin_c: 8.0,
        tmax_c: 17.0,
        spread_k: 3.0,
        rain_mm: 70.0,
        rain_days: 9.0,
    };
    let place = Place::new(-34.0, Some(30.0)).unwrap();
    let source = Source::Monthly(Box::new(YearOfMonths([mild; 12])));
    let years = place.years(&source, 7).unwrap();
    assert!(years.depth() >= 29);
    let mut hot = [mild; 12];
    hot[0].tmax_c = 77.0;
    let said = YearOfMonths(hot).check().unwrap_err().to_string();
    assert!(
        said.contains("month 1") && said.contains("Fahrenheit"),
        "{said}"
    );
    assert!(Place::new(95.0, None).is_err());
}

#[test]
fn forecasts_are_read_and_refused_with_reasons() {
    let day = |date: &str, high: f64| {
        format!(r#"{{"date":"{date}","tmin_c":6.0,"tmax_c":{high},"rain_mm":null,"wind_ms":3.0}}"#)
    };
    let wrap = |days: &str| format!(r#"{{"format":"open-day-forecast/1","days":[{days}]}}"#);
    let two = wrap(&[day("2026-11-25", 20.0), day("2026-11-26", 22.0)].join(","));
    let forecast = Forecast::from_json(&two).unwrap();
    assert_eq!(forecast.days_from(date(2026, 11, 26)).len(), 1);
    assert!(forecast.days_from(date(2026, 12, 1)).is_empty());
    for bad in [
        "not json".to_owned(),
        two.replace("open-day", "other"),
        wrap(&day("2026-11-25", 70.0)),
        wrap(&[day("2026-11-26", 20.0), day("2026-11-25", 20.0)].join(",")),
    ] {
        assert!(
            matches!(Forecast::from_json(&bad), Err(SeasonError::Forecast(_))),
            "{bad}"
        );
    }
}
