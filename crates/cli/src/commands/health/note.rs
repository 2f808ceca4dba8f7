//! The health commands that record something, and what must be minded with each.

use health::mind;
use hive::sign::{Certainty, Clearing, Report, Sign};
use hive::treatment::{Disposal, LabelPeriod, Purchase, Treatment, TreatmentEnd};
use hive::{Known, What};
use jiff::civil::Date;
use serde_json::{Map, json};

use super::Context;
use super::say::{day, instant, instant_at, sign, treatment};
use crate::failure::Failure;
use crate::health_args::{BuyArgs, HealthCommand, SignArgs, TreatArgs};
use crate::journal::{Desk, Open, Saying, hive_named};
use crate::out;
use crate::surroundings::fresh_id;

/// What was said, and what must be minded.
struct Noted {
    entries: Vec<hive::EntryId>,
    mind: Vec<String>,
}

/// Runs a recording command.
pub(super) async fn note(context: &Context, command: HealthCommand) -> Result<(), Failure> {
    let open = Open::to_write(&context.folder).await?;
    let (yard, noted) = open
        .write(|desk| match command {
            HealthCommand::Treat(args) => treat(context, desk, args),
            HealthCommand::End {
                hive,
                product,
                left,
                on,
            } => end(context, desk, (&hive, product.as_deref()), left, on),
            HealthCommand::Label {
                hive,
                product,
                withhold,
            } => label(context, desk, (&hive, product.as_deref()), withhold),
            HealthCommand::Sign(args) => seen(context, desk, args),
            HealthCommand::Law {
                hive,
                condition,
                notifiable,
            } => law(
                context,
                desk,
                (&hive, condition.as_deref()),
                notifiable.into(),
            ),
            HealthCommand::Report {
                hive,
                condition,
                to,
                answer,
                on,
            } => report(
                context,
                desk,
                (&hive, condition.as_deref()),
                (to, answer),
                on,
            ),
            HealthCommand::Clear {
                hive,
                condition,
                why,
                on,
            } => clear(context, desk, (&hive, condition.as_deref()), why, on),
            HealthCommand::Buy(args) => buy(context, desk, args),
            HealthCommand::Dispose {
                product,
                how,
                batch,
                quantity,
                on,
            } => {
                let what = Known::MedicineDisposed(Disposal {
                    on: day(context, on)?,
                    product,
                    batch,
                    quantity,
                    how,
                    more: Map::new(),
                });
                of_yard(context, desk, what, on)
            }
            _ => Err(Failure::input("this command records nothing")),
        })
        .await?;
    let told = noted.entries.iter().filter_map(|id| {
        let entry = yard.entry(*id)?;
        Some(paper::told::what(&yard, &entry.what, context.manner()))
    });
    let told: Vec<String> = told.collect();
    if context.json {
        return out::json(&json!({
            "recorded": told,
            "entries": noted.entries,
            "mind": noted.mind,
        }));
    }
    for words in told {
        out::folded("Recorded: ", &paper::told::sentence(&words));
    }
    for words in noted.mind {
        out::folded("Mind: ", &words);
    }
    Ok(())
}

fn treat(context: &Context, desk: &mut Desk, args: TreatArgs) -> Result<Noted, Failure> {
    let on = day(context, args.on)?;
    let hive = hive_named(desk.yard(), &args.hive)?;
    let (id, at) = (hive.id, instant_at(context, hive, on)?);
    let given = Treatment {
        active: args.active,
        batch: args.batch,
        quantity: args.quantity,
        how: args.how,
        against: args.against,
        planned_removal: args.out_by,
        withholding: args.withhold,
        supplier: args.supplier,
        bought: args.bought,
        prescriber: args.prescriber,
        air_from_c: args.air.map(|(from, _)| from),
        air_to_c: args.air.map(|(_, to)| to),
        honey_on: args.honey_on.map(Into::into),
        capped_brood: args.capped_brood.map(Into::into),
        ..Treatment::new(on, args.product)
    };
    let mut mind = mind::of_treatment(&given, &hive.treatments);
    if args.out_by.is_none() && !args.once {
        mind.insert(
            0,
            "No day was said on which it comes out. Say it with --out-by, or --once where nothing \
             stays in the hive; a strip forgotten breeds mites that withstand it."
                .to_owned(),
        );
    }
    let treatment = fresh_id();
    let mut entries = vec![treatment];
    let begun = Saying {
        id: Some(treatment),
        ..Saying::of_hive(id, at, Known::TreatmentBegun(given))
    };
    desk.say(begun, &context.writer)?;
    if args.once {
        let over = fresh_id();
        let what = Known::TreatmentEnded(TreatmentEnd {
            treatment,
            on,
            left: None,
            more: Map::new(),
        });
        let saying = Saying {
            id: Some(over),
            ..Saying::of_hive(id, at, what)
        };
        desk.say(saying, &context.writer)?;
        entries.push(over);
    }
    Ok(Noted { entries, mind })
}

fn end(
    context: &Context,
    desk: &mut Desk,
    (hive, product): (&str, Option<&str>),
    left: Option<String>,
    on: Option<Date>,
) -> Result<Noted, Failure> {
    let on = day(context, on)?;
    let (hive, treated) = treatment(desk.yard(), hive, product, true)?;
    let what = Known::TreatmentEnded(TreatmentEnd {
        treatment: treated.when.entry,
        on,
        left,
        more: Map::new(),
    });
    let (id, at) = (hive.id, instant_at(context, hive, on)?);
    let treatment = treated.when.entry;
    let mut noted = of_hive(context, desk, id, at, what)?;
    let after = desk.yard().hive(id).map(health::withheld::withholdings);
    let after = after.unwrap_or_default().into_iter();
    noted.mind.extend(
        after
            .filter(|w| w.entry == treatment)
            .map(|w| format!("{}: {}.", desk_name(desk, id), w.what)),
    );
    noted.mind.push(
        "Count mites again, by the method you used before, to see whether it worked.".to_owned(),
    );
    Ok(noted)
}

