//! The commands of the honey house that record something.

use comb::Mass;
use honey::lots::event::{
    FermentationSeen, JarsBack, JarsOut, LotFiltered, LotLost, LotReceived, LotReweighed, Method,
    MoistureRead, Seller,
};
use honey::lots::told::lot_event;
use honey::lots::{Caution, FillId, LotEvent, LotId, PailId};
use house::jars::{Fill, fill};
use house::lot::{Made, lot as made, named};
use house::money::money;
use house::pail::{Which, pail as filled};
use house::withheld::AS_RECORDED;
use house::{Batch, Kept, Standing, words};
use serde_json::json;

use super::desk::record;
use super::stock::{mind, tell_lot};
use super::{Context, reckon};
use crate::failure::Failure;
use crate::honey_args::{HoneyCommand, JarsArgs, LotArgs, PailArgs, SellerArgs};
use crate::out;

/// Runs a recording command.
pub(super) async fn keep(context: &Context, command: HoneyCommand) -> Result<(), Failure> {
    match command {
        HoneyCommand::Pail(args) => pail(context, args).await,
        HoneyCommand::Lot(args) => lot(context, args).await,
        HoneyCommand::Jars(args) => jars(context, args).await,
        HoneyCommand::Seller(args) => seller(context, args).await,
        other => of_one(context, other).await,
    }
}

/// Commands that are one event.
async fn of_one(context: &Context, command: HoneyCommand) -> Result<(), Failure> {
    let on = match &command {
        HoneyCommand::Receive { on, .. }
        | HoneyCommand::Reading { on, .. }
        | HoneyCommand::Filter { on, .. }
        | HoneyCommand::Loss { on, .. }
        | HoneyCommand::Weigh { on, .. }
        | HoneyCommand::Ferments { on, .. }
        | HoneyCommand::Out { on, .. }
        | HoneyCommand::Back { on, .. } => *on,
        _ => None,
    };
    let (events, kept) = record(context, on, |standing| {
        event(&command, standing).map(Batch::from)
    })
    .await?;
    tell(context, &kept, &events)
}

fn event(command: &HoneyCommand, standing: &Standing<'_>) -> Result<LotEvent, Failure> {
    let on = standing.on;
    let lot = |name: &str| LotId::from(name);
    Ok(match command {
        HoneyCommand::Receive {
            lot: name,
            from,
            their_lot,
            kg,
            country,
            ..
        } => LotEvent::LotReceived(LotReceived {
            lot: LotId::from(named("lot", name)?),
            on,
            from: from.clone(),
            their_lot: their_lot.clone(),
            mass_kg: *kg,
            country: country.clone(),
        }),
        HoneyCommand::Reading {
            lot: name, reading, ..
        } => LotEvent::MoistureRead(MoistureRead {
            lot: lot(name),
            on,
            reading: reckon::reading(reading)?,
        }),
        HoneyCommand::Filter {
            lot: name,
            mesh,
            loss,
            ..
        } => LotEvent::LotFiltered(LotFiltered {
            lot: lot(name),
            on,
            mesh_um: *mesh,
            loss_kg: loss.unwrap_or(Mass::ZERO),
        }),
        HoneyCommand::Loss {
            lot: name,
            mass,
            why,
            ..
        } => LotEvent::LotLost(LotLost {
            lot: lot(name),
            on,
            mass_kg: *mass,
            why: (*why).into(),
        }),
        HoneyCommand::Weigh {
            lot: name, mass, ..
        } => LotEvent::LotReweighed(LotReweighed {
            lot: lot(name),
            on,
            mass_kg: *mass,
        }),
        HoneyCommand::Ferments { lot: name, .. } => {
            LotEvent::FermentationSeen(FermentationSeen { lot: lot(name), on })
        }
        HoneyCommand::Out {
            fill,
            count,
            how,
            to,
            money: sum,
            currency,
            ..
        } => LotEvent::JarsOut(JarsOut {
            fill: FillId::from(fill.as_str()),
            on,
            count: *count,
            how: (*how).into(),
            to: to.clone(),
            taken: sum
                .as_ref()
                .zip(currency.as_ref())
                .map(|(sum, currency)| money(sum, currency))
                .transpose()?,
        }),
        HoneyCommand::Back { fill, count, .. } => LotEvent::JarsBack(JarsBack {
            fill: FillId::from(fill.as_str()),
            on,
            count: *count,
        }),
        _ => return Err(Failure::input("this command records nothing")),
    })
}

