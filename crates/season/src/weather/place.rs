//! A place: where the hive stands and what is known of its weather.

use serde::{Deserialize, Serialize};

use super::{Series, YearOfMonths, Years};
use crate::SeasonError;

/// What is known of a place's weather.
#[derive(Debug, Clone, PartialEq)]
pub enum Source {
    /// A daily series of at least some years.
    Daily(Series),
    /// Twelve monthly means with spread; years are made up from them.
    Monthly(Box<YearOfMonths>),
}

/// Where a hive stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Place {
    /// Degrees, south negative.
    pub latitude: f64,
    /// Metres above the sea; `None` when not known. Weather is taken as measured at the yard: a
    /// series from another height is moved by [`Place::moved_from`].
    pub altitude_m: Option<f64>,
}

/// Air cools by 6.5 K a kilometre (the standard atmosphere; from memory).
const LAPSE_K_PER_M: f64 = 0.0065;
/// Years made up where only monthly means are known.
const MADE_UP_YEARS: i16 = 30;

impl Place {
    /// A place.
    ///
    /// # Errors
    /// [`SeasonError::Latitude`] outside -90..=90, [`SeasonError::Altitude`] outside -430..=6000 m.
    pub fn new(latitude: f64, altitude_m: Option<f64>) -> Result<Self, SeasonError> {
        if !(-90.0..=90.0).contains(&latitude) {
            return Err(SeasonError::Latitude(latitude));
        }
        match altitude_m {
            Some(metres) if !(-430.0..=6000.0).contains(&metres) => {
                Err(SeasonError::Altitude(metres))
            }
            _ => Ok(Self {
                latitude,
                altitude_m,
            }),
        }
    }

    /// Kelvin to add to a series that was measured at `station_m` metres; none when either height
    /// is not known.
    pub fn moved_from(&self, station_m: Option<f64>) -> f64 {
        match (self.altitude_m, station_m) {
            (Some(here), Some(there)) => (there - here) * LAPSE_K_PER_M,
            _ => 0.0,
        }
    }

    /// The years that a source gives to draw from.
    ///
    /// # Errors
    /// As [`Years::new`] and [`YearOfMonths::years`].
    pub fn years(&self, source: &Source, seed: u64) -> Result<Years, SeasonError> {
        match source {
            Source::Daily(series) => Years::new(series),
            Source::Monthly(months) => Years::new(&months.years(MADE_UP_YEARS, seed)?),
        }
    }
}
