//! How pails and lots come to be: each event is looked at first, then written.

use std::collections::{BTreeMap, BTreeSet};

use super::amount::Amount;
use super::checks::{free_name, holds, made_of_something, not_before, unknown};
use super::event::{CombIn, Drawn, Loss, LotMade, LotReceived, LotsBlended, PailFilled};
use super::house::House;
use super::record::{Lot, LotOrigin, Pail, TakenComb};
use crate::{HoneyError, Moisture};

impl House {
    pub(crate) fn fill_pail(&mut self, it: &PailFilled) -> Result<(), HoneyError> {
        free_name(
            "pail",
            it.pail.as_str(),
            self.pail_at.contains_key(&it.pail),
        )?;
        made_of_something("pail", it.pail.as_str(), it.combs.is_empty())?;
        let mut here = BTreeSet::new();
        for comb in &it.combs {
            let there = self.comb_at.get(&comb.comb);
            let pail = there.map(|&at| &self.combs[at].pail);
            let again = !here.insert(&comb.comb);
            if let Some(pail) = pail.or(again.then_some(&it.pail)) {
                return Err(HoneyError::CombTwice {
                    comb: comb.comb.clone(),
                    pail: pail.clone(),
                });
            }
            let source = (comb.comb.as_str(), comb.taken_on);
            not_before(("pail", it.pail.as_str(), it.on), source)?;
        }
        let comb_mass = pail_mass(it)?;
        let pail_at = self.pails.len();
        let first = self.combs.len();
        for taken in &it.combs {
            self.note_comb(taken, it, pail_at);
        }
        self.pail_at.insert(it.pail.clone(), pail_at);
        self.pails.push(Pail {
            pail: it.pail.clone(),
            on: it.on,
            lot: None,
            combs: (first..self.combs.len()).collect(),
            lot_at: None,
            comb_mass,
        });
        Ok(())
    }

    fn note_comb(&mut self, taken: &CombIn, it: &PailFilled, pail_at: usize) {
        let at = self.combs.len();
        self.comb_at.insert(taken.comb.clone(), at);
        let bars = self.bar_at.entry(taken.hive.clone()).or_default();
        bars.entry(taken.bar.clone()).or_default().push(at);
        self.combs.push(TakenComb {
            taken: taken.clone(),
            pail: it.pail.clone(),
            pail_at,
        });
    }

    pub(crate) fn make_lot(&mut self, it: &LotMade) -> Result<(), HoneyError> {
        let name = it.lot.as_str();
        free_name("lot", name, self.lot_at.contains_key(&it.lot))?;
        made_of_something("lot", name, it.pails.is_empty())?;
        let pails = self.waiting_pails(it)?;
        let mut lot = Lot::new(
            it.lot.clone(),
            it.on,
            LotOrigin::Made { method: it.method },
            Amount::some("honey", it.honey_kg)?,
        );
        lot.wax = Amount::any("wax", it.wax_kg.unwrap_or_default())?;
        let loss = Amount::any("loss", it.loss_kg.unwrap_or_default())?;
        let out = lot.mass.plus(lot.wax).plus(loss);
        let weighed: Option<Amount> = pails.iter().map(|&at| self.pails[at].comb_mass).sum();
        lot.came_in = weighed.unwrap_or(out);
        let rest = lot.came_in.less(out);
        lot.not_weighed_apart = rest.ok_or_else(|| HoneyError::Unbalanced {
            lot: it.lot.clone(),
            into: lot.came_in.mass(),
            out: out.mass(),
        })?;
        lot.lose(Loss::Spilt, loss);
        lot.countries.insert(it.country.clone(), 1.0);
        let lot_at = self.lots.len();
        for &at in &pails {
            self.pails[at].lot = Some(it.lot.clone());
            self.pails[at].lot_at = Some(lot_at);
        }
        lot.pails = pails;
        self.note_lot(lot);
        Ok(())
    }

    fn waiting_pails(&self, it: &LotMade) -> Result<Vec<usize>, HoneyError> {
        let mut found = Vec::with_capacity(it.pails.len());
        for name in &it.pails {
            let at = self.pail_at.get(name).copied();
            let at = at.ok_or_else(|| unknown("pail", name.as_str()))?;
            let pail = &self.pails[at];
            let emptied = pail.lot.as_ref().or(found.contains(&at).then_some(&it.lot));
            if let Some(lot) = emptied {
                return Err(HoneyError::PailEmptied {
                    pail: name.clone(),
                    lot: lot.clone(),
                });
            }
            not_before(("lot", it.lot.as_str(), it.on), (name.as_str(), pail.on))?;
            found.push(at);
        }
        Ok(found)
    }

    pub(crate) fn receive_lot(&mut self, it: &LotReceived) -> Result<(), HoneyError> {
        free_name("lot", it.lot.as_str(), self.lot_at.contains_key(&it.lot))?;
        let origin = LotOrigin::Received {
            from: it.from.clone(),
            their_lot: it.their_lot.clone(),
        };
        let mass = Amount::some("honey received", it.mass_kg)?;
        let mut lot = Lot::new(it.lot.clone(), it.on, origin, mass);
        lot.came_in = mass;
        lot.countries.insert(it.country.clone(), 1.0);
        self.note_lot(lot);
        Ok(())
    }

