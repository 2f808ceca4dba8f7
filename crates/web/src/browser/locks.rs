//! One tab at a time (Web Locks; the bindings still call them unstable, so they are reached by name).

use std::cell::RefCell;
use std::future::Future;
use std::rc::Rc;

use js_sys::{Array, Promise};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, future_to_promise};

use super::{leaving, reflect, window};

/// Does the work while no other tab does work of that name; waits its turn. Where the browser has no
/// locks the work is done at once: it must be safe to be done twice, only wasteful. A page that is left
/// gives its turn back, whatever becomes of the work, and asks for none.
pub async fn alone<T: 'static>(name: &str, work: impl Future<Output = T> + 'static) -> T {
    let locks = window().and_then(|window| reflect::get(&window.navigator(), "locks"));
    let request = locks
        .as_ref()
        .and_then(|locks| reflect::method(locks, "request"));
    let (Some(locks), Some(request)) = (locks, request) else {
        return work.await;
    };
    let result: Rc<RefCell<Option<T>>> = Rc::default();
    let work: Rc<RefCell<Option<_>>> = Rc::new(RefCell::new(Some(work)));
    let (into, held) = (Rc::clone(&result), Rc::clone(&work));
    let turn = Closure::once(move |_lock: JsValue| -> Promise {
        let done = future_to_promise(async move {
            let work = held.borrow_mut().take();
            if let Some(work) = work {
                let done = work.await;
                into.borrow_mut().replace(done);
            }
            Ok(JsValue::UNDEFINED)
        });
        Promise::race(&Array::of2(&done, &leaving::left()))
    });
    let options = reflect::object(&[("signal", leaving::signal().into())]);
    let asked = request.call3(
        &locks,
        &JsValue::from_str(name),
        &options,
        turn.as_ref().unchecked_ref(),
    );
    if let Ok(Ok(promise)) = asked.map(JsCast::dyn_into::<Promise>) {
        // refused or broken off: the work is done below
        let _ = JsFuture::from(promise).await;
    }
    let done = result.borrow_mut().take();
    let left = work.borrow_mut().take();
    match (done, left) {
        (Some(done), _) => done,
        (None, Some(work)) if !leaving::leaving() => work.await,
        (None, _) => std::future::pending().await,
    }
}
