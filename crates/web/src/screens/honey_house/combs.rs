//! Combs that wait go into a pail.

use std::collections::BTreeSet;
use std::sync::Arc;

use hive::EntryId;
use honey::lots::House;
use house::Taking;
use house::pail::{Which, pail};
use leptos::prelude::*;

use super::ask::{Form, Kind, ask};
use super::desk::{Desk, Make};
use super::tile::tile;
use super::{day, free_name};
use crate::texts::honey_house as words;

type Chosen = RwSignal<BTreeSet<EntryId>>;

/// The section.
pub(super) fn combs(desk: Desk) -> AnyView {
    let chosen: Chosen = RwSignal::new(BTreeSet::new());
    let waiting = Memo::new(move |_| desk.seen.with(|seen| seen.waiting.clone()));
    let list = move || {
        let waiting = waiting.get();
        if waiting.is_empty() {
            return view! { <p class="hint">{words::NO_COMBS}</p> }.into_any();
        }
        let all: BTreeSet<EntryId> = waiting.iter().map(|taking| taking.comb).collect();
        let tiles: Vec<AnyView> = waiting.iter().map(|taking| one(taking, chosen)).collect();
        view! {
            <p class="hint">{words::CHOOSE_COMBS}</p>
            <div class="tiles" role="group" aria-labelledby="combs-head">{tiles}</div>
            <button type="button" id="all-combs" class="quiet-button" on:click=move |_| chosen.set(all.clone())>
                {words::ALL_COMBS}
            </button>
        }
        .into_any()
    };
    // anew when a pail was filled: its name is taken then, and its combs are gone
    let next = Memo::new(move |_| {
        desk.seen.with(|seen| {
            let waits = |taking: &Taking| chosen.with(|chosen| chosen.contains(&taking.comb));
            let some = seen.waiting.iter().any(waits);
            some.then(|| next_pail(&seen.kept.house))
        })
    });
    let into = move || next.get().map(|name| form(desk, name, chosen));
    view! {
        <section id="combs" aria-labelledby="combs-head">
            <h2 id="combs-head" tabindex="-1">{words::COMBS}</h2>
            {list}
            {into}
        </section>
    }
    .into_any()
}

fn next_pail(house: &House) -> String {
    free_name("P", house.pails().iter().map(|pail| pail.pail.as_str()))
}

fn one(taking: &Taking, chosen: Chosen) -> AnyView {
    tile(
        "comb",
        taking.comb,
        words::comb(&taking.hive, &taking.bar.to_string()),
        words::came(taking.on, taking.how),
        chosen,
    )
}

fn form(desk: Desk, name: String, chosen: Chosen) -> AnyView {
    let units = desk.units();
    let form = Form::of(
        vec![
            ask("pail-name", words::PAIL_NAME, Kind::Text, name),
            ask(
                "pail-mass",
                words::COMB_MASS,
                Kind::Figure(units.mass_sign()),
                "",
            )
            .hint(words::COMB_MASS_HINT.to_owned()),
            day(),
        ],
        units,
    );
    let make: Make = Arc::new(move |form, standing| {
        let combs: Vec<EntryId> = chosen.with_untracked(|chosen| chosen.iter().copied().collect());
        let mass = form.mass("pail-mass")?;
        let event = pail(
            standing,
            &form.text("pail-name"),
            &Which::These(combs),
            mass,
        )?;
        Ok(event.into())
    });
    form.view(("fill-pail", words::FILL_PAIL), move |form| {
        desk.record(form, &make);
    })
}
