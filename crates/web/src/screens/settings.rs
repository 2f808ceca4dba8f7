//! Looks, this device, the server.

use leptos::ev::SubmitEvent;
use leptos::html::Input;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::journal::{Link, use_journal};
use crate::parts::notice::Outcome;
use crate::parts::screen::Screen;
use crate::preferences::{Light, Looks};
use crate::route::Route;
use crate::texts;

/// The screen.
#[component]
pub fn Settings() -> impl IntoView {
    view! {
        <Screen title=texts::screen(Route::Settings)>
            <LooksChoice />
            <ThisDevice />
            <TheServer />
            <p class="quiet">{texts::settings::version(env!("CARGO_PKG_VERSION"))}</p>
        </Screen>
    }
}

/// Light, dark, large print.
#[component]
fn LooksChoice() -> impl IntoView {
    let looks = expect_context::<RwSignal<Looks>>();
    let change = move |change: &dyn Fn(&mut Looks)| {
        looks.update(|looks| {
            change(looks);
            looks.keep();
        });
    };
    let choices = Light::ALL
        .into_iter()
        .zip(texts::settings::LIGHT_CHOICES)
        .map(|(light, words)| {
            let id = format!("light-{}", light.word());
            view! {
                <label class="choice">
                    <input type="radio" name="light" id=id
                        prop:checked=move || looks.get().light == light
                        on:change=move |_| change(&|looks| looks.light = light) />
                    <span>{words}</span>
                </label>
            }
        });
    view! {
        <section>
            <h2>{texts::settings::LOOKS}</h2>
            <fieldset class="choices">
                <legend>{texts::settings::LIGHT}</legend>
                {choices.collect_view()}
            </fieldset>
            <label class="choice">
                <input type="checkbox" id="large-print"
                    prop:checked=move || looks.get().large_print
                    on:change=move |_| change(&|looks| looks.large_print = !looks.large_print) />
                <span>{texts::settings::LARGE_PRINT}</span>
            </label>
        </section>
    }
}

/// Who writes, and whether the browser keeps it.
#[component]
fn ThisDevice() -> impl IntoView {
    let journal = use_journal();
    let field = NodeRef::<Input>::new();
    let outcome = RwSignal::new(String::new());
    let keep = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(input) = field.get() else { return };
        let by = input.value().trim().to_owned();
        if by.is_empty() {
            return;
        }
        spawn_local(async move {
            outcome.set(match journal.set_by(by).await {
                Ok(()) => texts::records::KEPT.to_owned(),
                Err(why) => texts::journal_error(&why),
            });
        });
    };
    let by = move || {
        journal
            .device
            .get()
            .map(|device| device.by)
            .unwrap_or_default()
    };
    let kept = move || match journal.persisted.get() {
        Some(true) => texts::settings::PERSISTED,
        Some(false) => texts::settings::NOT_PERSISTED,
        None => "",
    };
    view! {
        <section>
            <h2>{texts::settings::DEVICE}</h2>
            <form class="line" on:submit=keep>
                <label for="by">{texts::settings::BY}</label>
                <input id="by" node_ref=field autocomplete="name" prop:value=by />
                <button type="submit">{texts::settings::KEEP}</button>
            </form>
            <Outcome words=outcome />
            <p>{kept}</p>
        </section>
    }
}

/// Pairing and exchange.
#[component]
fn TheServer() -> impl IntoView {
    let journal = use_journal();
    let field = NodeRef::<Input>::new();
    let outcome = RwSignal::new(String::new());
    let pair = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(input) = field.get() else { return };
        let code = input.value();
        spawn_local(async move {
            outcome.set(match journal.pair(&code).await {
                Ok(()) => {
                    input.set_value("");
                    texts::PAIRED.to_owned()
                }
                Err(why) => texts::why(&why),
            });
        });
    };
    let state = move || {
        journal
            .link
            .with(|link| texts::link(link, journal.waiting.get()))
    };
    let why = move || match journal.link.get() {
        Link::HereOnly(why) => texts::why(&why),
        _ => String::new(),
    };
    view! {
        <section>
            <h2>{texts::settings::SERVER}</h2>
            <p>{state} ". " {why}</p>
            <form class="line" on:submit=pair>
                <label for="code">{texts::settings::CODE}</label>
                <input id="code" node_ref=field inputmode="numeric" autocomplete="one-time-code" />
                <button type="submit">{texts::settings::PAIR}</button>
            </form>
            <Outcome words=outcome />
            <button type="button" on:click=move |_| journal.exchange_soon()>
                {texts::settings::EXCHANGE}
            </button>
        </section>
    }
}
