//! The weather of a place, kept on this device beside the journal.

use hive::ApiaryId;
use leptos::html::Input;
use leptos::prelude::*;
use season::weather::read_csv;
use season::{Series, Years};
use wasm_bindgen_futures::spawn_local;

use crate::browser::{files, storage};
use crate::parts::notice::Outcome;
use crate::texts::season as words;

/// What is kept of a place's weather.
#[derive(Clone)]
pub(super) struct Kept(pub(super) Option<Series>);

fn name_of(apiary: ApiaryId) -> String {
    format!("weather-{apiary}")
}

impl Kept {
    /// As kept; nothing where none is, or what is cannot be read.
    pub(super) fn of(apiary: ApiaryId) -> Self {
        let text = storage::get(&name_of(apiary));
        Self(text.and_then(|text| read_csv(&text).ok().map(|read| read.series)))
    }
}

/// Says what is kept, and takes a file in.
#[component]
pub(super) fn Weather(
    /// Of which place.
    apiary: ApiaryId,
    /// What is kept.
    kept: RwSignal<Kept>,
) -> impl IntoView {
    let field = NodeRef::<Input>::new();
    let outcome = RwSignal::new(String::new());
    let state = move || {
        kept.with(|Kept(series)| match series {
            Some(series) => match series.days() {
                [first, .., last] => {
                    words::weather_kept(series.days().len(), first.date, last.date)
                }
                _ => words::WEATHER_MADE_UP.to_owned(),
            },
            None => words::WEATHER_MADE_UP.to_owned(),
        })
    };
    let take = move |_| {
        let Some(input) = field.get() else { return };
        spawn_local(async move {
            let text = match files::chosen(&input).await {
                Ok(Some(text)) => text,
                Ok(None) => return,
                Err(thrown) => {
                    outcome.set(crate::browser::words(&thrown));
                    return;
                }
            };
            input.set_value("");
            let read = read_csv(&text)
                .map_err(|why| why.to_string())
                .and_then(|read| match Years::new(&read.series) {
                    Ok(_) => Ok(read),
                    Err(why) => Err(why.to_string()),
                });
            match read {
                Ok(read) => {
                    storage::set(&name_of(apiary), &text);
                    let held = storage::get(&name_of(apiary)).is_some_and(|held| held == text);
                    let doubts: Vec<String> = read.doubts.iter().map(ToString::to_string).collect();
                    outcome.set(if held {
                        doubts.join("; ")
                    } else {
                        words::WEATHER_NOT_KEPT.to_owned()
                    });
                    kept.set(Kept(Some(read.series)));
                }
                Err(why) => outcome.set(words::weather_wrong(&why)),
            }
        });
    };
    view! {
        <p class="hint">{state}</p>
        <div class="field">
            <label for="weather">{words::WEATHER}</label>
            <input id="weather" type="file" accept=".csv,text/csv" node_ref=field on:change=take />
        </div>
        <Outcome words=outcome />
    }
}
