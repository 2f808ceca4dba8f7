//! `combwright health`: treatments, signs of disease, medicines, honey withheld.

mod list;
mod note;
mod say;

use hive::undo::Scope;
use serde_json::json;

use super::Context;
use super::taking_back::{self, Way};
use crate::failure::Failure;
use crate::health_args::{HealthArgs, HealthCommand};
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

async fn take_back(context: &Context, count: usize, way: Way) -> Result<(), Failure> {
    let (_, told) = taking_back::take_back(context, Scope::Health, count, way).await?;
    if context.json {
        return out::json(&json!({ "entries": told }));
    }
    taking_back::tell(way, &told);
    Ok(())
}
