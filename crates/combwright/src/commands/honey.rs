//! `combwright honey`: from the comb to the jar and back.

mod blend;
mod desk;
mod keep;
mod reckon;
mod stock;
mod trace;

use ::house::{Kept, undo};
use hive::Yard;
use serde_json::json;

use super::Context;
use crate::failure::Failure;
use crate::honey_args::{HoneyArgs, HoneyCommand};
use crate::journal::{Open, Saying};
use crate::out;
use crate::surroundings::local_day;

/// Runs one of the honey house's commands.
pub(crate) async fn honey(context: &Context, args: HoneyArgs) -> Result<(), Failure> {
    let Some(command) = args.command else {
        return stock::overview(context).await;
    };
    match command {
        HoneyCommand::Moisture { reading, region } => {
            let region = match region {
                Some(region) => Some(region.into()),
                None => house(context).await?.1.house.seller().region,
            };
            reckon::moisture(context, &reading, region)
        }
        HoneyCommand::Blend(args) => blend::blend(context, args).await,
        HoneyCommand::Syrup(args) => reckon::syrup(context, &args),
        HoneyCommand::Weights { net, grams, region } => {
            let told = house(context).await?.1.house.seller().region;
            reckon::weights(context, net, &grams, region.map(Into::into).or(told))
        }
        HoneyCommand::Stock => stock::ledger(context).await,
        HoneyCommand::Trace { of } => trace::trace(context, of).await,
        HoneyCommand::Undo { count } => take_back(context, count, Way::Undo).await,
        HoneyCommand::Redo { count } => take_back(context, count, Way::Redo).await,
        other => keep::keep(context, other).await,
    }
}

/// The yard and its honey house, read only.
pub(crate) async fn house(context: &Context) -> Result<(Yard, Kept), Failure> {
    let yard = context.yard().await?;
    let kept = Kept::of(&yard, &local_day);
    Ok((yard, kept))
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
    let (yard, told) = open
        .write(|desk| {
            let known = match way {
                Way::Undo => undo::take_back(desk.yard(), count)?,
                Way::Redo => undo::bring_back(desk.yard(), count)?,
            };
            let told: Vec<String> = known
                .iter()
                .filter_map(|what| undo::target_words(desk.yard(), what))
                .collect();
            for what in known {
                desk.say(Saying::of_yard(now, what), &context.writer)?;
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
    stock::mind(&Kept::of(&yard, &local_day));
    Ok(())
}
