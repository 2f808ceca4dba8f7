//! Nothing there yet: says so, and what comes next.

use leptos::prelude::*;

/// An empty state.
#[component]
pub fn Empty(
    /// What is missing, and what comes next.
    words: [&'static str; 2],
    /// What can be done about it.
    #[prop(optional)]
    children: Option<Children>,
) -> impl IntoView {
    view! {
        <div class="empty">
            <svg class="empty-comb" viewBox="0 0 120 80" aria-hidden="true" focusable="false">
                <path class="empty-bar" d="M4 12h112v8H4z" />
                <path class="empty-line" d="M22 20 32 66q28 10 56 0L98 20" />
            </svg>
            <p class="empty-head">{words[0]}</p>
            <p>{words[1]}</p>
            {children.map(|children| children())}
        </div>
    }
}
