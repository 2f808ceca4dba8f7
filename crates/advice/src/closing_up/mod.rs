//! Closing up one opened end of a hive: the order of the bars, the lid, the shims, the steps.
//!
//! Ask with a [`Problem`] (from JSON by [`parse_problem`], or built and checked), get an [`Outcome`]
//! from [`solve`]. Every answer is the best there is, in the order of the [`Score`]'s fields, and the
//! choice among ties is the same every time. [`score`] checks and scores any [`Layout`], the keeper's
//! own as well.
//!
//! ```
//! use advice::closing_up::{Outcome, parse_problem, solve};
//!
//! let problem = parse_problem(
//!     r#"{
//!       "cavity_mm": 162, "follower_mm": 19, "tolerance_mm": 3,
//!       "edge": {"kind": "honey", "capped": 0.9, "straight": true},
//!       "standing": [
//!         {"id": "b9", "kind": "honey", "capped": 0.3, "straight": true, "width_mm": 35, "mass_kg": 1.4},
//!         {"id": "b10", "kind": "honey", "capped": 0.8, "straight": true, "width_mm": 35, "mass_kg": 2.1}
//!       ],
//!       "loose": [
//!         {"id": "c1", "kind": "cut", "width_mm": 35},
//!         {"id": "e1", "kind": "empty", "width_mm": 35}
//!       ],
//!       "shims_mm": [3, 5, 8]
//!     }"#,
//! )?;
//! let Outcome::Closed(answer) = solve(&problem)? else { panic!("it closes") };
//! // the capped comb comes to the capped edge, and the cut bar between them
//! assert_eq!(answer.order, ["c1", "b10", "b9", "e1"]);
//! assert_eq!(answer.lifted, ["b9"]);
//! assert_eq!(answer.score.shortfall_mm, 3);
//! # Ok::<(), advice::AdviceError>(())
//! ```
//!
//! # Where the problem leaves a choice
//!
//! - The edge takes part with its own `kind`, `capped` and `straight`: an edge of straight capped
//!   honey makes a pair of capped combs with a first comb that is straight capped honey; a crooked
//!   edge, an edge of brood, or an edge with brood combs next to it makes none. It is never lifted and
//!   counts in no rule about standing combs; brood may stand next to an edge of honey.
//! - A loose bar that stands last counts in the score's second field alone, whatever its neighbour;
//!   with no comb standing at all its neighbour is the edge.
//! - Brood combs make no pair, straight or not. Among swaps, brood that must pass honey counts.
//! - A problem must give every field. Unknown fields, quoted numbers, parts of a millimetre, names
//!   given twice and sizes beyond the bounds in [`problem`] are refused, the field named.

mod bound;
mod hindrance;
mod lid;
mod order;
pub mod problem;
mod queue;
mod row;
mod rules;
mod steps;
mod way_out;
mod words;

use comb::order::InOrder as _;
use serde::Serialize;

pub use hindrance::Hindrance;
pub use problem::{
    Allowance, Edge, Kind, Loose, LooseKind, Problem, Standing, WholeMm, Width, parse_problem,
};
pub use rules::{BrokenRule, Layout, Score, score};
pub use steps::{Step, Where, steps};
pub use way_out::{Added, Impossible, WayOut, is_added_bar};

use lid::{Fill, Lid};
use row::{Demand, Row};

use crate::AdviceError;

/// The best closing-up. Serialises as the answer's JSON.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Answer {
    /// Bars from the edge outward; the follower board comes after the last.
    pub order: Vec<String>,
    /// Empty bars laid beyond the follower board as lid.
    pub outside: Vec<String>,
    /// Shims laid beyond the follower board.
    #[serde(rename = "shims")]
    pub shims_mm: Vec<Width>,
    /// How good it is.
    pub score: Score,
    /// Combs that are lifted, in present order; all others only slide.
    pub lifted: Vec<String>,
    /// What to do, one sentence at a time, which they serialise as.
    pub steps: Vec<Step>,
}

/// What [`solve`] finds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(untagged)]
pub enum Outcome {
    /// It closes, best like this.
    Closed(Answer),
    /// It does not close; the rule that cannot be met, by how much, and what would make it close.
    Impossible {
        /// Serialises as a sentence.
        impossible: Impossible,
    },
}

/// The work done to find an answer, counted so that it is the same on every machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Effort {
    /// States of the search noted, over all its runs.
    pub states: usize,
}

