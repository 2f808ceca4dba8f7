//! Combs go into a pail.

use comb::{HEAVIEST_COMB_KG, Mass};
use hive::{EntryId, HiveId};
use honey::lots::event::PailFilled;
use honey::lots::{LotEvent, PailId};
use jiff::civil::Date;

use crate::error::HouseError;
use crate::lot::named;
use crate::record::Standing;
use crate::taking::{Taking, waiting};
use crate::words;

/// Which of the combs that wait.
#[derive(Debug, Clone, PartialEq)]
pub enum Which {
    /// These takings.
    These(Vec<EntryId>),
    /// All that pass.
    Those {
        /// Only of this hive.
        from: Option<HiveId>,
        /// Only of these bars; empty for all.
        bars: Vec<u32>,
        /// Only taken on this day.
        taken: Option<Date>,
    },
}

impl Which {
    fn has(&self, taking: &Taking) -> bool {
        match self {
            Self::These(combs) => combs.contains(&taking.comb),
            Self::Those { from, bars, taken } => {
                from.is_none_or(|hive| hive == taking.hive_id)
                    && (bars.is_empty() || bars.contains(&taking.bar))
                    && taken.is_none_or(|day| day == taking.on)
            }
        }
    }

    /// A bar asked for of which no comb is among those chosen.
    fn missing(&self, chosen: &[Taking]) -> Option<u32> {
        match self {
            Self::These(_) => None,
            Self::Those { bars, .. } => {
                let lacks = |bar: &&u32| chosen.iter().all(|taking| taking.bar != **bar);
                bars.iter().find(lacks).copied()
            }
        }
    }
}

/// The chosen combs, in a pail of this name; `mass` is the comb's, without the pail.
///
/// # Errors
/// [`HouseError::NoCombWaits`] when none of them, or none of a bar that was named, waits;
/// [`HouseError::MassBeyondCombs`]; [`HouseError::Unnamed`].
pub fn pail(
    standing: &Standing<'_>,
    name: &str,
    which: &Which,
    mass: Option<Mass>,
) -> Result<LotEvent, HouseError> {
    let all = waiting(standing.yard, standing.house, standing.day_of);
    let there = words::combs(all.iter().map(|t| (t.hive.as_str(), t.bar.to_string())));
    let chosen: Vec<Taking> = all.into_iter().filter(|t| which.has(t)).collect();
    let bar = which.missing(&chosen);
    if chosen.is_empty() || bar.is_some() {
        return Err(HouseError::NoCombWaits {
            bar,
            waiting: there,
        });
    }
    let most_each = Mass::kg(HEAVIEST_COMB_KG);
    if let Some(mass) = mass.filter(|mass| mass.to_kg() > HEAVIEST_COMB_KG * chosen.len() as f64) {
        return Err(HouseError::MassBeyondCombs {
            mass,
            combs: chosen.len(),
            most_each,
        });
    }
    Ok(LotEvent::PailFilled(PailFilled {
        pail: PailId::from(named("pail", name)?),
        on: standing.on,
        combs: chosen.iter().map(Taking::comb_in).collect(),
        mass_kg: mass,
    }))
}
