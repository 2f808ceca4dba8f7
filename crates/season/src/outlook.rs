//! The next months as they may go: stores and bees as fans, and the lever "take so much now".

use comb::Mass;
use jiff::civil::Date;
use serde::Serialize;

use crate::SeasonError;
use crate::colony::Colony;
use crate::engine::LANES;
use crate::ensemble::{Ensemble, Setting, Span, WhatIf};
use crate::feed::usual_highs;
use crate::weather::slot;

/// Days between points of a fan.
const WEEK: usize = 7;

/// The spread of a figure over the runs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Fan {
    /// One run in twenty lies below.
    pub p5: f64,
    /// One in four.
    pub p25: f64,
    /// The middle.
    pub p50: f64,
    /// One in four lies above.
    pub p75: f64,
    /// One in twenty.
    pub p95: f64,
}

/// One week of the outlook.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Week {
    /// Its last day.
    pub date: Date,
    /// Honey and unripe honey, kg; a lost colony counts as none.
    pub stores_kg: Fan,
    /// Adult bees; a lost colony counts as none.
    pub bees: Fan,
    /// Brood cells, the middle run.
    pub brood: f64,
    /// Share of the runs that live.
    pub alive: f64,
    /// What could be taken in this week, all at once and with nothing taken before it, and of the runs
    /// that live in it the share that was asked for still has stores at every later moment. To first
    /// order: what the bees would do otherwise with less is left out.
    pub could_take_kg: Mass,
}

/// The outlook.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Outlook {
    /// The first day.
    pub from: Date,
    /// Honey taken at the start.
    pub taken_kg: Mass,
    /// Week by week.
    pub weeks: Vec<Week>,
    /// Runs.
    pub runs: usize,
    /// Seed.
    pub seed: u64,
}

/// Runs a colony forward after taking `take` of its honey now; `sure` is the share of the runs in which
/// what could be taken later must leave enough, as in the reserve's question.
///
/// # Errors
/// As [`Ensemble::new`]; [`SeasonError::TakeTooMuch`] when there is not so much capped honey.
pub fn outlook(
    setting: &Setting,
    colony: &Colony,
    span: &Span,
    take: Mass,
    sure: f64,
) -> Result<Outlook, SeasonError> {
    if take > colony.honey_kg || take < Mass::ZERO {
        return Err(SeasonError::TakeTooMuch {
            take: take.to_kg(),
            there: colony.honey_kg.to_kg(),
        });
    }
    let after = Colony {
        honey_kg: colony.honey_kg - take,
        ..*colony
    };
    let ensemble = Ensemble::new(setting, &after, span)?;
    let mut lived = Lived::new(&ensemble);
    let (honey, unripe) = ensemble.own_stores();
    for group in ensemble.groups() {
        ensemble.live(group, &WhatIf::default(), honey, unripe, |day, colonies| {
            if (day + 1) % WEEK == 0 {
                let at = ((day + 1) / WEEK - 1) * lived.runs + group * LANES;
                let alive = colonies.alive;
                let put = |to: &mut Vec<f32>, of: crate::engine::Lane| {
                    to[at..at + LANES].copy_from_slice(&(of * alive).to_array());
                };
                put(&mut lived.stores, colonies.stores());
                put(&mut lived.bees, colonies.bees());
                put(&mut lived.brood, colonies.brood());
            }
            true
        });
    }
    Ok(Outlook {
        from: span.from,
        taken_kg: take,
        weeks: lived.weeks(span.from, sure)?,
        runs: ensemble.runs(),
        seed: span.seed,
    })
}

/// The runs' figures at the end of each week, week after week.
struct Lived {
    runs: usize,
    stores: Vec<f32>,
    bees: Vec<f32>,
    brood: Vec<f32>,
}

impl Lived {
    fn new(ensemble: &Ensemble) -> Self {
        let size = ensemble.days() / WEEK * ensemble.runs();
        Self {
            runs: ensemble.runs(),
            stores: vec![0.0; size],
            bees: vec![0.0; size],
            brood: vec![0.0; size],
        }
    }

