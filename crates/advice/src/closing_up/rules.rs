//! The rules and the score, written straight from the problem's text and knowing nothing of how an
//! answer is found: every answer is put through [`score`] before it leaves this crate.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use serde::ser::{Serialize, SerializeTuple, Serializer};
use thiserror::Error;

use super::problem::{Kind, Loose, LooseKind, Problem, Standing, Width, kilograms, milligrams};

/// Where everything goes.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Layout {
    /// Bars from the edge outward; the follower board comes after the last.
    pub order: Vec<String>,
    /// Empty bars laid beyond the follower board as lid.
    pub outside: Vec<String>,
    /// Shims laid beyond the follower board.
    pub shims: Vec<Width>,
}

/// What counts, in the order in which it counts. The smaller [`Score`] in the sense of `Ord` is the
/// better one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Score {
    /// Loose bars between two capped straight honey combs: more is better.
    pub between_capped: u32,
    /// A loose bar stands last before the follower board: better than none.
    pub last: bool,
    /// Other loose bars inside: fewer is better.
    pub other_inside: u32,
    /// Combs lifted: fewer is better.
    pub lifted: u32,
    /// Mass lifted, mg (whole, so that sums compare exactly; finer than this is rounded away).
    pub lifted_mg: u64,
    /// Pairs of standing combs whose order is swapped.
    pub swaps: u32,
    /// Shims laid.
    pub shims: u32,
    /// Uncovered length, mm.
    pub shortfall_mm: u32,
}

impl Ord for Score {
    fn cmp(&self, other: &Self) -> Ordering {
        let more_is_better = |s: &Self| (s.between_capped, s.last);
        let fewer_is_better = |s: &Self| {
            let moved = (s.lifted, s.lifted_mg, s.swaps);
            (s.other_inside, moved, s.shims, s.shortfall_mm)
        };
        more_is_better(other)
            .cmp(&more_is_better(self))
            .then_with(|| fewer_is_better(self).cmp(&fewer_is_better(other)))
    }
}

impl PartialOrd for Score {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Serialize for Score {
    /// As the eight numbers of the answer, mass in kg.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut row = serializer.serialize_tuple(8)?;
        row.serialize_element(&self.between_capped)?;
        row.serialize_element(&u8::from(self.last))?;
        row.serialize_element(&self.other_inside)?;
        row.serialize_element(&self.lifted)?;
        row.serialize_element(&kilograms(self.lifted_mg))?;
        row.serialize_element(&self.swaps)?;
        row.serialize_element(&self.shims)?;
        row.serialize_element(&self.shortfall_mm)?;
        row.end()
    }
}

/// A hard rule that a layout breaks.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum BrokenRule {
    /// A name that is no bar of the problem, or used twice.
    #[error("bar {0} is not at hand, or is used twice")]
    NotAtHand(String),
    /// A standing comb that is not in the order.
    #[error("comb {0} has no place")]
    CombWithoutPlace(String),
    /// A bar other than an empty one beyond the follower board.
    #[error("{0} is not an empty bar and cannot lie beyond the follower board")]
    NotEmptyOutside(String),
    /// Two brood combs in another order than now.
    #[error("brood comb {0} no longer follows the brood comb before it")]
    BroodOrder(String),
    /// A brood comb after a honey comb.
    #[error("brood comb {0} stands outside a honey comb")]
    BroodOutsideHoney(String),
    /// A loose bar where it may not stand.
    #[error("loose bar {0} does not stand between two straight honey combs")]
    LoosePlace(String),
    /// A shim that is not at hand.
    #[error("a shim of {0} mm is not at hand, or is used twice")]
    ShimNotAtHand(u32),
    /// The widths do not cover the cavity.
    #[error("{covered} mm are covered, not {least} to {cavity} mm")]
    Widths {
        /// Sum of all widths.
        covered: u32,
        /// Least that must be covered.
        least: u32,
        /// Most that can be covered.
        cavity: u32,
    },
}

