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
/// No more tries than this for a group of eight.
const MOST_TRIES: usize = 12;

/// Answers the question.
///
/// Each run's own least stores are searched for (more stores never hurt a run, so the search is
/// monotone; a property test checks it), and the answer is the quantile over the runs.
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
    summary(ensemble, question, needs(ensemble, what_if))
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
}

impl Search {
    fn new(full: f32) -> Self {
        Self {
            enough: full,
            short: 0.0,
            trial: full,
            tried: false,
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
        let gap = self.enough - self.short;
        if gap <= CLOSE_ENOUGH {
            self.trial = self.enough;
            return;
        }
        // what was left over at the leanest moment was not needed, so try just that much less;
        // where that is no real step, halve
        let without = self.enough - 0.97 * least;
        let a_step = without > self.short && without < self.enough - 0.2 * gap.min(1.0);
        self.trial = if lived && a_step {
            without
        } else {
            self.short + 0.5 * gap
        };
    }
}

fn summary(ensemble: &Ensemble, question: &Question, needs: Vec<f32>) -> Reserve {
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
        needed_kg: at_rank(&sorted, n * p),
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
