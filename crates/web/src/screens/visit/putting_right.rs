//! Putting a misheard phrase right, where it stands.

use leptos::ev::SubmitEvent;
use leptos::html::Input;
use leptos::prelude::*;

use crate::browser::focus;
use crate::room::Room;
use crate::texts::visit as words;

/// The field with the phrase's words, and what can be done with them.
#[component]
pub fn PuttingRight(
    /// The work.
    room: Room,
    /// The phrase's place among all steps.
    nth: usize,
    /// When it was said, milliseconds since the epoch.
    at_ms: i64,
    /// The words that count now.
    heard: String,
    /// Whether this stands open.
    open: RwSignal<bool>,
) -> impl IntoView {
    let field = NodeRef::<Input>::new();
    Effect::new(move || {
        if let Some(input) = field.get() {
            focus(&input);
            input.select();
        }
    });
    let enter = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(input) = field.get() else { return };
        open.set(false);
        room.put_right(nth, Some(&input.value()));
    };
    let leave_out = move |_| {
        open.set(false);
        room.put_right(nth, None);
    };
    let others = room.other_readings(at_ms).into_iter();
    let others = others.filter(|words| *words != heard);
    let others = others.map(|reading| {
        let told = format!("\u{201c}{reading}\u{201d}");
        let take = move |_| {
            open.set(false);
            room.put_right(nth, Some(&reading));
        };
        view! { <button type="button" class="plain reading" on:click=take>{told}</button> }
    });
    let others = others.collect::<Vec<_>>();
    let others = (!others.is_empty()).then(|| {
        view! { <div class="readings" role="group" aria-label=words::OTHER_READINGS><p>{words::OTHER_READINGS}</p>{others}</div> }
    });
    let id = format!("right-{nth}");
    view! {
        <form class="putting-right" novalidate on:submit=enter>
            {others}
            <label for=id.clone()>{words::RIGHT_WORDS}</label>
            <input id=id node_ref=field value=heard autocomplete="off" autocapitalize="off" enterkeyhint="done" />
            <button type="submit" class="do">{words::PUT_RIGHT}</button>
            <button type="button" class="plain" on:click=leave_out>{words::LEAVE_OUT}</button>
            <button type="button" class="plain" on:click=move |_| open.set(false)>{words::AS_IT_IS}</button>
        </form>
    }
}
