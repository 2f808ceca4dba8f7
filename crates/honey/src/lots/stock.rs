//! Jars by size: filled, sold, here.

use std::collections::BTreeMap;

use comb::Mass;
use serde::Serialize;

use super::amount::Amount;
use super::event::Gone;
use super::house::House;

/// One size of jar.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct SizeLine {
    /// Net quantity of one jar.
    pub net_kg: Mass,
    /// Jars ever filled.
    pub filled: u32,
    /// Jars here.
    pub in_stock: u32,
    /// Jars gone, by how (what came back is not counted as gone).
    pub gone: BTreeMap<Gone, u32>,
    /// Money taken, in the smallest unit, by currency.
    pub taken: BTreeMap<String, u64>,
}

impl House {
    /// The ledger of jars, one line a size, smallest first.
    pub fn stock(&self) -> Vec<SizeLine> {
        let mut sizes: BTreeMap<Amount, SizeLine> = BTreeMap::new();
        for fill in &self.fills {
            let line = sizes.entry(fill.net).or_default();
            line.net_kg = fill.net();
            line.filled += fill.count;
            line.in_stock += fill.in_stock;
            for (how, count) in &fill.gone {
                *line.gone.entry(*how).or_default() += count;
            }
            for money in &fill.taken {
                *line.taken.entry(money.currency.clone()).or_default() += money.minor_units;
            }
        }
        sizes.into_values().collect()
    }
}
