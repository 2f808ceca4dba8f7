//! Sugar syrup for feeding: what to mix, how strong it is, how much it makes.
//!
//! Stores made from syrup are not honey and must never enter a honey lot.

use comb::{Mass, Temperature, Volume};
use serde::Serialize;

use crate::HoneyError;
use crate::bound::{Bound, between_rows};
use crate::density::WATER_20_C_KG_PER_L;

/// Sugar per litre of dry granulated white sugar, kg: 200 g a US cup of 236.588 mL.
/// Source: cup of 200 g, honeybeesuite.com; status seen.
pub const SUGAR_KG_PER_L: f64 = 0.200 / 0.236_588;

const BRIX: Bound = Bound {
    quantity: "strength of the syrup",
    low: 0.0,
    high: 85.0,
    unit: "Bx",
    advice: "the sucrose table ends at 85 per cent; use more water",
};

const SOLUBILITY_TEMPERATURE: Bound = Bound {
    quantity: "temperature of the syrup",
    low: 0.0,
    high: 30.0,
    unit: "C",
    advice: "solubility is known here from 0 to 30 C",
};

/// Sucrose per cent by mass and density at 20 C, kg/L.
/// Source: NBS Circular 440 (Bates 1942); status memory, checked against the CRC Handbook.
const DENSITY: [(f64, f64); 18] = [
    (0.0, 0.998_23),
    (5.0, 1.017_85),
    (10.0, 1.038_14),
    (15.0, 1.059_16),
    (20.0, 1.080_96),
    (25.0, 1.103_56),
    (30.0, 1.126_98),
    (35.0, 1.151_28),
    (40.0, 1.176_45),
    (45.0, 1.202_54),
    (50.0, 1.229_57),
    (55.0, 1.257_54),
    (60.0, 1.286_46),
    (65.0, 1.316_33),
    (70.0, 1.347_17),
    (75.0, 1.378_97),
    (80.0, 1.411_72),
    (85.0, 1.445_39),
];

/// Temperature in C and sucrose of a saturated solution, per cent by mass.
/// Source: CRC Handbook via a stored copy; status seen.
const SOLUBILITY: [(f64, f64); 4] = [(0.0, 64.18), (10.0, 65.58), (20.0, 67.09), (30.0, 68.8)];

/// Sugar and water put together.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Syrup {
    /// White sugar.
    pub sugar_kg: Mass,
    /// Water.
    pub water_kg: Mass,
}

impl Syrup {
    /// From weighed sugar and water.
    ///
    /// # Errors
    /// [`HoneyError::NotPositive`]; [`HoneyError::OutOfRange`] stronger than 85 Bx.
    ///
    /// ```
    /// use comb::Mass;
    /// use honey::Syrup;
    /// let two_to_one = Syrup::by_mass(Mass::kg(2.0), Mass::kg(1.0))?;
    /// assert!((two_to_one.brix() - 66.7).abs() < 0.05);
    /// # Ok::<(), honey::HoneyError>(())
    /// ```
    pub fn by_mass(sugar: Mass, water: Mass) -> Result<Self, HoneyError> {
        HoneyError::positive("sugar", "kg", sugar.to_kg())?;
        HoneyError::positive("water", "kg", water.to_kg())?;
        BRIX.check(sugar / (sugar + water) * 100.0)?;
        Ok(Self {
            sugar_kg: sugar,
            water_kg: water,
        })
    }

    /// From sugar and water measured in the same cups or litres. Weigh if it can be done: a cup
    /// of sugar weighs less than a cup of water, so "1:1" by cups is only 45.9 Bx.
    /// Sources: [`SUGAR_KG_PER_L`], water at 20 C.
    ///
    /// # Errors
    /// As [`Syrup::by_mass`].
    pub fn by_volume(sugar: Volume, water: Volume) -> Result<Self, HoneyError> {
        Self::by_mass(
            Mass::kg(sugar.to_litres() * SUGAR_KG_PER_L),
            water_mass(water),
        )
    }

    /// From weighed sugar and measured water ("1 kg to 1 L", "2 lb to a pint"). Water at 20 C.
    ///
    /// # Errors
    /// As [`Syrup::by_mass`].
    pub fn sugar_to_water(sugar: Mass, water: Volume) -> Result<Self, HoneyError> {
        Self::by_mass(sugar, water_mass(water))
    }

