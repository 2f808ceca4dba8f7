//! `combwright paper season`: what the hives gave.

use std::collections::BTreeMap;

use hive::Yard;
use honey::lots::{House, LotOrigin};
use house::taking::takings;
use house::{Kept, Taking};
use jiff::civil::Date;
use paper::PictureOptions;
use paper::pdf::{Bars, Column, Flow, Print, Typeface};
use paper::records::Days;

use super::book::span_words;
use super::{Context, days, save};
use crate::commands::advise::Choices;
use crate::commands::show::section;
use crate::failure::Failure;
use crate::paper_args::{DaysArgs, Output};
use crate::surroundings::local_day;

/// Runs the command.
pub(super) async fn season(context: &Context, args: &DaysArgs, to: &Output) -> Result<(), Failure> {
    let yard = context.yard().await?;
    let days = days(context, &yard, args)?;
    let kept = Kept::of(&yard, &local_day);
    let face = Typeface::shipped()?;
    let title = format!("Season sheet, {} to {}", days.from, days.to);
    let mut flow = Flow::new(Print::small(to.paper.into()), title.as_str(), &face);
    flow.title("Season sheet", &span_words(days));
    let taken: Vec<Taking> = takings(&yard, &local_day)
        .filter(|t| days.has(t.on))
        .collect();

    flow.heading("Combs taken, by month");
    if taken.is_empty() {
        flow.paragraph("No comb was taken in these days.");
    } else {
        flow.bars(&by_month(&taken, days), 52.0);
    }
    flow.heading("What each hive gave");
    hives(&mut flow, &yard, &taken, &kept.house, days);
    flow.heading("Honey and jars");
    honey_house(&mut flow, &kept.house, days);
    flow.heading("How the hives stand");
    // one legend serves all the pictures
    let last = yard.living_hives().last().map(|hive| hive.id);
    for hive in yard.living_hives() {
        let section = section(&yard, hive, context.now(), &Choices::usual(context))?;
        let options = PictureOptions {
            width_px: 900,
            with_legend: Some(hive.id) == last,
            id_prefix: format!("h{}", hive.id),
            ..PictureOptions::default()
        };
        let most = if options.with_legend { 75.0 } else { 50.0 };
        flow.picture(paper::svg::hive(&section, &options), most)?;
    }
    save(context, &flow.finish(), &title, &face, &to.out)
}

/// One bar a month, empty months too; more than two years are told by year.
fn by_month(taken: &[Taking], days: Days) -> Bars {
    let months = (i32::from(days.to.year()) - i32::from(days.from.year())) * 12
        + i32::from(days.to.month())
        - i32::from(days.from.month());
    let yearly = months >= 24;
    let name = |day: Date| {
        if yearly {
            day.strftime("%Y").to_string()
        } else {
            day.strftime("%b").to_string()
        }
    };
    let key = |day: Date| (day.year(), if yearly { 1 } else { day.month() });
    let mut bars: BTreeMap<(i16, i8), (String, f64)> = BTreeMap::new();
    let mut day = days.from.first_of_month();
    while day <= days.to {
        bars.entry(key(day)).or_insert_with(|| (name(day), 0.0));
        match day.last_of_month().tomorrow() {
            Ok(next) => day = next,
            Err(_) => break,
        }
    }
    for taking in taken {
        if let Some(bar) = bars.get_mut(&key(taking.on)) {
            bar.1 += 1.0;
        }
    }
    Bars {
        unit: "combs".to_owned(),
        bars: bars.into_values().collect(),
        decimals: 0,
    }
}

fn hives(flow: &mut Flow<'_>, yard: &Yard, taken: &[Taking], house: &House, days: Days) {
    let columns = [
        Column::words("hive", 2.0),
        Column::figures("visits", 1.0),
        Column::figures("combs taken", 1.2),
        Column::figures("of them in lots", 1.4),
        Column::figures("weighed comb, kg", 1.6),
        Column::figures("fed, litres", 1.2),
    ];
    let rows = yard.hives().filter_map(|hive| {
        let of_hive: Vec<&Taking> = taken.iter().filter(|t| t.hive_id == hive.id).collect();
        let visits = hive
            .visits
            .iter()
            .filter(|v| days.has(local_day(v.opened, &v.zone)))
            .count();
        if visits == 0 && of_hive.is_empty() {
            return None;
        }
        let in_lots = house
            .combs()
            .iter()
            .filter(|comb| {
                of_hive
                    .iter()
                    .any(|t| t.comb.to_string() == comb.taken.comb.as_str())
            })
            .count();
        let weighed: f64 = of_hive
            .iter()
            .filter_map(|t| hive.visit(t.visit?)?.seen.get(&t.bar_id)?.mass_kg)
            .map(comb::Mass::to_kg)
            .sum();
        let fed: f64 = hive
            .feeds
            .iter()
            .filter(|fed| {
                let zone = yard
                    .entry(fed.when.entry)
                    .map_or("UTC", |e| e.zone.as_str());
                days.has(local_day(fed.when.at, zone))
            })
            .filter_map(|fed| fed.litres)
            .sum();
        let some = |value: f64| {
            if value > 0.0 {
                format!("{value:.1}")
            } else {
                String::new()
            }
        };
        Some(vec![
            hive.name.clone(),
            visits.to_string(),
            of_hive.len().to_string(),
            in_lots.to_string(),
            some(weighed),
            some(fed),
        ])
    });
    flow.table(&columns, rows);
}

fn honey_house(flow: &mut Flow<'_>, house: &House, days: Days) {
    let made: f64 = house
        .lots()
        .iter()
        .filter(|lot| matches!(lot.origin, LotOrigin::Made { .. }) && days.has(lot.on))
        .map(|lot| {
            let jars: f64 = house
                .fillings()
                .iter()
                .filter(|fill| fill.lot == lot.lot)
                .map(|fill| fill.drawn().to_kg())
                .sum();
            lot.mass().to_kg() + jars
        })
        .sum();
    if house.lots().is_empty() {
        flow.paragraph("No lot of honey was made yet.");
        return;
    }
    flow.paragraph(&format!(
        "Own honey of lots made in these days, in lots and jars: {made:.1} kg."
    ));
    let columns = [
        Column::figures("jar, g", 1.0),
        Column::figures("filled", 1.0),
        Column::figures("here", 1.0),
        Column::figures("gone", 1.0),
        Column::figures("money taken", 2.0),
    ];
    let rows = house.stock().into_iter().map(|line| {
        let gone: u32 = line.gone.values().sum();
        let money: Vec<String> = line
            .taken
            .iter()
            .map(|(currency, minor)| format!("{}.{:02} {currency}", minor / 100, minor % 100))
            .collect();
        vec![
            format!("{:.0}", line.net_kg.to_grams()),
            line.filled.to_string(),
            line.in_stock.to_string(),
            gone.to_string(),
            money.join(", "),
        ]
    });
    flow.table(&columns, rows);
}
