//! Where the entries are, always in sight, in a few words.

use leptos::prelude::*;

use super::changing;
use crate::journal::{Link, use_journal};
use crate::texts;

/// The state in the bar.
#[component]
pub fn LinkState() -> impl IntoView {
    let journal = use_journal();
    let kind = changing::value(move || match journal.link.get() {
        Link::Unknown | Link::Busy => "link busy",
        Link::WithServer => "link there",
        Link::HereOnly(_) => "link here",
    });
    let words = changing::value(move || {
        journal
            .link
            .with(|link| texts::link(link, journal.waiting.get()))
    });
    view! { <p class=kind role="status" id="link-state">{words}</p> }
}
