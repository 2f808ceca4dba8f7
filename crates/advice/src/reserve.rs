//! What must stay in a hive: the keeper's own figure, else the place's rule of thumb.

use std::fmt;

use comb::Mass;
use hive::Hive;
use hive::entry::{Climate, Reserve};
use serde::Serialize;

/// Full combs that stay on a mild coast with winter forage. Common practice, no source.
pub const MILD_COAST_COMBS: f64 = 5.0;
/// Full combs that stay where winter is a real winter: the middle of 6 to 8.
/// Common practice, no source.
pub const REAL_WINTER_COMBS: f64 = 7.0;
/// Full combs that stay where winter is hard and long: the upper end of 6 to 8.
/// Common practice, no source.
pub const HARD_WINTER_COMBS: f64 = 8.0;

/// What must stay, in combs and in kilograms, and on whose word.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ReserveDue {
    /// Full honey combs of this hive.
    pub combs: f64,
    /// The same by mass.
    #[serde(rename = "kg")]
    pub mass: Mass,
    /// In which of the two it is counted.
    pub counted_in: CountedIn,
    /// Where it comes from.
    pub source: ReserveSource,
}

/// How the reserve is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CountedIn {
    /// In full combs.
    Combs,
    /// In kilograms.
    Kg,
}

/// Where a reserve comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReserveSource {
    /// The keeper set it for this hive.
    Keeper,
    /// The rule of thumb for the apiary's winter.
    RuleOfThumb,
    /// The winter of the place was not told; a real winter is taken.
    PlaceNotTold,
}

impl fmt::Display for ReserveSource {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Keeper => "as you set it",
            Self::RuleOfThumb => "rule of thumb for this winter (common practice, no source)",
            Self::PlaceNotTold => {
                "rule of thumb for a real winter, since the place's winter is not told"
            }
        })
    }
}

/// The reserve of a hive, given its place's winter and what one ordinary honey comb of it holds.
pub fn reserve_due(hive: &Hive, climate: Option<Climate>, ordinary_comb: Mass) -> ReserveDue {
    let in_combs = |combs: f64, source| ReserveDue {
        combs,
        mass: ordinary_comb * combs,
        counted_in: CountedIn::Combs,
        source,
    };
    match (hive.reserve, climate) {
        (Some(Reserve::Combs(combs)), _) => in_combs(combs, ReserveSource::Keeper),
        (Some(Reserve::Kg(mass)), _) => ReserveDue {
            combs: mass / ordinary_comb,
            mass,
            counted_in: CountedIn::Kg,
            source: ReserveSource::Keeper,
        },
        (None, Some(Climate::MildCoast)) => in_combs(MILD_COAST_COMBS, ReserveSource::RuleOfThumb),
        (None, Some(Climate::RealWinter)) => {
            in_combs(REAL_WINTER_COMBS, ReserveSource::RuleOfThumb)
        }
        (None, Some(Climate::HardWinter)) => {
            in_combs(HARD_WINTER_COMBS, ReserveSource::RuleOfThumb)
        }
        (None, None) => in_combs(REAL_WINTER_COMBS, ReserveSource::PlaceNotTold),
    }
}
