//! One of several things that are chosen by touching them.

use std::collections::BTreeSet;
use std::fmt::Display;

use leptos::prelude::*;

/// A thing and what is to be known of it; `of` names the group.
pub(super) fn tile<Key>(
    of: &'static str,
    key: Key,
    name: String,
    more: String,
    chosen: RwSignal<BTreeSet<Key>>,
) -> AnyView
where
    Key: Ord + Clone + Display + Send + Sync + 'static,
{
    let value = key.to_string();
    let mine = key.clone();
    let turn = move |event| {
        let on = event_target_checked(&event);
        chosen.update(|chosen| {
            if on {
                chosen.insert(key.clone());
            } else {
                chosen.remove(&key);
            }
        });
    };
    view! {
        <label class="tile">
            <input type="checkbox" name=of value=value on:change=turn
                prop:checked=move || chosen.with(|chosen| chosen.contains(&mine)) />
            <span>{name} <small>{more}</small></span>
        </label>
    }
    .into_any()
}
