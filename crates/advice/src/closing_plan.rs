//! The closing-up problem of one opened end, made from the hive as it stands.
//!
//! The *edge* is the innermost comb that was met, or the next further in when that one was not brood
//! but was to stay where it hangs; everything met outside it stands and may be shifted. Cut bars and
//! empty bars met or lying loose are at hand. What had to be assumed is listed.

use comb::order::InOrder as _;
use comb::{Length, Share};
use hive::entry::{End, Hanging, Harvest, Piece};
use hive::{Bar, BarId, Happened, Hive, Lies, Visit};
use serde::Serialize;

use crate::AdviceError;
use crate::closing_assumed::ClosingAssumed;
use crate::closing_up::{
    Allowance, Answer, Edge, Kind, Loose, LooseKind, Outcome, Problem, Standing, WayOut, Width,
    solve,
};
use crate::ripe;
use crate::stores::Scales;

/// Width taken for a follower board that the record does not know. Common practice, no source: a
/// planed board of three quarters of an inch.
pub const USUAL_FOLLOWER: Length = Length::mm(19.0);
/// What may stay open. DESIGN 4.3: the shims close the gap within 3 mm.
pub const TOLERANCE: Length = Length::mm(3.0);

/// How to close one end.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClosingPlan {
    /// The end.
    pub end: End,
    /// Number of the last bar that is not moved.
    pub edge: u32,
    /// The question as it was put.
    pub problem: Problem,
    /// The answer.
    pub outcome: Outcome,
    /// Where it does not close: the closing-up with the first way out that the answer names.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub then: Option<Answer>,
    /// What was not known and is assumed.
    pub assumed: Vec<ClosingAssumed>,
}

impl ClosingPlan {
    /// What is to be done: the answer, or where there is none what is done with bars or a shim laid in
    /// beside. `None` when something would have to leave the hive, which the keeper decides.
    pub fn to_do(&self) -> Option<&Answer> {
        match &self.outcome {
            Outcome::Closed(answer) => Some(answer),
            Outcome::Impossible { impossible } => match impossible.ways_out.first() {
                Some(WayOut::Add(_)) => self.then.as_ref(),
                _ => None,
            },
        }
    }
}

/// Shims and boards that the keeper has at hand beside what lies in the row.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AtHand {
    /// Widths of shims.
    pub shims: Vec<Length>,
    /// Width of the follower board; `None` takes the one in the row, else the usual one.
    pub follower: Option<Length>,
}

/// The plan for an end that was opened in this visit; `None` when nothing was met there.
///
/// # Errors
/// [`AdviceError`] when the widths on record make no problem that can be asked.
pub fn closing_plan(
    hive: &Hive,
    visit: &Visit,
    end: End,
    scales: &Scales,
    at_hand: &AtHand,
) -> Result<Option<ClosingPlan>, AdviceError> {
    let from_end = hive.bars_from(end);
    let Some(innermost) = innermost_met(&from_end, visit, end) else {
        return Ok(None);
    };
    let mut assumed = Vec::new();
    let edge = from_end[innermost];
    let worked = &from_end[..innermost];
    let standing: Vec<&Bar> = worked
        .iter()
        .rev()
        .copied()
        .filter(|bar| bar.has_comb() && bar.lies.at_hand())
        .collect();
    let mut loose: Vec<&Bar> = worked
        .iter()
        .copied()
        .filter(|b| !b.has_comb() && b.lies.at_hand())
        .collect();
    loose.extend(hive.loose_bars().into_iter().filter(|bar| !bar.has_comb()));

    let follower = follower(hive, end, at_hand, &mut assumed);
    let shims = shims(hive, end, edge.id, at_hand);
    if shims.is_empty() {
        assumed.push(ClosingAssumed::NoShims);
    }
    let problem = Problem {
        cavity_mm: width(to_cover(hive, visit, end, edge.id, &mut assumed)),
        follower_mm: width(follower),
        tolerance_mm: allowance(TOLERANCE),
        edge: edge_of(edge),
        standing: standing
            .iter()
            .map(|bar| standing_comb(bar, scales))
            .collect(),
        loose: loose.iter().map(|bar| loose_bar(bar)).collect(),
        shims_mm: shims.into_iter().map(width).collect(),
    };
    assume_of_combs(&standing, &mut assumed);
    let outcome = solve(&problem)?;
    let then = match &outcome {
        Outcome::Closed(_) => None,
        Outcome::Impossible { impossible } => impossible.then.as_deref().cloned(),
    };
    Ok(Some(ClosingPlan {
        end,
        edge: edge.number,
        problem,
        outcome,
        then,
        assumed,
    }))
}

