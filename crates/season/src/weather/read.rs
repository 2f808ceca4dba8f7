//! Reading a daily series from CSV with named columns.
//!
//! Columns (any order, others are ignored and named): `date` (2026-11-25), `tmin_c`/`tmin_f`,
//! `tmax_c`/`tmax_f`, `rain_mm`/`rain_in`, `wind_mean_ms`/`wind_mean_kmh`/`wind_mean_mph`. The unit
//! stands in the name; a column without one is refused, since 68 may be either. An empty field, `NA`
//! or `-` is "not observed". Comma, semicolon or tab.

use jiff::civil::Date;
use serde::Serialize;

use super::{Day, Series};
use crate::SeasonError;

/// Something odd in a weather file that does not stop the reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Doubt {
    /// Days without a row.
    Gap {
        /// The last day before them.
        after: Date,
        /// How many.
        days: usize,
    },
    /// A date that stands there twice; the first was kept.
    Twice {
        /// The date.
        date: Date,
        /// Whether both rows say the same.
        same: bool,
    },
    /// Lowest above highest; both are taken as not observed.
    Crossed {
        /// The date.
        date: Date,
    },
    /// A value that weather does not reach; taken as not observed.
    Beyond {
        /// The date.
        date: Date,
        /// The column.
        column: String,
        /// The value in the column's own unit.
        value: f64,
    },
    /// A column that is not used.
    Unused {
        /// Its name.
        column: String,
    },
}

impl std::fmt::Display for Doubt {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Gap { after, days } => write!(f, "{days} days have no row after {after}"),
            Self::Twice { date, same: true } => write!(f, "{date} stands there twice, alike"),
            Self::Twice { date, .. } => {
                write!(
                    f,
                    "{date} stands there twice with different figures; the first counts"
                )
            }
            Self::Crossed { date } => {
                write!(
                    f,
                    "{date}: lowest above highest; both taken as not observed"
                )
            }
            Self::Beyond {
                date,
                column,
                value,
            } => write!(
                f,
                "{date}: {column} {value} cannot be; taken as not observed"
            ),
            Self::Unused { column } => write!(f, "column {column} is not used"),
        }
    }
}

/// A series and what was odd about it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Read {
    /// The days.
    pub series: Series,
    /// What was odd, in order of date where there is one.
    pub doubts: Vec<Doubt>,
}

/// What a column holds: which quantity, and how to bring it to our unit.
#[derive(Clone, Copy, PartialEq)]
enum Column {
    Date,
    Tmin(Unit),
    Tmax(Unit),
    Rain(f64),
    Wind(f64),
    Unused,
}

#[derive(Clone, Copy, PartialEq)]
enum Unit {
    Celsius,
    Fahrenheit,
}

impl Unit {
    fn to_celsius(self, value: f64) -> f64 {
        match self {
            Self::Celsius => value,
            Self::Fahrenheit => comb::Temperature::fahrenheit(value).to_celsius(),
        }
    }
}

/// Lowest and highest air temperatures ever observed are -89 and 57 C; rain of a day 1825 mm; mean
/// wind of a day stays under 60 m/s (general reference, from memory).
const AIR: std::ops::RangeInclusive<f64> = -90.0..=57.0;
const RAIN: std::ops::RangeInclusive<f64> = 0.0..=1825.0;
const WIND: std::ops::RangeInclusive<f64> = 0.0..=60.0;
/// Days warmer than this in a Celsius column make it look like Fahrenheit.
const LOOKS_FAHRENHEIT: f64 = 50.0;

/// Reads a daily series.
///
/// # Errors
/// [`SeasonError`]: `WeatherEmpty`, `WeatherColumn` (a needed column is missing or states no unit),
/// `WeatherField` (a field that is neither number nor date, with its line), `LooksFahrenheit`.
pub fn read_csv(text: &str) -> Result<Read, SeasonError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut lines = text
        .lines()
        .enumerate()
        .filter(|(_, line)| !line.trim().is_empty());
    let (_, header) = lines.next().ok_or(SeasonError::WeatherEmpty)?;
    let separator = [',', ';', '\t']
        .into_iter()
        .max_by_key(|c| header.matches(*c).count())
        .unwrap_or(',');
    let names: Vec<&str> = header.split(separator).map(field).collect();
    let columns = names
        .iter()
        .map(|name| column(name))
        .collect::<Result<Vec<_>, _>>()?;
    needed(&columns)?;
    let mut doubts = unused(&names, &columns);
    let mut days = Vec::new();
    for (index, line) in lines {
        let fields: Vec<&str> = line.split(separator).map(field).collect();
        days.push(row(index + 1, &names, &columns, &fields, &mut doubts)?);
    }
    if days.is_empty() {
        return Err(SeasonError::WeatherEmpty);
    }
    let celsius = columns.contains(&Column::Tmax(Unit::Celsius));
    if celsius {
        refuse_fahrenheit(&days)?;
    }
    for day in &mut days {
        drop_impossible(day, &mut doubts);
    }
    let (series, more) = Series::new(days);
    doubts.extend(more);
    Ok(Read { series, doubts })
}

fn field(text: &str) -> &str {
    text.trim().trim_matches('"').trim()
}

