//! Does what went in equal what is there?

use comb::Mass;
use serde::Serialize;

use super::amount::Amount;
use super::house::House;

/// Every kilogram that ever came in, and where it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Balance {
    /// Comb in pails that wait, as far as it was weighed; on neither side.
    pub waiting_kg: Mass,
    /// Comb that was worked (where it was not weighed: what came of it) and honey received.
    pub came_in_kg: Mass,
    /// Found by weighing again.
    pub found_kg: Mass,
    /// In lots.
    pub in_lots_kg: Mass,
    /// In jars that are here.
    pub in_stock_kg: Mass,
    /// In jars that are gone.
    pub jars_gone_kg: Mass,
    /// Wax.
    pub wax_kg: Mass,
    /// Losses of every kind.
    pub lost_kg: Mass,
    /// Wax and loss that were not weighed apart.
    pub not_weighed_apart_kg: Mass,
    /// Missing when weighed again.
    pub missing_kg: Mass,
    /// True when both sides are equal to the milligram.
    pub even: bool,
}

impl House {
    /// The balance of the whole house. `even` is a promise of the fold; were it ever false, the
    /// program would be wrong, not the keeper.
    pub fn balance(&self) -> Balance {
        let lots = |part: fn(&super::Lot) -> Amount| self.lots.iter().map(part).sum::<Amount>();
        let came_in = lots(|lot| lot.came_in);
        let found = lots(|lot| lot.found);
        let in_lots = lots(|lot| lot.mass);
        let wax = lots(|lot| lot.wax);
        let lost = lots(|lot| lot.losses.values().copied().sum());
        let apart = lots(|lot| lot.not_weighed_apart);
        let missing = lots(|lot| lot.missing);
        let drawn: Amount = self.fills.iter().map(|fill| fill.drawn).sum();
        let in_stock: Amount = self
            .fills
            .iter()
            .map(|fill| fill.drawn.part(fill.in_stock, fill.count))
            .sum();
        let gone = drawn.less(in_stock).unwrap_or_default();
        let there = [in_lots, in_stock, gone, wax, lost, apart, missing];
        let waiting = self.pails.iter().filter(|pail| pail.lot.is_none());
        Balance {
            waiting_kg: waiting
                .filter_map(|pail| pail.comb_mass)
                .sum::<Amount>()
                .mass(),
            came_in_kg: came_in.mass(),
            found_kg: found.mass(),
            in_lots_kg: in_lots.mass(),
            in_stock_kg: in_stock.mass(),
            jars_gone_kg: gone.mass(),
            wax_kg: wax.mass(),
            lost_kg: lost.mass(),
            not_weighed_apart_kg: apart.mass(),
            missing_kg: missing.mass(),
            even: came_in.plus(found) == there.into_iter().sum(),
        }
    }
}
