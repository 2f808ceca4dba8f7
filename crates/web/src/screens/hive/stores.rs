//! Stores against the reserve, what may be taken, the next return.

use advice::advise::Advice;
use advice::stores::Standing;
use advice::taking::Combs;
use comb::Mass;
use hive::HiveId;
use hive::numbers::ranges;
use jiff::civil::Date;
use leptos::prelude::*;
use paper::calendar::{Due, calendar};

use crate::browser::{clock, files};
use crate::parts::gauge::Gauge;
use crate::parts::notice::Outcome;
use crate::preferences::Units;
use crate::texts;
use crate::texts::hive as words;

/// The account and the return.
#[component]
pub(super) fn Stores(
    /// Which hive.
    hive: HiveId,
    /// The day that the picture shows; `None` is now.
    shown: RwSignal<Option<Date>>,
    /// Advice as of now.
    advice: Memo<Option<Result<Advice, String>>>,
) -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>();
    let content = move || {
        Some(match advice.get()? {
            Ok(advice) => {
                view! { <Account advice=advice.clone() units=units.get() /> <ComeBack hive advice /> }
                    .into_any()
            }
            Err(why) => {
                view! { <p class="wrong">{texts::apiary::no_advice(&why)}</p> }.into_any()
            }
        })
    };
    // advice is of now, however far back the picture goes
    let of_today = move || {
        let today = texts::days::day_and_year(clock::today());
        shown
            .get()
            .map(|_| view! { <p class="hint">{words::of_today(&today)}</p> })
    };
    view! { <section><h2>{words::STORES}</h2>{of_today}{content}</section> }
}

#[component]
fn Account(advice: Advice, units: Units) -> impl IntoView {
    let account = advice.stores;
    let mass = |mass: Mass| units.mass_words(mass);
    let combs_and_mass = |combs: f64, kg: Mass| format!("{} ({})", Combs(combs), mass(kg));
    let verdict = match account.standing {
        _ if account.is_unknown() => words::UNKNOWN.to_owned(),
        Standing::Covered => words::COVERED.to_owned(),
        Standing::LikelyCovered => words::LIKELY.to_owned(),
        Standing::NotKnown => words::not_known(
            &Combs(account.not_looked_at.len() as f64).to_string(),
            &mass(account.total.low()),
            &mass(account.at_most),
        ),
        Standing::LikelyShort => words::LIKELY_SHORT.to_owned(),
        Standing::Short => words::SHORT.to_owned(),
    };
    let reserve = &account.reserve;
    let mut rows = vec![
        (
            words::THERE,
            format!(
                "{}, {}",
                Combs(account.combs),
                words::range(
                    &mass(account.total.best()),
                    &mass(account.total.low()),
                    &mass(account.total.high()),
                )
            ),
        ),
        (words::CAPPED, mass(account.capped.best())),
        (words::SOON, mass(Mass::kg(advice.ripe_within_two_weeks_kg))),
        (
            words::RESERVE,
            format!(
                "{}, {}",
                combs_and_mass(reserve.combs, reserve.mass),
                reserve.source
            ),
        ),
        (words::ORDINARY, mass(account.ordinary_comb)),
    ];
    if let Some(model) = &reserve.season_model {
        let asked = words::model(
            &mass(model.mass),
            &Combs(model.mass / account.ordinary_comb).to_string(),
            model.sure * 100.0,
            model.until,
            &Combs(reserve.rule_of_thumb_combs).to_string(),
        );
        rows.insert(4, (words::MODEL, asked));
    }
    let rows = rows
        .into_iter()
        .map(|(name, figure)| view! { <div><dt>{name}</dt><dd>{figure}</dd></div> });
    let unseen = (!account.not_looked_at.is_empty())
        .then(|| view! { <p>{words::not_looked_at(&ranges(&account.not_looked_at))}</p> });
    let zone = clock::time_zone();
    let each = account.each.iter().map(|comb| {
        let honey = comb.honey.total;
        let seen = texts::days::day(zone.to_datetime(comb.seen).date());
        let range = words::range(&mass(honey.best()), &mass(honey.low()), &mass(honey.high()));
        view! { <tr><td>{comb.number}</td><td>{range}</td><td>{seen}</td></tr> }
    });
    let table = (!account.each.is_empty()).then(|| {
        view! {
            <details>
                <summary>{words::EACH}</summary>
                <table>
                    <thead>
                        <tr>{words::EACH_HEADS.map(|head| view! { <th scope="col">{head}</th> }).collect_view()}</tr>
                    </thead>
                    <tbody>{each.collect_view()}</tbody>
                </table>
            </details>
        }
    });
    view! {
        <p class="verdict">{verdict}</p>
        <Gauge there=account.combs needed=reserve.combs
            words=format!("{} {}, {} {}", words::THERE, Combs(account.combs), words::RESERVE, Combs(reserve.combs)) />
        <dl class="account">{rows.collect_view()}</dl>
        {unseen}
        <p>{words::may_take(&ranges(&advice.may_take))}</p>
        {table}
    }
}

#[component]
fn ComeBack(hive: HiveId, advice: Advice) -> impl IntoView {
    let outcome = RwSignal::new(String::new());
    let back = advice.return_visit;
    let day = back.day.map(texts::days::day_and_year);
    let reason = texts::sentence(&texts::days::spelled(&back.reason));
    let why = reason.clone();
    let save = back.day.map(|day| {
        let name = advice.name.clone();
        let save = move |_| {
            let due = Due {
                uid: format!("return-{hive}@combwright"),
                day,
                summary: words::come_back(&name),
                description: why.clone(),
                location: None,
            };
            let text = calendar(texts::APP, &[due], clock::now());
            let file = format!("{name}-return.ics");
            let saved = files::save(&file, "text/calendar", &text);
            outcome.set(saved.map_or_else(|thrown| crate::browser::words(&thrown), |()| file));
        };
        view! {
            <button type="button" class="quiet-button" id="save-return" on:click=save>{words::CALENDAR}</button>
        }
    });
    view! {
        <h3>{words::RETURN}</h3>
        {day.map(|day| view! { <p class="return-day">{day}</p> })}
        <p>{reason}</p>
        {save}
        <Outcome words=outcome />
    }
}
