//! A sleep that can be cut short.

use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;

use js_sys::{Function, Promise};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

use super::window;

/// A sleeper and its waker; clones wake the same sleeper.
#[derive(Clone, Default)]
pub struct Nap {
    state: Rc<RefCell<State>>,
}

#[derive(Default)]
struct State {
    wake: Option<Function>,
    woken: bool,
}

impl Nap {
    /// Sleeps so long, or until woken. Woken before, it does not sleep at all.
    pub async fn sleep(&self, longest: Duration) {
        if std::mem::take(&mut self.state.borrow_mut().woken) {
            return;
        }
        let sleeping = Promise::new(&mut |resolve, _| {
            let millis = i32::try_from(longest.as_millis()).unwrap_or(i32::MAX);
            if let Some(window) = window() {
                // without a timer it sleeps until woken
                let _ =
                    window.set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, millis);
            }
            self.state.borrow_mut().wake = Some(resolve);
        });
        // it is never rejected
        let _ = JsFuture::from(sleeping).await;
        *self.state.borrow_mut() = State::default();
    }

    /// Wakes the sleeper, or keeps it from its next sleep.
    pub fn wake(&self) {
        let wake = {
            let mut state = self.state.borrow_mut();
            state.woken = true;
            state.wake.take()
        };
        if let Some(wake) = wake {
            // resolving a promise cannot fail
            let _ = wake.call0(&JsValue::NULL);
        }
    }
}
