//! What advice needs to know beside a hive, where nobody has chosen otherwise.

use advice::advise::Surroundings;
use advice::closing_plan::AtHand;
use advice::returning::{Ahead, WORTH_THE_TRIP};
use hive::entry::Climate;
use hive::{Hive, Yard};
use jiff::Timestamp;
use jiff::civil::Date;
use season::ripening::Flow;

/// The usual surroundings of a hive: a good flow, no forecast, what lies in the row at hand.
pub fn usual(yard: &Yard, hive: &Hive, today: Date, now: Timestamp) -> Surroundings {
    Surroundings {
        ahead: Ahead {
            today,
            now,
            flow: Flow::Good,
            wanted: WORTH_THE_TRIP,
            suitable_days: Vec::new(),
        },
        climate: climate(yard, hive),
        season_model: None,
        legal_moisture: None,
        at_hand: AtHand::default(),
    }
}

/// The winter of a hive's place, when told.
pub fn climate(yard: &Yard, hive: &Hive) -> Option<Climate> {
    let apiary = hive.apiary.and_then(|apiary| yard.apiary(apiary));
    apiary.and_then(|apiary| apiary.climate)
}
