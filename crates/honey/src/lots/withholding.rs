//! Honey that must not be taken, or not yet: treatments, feed, disease.
//!
//! The facts come from the health record. This module never knows a product's period: the label
//! does, and the keeper copies it in.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::cautions::Weight;
use super::house::House;
use super::id::LotId;
use super::record::TakenComb;
use crate::HoneyError;

/// Why honey of a hive is withheld.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cause {
    /// A treatment against mites or disease; the product's label decides.
    Treatment,
    /// Syrup or other feed was on: stores made of it are not honey.
    Feed,
    /// A notifiable disease is suspected or found: nothing leaves the hive.
    Disease,
}

/// When the withholding ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Until {
    /// The last day on which nothing may be taken.
    Through(Date),
    /// It goes on: the strip is still in, the feed still on, the order not lifted.
    Open,
    /// It ended, or may have; the label's period was not copied in.
    NotKnown,
}

/// One withholding of one hive.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Withholding {
    /// The hive.
    pub hive: String,
    /// First day.
    pub from: Date,
    /// Last day.
    pub until: Until,
    /// Why.
    pub cause: Cause,
    /// In the keeper's words: the product, the feed, the disease.
    pub what: String,
}

impl Withholding {
    /// What it means for a comb of its hive taken on that day: [`Weight::Block`] within the time,
    /// [`Weight::Warn`] when its end is not known, `None` outside it.
    pub fn on(&self, day: Date) -> Option<Weight> {
        if day < self.from {
            return None;
        }
        match self.until {
            Until::Through(last) if day > last => None,
            Until::Through(_) | Until::Open => Some(Weight::Block),
            Until::NotKnown => Some(Weight::Warn),
        }
    }
}

/// Withholdings that speak against taking from this hive on this day, gravest first.
pub fn against_taking<'a>(
    hive: &str,
    day: Date,
    withholdings: &'a [Withholding],
) -> Vec<(Weight, &'a Withholding)> {
    let mut found: Vec<_> = withholdings
        .iter()
        .filter(|withholding| withholding.hive == hive)
        .filter_map(|withholding| Some((withholding.on(day)?, withholding)))
        .collect();
    found.sort_by_key(|(weight, _)| *weight);
    found
}

/// A comb that came from a hive while its honey was withheld.
pub type Withheld<'a> = (&'a TakenComb, Weight, &'a Withholding);

impl House {
    /// Combs of a lot that were taken while their hive's honey was withheld, as when the health
    /// record is completed afterwards.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`].
    pub fn withheld_in<'a>(
        &'a self,
        lot: &LotId,
        withholdings: &'a [Withholding],
    ) -> Result<Vec<Withheld<'a>>, HoneyError> {
        let found = self.combs_in_lot(lot)?;
        let combs = found.combs.into_iter().flat_map(|comb| {
            against_taking(&comb.taken.hive, comb.taken.taken_on, withholdings)
                .into_iter()
                .map(move |(weight, withholding)| (comb, weight, withholding))
        });
        Ok(combs.collect())
    }
}
