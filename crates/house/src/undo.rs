//! Mistakes taken back, and brought back.

use hive::undo::Scope;
use hive::{HiveError, Known, Yard};
use honey::lots::told;

/// The entries to write so that the last `count` acts of the honey house never happened.
///
/// # Errors
/// [`HiveError::NothingToUndo`].
pub fn take_back(yard: &Yard, count: usize) -> Result<Vec<Known>, HiveError> {
    hive::undo_last(yard, Scope::HoneyHouse, count)
}

/// The entries to write so that what the last `count` undos took back stands again.
///
/// # Errors
/// [`HiveError::NothingToUndo`].
pub fn bring_back(yard: &Yard, count: usize) -> Result<Vec<Known>, HiveError> {
    hive::redo_last(yard, Scope::HoneyHouse, count)
}

/// What an undo takes back, or lets stand again, in a few words.
pub fn target_words(yard: &Yard, undo: &Known) -> Option<String> {
    let Known::Undone { target } = undo else {
        return None;
    };
    match yard.entry(*target)?.what.known()? {
        Known::HoneyHouse { event } => Some(told::event(event)),
        Known::Corrected { .. } => Some("a correction".to_owned()),
        Known::Undone { target } => match yard.entry(*target)?.what.known()? {
            Known::HoneyHouse { event } => Some(told::event(event)),
            _ => Some("an entry".to_owned()),
        },
        _ => Some("an entry".to_owned()),
    }
}
