//! One hive through time.

use hive::HiveId;
use leptos::prelude::*;

use crate::journal::use_journal;
use crate::parts::empty::Empty;
use crate::parts::go::Go;
use crate::parts::screen::Screen;
use crate::route::Route;
use crate::texts;

/// The screen.
#[component]
pub fn Hive(
    /// Which hive.
    hive: Option<HiveId>,
) -> impl IntoView {
    let journal = use_journal();
    let name = move || {
        let hive = hive?;
        journal
            .yard
            .with(|yard| yard.hive(hive).map(|hive| hive.name.clone()))
    };
    let title = Signal::derive(move || {
        let screen = texts::screen(Route::Hive(hive));
        name().map_or_else(|| screen.to_owned(), |name| format!("{screen}: {name}"))
    });
    view! {
        <Screen title>
            <Empty words=texts::empty::HIVE>
                <Go to=Route::Apiary class="button">{texts::empty::TO_APIARY}</Go>
            </Empty>
        </Screen>
    }
}
