//! All hives: what each needs next and why, the days ahead, what to carry.

mod card;
mod days;
mod glance;

use advice::needs::{Need, Needs, needs, next};
use advice::{AdviceError, carry::carry};
use comb::order::InOrder as _;
use hive::{Hive, Yard};
use jiff::ZonedDateTime;
use leptos::prelude::*;
use paper::HiveSection;

use crate::advised::{advice_on, section_of};
use crate::browser::clock;
use crate::journal::use_journal;
use crate::parts::changing;
use crate::parts::empty::Empty;
use crate::parts::go::Go;
use crate::parts::pairing::NotPaired;
use crate::parts::screen::Screen;
use crate::preferences::DaysAhead;
use crate::reserves::{Reserves, use_reserves};
use crate::route::Route;
use crate::texts;

use card::HiveCard;
use days::Days;
use glance::glance;

/// One hive as the screen shows it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Card {
    pub(super) needs: Needs,
    pub(super) next: Vec<Need>,
    pub(super) carry: Vec<String>,
    pub(super) section: HiveSection,
    pub(super) visit_open: bool,
}

/// A hive on which no advice can be given still stands in the list.
type CardOf = Result<Card, (String, hive::HiveId, AdviceError)>;

/// The screen.
#[component]
pub fn Apiary() -> impl IntoView {
    let journal = use_journal();
    let days = expect_context::<RwSignal<DaysAhead>>();
    let reserves = use_reserves();
    let cards = Memo::new(move |_| {
        let now = clock::now_here();
        let days = days.get();
        journal.yard.with(|yard| cards(yard, &days, reserves, &now))
    });
    let faults = changing::view(move || {
        let count = journal
            .yard
            .with(|yard| yard.faults().filter(|fault| !fault.applied).count());
        (count > 0).then(|| {
            view! { <p class="notice calm"><Go to=Route::Records>{texts::apiary::faults(count)}</Go></p> }
        })
    });
    let content = changing::view(move || {
        let cards = cards.get();
        if cards.is_empty() {
            return view! {
                <Empty words=texts::apiary::EMPTY>
                    <div class="acts">
                        <Go to=Route::NewHive class="button">{texts::apiary::NEW_HIVE}</Go>
                        <Go to=Route::Records class="button quiet-button">{texts::apiary::OR_IMPORT}</Go>
                    </div>
                </Empty>
            }
            .into_any();
        }
        view! {
            <Days />
            {faults.clone()}
            {glance(&cards)}
            {places(&cards)}
            <div class="acts">
                <Go to=Route::NewHive class="button quiet-button">{texts::apiary::NEW_HIVE}</Go>
                <Go to=Route::HoneyHouse class="button quiet-button">{texts::screen(Route::HoneyHouse)}</Go>
            </div>
            <details class="safety">
                <summary>{texts::apiary::SAFETY}</summary>
                <ul>
                    {advice::opening::SAFETY_LINES.map(|line| view! { <li>{line}</li> }).collect_view()}
                </ul>
            </details>
        }
        .into_any()
    });
    view! { <Screen title=texts::screen(Route::Apiary)><NotPaired /> {content}</Screen> }
}

fn cards(yard: &Yard, days: &DaysAhead, reserves: Reserves, now: &ZonedDateTime) -> Vec<CardOf> {
    let mut cards: Vec<CardOf> = yard
        .living_hives()
        .into_iter()
        .map(|hive| {
            card(yard, hive, days, reserves, now).map_err(|why| (hive.name.clone(), hive.id, why))
        })
        .collect();
    let place = |card: &CardOf| {
        card.as_ref()
            .ok()
            .and_then(|card| card.needs.apiary.clone())
    };
    // those in no apiary come last
    cards.order_by_key(|card| (place(card).is_none(), place(card)));
    cards
}

fn card(
    yard: &Yard,
    hive: &Hive,
    days: &DaysAhead,
    reserves: Reserves,
    now: &ZonedDateTime,
) -> Result<Card, AdviceError> {
    let advice = advice_on(yard, hive, days, reserves.of(hive.id), now)?;
    Ok(Card {
        needs: needs(yard, hive, &advice, now),
        next: next(hive, &advice, now, &texts::days::day),
        carry: carry(hive, advice.may_take.len()),
        section: section_of(hive, Some(&advice), now),
        visit_open: hive.open_visit().is_some(),
    })
}

/// The hives under the names of their apiaries.
fn places(cards: &[CardOf]) -> impl IntoView + use<> {
    let place_of = |card: &CardOf| {
        card.as_ref()
            .ok()
            .and_then(|card| card.needs.apiary.clone())
    };
    let places = cards.chunk_by(|one, next| place_of(one) == place_of(next));
    let places = places.map(|cards| {
        let name = cards.first().and_then(place_of);
        let name = name.unwrap_or_else(|| texts::apiary::NO_APIARY.to_owned());
        let cards = cards.iter().cloned().map(one_hive).collect_view();
        view! { <h2>{name}</h2> <div class="cards">{cards}</div> }
    });
    places.collect_view()
}

fn one_hive(card: CardOf) -> AnyView {
    match card {
        Ok(card) => view! { <HiveCard card /> }.into_any(),
        Err((name, hive, why)) => view! {
            <article class="card">
                <h3><Go to=Route::Hive(Some(hive))>{name}</Go></h3>
                <p class="wrong">{texts::apiary::no_advice(&why.to_string())}</p>
            </article>
        }
        .into_any(),
    }
}
