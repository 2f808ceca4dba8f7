//! The season model asked about a hive as the record has it: one way for the command line, the app and
//! the reserve in advice.

use comb::Mass;
use hive::entry::Climate;
use hive::{Hive, Yard};
use jiff::civil::Date;
use season::calibrate::Calibration;
use season::report::{Ask, FullComb, Report, report};
use season::reserve::Question;
use season::{Colony, Place, Series, Setting, Source, Years};
use serde::{Deserialize, Serialize};

use crate::AdviceError;
use crate::advise::climate_of;
use crate::on_record::{Assumed, Told, bees_held, colony_on_record, forage_guess, means, spring};
use crate::reserve::ModelReserve;
use crate::stores::Scales;

/// Runs behind every reserve, of advice, of the app's Season and of the command line where nobody chose otherwise:
/// fewer would be quicker, and each would say another figure.
pub const RUNS: usize = 1000;
/// In how many of the years the colony must live, where nobody chose otherwise.
pub const SURE: f64 = 0.95;
/// The same answer for the same question, on every device.
pub const SEED: u64 = 1;
/// Days of the outlook.
const OUTLOOK_DAYS: usize = 365;
/// A full comb weighs so much less or more than the ordinary one. Common practice, no source.
const COMB_SPREAD: f64 = 0.15;

/// What the reserve in advice is reckoned from, the weather aside: as long as this stays the same, so does
/// the answer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ModelAsk {
    /// Where the hive stands.
    pub place: Place,
    /// Its winter, for the forage calendar.
    pub climate: Option<Climate>,
    /// The colony on record.
    pub colony: Colony,
    /// From which day the stores must last.
    pub from: Date,
}

impl ModelAsk {
    /// From the record; `None` where the hive's place is not told, or its colony cannot be told from the
    /// record.
    pub fn of(yard: &Yard, hive: &Hive, from: Date) -> Option<Self> {
        let there = yard.apiary(hive.apiary?)?.place?;
        let scales = Scales::of(hive, yard.hives());
        Some(Self {
            place: Place::new(there.latitude, there.altitude_m).ok()?,
            climate: climate_of(yard, hive),
            colony: colony_on_record(hive, &scales, &Told::default()).ok()?.0,
            from,
        })
    }

    /// What must stay by the weather of the place; `None` when no amount is enough, or the model cannot
    /// run this colony (no brood, no bees): then the rule of thumb stands alone.
    ///
    /// # Errors
    /// [`AdviceError::Season`] when the weather does not make years to draw from.
    pub fn answer(&self, weather: &Series) -> Result<Option<ModelReserve>, AdviceError> {
        let years = Years::new(weather)?;
        let setting = setting(self.place, &years, self.climate);
        let until = spring(self.from, self.place.latitude);
        let mut question = Question::new(self.from, until);
        (question.sure, question.runs, question.seed) = (SURE, RUNS, SEED);
        let needed = season::reserve::reserve(&setting, &self.colony, &question).ok();
        Ok(needed
            .and_then(|reserve| reserve.needed_kg)
            .map(|mass| ModelReserve {
                mass,
                sure: SURE,
                until,
            }))
    }
}

/// A question to the whole report.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeasonAsk {
    /// From which day.
    pub from: Date,
    /// In what share of the years the colony must live, 0.5 to 0.99.
    pub sure: f64,
    /// Full combs taken now.
    pub take_combs: f64,
    /// Runs of the model.
    pub runs: usize,
    /// The seed of its chance.
    pub seed: u64,
}

/// The report on a hive, and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct SeasonOfHive {
    /// The colony on record.
    pub colony: Colony,
    /// The report.
    pub report: Report,
    /// What nobody said.
    pub assumed: Vec<Assumed>,
}

/// The season of a hive; invented monthly means stand in where there is no weather.
///
/// # Errors
/// [`AdviceError::NoCombs`], and [`AdviceError::Season`] for what the model refuses.
pub fn season_of(
    yard: &Yard,
    hive: &Hive,
    place: Place,
    weather: Option<&Series>,
    asked: &SeasonAsk,
) -> Result<SeasonOfHive, AdviceError> {
    let climate = climate_of(yard, hive);
    let source = match weather {
        Some(series) => Source::Daily(series.clone()),
        None => Source::Monthly(Box::new(means(climate, place.latitude))),
    };
    let years = place.years(&source, asked.seed)?;
    let scales = Scales::of(hive, yard.hives());
    let (colony, assumed) = colony_on_record(hive, &scales, &Told::default())?;
    let comb = scales.ordinary_comb();
    let mut question = Question::new(asked.from, spring(asked.from, place.latitude));
    (question.sure, question.runs, question.seed) = (asked.sure, asked.runs, asked.seed);
    let ask = Ask {
        question,
        comb: full_comb(comb),
        take_kg: comb * asked.take_combs,
        bees_held: bees_held(hive),
        outlook_days: OUTLOOK_DAYS,
        outlook_runs: asked.runs,
    };
    Ok(SeasonOfHive {
        report: report(&setting(place, &years, climate), &colony, &ask)?,
        colony,
        assumed,
    })
}

/// A full comb of this hive, with its spread.
pub fn full_comb(ordinary: Mass) -> FullComb {
    FullComb {
        kg: ordinary,
        low_kg: ordinary * (1.0 - COMB_SPREAD),
        high_kg: ordinary * (1.0 + COMB_SPREAD),
    }
}

/// With the first guess of the forage, no forecast, and nobody's own weighings.
fn setting(place: Place, years: &Years, climate: Option<Climate>) -> Setting<'_> {
    Setting {
        place,
        years,
        forage: forage_guess(climate).forage(place.latitude),
        warmer_k: 0.0,
        forecast: None,
        calibration: Calibration::default(),
    }
}