/// Finds the best closing-up, or why there is none.
///
/// # Errors
/// What [`Problem::check`] finds; [`AdviceError::TooManyWays`] for a problem far larger than a hive;
/// and [`AdviceError::OwnCheck`] should the answer found not pass
/// [`score`], which would be a fault of this crate.
pub fn solve(problem: &Problem) -> Result<Outcome, AdviceError> {
    solve_counting(problem, &mut Effort::default())
}

/// As [`solve`], and adds to `effort` what it took, also when giving up.
///
/// # Errors
/// As [`solve`].
pub fn solve_counting(problem: &Problem, effort: &mut Effort) -> Result<Outcome, AdviceError> {
    if let Some(answer) = closed(problem, effort)? {
        return Ok(Outcome::Closed(answer));
    }
    let impossible = Impossible::of(problem);
    Ok(Outcome::Impossible { impossible })
}

/// The best closing-up, if there is one.
fn closed(problem: &Problem, effort: &mut Effort) -> Result<Option<Answer>, AdviceError> {
    problem.check()?;
    let (row, lid) = (Row::new(problem), Lid::new(problem));
    for (last, demand) in demands(problem, &row) {
        let inside = demand.between_capped + demand.other + usize::from(last);
        let Some(fill) = lid.fill(inside) else {
            continue;
        };
        if let Some(honey) = order::best_order(&row, demand, effort)? {
            let layout = lay_out(problem, &row, &honey, demand, fill);
            return answer(problem, layout).map(Some);
        }
    }
    Ok(None)
}

/// Every number of loose bars between capped combs, last, and elsewhere that the combs allow, best
/// first. What comes later in the score cannot undo an earlier field, and the widths ask only how many
/// bars are inside, so the first that the lid can meet is right.
fn demands<'a>(problem: &Problem, row: &'a Row) -> impl Iterator<Item = (bool, Demand)> + 'a {
    let loose = problem.loose.len();
    let most = row.most_capped_gaps().min(loose);
    (0..=most).rev().flat_map(move |between_capped| {
        [true, false].into_iter().flat_map(move |last| {
            let taken = between_capped + usize::from(last);
            let others = (0..=row.most_gaps()).take_while(move |other| taken + other <= loose);
            others
                .map(move |other| Demand {
                    between_capped,
                    other,
                })
                .filter(|demand| row.allows(*demand))
                .map(move |demand| (last, demand))
                .filter(move |_| taken <= loose)
        })
    })
}

/// Puts the loose bars into the gaps: those asked for between capped combs, the others, the last.
/// Cut bars first (they guide the bees best and cannot lie outside), and gaps from the edge outward.
fn lay_out(problem: &Problem, row: &Row, honey: &[usize], demand: Demand, fill: Fill) -> Layout {
    let mut bars = fill.inside;
    bars.order_by_key(|bar| (problem.loose[*bar].kind, *bar));
    let mut bars = bars.into_iter().map(|bar| problem.loose[bar].id.clone());
    let between: Vec<String> = bars.by_ref().take(demand.between_capped).collect();
    let other: Vec<String> = bars.by_ref().take(demand.other).collect();
    let (mut between, mut other) = (between.into_iter(), other.into_iter());

    let id = |standing: usize| problem.standing[standing].id.clone();
    let mut order: Vec<String> = row.brood.iter().map(|brood| id(*brood)).collect();
    let mut before = row.anchor;
    for comb in honey.iter().map(|at| &row.honey[*at]) {
        let bar = match (before.is_straight() && comb.class.is_straight(), before) {
            (true, _) if before.is_capped() && comb.class.is_capped() => between.next(),
            (true, _) => other.next(),
            (false, _) => None,
        };
        order.extend(bar);
        order.push(id(comb.standing));
        before = comb.class;
    }
    order.extend(bars);
    let outside = fill
        .outside
        .iter()
        .map(|bar| problem.loose[*bar].id.clone());
    let shims = fill.shims.iter().map(|shim| problem.shims_mm[*shim]);
    Layout {
        order,
        outside: outside.collect(),
        shims: shims.collect(),
    }
}

fn answer(problem: &Problem, layout: Layout) -> Result<Answer, AdviceError> {
    let score = score(problem, &layout)?;
    let keeps = rules::kept(problem, &steps::comb_order(problem, &layout));
    let lifted = problem
        .standing
        .iter()
        .zip(&keeps)
        .filter(|(_, keeps)| !**keeps);
    let lifted = lifted.map(|(comb, _)| comb.id.clone()).collect();
    let steps = steps(problem, &layout);
    let Layout {
        order,
        outside,
        shims: shims_mm,
    } = layout;
    Ok(Answer {
        order,
        outside,
        shims_mm,
        score,
        lifted,
        steps,
    })
}
