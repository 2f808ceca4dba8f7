//! What the browser gives: clock, randomness, small storage, files, locks. Each call is safe where
//! the browser refuses: it gives nothing, or an error with its words.

pub mod clock;
pub mod faults;
pub mod files;
pub mod frame;
pub mod leaving;
pub mod locks;
pub mod nap;
pub mod reflect;
pub mod storage;
pub mod wake;

/// The window.
pub fn window() -> Option<web_sys::Window> {
    web_sys::window()
}

/// The document.
pub fn document() -> Option<web_sys::Document> {
    window()?.document()
}

/// Languages that the browser is set to, the best first, as BCP 47 tags.
pub fn languages() -> Vec<String> {
    let set = window().map(|window| window.navigator().languages());
    let set = set.into_iter().flatten();
    set.filter_map(|tag| tag.as_string()).collect()
}

/// A JavaScript value's own words, for a log or a sentence.
pub fn words(value: &wasm_bindgen::JsValue) -> String {
    let text = reflect::get(value, "message").and_then(|message| message.as_string());
    text.or_else(|| value.as_string())
        .unwrap_or_else(|| "no reason given".to_owned())
}

/// Brings the element of this id into view.
pub fn scroll_to(id: &str) {
    if let Some(element) = document().and_then(|document| document.get_element_by_id(id)) {
        element.scroll_into_view();
    }
}

/// Has the browser print the screen, where it can.
pub fn print() {
    if let Some(window) = window()
        && let Some(print) = reflect::method(&window, "print")
    {
        let _ = print.call0(&window);
    }
}

/// Gives the focus to an element; one that does not take it is still there.
pub fn focus(element: &web_sys::Element) {
    if let Some(focus) = reflect::method(element, "focus") {
        let _ = focus.call0(element);
    }
}

/// Marks this moment on the page's own clock, for measuring.
pub fn mark(name: &str) {
    if let Some(performance) = window().and_then(|window| window.performance()) {
        // a mark that is refused is only missing in a measurement
        let _ = performance.mark(name);
    }
}
