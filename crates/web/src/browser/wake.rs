//! Keeps the screen awake (Screen Wake Lock), as long as the guard lives.

use std::cell::RefCell;
use std::rc::Rc;

use js_sys::Promise;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

use super::{document, reflect, window};

/// The guard; dropped, the screen may sleep again.
pub struct Awake {
    lock: Rc<RefCell<Held>>,
    seen: Closure<dyn FnMut()>,
}

#[derive(Default)]
struct Held {
    lock: Option<JsValue>,
    over: bool,
}

impl Awake {
    /// Asks for it; `None` where the browser cannot. A page that was put away and comes back asks
    /// again: the browser lets go meanwhile.
    pub fn keep() -> Option<Self> {
        let wake_lock = reflect::get(&window()?.navigator(), "wakeLock")?;
        let lock: Rc<RefCell<Held>> = Rc::default();
        let ask = {
            let lock = Rc::clone(&lock);
            move || request(&wake_lock, &lock)
        };
        ask();
        let seen = Closure::<dyn FnMut()>::new(move || {
            if document().is_some_and(|document| !document.hidden()) {
                ask();
            }
        });
        let document = document()?;
        let heard = seen.as_ref().unchecked_ref();
        // without it the screen sleeps after the page was put away once
        let _ = document.add_event_listener_with_callback("visibilitychange", heard);
        Some(Self { lock, seen })
    }
}

fn request(wake_lock: &JsValue, into: &Rc<RefCell<Held>>) {
    let Some(request) = reflect::method(wake_lock, "request") else {
        return;
    };
    let Ok(asked) = request.call1(wake_lock, &JsValue::from_str("screen")) else {
        return;
    };
    let into = Rc::clone(into);
    spawn_local(async move {
        // refused (little battery left, for instance), the screen sleeps as it is set
        let Ok(lock) = JsFuture::from(Promise::resolve(&asked)).await else {
            return;
        };
        let over = into.borrow().over;
        if over {
            release(&lock);
        } else {
            into.borrow_mut().lock = Some(lock);
        }
    });
}

fn release(lock: &JsValue) {
    if let Some(release) = reflect::method(lock, "release") {
        // it ends with the page at the latest
        let _ = release.call0(lock);
    }
}

impl Drop for Awake {
    fn drop(&mut self) {
        if let Some(document) = document() {
            let seen = self.seen.as_ref().unchecked_ref();
            let _ = document.remove_event_listener_with_callback("visibilitychange", seen);
        }
        let mut held = self.lock.borrow_mut();
        held.over = true;
        if let Some(lock) = held.lock.take() {
            release(&lock);
        }
    }
}
