//! The weather of a place, kept on this device beside the journal.

use hive::ApiaryId;
use leptos::html::Input;
use leptos::prelude::*;
use season::weather::read_csv;
use season::{Series, Years};
use wasm_bindgen_futures::spawn_local;

use crate::browser::files;
use crate::parts::notice::Outcome;
use crate::reserves::use_reserves;
use crate::texts::season as words;
use crate::weather;

/// What is kept of a place's weather.
#[derive(Clone)]
pub(super) struct Kept(pub(super) Option<Series>);

impl Kept {
    /// As kept; nothing where none is, or what is cannot be read.
    pub(super) fn of(apiary: ApiaryId) -> Self {
        Self(weather::text(apiary).and_then(|text| weather::series(&text)))
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
    let reserves = use_reserves();
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
                    let held = weather::keep(apiary, &text);
                    reserves.reckon_soon();
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
