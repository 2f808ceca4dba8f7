//! Forms as data: what is asked, in which unit, and what is wrong. One view draws them all, so that
//! a dozen forms cost the bytes of one.

use std::sync::Arc;

use comb::typed::number;
use comb::{Mass, Temperature};
use honey::HoneyError;
use house::HouseError;
use jiff::civil::Date;
use leptos::ev::SubmitEvent;
use leptos::prelude::*;

use crate::parts::field::{Choice, Field};
use crate::parts::notice::Outcome;
use crate::preferences::Units;
use crate::texts::honey_house as words;

/// How something is asked.
#[derive(Clone)]
pub(super) enum Kind {
    /// Words.
    Text,
    /// A number with its unit.
    Figure(&'static str),
    /// A whole number.
    Count,
    /// A day.
    Day,
    /// One of a few, by key.
    OneOf(Vec<(String, String)>),
    /// One of many, by key.
    List(Vec<(String, String)>),
    /// Yes or no.
    Switch,
}

/// One thing asked.
#[derive(Clone)]
pub(super) struct Ask {
    id: &'static str,
    label: &'static str,
    kind: Kind,
    hint: Option<Signal<String>>,
    value: RwSignal<String>,
}

/// Asks for something; `value` stands there to begin with.
pub(super) fn ask(
    id: &'static str,
    label: &'static str,
    kind: Kind,
    value: impl Into<String>,
) -> Ask {
    Ask {
        id,
        label,
        kind,
        hint: None,
        value: RwSignal::new(value.into()),
    }
}

impl Ask {
    /// How to answer.
    pub(super) fn hint(self, hint: impl Into<Signal<String>>) -> Self {
        Self {
            hint: Some(hint.into()),
            ..self
        }
    }

    /// What stands there.
    pub(super) const fn value(&self) -> RwSignal<String> {
        self.value
    }
}

/// Keys and words of choices.
pub(super) fn choices<T>(of: &[(&str, T, &str)]) -> Vec<(String, String)> {
    let owned = |(key, _, words): &(&str, T, &str)| ((*key).to_owned(), (*words).to_owned());
    of.iter().map(owned).collect()
}

/// Why nothing is written down.
#[derive(Debug)]
pub(super) enum Wrong {
    /// A field cannot be read.
    Field(&'static str, String),
    /// In a sentence.
    Words(String),
    /// The honey house refuses.
    House(HouseError),
}

impl From<HouseError> for Wrong {
    fn from(why: HouseError) -> Self {
        Self::House(why)
    }
}

impl From<HoneyError> for Wrong {
    fn from(why: HoneyError) -> Self {
        Self::House(why.into())
    }
}

/// What is asked together.
#[derive(Clone)]
pub(super) struct Form {
    asks: Arc<[Ask]>,
    pub(super) units: Units,
    /// Whether it is one of those that open at a lot or a filling, and close when they are done.
    pub(super) opens: bool,
    wrong: RwSignal<Option<(&'static str, String)>>,
    outcome: RwSignal<String>,
}

impl Form {
    pub(super) fn of(asks: Vec<Ask>, units: Units) -> Self {
        Self {
            asks: asks.into(),
            units,
            opens: false,
            wrong: RwSignal::new(None),
            outcome: RwSignal::new(String::new()),
        }
    }

    /// The same, closing when it is done.
    pub(super) fn opened(asks: Vec<Ask>, units: Units) -> Self {
        Self {
            opens: true,
            ..Self::of(asks, units)
        }
    }

    /// What was typed, without the blanks around it.
    pub(super) fn text(&self, id: &str) -> String {
        let asked = self.asks.iter().find(|ask| ask.id == id);
        asked.map_or_else(String::new, |ask| {
            ask.value.with_untracked(|value| value.trim().to_owned())
        })
    }

    /// The same; nothing when it is empty.
    pub(super) fn told(&self, id: &str) -> Option<String> {
        Some(self.text(id)).filter(|text| !text.is_empty())
    }

    /// Whether a switch is on.
    pub(super) fn is_on(&self, id: &str) -> bool {
        self.text(id) == ON
    }

    /// A number.
    pub(super) fn figure(&self, id: &'static str) -> Result<f64, Wrong> {
        let read = number(&self.text(id));
        read.ok_or_else(|| Wrong::Field(id, words::no_figure(self.unit(id))))
    }

    /// A whole number from 1 on.
    pub(super) fn count(&self, id: &'static str) -> Result<u32, Wrong> {
        let read = self.text(id).parse().ok().filter(|count| *count > 0);
        read.ok_or_else(|| Wrong::Field(id, words::NO_COUNT.to_owned()))
    }

    /// A mass that may be left out.
    pub(super) fn mass(&self, id: &'static str) -> Result<Option<Mass>, Wrong> {
        self.told(id).map(|_| self.needed_mass(id)).transpose()
    }

    /// A mass that must be there.
    pub(super) fn needed_mass(&self, id: &'static str) -> Result<Mass, Wrong> {
        let read = self.units.mass(&self.text(id));
        read.ok_or_else(|| Wrong::Field(id, words::no_figure(self.unit(id))))
    }

    /// What a jar holds.
    pub(super) fn jar(&self, id: &'static str) -> Result<Mass, Wrong> {
        let read = self.units.jar(&self.text(id));
        read.ok_or_else(|| Wrong::Field(id, words::no_figure(self.unit(id))))
    }

