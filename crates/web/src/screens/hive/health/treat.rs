//! The form for a treatment.

use health::mind;
use hive::Known;
use hive::treatment::{LabelPeriod, Treatment};
use jiff::civil::Date;
use leptos::ev::SubmitEvent;
use leptos::prelude::*;

use super::{Say, minded};
use crate::browser::clock;
use crate::parts::changing;
use crate::parts::field::{Choice, Field};
use crate::texts::health as words;

/// What is typed.
#[derive(Debug, Clone, Default, PartialEq)]
struct Typed {
    product: String,
    active: String,
    how: String,
    quantity: String,
    batch: String,
    out_by: String,
    label: String,
    days: String,
}

/// What is wrong with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fault {
    Product,
    OutBy,
    Days,
}

impl Typed {
    /// The treatment given today that it tells.
    fn read(&self, today: Date) -> Result<Treatment, Fault> {
        let said = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
        let days = || self.days.trim().parse::<u16>().map_err(|_| Fault::Days);
        let withholding = match self.label.as_str() {
            "nil" => Some(LabelPeriod::Nil),
            "days" => Some(LabelPeriod::Days { days: days()? }),
            "lost" if self.days.trim().is_empty() => Some(LabelPeriod::HoneyOnIsLost { days: 0 }),
            "lost" => Some(LabelPeriod::HoneyOnIsLost { days: days()? }),
            _ => None,
        };
        let planned_removal = match said(&self.out_by) {
            Some(text) => {
                let day = text.parse::<Date>().map_err(|_| Fault::OutBy)?;
                Some(Some(day).filter(|day| *day >= today).ok_or(Fault::OutBy)?)
            }
            None => None,
        };
        Ok(Treatment {
            active: said(&self.active),
            how: said(&self.how),
            quantity: said(&self.quantity),
            batch: said(&self.batch),
            planned_removal,
            withholding,
            ..Treatment::new(today, said(&self.product).ok_or(Fault::Product)?)
        })
    }
}

/// Folded away until it is wanted.
#[component]
pub(super) fn NoteTreatment(
    /// Where it is written.
    say: Say,
) -> impl IntoView {
    let of = || RwSignal::new(String::new());
    let (product, active, quantity, batch) = (of(), of(), of(), of());
    let (how, out_by, days) = (of(), of(), of());
    let label = RwSignal::new("unknown".to_owned());
    let tried = RwSignal::new(false);
    let typed = Memo::new(move |_| Typed {
        product: product.get(),
        active: active.get(),
        how: how.get(),
        quantity: quantity.get(),
        batch: batch.get(),
        out_by: out_by.get(),
        label: label.get(),
        days: days.get(),
    });
    let fault = move |of: Fault, words: &'static str| {
        Signal::derive(move || {
            let today = clock::now_here().date();
            let wrong = tried.get() && typed.with(|typed| typed.read(today)) == Err(of);
            wrong.then(|| words.to_owned())
        })
    };
    let mind = changing::view(move || {
        let today = clock::now_here().date();
        let typed = typed.get();
        let given = typed.read(today).ok()?;
        let lines = say.journal.yard.with(|yard| {
            let hive = yard.hive(say.hive)?;
            Some(mind::of_treatment(&given, &hive.treatments))
        });
        Some(minded(lines?))
    });
    let write = move |event: SubmitEvent| {
        event.prevent_default();
        tried.set(true);
        let today = clock::now_here().date();
        let Ok(given) = typed.with_untracked(|typed| typed.read(today)) else {
            return;
        };
        say.write(Known::TreatmentBegun(given), move || {
            tried.set(false);
            for typed in [product, active, how, quantity, batch, out_by, days] {
                typed.set(String::new());
            }
            label.set("unknown".to_owned());
        });
    };
    let labels = words::LABELS
        .iter()
        .map(|(key, words)| ((*key).to_owned(), (*words).to_owned()))
        .collect::<Vec<_>>();
    let with_days = move || label.with(|label| ["days", "lost"].contains(&label.as_str()));
    view! {
        <details id="note-treatment">
            <summary>{words::NOTE_TREATMENT}</summary>
            <form class="form" on:submit=write>
                <Field id="treat-product" label=words::PRODUCT value=product
                    fault=fault(Fault::Product, words::NO_PRODUCT) />
                <div class="pairs">
                    <Field id="treat-active" label=words::ACTIVE value=active />
                    <Field id="treat-how" label=words::HOW value=how />
                    <Field id="treat-quantity" label=words::QUANTITY value=quantity />
                    <Field id="treat-batch" label=words::BATCH value=batch />
                    <Field id="treat-out" label=words::OUT_BY value=out_by kind="date"
                        fault=fault(Fault::OutBy, words::NO_OUT_BY) />
                </div>
                <Choice name="treat-label" legend=words::LABEL of=labels chosen=label />
                <Show when=with_days>
                    <Field id="treat-days" label=words::DAYS_AFTER value=days inputmode="numeric"
                        fault=fault(Fault::Days, words::NO_DAYS) />
                </Show>
                {mind}
                <button type="submit">{words::WRITE}</button>
            </form>
        </details>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TODAY: Date = Date::constant(2026, 11, 27);

    fn typed(label: &str, days: &str, out_by: &str) -> Typed {
        Typed {
            product: " Acme Strips ".to_owned(),
            label: label.to_owned(),
            days: days.to_owned(),
            out_by: out_by.to_owned(),
            ..Typed::default()
        }
    }

    #[test]
    fn a_label_left_open_is_unknown_and_never_none() {
        let given = typed("unknown", "", "").read(TODAY).expect("it is told");
        assert_eq!(given.product, "Acme Strips");
        assert_eq!((given.withholding, given.batch), (None, None));
        let nil = typed("nil", "", "").read(TODAY).expect("it is told");
        assert_eq!(nil.withholding, Some(LabelPeriod::Nil));
    }

    #[test]
    fn what_cannot_be_is_named_by_its_field() {
        assert_eq!(Typed::default().read(TODAY), Err(Fault::Product));
        assert_eq!(typed("days", "", "").read(TODAY), Err(Fault::Days));
        assert_eq!(typed("days", "-1", "").read(TODAY), Err(Fault::Days));
        assert_eq!(
            typed("nil", "", "2026-11-26").read(TODAY),
            Err(Fault::OutBy)
        );
        assert_eq!(typed("nil", "", "soon").read(TODAY), Err(Fault::OutBy));
        let lost = typed("lost", "14", "2026-12-24").read(TODAY);
        let lost = lost.expect("it is told").withholding;
        assert_eq!(lost, Some(LabelPeriod::HoneyOnIsLost { days: 14 }));
    }
}
