//! Density of honey, and between volume and mass.

use comb::{Mass, Temperature, Volume};

use crate::bound::{Bound, between_rows};
use crate::{HoneyError, Moisture};

/// Density of water at 20 C, kg/L (g/mL). From memory; the table of specific gravities is
/// relative to water at 20 C.
pub const WATER_20_C_KG_PER_L: f64 = 0.998_204;

/// Pounds of water in a US gallon at 20 C, weighed in air.
/// Source: NBS Circular 440 table (foodpartners.net/brix.asp); status seen.
pub const WATER_20_C_LB_PER_US_GALLON: f64 = 8.322;

/// Change of density per degree, kg/L. Source: slope of the ICUMSA polynomial for sucrose at 78
/// to 84 Brix as a stand-in (no opened source gives it for honey); status computed. From 10 to
/// 40 C the straight line stays within 0.0004 kg/L of the polynomial (test in tests/density.rs).
pub const KG_PER_L_PER_CELSIUS: f64 = -0.000_54;

/// The table's ends; its steps grow oddly with water, so it must not be carried further.
pub(crate) const DENSITY_MOISTURE: Bound = Bound {
    quantity: "moisture",
    low: 13.0,
    high: 21.0,
    unit: "%",
    advice: "the density table runs from 13 to 21 %; weigh the honey instead",
};

const DENSITY_TEMPERATURE: Bound = Bound {
    quantity: "temperature of the honey",
    low: 10.0,
    high: 40.0,
    unit: "C",
    advice: "the change of density is known from 10 to 40 C; weigh the honey instead",
};

/// Moisture in per cent and true specific gravity 20/20 C.
/// Source: White 1975 in Crane (ed.) Honey, repeated in FAO Agricultural Services Bulletin 124;
/// status memory, rows 13, 17, 18 and 21 confirmed from seen pages.
const SPECIFIC_GRAVITY: [(f64, f64); 9] = [
    (13.0, 1.4457),
    (14.0, 1.4404),
    (15.0, 1.4350),
    (16.0, 1.4295),
    (17.0, 1.4237),
    (18.0, 1.4171),
    (19.0, 1.4101),
    (20.0, 1.4027),
    (21.0, 1.3950),
];

/// True specific gravity, honey at 20 C to water at 20 C, straight between the table's rows.
/// Range 13 to 21 % water. Source: the table above; straight lines are good to 0.0003.
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside 13 to 21 %.
pub fn specific_gravity(moisture: Moisture) -> Result<f64, HoneyError> {
    let percent = DENSITY_MOISTURE.check(moisture.to_percent())?;
    Ok(between_rows(&SPECIFIC_GRAVITY, percent))
}

/// Density in kg per litre (g per mL) at a temperature:
/// `sg x 0.998204 - 0.00054 (t - 20)`. Range 13 to 21 % water, 10 to 40 C.
/// Sources: [`specific_gravity`], [`KG_PER_L_PER_CELSIUS`].
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside either range.
///
/// ```
/// use comb::Temperature;
/// use honey::{Moisture, density};
/// let kg_per_l = density::density(Moisture::percent(18.0)?, Temperature::celsius(20.0))?;
/// assert!((kg_per_l - 1.4146).abs() < 0.0001);
/// # Ok::<(), honey::HoneyError>(())
/// ```
pub fn density(moisture: Moisture, at: Temperature) -> Result<f64, HoneyError> {
    let celsius = DENSITY_TEMPERATURE.check(at.to_celsius())?;
    let at_20 = specific_gravity(moisture)? * WATER_20_C_KG_PER_L;
    Ok(at_20 + KG_PER_L_PER_CELSIUS * (celsius - 20.0))
}

/// Pounds per US gallon at 20 C, weighed in air: `sg x 8.322`. Range 13 to 21 % water.
/// Sources: [`specific_gravity`], [`WATER_20_C_LB_PER_US_GALLON`].
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside 13 to 21 %.
pub fn pounds_per_us_gallon(moisture: Moisture) -> Result<f64, HoneyError> {
    Ok(specific_gravity(moisture)? * WATER_20_C_LB_PER_US_GALLON)
}

/// Mass of a volume of honey. Ranges and sources as [`density`]. For trade fill by weight: a
/// volume is a guess at the room's temperature.
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside the ranges of [`density`]; [`HoneyError::NotPositive`].
pub fn mass_of(volume: Volume, moisture: Moisture, at: Temperature) -> Result<Mass, HoneyError> {
    let litres = volume.to_litres();
    HoneyError::positive("volume", "L", litres)?;
    Ok(Mass::kg(litres * density(moisture, at)?))
}

/// Volume that a mass of honey fills. Ranges and sources as [`density`].
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside the ranges of [`density`]; [`HoneyError::NotPositive`].
pub fn volume_of(mass: Mass, moisture: Moisture, at: Temperature) -> Result<Volume, HoneyError> {
    let kg = mass.to_kg();
    HoneyError::positive("mass", "kg", kg)?;
    Ok(Volume::litres(kg / density(moisture, at)?))
}