    /// A temperature that may be left out.
    pub(super) fn temperature(&self, id: &'static str) -> Result<Option<Temperature>, Wrong> {
        let Some(typed) = self.told(id) else {
            return Ok(None);
        };
        let read = self.units.temperature(&typed);
        let read = read.ok_or_else(|| Wrong::Field(id, words::no_figure(self.unit(id))));
        read.map(Some)
    }

    /// A day; `None` where the form does not ask for it.
    pub(super) fn day(&self, id: &'static str) -> Result<Option<Date>, Wrong> {
        if self.asks.iter().all(|ask| ask.id != id) {
            return Ok(None);
        }
        let read = self.text(id).parse();
        read.map(Some)
            .map_err(|_| Wrong::Field(id, words::NO_DAY.to_owned()))
    }

    fn unit(&self, id: &str) -> &'static str {
        let asked = self.asks.iter().find(|ask| ask.id == id);
        match asked.map(|ask| &ask.kind) {
            Some(Kind::Figure(unit)) => unit,
            _ => "",
        }
    }

    /// Nothing is wrong any more.
    pub(super) fn clear(&self) {
        self.wrong.set(None);
        self.outcome.set(String::new());
    }

    /// Shows why nothing is written down, beside the field where it is one.
    pub(super) fn show(&self, wrong: Wrong) {
        self.clear();
        match wrong {
            Wrong::Field(id, words) => {
                self.wrong.set(Some((id, words)));
                // where the hand must go next
                let page = crate::browser::document();
                let field = page.and_then(|page| page.get_element_by_id(id));
                if let Some(field) = field {
                    crate::browser::focus(&field);
                }
            }
            Wrong::Words(words) => self.outcome.set(words),
            Wrong::House(why) => self.outcome.set(words::refusal(&why, self.units)),
        }
    }

    /// Draws it.
    pub(super) fn view(
        self,
        button: (&'static str, &'static str),
        submit: impl Fn(&Self) + Send + Sync + 'static,
    ) -> AnyView {
        let fields: Vec<AnyView> = self.asks.iter().map(|ask| self.field(ask)).collect();
        let outcome = self.outcome;
        let send = move |event: SubmitEvent| {
            event.prevent_default();
            submit(&self);
        };
        let (id, words) = button;
        view! {
            <form class="form ask-form" on:submit=send novalidate>
                <div class="pairs">{fields}</div>
                <button type="submit" id=id>{words}</button>
                <Outcome words=outcome />
            </form>
        }
        .into_any()
    }

    fn field(&self, ask: &Ask) -> AnyView {
        let Ask {
            id,
            label,
            kind,
            hint,
            value,
        } = ask.clone();
        let wrong = self.wrong;
        let fault = Signal::derive(move || {
            wrong.with(|wrong| {
                let mine = wrong.as_ref().filter(|(at, _)| *at == id);
                mine.map(|(_, words)| words.clone())
            })
        });
        let hint = hint.unwrap_or_else(|| Signal::stored(String::new()));
        match kind {
            Kind::OneOf(of) => {
                view! { <Choice name=id legend=label of=of chosen=value /> }.into_any()
            }
            Kind::List(of) => list(id, label, of, value),
            Kind::Switch => switch(id, label, value),
            Kind::Day => day(id, label, value, fault),
            Kind::Text => view! { <Field id label value hint fault /> }.into_any(),
            Kind::Count => {
                view! { <Field id label value hint fault inputmode="numeric" /> }.into_any()
            }
            Kind::Figure(unit) => {
                view! { <Field id label value hint fault unit inputmode="decimal" /> }.into_any()
            }
        }
    }
}

const ON: &str = "on";

fn list(
    id: &'static str,
    label: &'static str,
    of: Vec<(String, String)>,
    value: RwSignal<String>,
) -> AnyView {
    let options: Vec<AnyView> = of
        .into_iter()
        .map(|(key, words)| {
            let selected = value.with_untracked(|value| *value == key);
            view! { <option value=key selected=selected>{words}</option> }.into_any()
        })
        .collect();
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <select id=id on:change=move |event| value.set(event_target_value(&event))>{options}</select>
        </div>
    }
    .into_any()
}

fn switch(id: &'static str, label: &'static str, value: RwSignal<String>) -> AnyView {
    let turn = move |event| {
        let on = if event_target_checked(&event) { ON } else { "" };
        value.set(on.to_owned());
    };
    view! {
        <label class="choice">
            <input type="checkbox" id=id prop:checked=move || value.with(|value| value == ON) on:change=turn />
            <span>{label}</span>
        </label>
    }
    .into_any()
}

fn day(
    id: &'static str,
    label: &'static str,
    value: RwSignal<String>,
    fault: Signal<Option<String>>,
) -> AnyView {
    let told = format!("{id}-told");
    let describes = told.clone();
    let wrong = move || fault.with(Option::is_some).then_some("true");
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <input id=id type="date" prop:value=value aria-describedby=describes aria-invalid=wrong
                on:input=move |event| value.set(event_target_value(&event)) />
            <div id=told class="field-told" aria-live="polite"><span class="hint wrong">{fault}</span></div>
        </div>
    }
    .into_any()
}
