//! The commands of the honey house that record something.

use comb::Mass;
use honey::label::words::usual_best_before;
use honey::limits::Kind;
use honey::lots::event::{
    FermentationSeen, JarsBack, JarsFilled, JarsOut, LotFiltered, LotLost, LotMade, LotReceived,
    LotReweighed, Method, MoistureRead, Money, PailFilled, Seller,
};
use honey::lots::told::lot_event;
use honey::lots::{Caution, FillId, LotEvent, LotId, PailId, Weight};
use serde_json::json;

use super::desk::{Batch, Standing, record};
use super::stock::{combs_words, mind, tell_lot};
use super::{Context, reckon};
use crate::failure::Failure;
use crate::honey_args::{HoneyCommand, JarsArgs, LotArgs, PailArgs, SellerArgs};
use crate::honey_house::{Kept, NO_TREATMENT_RECORD, waiting, withholdings};
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
    let (events, kept) = record(context, on, move |standing| {
        event(command, standing).map(Batch::from)
    })
    .await?;
    tell(context, &kept, &events)
}

fn event(command: HoneyCommand, standing: &Standing<'_>) -> Result<LotEvent, Failure> {
    let on = standing.on;
    Ok(match command {
        HoneyCommand::Receive {
            lot,
            from,
            their_lot,
            kg,
            country,
            ..
        } => LotEvent::LotReceived(LotReceived {
            lot: LotId::from(named("lot", lot)?),
            on,
            from,
            their_lot,
            mass_kg: kg,
            country,
        }),
        HoneyCommand::Reading { lot, reading, .. } => LotEvent::MoistureRead(MoistureRead {
            lot: LotId::from(lot),
            on,
            reading: reckon::reading(&reading)?,
        }),
        HoneyCommand::Filter {
            lot, mesh, loss, ..
        } => LotEvent::LotFiltered(LotFiltered {
            lot: LotId::from(lot),
            on,
            mesh_um: mesh,
            loss_kg: loss.unwrap_or(Mass::ZERO),
        }),
        HoneyCommand::Loss { lot, mass, why, .. } => LotEvent::LotLost(LotLost {
            lot: LotId::from(lot),
            on,
            mass_kg: mass,
            why: why.into(),
        }),
        HoneyCommand::Weigh { lot, mass, .. } => LotEvent::LotReweighed(LotReweighed {
            lot: LotId::from(lot),
            on,
            mass_kg: mass,
        }),
        HoneyCommand::Ferments { lot, .. } => LotEvent::FermentationSeen(FermentationSeen {
            lot: LotId::from(lot),
            on,
        }),
        HoneyCommand::Out {
            fill,
            count,
            how,
            to,
            money,
            currency,
            ..
        } => LotEvent::JarsOut(JarsOut {
            fill: FillId::from(fill),
            on,
            count,
            how: how.into(),
            to,
            taken: money
                .zip(currency)
                .map(|(m, c)| taken(&m, &c))
                .transpose()?,
        }),
        HoneyCommand::Back { fill, count, .. } => LotEvent::JarsBack(JarsBack {
            fill: FillId::from(fill),
            on,
            count,
        }),
        _ => return Err(Failure::input("this command records nothing")),
    })
}

fn named(what: &str, name: String) -> Result<String, Failure> {
    if name.trim().is_empty() {
        return Err(Failure::input(format!("a {what} needs a name")));
    }
    Ok(name)
}