/// Place from the end, 0 the outermost, of the last bar that is not moved.
pub(crate) fn innermost_met(from_end: &[&Bar], visit: &Visit, end: End) -> Option<usize> {
    let half = from_end.len().div_ceil(2);
    // with both ends opened each end has the bars of its own half
    let both = visit.ends.contains(&End::Left) && visit.ends.contains(&End::Right);
    let reach = if both { half } else { from_end.len() };
    if !visit.ends.contains(&end) {
        return None;
    }
    let met = from_end[..reach]
        .iter()
        .rposition(|bar| visit.met.contains(&bar.id))?;
    // a bar cut at an earlier visit has no comb that the next could hang against
    let stands = |bar: &&Bar| bar.has_comb() && bar.lies == Lies::InRow;
    let standing = from_end[met..].iter().position(stands);
    let next_in = (met + 1).min(from_end.len() - 1);
    Some(standing.map_or(next_in, |further_in| met + further_in))
}

/// Length that bars, board and shims must cover: to the end wall, or as far as the row reached when the
/// visit began where the record left a longer gap then (the keeper covers that with something not
/// recorded). What left the row in this visit lay over the box, so its place is to be covered anew.
fn to_cover(
    hive: &Hive,
    visit: &Visit,
    end: End,
    edge: BarId,
    assumed: &mut Vec<ClosingAssumed>,
) -> Length {
    let left_row = left_row(hive, visit);
    let open = hive.free_length().max(Length::ZERO);
    let at = |of: Option<End>| -> Length {
        left_row
            .iter()
            .filter(|left| of.is_none_or(|end| left.end == end))
            .map(|left| left.width.unwrap_or(hive.body.bar_width()))
            .sum()
    };
    let unknown = left_row
        .iter()
        .any(|left| left.width.is_none() && left.end == end);
    if unknown {
        assumed.push(ClosingAssumed::GoneBar(hive.body.bar_width()));
    }
    // what the other end lost is covered there
    let other = if end == End::Left {
        End::Right
    } else {
        End::Left
    };
    let to_wall = free_from(hive, end, edge) - at(Some(other)).min(open);
    let before = open - at(None);
    if before <= TOLERANCE {
        return to_wall;
    }
    assumed.push(ClosingAssumed::Covered(before));
    to_wall - before
}

/// A bar that lay in the row when the visit began and lies in it no more.
struct LeftRow {
    /// At which end it lay.
    end: End,
    /// Its width; `None` for one that went to another hive.
    width: Option<Length>,
}

fn left_row(hive: &Hive, visit: &Visit) -> Vec<LeftRow> {
    let middle = hive.row.bar_count() as u32 / 2;
    // with one end opened it is that one, whatever place the bar had
    let end_of = |place: Option<u32>| match visit.ends.as_slice() {
        [one] => *one,
        _ if place.is_some_and(|place| place <= middle) => End::Left,
        _ => End::Right,
    };
    let away = hive.bars.values().filter(|bar| !hive.row.has(bar.id));
    let mut left: Vec<LeftRow> = away
        .filter_map(|bar| {
            let place = bar
                .history
                .iter()
                .rev()
                .take_while(|event| event.visit == Some(visit.id))
                .find_map(|event| match event.what {
                    Happened::LeftOut { from } => Some(from),
                    Happened::Taken {
                        how: Harvest::Whole,
                    }
                    | Happened::Removed => Some(event.place),
                    _ => None,
                })?;
            Some(LeftRow {
                end: end_of(place),
                width: Some(bar.width_mm),
            })
        })
        .collect();
    let until = visit.closed.unwrap_or(jiff::Timestamp::MAX);
    let gone = hive.departed.iter();
    left.extend(
        gone.filter(|gone| (visit.opened..=until).contains(&gone.at))
            .map(|_| LeftRow {
                end: end_of(None),
                width: None,
            }),
    );
    left
}

/// Length from the edge's outer side to the end wall.
fn free_from(hive: &Hive, end: End, edge: BarId) -> Length {
    let width_of = |piece: &Piece| match piece {
        Piece::Bar { bar } => hive.bar(*bar).map_or(Length::ZERO, |b| b.width_mm),
        Piece::Follower { width_mm } | Piece::Shim { width_mm } => *width_mm,
    };
    let pieces = hive.row.pieces();
    let at = pieces
        .iter()
        .position(|p| p.bar() == Some(edge))
        .unwrap_or(0);
    let inner: Length = match end {
        End::Left => pieces[at..].iter().map(width_of).sum(),
        End::Right => pieces[..=at].iter().map(width_of).sum(),
    };
    hive.body.cavity_length() - inner
}

