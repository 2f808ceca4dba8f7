//! `combwright honey blend`: reaching a moisture.

use ::house::HouseError;
use ::house::blend::{batch_into, vessels_of};
use comb::Mass;
use honey::Moisture;
use honey::blend::{Vessel, batch, bring_to_target};
use honey::lots::LotId;
use serde_json::json;

use super::desk;
use super::{Context, house};
use crate::failure::Failure;
use crate::honey_args::BlendArgs;
use crate::out;

/// Runs the command.
pub(super) async fn blend(context: &Context, args: BlendArgs) -> Result<(), Failure> {
    let target = Moisture::percent(args.target)?;
    if let (Some(mass), Some(into)) = (args.batch, args.into.clone()) {
        return record(context, &args, mass, target, into).await;
    }
    let kept = house(context).await?.1;
    let mut vessels = vessels_of(&kept.house, &args.lots)?;
    vessels.extend(args.vessel);
    if vessels.is_empty() {
        return Err(HouseError::NothingToBlend.into());
    }
    if let Some(mass) = args.batch {
        return tell_batch(context, &vessels, mass, target);
    }
    let plan = bring_to_target(&vessels, target)?;
    if context.json {
        return out::json(&plan);
    }
    if plan.pours.is_empty() {
        out::line(format!("Nothing to pour: all are at {target} or under it."));
    }
    for (step, pour) in plan.pours.iter().enumerate() {
        out::line(format!(
            "{}. Pour {:.3} kg from {} into {}, stir.",
            step + 1,
            pour.mass_kg.to_kg(),
            pour.from,
            pour.into
        ));
    }
    for vessel in plan.after.iter().filter(|v| v.mass_kg > Mass::ZERO) {
        out::line(format!(
            "   {}: {:.3} kg at {}",
            vessel.name,
            vessel.mass_kg.to_kg(),
            vessel.moisture_pct
        ));
    }
    caution();
    Ok(())
}

fn caution() {
    out::folded(
        "Mind: ",
        "weigh, do not measure by volume; read the blend again when it is stirred; honey that \
         has begun to ferment is not cured by blending and may not be sold as honey.",
    );
}

fn tell_batch(
    context: &Context,
    vessels: &[Vessel],
    mass: Mass,
    target: Moisture,
) -> Result<(), Failure> {
    let (portions, moisture) = batch(vessels, mass, target)?;
    if context.json {
        return out::json(&json!({ "portions": portions, "moisture_pct": moisture }));
    }
    for portion in portions {
        out::line(format!(
            "{:>9.3} kg of {}",
            portion.mass_kg.to_kg(),
            portion.from
        ));
    }
    out::line(format!("{:>9.3} kg at {moisture}", mass.to_kg()));
    caution();
    Ok(())
}

async fn record(
    context: &Context,
    args: &BlendArgs,
    mass: Mass,
    target: Moisture,
    into: String,
) -> Result<(), Failure> {
    let name = LotId::from(into);
    let (_, kept) = desk::record(context, args.on, |standing| {
        Ok(batch_into(standing, &args.lots, mass, target, &name)?.into())
    })
    .await?;
    super::stock::tell_lot(context, &kept, &name)
}
