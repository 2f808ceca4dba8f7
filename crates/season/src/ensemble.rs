//! Many runs of one colony: each its own weather and its own draw of what is not known, the same
//! draws for every question (common random numbers), so that answers can be compared.

use comb::Mass;
use jiff::civil::Date;

use crate::SeasonError;
use crate::calibrate::Calibration;
use crate::colony::{Colony, Queen};
use crate::consumption;
use crate::drivers::DayTable;
use crate::engine::{Colonies, LANES, Lane, Start, Traits, Weather};
use crate::figures as fig;
use crate::forage::Forage;
use crate::random::Dice;
use crate::weather::{Forecast, Path, Place, Years};

/// Everything but the colony.
#[derive(Debug, Clone)]
pub struct Setting<'a> {
    /// Where.
    pub place: Place,
    /// Years to draw from.
    pub years: &'a Years,
    /// The forage calendar.
    pub forage: Forage,
    /// Kelvin to add to the series (the height's difference; see [`Place::moved_from`]).
    pub warmer_k: f64,
    /// The next days, when foretold.
    pub forecast: Option<&'a Forecast>,
    /// What this keeper's own weights say of consumption.
    pub calibration: Calibration,
}

/// A question is asked for these days, with so many runs, from this seed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// The first day.
    pub from: Date,
    /// Days to live through.
    pub days: usize,
    /// Runs; made a multiple of eight.
    pub runs: usize,
    /// The seed, to be printed with the answer.
    pub seed: u64,
}

/// What is changed in a what-if; factors on the middle of each draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WhatIf {
    /// Factor on the bees.
    pub bees: f64,
    /// Factor on consumption.
    pub eats: f64,
    /// Factor on nectar.
    pub forages: f64,
    /// Factor on laying.
    pub laying: f64,
    /// Factor on foragers' deaths.
    pub forager_death: f64,
}

impl Default for WhatIf {
    fn default() -> Self {
        Self {
            bees: 1.0,
            eats: 1.0,
            forages: 1.0,
            laying: 1.0,
            forager_death: 1.0,
        }
    }
}

/// One run's draw of what is not known, as factors.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Draw {
    laying: f64,
    eats: f64,
    forages: f64,
    forager_death: f64,
    bees: f64,
}

/// The runs, ready to be asked.
#[derive(Debug, Clone)]
pub struct Ensemble {
    table: DayTable,
    paths: Vec<Path>,
    draws: Vec<Draw>,
    colony: Colony,
    winter_share: f64,
    days: usize,
    from: Date,
    eats: f64,
}

/// Longest span, days: two years and a little.
const MOST_DAYS: usize = 800;
/// Most runs.
const MOST_RUNS: usize = 200_000;
/// Foragers among summer bees at rest: Khoury's J/(1+J) at usual death rates (0.24 to 0.28).
const FORAGER_SHARE: f64 = 0.25;

impl Ensemble {
    /// Draws the runs.
    ///
    /// # Errors
    /// As [`Colony::check`] and [`Forage::check`]; [`SeasonError::Span`], [`SeasonError::Runs`].
    pub fn new(setting: &Setting, colony: &Colony, span: &Span) -> Result<Self, SeasonError> {
        colony.check()?;
        setting.forage.check()?;
        if !(1..=MOST_DAYS).contains(&span.days) {
            return Err(SeasonError::Span {
                days: span.days,
                most: MOST_DAYS,
            });
        }
        if !(1..=MOST_RUNS).contains(&span.runs) {
            return Err(SeasonError::Runs {
                runs: span.runs,
                most: MOST_RUNS,
            });
        }
        let Setting {
            place,
            forage,
            warmer_k,
            ..
        } = setting;
        let mut table = DayTable::new(place, setting.years, forage, *warmer_k);
        let winter_share = table.usual_wintering(span.from);
        let foretold = setting
            .forecast
            .map(|forecast| forecast.days_from(span.from));
        let foretold = table.add_forecast(&foretold.unwrap_or_default(), *warmer_k);
        let runs = span.runs.next_multiple_of(LANES);
        let (mut paths, mut draws) = (Vec::with_capacity(runs), Vec::with_capacity(runs));
        for run in 0..runs {
            let mut dice = Dice::stream(span.seed, run as u64);
            draws.push(Draw::new(&mut dice, setting.calibration));
            let mut path = setting.years.draw(span.from, span.days, &mut dice);
            for (day, row) in path.iter_mut().zip(foretold.clone()) {
                *day = row;
            }
            paths.push(path);
        }
        Ok(Self {
            table,
            paths,
            draws,
            colony: *colony,
            winter_share,
            days: span.days,
            from: span.from,
            eats: setting.calibration.factor,
        })
    }

