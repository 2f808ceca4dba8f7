//! The same word about another bar: what becomes of it when combs are matched to bars anew.

use crate::{BarId, Known};

/// The same said of another bar; `None` where it is not said of one bar alone.
pub fn of_bar(known: &Known, other: BarId) -> Option<Known> {
    let mut known = known.clone();
    match &mut known {
        Known::CombSeen { bar, .. }
        | Known::SetAside { bar }
        | Known::PutBack { bar }
        | Known::Decided { bar, .. }
        | Known::CombTaken { bar, .. }
        | Known::BarTurned { bar }
        | Known::BarHangs { bar, .. }
        | Known::QueenSeen { bar: Some(bar) }
        | Known::QueenCells { bar: Some(bar), .. } => *bar = other,
        _ => return None,
    }
    Some(known)
}

/// From which bar to which a word went, where nothing else of it changed.
pub fn rematched(before: &Known, now: &Known) -> Option<(BarId, BarId)> {
    let bar = |known| match crate::check::bars_named(known).as_slice() {
        [bar] => Some(*bar),
        _ => None,
    };
    let (from, to) = (bar(before)?, bar(now)?);
    let only_that = from != to && of_bar(before, to).as_ref() == Some(now);
    only_that.then_some((from, to))
}
