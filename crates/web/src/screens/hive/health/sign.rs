//! The form for a sign of a disease or pest.

use health::condition::CONDITIONS;
use health::mind;
use hive::Known;
use hive::sign::{Certainty, Sign};
use leptos::ev::SubmitEvent;
use leptos::prelude::*;

use super::{Say, minded};
use crate::browser::clock;
use crate::parts::changing;
use crate::parts::field::{Choice, Field};
use crate::texts::health as words;

/// Folded away until it is wanted.
#[component]
pub(super) fn NoteSign(
    /// Where it is written.
    say: Say,
) -> impl IntoView {
    let of = || RwSignal::new(String::new());
    let (condition, bar, seen) = (of(), of(), of());
    let sure = RwSignal::new("suspected".to_owned());
    let tried = RwSignal::new(false);
    // the bar typed, when it is one of the hive's
    let found = Memo::new(move |_| {
        let number = bar.with(|bar| bar.trim().parse::<u32>().ok());
        say.journal.yard.with(|yard| {
            let hive = yard.hive(say.hive)?;
            Some(hive.bar_numbered(number?).ok()?.id)
        })
    });
    let no_bar = move || found.get().is_none() && bar.with(|bar| !bar.trim().is_empty());
    let sign = Memo::new(move |_| {
        let name = condition.with(|name| name.trim().to_owned());
        let certainty = sure.with(|sure| match sure.as_str() {
            "confirmed" => Certainty::Confirmed,
            "not_found" => Certainty::NotFound,
            _ => Certainty::Suspected,
        });
        let seen = seen.with(|seen| seen.trim().to_owned());
        (!name.is_empty()).then(|| Sign {
            bar: found.get(),
            seen: (!seen.is_empty()).then_some(seen),
            ..Sign::new(clock::now_here().date(), name, certainty)
        })
    });
    let fault = move |wrong: fn(bool, bool) -> bool, words: &'static str| {
        Signal::derive(move || {
            let told = wrong(sign.with(Option::is_none), no_bar());
            (tried.get() && told).then(|| words.to_owned())
        })
    };
    let mind = changing::view(move || Some(minded(mind::of_sign(sign.get().as_ref()?))));
    let write = move |event: SubmitEvent| {
        event.prevent_default();
        tried.set(true);
        let Some(sign) = sign.get_untracked().filter(|_| !no_bar()) else {
            return;
        };
        say.write(Known::SignSeen(sign), move || {
            tried.set(false);
            for typed in [condition, bar, seen] {
                typed.set(String::new());
            }
            sure.set("suspected".to_owned());
        });
    };
    let certainties = words::CERTAINTIES
        .iter()
        .map(|(key, words)| ((*key).to_owned(), (*words).to_owned()))
        .collect::<Vec<_>>();
    let names = CONDITIONS
        .iter()
        .map(|condition| view! { <option value=condition.name></option> });
    view! {
        <details id="note-sign">
            <summary>{words::NOTE_SIGN}</summary>
            <form class="form" on:submit=write>
                <Field id="sign-condition" label=words::CONDITION value=condition list="conditions"
                    fault=fault(|none, _| none, words::NO_CONDITION) />
                <datalist id="conditions">{names.collect_view()}</datalist>
                <div class="pairs">
                    <Field id="sign-bar" label=words::BAR value=bar inputmode="numeric"
                        fault=fault(|_, no_bar| no_bar, words::NO_BAR) />
                    <Field id="sign-seen" label=words::SEEN value=seen />
                </div>
                <Choice name="sign-sure" legend=words::SURE of=certainties chosen=sure />
                {mind}
                <button type="submit">{words::WRITE}</button>
            </form>
        </details>
    }
}
