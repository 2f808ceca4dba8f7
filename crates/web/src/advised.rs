//! Advice as the screens ask for it: the same rules as at the desk, with what is settled on this
//! device.

use advice::AdviceError;
use advice::advise::{Advice, Surroundings, advise, climate_of};
use advice::closing_plan::AtHand;
use advice::reserve::ModelReserve;
use advice::returning::Ahead;
use hive::{Hive, Yard};
use jiff::ZonedDateTime;
use live::marks::marks;
use paper::HiveSection;

use crate::preferences::DaysAhead;

/// What advice needs to know beside the hive; `on` is now, or the moment at which the yard stands.
pub fn around(
    yard: &Yard,
    hive: &Hive,
    days: &DaysAhead,
    model: Option<ModelReserve>,
    on: &ZonedDateTime,
) -> Surroundings {
    Surroundings {
        ahead: Ahead {
            today: on.date(),
            now: on.timestamp(),
            flow: days.nectar,
            wanted: days.worth,
            suitable_days: days.good_from(on.date()),
        },
        climate: climate_of(yard, hive),
        season_model: model,
        legal_moisture: None,
        at_hand: AtHand::default(),
        withheld_by_others: health::withheld::from_others(hive, yard.hives()),
    }
}

/// Advice on a hive of this yard.
///
/// # Errors
/// [`AdviceError`] when the row on record makes no closing-up problem that can be asked.
pub fn advice_on(
    yard: &Yard,
    hive: &Hive,
    days: &DaysAhead,
    model: Option<ModelReserve>,
    on: &ZonedDateTime,
) -> Result<Advice, AdviceError> {
    advise(hive, yard.hives(), &around(yard, hive, days, model, on))
}

/// The hive's section with what the advice says of each comb.
pub fn section_of(hive: &Hive, advice: Option<&Advice>, on: &ZonedDateTime) -> HiveSection {
    let combs = advice.map_or(&[][..], |advice| &advice.combs);
    HiveSection::of(hive, on.time_zone())
        .dated(on.date())
        .with_marks(marks(hive, combs))
}
