//! How much must stay: the stores with which the colony lives to a date in most years.

use comb::Mass;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::SeasonError;
use crate::colony::{Colony, Queen};
use crate::engine::{LANES, Lane};
use crate::ensemble::{Ensemble, Setting, Span, WhatIf, kg};

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Question {
    /// The day on which the stores are counted.
    pub from: Date,
    /// The day to which the colony must live.
    pub until: Date,
    /// In what share of the runs it must; 0.95 unless the keeper says otherwise.
    pub sure: f64,
    /// Runs.
    pub runs: usize,
    /// Seed; print it.
    pub seed: u64,
}

impl Question {
    /// The usual question: 95 %, 1000 runs.
    pub const fn new(from: Date, until: Date) -> Self {
        Self {
            from,
            until,
            sure: 0.95,
            runs: 1000,
            seed: 1,
        }
    }
    /// The span that it needs.
    ///
    /// # Errors
    /// [`SeasonError::Dates`] when `until` is not after `from`, [`SeasonError::Sure`].
    pub fn span(&self) -> Result<Span, SeasonError> {
        if !(0.5..=0.999).contains(&self.sure) {
            return Err(SeasonError::Sure(self.sure));
        }
        let days = self.until.duration_since(self.from).as_hours() / 24;
        let days = usize::try_from(days).ok().filter(|&days| days > 0);
        Ok(Span {
            from: self.from,
            days: days.ok_or(SeasonError::Dates {
                from: self.from,
                until: self.until,
            })?,
            runs: self.runs,
            seed: self.seed,
        })
    }
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reserve {
    /// The question.
    pub question: Question,
    /// Stores needed; `None` when no amount in this body carries the colony surely enough.
    pub needed_kg: Option<Mass>,
    /// 95 % interval of that figure from the number of runs alone; its upper end is `None` when
    /// more runs might find that no amount suffices.
    pub between_kg: (Mass, Option<Mass>),
    /// Stores that suffice in half of the runs.
    pub middle_kg: Option<Mass>,
    /// Share of the runs that live with the stores that are there now.
    pub lives_now: f64,
    /// Share of the runs that no stores save: they dwindle.
    pub beyond_help: f64,
    /// Runs.
    pub runs: usize,
}

/// The search for a run's need ends when it is known this closely, kg.
const CLOSE_ENOUGH: f32 = 0.1;
/// No more steps than this from the quantile to the answer.
const MOST_STEPS: usize = 20;
/// No more tries than this for a group of eight.
const MOST_TRIES: usize = 16;

/// Answers the question.
///
/// Each run's own least stores are searched for under its own draws, which are the same at every
/// trial; their quantile is then moved, in steps of 0.1 kg, to the least stores on which the asked
/// share of the runs lives.
///
/// # Errors
/// As [`Ensemble::new`] and [`Question::span`]; [`SeasonError::Queenless`].
pub fn reserve(
    setting: &Setting,
    colony: &Colony,
    question: &Question,
) -> Result<Reserve, SeasonError> {
    if colony.queen == Queen::Missing {
        return Err(SeasonError::Queenless);
    }
    let ensemble = Ensemble::new(setting, colony, &question.span()?)?;
    Ok(reserve_of(&ensemble, question, &WhatIf::default()))
}

/// The same from runs that are drawn already.
pub fn reserve_of(ensemble: &Ensemble, question: &Question, what_if: &WhatIf) -> Reserve {
    let needs = needs(ensemble, what_if);
    let needed = quantile(&needs, question.sure);
    let needed = needed.map(|start| settle(ensemble, what_if, question.sure, start));
    summary(ensemble, question, needs, needed)
}

/// Share of the runs that live through the span on so much capped honey.
pub fn share_living(ensemble: &Ensemble, what_if: &WhatIf, honey: Mass) -> f64 {
    let honey = Lane::splat(honey.to_kg() as f32);
    let living: f32 = ensemble
        .groups()
        .map(|group| {
            let end = ensemble.live(group, what_if, honey, 0.0, |_, c| !c.all_gone());
            end.alive.to_array().iter().sum::<f32>()
        })
        .sum();
    f64::from(living) / ensemble.runs() as f64
}

/// Walks from the quantile of the runs' needs to the least stores on which so many runs live.
///
/// The two differ by some tenths of a kilogram: a run may die on somewhat more than it lives on,
/// because more food rears more brood that is then hungry. What was asked is the share that lives.
fn settle(ensemble: &Ensemble, what_if: &WhatIf, sure: f64, start: Mass) -> Mass {
    let step = Mass::kg(f64::from(CLOSE_ENOUGH));
    let room = ensemble.colony().room_kg;
    let enough = |stores: Mass| share_living(ensemble, what_if, stores) >= sure;
    let mut stores = start;
    if enough(stores) {
        for _ in 0..MOST_STEPS {
            let less = stores - step;
            if less < Mass::ZERO || !enough(less) {
                break;
            }
            stores = less;
        }
    } else {
        for _ in 0..MOST_STEPS {
            stores = (stores + step).min(room);
            if enough(stores) {
                break;
            }
        }
    }
    stores
}

/// Per run the stores it needs to live through the span, kg; infinite where none suffice.
/// In order of the runs.
pub fn needs(ensemble: &Ensemble, what_if: &WhatIf) -> Vec<f32> {
    #[cfg(feature = "parallel")]
    {
        use rayon::prelude::*;
        let groups = ensemble.groups().into_par_iter();
        groups
            .flat_map_iter(|group| group_needs(ensemble, what_if, group))
            .collect()
    }
    #[cfg(not(feature = "parallel"))]
    ensemble
        .groups()
        .flat_map(|group| group_needs(ensemble, what_if, group))
        .collect()
}

/// The quantile of needs at which `sure` of the runs live.
pub fn quantile(needs: &[f32], sure: f64) -> Option<Mass> {
    let mut sorted = needs.to_vec();
    sorted.sort_by(f32::total_cmp);
    at_rank(&sorted, sure * sorted.len() as f64)
}

fn at_rank(sorted: &[f32], rank: f64) -> Option<Mass> {
    let index = (rank.ceil().max(1.0) as usize - 1).min(sorted.len() - 1);
    sorted
        .get(index)
        .filter(|need| need.is_finite())
        .map(|&need| kg(need))
}

fn group_needs(ensemble: &Ensemble, what_if: &WhatIf, group: usize) -> [f32; LANES] {
    let full = ensemble.colony().room_kg.to_kg() as f32;
    let mut searches = [Search::new(full); LANES];
    for _ in 0..MOST_TRIES {
        let trial = Lane::new(searches.map(|search| search.trial));
        let end = ensemble.live(group, what_if, trial, 0.0, |_, c| !c.all_gone());
        for ((search, alive), least) in searches
            .iter_mut()
            .zip(end.alive.to_array())
            .zip(end.least.to_array())
        {
            search.learn(alive > 0.5, least);
        }
        if searches.iter().all(Search::is_done) {
            break;
        }
    }
    searches.map(|search| search.enough)
}

/// The search for one run's least stores.
#[derive(Debug, Clone, Copy)]
struct Search {
    /// Stores that are known to suffice, kg; infinite when none do.
    enough: f32,
    /// Stores that are known not to.
    short: f32,
    /// What is tried next.
    trial: f32,
    tried: bool,
    step: f32,
}

impl Search {
    fn new(full: f32) -> Self {
        Self {
            enough: full,
            short: 0.0,
            trial: full,
            tried: false,
            step: 0.9 * CLOSE_ENOUGH,
        }
    }

