//! What happens to a lot: losses, weighings, readings, strainers, fermentation.

use super::amount::Amount;
use super::event::{FermentationSeen, Loss, LotFiltered, LotLost, LotReweighed, MoistureRead};
use super::house::House;
use super::record::{Filtering, Lot, ReadMoisture};
use crate::moisture::BELIEVABLE;
use crate::{HoneyError, Moisture};

impl House {
    pub(crate) fn lose(&mut self, it: &LotLost) -> Result<(), HoneyError> {
        let gone = Amount::some("loss", it.mass_kg)?;
        let left = self.left_after(&it.lot, it.on, gone)?;
        let at = self.find_lot(&it.lot)?;
        let lot = &mut self.lots[at];
        if it.why == Loss::Water {
            lot.moisture_pct = dried(lot, gone, left)?;
        }
        lot.mass = left;
        lot.lose(it.why, gone);
        Ok(())
    }

    pub(crate) fn reweigh(&mut self, it: &LotReweighed) -> Result<(), HoneyError> {
        let at = self.dated_lot(&it.lot, it.on)?;
        let now = Amount::any("weight of the lot", it.mass_kg)?;
        let lot = &mut self.lots[at];
        if let Some(more) = now.less(lot.mass) {
            lot.found = lot.found.plus(more);
        } else if let Some(less) = lot.mass.less(now) {
            lot.missing = lot.missing.plus(less);
        }
        lot.mass = now;
        Ok(())
    }

    pub(crate) fn read_moisture(&mut self, it: &MoistureRead) -> Result<(), HoneyError> {
        let at = self.dated_lot(&it.lot, it.on)?;
        let moisture_pct = it.reading.moisture()?;
        let lot = &mut self.lots[at];
        lot.readings.push(ReadMoisture {
            on: it.on,
            moisture_pct,
        });
        lot.moisture_pct = Some(moisture_pct);
        Ok(())
    }

    pub(crate) fn filter(&mut self, it: &LotFiltered) -> Result<(), HoneyError> {
        HoneyError::positive(
            "openings of the strainer",
            "micrometres",
            f64::from(it.mesh_um),
        )?;
        let loss = Amount::any("loss", it.loss_kg)?;
        let left = self.left_after(&it.lot, it.on, loss)?;
        let at = self.find_lot(&it.lot)?;
        let lot = &mut self.lots[at];
        lot.mass = left;
        lot.lose(Loss::Skimmed, loss);
        lot.filters.push(Filtering {
            on: it.on,
            mesh_um: it.mesh_um,
        });
        Ok(())
    }

    pub(crate) fn see_fermentation(&mut self, it: &FermentationSeen) -> Result<(), HoneyError> {
        let at = self.dated_lot(&it.lot, it.on)?;
        let since = &mut self.lots[at].fermenting_since;
        *since = Some(since.map_or(it.on, |before| before.min(it.on)));
        Ok(())
    }
}

/// The moisture after so much water has gone; refused when that is no longer honey.
fn dried(lot: &Lot, gone: Amount, left: Amount) -> Result<Option<Moisture>, HoneyError> {
    let Some(before) = lot.moisture_pct else {
        return Ok(None);
    };
    let water = before.water_in(lot.mass()) - gone.mass();
    let percent = BELIEVABLE.check(water / left.mass() * 100.0)?;
    Ok(Some(Moisture::known(percent)))
}