pub(crate) fn outer_pieces(hive: &Hive, end: End, edge: BarId) -> &[Piece] {
    let pieces = hive.row.pieces();
    let at = pieces
        .iter()
        .position(|p| p.bar() == Some(edge))
        .unwrap_or(0);
    match end {
        End::Left => &pieces[..at],
        End::Right => &pieces[at + 1..],
    }
}

fn follower(hive: &Hive, end: End, at_hand: &AtHand, assumed: &mut Vec<ClosingAssumed>) -> Length {
    let in_row = |piece: &Piece| match piece {
        Piece::Follower { width_mm } => Some(*width_mm),
        _ => None,
    };
    let pieces = hive.row.pieces();
    let nearest = match end {
        End::Left => pieces.iter().find_map(in_row),
        End::Right => pieces.iter().rev().find_map(in_row),
    };
    at_hand.follower.or(nearest).unwrap_or_else(|| {
        assumed.push(ClosingAssumed::Follower(USUAL_FOLLOWER));
        USUAL_FOLLOWER
    })
}

fn shims(hive: &Hive, end: End, edge: BarId, at_hand: &AtHand) -> Vec<Length> {
    let in_row = outer_pieces(hive, end, edge)
        .iter()
        .filter_map(|piece| match piece {
            Piece::Shim { width_mm } => Some(*width_mm),
            _ => None,
        });
    let mut shims: Vec<Length> = in_row.chain(at_hand.shims.iter().copied()).collect();
    shims.order_by(Length::total_cmp);
    shims
}

fn edge_of(bar: &Bar) -> Edge {
    let known = bar.known_contents();
    Edge {
        kind: kind(bar),
        capped: capped(bar),
        straight: bar.has_comb() && !ripe::is_crossed(&known),
    }
}

fn standing_comb(bar: &Bar, scales: &Scales) -> Standing {
    let known = bar.known_contents();
    Standing {
        id: bar.number.to_string(),
        kind: kind(bar),
        capped: capped(bar),
        straight: !ripe::is_crossed(&known),
        width_mm: width(bar.width_mm),
        mass_kg: scales.comb(&known).best(),
    }
}

/// What nobody said of the combs that stand.
fn assume_of_combs(standing: &[&Bar], assumed: &mut Vec<ClosingAssumed>) {
    let numbers = |of: &dyn Fn(&Bar) -> bool| -> Vec<u32> {
        standing
            .iter()
            .filter(|bar| of(bar))
            .map(|bar| bar.number)
            .collect()
    };
    let straight = numbers(&|bar| bar.known_contents().straightness.is_none());
    let open =
        numbers(&|bar| kind(bar) == Kind::Honey && bar.known_contents().mean_capped().is_none());
    if !straight.is_empty() {
        assumed.push(ClosingAssumed::Straight(straight));
    }
    if !open.is_empty() {
        assumed.push(ClosingAssumed::NotCapped(open));
    }
}

fn loose_bar(bar: &Bar) -> Loose {
    let kind = match bar.hanging {
        Hanging::Strip => LooseKind::Cut,
        Hanging::Nothing | Hanging::Comb => LooseKind::Empty,
    };
    Loose {
        id: bar.number.to_string(),
        kind,
        width_mm: width(bar.width_mm),
    }
}

fn kind(bar: &Bar) -> Kind {
    if bar.known_contents().has_brood() {
        Kind::Brood
    } else {
        Kind::Honey
    }
}

/// The mean capped share; a face nobody looked at adds nothing to it.
fn capped(bar: &Bar) -> Share {
    let known = bar.known_contents();
    let face = |share: Option<Share>| share.unwrap_or(Share::ZERO);
    face(known.left.capped_share()).mean(face(known.right.capped_share()))
}

fn whole_mm(length: Length) -> u32 {
    libm::round(length.to_mm()).max(0.0) as u32
}

fn width(length: Length) -> Width {
    Width::new(whole_mm(length).max(1)).unwrap_or_else(|| Width::new(1).expect("1 is in range"))
}

fn allowance(length: Length) -> Allowance {
    Allowance::new(whole_mm(length)).unwrap_or_else(|| Allowance::new(0).expect("0 is in range"))
}
