//! Which bar each comb heard is.
//!
//! A number said is a bar known. Combs without one are recognised by what they hold, in their order
//! from the opened end; where the hive's record knows nothing of its combs yet, that order alone
//! decides. After a number, the next comb is the next bar inward.

use std::collections::BTreeSet;

use hive::entry::{End, Hanging, Piece};
use hive::matching::{Expected, Habits, Matching, Met, match_combs};
use hive::{BarId, Hive};
use jiff::Timestamp;

use super::RecordError;
use super::contents::Seen;
use crate::act;
use crate::visit::Visit;

/// The bars met and the ends opened.
pub(super) struct Resolved {
    /// One per comb, in the order met.
    pub bars: Vec<BarId>,
    /// Ends in the order opened; never empty.
    pub ends: Vec<End>,
    /// How combs without numbers were recognised.
    pub matching: Option<Matching>,
}

pub(super) fn resolve(
    visit: &Visit,
    seen: &[Seen],
    hive: &Hive,
    told: Option<End>,
    now: Timestamp,
) -> Result<Resolved, RecordError> {
    let ends = ends(visit, hive, told)?;
    let mut bars: Vec<Option<BarId>> = Vec::with_capacity(visit.combs.len());
    for comb in &visit.combs {
        bars.push(comb.bar.map(|number| numbered(hive, number)).transpose()?);
    }
    let mut matching: Option<Matching> = None;
    for (index, end) in ends.iter().enumerate() {
        let at_end: Vec<usize> = (0..visit.combs.len())
            .filter(|c| visit.combs[*c].end.min(ends.len() - 1) == index)
            .collect();
        let none_said = at_end.iter().all(|comb| bars[*comb].is_none());
        if none_said && !at_end.is_empty() {
            let met = at_end
                .iter()
                .map(|c| met(&seen[*c], *end))
                .collect::<Vec<_>>();
            let found = recognise(hive, *end, &met, &bars, now)?;
            for (comb, bar) in at_end.iter().zip(&found.bars) {
                bars[*comb] = Some(*bar);
            }
            matching = join(matching, found.matching);
        } else {
            walk_on(hive, *end, &at_end, &mut bars)?;
        }
    }
    let bars = bars.into_iter().flatten().collect();
    Ok(Resolved {
        bars,
        ends,
        matching,
    })
}

/// The ends opened, in order; none while no comb was met and no end told. An end that was not said is told by the caller, or by numbers that
/// begin nearer to one end.
fn ends(visit: &Visit, hive: &Hive, told: Option<End>) -> Result<Vec<End>, RecordError> {
    let said = |end: act::End| match end {
        act::End::Left => End::Left,
        act::End::Right => End::Right,
    };
    let mut ends: Vec<End> = Vec::new();
    let opened = if visit.ends.is_empty() {
        &[None][..]
    } else {
        &visit.ends
    };
    for (index, end) in opened.iter().enumerate() {
        let known = end
            .map(said)
            .or(if index == 0 {
                told
            } else {
                ends.last().map(|e: &End| e.other())
            })
            .or_else(|| nearer_end(visit, hive, index));
        match known {
            Some(end) => ends.push(end),
            // a wash or a feed opens no end
            None if visit.combs.is_empty() => {}
            None => {
                return Err(RecordError::EndNotSaid {
                    hive: hive.name.clone(),
                });
            }
        }
    }
    Ok(ends)
}

fn nearer_end(visit: &Visit, hive: &Hive, index: usize) -> Option<End> {
    let first = visit.combs.iter().find(|comb| comb.end == index)?;
    let place = hive.place_of(hive.bar_numbered(first.bar?).ok()?.id)? as usize;
    Some(if place * 2 <= hive.row.bar_count() {
        End::Left
    } else {
        End::Right
    })
}

fn numbered(hive: &Hive, number: u32) -> Result<BarId, RecordError> {
    let bar = hive.bar_numbered(number);
    bar.map(|bar| bar.id).map_err(|_| RecordError::NoSuchBar {
        number,
        hive: hive.name.clone(),
        have: ranges(&hive.numbers()),
    })
}

/// "1 to 12, 14 and 20" is easier to hear than thirty numbers.
fn ranges(numbers: &[u32]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for number in numbers {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == *number => *last = *number,
            _ => runs.push((*number, *number)),
        }
    }
    let words: Vec<String> = runs
        .iter()
        .map(|(a, b)| {
            if a == b {
                a.to_string()
            } else {
                format!("{a} to {b}")
            }
        })
        .collect();
    if words.is_empty() {
        "none".to_owned()
    } else {
        words.join(", ")
    }
}

