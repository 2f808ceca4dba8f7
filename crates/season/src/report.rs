//! Everything the season has to say of one hive, in one plain structure.

use comb::{Mass, ToldIn};
use serde::Serialize;

use crate::SeasonError;
use crate::calibrate::Calibration;
use crate::colony::{Colony, Queen};
use crate::ensemble::{Ensemble, Setting, Span, WhatIf};
use crate::explain;
use crate::feed::{Feed, last_good_day};
use crate::forage::Forage;
use crate::outlook::{LastTake, Outlook, last_take, outlook};
use crate::reserve::{Question, Reserve, eaten, reserve_of};
use crate::sensitivity::{Bar, bars};
use crate::swarm::{SplitWindow, SwarmWeek, pressure, split_windows};
use crate::thumb::{Handbook, Thumb, Winter};

/// A full comb of this hive, from its geometry and its keeper's own weighed combs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, serde::Deserialize)]
pub struct FullComb {
    /// The likely mass of honey.
    pub kg: Mass,
    /// The least that is believed.
    pub low_kg: Mass,
    /// The most.
    pub high_kg: Mass,
}

/// What the report is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ask {
    /// The reserve's question.
    pub question: Question,
    /// A full comb of this hive.
    pub comb: FullComb,
    /// Honey to take now, in the outlook.
    pub take_kg: Mass,
    /// Bees that cover all drawn combs.
    pub bees_held: f64,
    /// Days of the outlook; 365 unless told otherwise.
    pub outlook_days: usize,
    /// Runs of the outlook.
    pub outlook_runs: usize,
}

/// Combs of this hive that hold the reserve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Combs {
    /// With the likely mass of a full comb.
    pub combs: f64,
    /// If combs are as heavy as is believed.
    pub low: f64,
    /// If they are as light.
    pub high: f64,
}

/// The report.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    /// Stores needed.
    pub reserve: Reserve,
    /// The same in combs of this hive; `None` when no stores suffice.
    pub combs: Option<Combs>,
    /// A full comb, as given.
    pub full_comb: FullComb,
    /// What the colony would eat over the span without any income, the middle run.
    pub without_income_kg: Mass,
    /// The rule of thumb.
    pub thumb: Thumb,
    /// The handbooks' total.
    pub handbook: Handbook,
    /// What the answer hangs on, the widest swing first.
    pub drivers: Vec<Bar>,
    /// What can be spared today: stores now, before anything is taken, less the larger of the stores
    /// needed and the upper end of the rule of thumb; negative when short, `None` when no stores suffice.
    /// Open honey counts as it will weigh when ripe.
    pub spare_kg: Option<Mass>,
    /// The feed that makes up what is short; `None` when nothing is.
    pub feed: Option<Feed>,
    /// The outlook after taking what was asked.
    pub outlook: Outlook,
    /// When to stop taking.
    pub last_take: LastTake,
    /// Swarm pressure, week by week.
    pub swarm: Vec<SwarmWeek>,
    /// When a split can be made.
    pub splits: Vec<SplitWindow>,
    /// The forage calendar used.
    pub forage: Forage,
    /// What a keeper should know of these figures, a sentence each.
    pub words: Vec<String>,
    #[serde(skip)]
    rests_on: RestsOn,
}

/// What the sentences rest on beside the figures.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct RestsOn {
    pub(crate) bees: f64,
    pub(crate) calibration: Calibration,
}

impl Report {
    /// The sentences of [`Report::words`], told in other units.
    pub fn words_in(&self, told_in: ToldIn) -> Vec<String> {
        explain::words(self, self.rests_on, told_in)
    }

    /// True when a comb can be spared today, and yet none today by the outlook through the year: what could go
    /// is wanted behind the day to which the stores needed are reckoned.
    pub fn spared_now_is_wanted_later(&self) -> bool {
        let now = self
            .spare_kg
            .is_some_and(|spare| spare - self.outlook.taken_kg >= self.full_comb.kg);
        let later = match &self.last_take {
            LastTake::Nothing => true,
            LastTake::NoLimit { from } | LastTake::On { from, .. } => from.is_some(),
        };
        now && later
    }
}

/// Runs that each bar of the sensitivity chart rests on.
const BAR_RUNS: usize = 256;

/// Answers everything.
///
/// # Errors
/// As [`crate::reserve::reserve`] and [`outlook`]; [`SeasonError::CombMass`].
pub fn report(setting: &Setting, colony: &Colony, ask: &Ask) -> Result<Report, SeasonError> {
    let full = ask.comb;
    for mass in [full.low_kg, full.kg, full.high_kg] {
        if !(0.2..=comb::HEAVIEST_COMB_KG).contains(&mass.to_kg()) {
            return Err(SeasonError::CombMass(mass.to_kg()));
        }
    }
    if colony.queen == Queen::Missing {
        return Err(SeasonError::Queenless);
    }
    let question = &ask.question;
    let span = question.span()?;
    let ensemble = Ensemble::new(setting, colony, &span)?;
    let reserve = reserve_of(&ensemble, question, &WhatIf::default());
    let drivers = bars(setting, &ensemble, question.sure, BAR_RUNS);
    let without_income_kg = eaten(
        setting,
        colony,
        &Span {
            runs: BAR_RUNS,
            ..span
        },
    )?;
    let winter = Winter::of(setting.years, setting.warmer_k);
    let short = reserve.needed_kg.map(|needed| needed - colony.stores());
    let thumb = winter.thumb(full.kg);
    let must_stay = reserve
        .needed_kg
        .map(|needed| needed.max(full.kg * thumb.combs.1));
    let spare_kg = must_stay.map(|must_stay| colony.stores() - must_stay);
    let feed = short.filter(|short| *short > Mass::ZERO).map(|short| {
        let last = last_good_day(
            setting.years,
            setting.warmer_k,
            question.from,
            question.until,
        );
        Feed::for_short(short, last)
    });
    let ahead = Span {
        days: ask.outlook_days,
        runs: ask.outlook_runs,
        ..span
    };
    let outlook = outlook(setting, colony, &ahead, ask.take_kg, question.sure)?;
    let spare_after = spare_kg.map(|spare| spare - ask.take_kg);
    let mut report = Report {
        combs: reserve.needed_kg.map(|needed| Combs {
            combs: needed / full.kg,
            low: needed / full.high_kg,
            high: needed / full.low_kg,
        }),
        full_comb: full,
        without_income_kg,
        thumb,
        handbook: winter.handbook(),
        drivers,
        feed,
        last_take: last_take(setting, &outlook, full.kg, spare_after),
        spare_kg,
        swarm: pressure(setting, &outlook, ask.bees_held),
        splits: split_windows(setting, &outlook),
        outlook,
        forage: setting.forage,
        reserve,
        words: Vec::new(),
        rests_on: RestsOn {
            bees: colony.bees,
            calibration: setting.calibration,
        },
    };
    report.words = report.words_in(ToldIn::Metric);
    Ok(report)
}
