//! A forecast for the next days, as a file: our own small open format.
//!
//! ```json
//! {
//!   "format": "open-day-forecast/1",
//!   "issued": "2026-11-25T06:00:00Z",
//!   "source": "who made it, free text",
//!   "days": [
//!     {"date": "2026-11-25", "tmin_c": 9.5, "tmax_c": 21.0, "rain_mm": 0.2, "wind_ms": 3.1}
//!   ]
//! }
//! ```
//! Units stand in the names and are the only ones: degrees Celsius, millimetres, metres a second
//! (mean of the day). `null` or a missing figure is unknown; a day without temperatures is left to
//! the resampled years. Dates are local days of the yard, each once, rising.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::Day;
use crate::SeasonError;

/// The format's name and version, as it stands in the file.
pub const FORECAST_FORMAT: &str = "open-day-forecast/1";

/// One day foretold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ForecastDay {
    /// Local day.
    pub date: Date,
    /// Lowest temperature, degrees Celsius.
    #[serde(default)]
    pub tmin_c: Option<f64>,
    /// Highest temperature, degrees Celsius.
    #[serde(default)]
    pub tmax_c: Option<f64>,
    /// Rain, mm.
    #[serde(default)]
    pub rain_mm: Option<f64>,
    /// Mean wind, m/s.
    #[serde(default)]
    pub wind_ms: Option<f64>,
}

/// A forecast file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Forecast {
    /// [`FORECAST_FORMAT`].
    pub format: String,
    /// When it was issued, as written.
    #[serde(default)]
    pub issued: Option<String>,
    /// Who made it, free text.
    #[serde(default)]
    pub source: Option<String>,
    /// The days.
    pub days: Vec<ForecastDay>,
}

impl Forecast {
    /// Reads a forecast file.
    ///
    /// # Errors
    /// [`SeasonError::Forecast`] with what is wrong.
    pub fn from_json(text: &str) -> Result<Self, SeasonError> {
        let wrong = |what: String| SeasonError::Forecast(what);
        let forecast: Self = serde_json::from_str(text).map_err(|e| wrong(e.to_string()))?;
        if forecast.format != FORECAST_FORMAT {
            return Err(wrong(format!(
                "it says format {:?}, this version reads {FORECAST_FORMAT:?}",
                forecast.format.chars().take(40).collect::<String>()
            )));
        }
        if forecast
            .days
            .windows(2)
            .any(|pair| pair[0].date >= pair[1].date)
        {
            return Err(wrong("its days are not in rising order of date".to_owned()));
        }
        for day in &forecast.days {
            let too_hot = [day.tmin_c, day.tmax_c].iter().flatten().any(|&t| t > 57.0);
            if too_hot {
                return Err(wrong(format!("{} looks like Fahrenheit", day.date)));
            }
            if matches!((day.tmin_c, day.tmax_c), (Some(low), Some(high)) if low > high) {
                return Err(wrong(format!(
                    "{} has its lowest above its highest",
                    day.date
                )));
            }
        }
        Ok(forecast)
    }

    /// The days from `from` on that have temperatures, in a row; a day's unknown rain is taken as
    /// none foretold.
    pub fn days_from(&self, from: Date) -> Vec<Day> {
        let mut days = Vec::new();
        let mut expected = from;
        for day in self.days.iter().filter(|day| day.date >= from) {
            if day.date != expected || day.tmin_c.is_none() || day.tmax_c.is_none() {
                break;
            }
            days.push(Day {
                date: day.date,
                tmin_c: day.tmin_c,
                tmax_c: day.tmax_c,
                rain_mm: Some(day.rain_mm.unwrap_or(0.0)),
                wind_ms: day.wind_ms,
            });
            match expected.tomorrow() {
                Ok(next) => expected = next,
                Err(_) => break,
            }
        }
        days
    }
}
