//! What happens when the program itself is at fault.

use super::document;

/// Writes panics to the console and marks the page, so that the style sheet shows the words that
/// stand ready in it: nothing kept is lost, reload.
pub fn show_panics() {
    std::panic::set_hook(Box::new(|info| {
        leptos::logging::error!("{info}");
        if let Some(root) = document().and_then(|d| d.document_element()) {
            // nothing more can be done from here
            let _ = root.set_attribute("data-broken", "yes");
        }
    }));
}
