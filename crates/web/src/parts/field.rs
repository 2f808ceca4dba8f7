//! A labelled field with its unit, its hint and what is wrong with it.

use leptos::prelude::*;

use super::changing;

/// A field of a form. What is wrong stands right below it and is tied to it for those who hear the
/// page.
#[component]
pub fn Field(
    /// Its id in the page.
    id: &'static str,
    /// What it asks.
    #[prop(into)]
    label: Signal<String>,
    /// What is typed.
    value: RwSignal<String>,
    /// The unit behind it.
    #[prop(optional, into)]
    unit: Option<Signal<String>>,
    /// How to fill it in.
    #[prop(optional, into)]
    hint: Option<Signal<String>>,
    /// What is wrong, if anything.
    #[prop(optional, into)]
    fault: Signal<Option<String>>,
    /// The keyboard that a phone shows.
    #[prop(default = "text")]
    inputmode: &'static str,
    /// What is typed there: text, or a date.
    #[prop(default = "text")]
    kind: &'static str,
    /// The id of a list of words to choose from.
    #[prop(optional)]
    list: Option<&'static str>,
) -> impl IntoView {
    let told = format!("{id}-told");
    let describes = told.clone();
    let wrong = changing::value(move || fault.with(Option::is_some).then_some("true"));
    let under = changing::view(move || {
        let words = fault.get();
        let class = if words.is_some() {
            "hint wrong"
        } else {
            "hint"
        };
        let words = words
            .or_else(|| hint.map(|hint| hint.get()))
            .unwrap_or_default();
        view! { <span class=class>{words}</span> }
    });
    view! {
        <div class="field">
            <label for=id>{move || label.get()}</label>
            <div class="field-line">
                <input id=id type=kind list=list inputmode=inputmode autocomplete="off" prop:value=value
                    aria-describedby=describes aria-invalid=wrong
                    on:input=move |event| value.set(event_target_value(&event)) />
                {unit.map(|unit| view! { <span class="unit">{move || unit.get()}</span> })}
            </div>
            <div id=told class="field-told" aria-live="polite">{under}</div>
        </div>
    }
}

/// One of several, chosen by touch; a group of radio buttons.
#[component]
pub fn Choice(
    /// Its id and its name in the form.
    name: &'static str,
    /// What it asks.
    #[prop(into)]
    legend: String,
    /// Key and words of each.
    #[prop(into)]
    of: Signal<Vec<(String, String)>>,
    /// The key chosen.
    chosen: RwSignal<String>,
    /// What to do beside keeping the choice.
    #[prop(optional, into)]
    on_choice: Option<Callback<String>>,
) -> impl IntoView {
    let buttons = changing::view(move || {
        of.get()
            .into_iter()
            .map(|(key, words)| {
                let (mine, value) = (key.clone(), key.clone());
                view! {
                    <label class="choice">
                        <input type="radio" name=name id=format!("{name}-{key}") value=value
                            prop:checked=move || chosen.with(|chosen| *chosen == mine)
                            on:change=move |_| {
                                chosen.set(key.clone());
                                if let Some(act) = on_choice {
                                    act.run(key.clone());
                                }
                            } />
                        <span>{words}</span>
                    </label>
                }
            })
            .collect_view()
    });
    view! {
        <fieldset class="choices">
            <legend>{legend}</legend>
            {buttons}
        </fieldset>
    }
}

/// A switch.
#[component]
pub fn Switch(
    /// Its id.
    id: &'static str,
    /// What it switches.
    label: &'static str,
    /// How it stands.
    #[prop(into)]
    on: Signal<bool>,
    /// What to do when it is turned.
    turn: Callback<bool>,
) -> impl IntoView {
    view! {
        <label class="choice">
            <input type="checkbox" id=id prop:checked=on
                on:change=move |event| turn.run(event_target_checked(&event)) />
            <span>{label}</span>
        </label>
    }
}
