//! Looks, units, voice, places, rules, this device, the server.

mod device;
mod let_in;
mod places;
mod rules;
mod trips;

use leptos::prelude::*;

use crate::parts::field::{Choice, Switch};
use crate::parts::screen::Screen;
use crate::preferences::{ENGLISH, Light, Looks, Recording, Units, Voice};
use crate::route::Route;
use crate::texts;
use crate::texts::settings as words;

use device::{TheServer, ThisDevice};
use let_in::DevicesLetIn;
use places::Places;
use rules::Rules;
use trips::Trips;

/// The screen.
#[component]
pub fn Settings() -> impl IntoView {
    view! {
        <Screen title=texts::screen(Route::Settings)>
            <LooksChoice />
            <UnitsChoice />
            <VoiceChoice />
            <Places />
            <Rules />
            <Trips />
            <ThisDevice />
            <TheServer />
            <DevicesLetIn />
            <p class="quiet">{words::version(env!("CARGO_PKG_VERSION"))}</p>
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
    let chosen = RwSignal::new(looks.get_untracked().light.word().to_owned());
    let choices = Light::ALL
        .into_iter()
        .zip(words::LIGHT_CHOICES)
        .map(|(light, words)| (light.word().to_owned(), words.to_owned()))
        .collect::<Vec<_>>();
    let choose = Callback::new(move |key: String| {
        let light = Light::ALL.into_iter().find(|light| light.word() == key);
        change(&|looks| looks.light = light.unwrap_or_default());
    });
    let turn = Callback::new(move |on| change(&|looks| looks.large_print = on));
    let large = Signal::derive(move || looks.get().large_print);
    view! {
        <section>
            <h2>{words::LOOKS}</h2>
            <Choice name="light" legend=words::LIGHT of=choices chosen on_choice=choose />
            <Switch id="large-print" label=words::LARGE_PRINT on=large turn />
        </section>
    }
}

/// Units.
#[component]
fn UnitsChoice() -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>();
    let chosen = RwSignal::new(units.get_untracked().word().to_owned());
    let choices = Units::ALL
        .into_iter()
        .zip(words::UNITS_CHOICES)
        .map(|(units, words)| (units.word().to_owned(), words.to_owned()))
        .collect::<Vec<_>>();
    let choose = Callback::new(move |key: String| {
        let all = Units::ALL.into_iter();
        let found = all.clone().find(|units| units.word() == key);
        let found = found.unwrap_or_default();
        found.keep();
        units.set(found);
    });
    view! {
        <section>
            <h2>{words::UNITS}</h2>
            <Choice name="units" legend=words::UNITS_ASK of=choices chosen on_choice=choose />
        </section>
    }
}

/// What is spoken, sounded and recorded.
#[component]
fn VoiceChoice() -> impl IntoView {
    let voice = expect_context::<RwSignal<Voice>>();
    let turn = move |of: fn(&mut Voice) -> &mut bool| {
        Callback::new(move |on| {
            voice.update(|voice| {
                *of(voice) = on;
                voice.keep();
            });
        })
    };
    let on = move |of: fn(&Voice) -> bool| Signal::derive(move || voice.with(of));
    let record = Callback::new(move |on| {
        voice.update(|voice| {
            voice.recording = Recording::wanted(on);
            voice.keep();
        });
    });
    let speak = move |event| voice.update(|voice| voice.speak(&event_target_value(&event)));
    let choices = ENGLISH
        .into_iter()
        .zip(words::ENGLISH_NAMES)
        .map(|(tag, name)| {
            let chosen = move || voice.with(|voice| voice.english == tag);
            view! { <option value=tag selected=chosen>{name}</option> }
        })
        .collect_view();
    view! {
        <section>
            <h2>{words::VOICE}</h2>
            <Switch id="spoken" label=words::SPOKEN on=on(|v| v.spoken) turn=turn(|v| &mut v.spoken) />
            <Switch id="sounds" label=words::SOUNDS on=on(|v| v.sounds) turn=turn(|v| &mut v.sounds) />
            <Switch id="recorded" label=words::RECORDED on=on(|v| v.recording == Recording::On) turn=record />
            <label for="english">{words::ENGLISH}</label>
            <select id="english" on:change=speak>{choices}</select>
            <p class="hint">{words::VOICE_HINT}</p>
        </section>
    }
}