    pub(crate) fn blend_lots(&mut self, it: &LotsBlended) -> Result<(), HoneyError> {
        made_of_something("lot", it.lot.as_str(), it.from.is_empty())?;
        let drawn = self.draws(it)?;
        self.no_loop(it, &drawn)?;
        free_name("lot", it.lot.as_str(), self.lot_at.contains_key(&it.lot))?;
        let all: Amount = drawn.values().copied().sum();
        let loss = Amount::any("loss", it.loss_kg)?;
        let left = all.less(loss).filter(|left| *left > Amount::ZERO);
        let mass = left.ok_or_else(|| HoneyError::MoreThanLot {
            lot: it.lot.clone(),
            there: all.mass(),
            asked: loss.mass(),
        })?;
        let mut lot = Lot::new(it.lot.clone(), it.on, LotOrigin::Blended, mass);
        lot.lose(Loss::Spilt, loss);
        let sources: Vec<(&Lot, Amount)> = drawn
            .iter()
            .map(|(&at, &gone)| (&self.lots[at], gone))
            .collect();
        inherit(&mut lot, &sources, all);
        lot.from_lots = drawn.keys().copied().collect();
        let lot_at = self.lots.len();
        for (at, gone) in drawn {
            let source = &mut self.lots[at];
            source.mass = source.mass.less(gone).expect("checked in draws");
            source.into_lots.push(lot_at);
        }
        self.note_lot(lot);
        Ok(())
    }

    /// What is drawn from each lot; the same lot named twice is added up.
    fn draws(&self, it: &LotsBlended) -> Result<BTreeMap<usize, Amount>, HoneyError> {
        let mut drawn = BTreeMap::new();
        for Drawn { lot, mass_kg } in &it.from {
            if lot == &it.lot {
                return Err(HoneyError::LotLoop {
                    lot: lot.clone(),
                    path: vec![lot.clone(), lot.clone()],
                });
            }
            let at = self.find_lot(lot)?;
            let entry: &mut Amount = drawn.entry(at).or_default();
            *entry = entry.plus(Amount::some("honey drawn", *mass_kg)?);
            holds(&self.lots[at], *entry)?;
            let source = (lot.as_str(), self.lots[at].on);
            not_before(("lot", it.lot.as_str(), it.on), source)?;
        }
        Ok(drawn)
    }

    /// A blend that takes the name of a lot its sources came from would close a ring.
    fn no_loop(&self, it: &LotsBlended, drawn: &BTreeMap<usize, Amount>) -> Result<(), HoneyError> {
        let Some(&taken) = self.lot_at.get(&it.lot) else {
            return Ok(());
        };
        let mut ways: Vec<Vec<usize>> = drawn.keys().map(|&at| vec![at]).collect();
        let mut seen = BTreeSet::new();
        while let Some(way) = ways.pop() {
            let last = way[way.len() - 1];
            if last == taken {
                let named = way.iter().map(|&at| self.lots[at].lot.clone());
                return Err(HoneyError::LotLoop {
                    lot: it.lot.clone(),
                    path: std::iter::once(it.lot.clone()).chain(named).collect(),
                });
            }
            for &next in self.lots[last]
                .from_lots
                .iter()
                .filter(|at| seen.insert(**at))
            {
                let mut longer = way.clone();
                longer.push(next);
                ways.push(longer);
            }
        }
        Ok(())
    }

    fn note_lot(&mut self, lot: Lot) {
        self.lot_at.insert(lot.lot.clone(), self.lots.len());
        self.lots.push(lot);
    }
}

fn pail_mass(it: &PailFilled) -> Result<Option<Amount>, HoneyError> {
    let own: Option<Vec<_>> = it.combs.iter().map(|comb| comb.mass_kg).collect();
    match (it.mass_kg, own) {
        (Some(mass), _) => Amount::some("comb in the pail", mass).map(Some),
        (None, Some(combs)) => {
            let parts: Result<Vec<_>, _> = combs
                .into_iter()
                .map(|mass| Amount::some("comb", mass))
                .collect();
            Ok(Some(parts?.into_iter().sum()))
        }
        (None, None) => Ok(None),
    }
}

/// What a blend has from its sources: moisture by balance of masses if all are known, countries
/// by mass, the oldest date, and fermentation, which blending does not cure.
fn inherit(lot: &mut Lot, sources: &[(&Lot, Amount)], all: Amount) {
    let parts: Option<Vec<(comb::Mass, Moisture)>> = sources
        .iter()
        .map(|(source, gone)| Some((gone.mass(), source.moisture_pct?)))
        .collect();
    lot.moisture_pct = parts.and_then(|parts| crate::blend::mixed(&parts));
    for (source, gone) in sources {
        let weight = gone.mass() / all.mass();
        for (country, share) in &source.countries {
            *lot.countries.entry(country.clone()).or_default() += share * weight;
        }
        lot.oldest = lot.oldest.min(source.oldest);
    }
    let began = sources
        .iter()
        .filter_map(|(source, _)| source.fermenting_since);
    lot.fermenting_since = began.min();
}
