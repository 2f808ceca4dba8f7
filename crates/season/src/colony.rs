//! A colony as its keeper sees it on a day.

use comb::{Area, Mass};
use serde::{Deserialize, Serialize};

use crate::SeasonError;
use crate::figures as fig;

/// Whether a queen lays.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Queen {
    /// Eggs were seen, or there is no reason for doubt.
    Laying,
    /// No queen, or none that lays.
    Missing,
}

/// A colony on a day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Colony {
    /// Adult bees; see [`bees_on`].
    pub bees: f64,
    /// Eggs, open larvae and capped brood together, cells; see [`brood_in`].
    pub brood_cells: f64,
    /// Capped honey.
    pub honey_kg: Mass,
    /// Unripe honey, as the honey it will be.
    pub unripe_kg: Mass,
    /// Pollen; `None` when not looked at: then half a kilogram, or none for a colony without brood
    /// that has just been hived.
    pub pollen_kg: Option<Mass>,
    /// The queen.
    pub queen: Queen,
    /// Honey that the body has room for beside the brood nest.
    pub room_kg: Mass,
}

/// Pollen taken where it was not looked at, kg (ours).
const USUAL_POLLEN: f64 = 0.5;
/// No colony is larger (general reference, from memory), bees.
const MOST_BEES: f64 = 120_000.0;

/// Adult bees on faces that they cover; `covered` is the area of all covered faces together.
/// Source: Liebefeld density, 125 per dm2 of face (memory).
pub fn bees_on(covered: Area) -> f64 {
    covered.to_dm2() * fig::BEES_PER_DM2.value
}

/// Brood cells in a brood area (all faces together), less the cells that stand empty or hold stores.
/// Source: 400 cells per dm2 of face, 86 % of them brood (reference/colony.md B and D).
pub fn brood_in(area: Area) -> f64 {
    area.to_dm2() * fig::CELLS_PER_DM2.value * fig::BROOD_FILL.value
}

impl Colony {
    /// Checks that this colony can be.
    ///
    /// # Errors
    /// [`SeasonError`]: `NoBees`, `Bees`, `Brood`, `Stores`, `StoresBeyondRoom`.
    pub fn check(&self) -> Result<(), SeasonError> {
        if self.bees == 0.0 {
            return Err(SeasonError::NoBees);
        }
        if !(0.0..=MOST_BEES).contains(&self.bees) {
            return Err(SeasonError::Bees {
                bees: self.bees,
                most: MOST_BEES,
            });
        }
        if !(0.0..=100_000.0).contains(&self.brood_cells) {
            return Err(SeasonError::Brood(self.brood_cells));
        }
        let pollen = self.pollen().to_kg();
        for kg in [self.honey_kg.to_kg(), self.unripe_kg.to_kg(), pollen] {
            if !(0.0..=500.0).contains(&kg) {
                return Err(SeasonError::Stores(kg));
            }
        }
        let (stores, room) = (self.stores().to_kg(), self.room_kg.to_kg());
        if !(0.5..=500.0).contains(&room) {
            return Err(SeasonError::Room(room));
        }
        if stores > room + 0.05 {
            return Err(SeasonError::StoresBeyondRoom { stores, room });
        }
        Ok(())
    }

    /// Honey and unripe honey.
    pub fn stores(&self) -> Mass {
        self.honey_kg + self.unripe_kg
    }

    /// Pollen, the usual amount where it was not looked at.
    pub fn pollen(&self) -> Mass {
        self.pollen_kg.unwrap_or(Mass::kg(USUAL_POLLEN))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bees_on_a_full_comb_agree_with_the_trade() {
        // reference/colony.md D: 2000 bees on both faces of a deep frame of 8.8 dm2 a face (practice)
        let bees = bees_on(Area::dm2(2.0 * 8.8));
        assert!((bees / 2000.0 - 1.0).abs() < 0.12, "{bees}");
    }

    #[test]
    fn brood_area_agrees_with_steady_laying() {
        // 1500 eggs a day make 31 500 cells of brood; by area they want some 92 dm2 of faces
        let cells = brood_in(Area::dm2(92.0));
        assert!((cells / 31_500.0 - 1.0).abs() < 0.02, "{cells}");
    }
}
