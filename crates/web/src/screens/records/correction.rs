//! A form for what an entry should have said.

mod fields;

use hive::{HiveId, What};
use leptos::ev::SubmitEvent;
use leptos::prelude::*;

use crate::journal::use_journal;
use crate::preferences::Units;
use crate::texts::records as words;

use fields::{Kind, corrected, fields};

/// The form; nothing but a word where this kind has none.
#[component]
pub(super) fn Correction(
    /// The hive that the entry is about.
    hive: Option<HiveId>,
    /// What the entry says now.
    what: What,
    /// Writes the correction down.
    correct: Callback<hive::Known>,
) -> impl IntoView {
    let journal = use_journal();
    let units = expect_context::<RwSignal<Units>>().get_untracked();
    let known = match what {
        What::Known(known) => Some(*known),
        What::Foreign(_) => None,
    };
    let asked = journal.yard.with_untracked(|yard| {
        let hive = hive.and_then(|hive| yard.hive(hive));
        known.as_ref().map(|known| fields(known, hive, units))
    });
    let (Some(known), Some(asked)) = (known, asked.filter(|asked| !asked.is_empty())) else {
        return view! { <p class="hint">{words::NO_FORM}</p> }.into_any();
    };
    let typed: Vec<RwSignal<String>> = asked
        .iter()
        .map(|field| RwSignal::new(field.value.clone()))
        .collect();
    let inputs = asked.iter().zip(&typed).enumerate().map(|(n, (field, value))| {
        let (value, id) = (*value, format!("correct-{n}"));
        let label = field.label.clone();
        let input = match &field.kind {
            Kind::Choice(options) => {
                let options = options.iter().map(|(key, words)| {
                    let selected = *key == field.value;
                    view! { <option value=*key selected=selected>{*words}</option> }
                });
                view! {
                    <select id=id.clone() on:change=move |event| value.set(event_target_value(&event))>
                        {options.collect_view()}
                    </select>
                }
                .into_any()
            }
            kind => {
                let inputmode = if *kind == Kind::Text { "text" } else { "decimal" };
                view! {
                    <input id=id.clone() inputmode=inputmode autocomplete="off" prop:value=value
                        on:input=move |event| value.set(event_target_value(&event)) />
                }
                .into_any()
            }
        };
        view! { <div class="field"><label for=id>{label}</label>{input}</div> }
    });
    let inputs = inputs.collect_view();
    let wrong = RwSignal::new(String::new());
    let save = move |event: SubmitEvent| {
        event.prevent_default();
        let values: Vec<String> = typed.iter().map(|value| value.get_untracked()).collect();
        let made = journal.yard.with_untracked(|yard| {
            let hive = hive.and_then(|hive| yard.hive(hive));
            corrected(&known, hive, units, &values)
        });
        match made {
            Ok(made) if made == known => wrong.set(words::SAME.to_owned()),
            Ok(made) => {
                wrong.set(String::new());
                correct.run(made);
            }
            Err(why) => wrong.set(why),
        }
    };
    view! {
        <form class="correction" on:submit=save>
            {inputs}
            <p class="wrong" id="correction-wrong" role="alert">{move || wrong.get()}</p>
            <button type="submit" class="correct">{words::CORRECT}</button>
        </form>
    }
    .into_any()
}
