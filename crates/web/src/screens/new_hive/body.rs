//! The body's measures.

use comb::{Body, Section};
use leptos::prelude::*;

use super::draft::{Draft, ENTRANCES, SECTIONS, section_key};
use super::drawing::CrossSection;
use crate::parts::field::{Choice, Field};
use crate::preferences::Units;
use crate::texts::new_hive as words;

/// The fields, led by the published outlines to begin from.
#[component]
pub(super) fn BodyFields(
    /// What is typed.
    draft: Draft,
    /// What is wrong with a field, by its id.
    fault: Callback<&'static str, Signal<Option<String>>>,
) -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>();
    let sign = Signal::derive(move || units.get().length_sign().to_owned());
    let outlines = Body::published().into_iter().enumerate().map(|(n, body)| {
        view! {
            <li>
                <button type="button" class="outline" id=format!("outline-{n}")
                    on:click=move |_| draft.take_body(&body, units.get_untracked())>
                    <CrossSection body=Signal::stored(Some(body)) small=true />
                    <span>{move || units.get().told_in().body_words(&body)}</span>
                </button>
            </li>
        }
    });
    let shapes = SECTIONS
        .map(|section| {
            (
                section_key(section).to_owned(),
                words::shape(section).to_owned(),
            )
        })
        .to_vec();
    let entrances = ENTRANCES
        .into_iter()
        .zip([
            words::ENTRANCE_LEFT,
            words::ENTRANCE_RIGHT,
            words::ENTRANCE_SIDE,
        ])
        .map(|(key, text)| (key.to_owned(), text.to_owned()))
        .collect::<Vec<_>>();
    let narrows = move || {
        draft
            .section
            .with(|key| key != section_key(Section::Rectangular))
    };
    let beside = move || draft.entrance.with(|entrance| entrance == ENTRANCES[2]);
    let field = move |id: &'static str, label: &'static str, value: RwSignal<String>| {
        view! { <Field id label value unit=sign fault=fault.run(id) inputmode="decimal" /> }
    };
    view! {
        <section>
            <h2>{words::BODY}</h2>
            <p>{words::BEGIN_FROM}</p>
            <ul class="outlines">{outlines.collect_view()}</ul>
            <Choice name="shape" legend=words::SHAPE of=shapes chosen=draft.section />
            <div class="pairs">
                {field("length", words::LENGTH, draft.length)}
                {field("top", words::TOP, draft.top)}
                <Show when=narrows>{field("bottom", words::BOTTOM, draft.bottom)}</Show>
                {field("depth", words::DEPTH, draft.depth)}
                {field("bar", words::BAR, draft.bar)}
            </div>
            <Choice name="entrance" legend=words::ENTRANCE of=entrances chosen=draft.entrance />
            <Show when=beside>{field("entrance-at", words::ENTRANCE_AT, draft.entrance_at)}</Show>
            <p class="hint">{words::AS_YOU_STAND}</p>
        </section>
    }
}
