//! The forage calendar: how strongly nectar and pollen flow, month by month.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::SeasonError;
use crate::weather::interpolate;

/// Strength by month, January first; 1 is a flow in which a forager brings Khoury's 0.1 g of honey
/// on a full flying day, with which a summer colony about holds its own; 0 is nothing, a main flow
/// is 2 to 3. The keeper sets it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Forage {
    /// Nectar.
    pub nectar: [f64; 12],
    /// Pollen; lasts somewhat longer than nectar at either end of the year.
    pub pollen: [f64; 12],
}

/// A first guess for a kind of place, for the keeper to correct. Common practice, no source; in
/// months of the northern hemisphere and turned by half a year for the southern.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Climate {
    /// A coast with flying weather and some forage all winter.
    MildCoast,
    /// A real winter, one long summer flow.
    ColdContinental,
    /// A real but moderate winter, spring and summer flows.
    Temperate,
    /// Wet winter with forage, dry summer without.
    DrySummer,
    /// Monsoon: a wet-season dearth, flows after the rains.
    Monsoon,
}

impl Climate {
    /// The guess for that kind of place at a latitude (south negative).
    pub fn forage(self, latitude: f64) -> Forage {
        let (nectar, pollen) = match self {
            Self::MildCoast => (
                [
                    0.35, 0.60, 1.30, 2.20, 2.00, 1.50, 1.20, 0.90, 0.80, 0.60, 0.45, 0.35,
                ],
                [
                    0.60, 0.80, 1.00, 1.00, 1.00, 0.90, 0.80, 0.80, 0.80, 0.70, 0.60, 0.50,
                ],
            ),
            Self::ColdContinental => (
                [
                    0.00, 0.00, 0.10, 0.60, 1.50, 2.40, 2.20, 1.40, 0.60, 0.05, 0.00, 0.00,
                ],
                [
                    0.00, 0.10, 0.60, 1.00, 1.00, 1.00, 0.80, 0.80, 0.60, 0.20, 0.00, 0.00,
                ],
            ),
            Self::Temperate => (
                [
                    0.00, 0.05, 0.30, 1.30, 2.20, 1.60, 2.20, 0.80, 0.30, 0.10, 0.02, 0.00,
                ],
                [
                    0.05, 0.30, 1.00, 1.00, 1.00, 0.90, 0.80, 0.70, 0.60, 0.40, 0.10, 0.02,
                ],
            ),
            Self::DrySummer => (
                [
                    0.40, 0.70, 1.40, 2.40, 2.20, 1.20, 0.30, 0.10, 0.15, 0.40, 0.45, 0.35,
                ],
                [
                    0.70, 0.90, 1.00, 1.00, 0.90, 0.60, 0.30, 0.20, 0.30, 0.50, 0.70, 0.60,
                ],
            ),
            Self::Monsoon => (
                [
                    1.30, 1.60, 1.40, 0.80, 0.40, 0.20, 0.12, 0.15, 0.50, 1.40, 1.80, 1.60,
                ],
                [
                    0.80, 0.80, 0.70, 0.60, 0.50, 0.40, 0.30, 0.40, 0.70, 1.00, 1.00, 0.90,
                ],
            ),
        };
        let mut forage = Forage { nectar, pollen };
        if latitude < 0.0 {
            forage.nectar.rotate_right(6);
            forage.pollen.rotate_right(6);
        }
        forage
    }
}

impl Forage {
    /// Checks what was set.
    ///
    /// # Errors
    /// [`SeasonError::Forage`] for a month outside 0..=5.
    pub fn check(&self) -> Result<(), SeasonError> {
        for (index, &strength) in self.nectar.iter().chain(&self.pollen).enumerate() {
            if !(0.0..=5.0).contains(&strength) {
                let month = index % 12 + 1;
                return Err(SeasonError::Forage { month, strength });
            }
        }
        Ok(())
    }
    /// Nectar strength on a day, between mid-months by straight line.
    pub fn nectar_on(&self, date: Date) -> f64 {
        interpolate(date, |month| self.nectar[month])
    }
    /// How much there is to fly for, 0 to 1: the better of nectar and pollen.
    pub fn interest_on(&self, date: Date) -> f64 {
        self.nectar_on(date).max(self.pollen_on(date)).min(1.0)
    }
    /// Pollen strength on a day.
    pub fn pollen_on(&self, date: Date) -> f64 {
        interpolate(date, |month| self.pollen[month])
    }
    /// The same calendar with all nectar strengths multiplied.
    #[must_use]
    pub fn times(mut self, factor: f64) -> Self {
        self.nectar = self.nectar.map(|strength| strength * factor);
        self
    }
}