/// "54.00 AUD" in cents; two decimals at most.
fn taken(money: &str, currency: &str) -> Result<Money, Failure> {
    let wrong = || {
        Failure::input(format!("{money} {currency} is no sum of money"))
            .help("Write --money 54.00 --currency AUD.")
    };
    let (whole, part) = money.split_once('.').unwrap_or((money, ""));
    let code = currency.len() == 3 && currency.chars().all(|c| c.is_ascii_alphabetic());
    if !code || part.len() > 2 || !part.chars().all(|c| c.is_ascii_digit()) {
        return Err(wrong());
    }
    let whole: u64 = whole.parse().map_err(|_| wrong())?;
    let part: u64 = format!("{part:0<2}").parse().map_err(|_| wrong())?;
    let minor_units = whole.checked_mul(100).and_then(|m| m.checked_add(part));
    Ok(Money {
        minor_units: minor_units.ok_or_else(wrong)?,
        currency: currency.to_ascii_uppercase(),
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
    let on = args.on;
    let (events, kept) = record(context, on, move |standing| {
        let from = match &args.from {
            Some(name) => Some(crate::journal::hive_named(standing.yard, name)?.id),
            None => None,
        };
        let waiting = waiting(standing.yard, standing.house);
        let mut chosen = Vec::new();
        for taking in &waiting {
            let fits = from.is_none_or(|hive| hive == taking.hive_id)
                && (args.bars.is_empty() || args.bars.contains(&taking.bar))
                && args.taken.is_none_or(|day| day == taking.on);
            if fits {
                chosen.push(taking);
            }
        }
        let missing = args
            .bars
            .iter()
            .find(|bar| chosen.iter().all(|t| t.bar != **bar));
        if chosen.is_empty() || missing.is_some() {
            let what = match missing {
                Some(bar) => format!("no comb of bar {bar} waits for a pail"),
                None => "no comb waits for a pail".to_owned(),
            };
            let there = combs_words(waiting.iter().map(|t| (t.hive.as_str(), t.bar.to_string())));
            let help = if there.is_empty() {
                "Record a visit on which combs were taken: combwright hear FILE --into HIVE"
                    .to_owned()
            } else {
                format!("Waiting: {there}.")
            };
            return Err(Failure::input(what).help(help));
        }
        Ok(LotEvent::PailFilled(PailFilled {
            pail: PailId::from(named("pail", args.pail)?),
            on: standing.on,
            combs: chosen
                .into_iter()
                .map(crate::honey_house::Taking::comb_in)
                .collect(),
            mass_kg: args.kg,
        })
        .into())
    })
    .await?;
    tell(context, &kept, &events)
}

async fn lot(context: &Context, args: LotArgs) -> Result<(), Failure> {
    let name = LotId::from(args.lot.as_str());
    let on = args.on;
    let (_, kept) = record(context, on, move |standing| {
        let told = standing.house.seller().country.clone();
        let country = args.country.or(told).ok_or_else(|| {
            Failure::input("the country of harvest is not known")
                .help("Say --country, or once and for all: combwright honey seller --country Wales")
        })?;
        Ok(LotEvent::LotMade(LotMade {
            lot: LotId::from(named("lot", args.lot)?),
            on: standing.on,
            pails: args.pails.into_iter().map(PailId::from).collect(),
            method: Method::from(args.method),
            honey_kg: args.honey,
            wax_kg: args.wax,
            loss_kg: args.loss,
            country,
        })
        .into())
    })
    .await?;
    tell_lot(context, &kept, &name)
}

async fn jars(context: &Context, args: JarsArgs) -> Result<(), Failure> {
    let on = args.on;
    let mut warnings = Vec::new();
    let told = &mut warnings;
    let (events, kept) = record(context, on, move |standing| {
        let (batch, soft) = fill(args, standing)?;
        *told = soft;
        Ok(batch)
    })
    .await?;
    if context.json {
        return out::json(&json!({
            "recorded": events,
            "warnings": warnings,
            "treatments": NO_TREATMENT_RECORD,
        }));
    }
    tell(context, &kept, &events)?;
    for words in warnings {
        out::folded("Mind: ", &words);
    }
    out::folded("Mind: ", NO_TREATMENT_RECORD);
    Ok(())
}

/// The filling, and what speaks softly against it: told, not refused.
fn fill(args: JarsArgs, standing: &Standing<'_>) -> Result<(Batch, Vec<String>), Failure> {
    let house = standing.house;
    let name = LotId::from(args.lot);
    let lot = house.lot(&name)?;
    let region = args.region.map(Into::into).or(house.seller().region);
    let region = region.ok_or_else(reckon::no_region)?;
    let held = withholdings(standing.yard);
    let cautions = house.cautions(&name, region, Kind::General, &held)?;
    let (blocks, soft): (Vec<_>, Vec<_>) = cautions
        .iter()
        .partition(|caution| caution.weight() == Weight::Block);
    let blocks: Vec<String> = blocks.into_iter().map(caution_words).collect();
    let soft: Vec<String> = soft.into_iter().map(caution_words).collect();
    if !blocks.is_empty() && !args.anyway {
        return Err(Failure::input(format!(
            "lot {name} may not be sold as honey: {}",
            blocks.join("; ")
        ))
        .help("Blend or dry it first; --anyway fills all the same and records why not."));
    }
    let number = house.fillings().iter().filter(|f| f.lot == name).count() + 1;
    let fill = args.fill.unwrap_or_else(|| format!("{name}/{number}"));
    let best_before = args
        .best_before
        .or_else(|| usual_best_before(lot.oldest))
        .ok_or_else(|| Failure::input("say --best-before"))?;
    let notes = if blocks.is_empty() {
        Vec::new()
    } else {
        vec![format!(
            "jars {fill} filled although: {}",
            blocks.join("; ")
        )]
    };
    let batch = Batch {
        events: vec![LotEvent::JarsFilled(JarsFilled {
            fill: FillId::from(named("filling", fill)?),
            mark: args.mark.unwrap_or_else(|| name.to_string()),
            lot: name,
            on: standing.on,
            net_kg: args.net,
            count: args.count,
            drawn_kg: args.drawn,
            best_before,
        })],
        notes,
    };
    Ok((batch, soft))
}

/// A caution in words.
pub(super) fn caution_words(caution: &Caution) -> String {
    match caution {
        Caution::Fermenting { since } => {
            format!("it ferments since {since}; blending does not cure that")
        }
        Caution::OverLimit {
            moisture_pct,
            limit,
        } => format!(
            "{moisture_pct} water is over the limit of {} % ({}; {})",
            limit.value,
            limit.instrument,
            honey::region::CHECK_WITH_AUTHORITY
        ),
        Caution::MayNotKeep {
            moisture_pct,
            keeping,
        } => format!("{moisture_pct} water: {}", keeping.advice()),
        Caution::MoistureNotRead => "its moisture was never read".to_owned(),
        Caution::Withheld { combs, what, .. } => {
            format!(
                "{combs} of its combs were taken after this: {what}; stores of a feed are not honey"
            )
        }
    }
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
        record(context, None, move |_| Ok(event.into())).await?.1
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
