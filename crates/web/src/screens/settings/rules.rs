//! What must stay in a hive, and from when on its combs are ripe.

use advice::advise::climate_of;
use advice::reserve::reserve_due;
use advice::ripe::RipeRule;
use advice::stores::Scales;
use advice::taking::Combs;
use comb::Share;
use comb::typed::number;
use hive::entry::Reserve;
use hive::pen::Subject;
use hive::{Hive, HiveId, Known, Yard};
use leptos::ev::SubmitEvent;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::journal::{Saying, use_journal};
use crate::parts::field::{Choice, Field};
use crate::parts::notice::Outcome;
use crate::preferences::Units;
use crate::texts;
use crate::texts::settings as words;

const THUMB: &str = "thumb";
const COMBS: &str = "combs";
const MASS: &str = "mass";

/// What is settled for one hive.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Settled {
    reserve: Option<Reserve>,
    ripe: Share,
}

fn settled(hive: &Hive) -> Settled {
    Settled {
        reserve: hive.reserve,
        ripe: RipeRule::with_mean(hive.ripeness).mean_capped,
    }
}

/// The living hives meant: one, or all.
fn meant(yard: &Yard, one: Option<HiveId>) -> Vec<&Hive> {
    let living = yard.living_hives().into_iter();
    living
        .filter(|hive| one.is_none_or(|one| one == hive.id))
        .collect()
}

/// The form.
#[component]
pub(super) fn Rules() -> impl IntoView {
    let journal = use_journal();
    let one = RwSignal::new(None::<HiveId>);
    let hives = Memo::new(move |_| {
        journal.yard.with(|yard| {
            let living = yard.living_hives().into_iter();
            living
                .map(|hive| (hive.id.to_string(), hive.name.clone()))
                .collect::<Vec<_>>()
        })
    });
    let options = move || {
        let hives = hives.get().into_iter();
        hives
            .map(|(id, name)| view! { <option value=id>{name}</option> })
            .collect_view()
    };
    let content = move || {
        if hives.with(Vec::is_empty) {
            return view! { <p>{words::NO_HIVES}</p> }.into_any();
        }
        view! {
            <div class="field">
                <label for="for-hive">{words::FOR_HIVE}</label>
                <select id="for-hive" on:change=move |event| one.set(event_target_value(&event).parse().ok())>
                    <option value="all">{words::ALL_HIVES}</option>
                    {options}
                </select>
            </div>
            {move || view! { <RulesFor one=one.get() /> }}
        }
        .into_any()
    };
    view! { <section><h2>{words::RULES}</h2>{content}</section> }
}

/// The rules for one hive, or all.
#[component]
fn RulesFor(one: Option<HiveId>) -> impl IntoView {
    let journal = use_journal();
    let units = expect_context::<RwSignal<Units>>();
    let first = journal
        .yard
        .with_untracked(|yard| meant(yard, one).first().map(|hive| settled(hive)));
    let (kind, amount) = match first.and_then(|settled| settled.reserve) {
        None => (THUMB, String::new()),
        Some(Reserve::Combs(combs)) => (COMBS, combs.to_string()),
        Some(Reserve::Kg(kg)) => (MASS, units.get_untracked().typed_mass(kg)),
    };
    let (kind, amount) = (RwSignal::new(kind.to_owned()), RwSignal::new(amount));
    let ripe = RwSignal::new(first.map_or(0, |settled| nearest(settled.ripe)).to_string());
    let wrong = RwSignal::new(false);
    let outcome = RwSignal::new(String::new());
    let kinds = [
        (THUMB, words::BY_THUMB),
        (COMBS, words::IN_COMBS),
        (MASS, words::BY_MASS),
    ];
    let kinds: Vec<_> = kinds
        .into_iter()
        .map(|(key, words)| (key.to_owned(), words.to_owned()))
        .collect();
    let ripe_choices: Vec<_> = words::RIPE_CHOICES
        .into_iter()
        .enumerate()
        .map(|(n, (words, _))| (n.to_string(), words.to_owned()))
        .collect();
    let keep = move |event: SubmitEvent| {
        event.prevent_default();
        let Ok(reserve) = read_reserve(&kind.get(), &amount.get(), units.get()) else {
            wrong.set(true);
            return;
        };
        wrong.set(false);
        let choice = ripe.get().parse::<usize>().unwrap_or_default();
        let sayings = journal
            .yard
            .with_untracked(|yard| changes(yard, one, reserve, choice));
        if sayings.is_empty() {
            outcome.set(words::RULES_SAME.to_owned());
            return;
        }
        spawn_local(async move {
            outcome.set(match journal.append(sayings).await {
                Ok(_) => texts::records::KEPT.to_owned(),
                Err(why) => texts::journal_error(&why),
            });
        });
    };
    let now = move || journal.yard.with(|yard| rules_now(yard, one, units.get()));
    let asks = move || kind.with(|kind| kind != THUMB);
    let unit = Signal::derive(move || {
        if kind.with(|kind| kind == MASS) {
            units.get().mass_sign().to_owned()
        } else {
            String::new()
        }
    });
    let fault = Signal::derive(move || wrong.get().then(|| words::NO_FIGURE.to_owned()));
    view! {
        <form class="form" on:submit=keep novalidate>
            <p id="rules-now">{now}</p>
            <Choice name="reserve" legend=words::RESERVE of=kinds chosen=kind />
            <Show when=asks>
                <Field id="amount" label=words::HOW_MUCH value=amount unit fault inputmode="decimal" />
            </Show>
            <Choice name="ripe" legend=words::RIPE of=ripe_choices chosen=ripe />
            <button type="submit" id="keep-rules">{words::KEEP_RULES}</button>
            <Outcome words=outcome />
        </form>
    }
}

