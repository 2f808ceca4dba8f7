//! What must stay in a hive: the keeper's own figure, else the place's rule of thumb.

use std::fmt;

use comb::Mass;
use hive::Hive;
use hive::entry::{Climate, Reserve};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Full combs that stay on a mild coast with winter forage. Common practice, no source.
pub const MILD_COAST_COMBS: f64 = 5.0;
/// Full combs that stay where winter is a real winter: the middle of 6 to 8.
/// Common practice, no source.
pub const REAL_WINTER_COMBS: f64 = 7.0;
/// Full combs that stay where winter is hard and long: the upper end of 6 to 8.
/// Common practice, no source.
pub const HARD_WINTER_COMBS: f64 = 8.0;

/// What the season model says must stay, from the weather of the place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ModelReserve {
    /// Honey needed.
    #[serde(rename = "kg")]
    pub mass: Mass,
    /// In what share of the years it is enough.
    pub sure: f64,
    /// The day to which it must last.
    pub until: Date,
}

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
    /// The rule of thumb beside it, in full combs.
    pub rule_of_thumb_combs: f64,
    /// The season model's word beside it, when the weather of the place is known.
    pub season_model: Option<ModelReserve>,
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
    /// The season model, where it asks for more than the rule of thumb.
    SeasonModel,
    /// The rule of thumb for the apiary's winter.
    RuleOfThumb,
    /// The winter of the place was not told; a real winter is taken.
    PlaceNotTold,
}

impl fmt::Display for ReserveSource {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Keeper => "as you set it",
            Self::SeasonModel => "by the season model, which asks for more than the rule of thumb",
            Self::RuleOfThumb => "rule of thumb for this winter (common practice, no source)",
            Self::PlaceNotTold => {
                "rule of thumb for a real winter, since the place's winter is not told"
            }
        })
    }
}

/// The reserve of a hive: the keeper's own figure; else the larger of the season model's, when the
/// weather of the place is known, and the rule of thumb for its winter. `ordinary_comb` is what one
/// honey comb of this hive holds.
pub fn reserve_due(
    hive: &Hive,
    climate: Option<Climate>,
    season_model: Option<ModelReserve>,
    ordinary_comb: Mass,
) -> ReserveDue {
    let (rule_of_thumb_combs, thumb) = rule_of_thumb(climate);
    let due = |combs: f64, counted_in, source| ReserveDue {
        combs,
        mass: ordinary_comb * combs,
        counted_in,
        source,
        rule_of_thumb_combs,
        season_model,
    };
    let model_combs = season_model.map(|model| model.mass / ordinary_comb);
    match (hive.reserve, model_combs) {
        (Some(Reserve::Combs(combs)), _) => due(combs, CountedIn::Combs, ReserveSource::Keeper),
        (Some(Reserve::Kg(mass)), _) => {
            due(mass / ordinary_comb, CountedIn::Kg, ReserveSource::Keeper)
        }
        (None, Some(combs)) if combs > rule_of_thumb_combs => {
            due(combs, CountedIn::Kg, ReserveSource::SeasonModel)
        }
        (None, _) => due(rule_of_thumb_combs, CountedIn::Combs, thumb),
    }
}

/// Full combs for a winter; a winter that was not told is taken as a real one.
const fn rule_of_thumb(climate: Option<Climate>) -> (f64, ReserveSource) {
    match climate {
        Some(Climate::MildCoast) => (MILD_COAST_COMBS, ReserveSource::RuleOfThumb),
        Some(Climate::RealWinter) => (REAL_WINTER_COMBS, ReserveSource::RuleOfThumb),
        Some(Climate::HardWinter) => (HARD_WINTER_COMBS, ReserveSource::RuleOfThumb),
        None => (REAL_WINTER_COMBS, ReserveSource::PlaceNotTold),
    }
}
