//! What an instrument showed, and the moisture that it means.

use comb::Temperature;
use serde::{Deserialize, Serialize};

use crate::bound::Bound;
use crate::moisture::BELIEVABLE;
use crate::refraction::{index_at_20_c, moisture_from_index, wedmore_index, wedmore_moisture};
use crate::{HoneyError, Moisture};

/// Sum of water and Brix of honey on a sucrose scale, NOT 100: honey's sugars refract more than
/// sucrose does, so "100 - Brix" overstates the water by 1.6 points. The sum is 98.27 to 98.31 in
/// dry honey, 98.41 at 20 % and 98.48 at 25 % water; 98.4 is within 0.13 points of all rows.
/// Source: the honey table against CRC sucrose indices; status computed.
pub const WATER_AND_BRIX: f64 = 98.4;

/// Brix readings that the honey table covers.
const BRIX: Bound = Bound {
    quantity: "Brix reading of honey",
    low: 73.4,
    high: 85.4,
    unit: "Bx",
    advice: "honey of 13 to 25 % water shows 73.4 to 85.4 on a sucrose scale; \
             check that the scale is Brix and read again",
};

/// A reading as it was taken. The journal keeps this, not the figure worked out from it.
///
/// Granulated honey must be melted (50 C) and cooled before any of them means something.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "scale", rename_all = "snake_case")]
pub enum Reading {
    /// A refractive index, instrument without temperature compensation.
    Index {
        /// As read.
        index: f64,
        /// Of prism and honey.
        temperature_c: Temperature,
    },
    /// A refractive index that the instrument has already brought to 20 C (ATC).
    IndexCompensated {
        /// As read.
        index: f64,
    },
    /// A handheld with a scale of water: believed as it is. If it has no ATC, its maker's own
    /// correction goes in before; the correction of the index does not belong on this scale.
    Water {
        /// As read, after the maker's correction.
        moisture_pct: Moisture,
    },
    /// A sucrose (Brix) scale without temperature compensation.
    Brix {
        /// As read.
        brix: f64,
        /// Of prism and honey.
        temperature_c: Temperature,
    },
    /// A sucrose (Brix) scale with temperature compensation.
    BrixCompensated {
        /// As read.
        brix: f64,
    },
    /// From a laboratory's report.
    Laboratory {
        /// As reported.
        moisture_pct: Moisture,
    },
}

impl Reading {
    /// The moisture that this reading means.
    ///
    /// Index scales go through the printed table, Brix scales through [`WATER_AND_BRIX`] and, if
    /// not compensated, the correction of the index the scale was engraved from.
    /// Source: as [`crate::refraction`] and [`WATER_AND_BRIX`]. Range 13 to 25 % for what is
    /// worked out, 10 to 35 % for what is believed.
    ///
    /// # Errors
    /// [`HoneyError::OutOfRange`] when reading or temperature lie outside their range.
    ///
    /// ```
    /// use comb::Temperature;
    /// use honey::Reading;
    /// let warm = Reading::Index { index: 1.4900, temperature_c: Temperature::celsius(26.0) };
    /// assert_eq!(warm.moisture()?.to_string(), "18.0 %"); // uncorrected it would be 18.6 %
    /// # Ok::<(), honey::HoneyError>(())
    /// ```
    pub fn moisture(self) -> Result<Moisture, HoneyError> {
        match self {
            Self::Index {
                index,
                temperature_c,
            } => moisture_from_index(index_at_20_c(index, temperature_c)?),
            Self::IndexCompensated { index } => moisture_from_index(index),
            Self::Water { moisture_pct } | Self::Laboratory { moisture_pct } => {
                BELIEVABLE.check(moisture_pct.to_percent())?;
                Ok(moisture_pct)
            }
            Self::Brix {
                brix,
                temperature_c,
            } => brix_at(brix, temperature_c),
            Self::BrixCompensated { brix } => from_brix(brix),
        }
    }
}

fn from_brix(brix: f64) -> Result<Moisture, HoneyError> {
    Ok(Moisture::known(WATER_AND_BRIX - BRIX.check(brix)?))
}

/// A Brix scale is engraved from refractive indices at 20 C, so its reading is turned back into
/// the index it stands for, corrected, and read again.
fn brix_at(brix: f64, temperature: Temperature) -> Result<Moisture, HoneyError> {
    let engraved = wedmore_index(from_brix(brix)?)?;
    wedmore_moisture(index_at_20_c(engraved, temperature)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn eighty_brix_is_not_twenty_per_cent_water() {
        // reference notes, section 2: 80.0 Bx means 18.4 %, not 20 % (computed from CRC indices)
        let moisture = Reading::BrixCompensated { brix: 80.0 }.moisture().unwrap();
        assert!((moisture.to_percent() - 18.4).abs() < 1e-9);
    }

    #[test]
    fn a_brix_reading_at_20_c_needs_no_correction() {
        for brix in [74.0, 80.0, 85.0] {
            let plain = Reading::BrixCompensated { brix }.moisture().unwrap();
            let at_20 = Reading::Brix {
                brix,
                temperature_c: Temperature::celsius(20.0),
            };
            let gap = at_20.moisture().unwrap().to_percent() - plain.to_percent();
            assert!(gap.abs() < 1e-9, "{brix}: {gap}");
        }
    }

    #[test]
    fn water_and_glass_are_not_honey() {
        for index in [1.33, 1.6, f64::NAN] {
            let error = Reading::IndexCompensated { index }.moisture().unwrap_err();
            assert!(error.to_string().contains("read again"), "{error}");
        }
    }
}
