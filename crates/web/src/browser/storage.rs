//! A few words kept beside the journal, and the promise to keep the journal.

use wasm_bindgen_futures::JsFuture;

use super::window;

/// A kept word.
pub fn get(name: &str) -> Option<String> {
    window()?.local_storage().ok()??.get_item(name).ok()?
}

/// Keeps a word; where the browser refuses, it is forgotten at the end of the day, no more.
pub fn set(name: &str, word: &str) {
    if let Some(storage) = window().and_then(|window| window.local_storage().ok()?) {
        let _ = storage.set_item(name, word);
    }
}

/// A kept switch, or how it stands where none is kept.
pub fn get_switch(name: &str, usual: bool) -> bool {
    get(name).map_or(usual, |word| word == ON)
}

/// Keeps a switch.
pub fn set_switch(name: &str, on: bool) {
    set(name, if on { ON } else { OFF });
}

const ON: &str = "on";
const OFF: &str = "off";

/// Asks the browser to keep what is stored even when room gets short; whether it will.
pub async fn persist() -> bool {
    let Some(window) = window() else { return false };
    let storage = window.navigator().storage();
    let Ok(asked) = storage.persist() else {
        return false;
    };
    JsFuture::from(asked)
        .await
        .is_ok_and(|granted| granted.is_truthy())
}

/// How many bytes the browser still gives to this app; `None` where it does not say.
pub async fn room() -> Option<f64> {
    let asked = window()?.navigator().storage().estimate().ok()?;
    let told = JsFuture::from(asked).await.ok()?;
    let number = |name| super::reflect::get(&told, name)?.as_f64();
    Some(number("quota")? - number("usage")?)
}
