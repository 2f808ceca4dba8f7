//! The shell: opens the journal, shows the screen that the address line names.

use leptos::prelude::*;

use crate::browser::leaving;
use crate::journal::{Journal, Opened};
use crate::lasting::Lasting;
use crate::parts::changing;
use crate::parts::go::{Go, Place};
use crate::parts::link_state::LinkState;
use crate::parts::navigation::Navigation;
use crate::parts::notice::{AnotherJournal, JournalNotice, UpdateNotice};
use crate::reserves::Reserves;
use crate::route::Route;
use crate::{preferences, screens, texts};

/// The whole app.
#[component]
pub fn App() -> impl IntoView {
    preferences::provide();
    Lasting::provide();
    leaving::watch();
    let journal = Journal::open();
    let place = Place::of_address_line();
    provide_context(journal);
    provide_context(Reserves::keep_reckoning(journal, place));
    provide_context(place);
    let screen = changing::view(move || match journal.opened.get() {
        Opened::Opening => {
            view! { <p class="opening" role="status">{texts::OPENING}</p> }.into_any()
        }
        // what is kept cannot be read, but the screens and their words are there
        Opened::Open | Opened::Failed(_) => shown(place.route()),
    });
    // the yard is looked at first; whoever goes on to a hive finds the rest there
    Effect::new(move || {
        if journal.opened.get() != Opened::Opening {
            screens::at_hive::fetch_ahead();
        }
    });
    let ready = changing::value(move || (journal.opened.get() == Opened::Open).then_some("yes"));
    view! {
        <a class="skip" href="#content">{texts::SKIP_TO_CONTENT}</a>
        <header class="top">
            <Go to=Route::Apiary class="brand">
                <img src="/icon.svg" alt="" width="32" height="32" />
                <span>{texts::APP}</span>
            </Go>
            <LinkState />
        </header>
        <Navigation />
        <main id="content" class="content" data-ready=ready>
            <UpdateNotice />
            <JournalNotice />
            <AnotherJournal />
            {screen}
        </main>
    }
}

fn shown(route: Route) -> AnyView {
    match route {
        Route::Apiary => view! { <screens::apiary::Apiary /> }.into_any(),
        Route::Visit(_) | Route::ClosingUp(_) => {
            view! { <screens::at_hive::AtHive route /> }.into_any()
        }
        Route::Hive(_)
        | Route::Season(_)
        | Route::HoneyHouse
        | Route::Lot(_)
        | Route::NewHive
        | Route::Records
        | Route::Settings => view! { <screens::desk::Desk route /> }.into_any(),
        Route::Unknown => view! { <screens::unknown::Unknown /> }.into_any(),
    }
}
