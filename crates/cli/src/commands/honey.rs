//! `combwright honey`: from the comb to the jar and back.

mod blend;
mod desk;
mod keep;
mod reckon;
mod stock;
mod trace;

use ::house::Kept;
use hive::Yard;
use hive::undo::Scope;
use serde_json::json;

use super::Context;
use super::taking_back::{self, Way};
use crate::failure::Failure;
use crate::honey_args::{HoneyArgs, HoneyCommand};
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

async fn take_back(context: &Context, count: usize, way: Way) -> Result<(), Failure> {
    let (yard, told) = taking_back::take_back(context, Scope::HoneyHouse, count, way).await?;
    if context.json {
        return out::json(&json!({ "entries": told }));
    }
    taking_back::tell(way, &told);
    stock::mind(&Kept::of(&yard, &local_day));
    Ok(())
}
