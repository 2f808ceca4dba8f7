//! Answers aloud, by the browser's speech synthesis.

use std::cell::RefCell;

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

/// Says no more.
pub(super) fn hush() {
    if let Some(synthesis) = synthesis() {
        synthesis.cancel();
    }
}

fn synthesis() -> Option<web_sys::SpeechSynthesis> {
    window()?.speech_synthesis().ok()
}
