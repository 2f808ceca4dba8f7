//! The season's report for a hive, from the record and what is kept on this device.

use advice::season_model::{RUNS, SEED, SeasonAsk, SeasonOfHive, season_of};
use hive::{HiveId, Yard};
use jiff::civil::Date;
use season::{Place, Series};
use serde_json::json;

/// The answer, and what it rests on.
#[derive(Clone)]
pub(super) struct Reckoned {
    pub(super) hive: String,
    pub(super) season: SeasonOfHive,
    pub(super) weather_made_up: bool,
    pub(super) height_told: bool,
}

/// Reckons the season from a day on; `asked` is how sure, and the full combs taken now.
pub(super) fn reckon(
    yard: &Yard,
    hive: HiveId,
    there: hive::entry::Place,
    kept: Option<&Series>,
    (sure, take_combs): (f64, f64),
    from: Date,
) -> Result<Reckoned, String> {
    let hive = yard.hive(hive).ok_or("the hive is gone")?;
    let place = Place::new(there.latitude, there.altitude_m).map_err(|why| why.to_string())?;
    let ask = SeasonAsk {
        from,
        sure,
        take_combs,
        runs: RUNS,
        seed: SEED,
    };
    Ok(Reckoned {
        hive: hive.name.clone(),
        season: season_of(yard, hive, place, kept, &ask).map_err(|why| why.to_string())?,
        weather_made_up: kept.is_none(),
        height_told: there.altitude_m.is_some(),
    })
}

impl Reckoned {
    /// All figures, as the command line gives them with `--json`.
    pub(super) fn file(&self, assumed: &[String]) -> String {
        let SeasonOfHive { colony, report, .. } = &self.season;
        let sheet = json!({
            "hive": self.hive,
            "colony": colony,
            "assumed": assumed,
            "report": report,
        });
        format!("{sheet:#}\n")
    }
}
