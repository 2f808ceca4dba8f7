//! Answers aloud, by the browser's speech synthesis.

use std::cell::{Cell, RefCell};

use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;

use crate::browser::window;

/// A little faster than reading: the hive is open.
const RATE: f32 = 1.1;

/// What is being said, and what is told at its end.
type Said = (web_sys::SpeechSynthesisUtterance, Closure<dyn FnMut()>);

thread_local! {
    // browsers drop an utterance that nobody holds, and its end is never told
    static SPOKEN: RefCell<Option<Said>> =
        const { RefCell::new(None) };
    static PRIMED: Cell<bool> = const { Cell::new(false) };
}

/// Says it, in place of what was being said; false when the browser cannot.
pub(super) fn say(words: &str, language: &str, ended: impl Fn() + 'static) -> bool {
    let Some(synthesis) = synthesis() else {
        return false;
    };
    let Ok(utterance) = web_sys::SpeechSynthesisUtterance::new_with_text(words) else {
        return false;
    };
    utterance.set_lang(language);
    utterance.set_rate(RATE);
    let ended = Closure::<dyn FnMut()>::new(ended);
    utterance.set_onend(Some(ended.as_ref().unchecked_ref()));
    utterance.set_onerror(Some(ended.as_ref().unchecked_ref()));
    synthesis.cancel();
    synthesis.speak(&utterance);
    SPOKEN.with(|spoken| {
        if let Some((former, _)) = spoken.borrow_mut().replace((utterance, ended)) {
            // its end would be taken for that of the new one
            former.set_onend(None);
            former.set_onerror(None);
        }
    });
    true
}

/// Makes speech possible; must be called while a touch is handled. Some phones say nothing that is first
/// asked for outside a touch, and answers come when the keeper has spoken. Nothing is heard of it.
pub(super) fn prime() {
    let (Some(synthesis), false) = (synthesis(), PRIMED.get()) else {
        return;
    };
    // what is being said proves that it can be
    PRIMED.set(true);
    if synthesis.speaking() || synthesis.pending() {
        return;
    }
    if let Ok(utterance) = web_sys::SpeechSynthesisUtterance::new_with_text(" ") {
        utterance.set_volume(0.0);
        synthesis.speak(&utterance);
    }
}

/// Says no more.
pub(super) fn hush() {
    if let Some(synthesis) = synthesis() {
        synthesis.cancel();
    }
}

fn synthesis() -> Option<web_sys::SpeechSynthesis> {
    window()?.speech_synthesis().ok()
}
