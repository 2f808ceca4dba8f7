//! The frame of a screen: its heading and its content.

use leptos::html::H1;
use leptos::prelude::*;

use super::go::use_place;

/// A screen. On arrival its heading gets the focus, so that those who hear the page hear where they
/// are.
#[component]
pub fn Screen(
    /// The heading.
    #[prop(into)]
    title: Signal<String>,
    /// The content.
    children: Children,
) -> impl IntoView {
    let heading = NodeRef::<H1>::new();
    let place = use_place();
    Effect::new(move |before: Option<()>| {
        let words = title.get();
        if let Some(document) = crate::browser::document() {
            document.set_title(&format!("{words} \u{b7} {}", crate::texts::APP));
        }
        if before.is_none()
            && place.has_moved()
            && let Some(heading) = heading.get()
        {
            // the focus alone does not bring it into view in every engine
            if let Some(window) = crate::browser::window() {
                window.scroll_to_with_x_and_y(0.0, 0.0);
            }
            // a heading that does not take the focus is still there
            let _ = heading.focus();
        }
    });
    view! {
        <h1 node_ref=heading tabindex="-1">{title}</h1>
        {children()}
    }
}
