//! `combwright honey trace`: a recall in both directions.

use std::collections::BTreeSet;

use honey::lots::{CombsFound, FillId, Filling, House, LotId};
use serde_json::json;

use super::stock::combs_words;
use super::{Context, house};
use crate::failure::Failure;
use crate::honey_args::Trace;
use crate::honey_house::combs_of_bar;
use crate::out;

/// Runs the command.
pub(super) async fn trace(context: &Context, of: Trace) -> Result<(), Failure> {
    let (yard, kept) = house(context).await?;
    match of {
        Trace::Bar { hive, number } => {
            let combs = combs_of_bar(&yard, &kept.house, &hive, number);
            if combs.is_empty() {
                yard.hive_named(&hive)?;
                return Err(Failure::input(format!(
                    "no comb of bar {number} of {hive} is in a pail"
                ))
                .help("`combwright honey` lists combs that were taken and are in no pail yet."));
            }
            let mut fills: BTreeSet<&FillId> = BTreeSet::new();
            let mut lots: BTreeSet<&LotId> = BTreeSet::new();
            for comb in combs {
                let found = kept.house.jars_with_comb(comb)?;
                fills.extend(found.fills.iter().map(|fill| &fill.fill));
                lots.extend(found.lots.iter().map(|lot| &lot.lot));
            }
            tell_jars(context, &kept.house, &lots, &fills)
        }
        Trace::Jar { mark } => {
            let found = kept.house.combs_with_mark(&mark).or_else(|why| {
                match mark.trim_start_matches(['L', 'l']).trim() {
                    bare if bare != mark => kept.house.combs_with_mark(bare),
                    _ => Err(why),
                }
            })?;
            tell_combs(context, &found)
        }
        Trace::Lot { lot } => {
            let lot = LotId::from(lot);
            let combs = kept.house.combs_in_lot(&lot)?;
            let jars = kept.house.jars_with_lot(&lot)?;
            let fills: BTreeSet<&FillId> = jars.fills.iter().map(|fill| &fill.fill).collect();
            let lots: BTreeSet<&LotId> = jars.lots.iter().map(|lot| &lot.lot).collect();
            if context.json {
                return out::json(&json!({ "combs": combs.combs, "fillings": jars.fills }));
            }
            tell_combs(context, &combs)?;
            tell_jars(context, &kept.house, &lots, &fills)
        }
    }
}

fn tell_jars(
    context: &Context,
    house: &House,
    lots: &BTreeSet<&LotId>,
    fills: &BTreeSet<&FillId>,
) -> Result<(), Failure> {
    let jars: Vec<&Filling> = house
        .fillings()
        .iter()
        .filter(|fill| fills.contains(&fill.fill))
        .collect();
    let here: u32 = jars.iter().map(|fill| fill.in_stock).sum();
    let away: u32 = jars.iter().map(|fill| fill.with_others()).sum();
    if context.json {
        return out::json(&json!({
            "lots": lots, "fillings": jars, "in_stock": here, "with_others": away,
        }));
    }
    let names: Vec<&str> = lots.iter().map(|lot| lot.as_str()).collect();
    if names.is_empty() {
        out::line("It is in no lot yet: a pail becomes a lot by `combwright honey lot`.");
        return Ok(());
    }
    out::folded("Lots: ", &names.join(", "));
    if jars.is_empty() {
        out::line("No jars were filled from it.");
    }
    for fill in &jars {
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
        let words = combs_words(of_day.map(|c| (c.taken.hive.as_str(), c.taken.bar.clone())));
        out::folded(&format!("Combs taken {day}: bar "), &words);
    }
    for lot in &found.received {
        out::folded("", &format!("Received: lot {} of {}", lot.lot, lot.on));
    }
    let lots: Vec<String> = found.lots.iter().map(|lot| lot.lot.to_string()).collect();
    out::folded("By way of lots: ", &lots.join(", "));
    Ok(())
}
