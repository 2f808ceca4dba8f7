//! Honey followed both ways: which jars hold a comb, which combs are in a jar.

use std::collections::BTreeSet;

use hive::Yard;
use honey::HoneyError;
use honey::lots::{CombsFound, FillId, Filling, House, JarsFound, LotId};

use crate::day::DayOf;
use crate::error::HouseError;
use crate::taking::combs_of_bar;

/// Lots and jars that hold some honey.
#[derive(Debug, Clone, PartialEq)]
pub struct Jars<'a> {
    /// Lots that hold, or held, any of it, by name. Empty while its pails wait.
    pub lots: Vec<&'a LotId>,
    /// Fillings with any of it, in the order they were recorded.
    pub fills: Vec<&'a Filling>,
}

impl<'a> Jars<'a> {
    fn of(house: &'a House, found: &[JarsFound<'a>]) -> Self {
        let lots: BTreeSet<&LotId> = found
            .iter()
            .flat_map(|found| found.lots.iter().map(|lot| &lot.lot))
            .collect();
        let fills: BTreeSet<&FillId> = found
            .iter()
            .flat_map(|found| found.fills.iter().map(|fill| &fill.fill))
            .collect();
        Self {
            lots: lots.into_iter().collect(),
            fills: house
                .fillings()
                .iter()
                .filter(|fill| fills.contains(&fill.fill))
                .collect(),
        }
    }

    /// Jars that are still here.
    pub fn in_stock(&self) -> u32 {
        self.fills.iter().map(|fill| fill.in_stock).sum()
    }

    /// Jars that others have: these are called back.
    pub fn with_others(&self) -> u32 {
        self.fills.iter().map(|fill| fill.with_others()).sum()
    }
}

/// Jars with honey of a bar, under whatever name its hive now has.
///
/// # Errors
/// [`HouseError::NotInAPail`]; [`HouseError::Hive`] when there is no such hive.
pub fn jars_of_bar<'a>(
    yard: &Yard,
    house: &'a House,
    hive: &str,
    number: u32,
    day_of: DayOf<'_>,
) -> Result<Jars<'a>, HouseError> {
    let combs = combs_of_bar(yard, house, hive, number, day_of);
    if combs.is_empty() {
        yard.hive_named(hive)?;
        return Err(HouseError::NotInAPail {
            hive: hive.to_owned(),
            bar: number,
        });
    }
    let found: Result<Vec<_>, HoneyError> = combs
        .into_iter()
        .map(|comb| house.jars_with_comb(comb))
        .collect();
    Ok(Jars::of(house, &found?))
}

/// Combs in the jars that carry a lot mark, with or without the L that a label sets before it.
///
/// # Errors
/// [`HoneyError::Unknown`].
pub fn combs_of_mark<'a>(house: &'a House, mark: &str) -> Result<CombsFound<'a>, HoneyError> {
    house
        .combs_with_mark(mark)
        .or_else(|why| match mark.trim_start_matches(['L', 'l']).trim() {
            bare if bare != mark => house.combs_with_mark(bare),
            _ => Err(why),
        })
}

/// Combs in a lot, and jars filled from it.
///
/// # Errors
/// [`HoneyError::Unknown`].
pub fn of_lot<'a>(house: &'a House, lot: &LotId) -> Result<(CombsFound<'a>, Jars<'a>), HoneyError> {
    let combs = house.combs_in_lot(lot)?;
    let jars = Jars::of(house, &[house.jars_with_lot(lot)?]);
    Ok((combs, jars))
}
