//! The season's report for a hive, from the record and what is kept on this device.

use advice::advise::climate_of;
use advice::on_record::{Assumed, Told, bees_held, colony_on_record, forage_guess, means, spring};
use advice::stores::Scales;
use hive::{HiveId, Yard};
use jiff::civil::Date;
use season::calibrate::Calibration;
use season::report::{Ask, FullComb, Report, report};
use season::reserve::Question;
use season::{Place, Setting, Source};

use super::weather::Kept;

/// Runs of the model on a phone: enough for a figure to half a kilogram.
const RUNS: usize = 400;
/// The same answer for the same question, on every device.
const SEED: u64 = 1;

/// The answer, and what had to be assumed for it.
#[derive(Clone)]
pub(super) struct Reckoned {
    pub(super) report: Report,
    pub(super) assumed: Vec<Assumed>,
    pub(super) weather_made_up: bool,
    pub(super) height_told: bool,
}

/// Reckons the season from a day on; `asked` is how sure, and the full combs taken now.
pub(super) fn reckon(
    yard: &Yard,
    hive: HiveId,
    there: hive::entry::Place,
    kept: &Kept,
    (sure, take): (f64, f64),
    from: Date,
) -> Result<Reckoned, String> {
    let hive = yard.hive(hive).ok_or("the hive is gone")?;
    let said = |why: &dyn ToString| why.to_string();
    let climate = climate_of(yard, hive);
    let place = Place::new(there.latitude, there.altitude_m).map_err(|why| said(&why))?;
    let source = match &kept.0 {
        Some(series) => Source::Daily(series.clone()),
        None => Source::Monthly(Box::new(means(climate, place.latitude))),
    };
    let years = place.years(&source, SEED).map_err(|why| said(&why))?;
    let scales = Scales::of(hive, yard.hives());
    let (colony, assumed) =
        colony_on_record(hive, &scales, &Told::default()).map_err(|why| said(&why))?;
    let setting = Setting {
        place,
        years: &years,
        forage: forage_guess(climate).forage(place.latitude),
        warmer_k: 0.0,
        forecast: None,
        calibration: Calibration::default(),
    };
    let comb = scales.ordinary_comb();
    let mut question = Question::new(from, spring(from, place.latitude));
    (question.sure, question.runs, question.seed) = (sure, RUNS, SEED);
    let ask = Ask {
        question,
        comb: FullComb {
            kg: comb,
            low_kg: comb * 0.85,
            high_kg: comb * 1.15,
        },
        take_kg: comb * take,
        bees_held: bees_held(hive),
        outlook_days: 365,
        outlook_runs: RUNS,
    };
    Ok(Reckoned {
        report: report(&setting, &colony, &ask).map_err(|why| said(&why))?,
        assumed,
        weather_made_up: kept.0.is_none(),
        height_told: there.altitude_m.is_some(),
    })
}
