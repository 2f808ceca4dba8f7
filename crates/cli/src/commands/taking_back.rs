//! What was recorded last, taken back or brought back: alike for a hive, the honey house and the health
//! record.

use hive::undo::Scope;
use hive::{EntryId, Known, Yard};
use paper::told::Manner;

use super::Context;
use crate::failure::Failure;
use crate::journal::{Open, Saying};
use crate::out;

/// Which way.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// The last acts never happened.
    Undo,
    /// What the last undos took away stands again.
    Redo,
}

/// Takes back, or brings back, so many of the last acts; the yard as it stands then, and what was done, in
/// words.
pub(crate) async fn take_back(
    context: &Context,
    scope: Scope,
    count: usize,
    way: Way,
) -> Result<(Yard, Vec<String>), Failure> {
    let open = Open::to_write(&context.folder).await?;
    let now = context.now().timestamp();
    open.write(|desk| {
        let known = match way {
            Way::Undo => hive::undo_last(desk.yard(), scope, count)?,
            Way::Redo => hive::redo_last(desk.yard(), scope, count)?,
        };
        let mut told = Vec::new();
        for what in known {
            let Known::Undone { target } = &what else {
                continue;
            };
            let hive = desk.yard().entry(*target).and_then(|entry| entry.hive);
            told.extend(target_words(desk.yard(), *target, context.manner()));
            let saying = Saying {
                hive,
                ..Saying::of_yard(now, what)
            };
            desk.say(saying, &context.writer)?;
        }
        Ok(told)
    })
    .await
}

/// Prints it.
pub(crate) fn tell(way: Way, told: &[String]) {
    let verb = match way {
        Way::Undo => "Taken back: ",
        Way::Redo => "Standing again: ",
    };
    for words in told {
        out::folded(verb, words);
    }
}

fn target_words(yard: &Yard, target: EntryId, manner: Manner<'_>) -> Option<String> {
    let entry = yard.entry(target)?;
    let of = match entry.what.known()? {
        // bringing back tells what comes back
        Known::Undone { target } => yard.entry(*target)?,
        _ => entry,
    };
    Some(paper::told::what(yard, &of.what, manner))
}
