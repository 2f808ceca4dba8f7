//! The honey house: combs into pails, pails into lots, lots into jars, and the way back; and the
//! page of one lot. Everything of it is reached through [`HoneyHouse`].

mod ask;
mod blend;
mod combs;
mod desk;
mod jars;
mod lot_page;
mod lots;
mod mistakes;
mod pails;
mod seller;
mod tile;
mod trace;
mod withheld;

use comb::Mass;
use honey::lots::House;
use leptos::ev::MouseEvent;
use leptos::prelude::*;

use crate::browser::clock;
use crate::parts::empty::Empty;
use crate::parts::go::Go;
use crate::parts::screen::Screen;
use crate::route::{LotName, Route};
use crate::texts;
use crate::texts::honey_house as words;

use ask::{Ask, Kind, ask};
use desk::{DAY, Desk, Seen};

/// The screen.
#[component]
pub fn HoneyHouse(
    /// The lot, or lot mark, whose page it is; without one the whole house.
    lot: Option<LotName>,
) -> impl IntoView {
    let desk = Desk::new();
    match lot {
        Some(lot) => lot_page::lot_page(desk, lot),
        None => whole(desk),
    }
}

fn whole(desk: Desk) -> AnyView {
    // not to be told anew with every entry
    let begun = Memo::new(move |_| desk.seen.with(has_begun));
    let content = move || {
        if begun.get() {
            return stations(desk);
        }
        view! {
            <Empty words=words::EMPTY>
                <div class="acts"><Go to=Route::Visit(None) class="button">{words::TO_A_VISIT}</Go></div>
            </Empty>
            {lots::receive(desk)}
        }
        .into_any()
    };
    view! {
        <Screen title=texts::screen(Route::HoneyHouse)>
            <p class="lead">{words::LEAD}</p>
            {desk.done_line()}
            {mistakes::refused(desk)}
            {content}
        </Screen>
    }
    .into_any()
}

fn has_begun(seen: &Seen) -> bool {
    let house = &seen.kept.house;
    !(seen.waiting.is_empty() && house.pails().is_empty() && house.lots().is_empty())
}

fn stations(desk: Desk) -> AnyView {
    view! {
        {way(desk)}
        {combs::combs(desk)}
        {pails::pails(desk)}
        {lots::lots(desk)}
        {blend::blend(desk)}
        {jars::jars(desk)}
        {trace::trace(desk)}
        {withheld::withheld(desk)}
        {seller::seller(desk)}
        {mistakes::written(desk)}
    }
    .into_any()
}

/// Where the honey is, station by station, each leading to its place on the screen.
fn way(desk: Desk) -> AnyView {
    let stations = move || {
        let units = desk.units();
        desk.seen.with(|seen| {
            let house = &seen.kept.house;
            let combs = seen.waiting.len();
            let pails = house.pails().iter().filter(|pail| pail.lot.is_none());
            let pails = pails.count();
            let full: Vec<Mass> = house.lots().iter().map(honey::lots::Lot::mass).collect();
            let full: Vec<Mass> = full.into_iter().filter(|mass| *mass > Mass::ZERO).collect();
            let (lots, mass) = (full.len(), full.into_iter().sum());
            let jars: u32 = house.fillings().iter().map(|fill| fill.in_stock).sum();
            let each = [
                ("combs-head", combs.to_string(), words::combs_wait(combs)),
                ("pails-head", pails.to_string(), words::pails_wait(pails)),
                ("lots-head", units.mass_words(mass), words::in_lots(lots)),
                ("jars-head", jars.to_string(), words::jars_here(jars)),
            ];
            each.map(|(to, figure, words)| station(to, figure, words))
                .into_iter()
                .collect_view()
        })
    };
    view! { <nav aria-label=words::WAY><ol class="way">{stations}</ol></nav> }.into_any()
}

fn station(to: &'static str, figure: String, words: String) -> AnyView {
    // the address stays, since with it the whole screen would be drawn anew
    let go = move |event: MouseEvent| {
        event.prevent_default();
        let page = crate::browser::document();
        if let Some(head) = page.and_then(|page| page.get_element_by_id(to)) {
            head.scroll_into_view();
            crate::browser::focus(&head);
        }
    };
    view! { <li><a href=format!("#{to}") on:click=go><b>{figure}</b><span>{words}</span></a></li> }
        .into_any()
}

/// The day on which it happened; today unless it is changed.
fn day() -> Ask {
    ask(DAY, words::DAY, Kind::Day, clock::today().to_string())
}

/// The next name of a new lot: the year and a number.
fn next_lot(house: &House) -> String {
    let year = clock::today().year() % 100;
    let names = house.lots().iter().map(|lot| lot.lot.as_str());
    free_name(&format!("{year:02}-"), names)
}

/// The first name of its kind that is not taken.
fn free_name<'a>(start: &str, taken: impl Iterator<Item = &'a str>) -> String {
    let taken: Vec<&str> = taken.collect();
    // one of one more than there are is free
    (1..=taken.len() + 1)
        .map(|number| format!("{start}{number}"))
        .find(|name| !taken.contains(&name.as_str()))
        .unwrap_or_default()
}
