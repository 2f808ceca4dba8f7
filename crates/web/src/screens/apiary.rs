//! All hives.

use leptos::prelude::*;

use crate::journal::use_journal;
use crate::parts::empty::Empty;
use crate::parts::go::Go;
use crate::parts::screen::Screen;
use crate::route::Route;
use crate::texts;

/// The screen.
#[component]
pub fn Apiary() -> impl IntoView {
    let journal = use_journal();
    let hives = move || {
        journal.yard.with(|yard| {
            yard.living_hives()
                .iter()
                .map(|hive| (hive.id, hive.name.clone()))
                .collect::<Vec<_>>()
        })
    };
    let list = move || {
        let hives = hives();
        if hives.is_empty() {
            return view! { <Empty words=texts::empty::APIARY /> }.into_any();
        }
        let items = hives.into_iter().map(|(id, name)| {
            view! { <li><Go to=Route::Hive(Some(id)) class="row">{name}</Go></li> }
        });
        view! { <ul class="rows">{items.collect_view()}</ul> }.into_any()
    };
    view! { <Screen title=texts::screen(Route::Apiary)>{list}</Screen> }
}
