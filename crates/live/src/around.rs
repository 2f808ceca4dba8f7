//! What advice needs to know beside a hive, where nobody has chosen otherwise.

use advice::advise::{Surroundings, climate_of};
use advice::closing_plan::AtHand;
use advice::returning::{Ahead, WORTH_THE_TRIP};
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
        climate: climate_of(yard, hive),
        season_model: None,
        legal_moisture: None,
        at_hand: AtHand::default(),
        withheld_by_others: health::withheld::from_others(hive, yard.hives()),
    }
}
