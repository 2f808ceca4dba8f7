//! What speaks against filling jars from a lot, before it is done. The keeper's word wins; it is
//! recorded beside this.

use jiff::civil::Date;
use serde::Serialize;

use super::house::House;
use super::id::LotId;
use super::record::Lot;
use super::withholding::Withholding;
use crate::fermentation::{Keeping, keeping};
use crate::limits::{Item, Kind, Limit, limit};
use crate::{HoneyError, Moisture, Region};

/// How grave a caution is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// Not to be sold as honey like this.
    Block,
    /// Look before you go on.
    Warn,
}

/// One thing that speaks against filling jars.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "caution", rename_all = "snake_case")]
pub enum Caution {
    /// It has begun to ferment: its sale as honey is barred (EU, UK: seen).
    Fermenting {
        /// Since when.
        since: Date,
    },
    /// Over the region's limit of moisture.
    OverLimit {
        /// Its moisture.
        moisture_pct: Moisture,
        /// The limit, with its source.
        limit: Limit,
    },
    /// Lawful or not, it may not keep.
    MayNotKeep {
        /// Its moisture.
        moisture_pct: Moisture,
        /// How it will keep.
        keeping: Keeping,
    },
    /// Its moisture was never read.
    MoistureNotRead,
    /// Combs of a withheld hive are in it.
    Withheld {
        /// How many combs.
        combs: usize,
        /// The gravest of them.
        weight: Weight,
        /// In the health record's words.
        what: String,
    },
}

impl Caution {
    /// How grave it is.
    pub const fn weight(&self) -> Weight {
        match self {
            Self::Fermenting { .. } => Weight::Block,
            Self::OverLimit { limit, .. } if limit.binding => Weight::Block,
            Self::OverLimit { .. } | Self::MayNotKeep { .. } | Self::MoistureNotRead => {
                Weight::Warn
            }
            Self::Withheld { weight, .. } => *weight,
        }
    }
}

impl House {
    /// What speaks against filling jars of `kind` from this lot for sale in `region`, gravest
    /// first. A region without such a limit (US: only grades) is not asked for one.
    ///
    /// # Errors
    /// [`HoneyError::Unknown`].
    pub fn cautions(
        &self,
        lot: &LotId,
        region: Region,
        kind: Kind,
        withholdings: &[Withholding],
    ) -> Result<Vec<Caution>, HoneyError> {
        let honey = self.lot(lot)?;
        let mut found = Vec::new();
        if let Some(since) = honey.fermenting_since {
            found.push(Caution::Fermenting { since });
        }
        found.extend(about_moisture(honey, region, kind));
        found.extend(self.about_withholding(lot, withholdings)?);
        found.sort_by_key(Caution::weight);
        Ok(found)
    }

    fn about_withholding(
        &self,
        lot: &LotId,
        withholdings: &[Withholding],
    ) -> Result<Vec<Caution>, HoneyError> {
        let held = self.withheld_in(lot, withholdings)?;
        let mut found = Vec::new();
        for withholding in withholdings {
            let of_this: Vec<Weight> = held
                .iter()
                .filter(|(_, _, other)| std::ptr::eq(*other, withholding))
                .map(|(_, weight, _)| *weight)
                .collect();
            if let Some(weight) = of_this.iter().min() {
                found.push(Caution::Withheld {
                    combs: of_this.len(),
                    weight: *weight,
                    what: withholding.what.clone(),
                });
            }
        }
        Ok(found)
    }
}

fn about_moisture(lot: &Lot, region: Region, kind: Kind) -> Vec<Caution> {
    let Some(moisture_pct) = lot.moisture_pct else {
        return vec![Caution::MoistureNotRead];
    };
    let mut found = Vec::new();
    let limit = limit(region, Item::Moisture, kind).ok();
    if let Some(limit) = limit.filter(|limit| !limit.admits_moisture(moisture_pct)) {
        found.push(Caution::OverLimit {
            moisture_pct,
            limit,
        });
    }
    let keeping = keeping(moisture_pct);
    if keeping >= Keeping::Doubtful {
        found.push(Caution::MayNotKeep {
            moisture_pct,
            keeping,
        });
    }
    found
}
