//! A moisture reading as it is typed, and what it means where the honey is sold.

use comb::Temperature;
use honey::fermentation::{Keeping, keeping};
use honey::limits::{Item, Kind, Limit, limit};
use honey::{HoneyError, Moisture, Reading, Region};

/// What an instrument shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// Refractive index.
    Index,
    /// Degrees Brix, a sucrose scale.
    Brix,
    /// Per cent of water, a honey scale.
    Water,
    /// Per cent of water as a laboratory reports it.
    Laboratory,
}

/// The reading, refused when no honey reads so. `at` is the temperature of prism and honey; without
/// one the instrument has corrected by itself. It has no bearing on scales of water.
///
/// # Errors
/// [`HoneyError::OutOfRange`].
pub fn reading(scale: Scale, figure: f64, at: Option<Temperature>) -> Result<Reading, HoneyError> {
    let reading = match (scale, at) {
        (Scale::Index, Some(temperature_c)) => Reading::Index {
            index: figure,
            temperature_c,
        },
        (Scale::Index, None) => Reading::IndexCompensated { index: figure },
        (Scale::Brix, Some(temperature_c)) => Reading::Brix {
            brix: figure,
            temperature_c,
        },
        (Scale::Brix, None) => Reading::BrixCompensated { brix: figure },
        (Scale::Water, _) => Reading::Water {
            moisture_pct: Moisture::percent(figure)?,
        },
        (Scale::Laboratory, _) => Reading::Laboratory {
            moisture_pct: Moisture::percent(figure)?,
        },
    };
    reading.moisture()?;
    Ok(reading)
}

/// What a moisture means: whether it keeps, and whether it is lawful. The two are never one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// The moisture.
    pub moisture: Moisture,
    /// How it will keep.
    pub keeping: Keeping,
    /// The region's general limit of moisture; `None` where no region is told or it sets none.
    pub limit: Option<Limit>,
}

impl Judged {
    /// Judges a moisture for sale in a region.
    pub fn of(moisture: Moisture, region: Option<Region>) -> Self {
        Self {
            moisture,
            keeping: keeping(moisture),
            limit: region.and_then(|region| limit(region, Item::Moisture, Kind::General).ok()),
        }
    }

    /// Whether it keeps to the limit; `None` where there is none.
    pub fn within_limit(&self) -> Option<bool> {
        self.limit.map(|limit| limit.admits_moisture(self.moisture))
    }
}
