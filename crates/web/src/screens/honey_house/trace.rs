//! Honey followed from a bar to its jars; from a jar the way leads to the page of its lot.

use honey::lots::{CombsFound, Filling, LotId};
use house::trace::{Jars, jars_of_bar};
use leptos::prelude::*;

use super::ask::{Form, Kind, Wrong, ask};
use super::desk::Desk;
use crate::browser::clock;
use crate::parts::go::{Go, use_place};
use crate::preferences::Units;
use crate::route::{LotName, Route};
use crate::texts::honey_house as words;

/// The section.
pub(super) fn trace(desk: Desk) -> AnyView {
    view! {
        <section id="trace" aria-labelledby="trace-head">
            <h2 id="trace-head">{words::TRACE}</h2>
            <h3>{words::WHICH_JARS}</h3>
            {forward(desk)}
            <h3>{words::WHICH_COMBS}</h3>
            {back(desk)}
        </section>
    }
    .into_any()
}

fn forward(desk: Desk) -> AnyView {
    let hives = Memo::new(move |_| desk.hives());
    // the answer stays true while the honey house changes
    let asked = RwSignal::new(None::<(String, u32)>);
    let form = move || {
        let hives = hives.get();
        let first = hives.first().cloned().unwrap_or_default();
        let options = hives.into_iter().map(|name| (name.clone(), name)).collect();
        let form = Form::of(
            vec![
                ask("of-hive", words::OF_HIVE, Kind::List(options), first),
                ask("of-bar", words::OF_BAR, Kind::Count, ""),
            ],
            desk.units(),
        );
        form.view(("find-jars", words::FIND_JARS), move |form| {
            form.clear();
            asked.set(None);
            let found = form.count("of-bar").and_then(|bar| {
                let hive = form.text("of-hive");
                look(desk, &hive, bar, |_| ())?;
                Ok((hive, bar))
            });
            match found {
                Ok(found) => asked.set(Some(found)),
                Err(wrong) => form.show(wrong),
            }
        })
    };
    let answer = move || {
        let (hive, bar) = asked.get()?;
        desk.seen.track();
        let units = desk.units();
        let found = look(desk, &hive, bar, |jars| jars_found(jars, units)).ok()?;
        Some(view! {
            <div class="found" id="found" role="region" aria-label=words::WHICH_JARS>
                <h4>{words::comb(&hive, &bar.to_string())}</h4>
                {found}
            </div>
        })
    };
    view! { {form} <div aria-live="polite">{answer}</div> }.into_any()
}

fn look<T>(
    desk: Desk,
    hive: &str,
    bar: u32,
    show: impl FnOnce(&Jars<'_>) -> T,
) -> Result<T, Wrong> {
    desk.seen.with_untracked(|seen| {
        let house = &seen.kept.house;
        let jars = desk.yard(|yard| jars_of_bar(yard, house, hive, bar, &clock::day_of))?;
        Ok(show(&jars))
    })
}

fn back(desk: Desk) -> AnyView {
    let place = use_place();
    let form = Form::of(
        vec![ask("jar-mark", words::JAR_MARK, Kind::Text, "")],
        desk.units(),
    );
    form.view(("find-combs", words::FIND_COMBS), move |form| {
        form.clear();
        match form.told("jar-mark") {
            Some(mark) => place.go(Route::Lot(LotName::of(&mark))),
            None => form.show(Wrong::Field("jar-mark", words::NO_MARK.to_owned())),
        }
    })
}

/// Lots and jars that hold some honey, and what is to be called back.
fn jars_found(jars: &Jars<'_>, units: Units) -> AnyView {
    if jars.lots.is_empty() {
        return view! { <p>{words::IN_NO_LOT}</p> }.into_any();
    }
    view! {
        <p class="by-way">{words::by_way(jars.lots.len())} {lot_links(jars.lots.iter().copied())}</p>
        {fillings(jars, units)}
    }
    .into_any()
}

/// Jars that hold some honey, and what is to be called back.
pub(super) fn fillings(jars: &Jars<'_>, units: Units) -> AnyView {
    let fills: Vec<AnyView> = jars.fills.iter().map(|fill| filling(fill, units)).collect();
    let told = if fills.is_empty() {
        words::IN_NO_JAR.to_owned()
    } else {
        words::call_back(jars.with_others(), jars.in_stock())
    };
    view! {
        <p class="call-back">{told}</p>
        <ul class="fills">{fills}</ul>
    }
    .into_any()
}

fn filling(fill: &Filling, units: Units) -> AnyView {
    let handed: Vec<String> = fill
        .handed_to
        .iter()
        .map(|(to, count)| words::went_to(*count, to))
        .collect();
    let handed = (!handed.is_empty()).then(|| view! { <small>{handed.join("; ")}</small> });
    view! {
        <li>
            <b>{fill.fill.to_string()}</b>
            <span>{words::filling(fill.count, &units.jar_words(fill.net()), fill.on)}</span>
            <span>{words::of_them_here(fill.in_stock, fill.with_others())}</span>
            {handed}
        </li>
    }
    .into_any()
}

/// Links to the pages of lots.
pub(super) fn lot_links<'a>(lots: impl Iterator<Item = &'a LotId>) -> AnyView {
    let links = lots.map(|lot| {
        let to = Route::Lot(LotName::of(lot.as_str()));
        let name = lot.to_string();
        view! { " " <Go to class="lot-link">{name}</Go> }.into_any()
    });
    links.collect::<Vec<AnyView>>().into_any()
}

/// Combs by the day on which they were taken.
pub(super) fn combs_found(found: &CombsFound<'_>) -> AnyView {
    if found.combs.is_empty() {
        return view! { <p>{words::NO_OWN_COMBS}</p> }.into_any();
    }
    let mut days: Vec<_> = found.combs.iter().map(|comb| comb.taken.taken_on).collect();
    days.sort_unstable();
    days.dedup();
    let rows = days.into_iter().map(|day| {
        let of_day = found.combs.iter().filter(|comb| comb.taken.taken_on == day);
        let combs = of_day.map(|comb| (comb.taken.hive.as_str(), comb.taken.bar.clone()));
        let combs = house::words::combs(combs);
        view! { <div><dt>{words::taken_on(day)}</dt><dd>{combs}</dd></div> }.into_any()
    });
    let rows: Vec<AnyView> = rows.collect();
    view! { <dl class="account">{rows}</dl> }.into_any()
}