/// One place of the row, as the rules look at it.
#[derive(Clone, Copy)]
enum Place<'a> {
    Comb(usize, &'a Standing),
    Loose(&'a Loose),
}

/// Checks every hard rule and scores the layout.
///
/// # Errors
/// The first [`BrokenRule`].
pub fn score(problem: &Problem, layout: &Layout) -> Result<Score, BrokenRule> {
    let row = places(problem, layout)?;
    check_brood(&row)?;
    let shortfall_mm = check_widths(problem, layout, &row)?;
    let (between_capped, last, other_inside) = count_loose(problem, &row)?;
    let order = comb_order(&row);
    let keeps = kept(problem, &order);
    let lifted = problem
        .standing
        .iter()
        .zip(&keeps)
        .filter(|(_, keeps)| !**keeps);
    Ok(Score {
        between_capped,
        last,
        other_inside,
        lifted: lifted.clone().count() as u32,
        lifted_mg: lifted.map(|(comb, _)| milligrams(comb.mass_kg)).sum(),
        swaps: swaps(&order),
        shims: layout.shims.len() as u32,
        shortfall_mm,
    })
}

/// Rule 1: every comb once, every loose bar at most once, only empty bars outside.
fn places<'a>(problem: &'a Problem, layout: &Layout) -> Result<Vec<Place<'a>>, BrokenRule> {
    let combs = problem.standing.iter().enumerate();
    let mut at_hand: BTreeMap<&str, Place<'a>> = combs
        .map(|(i, comb)| (comb.id.as_str(), Place::Comb(i, comb)))
        .collect();
    at_hand.extend(
        problem
            .loose
            .iter()
            .map(|bar| (bar.id.as_str(), Place::Loose(bar))),
    );
    let mut take = |id: &String| {
        at_hand
            .remove(id.as_str())
            .ok_or_else(|| BrokenRule::NotAtHand(id.clone()))
    };
    let row = layout
        .order
        .iter()
        .map(&mut take)
        .collect::<Result<Vec<_>, _>>()?;
    for id in &layout.outside {
        match take(id)? {
            Place::Loose(Loose {
                kind: LooseKind::Empty,
                ..
            }) => {}
            _ => return Err(BrokenRule::NotEmptyOutside(id.clone())),
        }
    }
    let left = at_hand.values().find_map(|place| match place {
        Place::Comb(_, comb) => Some(comb.id.clone()),
        Place::Loose(_) => None,
    });
    left.map_or(Ok(row), |id| Err(BrokenRule::CombWithoutPlace(id)))
}