/// A comb after a numbered one is the next bar inward that was not met yet; before the first number,
/// bars are counted back outward from it, those that bear comb where there are enough.
fn walk_on(
    hive: &Hive,
    end: End,
    at_end: &[usize],
    bars: &mut [Option<BarId>],
) -> Result<(), RecordError> {
    let row = hive.row.bars_from(end);
    let place = |bar: BarId| row.iter().position(|b| *b == bar);
    let taken: BTreeSet<BarId> = bars.iter().flatten().copied().collect();
    let first_known = at_end.iter().position(|c| bars[*c].is_some()).unwrap_or(0);
    let first_place = at_end
        .get(first_known)
        .and_then(|c| bars[*c])
        .and_then(place);
    let with_comb = |at: &usize| {
        let bar = row[*at];
        !taken.contains(&bar) && hive.bar(bar).is_some_and(hive::Bar::has_comb)
    };
    let outward: Vec<usize> = (0..first_place.unwrap_or(0)).filter(with_comb).collect();
    if let Some(nearest) = outward.len().checked_sub(first_known) {
        for (comb, at) in at_end.iter().zip(&outward[nearest..]) {
            bars[*comb] = Some(row[*at]);
        }
    }
    // where the next comb is looked for
    let mut from = first_place.map_or(0, |at| at.saturating_sub(first_known));
    let mut met = taken;
    for comb in at_end {
        if let Some(bar) = bars[*comb] {
            from = place(bar).map_or(from, |at| at + 1);
            continue;
        }
        let next = row.iter().skip(from).position(|bar| !met.contains(bar));
        let Some(at) = next.map(|at| at + from) else {
            return Err(too_many(hive, end, at_end.len(), row.len()));
        };
        met.insert(row[at]);
        bars[*comb] = Some(row[at]);
        from = at + 1;
    }
    Ok(())
}

struct Recognised {
    bars: Vec<BarId>,
    matching: Option<Matching>,
}

/// Combs of one end without any number.
fn recognise(
    hive: &Hive,
    end: End,
    met: &[Met],
    elsewhere: &[Option<BarId>],
    now: Timestamp,
) -> Result<Recognised, RecordError> {
    let expected: Vec<Expected> = expected(hive, end, now)
        .into_iter()
        .filter(|e| !elsewhere.contains(&Some(e.bar)))
        .collect();
    if expected.len() < met.len() {
        return Err(too_many(hive, end, met.len(), expected.len()));
    }
    let unknown = hive.bars.values().all(|bar| bar.looks.is_empty());
    if unknown {
        // nothing to recognise combs by: those that bear comb, in their order
        let combs = expected.iter().filter(|e| e.hanging == Hanging::Comb);
        let mut bars: Vec<BarId> = combs.take(met.len()).map(|e| e.bar).collect();
        if bars.len() < met.len() {
            bars = expected.iter().take(met.len()).map(|e| e.bar).collect();
        }
        return Ok(Recognised {
            bars,
            matching: None,
        });
    }
    let matching = match_combs(&expected, met, &Habits::default());
    let bars = with_the_unknown_placed(&matching, &expected);
    // painted numbers that were not said leave no doubt worth recording
    let matching = if hive.numbered && matching.unsure().next().is_none() {
        None
    } else {
        Some(matching)
    };
    Ok(Recognised { bars, matching })
}

/// The bars to be met: those with comb or a strip, and the empty bar next outside them, on which new
/// comb may hang by now. Bars beyond the follower board are lid, no comb hangs there.
fn expected(hive: &Hive, end: End, now: Timestamp) -> Vec<Expected> {
    let lid = lid_beyond_the_board(hive, end);
    let mut all = hive.expected_from(end, now);
    all.retain(|e| !lid.contains(&e.bar));
    let first = all
        .iter()
        .position(|e| e.hanging != Hanging::Nothing)
        .unwrap_or(0);
    all.drain(..first.saturating_sub(1));
    all
}

/// Bars between the end wall and the first follower board from that end.
fn lid_beyond_the_board(hive: &Hive, end: End) -> BTreeSet<BarId> {
    let pieces = hive.row.pieces();
    let board = |piece: &Piece| matches!(piece, Piece::Follower { .. });
    let beyond = match end {
        End::Left => pieces.iter().position(board).map(|at| &pieces[..at]),
        End::Right => pieces.iter().rposition(board).map(|at| &pieces[at + 1..]),
    };
    let without_comb = |bar: &BarId| hive.bar(*bar).is_some_and(|bar| !bar.has_comb());
    let bars = beyond.unwrap_or(&[]).iter().filter_map(Piece::bar);
    bars.filter(without_comb).collect()
}

/// Every comb met hangs on a bar of this hive; one that the record does not know hangs on the nearest
/// bar that nobody else was taken to be.
fn with_the_unknown_placed(matching: &Matching, expected: &[Expected]) -> Vec<BarId> {
    let mut used: BTreeSet<BarId> = matching.guesses.iter().filter_map(|g| g.bar).collect();
    let mut at = 0;
    let mut bars = Vec::with_capacity(matching.guesses.len());
    for guess in &matching.guesses {
        let bar = guess.bar.or_else(|| {
            let free = |e: &&Expected| !used.contains(&e.bar);
            let next = expected
                .iter()
                .skip(at)
                .find(free)
                .or_else(|| expected.iter().find(free));
            next.map(|e| e.bar)
        });
        if let Some(bar) = bar {
            used.insert(bar);
            at = expected
                .iter()
                .position(|e| e.bar == bar)
                .map_or(at, |p| p + 1);
            bars.push(bar);
        }
    }
    bars
}

fn met(seen: &Seen, end: End) -> Met {
    Met {
        hanging: Some(Hanging::Comb),
        contents: seen.contents(end),
    }
}

fn join(earlier: Option<Matching>, later: Option<Matching>) -> Option<Matching> {
    match (earlier, later) {
        (Some(mut earlier), Some(later)) => {
            earlier.guesses.extend(later.guesses);
            earlier.not_met.extend(later.not_met);
            Some(earlier)
        }
        (earlier, later) => earlier.or(later),
    }
}

fn too_many(hive: &Hive, end: End, met: usize, bars: usize) -> RecordError {
    let end = if end == End::Left { "left" } else { "right" };
    RecordError::TooManyCombs {
        met,
        end,
        hive: hive.name.clone(),
        bars,
    }
}
