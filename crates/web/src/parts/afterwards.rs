//! What may stand on the screen a moment later than the rest.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::{frame, nap::Nap};

/// Follows a value, but only once the screen has shown what else changed with it: the keeper waits for
/// the words, and a picture takes a slow phone longer than they do. Of values that come while it waits
/// only the last is taken over.
pub fn afterwards<T>(of: impl Fn() -> T + Send + Sync + 'static) -> Signal<T>
where
    T: Clone + PartialEq + Send + Sync + 'static,
{
    let followed = Memo::new(move |_| of());
    let shown = RwSignal::new(followed.get_untracked());
    let waits = StoredValue::new(false);
    Effect::new(move || {
        followed.track();
        if waits.get_value() || followed.with_untracked(|now| shown.with_untracked(|it| it == now))
        {
            return;
        }
        waits.set_value(true);
        spawn_local(async move {
            frame::painted(&Nap::default()).await;
            // the screen may have been left meanwhile
            if let Some(now) = followed.try_get_untracked() {
                waits.try_set_value(false);
                shown.try_set(now);
            }
        });
    });
    shown.into()
}

/// False until the screen has shown what stands there without it.
pub fn next_frame() -> Signal<bool> {
    let shown = RwSignal::new(false);
    spawn_local(async move {
        frame::painted(&Nap::default()).await;
        // the screen may have been left meanwhile
        shown.try_set(true);
    });
    shown.into()
}
