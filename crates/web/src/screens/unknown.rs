//! An address that leads nowhere.

use leptos::prelude::*;

use crate::parts::empty::Empty;
use crate::parts::go::Go;
use crate::parts::screen::Screen;
use crate::route::Route;
use crate::texts;

/// The screen.
#[component]
pub fn Unknown() -> impl IntoView {
    view! {
        <Screen title=texts::screen(Route::Unknown)>
            <Empty words=texts::empty::UNKNOWN>
                <Go to=Route::Apiary class="button">{texts::empty::TO_APIARY}</Go>
            </Empty>
        </Screen>
    }
}