    fn weeks(&self, from: Date, sure: f64) -> Result<Vec<Week>, SeasonError> {
        let mut weeks = Vec::new();
        // least stores from this week on, run by run, filled from the end
        let mut least = vec![f32::INFINITY; self.runs];
        let count = self.stores.len() / self.runs;
        for week in (0..count).rev() {
            let range = week * self.runs..(week + 1) * self.runs;
            let stores = &self.stores[range.clone()];
            for (least, now) in least.iter_mut().zip(stores) {
                *least = least.min(*now);
            }
            let bees = &self.bees[range.clone()];
            let days = i64::try_from((week + 1) * WEEK - 1).map_err(|_| SeasonError::Calendar)?;
            let days = jiff::Span::new().days(days);
            let alive = bees.iter().filter(|&&bees| bees > 0.0).count();
            weeks.push(Week {
                date: from.checked_add(days).map_err(|_| SeasonError::Calendar)?,
                stores_kg: Fan::of(stores),
                bees: Fan::of(bees),
                brood: Fan::of(&self.brood[range]).p50,
                alive: alive as f64 / self.runs as f64,
                could_take_kg: Mass::kg(quantile(&of_the_living(&least, bees), 1.0 - sure)),
            });
        }
        weeks.reverse();
        Ok(weeks)
    }
}

/// The figures of the runs that live; of all, when none does.
fn of_the_living(figures: &[f32], bees: &[f32]) -> Vec<f32> {
    let living = figures.iter().zip(bees).filter(|(_, bees)| **bees > 0.0);
    let kept: Vec<f32> = living.map(|(figure, _)| *figure).collect();
    if kept.is_empty() {
        figures.to_vec()
    } else {
        kept
    }
}

/// The figure under which so large a share of them lies.
fn quantile(values: &[f32], share: f64) -> f64 {
    at(&sorted(values), share)
}

fn sorted(values: &[f32]) -> Vec<f32> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f32::total_cmp);
    sorted
}

fn at(sorted: &[f32], share: f64) -> f64 {
    let index = (share * (sorted.len() - 1) as f64).round() as usize;
    f64::from(sorted[index])
}

impl Fan {
    fn of(values: &[f32]) -> Self {
        let sorted = sorted(values);
        let at = |share: f64| at(&sorted, share);
        Self {
            p5: at(0.05),
            p25: at(0.25),
            p50: at(0.5),
            p75: at(0.75),
            p95: at(0.95),
        }
    }
}

/// When to stop taking honey.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LastTake {
    /// Nothing can be spared in the outlook.
    Nothing,
    /// The last week in which a comb can be spared and combs can be lifted; `could_take_kg` is the
    /// most on that day.
    On {
        /// The first week in which one can, `None` when that is now.
        from: Option<Date>,
        /// The day.
        date: Date,
        /// What could be taken on it.
        could_take_kg: Mass,
    },
    /// A comb can be spared to the end of the outlook.
    NoLimit {
        /// The first week in which one can, `None` when that is now.
        from: Option<Date>,
    },
}

/// Combs are not lifted when the usual day stays colder (open from 13 C, practice; reference
/// colony.md G).
const OPEN_FROM_C: f64 = 13.0;

/// The best latest date to stop taking: the end of the first stretch of weeks in which one more comb
/// can be spared and the weather lets combs be lifted. `now` is what can be spared today after what is
/// taken, `None` when no stores suffice: where that is less than a comb, none can be spared
/// in the first week, whatever comes in later.
pub fn last_take(setting: &Setting, outlook: &Outlook, comb: Mass, now: Option<Mass>) -> LastTake {
    let highs = usual_highs(setting.years);
    let good = |week: &Week| {
        week.could_take_kg >= comb && highs[slot(week.date)] + setting.warmer_k >= OPEN_FROM_C
    };
    let mut good: Vec<bool> = outlook.weeks.iter().map(good).collect();
    if let (Some(first), false) = (good.first_mut(), now.is_some_and(|now| now >= comb)) {
        *first = false;
    }
    let Some((first, last)) = first_stretch(&good) else {
        return LastTake::Nothing;
    };
    let from = (first > 0).then(|| outlook.weeks[first].date);
    if last + 1 == outlook.weeks.len() {
        return LastTake::NoLimit { from };
    }
    let last = &outlook.weeks[last];
    LastTake::On {
        from,
        date: last.date,
        could_take_kg: last.could_take_kg,
    }
}

/// First and last week of the first stretch of good ones.
fn first_stretch(good: &[bool]) -> Option<(usize, usize)> {
    let first = good.iter().position(|&good| good)?;
    let length = good[first..].iter().take_while(|&&good| good).count();
    Some((first, first + length - 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A hungry winter ahead: nothing now, though honey will be there in spring again.
    #[test]
    fn a_stretch_that_begins_later_is_not_told_as_now() {
        assert_eq!(first_stretch(&[true, true, false, true]), Some((0, 1)));
        assert_eq!(first_stretch(&[false, true, true]), Some((1, 2)));
        assert_eq!(first_stretch(&[false, false]), None);
    }
}