fn desk_name(desk: &Desk, hive: hive::HiveId) -> String {
    let hive = desk.yard().hive(hive);
    hive.map_or_else(String::new, |hive| hive.name.clone())
}

fn label(
    context: &Context,
    desk: &mut Desk,
    (hive, product): (&str, Option<&str>),
    withhold: LabelPeriod,
) -> Result<Noted, Failure> {
    let (hive, treated) = treatment(desk.yard(), hive, product, false)?;
    let given = Treatment {
        withholding: Some(withhold),
        ..treated.given.clone()
    };
    let what = Known::Corrected {
        target: treated.when.entry,
        what: What::from(Known::TreatmentBegun(given)),
    };
    let (id, now) = (hive.id, context.now().timestamp());
    let mut noted = of_hive(context, desk, id, now, what)?;
    noted.mind.push(mind::LABEL_DECIDES.to_owned());
    Ok(noted)
}

fn seen(context: &Context, desk: &mut Desk, args: SignArgs) -> Result<Noted, Failure> {
    let on = day(context, args.on)?;
    let hive = hive_named(desk.yard(), &args.hive)?;
    let bar = match args.bar {
        Some(number) => Some(hive.bar_numbered(number)?.id),
        None => None,
    };
    let certainty = match (args.confirmed, args.not_found) {
        (true, _) => Certainty::Confirmed,
        (_, true) => Certainty::NotFound,
        _ => Certainty::Suspected,
    };
    let sign = Sign {
        bar,
        seen: args.seen,
        method: args.method,
        notifiable: args.notifiable.map(Into::into),
        ..Sign::new(on, args.condition, certainty)
    };
    let mind = mind::of_sign(&sign);
    let (id, at) = (hive.id, instant_at(context, hive, on)?);
    let noted = of_hive(context, desk, id, at, Known::SignSeen(sign))?;
    Ok(Noted { mind, ..noted })
}

fn law(
    context: &Context,
    desk: &mut Desk,
    (hive, condition): (&str, Option<&str>),
    notifiable: bool,
) -> Result<Noted, Failure> {
    let (hive, seen) = sign(desk.yard(), hive, condition)?;
    let found_out = Sign {
        notifiable: Some(notifiable),
        ..seen.sign.clone()
    };
    let mind = mind::of_sign(&found_out);
    let what = Known::Corrected {
        target: seen.when.entry,
        what: What::from(Known::SignSeen(found_out)),
    };
    let (id, now) = (hive.id, context.now().timestamp());
    let noted = of_hive(context, desk, id, now, what)?;
    Ok(Noted { mind, ..noted })
}

fn report(
    context: &Context,
    desk: &mut Desk,
    (hive, condition): (&str, Option<&str>),
    (to, answer): (String, Option<String>),
    on: Option<Date>,
) -> Result<Noted, Failure> {
    let on = day(context, on)?;
    let (hive, seen) = sign(desk.yard(), hive, condition)?;
    let what = Known::SignReported(Report {
        sign: seen.when.entry,
        on,
        to,
        answer,
        more: Map::new(),
    });
    let (id, at) = (hive.id, instant_at(context, hive, on)?);
    of_hive(context, desk, id, at, what)
}

fn clear(
    context: &Context,
    desk: &mut Desk,
    (hive, condition): (&str, Option<&str>),
    why: String,
    on: Option<Date>,
) -> Result<Noted, Failure> {
    let on = day(context, on)?;
    let (hive, seen) = sign(desk.yard(), hive, condition)?;
    let what = Known::SignCleared(Clearing {
        sign: seen.when.entry,
        on,
        why,
        more: Map::new(),
    });
    let (id, at) = (hive.id, instant_at(context, hive, on)?);
    of_hive(context, desk, id, at, what)
}

fn buy(context: &Context, desk: &mut Desk, args: BuyArgs) -> Result<Noted, Failure> {
    let on = args.on;
    let what = Known::MedicineBought(Purchase {
        on: day(context, on)?,
        product: args.product,
        active: args.active,
        batch: args.batch,
        quantity: args.quantity,
        withholding: args.withhold,
        supplier: args.supplier,
        expires: args.expires,
        proof: args.proof,
        more: Map::new(),
    });
    let mut noted = of_yard(context, desk, what, on)?;
    noted.mind.push(
        "Keep the proof of purchase with it; some laws ask for five years. Store it locked and \
         labelled."
            .to_owned(),
    );
    Ok(noted)
}

fn of_hive(
    context: &Context,
    desk: &mut Desk,
    hive: hive::HiveId,
    at: jiff::Timestamp,
    what: Known,
) -> Result<Noted, Failure> {
    let id = fresh_id();
    let saying = Saying {
        id: Some(id),
        ..Saying::of_hive(hive, at, what)
    };
    desk.say(saying, &context.writer)?;
    Ok(Noted {
        entries: vec![id],
        mind: Vec::new(),
    })
}

fn of_yard(
    context: &Context,
    desk: &mut Desk,
    what: Known,
    on: Option<Date>,
) -> Result<Noted, Failure> {
    let at = instant(context, day(context, on)?)?;
    let id = fresh_id();
    let saying = Saying {
        id: Some(id),
        ..Saying::of_yard(at, what)
    };
    desk.say(saying, &context.writer)?;
    Ok(Noted {
        entries: vec![id],
        mind: Vec::new(),
    })
}