/// No figure above 0 was typed.
#[derive(Debug, PartialEq, Eq)]
struct NoFigure;

fn read_reserve(kind: &str, amount: &str, units: Units) -> Result<Option<Reserve>, NoFigure> {
    let above_zero = |figure: &f64| *figure > 0.0;
    match kind {
        COMBS => {
            let combs = number(amount).filter(above_zero).ok_or(NoFigure)?;
            Ok(Some(Reserve::Combs(combs)))
        }
        MASS => {
            let mass = units.mass(amount).filter(|mass| mass.to_kg() > 0.0);
            Ok(Some(Reserve::Kg(mass.ok_or(NoFigure)?)))
        }
        _ => Ok(None),
    }
}

/// Which of the choices a capped share is nearest to.
fn nearest(ripe: Share) -> usize {
    let off = |choice: &(usize, f64)| (choice.1 - ripe.get()).abs();
    words::RIPE_CHOICES
        .iter()
        .map(|(_, share)| *share)
        .enumerate()
        .min_by(|one, other| off(one).total_cmp(&off(other)))
        .map_or(0, |(n, _)| n)
}

/// What to write down so that the rules hold; nothing for a hive where they hold already.
fn changes(
    yard: &Yard,
    one: Option<HiveId>,
    reserve: Option<Reserve>,
    choice: usize,
) -> Vec<Saying> {
    let mut sayings = Vec::new();
    for hive in meant(yard, one) {
        let about = Subject::hive(hive.id);
        let now = settled(hive);
        if now.reserve != reserve {
            sayings.push(Saying::now(about, Known::ReserveSet { reserve }));
        }
        let share = words::RIPE_CHOICES
            .get(choice)
            .map(|(_, share)| Share::clamped(*share));
        // between the choices a share that was settled elsewhere is left as it is
        if let Some(mean_capped) = share.filter(|_| nearest(now.ripe) != choice) {
            sayings.push(Saying::now(about, Known::RipenessSet { mean_capped }));
        }
    }
    sayings
}

/// What is settled now, or that the hives differ.
fn rules_now(yard: &Yard, one: Option<HiveId>, units: Units) -> String {
    let words = |hive: &&Hive| {
        let scales = Scales::of(hive, yard.hives());
        let due = reserve_due(hive, climate_of(yard, hive), None, scales.ordinary_comb());
        let amount = format!("{} ({})", Combs(due.combs), units.mass_words(due.mass));
        words::rules_now(&amount, &settled(hive).ripe.to_string())
    };
    let hives = meant(yard, one);
    let same = |two: &[&Hive]| settled(two[0]) == settled(two[1]);
    match hives.as_slice() {
        [one] => words(one),
        many if many.windows(2).all(same) && many.iter().all(|hive| hive.reserve.is_none()) => {
            String::new()
        }
        [first, ..] if hives.windows(2).all(same) => words(first),
        _ => words::RULES_DIFFER.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_settled_is_the_choice_that_is_offered() {
        for (n, (_, share)) in words::RIPE_CHOICES.into_iter().enumerate() {
            assert_eq!(nearest(Share::clamped(share)), n);
        }
    }

    #[test]
    fn a_reserve_needs_a_figure_above_zero() {
        assert_eq!(read_reserve(THUMB, "", Units::Metric), Ok(None));
        let six = Ok(Some(Reserve::Combs(6.0)));
        assert_eq!(read_reserve(COMBS, "6", Units::Metric), six);
        for wrong in ["", "0", "-2", "many"] {
            assert_eq!(read_reserve(COMBS, wrong, Units::Metric), Err(NoFigure));
            assert_eq!(read_reserve(MASS, wrong, Units::Inches), Err(NoFigure));
        }
    }
}
