//! Pails are emptied into a lot.

use std::collections::BTreeSet;
use std::sync::Arc;

use comb::Mass;
use honey::lots::event::Method;
use honey::lots::{House, Pail, PailId};
use house::lot::{Made, expected, lot};
use house::words::combs;
use leptos::prelude::*;

use super::ask::{Form, Kind, ask, choices};
use super::desk::{Desk, Make};
use super::tile::tile;
use super::{day, next_lot};
use crate::preferences::Units;
use crate::texts::honey_house as words;

type Chosen = RwSignal<BTreeSet<String>>;

fn waiting(house: &House) -> impl Iterator<Item = &Pail> {
    house.pails().iter().filter(|pail| pail.lot.is_none())
}

/// The section.
pub(super) fn pails(desk: Desk) -> AnyView {
    let chosen: Chosen = RwSignal::new(BTreeSet::new());
    let list = move || {
        let units = desk.units();
        let tiles: Vec<AnyView> = desk.seen.with(|seen| {
            let house = &seen.kept.house;
            waiting(house)
                .map(|pail| one(house, pail, units, chosen))
                .collect()
        });
        if tiles.is_empty() {
            return view! { <p class="hint">{words::NO_PAILS}</p> }.into_any();
        }
        view! {
            <p class="hint">{words::CHOOSE_PAILS}</p>
            <div class="tiles wide-tiles" role="group" aria-labelledby="pails-head">{tiles}</div>
        }
        .into_any()
    };
    let next = Memo::new(move |_| {
        desk.seen.with(|seen| {
            let house = &seen.kept.house;
            let some = chosen
                .with(|chosen| waiting(house).any(|pail| chosen.contains(pail.pail.as_str())));
            some.then(|| (next_lot(house), house.seller().country.clone()))
        })
    });
    let into = move || {
        let (name, country) = next.get()?;
        Some(form(desk, name, country, chosen))
    };
    view! {
        <section id="pails" aria-labelledby="pails-head">
            <h2 id="pails-head" tabindex="-1">{words::PAILS}</h2>
            {list}
            {into}
        </section>
    }
    .into_any()
}

/// What is in a pail, in a few words.
pub(super) fn held(house: &House, pail: &PailId) -> String {
    let inside = house.combs().iter().filter(|comb| comb.pail == *pail);
    combs(inside.map(|comb| (comb.taken.hive.as_str(), comb.taken.bar.clone())))
}

fn one(house: &House, pail: &Pail, units: Units, chosen: Chosen) -> AnyView {
    let name = pail.pail.to_string();
    let mass = pail.comb_mass().map(|mass| units.weighed(mass));
    let words = words::pail(&name, mass.as_deref());
    tile("pail", name, words, held(house, &pail.pail), chosen)
}

fn form(desk: Desk, name: String, country: Option<String>, chosen: Chosen) -> AnyView {
    let units = desk.units();
    let kilos = Kind::Figure(units.mass_sign());
    let usual = Signal::derive(move || usual(desk, &chosen.get()).unwrap_or_default());
    let form = Form::of(
        vec![
            ask("lot-name", words::LOT_NAME, Kind::Text, name),
            ask("lot-honey", words::HONEY_MASS, kilos.clone(), "").hint(usual),
            ask("lot-wax", words::WAX, kilos.clone(), ""),
            ask("lot-loss", words::LOSS, kilos, ""),
            ask(
                "lot-country",
                words::COUNTRY,
                Kind::Text,
                country.unwrap_or_default(),
            )
            .hint(words::COUNTRY_HINT.to_owned()),
            day(),
            ask(
                "lot-method",
                words::METHOD,
                Kind::OneOf(choices(&words::METHODS)),
                "drained",
            ),
        ],
        units,
    );
    let make: Make = Arc::new(move |form, standing| {
        let pails: Vec<PailId> = chosen.with_untracked(|chosen| {
            // one that was emptied meanwhile is chosen no more
            let waits = |name: &&String| {
                waiting(standing.house).any(|pail| pail.pail.as_str() == name.as_str())
            };
            let names = chosen.iter().filter(waits);
            names.map(|name| PailId::from(name.as_str())).collect()
        });
        let key = form.text("lot-method");
        let method = words::METHODS.iter().find(|(known, ..)| *known == key);
        let made = Made {
            lot: form.text("lot-name"),
            pails,
            method: method.map_or(Method::Drained, |(_, method, _)| *method),
            honey: form.needed_mass("lot-honey")?,
            wax: form.mass("lot-wax")?,
            loss: form.mass("lot-loss")?,
            country: form.told("lot-country"),
        };
        Ok(lot(standing, made)?.into())
    });
    form.view(("make-lot", words::MAKE_LOT), move |form| {
        desk.record(form, &make);
    })
}

/// What the chosen pails usually give; nothing unless all of them were weighed.
fn usual(desk: Desk, chosen: &BTreeSet<String>) -> Option<String> {
    let units = desk.units();
    desk.seen.with(|seen| {
        let house = &seen.kept.house;
        let masses: Option<Vec<Mass>> = waiting(house)
            .filter(|pail| chosen.contains(pail.pail.as_str()))
            .map(Pail::comb_mass)
            .collect();
        let comb: Mass = masses?.into_iter().sum();
        if comb == Mass::ZERO {
            return None;
        }
        let (low, likely, high) = expected(house).ok()?.of(comb);
        let mass = |mass| units.weighed(mass);
        Some(words::expected(
            &mass(comb),
            &mass(low),
            &mass(likely),
            &mass(high),
        ))
    })
}
