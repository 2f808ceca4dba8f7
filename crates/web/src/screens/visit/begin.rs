//! Which end is opened.

use hive::entry::End;
use leptos::prelude::*;

use crate::parts::changing;
use crate::room::{Room, tapped_end};
use crate::texts::visit as words;

/// The choice of the end to begin with.
#[component]
pub fn Ends(
    /// The work.
    room: Room,
) -> impl IntoView {
    let buttons = [End::Left, End::Right].map(|end| {
        let id = format!("end-{}", if end == End::Left { "left" } else { "right" });
        view! {
            <button type="button" id=id class="large" on:click=move |_| room.open_end(tapped_end(end))>
                {words::end_button(end)}
            </button>
        }
    });
    view! {
        <section class="begin" aria-labelledby="which-end">
            <h2 id="which-end">{words::WHICH_END}</h2>
            <p>{words::WHICH_END_MORE}</p>
            <div class="two">{buttons.into_iter().collect_view()}</div>
        </section>
    }
}

/// The other end, opened later in the visit.
#[component]
pub fn OtherEnd(
    /// The work.
    room: Room,
) -> impl IntoView {
    changing::view(move || {
        let shown = super::shown(room)?;
        let [end] = shown.ends[..] else { return None };
        let other = end.other();
        Some(view! {
            <button type="button" id="other-end" class="wide plain" on:click=move |_| room.open_end(tapped_end(other))>
                {words::other_end(other)}
            </button>
        })
    })
}