fn column(name: &str) -> Result<Column, SeasonError> {
    Ok(match name.to_ascii_lowercase().as_str() {
        "date" => Column::Date,
        "tmin_c" => Column::Tmin(Unit::Celsius),
        "tmin_f" => Column::Tmin(Unit::Fahrenheit),
        "tmax_c" => Column::Tmax(Unit::Celsius),
        "tmax_f" => Column::Tmax(Unit::Fahrenheit),
        "rain_mm" => Column::Rain(1.0),
        "rain_in" => Column::Rain(comb::units::MM_PER_INCH),
        "wind_mean_ms" => Column::Wind(1.0),
        "wind_mean_kmh" => Column::Wind(1.0 / 3.6),
        "wind_mean_mph" => Column::Wind(0.447_04),
        bare @ ("tmin" | "tmax" | "rain" | "wind" | "wind_mean") => {
            return Err(SeasonError::WeatherColumn {
                column: bare.to_owned(),
                what: "states no unit; name it for its unit, such as tmax_c or tmax_f",
            });
        }
        _ => Column::Unused,
    })
}

fn needed(columns: &[Column]) -> Result<(), SeasonError> {
    let has: [(&str, bool); 4] = [
        ("date", columns.contains(&Column::Date)),
        (
            "tmin_c",
            columns.iter().any(|c| matches!(c, Column::Tmin(_))),
        ),
        (
            "tmax_c",
            columns.iter().any(|c| matches!(c, Column::Tmax(_))),
        ),
        (
            "rain_mm",
            columns.iter().any(|c| matches!(c, Column::Rain(_))),
        ),
    ];
    match has.into_iter().find(|(_, has)| !has) {
        Some((column, _)) => Err(SeasonError::WeatherColumn {
            column: column.to_owned(),
            what: "is missing",
        }),
        None => Ok(()),
    }
}

fn unused(names: &[&str], columns: &[Column]) -> Vec<Doubt> {
    let pairs = names.iter().zip(columns);
    pairs
        .filter(|(_, column)| **column == Column::Unused)
        .map(|(name, _)| Doubt::Unused {
            column: (*name).to_owned(),
        })
        .collect()
}

fn row(
    line: usize,
    names: &[&str],
    columns: &[Column],
    fields: &[&str],
    doubts: &mut Vec<Doubt>,
) -> Result<Day, SeasonError> {
    let wrong = |column: &str, text: &str| SeasonError::WeatherField {
        line,
        column: column.to_owned(),
        text: text.chars().take(40).collect(),
    };
    let text_of = |wanted: Column| -> Option<(&str, &str)> {
        let at = columns.iter().position(|c| *c == wanted)?;
        Some((names[at], fields.get(at).copied().unwrap_or("")))
    };
    let (name, text) = text_of(Column::Date).unwrap_or(("date", ""));
    let date: Date = text.parse().map_err(|_| wrong(name, text))?;
    let mut day = Day {
        date,
        tmin_c: None,
        tmax_c: None,
        rain_mm: None,
        wind_ms: None,
    };
    for ((column, name), text) in columns.iter().zip(names).zip(fields) {
        if matches!(column, Column::Date | Column::Unused)
            || matches!(*text, "" | "NA" | "-" | "NaN" | "nan")
        {
            continue;
        }
        let value: f64 = text.parse().map_err(|_| wrong(name, text))?;
        let mut within = |value: f64, bounds: &std::ops::RangeInclusive<f64>| {
            let possible = bounds.contains(&value);
            if !possible {
                doubts.push(Doubt::Beyond {
                    date,
                    column: (*name).to_owned(),
                    value,
                });
            }
            possible.then_some(value)
        };
        match column {
            // temperatures are judged once the whole column has been seen
            Column::Tmin(unit) => day.tmin_c = Some(unit.to_celsius(value)),
            Column::Tmax(unit) => day.tmax_c = Some(unit.to_celsius(value)),
            Column::Rain(mm) => day.rain_mm = within(value * mm, &RAIN),
            Column::Wind(ms) => day.wind_ms = within(value * ms, &WIND),
            Column::Date | Column::Unused => {}
        }
    }
    Ok(day)
}

/// A Celsius column with more than one day in fifty over 50 is Fahrenheit under a wrong name: no
/// place on earth is that hot, and every place with a summer has such days in Fahrenheit.
fn refuse_fahrenheit(days: &[Day]) -> Result<(), SeasonError> {
    let seen: Vec<f64> = days.iter().filter_map(|day| day.tmax_c).collect();
    let hot = seen.iter().filter(|&&t| t > LOOKS_FAHRENHEIT).count();
    let highest = seen.iter().copied().fold(f64::MIN, f64::max);
    // one or two may be slips of the pen; those are dropped later
    if hot >= 3 && hot * 50 > seen.len() {
        return Err(SeasonError::LooksFahrenheit {
            days: hot,
            of: seen.len(),
            highest,
        });
    }
    Ok(())
}

fn drop_impossible(day: &mut Day, doubts: &mut Vec<Doubt>) {
    let date = day.date;
    for (column, value) in [("tmin", &mut day.tmin_c), ("tmax", &mut day.tmax_c)] {
        if let Some(seen) = value.filter(|seen| !AIR.contains(seen)) {
            doubts.push(Doubt::Beyond {
                date,
                column: column.to_owned(),
                value: seen,
            });
            *value = None;
        }
    }
    if let (Some(low), Some(high)) = (day.tmin_c, day.tmax_c)
        && low > high
    {
        doubts.push(Doubt::Crossed { date });
        (day.tmin_c, day.tmax_c) = (None, None);
    }
}