    /// What to weigh for so much finished syrup, at `sugar_parts` to `water_parts` by mass.
    ///
    /// # Errors
    /// As [`Syrup::by_mass`].
    pub fn for_volume(
        made: Volume,
        sugar_parts: f64,
        water_parts: f64,
    ) -> Result<Self, HoneyError> {
        HoneyError::positive("syrup to make", "L", made.to_litres())?;
        let recipe = Self::by_mass(Mass::kg(sugar_parts), Mass::kg(water_parts))?;
        let total = made.to_litres() * density(recipe.brix())?;
        let share = recipe.brix() / 100.0;
        Self::by_mass(Mass::kg(total * share), Mass::kg(total * (1.0 - share)))
    }

    /// Strength, per cent sucrose by mass.
    pub fn brix(&self) -> f64 {
        self.sugar_kg / (self.sugar_kg + self.water_kg) * 100.0
    }

    /// How much it makes, at 20 C. Source: [`density`].
    ///
    /// # Errors
    /// [`HoneyError::OutOfRange`] stronger than 85 Bx.
    pub fn volume(&self) -> Result<Volume, HoneyError> {
        let kg = (self.sugar_kg + self.water_kg).to_kg();
        Ok(Volume::litres(kg / density(self.brix())?))
    }

    /// Sugar in a litre, kg, at 20 C.
    ///
    /// # Errors
    /// As [`Syrup::volume`].
    pub fn sugar_kg_per_litre(&self) -> Result<f64, HoneyError> {
        Ok(self.sugar_kg.to_kg() / self.volume()?.to_litres())
    }

    /// Litres made per kg of sugar, at 20 C.
    ///
    /// # Errors
    /// As [`Syrup::volume`].
    pub fn litres_per_kg_sugar(&self) -> Result<f64, HoneyError> {
        Ok(self.volume()?.to_litres() / self.sugar_kg.to_kg())
    }

    /// Will sugar come out of it at this temperature? 2:1 by weight is at the edge at 20 C and
    /// drops crystals in the cold. Range 0 to 30 C. Source: [`saturation`].
    ///
    /// # Errors
    /// [`HoneyError::OutOfRange`] outside 0 to 30 C.
    pub fn crystallises_at(&self, at: Temperature) -> Result<bool, HoneyError> {
        Ok(self.brix() > saturation(at)?)
    }

    /// Stores that this feed may become, low, likely and high. An estimate: no measured handbook
    /// value was opened; 0.95 is one seen account, 1.25 near the ceiling by calculation.
    /// Source: practice.
    pub fn stores(&self) -> (Mass, Mass, Mass) {
        let [low, likely, high] = STORES_PER_SUGAR;
        (
            self.sugar_kg * low,
            self.sugar_kg * likely,
            self.sugar_kg * high,
        )
    }
}

/// Kg of stores per kg of sugar: low, likely, high. Source: see [`Syrup::stores`]; practice.
const STORES_PER_SUGAR: [f64; 3] = [0.95, 1.0, 1.25];

fn water_mass(volume: Volume) -> Mass {
    Mass::kg(volume.to_litres() * WATER_20_C_KG_PER_L)
}

/// Density of sucrose solution at 20 C, kg/L, by a cubic through the four nearest rows of NBS
/// Circular 440. Range 0 to 85 Bx.
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside 0 to 85 Bx.
pub fn density(brix: f64) -> Result<f64, HoneyError> {
    let brix = BRIX.check(brix)?;
    let after = DENSITY.partition_point(|row| row.0 < brix);
    let first = after.saturating_sub(2).min(DENSITY.len() - 4);
    Ok(lagrange(&DENSITY[first..first + 4], brix))
}

/// Sucrose of a saturated solution, per cent by mass. Range 0 to 30 C. Source: CRC Handbook via a
/// stored copy; status seen.
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside 0 to 30 C.
pub fn saturation(at: Temperature) -> Result<f64, HoneyError> {
    let celsius = SOLUBILITY_TEMPERATURE.check(at.to_celsius())?;
    Ok(between_rows(&SOLUBILITY, celsius))
}

fn lagrange(rows: &[(f64, f64)], x: f64) -> f64 {
    let weight = |i: usize| -> f64 {
        let others = rows.iter().enumerate().filter(|(j, _)| *j != i);
        others
            .map(|(_, other)| (x - other.0) / (rows[i].0 - other.0))
            .product()
    };
    rows.iter()
        .enumerate()
        .map(|(i, row)| row.1 * weight(i))
        .sum()
}
