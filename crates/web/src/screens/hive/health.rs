//! Health: what is on, what was seen, which honey is withheld; and the forms that note it.

mod sign;
mod treat;

use health::told::Standing;
use hive::pen::Subject;
use hive::sign::Clearing;
use hive::treatment::TreatmentEnd;
use hive::{EntryId, HiveId, Known};
use leptos::ev::SubmitEvent;
use leptos::prelude::*;
use serde_json::Map;
use wasm_bindgen_futures::spawn_local;

use crate::browser::clock;
use crate::journal::{Journal, Saying, use_journal};
use crate::parts::changing;
use crate::parts::notice::Outcome;
use crate::texts;
use crate::texts::health as words;

use sign::NoteSign;
use treat::NoteTreatment;

/// Writes one entry of a hive, says what came of it, and runs `kept` when it is durable.
#[derive(Clone, Copy)]
struct Say {
    hive: HiveId,
    journal: Journal,
    outcome: RwSignal<String>,
}

impl Say {
    fn write(self, known: Known, kept: impl FnOnce() + 'static) {
        spawn_local(async move {
            let saying = Saying::now(Subject::hive(self.hive), known);
            self.outcome
                .set(match self.journal.append(vec![saying]).await {
                    Ok(_) => {
                        kept();
                        texts::records::KEPT.to_owned()
                    }
                    Err(why) => texts::journal_error(&why),
                });
        });
    }
}

/// The section.
#[component]
pub(super) fn Health(
    /// Which hive.
    hive: HiveId,
) -> impl IntoView {
    let journal = use_journal();
    let say = Say {
        hive,
        journal,
        outcome: RwSignal::new(String::new()),
    };
    let lines = Memo::new(move |_| {
        let today = clock::now_here().date();
        journal.yard.with(|yard| {
            let hive = yard.hive(hive)?;
            Some(Standing::of(yard, hive, today, false).lines(yard, today))
        })
    });
    let told = changing::view(move || {
        let lines = lines.get().unwrap_or_default();
        if lines.is_empty() {
            return view! { <p>{words::QUIET}</p> }.into_any();
        }
        let row = |(lead, told)| view! { <div><dt>{lead}</dt><dd>{told}</dd></div> };
        let rows = lines.into_iter().map(row).collect_view();
        view! { <dl class="account" id="health-told">{rows}</dl> }.into_any()
    });
    view! {
        <section class="changes">
            <h2>{words::HEALTH}</h2>
            {told}
            <Endings say />
            <Outcome words=say.outcome />
            <NoteTreatment say />
            <NoteSign say />
            <p class="hint">{texts::hive::HEALTH_HINT}</p>
        </section>
    }
}

/// Something that can be ended: its entry, what the field asks, and what its button says.
type Open = (EntryId, bool, String);

/// A field and a button for each treatment that is on and each sign that stands.
#[component]
fn Endings(
    /// Where it is written.
    say: Say,
) -> impl IntoView {
    let open = Memo::new(move |_| -> Vec<Open> {
        say.journal.yard.with(|yard| {
            let Some(hive) = yard.hive(say.hive) else {
                return Vec::new();
            };
            let treatments = hive.treatments_on().map(|treated| {
                let ask = words::left_over(&treated.given.product);
                (treated.when.entry, true, ask)
            });
            let signs = hive.signs_standing().map(|seen| {
                let ask = words::why_cleared(&seen.sign.condition);
                (seen.when.entry, false, ask)
            });
            treatments.chain(signs).collect()
        })
    });
    view! {
        <For each=move || open.get() key=|(entry, ..)| *entry let:open>
            <Ending say open />
        </For>
    }
}

#[component]
fn Ending(say: Say, open: Open) -> impl IntoView {
    let (entry, treatment, ask) = open;
    let typed = RwSignal::new(String::new());
    let end = move |event: SubmitEvent| {
        event.prevent_default();
        let said = typed.get_untracked().trim().to_owned();
        let on = clock::now_here().date();
        let more = Map::new();
        let known = if treatment {
            let left = (!said.is_empty()).then_some(said);
            Known::TreatmentEnded(TreatmentEnd {
                treatment: entry,
                on,
                left,
                more,
            })
        } else if said.is_empty() {
            say.outcome.set(words::NO_REASON.to_owned());
            return;
        } else {
            Known::SignCleared(Clearing {
                sign: entry,
                on,
                why: said,
                more,
            })
        };
        say.write(known, || ());
    };
    let id = format!("end-{entry}");
    let button = if treatment {
        words::IS_OUT
    } else {
        words::CLEARED
    };
    view! {
        <form class="line" on:submit=end>
            <label for=id.clone()>{ask}</label>
            <input id=id autocomplete="off" prop:value=typed
                on:input=move |event| typed.set(event_target_value(&event)) />
            <button type="submit" class="quiet-button">{button}</button>
        </form>
    }
}

/// What must be minded, below a form.
fn minded(lines: Vec<String>) -> impl IntoView {
    let lines = lines.into_iter().map(|line| view! { <p>{line}</p> });
    view! { <div class="notice calm">{lines.collect_view()}</div> }
}
