//! The keeper's own order of closing, looked at by the rules of closing up (DESIGN 4.3). Nothing is blocked:
//! the order is recorded as it was told, and what speaks against it is told beside it.
//!
//! Looked at is the opened end as it stands after it was closed, from the last comb that was not moved
//! outward. How the brood combs followed each other before is read from the order in which the visit met
//! them.

use hive::entry::{ClosingWord, End, Hanging, Piece};
use hive::{Bar, Happened, Hive, Visit};

use crate::closing_plan::{innermost_met, outer_pieces};
use crate::opening::{Caution, Weight};
use crate::ripe;

/// What speaks against the order in which this visit closed its ends; nothing for an end that was not
/// closed in an order, or in one that keeps the rules.
pub fn order_cautions(hive: &Hive, visit: &Visit) -> Vec<Caution> {
    let mut ends = visit.ends.clone();
    ends.dedup();
    ends.into_iter()
        .flat_map(|end| of_end(hive, visit, end))
        .map(|words| Caution::plain(Weight::Caution, words))
        .collect()
}

/// What speaks against an order that is being thought of: pieces from the nest outward, beyond the last comb
/// that is not moved. Nothing for an end that was not opened.
pub fn order_thought_of(hive: &Hive, visit: &Visit, end: End, row: &[Piece]) -> Vec<Caution> {
    let from_end = hive.bars_from(end);
    let Some(edge) = innermost_met(&from_end, visit, end).map(|at| from_end[at]) else {
        return Vec::new();
    };
    let outward: Vec<Place<'_>> = places(hive, row.iter()).collect();
    let words = of_nest(&outward, visit)
        .into_iter()
        .chain(of_bars(hive, edge, &outward));
    words
        .map(|words| Caution::plain(Weight::Caution, words))
        .collect()
}

/// One place from the nest outward.
enum Place<'a> {
    Bar(&'a Bar),
    Board,
}

fn of_end(hive: &Hive, visit: &Visit, end: End) -> Vec<String> {
    let from_end = hive.bars_from(end);
    let Some(edge) = innermost_met(&from_end, visit, end).map(|at| from_end[at]) else {
        return Vec::new();
    };
    let pieces = outer_pieces(hive, end, edge.id).iter();
    let outward: Vec<Place<'_>> = match end {
        End::Left => places(hive, pieces.rev()).collect(),
        End::Right => places(hive, pieces).collect(),
    };
    let placed = outward.iter().any(|place| match place {
        Place::Bar(bar) => was_placed(bar, visit),
        Place::Board => false,
    });
    let said = visit.closings.iter().rfind(|closing| closing.end == end);
    let mut words = Vec::new();
    if placed {
        words.extend(of_nest(&outward, visit));
    }
    // while the hive stands open, bars hang anyhow
    if placed && (said.is_some() || !visit.is_open()) {
        words.extend(of_bars(hive, edge, &outward));
    } else if let Some(said) = said {
        // which bars were meant is not known, or the row stayed as it was
        words.extend(said_side_by_side(&said.order));
    }
    words
}

/// Of combs with brood.
fn of_nest(outward: &[Place<'_>], visit: &Visit) -> Vec<String> {
    let words = [brood_outside(outward), brood_order(outward, visit)];
    words.into_iter().flatten().collect()
}

/// Of bars without comb, and of the board.
fn of_bars(hive: &Hive, edge: &Bar, outward: &[Place<'_>]) -> Vec<String> {
    let words = [
        bars_among_brood(edge, outward),
        bars_side_by_side(outward),
        board(hive, outward),
    ];
    words.into_iter().flatten().collect()
}

fn places<'a>(
    hive: &'a Hive,
    outward: impl Iterator<Item = &'a Piece>,
) -> impl Iterator<Item = Place<'a>> {
    outward.filter_map(|piece| match piece {
        Piece::Bar { bar } => hive.bar(*bar).map(Place::Bar),
        Piece::Follower { .. } => Some(Place::Board),
        Piece::Shim { .. } => None,
    })
}

fn was_placed(bar: &Bar, visit: &Visit) -> bool {
    let in_visit = |event: &&hive::Event| event.visit == Some(visit.id);
    let mut events = bar.history.iter().rev().take_while(in_visit);
    events.any(|event| matches!(event.what, Happened::Placed { .. }))
}

fn is_brood(bar: &Bar) -> bool {
    bar.has_comb() && bar.known_contents().has_brood()
}

/// A comb that was looked at and has no brood.
fn is_other_comb(bar: &Bar) -> bool {
    bar.has_comb() && bar.seen.is_some() && !bar.known_contents().has_brood()
}

