//! The page of a lot, to which the code on a jar's label can lead: what it is, which combs are in it,
//! where its jars went.

use honey::lots::{House, Lot, LotId, LotOrigin};
use house::trace::{combs_of_mark, of_lot};
use leptos::prelude::*;

use super::desk::{Desk, Seen};
use super::lots::{cautions, state};
use super::trace::{combs_found, fillings, lot_links};
use crate::parts::go::Go;
use crate::parts::screen::Screen;
use crate::preferences::Units;
use crate::route::{LotName, Route};
use crate::texts::days;
use crate::texts::honey_house as words;

/// The screen.
pub(super) fn lot_page(desk: Desk, name: LotName) -> AnyView {
    let content = move || {
        let units = desk.units();
        desk.seen.with(|seen| {
            let lots = lots_of(&seen.kept.house, name.as_str());
            if lots.is_empty() {
                return nothing(name.as_str());
            }
            let pages: Vec<AnyView> = lots.iter().map(|lot| one(seen, lot, units)).collect();
            pages.into_any()
        })
    };
    view! {
        <Screen title=words::lot(name.as_str())>
            {desk.done_line()}
            {content}
            <div class="acts">
                <Go to=Route::HoneyHouse class="button quiet-button">{words::TO_HONEY_HOUSE}</Go>
            </div>
        </Screen>
    }
    .into_any()
}

/// The lot of this name, else the lots whose jars carry it as their mark.
fn lots_of(house: &House, name: &str) -> Vec<LotId> {
    let lot = LotId::from(name);
    if house.lot(&lot).is_ok() {
        return vec![lot];
    }
    let bare = name.trim_start_matches(['L', 'l']).trim();
    if combs_of_mark(house, name).is_err() {
        let lot = LotId::from(bare);
        return house
            .lot(&lot)
            .map(|lot| vec![lot.lot.clone()])
            .unwrap_or_default();
    }
    let marked = house.fillings().iter();
    let marked = marked.filter(|fill| fill.mark == name || fill.mark == bare);
    let mut lots: Vec<LotId> = marked.map(|fill| fill.lot.clone()).collect();
    lots.sort();
    lots.dedup();
    lots
}

fn nothing(name: &str) -> AnyView {
    let [head, next] = words::no_such_lot(name);
    view! {
        <div class="empty" id="no-such-lot">
            <p class="empty-head">{head}</p>
            <p>{next}</p>
        </div>
    }
    .into_any()
}

fn one(seen: &Seen, name: &LotId, units: Units) -> AnyView {
    let house = &seen.kept.house;
    let (Ok(lot), Ok((combs, jars))) = (house.lot(name), of_lot(house, name)) else {
        return nothing(name.as_str());
    };
    let region = house.seller().region;
    let through = combs
        .lots
        .iter()
        .map(|lot| &lot.lot)
        .filter(|lot| *lot != name);
    let through: Vec<&LotId> = through.collect();
    let into: Vec<&LotId> = jars
        .lots
        .iter()
        .copied()
        .filter(|lot| *lot != name)
        .collect();
    let by_way = links(words::by_way, &through);
    let went_into = links(words::went_into, &into);
    let received: Vec<AnyView> = combs
        .received
        .iter()
        .filter_map(|lot| origin(&lot.origin))
        .map(|words| view! { <p>{words}</p> }.into_any())
        .collect();
    view! {
        <article class="lot-page" id=format!("lot-{name}")>
            <h2>{words::ITS_LIFE}</h2>
            {facts(lot, units)}
            {state(lot.moisture_pct, region)}
            {cautions(seen, lot, region)}
            <h2>{words::ITS_COMBS}</h2>
            {combs_found(&combs)}
            {received}
            {by_way}
            <h2>{words::ITS_JARS}</h2>
            {fillings(&jars, units)}
            {went_into}
        </article>
    }
    .into_any()
}

/// Other lots on the way; nothing where there are none.
fn links(words: fn(usize) -> String, lots: &[&LotId]) -> AnyView {
    if lots.is_empty() {
        return ().into_any();
    }
    view! { <p class="by-way">{words(lots.len())} {lot_links(lots.iter().copied())}</p> }.into_any()
}

/// Where honey of others came from.
fn origin(origin: &LotOrigin) -> Option<String> {
    match origin {
        LotOrigin::Received { from, their_lot } => Some(words::received(from, their_lot)),
        _ => None,
    }
}

fn facts(lot: &Lot, units: Units) -> AnyView {
    let how = match &lot.origin {
        LotOrigin::Made { method } => words::method(*method).to_owned(),
        LotOrigin::Received { from, their_lot } => words::received(from, their_lot),
        LotOrigin::Blended => words::BLENDED.to_owned(),
    };
    let readings: Vec<String> = lot
        .readings
        .iter()
        .map(|read| words::read_on(&read.moisture_pct.to_string(), read.on))
        .collect();
    let strained: Vec<String> = lot
        .filters
        .iter()
        .map(|filter| format!("{} {}", filter.mesh_um, words::MICROMETRES))
        .collect();
    let gone: Vec<String> = lot
        .losses()
        .map(|(why, mass)| format!("{} {}", units.weighed(mass), words::lost(why)))
        .collect();
    let countries: Vec<String> = lot
        .countries()
        .into_iter()
        .map(|(country, _)| country)
        .collect();
    let rows = [
        (
            words::MADE,
            format!("{}. {how}", days::day_and_year(lot.on)),
        ),
        (words::HOLDS, units.weighed(lot.mass())),
        (words::READINGS, readings.join("; ")),
        (words::STRAINERS, strained.join("; ")),
        (words::LOSSES, gone.join("; ")),
        (words::FROM_COUNTRY, countries.join(", ")),
    ];
    let rows: Vec<AnyView> = rows
        .into_iter()
        .filter(|(_, words)| !words.is_empty())
        .map(|(name, words)| view! { <div><dt>{name}</dt><dd>{words}</dd></div> }.into_any())
        .collect();
    view! { <dl class="account">{rows}</dl> }.into_any()
}
