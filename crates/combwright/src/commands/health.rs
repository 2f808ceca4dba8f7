//! `combwright health`: treatments, signs of disease, medicines, honey withheld.

mod list;
mod note;
mod say;

use hive::undo::Scope;
use hive::{Known, Yard};
use serde_json::json;

use super::Context;
use crate::failure::Failure;
use crate::health_args::{HealthArgs, HealthCommand};
use crate::journal::{Open, Saying};
use crate::out;

/// Runs one of the health commands.
pub(crate) async fn health(context: &Context, args: HealthArgs) -> Result<(), Failure> {
    match args.command {
        None => list::list(context, None, false).await,
        Some(HealthCommand::List { hive, all }) => list::list(context, hive.as_deref(), all).await,
        Some(HealthCommand::Conditions) => list::conditions(context),
        Some(HealthCommand::Undo { count }) => take_back(context, count, Way::Undo).await,
        Some(HealthCommand::Redo { count }) => take_back(context, count, Way::Redo).await,
        Some(other) => note::note(context, other).await,
    }
}

/// Which way.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Undo,
    Redo,
}

async fn take_back(context: &Context, count: usize, way: Way) -> Result<(), Failure> {
    let open = Open::to_write(&context.folder).await?;
    let now = context.now().timestamp();
    let (_, told) = open
        .write(|desk| {
            let known = match way {
                Way::Undo => hive::undo_last(desk.yard(), Scope::Health, count)?,
                Way::Redo => hive::redo_last(desk.yard(), Scope::Health, count)?,
            };
            let mut told = Vec::new();
            for what in known {
                let Known::Undone { target } = &what else {
                    continue;
                };
                let hive = desk.yard().entry(*target).and_then(|entry| entry.hive);
                told.extend(target_words(desk.yard(), *target));
                let saying = Saying {
                    hive,
                    ..Saying::of_yard(now, what)
                };
                desk.say(saying, &context.writer)?;
            }
            Ok(told)
        })
        .await?;
    if context.json {
        return out::json(&json!({ "entries": told }));
    }
    let verb = if way == Way::Undo {
        "Taken back"
    } else {
        "Standing again"
    };
    for words in told {
        out::folded(&format!("{verb}: "), &words);
    }
    Ok(())
}

fn target_words(yard: &Yard, target: hive::EntryId) -> Option<String> {
    let entry = yard.entry(target)?;
    let of = match entry.what.known()? {
        // bringing back tells what comes back
        Known::Undone { target } => yard.entry(*target)?,
        _ => entry,
    };
    Some(paper::told::what(yard, &of.what, &honey::lots::told::event))
}