/// Rule "honey stays outside the nest".
fn brood_outside(outward: &[Place<'_>]) -> Option<String> {
    let mut inner = None;
    for place in outward {
        let Place::Bar(bar) = place else { break };
        match inner {
            None if is_other_comb(bar) => inner = Some(bar.number),
            Some(honey) if is_brood(bar) => {
                return Some(format!(
                    "comb {} with brood hangs outside comb {honey}, which has none: the nest stays \
                     together and honey outside it",
                    bar.number
                ));
            }
            _ => {}
        }
    }
    None
}

/// Rule "brood combs keep their order".
fn brood_order(outward: &[Place<'_>], visit: &Visit) -> Option<String> {
    let met = |bar: &Bar| visit.met.iter().position(|id| *id == bar.id);
    let brood: Vec<(&Bar, usize)> = outward
        .iter()
        .filter_map(|place| match place {
            Place::Bar(bar) if is_brood(bar) => Some((*bar, met(bar)?)),
            _ => None,
        })
        .collect();
    // what was met later hung further in
    let turned = brood.windows(2).find(|pair| pair[0].1 < pair[1].1)?;
    Some(format!(
        "brood comb {} hung outside brood comb {} and now hangs inside it: brood combs keep their order",
        turned[0].0.number, turned[1].0.number
    ))
}

/// Rule "nothing is set among the brood"; the last bar before the board may stand beside anything.
fn bars_among_brood(edge: &Bar, outward: &[Place<'_>]) -> Option<String> {
    let inside = inside_bars(outward);
    let mut before = edge;
    for (nth, bar) in inside.iter().enumerate() {
        let after = inside.get(nth + 1).filter(|_| !bar.has_comb());
        if let Some(after) = after {
            let beside = [before, *after];
            if let Some(brood) = beside.iter().find(|comb| is_brood(comb)) {
                return Some(format!(
                    "the {} bar {} hangs beside brood comb {}: nothing is set among the brood",
                    hangs(bar),
                    bar.number,
                    brood.number
                ));
            }
            let crossed =
                |comb: &&&Bar| comb.has_comb() && ripe::is_crossed(&comb.known_contents());
            if let Some(comb) = beside.iter().find(crossed) {
                return Some(format!(
                    "the {} bar {} hangs beside comb {}, which is not straight: the new comb will not \
                     be straight either",
                    hangs(bar),
                    bar.number,
                    comb.number
                ));
            }
        }
        before = bar;
    }
    None
}

/// Rule "a cut or empty bar stands between two drawn combs, never two together".
fn bars_side_by_side(outward: &[Place<'_>]) -> Option<String> {
    let inside = inside_bars(outward);
    let pair = inside
        .windows(2)
        .find(|pair| pair.iter().all(|bar| !bar.has_comb()))?;
    Some(format!(
        "bars {} and {} without comb hang side by side: set each between two straight combs, or they are \
         built crosswise",
        pair[0].number, pair[1].number
    ))
}

/// The same rule on an order that names no bars.
fn said_side_by_side(order: &[ClosingWord]) -> Option<String> {
    let inside = order
        .split(|word| *word == ClosingWord::Follower)
        .next()?
        .iter()
        .filter(|word| **word != ClosingWord::Shim);
    let bare: Vec<bool> = inside.map(|word| *word != ClosingWord::Full).collect();
    bare.windows(2).any(|pair| pair == [true, true]).then(|| {
        "by the order you told, two bars without comb hang side by side: set each between two straight \
         combs, or they are built crosswise"
            .to_owned()
    })
}

/// Rule "the follower board goes back in".
fn board(hive: &Hive, outward: &[Place<'_>]) -> Option<String> {
    let board = outward
        .iter()
        .position(|place| matches!(place, Place::Board));
    let Some(board) = board else {
        let boards = hive.row.pieces().iter();
        let any = boards
            .filter(|piece| matches!(piece, Piece::Follower { .. }))
            .count();
        let where_else = if any > 0 { " at this end" } else { "" };
        return Some(format!(
            "no follower board is in{where_else}: a hive is not filled to its end wall with bars"
        ));
    };
    let behind = outward[board..].iter().filter_map(|place| match place {
        Place::Bar(bar) if bar.has_comb() => Some(bar.number.to_string()),
        _ => None,
    });
    let behind: Vec<String> = behind.collect();
    match behind.as_slice() {
        [] => None,
        [one] => Some(format!("comb {one} lies behind the follower board")),
        more => Some(format!(
            "combs {} lie behind the follower board",
            more.join(", ")
        )),
    }
}

fn inside_bars<'a>(outward: &[Place<'a>]) -> Vec<&'a Bar> {
    let inside = outward.iter().map_while(|place| match place {
        Place::Bar(bar) => Some(*bar),
        Place::Board => None,
    });
    inside.collect()
}

const fn hangs(bar: &Bar) -> &'static str {
    match bar.hanging {
        Hanging::Strip => "cut",
        Hanging::Nothing | Hanging::Comb => "empty",
    }
}
