//! `combwright honey trace`: a recall in both directions.

use ::house::trace::{Jars, combs_of_mark, jars_of_bar, of_lot};
use ::house::words;
use honey::lots::{CombsFound, LotId};
use serde_json::json;

use super::{Context, house};
use crate::failure::Failure;
use crate::honey_args::Trace;
use crate::out;
use crate::surroundings::local_day;

/// Runs the command.
pub(super) async fn trace(context: &Context, of: Trace) -> Result<(), Failure> {
    let (yard, kept) = house(context).await?;
    match of {
        Trace::Bar { hive, number } => {
            let jars = jars_of_bar(&yard, &kept.house, &hive, number, &local_day)?;
            tell_jars(context, &jars)
        }
        Trace::Jar { mark } => tell_combs(context, &combs_of_mark(&kept.house, &mark)?),
        Trace::Lot { lot } => {
            let (combs, jars) = of_lot(&kept.house, &LotId::from(lot))?;
            if context.json {
                return out::json(&json!({ "combs": combs.combs, "fillings": jars.fills }));
            }
            tell_combs(context, &combs)?;
            tell_jars(context, &jars)
        }
    }
}

fn tell_jars(context: &Context, jars: &Jars<'_>) -> Result<(), Failure> {
    let (here, away) = (jars.in_stock(), jars.with_others());
    if context.json {
        return out::json(&json!({
            "lots": jars.lots, "fillings": jars.fills, "in_stock": here, "with_others": away,
        }));
    }
    let names: Vec<&str> = jars.lots.iter().map(|lot| lot.as_str()).collect();
    if names.is_empty() {
        out::line("It is in no lot yet: a pail becomes a lot by `combwright honey lot`.");
        return Ok(());
    }
    out::folded("Lots: ", &names.join(", "));
    if jars.fills.is_empty() {
        out::line("No jars were filled from it.");
    }
    for fill in &jars.fills {
        out::line(format!(
            "Jars {}: {} x {:.0} g of {}, lot mark {}; {} here, {} with others",
            fill.fill,
            fill.count,
            fill.net().to_grams(),
            fill.on,
            fill.mark,
            fill.in_stock,
            fill.with_others()
        ));
        for (to, count) in &fill.handed_to {
            out::line(format!("   {count} to {to}"));
        }
    }
    if away > 0 {
        out::line(format!(
            "To call back: {away} jars with others; {here} are here."
        ));
    }
    Ok(())
}

fn tell_combs(context: &Context, found: &CombsFound<'_>) -> Result<(), Failure> {
    if context.json {
        return out::json(found);
    }
    let mut days: Vec<jiff::civil::Date> = found.combs.iter().map(|c| c.taken.taken_on).collect();
    days.sort_unstable();
    days.dedup();
    for day in days {
        let of_day = found.combs.iter().filter(|c| c.taken.taken_on == day);
        let words = words::combs(of_day.map(|c| (c.taken.hive.as_str(), c.taken.bar.clone())));
        out::folded(&format!("Combs taken {day}: bar "), &words);
    }
    for lot in &found.received {
        out::folded("", &format!("Received: lot {} of {}", lot.lot, lot.on));
    }
    let lots: Vec<String> = found.lots.iter().map(|lot| lot.lot.to_string()).collect();
    out::folded("By way of lots: ", &lots.join(", "));
    Ok(())
}
