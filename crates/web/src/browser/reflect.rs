//! Reaches what the bindings do not offer, without leave to crash.

use js_sys::{Function, Reflect};
use wasm_bindgen::{JsCast as _, JsValue};

/// A property, if it is there.
pub fn get(of: &JsValue, name: &str) -> Option<JsValue> {
    let value = Reflect::get(of, &JsValue::from_str(name)).ok()?;
    (!value.is_undefined() && !value.is_null()).then_some(value)
}

/// A method, if it is there.
pub fn method(of: &JsValue, name: &str) -> Option<Function> {
    get(of, name)?.dyn_into().ok()
}

/// A plain object with these properties.
pub fn object(properties: &[(&str, JsValue)]) -> JsValue {
    let object = js_sys::Object::new();
    for (name, value) in properties {
        // setting on a fresh plain object cannot be refused
        let _ = Reflect::set(&object, &JsValue::from_str(name), value);
    }
    object.into()
}
