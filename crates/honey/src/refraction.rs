//! Refractive index to moisture: the printed table, the formula, the correction for temperature.

use comb::Temperature;

use crate::bound::{Bound, between_rows};
use crate::{HoneyError, Moisture};

/// Change of the reading per degree above 20 C, to be ADDED (below 20 C subtracted): a warm prism
/// reads low, so uncorrected warm honey seems wetter than it is.
/// Source: Bogdanov, Book of Honey ch. 4, after Chataway; status seen.
pub const INDEX_PER_CELSIUS: f64 = 0.000_23;

/// Refractive indices that the table covers, 25.0 down to 13.0 % water.
pub(crate) const INDEX: Bound = Bound {
    quantity: "refractive index at 20 C",
    low: 1.4740,
    high: 1.5044,
    unit: "",
    advice: "honey of 13 to 25 % water reads 1.4740 to 1.5044; 1.333 is plain water. \
             Clean and dry the prism, melt crystals and cool, read again",
};

/// Temperatures at which the correction is believed. The source prints no range; 10 to 40 C is
/// common practice, no source.
pub(crate) const READING_TEMPERATURE: Bound = Bound {
    quantity: "temperature of the reading",
    low: 10.0,
    high: 40.0,
    unit: "C",
    advice: "let prism and honey come to room temperature and read again",
};

/// Moistures for which the inverse formula is used.
const TABLE_MOISTURE: Bound = Bound {
    quantity: "moisture",
    low: 13.0,
    high: 25.0,
    unit: "%",
    advice: "the table of refractive indices ends there",
};

/// Refractive index at 20 C and moisture in per cent, rising in the index.
/// Source: table after Chataway 1932 and Wedmore 1955 (Bee World 36:197), as printed in Bogdanov,
/// Book of Honey ch. 4; status seen.
#[rustfmt::skip]
const TABLE: [(f64, f64); 61] = [
    (1.4740, 25.0), (1.4745, 24.8), (1.4750, 24.6), (1.4755, 24.4), (1.4760, 24.2),
    (1.4765, 24.0), (1.4770, 23.8), (1.4775, 23.6), (1.4780, 23.4), (1.4785, 23.2),
    (1.4790, 23.0), (1.4795, 22.8), (1.4800, 22.6), (1.4805, 22.4), (1.4810, 22.2),
    (1.4815, 22.0), (1.4820, 21.8), (1.4825, 21.6), (1.4830, 21.4), (1.4835, 21.2),
    (1.4840, 21.0), (1.4845, 20.8), (1.4850, 20.6), (1.4855, 20.4), (1.4860, 20.2),
    (1.4865, 20.0), (1.4870, 19.8), (1.4875, 19.6), (1.4880, 19.4), (1.4885, 19.2),
    (1.4890, 19.0), (1.4895, 18.8), (1.4900, 18.6), (1.4905, 18.4), (1.4910, 18.2),
    (1.4915, 18.0), (1.4920, 17.8), (1.4925, 17.6), (1.4930, 17.4), (1.4935, 17.2),
    (1.4940, 17.0), (1.4946, 16.8), (1.4951, 16.6), (1.4956, 16.4), (1.4961, 16.2),
    (1.4966, 16.0), (1.4971, 15.8), (1.4976, 15.6), (1.4982, 15.4), (1.4987, 15.2),
    (1.4992, 15.0), (1.4997, 14.8), (1.5002, 14.6), (1.5007, 14.4), (1.5012, 14.2),
    (1.5018, 14.0), (1.5023, 13.8), (1.5028, 13.6), (1.5033, 13.4), (1.5038, 13.2),
    (1.5044, 13.0),
];

/// The reading brought to 20 C: `RI20 = RI + 0.00023 (t - 20)`.
///
/// Only for an instrument WITHOUT automatic temperature compensation that shows a refractive
/// index. Source: as [`INDEX_PER_CELSIUS`].
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside 10 to 40 C.
pub fn index_at_20_c(index: f64, at: Temperature) -> Result<f64, HoneyError> {
    let celsius = READING_TEMPERATURE.check(at.to_celsius())?;
    Ok(index + INDEX_PER_CELSIUS * (celsius - 20.0))
}

/// Moisture from the refractive index at 20 C, from the printed table, straight between rows.
///
/// This is the figure that verdicts use. Range 1.4740 to 1.5044 (25 to 13 % water).
/// Source: the table above; the standards' methods (IHC no. 1, AOAC 969.38: from memory) print
/// the same one.
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside the table.
///
/// ```
/// let moisture = honey::refraction::moisture_from_index(1.4900)?;
/// assert!((moisture.to_percent() - 18.6).abs() < 1e-9);
/// assert!(honey::refraction::moisture_from_index(1.333).is_err());
/// # Ok::<(), honey::HoneyError>(())
/// ```
pub fn moisture_from_index(index_20_c: f64) -> Result<Moisture, HoneyError> {
    let index = INDEX.check(index_20_c)?;
    Ok(Moisture::known(between_rows(&TABLE, index)))
}

/// Moisture from the refractive index at 20 C by Wedmore's formula
/// `W = (-0.2681 - log10(RI - 1)) / 0.002243`.
///
/// The formula is mostly printed as `(1.73190 - log(RI - 1)) / 0.002243`, and taken at its word
/// that is wrong: at 1.49 it gives some 910 % water. The printed 1 has lost its bar: it is the
/// characteristic "bar one" of a logarithm table, minus one, so that bar-1.73190 = -1 + 0.73190 =
/// -0.26810. Whoever "corrects" the constant here to the printed one walks into that trap.
/// Range 1.4740 to 1.5044; within 0.022 % water of the table. Source: Wedmore 1955, Bee World
/// 36:197, via Bogdanov; status seen, sign computed.
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside the range.
pub fn wedmore_moisture(index_20_c: f64) -> Result<Moisture, HoneyError> {
    let index = INDEX.check(index_20_c)?;
    Ok(Moisture::known(
        (-0.2681 - libm::log10(index - 1.0)) / 0.002_243,
    ))
}

/// Refractive index at 20 C of honey of this moisture: `RI = 1 + 10^(-0.2681 - 0.002243 W)`, the
/// inverse of [`wedmore_moisture`]. Range 13 to 25 %; within 0.0001 of the table.
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside 13 to 25 %.
pub fn wedmore_index(moisture: Moisture) -> Result<f64, HoneyError> {
    let w = TABLE_MOISTURE.check(moisture.to_percent())?;
    Ok(1.0 + libm::pow(10.0, -0.2681 - 0.002_243 * w))
}
