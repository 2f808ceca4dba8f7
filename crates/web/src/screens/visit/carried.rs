//! Where combs go that were carried away on their bars.

use hive::HiveId;
use leptos::prelude::*;

use crate::parts::changing;
use crate::room::{Goal, Room};
use crate::texts::visit as words;

/// Hives shown at once; in a large yard the others are a tap away (our own choice).
const AT_ONCE: usize = 8;

/// The question, once a comb was carried away.
#[component]
pub fn Carried(
    /// The work.
    room: Room,
) -> impl IntoView {
    let any = super::part(room, |shown| !shown.carried.bars.is_empty());
    changing::view(move || (any.get() == Some(true)).then(|| view! { <Question room /> }))
}

#[component]
fn Question(
    /// The work.
    room: Room,
) -> impl IntoView {
    let carried = super::part(room, |shown| shown.carried.clone());
    let carried = move || carried.get().unwrap_or_default();
    let chosen = Memo::new(move |_| carried().to);
    let all = Memo::new(move |_| room.goals().unwrap_or_default());
    let heading = changing::value(move || words::carried(&carried().bars));
    let legend = changing::value(move || words::they_go_to(&carried().bars));
    let more = changing::value(move || {
        let carried = carried();
        let fresh = all.with(|all| {
            all.iter()
                .any(|goal| Some(goal.hive) == carried.to && goal.fresh)
        });
        words::carried_more(&carried, fresh)
    });
    let button = move |id: String, name: String, to: Option<HiveId>| {
        let pressed = changing::value(move || if chosen.get() == to { "true" } else { "false" });
        view! {
            <button type="button" id=id class="chip" aria-pressed=pressed
                on:click=move |_| room.carry_to(to, None)>{name}</button>
        }
    };
    let hives = changing::view(move || {
        let mut all = all.get();
        let rest = all.split_off(all.len().min(AT_ONCE));
        let buttons = move |goals: Vec<Goal>| {
            let button =
                |goal: Goal| button(format!("goes-to-{}", goal.hive), goal.name, Some(goal.hive));
            goals.into_iter().map(button).collect_view()
        };
        let open = rest
            .iter()
            .any(|goal| Some(goal.hive) == chosen.get_untracked());
        let rest = (!rest.is_empty()).then(|| {
            view! {
                <details class="measures" open=open>
                    <summary>{words::MORE_HIVES}</summary>
                    <div class="goals">{buttons(rest)}</div>
                </details>
            }
        });
        view! {
            <div class="goals">
                {button("goes-nowhere".to_owned(), words::NO_HIVE_OF_YARD.to_owned(), None)}
                {buttons(all)}
            </div>
            {rest}
        }
    });
    view! {
        <section class="carried" id="carried" aria-labelledby="carried-head">
            <h2 id="carried-head">{heading}</h2>
            <fieldset class="holds goals-of">
                <legend>{legend}</legend>
                {hives}
            </fieldset>
            <p role="status">{more}</p>
        </section>
    }
}
