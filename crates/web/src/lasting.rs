//! What lives as long as the app, though it is made by a part of it that comes later.

use leptos::prelude::*;

/// The app's own owner; provided by [`crate::app::App`].
#[derive(Clone)]
pub struct Lasting(Owner);

impl Lasting {
    /// To be called in the app itself.
    pub fn provide() {
        provide_context(Self(Owner::current().unwrap_or_default()));
    }

    /// Makes a context of the app's, unless there is one, and does something with what was made.
    pub fn keep<T: Clone + Send + Sync + 'static>(
        &self,
        make: impl FnOnce() -> T,
        then: impl FnOnce(T),
    ) {
        self.0.with(|| {
            if use_context::<T>().is_none() {
                let kept = make();
                provide_context(kept.clone());
                then(kept);
            }
        });
    }
}

/// What lives as long as the app, from anywhere below it.
pub fn use_lasting() -> Lasting {
    expect_context()
}
