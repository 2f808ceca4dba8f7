//! What the house knows of a comb, a pail, a lot and a filling.

use std::collections::BTreeMap;

use comb::{Mass, Share};
use jiff::civil::Date;
use serde::Serialize;

use super::amount::Amount;
use super::event::{CombIn, Gone, Loss, Method, Money};
use super::id::{FillId, LotId, PailId};
use crate::Moisture;

/// A comb that was taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TakenComb {
    /// As it was recorded.
    #[serde(flatten)]
    pub taken: CombIn,
    /// The pail it is in.
    pub pail: PailId,
    #[serde(skip)]
    pub(crate) pail_at: usize,
}

/// A pail of comb.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pail {
    /// This fill of it.
    pub pail: PailId,
    /// When it was filled.
    pub on: Date,
    /// The lot it was emptied into; `None` while it waits.
    pub lot: Option<LotId>,
    #[serde(skip)]
    pub(crate) combs: Vec<usize>,
    #[serde(skip)]
    pub(crate) lot_at: Option<usize>,
    #[serde(skip)]
    pub(crate) comb_mass: Option<Amount>,
}

impl Pail {
    /// Weight of the comb in it; `None` when neither pail nor all its combs were weighed.
    pub fn comb_mass(&self) -> Option<Mass> {
        self.comb_mass.map(Amount::mass)
    }
}

/// How a lot came to be.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "how", rename_all = "snake_case")]
pub enum LotOrigin {
    /// From pails.
    Made {
        /// By which method.
        method: Method,
    },
    /// From somebody else.
    Received {
        /// From whom.
        from: String,
        /// Their lot mark.
        their_lot: String,
    },
    /// From other lots.
    Blended,
}

/// A moisture as it was read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ReadMoisture {
    /// When.
    pub on: Date,
    /// What the reading means.
    pub moisture_pct: Moisture,
}

/// A pass through a strainer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Filtering {
    /// When.
    pub on: Date,
    /// Openings, micrometres.
    pub mesh_um: u32,
}

/// A lot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Lot {
    /// Its name.
    pub lot: LotId,
    /// When it came to be.
    pub on: Date,
    /// When the oldest honey in it came to be; best-before is counted from here.
    pub oldest: Date,
    /// How it came to be.
    pub origin: LotOrigin,
    /// Its moisture now: the last reading, or what the balance of its sources gives; `None`
    /// while unknown.
    pub moisture_pct: Option<Moisture>,
    /// Readings, oldest first.
    pub readings: Vec<ReadMoisture>,
    /// Strainers, in order.
    pub filters: Vec<Filtering>,
    /// First day it, or honey in it, was seen to ferment.
    pub fermenting_since: Option<Date>,
    #[serde(skip)]
    pub(crate) mass: Amount,
    #[serde(skip)]
    pub(crate) made: Amount,
    #[serde(skip)]
    pub(crate) came_in: Amount,
    #[serde(skip)]
    pub(crate) wax: Amount,
    #[serde(skip)]
    pub(crate) not_weighed_apart: Amount,
    #[serde(skip)]
    pub(crate) losses: BTreeMap<Loss, Amount>,
    #[serde(skip)]
    pub(crate) found: Amount,
    #[serde(skip)]
    pub(crate) missing: Amount,
    #[serde(skip)]
    pub(crate) countries: BTreeMap<String, f64>,
    #[serde(skip)]
    pub(crate) pails: Vec<usize>,
    #[serde(skip)]
    pub(crate) from_lots: Vec<usize>,
    #[serde(skip)]
    pub(crate) into_lots: Vec<usize>,
    #[serde(skip)]
    pub(crate) fills: Vec<usize>,
}

impl Lot {
    pub(crate) fn new(lot: LotId, on: Date, origin: LotOrigin, mass: Amount) -> Self {
        Self {
            lot,
            on,
            oldest: on,
            origin,
            moisture_pct: None,
            readings: Vec::new(),
            filters: Vec::new(),
            fermenting_since: None,
            mass,
            made: mass,
            came_in: Amount::ZERO,
            wax: Amount::ZERO,
            not_weighed_apart: Amount::ZERO,
            losses: BTreeMap::new(),
            found: Amount::ZERO,
            missing: Amount::ZERO,
            countries: BTreeMap::new(),
            pails: Vec::new(),
            from_lots: Vec::new(),
            into_lots: Vec::new(),
            fills: Vec::new(),
        }
    }

    /// Honey in it now.
    pub fn mass(&self) -> Mass {
        self.mass.mass()
    }

    /// Honey in it when it came to be.
    pub fn made(&self) -> Mass {
        self.made.mass()
    }

    /// Losses by reason.
    pub fn losses(&self) -> impl Iterator<Item = (Loss, Mass)> {
        self.losses.iter().map(|(why, gone)| (*why, gone.mass()))
    }

    /// Countries of harvest with their share by mass, largest first; together they make one.
    pub fn countries(&self) -> Vec<(String, Share)> {
        let mut shares: Vec<(String, Share)> = self
            .countries
            .iter()
            .map(|(country, share)| (country.clone(), Share::clamped(*share)))
            .collect();
        shares.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        shares
    }

    pub(crate) fn lose(&mut self, why: Loss, gone: Amount) {
        if gone == Amount::ZERO {
            return;
        }
        let entry = self.losses.entry(why).or_default();
        *entry = entry.plus(gone);
    }
}

/// Jars of one size from one lot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Filling {
    /// Its name.
    pub fill: FillId,
    /// The lot it came from.
    pub lot: LotId,
    /// When.
    pub on: Date,
    /// Jars filled.
    pub count: u32,
    /// Lot mark on the label.
    pub mark: String,
    /// Best before.
    pub best_before: Date,
    /// Jars in stock.
    pub in_stock: u32,
    /// Jars gone, by how.
    pub gone: BTreeMap<Gone, u32>,
    /// Who had how many, in order; for a recall.
    pub handed_to: Vec<(String, u32)>,
    /// What was taken for them.
    pub taken: Vec<Money>,
    #[serde(skip)]
    pub(crate) lot_at: usize,
    #[serde(skip)]
    pub(crate) net: Amount,
    #[serde(skip)]
    pub(crate) drawn: Amount,
}

impl Filling {
    /// Net quantity of one jar.
    pub fn net(&self) -> Mass {
        self.net.mass()
    }

    /// Honey drawn for all of them.
    pub fn drawn(&self) -> Mass {
        self.drawn.mass()
    }

    /// Jars that went out and may stand on somebody's shelf: sold or given.
    pub fn with_others(&self) -> u32 {
        let of = |how| self.gone.get(&how).copied().unwrap_or(0);
        of(Gone::Sold) + of(Gone::Given)
    }
}
