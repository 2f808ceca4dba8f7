//! Comb told of a bar that can hardly bear any: most likely a number misheard. Asked, never refused.

use comb::contents::Holding;
use comb::order::InOrder as _;
use comb::{Contents, Share};
use hive::entry::Piece;
use hive::numbers::ranges;
use hive::{Bar, BarId, Hive, Known, Lies};
use jiff::{SignedDuration, Timestamp};
use talk::record::Recording;

/// Since its comb was taken, bees do not build, fill and cap a new one in so short a time: capping alone takes
/// longer. Common practice, no source.
const TOO_SHORT: SignedDuration = SignedDuration::from_hours(5 * 24);

/// Adds the doubts on bars that had no comb: beyond the follower board, where none is built, and inside of it
/// where one was taken a few days ago and capped honey is told now. The first visit to a hive tells what
/// hangs there, so it raises none.
pub fn doubt_comb_on_bare_bars(hive: &Hive, now: Timestamp, recording: &mut Recording) {
    if hive.visits.is_empty() {
        return;
    }
    let lid = beyond_the_boards(hive);
    let told = told_of_bare_bars(hive, recording).into_iter();
    let (beyond, inside): (Vec<_>, Vec<_>) = told.partition(|(bar, _)| lid.contains(&bar.id));
    let mut numbers: Vec<u32> = beyond.iter().map(|(bar, _)| bar.number).collect();
    numbers.put_in_order();
    numbers.dedup();
    let of_lid = (!numbers.is_empty()).then(|| {
        let (bars, lie, others) = match numbers.len() {
            1 => ("bar", "lies", "another bar was"),
            _ => ("bars", "lie", "other bars were"),
        };
        format!(
            "{bars} {} had no comb and {lie} beyond the follower board: recorded as said, look whether {others} meant",
            ranges(&numbers)
        )
    });
    let too_soon = |(bar, contents): &(&Bar, &Contents)| {
        is_capped(contents) && taken_within(hive, bar.id, now)
    };
    let of_cut = inside.into_iter().filter(too_soon).map(|(bar, _)| {
        format!(
            "the comb of bar {} was taken a few days ago, too short for a capped one: recorded as said, look whether \
             another bar was meant",
            bar.number
        )
    });
    let doubts: Vec<String> = of_lid.into_iter().chain(of_cut).collect();
    recording.doubts.extend(doubts);
}

/// Bars in the row without comb by the record of which comb is told, and what.
fn told_of_bare_bars<'a>(hive: &'a Hive, recording: &'a Recording) -> Vec<(&'a Bar, &'a Contents)> {
    let drafts = recording.drafts.iter();
    let seen = drafts.filter_map(|draft| match &draft.known {
        Known::CombSeen { bar, contents } => Some((hive.bar(*bar)?, contents)),
        _ => None,
    });
    let bare = |(bar, contents): &(&Bar, &Contents)| {
        !bar.has_comb() && bar.lies == Lies::InRow && tells_of_full_comb(contents)
    };
    seen.filter(bare).collect()
}

/// "Empty" says that nothing hangs there, and new comb is begun in odd places.
fn tells_of_full_comb(contents: &Contents) -> bool {
    let full = |holding: &Holding| !matches!(holding, Holding::Empty | Holding::NewComb);
    is_capped(contents) || contents.mass_kg.is_some() || contents.present.iter().any(full)
}

fn is_capped(contents: &Contents) -> bool {
    let capped = |share: Option<Share>| share.is_some_and(|share| share.get() > 0.0);
    capped(contents.left.capped_of_honey) || capped(contents.right.capped_of_honey)
}

fn taken_within(hive: &Hive, bar: BarId, now: Timestamp) -> bool {
    let mut visits = hive.visits.iter().rev();
    visits
        .find(|visit| visit.taken.iter().any(|taken| taken.bar == bar))
        .is_some_and(|visit| now.duration_since(visit.opened) < TOO_SHORT)
}

/// Bars between an end wall and the follower board next to it.
fn beyond_the_boards(hive: &Hive) -> Vec<BarId> {
    let pieces = hive.row.pieces();
    let board = |piece: &Piece| matches!(piece, Piece::Follower { .. });
    let bears = |piece: &Piece| {
        let bar = piece.bar().and_then(|bar| hive.bar(bar));
        bar.is_some_and(Bar::has_comb)
    };
    let (Some(first), Some(last)) = (
        pieces.iter().position(bears),
        pieces.iter().rposition(bears),
    ) else {
        return Vec::new();
    };
    let left = pieces[..first].iter().rposition(board).unwrap_or(0);
    let right = pieces[last..].iter().position(board);
    let right = right.map_or(&[][..], |at| &pieces[last + at..]);
    let beyond = pieces[..left].iter().chain(right);
    beyond.filter_map(Piece::bar).collect()
}
