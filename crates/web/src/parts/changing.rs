//! Parts of a view that change, all of one kind.
//!
//! For each closure in a view the framework compiles its machinery anew, 3 to 13 kB a time. Closures
//! that are boxed here share it, and the app is that much sooner on a phone.

use std::sync::{Arc, Mutex};

use leptos::prelude::*;
use leptos::tachys::reactive_graph::SharedReactiveFunction;

/// Something in a view that is made anew when what it reads changes.
pub type Changing<T> = SharedReactiveFunction<T>;

/// A piece of the page.
pub fn view<V: IntoView + 'static>(
    mut of: impl FnMut() -> V + Send + 'static,
) -> Changing<AnyView> {
    value(move || of().into_any())
}

/// Words or the value of an attribute.
pub fn value<T>(of: impl FnMut() -> T + Send + 'static) -> Changing<T> {
    Arc::new(Mutex::new(of))
}