    /// Runs drawn.
    pub fn runs(&self) -> usize {
        self.draws.len()
    }
    /// Days that a run lasts.
    pub fn days(&self) -> usize {
        self.days
    }
    /// The first day.
    pub fn from(&self) -> Date {
        self.from
    }
    /// The colony that was asked about.
    pub fn colony(&self) -> &Colony {
        &self.colony
    }
    /// Groups of eight runs.
    pub fn groups(&self) -> std::ops::Range<usize> {
        0..self.draws.len() / LANES
    }

    /// The same runs with every day warmer by so many kelvin (or colder).
    #[must_use]
    pub fn warmer(&self, setting: &Setting, kelvin: f64) -> Self {
        let warmer_k = setting.warmer_k + kelvin;
        let mut table = DayTable::new(&setting.place, setting.years, &setting.forage, warmer_k);
        let foretold = setting
            .forecast
            .map(|forecast| forecast.days_from(self.from));
        table.add_forecast(&foretold.unwrap_or_default(), warmer_k);
        Self {
            table,
            ..self.clone()
        }
    }
    /// The same draws, only the first `runs` of them.
    #[must_use]
    pub fn first(&self, runs: usize) -> Self {
        let runs = runs.next_multiple_of(LANES).min(self.draws.len());
        Self {
            paths: self.paths[..runs].to_vec(),
            draws: self.draws[..runs].to_vec(),
            table: self.table.clone(),
            ..*self
        }
    }

    /// Lives one group of eight through the span. `honey` is each run's capped honey at the start,
    /// kg; `unripe` likewise. `each` sees the colonies at the end of every day, numbered from 0, and
    /// ends the run early by giving `false`.
    pub fn live(
        &self,
        group: usize,
        what_if: &WhatIf,
        honey: Lane,
        unripe: f32,
        mut each: impl FnMut(usize, &Colonies) -> bool,
    ) -> Colonies {
        let (traits, start) = self.group(group, what_if, honey, unripe);
        let rows = self.table.rows();
        let paths: [&[u32]; LANES] =
            std::array::from_fn(|l| self.paths[group * LANES + l].as_slice());
        let mut colonies = Colonies::new(&start);
        for day in 0..self.days {
            let weather = Weather::of(paths.map(|path| rows[path[day] as usize]));
            colonies.day(&traits, &weather);
            if !each(day, &colonies) {
                break;
            }
        }
        colonies
    }

    /// The stores that the colony has now, for [`Self::live`].
    pub fn own_stores(&self) -> (Lane, f32) {
        let honey = self.colony.honey_kg.to_kg() as f32;
        (Lane::splat(honey), self.colony.unripe_kg.to_kg() as f32)
    }

    fn group(&self, group: usize, what_if: &WhatIf, honey: Lane, unripe: f32) -> (Traits, Start) {
        let of = |part: fn(&Draw) -> f64, middle: f64| -> Lane {
            let of_run = |l: usize| (part(&self.draws[group * LANES + l]) * middle) as f32;
            Lane::new(std::array::from_fn(of_run))
        };
        let laying = match self.colony.queen {
            Queen::Laying => fig::QUEEN_EGGS.value * what_if.laying,
            Queen::Missing => 0.0,
        };
        let traits = Traits {
            laying: of(|draw| draw.laying, laying),
            eats: of(|draw| draw.eats, self.eats * what_if.eats),
            forages: of(|draw| draw.forages, what_if.forages),
            forager_death: of(
                |draw| draw.forager_death,
                fig::FORAGER_DEATH.value * what_if.forager_death,
            ),
            hive_death: Lane::splat(fig::HIVE_DEATH.value as f32),
            room: Lane::splat(self.colony.room_kg.to_kg() as f32),
            heating: Lane::splat((consumption::heating_factor() * 0.001) as f32),
        };
        let brood = self.colony.brood_cells / fig::WORKER_DAYS.value;
        let open = fig::EGG_DAYS.value + fig::LARVA_DAYS.value;
        let start = Start {
            bees: of(|draw| draw.bees, self.colony.bees * what_if.bees),
            winter_share: self.winter_share as f32,
            forager_share: FORAGER_SHARE as f32,
            brood: [
                brood * fig::EGG_DAYS.value,
                brood * fig::LARVA_DAYS.value,
                brood * (fig::WORKER_DAYS.value - open),
            ]
            .map(|cells| cells as f32),
            honey,
            unripe,
            pollen: self.colony.pollen().to_kg() as f32,
        };
        (traits, start)
    }
}

impl Draw {
    fn new(dice: &mut Dice, calibration: Calibration) -> Self {
        let mut factor = |spread: f64| libm::exp(spread * dice.normal());
        Self {
            laying: factor(fig::QUEEN_SPREAD.value).min(2000.0 / fig::QUEEN_EGGS.value),
            eats: factor(calibration.spread),
            forages: factor(fig::FORAGE_SPREAD.value),
            forager_death: factor(fig::FORAGER_DEATH_SPREAD.value),
            bees: factor(fig::BEES_SPREAD.value),
        }
    }
}

/// Mass from a single-precision figure.
pub(crate) fn kg(value: f32) -> Mass {
    Mass::kg(f64::from(value))
}
