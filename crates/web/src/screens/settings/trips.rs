//! When a return is worth it, and how nectar comes in.

use leptos::prelude::*;
use season::ripening::Flow;

use crate::parts::field::{Choice, Field};
use crate::preferences::DaysAhead;
use crate::preferences::ahead::MOST_COMBS;
use crate::texts::settings as words;

const FLOWS: [(&str, Flow); 3] = [
    ("good", Flow::Good),
    ("thin", Flow::Thin),
    ("dearth", Flow::Dearth),
];

/// The choices; kept at once.
#[component]
pub(super) fn Trips() -> impl IntoView {
    let ahead = expect_context::<RwSignal<DaysAhead>>();
    let now = ahead.get_untracked();
    let worth = RwSignal::new(now.worth.to_string());
    let flow = FLOWS.iter().find(|(_, flow)| *flow == now.nectar);
    let flow = RwSignal::new(flow.map_or("good", |(key, _)| *key).to_owned());
    let change = move |change: &dyn Fn(&mut DaysAhead)| {
        ahead.update(|ahead| {
            change(ahead);
            ahead.keep();
        });
    };
    let read = move || {
        let typed = worth.with(|worth| worth.trim().parse::<usize>().ok());
        typed.filter(|combs| (1..=MOST_COMBS).contains(combs))
    };
    Effect::new(move || {
        if let Some(worth) = read()
            && ahead.with_untracked(|ahead| ahead.worth != worth)
        {
            change(&|ahead| ahead.worth = worth);
        }
    });
    let fault = Signal::derive(move || read().is_none().then(|| words::worth_range(MOST_COMBS)));
    let choices: Vec<_> = FLOWS
        .iter()
        .zip(words::NECTAR_CHOICES)
        .map(|((key, _), words)| ((*key).to_owned(), words.to_owned()))
        .collect();
    let choose = Callback::new(move |key: String| {
        let flow = FLOWS.iter().find(|(name, _)| *name == key);
        change(&|ahead| ahead.nectar = flow.map_or(Flow::Good, |(_, flow)| *flow));
    });
    view! {
        <section>
            <h2>{words::TRIPS}</h2>
            <Field id="worth" label=words::WORTH value=worth fault inputmode="numeric" />
            <Choice name="nectar" legend=words::NECTAR of=choices chosen=flow on_choice=choose />
        </section>
    }
}
