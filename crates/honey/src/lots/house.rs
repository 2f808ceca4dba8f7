//! The honey house as a fold of its events.

use std::collections::BTreeMap;

use serde::Serialize;

use super::checks::unknown;
use super::event::{LotEvent, LotsBlended, Seller};
use super::id::{CombId, FillId, LotId, PailId};
use super::record::{Filling, Lot, Pail, TakenComb};
use crate::HoneyError;

/// Every comb, pail, lot and filling there ever was, and how they hang together.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct House {
    pub(crate) combs: Vec<TakenComb>,
    pub(crate) pails: Vec<Pail>,
    pub(crate) lots: Vec<Lot>,
    pub(crate) fills: Vec<Filling>,
    pub(crate) comb_at: BTreeMap<CombId, usize>,
    pub(crate) bar_at: BTreeMap<String, BTreeMap<String, Vec<usize>>>,
    pub(crate) pail_at: BTreeMap<PailId, usize>,
    pub(crate) lot_at: BTreeMap<LotId, usize>,
    pub(crate) fill_at: BTreeMap<FillId, usize>,
    pub(crate) mark_at: BTreeMap<String, Vec<usize>>,
    pub(crate) seller: Seller,
}

/// An event of a journal that could not be, as after a merge of two devices.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Refusal {
    /// Its place among the events given.
    pub at: usize,
    /// Why.
    #[serde(serialize_with = "as_words")]
    pub why: HoneyError,
}

fn as_words<S: serde::Serializer>(why: &HoneyError, out: S) -> Result<S::Ok, S::Error> {
    out.collect_str(why)
}

impl House {
    /// The house after these events, in the order they happened, and those that could not be.
    /// A refused event changes nothing; what builds on it is refused too.
    pub fn fold<'a>(events: impl IntoIterator<Item = &'a LotEvent>) -> (Self, Vec<Refusal>) {
        let mut house = Self::default();
        let mut refused = Vec::new();
        let mut blends = BTreeMap::new();
        for (at, event) in events.into_iter().enumerate() {
            if let Err(why) = house.apply(event) {
                if let LotEvent::LotsBlended(blend) = event {
                    blends.insert(at, blend);
                }
                refused.push(Refusal { at, why });
            }
        }
        name_loops(&mut refused, &blends);
        (house, refused)
    }

    /// Record one event.
    ///
    /// # Errors
    /// The reason, in words for the keeper; the house is then as it was.
    pub fn apply(&mut self, event: &LotEvent) -> Result<(), HoneyError> {
        match event {
            LotEvent::PailFilled(it) => self.fill_pail(it),
            LotEvent::LotMade(it) => self.make_lot(it),
            LotEvent::LotReceived(it) => self.receive_lot(it),
            LotEvent::LotsBlended(it) => self.blend_lots(it),
            LotEvent::LotLost(it) => self.lose(it),
            LotEvent::LotReweighed(it) => self.reweigh(it),
            LotEvent::MoistureRead(it) => self.read_moisture(it),
            LotEvent::LotFiltered(it) => self.filter(it),
            LotEvent::FermentationSeen(it) => self.see_fermentation(it),
            LotEvent::JarsFilled(it) => self.fill_jars(it),
            LotEvent::JarsOut(it) => self.jars_out(it),
            LotEvent::JarsBack(it) => self.jars_back(it),
            LotEvent::SellerTold(it) => {
                self.seller.tell(it);
                Ok(())
            }
        }
    }

    /// Combs taken, in the order they were recorded.
    pub fn combs(&self) -> &[TakenComb] {
        &self.combs
    }

    /// Pails, in the order they were recorded.
    pub fn pails(&self) -> &[Pail] {
        &self.pails
    }

    /// Lots, in the order they were recorded.
    pub fn lots(&self) -> &[Lot] {
        &self.lots
    }

    /// Fillings, in the order they were recorded.
    pub fn fillings(&self) -> &[Filling] {
        &self.fills
    }

    /// Who sells, and where, as far as told.
    pub const fn seller(&self) -> &Seller {
        &self.seller
    }

    /// A lot by its name.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`].
    pub fn lot(&self, lot: &LotId) -> Result<&Lot, HoneyError> {
        Ok(&self.lots[self.find_lot(lot)?])
    }

    /// A filling by its name.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`].
    pub fn filling(&self, fill: &FillId) -> Result<&Filling, HoneyError> {
        Ok(&self.fills[self.find_fill(fill)?])
    }

    pub(crate) fn find_lot(&self, lot: &LotId) -> Result<usize, HoneyError> {
        let found = self.lot_at.get(lot).copied();
        found.ok_or_else(|| unknown("lot", lot.as_str()))
    }

    pub(crate) fn find_fill(&self, fill: &FillId) -> Result<usize, HoneyError> {
        let found = self.fill_at.get(fill).copied();
        found.ok_or_else(|| unknown("filling", fill.as_str()))
    }
}

/// Blends refused for an unknown lot that wait for one another in a ring are told as a loop: that
/// is what the keeper has to mend.
fn name_loops(refused: &mut [Refusal], blends: &BTreeMap<usize, &LotsBlended>) {
    let sources: BTreeMap<&LotId, Vec<&LotId>> = blends
        .values()
        .map(|blend| (&blend.lot, blend.from.iter().map(|d| &d.lot).collect()))
        .collect();
    for refusal in refused {
        let Some(blend) = blends.get(&refusal.at) else {
            continue;
        };
        if !matches!(refusal.why, HoneyError::Unknown { .. }) {
            continue;
        }
        if let Some(path) = ring(&blend.lot, &sources) {
            refusal.why = HoneyError::LotLoop {
                lot: blend.lot.clone(),
                path,
            };
        }
    }
}

/// A way from a lot back to itself along the sources; depth first, each lot once.
fn ring(start: &LotId, sources: &BTreeMap<&LotId, Vec<&LotId>>) -> Option<Vec<LotId>> {
    let mut seen = std::collections::BTreeSet::new();
    let mut ways = vec![vec![start]];
    while let Some(way) = ways.pop() {
        let last = way[way.len() - 1];
        for &next in sources.get(last).into_iter().flatten() {
            let mut longer = way.clone();
            longer.push(next);
            if next == start {
                return Some(longer.into_iter().cloned().collect());
            }
            if seen.insert(next) {
                ways.push(longer);
            }
        }
    }
    None
}