    fn is_done(&self) -> bool {
        self.enough.is_infinite() || self.enough - self.short <= CLOSE_ENOUGH
    }

    /// Takes in whether the run lived on the trial and what was left at its leanest moment.
    fn learn(&mut self, lived: bool, least: f32) {
        if !self.tried && !lived {
            self.enough = f32::INFINITY;
        }
        self.tried = true;
        if self.is_done() {
            return;
        }
        if lived {
            self.enough = self.trial;
        } else {
            self.short = self.trial;
        }
        if self.is_done() {
            self.trial = self.enough;
            return;
        }
        // what was left over at the leanest moment was not needed, so try about that much less; near
        // the answer feel for it in steps that grow, from whichever side the last trial fell
        let guess = if !lived {
            self.short + self.stride()
        } else if least > 2.0 * CLOSE_ENOUGH {
            self.enough - 0.97 * least
        } else {
            self.enough - self.stride()
        };
        let inside = guess > self.short && guess < self.enough;
        self.trial = if inside {
            guess
        } else {
            self.short + 0.5 * (self.enough - self.short)
        };
    }

    /// The next step to feel for the answer with; each is four times the last.
    fn stride(&mut self) -> f32 {
        let step = self.step;
        self.step *= 4.0;
        step
    }
}

fn summary(
    ensemble: &Ensemble,
    question: &Question,
    needs: Vec<f32>,
    needed_kg: Option<Mass>,
) -> Reserve {
    let runs = needs.len();
    let have = ensemble.colony().stores().to_kg() as f32;
    let count = |test: fn(f32, f32) -> bool| {
        needs.iter().filter(|&&need| test(need, have)).count() as f64 / runs as f64
    };
    let (lives_now, beyond_help) = (
        count(|need, have| need <= have),
        count(|need, _| need.is_infinite()),
    );
    let mut sorted = needs;
    sorted.sort_by(f32::total_cmp);
    let (n, p) = (runs as f64, question.sure);
    // order statistics: the rank of the quantile is binomial
    let either = 1.96 * libm::sqrt(n * p * (1.0 - p));
    let low = at_rank(&sorted, (n * p - either).max(1.0));
    Reserve {
        question: *question,
        needed_kg,
        between_kg: (
            low.unwrap_or(ensemble.colony().room_kg),
            at_rank(&sorted, (n * p + either).min(n)),
        ),
        middle_kg: at_rank(&sorted, 0.5 * n),
        lives_now,
        beyond_help,
        runs,
    }
}

/// What the colony eats over a span without any income, the middle run; for comparing with a scale.
///
/// # Errors
/// As [`Ensemble::new`].
pub fn eaten(setting: &Setting, colony: &Colony, span: &Span) -> Result<Mass, SeasonError> {
    let mut setting = setting.clone();
    setting.forage = setting.forage.times(0.0);
    let full = Colony {
        honey_kg: colony.room_kg,
        unripe_kg: Mass::ZERO,
        ..*colony
    };
    let ensemble = Ensemble::new(&setting, &full, span)?;
    let mut eaten: Vec<f32> = Vec::with_capacity(ensemble.runs());
    let (honey, unripe) = ensemble.own_stores();
    for group in ensemble.groups() {
        let end = ensemble.live(group, &WhatIf::default(), honey, unripe, |_, _| true);
        eaten.extend((honey - end.stores()).to_array());
    }
    eaten.sort_by(f32::total_cmp);
    Ok(kg(eaten[eaten.len() / 2]))
}
