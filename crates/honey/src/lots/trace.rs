//! A recall in both directions: which jars hold this comb, which combs are in this jar.
//!
//! Edges are kept both ways as the events come in, so a question walks only what it finds.

use serde::Serialize;

use super::checks::unknown;
use super::house::House;
use super::id::{CombId, FillId, LotId};
use super::record::{Filling, Lot, LotOrigin, TakenComb};
use crate::HoneyError;

/// Everything that honey went into, in the order it was recorded.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JarsFound<'a> {
    /// Lots that hold, or held, any of it.
    pub lots: Vec<&'a Lot>,
    /// Fillings with any of it.
    pub fills: Vec<&'a Filling>,
}

impl JarsFound<'_> {
    /// Jars that are still here.
    pub fn in_stock(&self) -> u32 {
        self.fills.iter().map(|fill| fill.in_stock).sum()
    }

    /// Jars that others have: these are called back.
    pub fn with_others(&self) -> u32 {
        self.fills.iter().map(|fill| fill.with_others()).sum()
    }
}

/// Everything that honey came from, in the order it was recorded.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CombsFound<'a> {
    /// Own combs.
    pub combs: Vec<&'a TakenComb>,
    /// Lots received from others.
    pub received: Vec<&'a Lot>,
    /// All lots on the way.
    pub lots: Vec<&'a Lot>,
}

impl House {
    /// Jars with honey of this taking of a comb.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`].
    pub fn jars_with_comb(&self, comb: &CombId) -> Result<JarsFound<'_>, HoneyError> {
        let at = self.comb_at.get(comb).copied();
        let at = at.ok_or_else(|| unknown("comb", comb.as_str()))?;
        Ok(self.forward(&[at]))
    }

    /// Jars with honey of this bar of this hive, whenever its combs were taken.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`] when no comb of it was ever taken.
    pub fn jars_with_bar(&self, hive: &str, bar: &str) -> Result<JarsFound<'_>, HoneyError> {
        let bars = self.bar_at.get(hive).ok_or_else(|| unknown("hive", hive))?;
        let combs = bars.get(bar).ok_or_else(|| unknown("bar", bar))?;
        Ok(self.forward(combs))
    }

    /// Jars with honey of this hive.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`] when no comb of it was ever taken.
    pub fn jars_with_hive(&self, hive: &str) -> Result<JarsFound<'_>, HoneyError> {
        let bars = self.bar_at.get(hive).ok_or_else(|| unknown("hive", hive))?;
        let combs: Vec<usize> = bars.values().flatten().copied().collect();
        Ok(self.forward(&combs))
    }

    /// Jars with honey of this lot, as when a supplier calls it back.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`].
    pub fn jars_with_lot(&self, lot: &LotId) -> Result<JarsFound<'_>, HoneyError> {
        Ok(self.downstream(vec![self.find_lot(lot)?]))
    }

    /// Combs in the jars that carry this lot mark.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`] when no jar carries it.
    pub fn combs_with_mark(&self, mark: &str) -> Result<CombsFound<'_>, HoneyError> {
        let fills = self.mark_at.get(mark);
        let fills = fills.ok_or_else(|| unknown("lot mark", mark))?;
        Ok(self.upstream(fills.iter().map(|&at| self.fills[at].lot_at).collect()))
    }

    /// Combs in the jars of this filling.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`].
    pub fn combs_in_filling(&self, fill: &FillId) -> Result<CombsFound<'_>, HoneyError> {
        Ok(self.upstream(vec![self.fills[self.find_fill(fill)?].lot_at]))
    }

    /// Combs in this lot.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`].
    pub fn combs_in_lot(&self, lot: &LotId) -> Result<CombsFound<'_>, HoneyError> {
        Ok(self.upstream(vec![self.find_lot(lot)?]))
    }

    fn forward(&self, combs: &[usize]) -> JarsFound<'_> {
        let pails = combs.iter().map(|&at| self.combs[at].pail_at);
        self.downstream(pails.filter_map(|at| self.pails[at].lot_at).collect())
    }

    fn downstream(&self, start: Vec<usize>) -> JarsFound<'_> {
        let lots = self.reached(start, |lot| &lot.into_lots);
        let fills = lots
            .iter()
            .flat_map(|&at| self.lots[at].fills.iter().copied());
        let fills = in_order(fills.collect(), self.fills.len());
        JarsFound {
            lots: lots.iter().map(|&at| &self.lots[at]).collect(),
            fills: fills.into_iter().map(|at| &self.fills[at]).collect(),
        }
    }

    fn upstream(&self, start: Vec<usize>) -> CombsFound<'_> {
        let lots = self.reached(start, |lot| &lot.from_lots);
        let lots: Vec<&Lot> = lots.into_iter().map(|at| &self.lots[at]).collect();
        let pails = lots.iter().flat_map(|lot| lot.pails.iter());
        let combs = pails.flat_map(|&pail| self.pails[pail].combs.iter().copied());
        let combs = in_order(combs.collect(), self.combs.len());
        let bought = |lot: &&&Lot| matches!(lot.origin, LotOrigin::Received { .. });
        CombsFound {
            combs: combs.into_iter().map(|at| &self.combs[at]).collect(),
            received: lots.iter().filter(bought).copied().collect(),
            lots,
        }
    }

    /// Lots reached from these along one direction, in the order they were recorded.
    fn reached(&self, mut waiting: Vec<usize>, next: fn(&Lot) -> &Vec<usize>) -> Vec<usize> {
        let mut seen = vec![false; self.lots.len()];
        let mut found = Vec::new();
        while let Some(at) = waiting.pop() {
            if std::mem::replace(&mut seen[at], true) {
                continue;
            }
            found.push(at);
            waiting.extend(next(&self.lots[at]));
        }
        found.sort_unstable();
        found
    }
}

/// Places in the order they were recorded. Few are sorted, many are ticked off in a list: then
/// what is read next is read from front to back, which is what makes 100,000 jars quick.
fn in_order(mut found: Vec<usize>, of: usize) -> Vec<usize> {
    if found.len() < of / 16 {
        found.sort_unstable();
        return found;
    }
    let mut there = vec![false; of];
    for at in found {
        there[at] = true;
    }
    (0..of).filter(|&at| there[at]).collect()
}
