//! The comb in hand: two faces, what it holds, the verdict, and what is done with it.

use comb::Mass;
use leptos::prelude::*;
use talk::Tap;
use talk::act::{Act, Decision, Hold, Side};

use super::face::Face;
use crate::parts::afterwards::next_frame;
use crate::parts::changing;
use crate::preferences::Units;
use crate::room::Room;
use crate::texts::visit as words;

/// The comb in hand.
#[component]
pub fn Comb(
    /// The work.
    room: Room,
) -> impl IntoView {
    let there = super::part(room, |shown| shown.in_hand.is_some());
    changing::view(move || {
        if there.get() == Some(true) {
            view! { <InHand room /> }.into_any()
        } else {
            view! {
                <section class="comb">
                    <h2 id="in-hand">{words::NO_COMB}</h2>
                    <p>{words::NO_COMB_MORE}</p>
                </section>
            }
            .into_any()
        }
    })
}

#[component]
fn InHand(
    /// The work.
    room: Room,
) -> impl IntoView {
    let comb = super::part(room, |shown| shown.in_hand.clone());
    let comb = move || comb.get().flatten();
    let units = expect_context::<RwSignal<Units>>();
    let name = changing::value(move || comb().map(|comb| words::in_hand(&comb)));
    let decided = changing::value(move || {
        comb().map(|comb| {
            let kg = comb
                .kg
                .map(|kg| format!(" \u{b7} {}", units.get().told_in().mass_words(Mass::kg(kg))));
            format!("{}{}", words::decided(&comb), kg.unwrap_or_default())
        })
    });
    let verdict = changing::view(move || {
        let comb = comb()?;
        let taking = comb.taking?;
        let class = match taking {
            advice::taking::Taking::MayBeTaken => "verdict take",
            advice::taking::Taking::LookFirst => "verdict look",
            _ => "verdict stay",
        };
        Some(view! {
            <p class=class id="verdict" role="status">
                <b>{words::taking(taking)}</b> <span>{comb.verdict}</span>
            </p>
        })
    });
    let loose = changing::view(move || {
        let told = words::loose(comb()?.loose?);
        Some(view! { <p class="notice calm" id="loose" role="status">{told}</p> })
    });
    // a slow phone takes longer to build these for the first comb than to say what the rules say of it
    let built = next_frame();
    let hands = changing::view(move || {
        built.get().then(|| {
            view! {
                <div class="faces">
                    <Face room side=Side::This />
                    <Face room side=Side::Other />
                </div>
                <Doing room />
                <Holds room />
            }
        })
    });
    view! {
        <section class="comb" aria-labelledby="in-hand">
            <div class="comb-head">
                <h2 id="in-hand">{name}</h2>
                <p class="decided">{decided}</p>
            </div>
            {verdict}
            {loose}
            {hands}
        </section>
    }
}

/// What it holds.
#[component]
fn Holds(
    /// The work.
    room: Room,
) -> impl IntoView {
    let holds = super::part(room, |shown| {
        shown
            .in_hand
            .as_ref()
            .map(|comb| comb.holds.clone())
            .unwrap_or_default()
    });
    let holds_it = move |hold: Hold| holds.get().is_some_and(|holds| holds.contains(&hold));
    let chips = words::HOLD_CHOICES.map(|(hold, name)| {
        let toggle = move |_| {
            let act = if holds_it(hold) { Act::HoldsNot(hold) } else { Act::Holds(hold) };
            room.tap(Tap::Tell(act));
        };
        let pressed = changing::value(move || if holds_it(hold) { "true" } else { "false" });
        view! { <button type="button" class="chip" aria-pressed=pressed on:click=toggle>{name}</button> }
    });
    let queen = move |_| room.tap(Tap::Tell(Act::QueenSeen));
    view! {
        <fieldset class="holds">
            <legend>{words::HOLDS}</legend>
            {chips.into_iter().collect_view()}
            <button type="button" class="chip" on:click=queen>{words::QUEEN}</button>
        </fieldset>
    }
}

/// What is done with it.
#[component]
fn Doing(
    /// The work.
    room: Room,
) -> impl IntoView {
    let comb = super::part(room, |shown| {
        shown
            .in_hand
            .as_ref()
            .map(|comb| (comb.decision, comb.aside, comb.whole))
    });
    let now = move || comb.get().flatten();
    let button = move |id: &'static str,
                       name: &'static str,
                       more: &'static str,
                       act: Act,
                       on: Option<(Option<Decision>, bool, bool)>| {
        let pressed =
            changing::value(move || on.is_some_and(|on| now() == Some(on)).then_some("true"));
        view! {
            <button type="button" id=id class="do" aria-pressed=pressed
                on:click=move |_| room.tap(Tap::Tell(act.clone()))>
                <b>{name}</b> <span>{more}</span>
            </button>
        }
    };
    let take = Act::Decided(Some(Decision::Take));
    let leave = Act::Decided(Some(Decision::Leave));
    let (taken, whole) = (
        (Some(Decision::Take), false, false),
        (Some(Decision::Take), false, true),
    );
    let (left, aside) = ((Some(Decision::Leave), false, false), (None, true, false));
    view! {
        <fieldset class="doing">
            <legend>{words::DO}</legend>
            {button("take", words::TAKE, words::TAKE_MORE, take, Some(taken))}
            {button("leave", words::LEAVE, words::LEAVE_MORE, leave, Some(left))}
            {button("set-aside", words::SET_ASIDE, words::SET_ASIDE_MORE, Act::Decided(None), Some(aside))}
            {button("take-whole", words::TAKE_WHOLE, words::TAKE_WHOLE_MORE, Act::TakenWhole, Some(whole))}
            {button("turn", words::TURN, words::TURN_MORE, Act::Turned, None)}
            {button("came-off", words::CAME_OFF, words::CAME_OFF_MORE, Act::Broke, None)}
        </fieldset>
    }
}

/// Always at the thumb: take back, go on.
#[component]
pub fn Bottom(
    /// The work.
    room: Room,
) -> impl IntoView {
    let state = super::part(room, |shown| {
        (shown.can_undo, shown.next, !shown.ends.is_empty())
    });
    let can_undo = move || state.get().is_some_and(|(can, ..)| can);
    let opened = move || state.get().is_some_and(|(.., opened)| opened);
    let next = move || state.get().and_then(|(_, next, _)| next);
    view! {
        <div class="bottom-bar three">
            <super::listen::Listen room />
            <button type="button" id="undo" class="plain" disabled=move || !can_undo() on:click=move |_| room.undo()>
                {words::UNDO}
            </button>
            <button type="button" id="next" class="do" disabled=move || !opened()
                on:click=move |_| room.tap(Tap::Meet { bar: next() })>
                <b>{words::NEXT}</b> <span>{move || words::next(next())}</span>
            </button>
        </div>
    }
}