/// Says what was recorded and how things stand after it.
fn tell(context: &Context, kept: &Kept, events: &[LotEvent]) -> Result<(), Failure> {
    if context.json {
        return out::json(&json!({ "recorded": events }));
    }
    for event in events {
        out::folded("Recorded: ", &lot_event(event));
    }
    mind(kept);
    Ok(())
}

async fn pail(context: &Context, args: PailArgs) -> Result<(), Failure> {
    let (events, kept) = record(context, args.on, |standing| {
        let from = match &args.from {
            Some(name) => Some(crate::journal::hive_named(standing.yard, name)?.id),
            None => None,
        };
        let which = Which::Those {
            from,
            bars: args.bars.clone(),
            taken: args.taken,
        };
        Ok(filled(standing, &args.pail, &which, args.kg)?.into())
    })
    .await?;
    tell(context, &kept, &events)
}

async fn lot(context: &Context, args: LotArgs) -> Result<(), Failure> {
    let name = LotId::from(args.lot.as_str());
    let told = Made {
        lot: args.lot,
        pails: args.pails.into_iter().map(PailId::from).collect(),
        method: Method::from(args.method),
        honey: args.honey,
        wax: args.wax,
        loss: args.loss,
        country: args.country,
    };
    let (_, kept) = record(context, args.on, |standing| {
        Ok(made(standing, told.clone())?.into())
    })
    .await?;
    tell_lot(context, &kept, &name)
}

async fn jars(context: &Context, args: JarsArgs) -> Result<(), Failure> {
    let asked = Fill {
        lot: LotId::from(args.lot),
        net: args.net,
        count: args.count,
        drawn: args.drawn,
        mark: args.mark,
        best_before: args.best_before,
        fill: args.fill,
        region: args.region.map(Into::into),
        anyway: args.anyway,
    };
    let mut soft: Vec<Caution> = Vec::new();
    let (events, kept) = record(context, args.on, |standing| {
        let (batch, cautions) = fill(standing, asked.clone())?;
        soft = cautions;
        Ok(batch)
    })
    .await?;
    let warnings: Vec<String> = soft.iter().map(words::caution).collect();
    if context.json {
        return out::json(&json!({
            "recorded": events,
            "warnings": warnings,
            "treatments": AS_RECORDED,
        }));
    }
    tell(context, &kept, &events)?;
    for words in warnings {
        out::folded("Mind: ", &words);
    }
    out::folded("Mind: ", AS_RECORDED);
    Ok(())
}

async fn seller(context: &Context, args: SellerArgs) -> Result<(), Failure> {
    let told = Seller {
        region: args.region.map(Into::into),
        business: args.business,
        country: args.country,
        storage: args.storage,
        nutrition: args.nutrition,
        trace_page: args.trace_page,
    };
    let kept = if told == Seller::default() {
        super::house(context).await?.1
    } else {
        let event = LotEvent::SellerTold(told);
        record(context, None, |_| Ok(event.clone().into())).await?.1
    };
    let seller = kept.house.seller();
    if context.json {
        return out::json(seller);
    }
    let region = seller.region.map(|region| region.name().to_owned());
    let lines = [
        ("Region: ", &region),
        ("Business: ", &seller.business),
        ("Country: ", &seller.country),
        ("Storage: ", &seller.storage),
        ("Nutrition: ", &seller.nutrition),
        ("Trace page: ", &seller.trace_page),
    ];
    for (name, value) in lines {
        out::folded(name, value.as_deref().unwrap_or("not told"));
    }
    Ok(())
}