/// Rule 2, the combs: brood keeps its order and comes before all honey.
fn check_brood(row: &[Place<'_>]) -> Result<(), BrokenRule> {
    let mut honey_seen = false;
    let mut last_brood = None;
    for place in row {
        let Place::Comb(i, comb) = place else {
            continue;
        };
        if comb.kind == Kind::Honey {
            honey_seen = true;
        } else if honey_seen {
            return Err(BrokenRule::BroodOutsideHoney(comb.id.clone()));
        } else if last_brood.is_some_and(|last| last > i) {
            return Err(BrokenRule::BroodOrder(comb.id.clone()));
        } else {
            last_brood = Some(i);
        }
    }
    Ok(())
}

/// Rule 4; gives the shortfall.
fn check_widths(problem: &Problem, layout: &Layout, row: &[Place<'_>]) -> Result<u32, BrokenRule> {
    let mut shims = problem.shims_mm.clone();
    for shim in &layout.shims {
        let at = shims.iter().position(|other| other == shim);
        shims.swap_remove(at.ok_or(BrokenRule::ShimNotAtHand(shim.to_mm()))?);
    }
    let inside = row.iter().map(|place| match place {
        Place::Comb(_, comb) => comb.width_mm,
        Place::Loose(bar) => bar.width_mm,
    });
    let outside = problem
        .loose
        .iter()
        .filter(|bar| layout.outside.contains(&bar.id))
        .map(|bar| bar.width_mm);
    let covered = inside
        .chain(outside)
        .chain(layout.shims.iter().copied())
        .map(Width::to_mm)
        .sum::<u32>()
        + problem.follower_mm.to_mm();
    let cavity = problem.cavity_mm.to_mm();
    let least = cavity.saturating_sub(problem.tolerance_mm.to_mm());
    if (least..=cavity).contains(&covered) {
        Ok(cavity - covered)
    } else {
        Err(BrokenRule::Widths {
            covered,
            least,
            cavity,
        })
    }
}

/// What the rules ask of a loose bar's neighbour.
#[derive(Clone, Copy)]
struct Neighbour {
    straight_honey: bool,
    capped: bool,
}

/// Rules 2 and 3, the loose bars; gives (between capped, last, other inside).
fn count_loose(problem: &Problem, row: &[Place<'_>]) -> Result<(u32, bool, u32), BrokenRule> {
    let edge = &problem.edge;
    let edge = Neighbour {
        straight_honey: edge.kind == Kind::Honey && edge.straight,
        capped: edge.is_capped(),
    };
    // nothing for a loose bar: no two stand side by side
    let beside = |place: &Place<'_>| match place {
        Place::Comb(_, comb) => Some(Neighbour {
            straight_honey: comb.kind == Kind::Honey && comb.straight,
            capped: comb.is_capped(),
        }),
        Place::Loose(_) => None,
    };
    let (mut between_capped, mut last, mut other) = (0, false, 0);
    for (i, place) in row.iter().enumerate() {
        let Place::Loose(bar) = place else { continue };
        let wrong = || BrokenRule::LoosePlace(bar.id.clone());
        let before = i.checked_sub(1).map_or(Some(edge), |i| beside(&row[i]));
        let before = before.ok_or_else(wrong)?;
        let Some(after) = row.get(i + 1) else {
            last = true;
            continue;
        };
        let after = beside(after).ok_or_else(wrong)?;
        if !(before.straight_honey && after.straight_honey) {
            return Err(wrong());
        }
        if before.capped && after.capped {
            between_capped += 1;
        } else {
            other += 1;
        }
    }
    Ok((between_capped, last, other))
}

/// The standing combs' present places, in their new order.
fn comb_order(row: &[Place<'_>]) -> Vec<usize> {
    let combs = row.iter().filter_map(|place| match place {
        Place::Comb(i, _) => Some(*i),
        Place::Loose(_) => None,
    });
    combs.collect()
}

/// Pairs in `order` that stand the other way round than now.
fn swaps(order: &[usize]) -> u32 {
    let swapped = |(i, here): (usize, &usize)| order[i + 1..].iter().filter(|o| *o < here).count();
    order.iter().enumerate().map(swapped).sum::<usize>() as u32
}

/// Which standing combs (by present place) only slide: of the longest common subsequences of
/// present and new order the one of most mass; among equals the one found first from the edge.
pub(super) fn kept(problem: &Problem, order: &[usize]) -> Vec<bool> {
    // (count, mass) of the best subsequence that starts at this place of the new order
    let mut best: Vec<(u32, u64)> = vec![(0, 0); order.len()];
    let mut next: Vec<Option<usize>> = vec![None; order.len()];
    for at in (0..order.len()).rev() {
        let later = (at + 1..order.len()).filter(|later| order[*later] > order[at]);
        next[at] = later.reduce(|a, b| if best[b] > best[a] { b } else { a });
        let (count, mass) = next[at].map_or((0, 0), |later| best[later]);
        let own = milligrams(problem.standing[order[at]].mass_kg);
        best[at] = (count + 1, mass + own);
    }
    let mut keeps = vec![false; problem.standing.len()];
    let mut at = (0..order.len()).reduce(|a, b| if best[b] > best[a] { b } else { a });
    while let Some(here) = at {
        keeps[order[here]] = true;
        at = next[here];
    }
    keeps
}
