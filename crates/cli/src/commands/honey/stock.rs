//! What stands in the honey house, and the ledger of jars.

use ::house::taking::waiting;
use ::house::{Kept, Taking, words};
use honey::fermentation::keeping;
use honey::lots::{Lot, LotId, SizeLine};
use serde_json::{Value, json};

use super::{Context, house};
use crate::failure::Failure;
use crate::out;
use crate::surroundings::local_day;

/// A lot as JSON, with what it holds now.
pub(super) fn lot_json(lot: &Lot) -> Result<Value, Failure> {
    let mut value = serde_json::to_value(lot)?;
    value["mass_kg"] = json!(lot.mass());
    value["countries"] = json!(
        lot.countries()
            .into_iter()
            .map(|(country, share)| json!({ "country": country, "share": share }))
            .collect::<Vec<_>>()
    );
    Ok(value)
}

/// Tells a lot after something happened to it.
pub(super) fn tell_lot(context: &Context, kept: &Kept, lot: &LotId) -> Result<(), Failure> {
    let lot = kept.house.lot(lot)?;
    if context.json {
        return out::json(&lot_json(lot)?);
    }
    out::folded("", &lot_words(lot));
    mind(kept);
    Ok(())
}

/// A lot in a line.
pub(super) fn lot_words(lot: &Lot) -> String {
    let moisture = match lot.moisture_pct {
        Some(moisture) => format!("{moisture} water, {}", keeping(moisture).advice()),
        None => "moisture not read".to_owned(),
    };
    let ferments = lot
        .fermenting_since
        .map(|day| format!("; FERMENTS since {day}, not to be sold as honey"))
        .unwrap_or_default();
    format!(
        "Lot {}: {:.2} kg of {}, {moisture}{ferments}",
        lot.lot,
        lot.mass().to_kg(),
        lot.on
    )
}

/// Lists entries that could not be applied.
pub(super) fn mind(kept: &Kept) {
    for words in &kept.refused {
        out::folded("Mind: ", words);
    }
}

/// What stands in the honey house.
pub(super) async fn overview(context: &Context) -> Result<(), Failure> {
    let (yard, kept) = house(context).await?;
    let combs = waiting(&yard, &kept.house, &local_day);
    if context.json {
        return overview_json(&kept, &combs);
    }
    let nothing = combs.is_empty() && kept.house.pails().is_empty() && kept.house.lots().is_empty();
    if nothing {
        out::line("The honey house is empty: no comb has been taken.");
    }
    if !combs.is_empty() {
        out::line("Combs in no pail yet, by the day they were taken, hive and bar:");
        let mut days: Vec<_> = combs.iter().map(|taking| taking.on).collect();
        days.sort_unstable();
        days.dedup();
        for day in days {
            let of_day = combs.iter().filter(|taking| taking.on == day);
            let words = words::combs(of_day.map(|t| (t.hive.as_str(), t.bar.to_string())));
            out::folded(&format!("  {day}  "), &words);
        }
    }
    for pail in kept.house.pails().iter().filter(|pail| pail.lot.is_none()) {
        let mass = pail
            .comb_mass()
            .map_or_else(String::new, |m| format!(", {:.2} kg", m.to_kg()));
        let inside = kept
            .house
            .combs()
            .iter()
            .filter(|comb| comb.pail == pail.pail)
            .map(|comb| (comb.taken.hive.as_str(), comb.taken.bar.clone()));
        out::folded(
            "",
            &format!(
                "Pail {} of {}{mass}: {}",
                pail.pail,
                pail.on,
                words::combs(inside)
            ),
        );
    }
    for lot in kept
        .house
        .lots()
        .iter()
        .filter(|lot| lot.mass().to_kg() > 0.0)
    {
        out::folded("", &lot_words(lot));
    }
    for fill in kept
        .house
        .fillings()
        .iter()
        .filter(|fill| fill.in_stock > 0)
    {
        out::line(format!(
            "Jars {}: {} of {} x {:.0} g here, lot mark {}, best before {}",
            fill.fill,
            fill.in_stock,
            fill.count,
            fill.net().to_grams(),
            fill.mark,
            fill.best_before
        ));
    }
    mind(&kept);
    Ok(())
}

fn overview_json(kept: &Kept, combs: &[Taking]) -> Result<(), Failure> {
    let lots = kept
        .house
        .lots()
        .iter()
        .map(lot_json)
        .collect::<Result<Vec<_>, _>>()?;
    let pails: Vec<Value> = kept
        .house
        .pails()
        .iter()
        .map(|pail| {
            json!({ "pail": pail.pail, "on": pail.on, "lot": pail.lot, "comb_kg": pail.comb_mass() })
        })
        .collect();
    out::json(&json!({
        "combs_waiting": combs,
        "pails": pails,
        "lots": lots,
        "fillings": kept.house.fillings(),
        "stock": kept.house.stock(),
        "seller": kept.house.seller(),
        "balance": kept.house.balance(),
        "refused": kept.refused,
    }))
}

/// The ledger by size.
pub(super) async fn ledger(context: &Context) -> Result<(), Failure> {
    let kept = house(context).await?.1;
    let lines = kept.house.stock();
    if context.json {
        return out::json(&lines);
    }
    if lines.is_empty() {
        out::line("No jars were filled yet.");
    } else {
        out::line("   size  filled    here   gone   money taken");
    }
    for line in &lines {
        out::line(ledger_line(line));
    }
    mind(&kept);
    Ok(())
}

fn ledger_line(line: &SizeLine) -> String {
    let gone: u32 = line.gone.values().sum();
    let taken: Vec<String> = line
        .taken
        .iter()
        .map(|(currency, minor)| format!("{}.{:02} {currency}", minor / 100, minor % 100))
        .collect();
    format!(
        "{:>6.0} g  {:>6}  {:>6} {:>6}   {}",
        line.net_kg.to_grams(),
        line.filled,
        line.in_stock,
        gone,
        taken.join(", ")
    )
    .trim_end()
    .to_owned()
}
