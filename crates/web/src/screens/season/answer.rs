//! The season's answer: figures, pictures, and what they rest on.

use comb::Mass;
use leptos::prelude::*;
use season::draw;
use season::report::Report;
use season::swarm::Pressure;

use super::reckoning::Reckoned;
use crate::browser::files;
use crate::parts::notice::Outcome;
use crate::preferences::Units;
use crate::texts;
use crate::texts::season as words;

/// Everything that was reckoned.
#[component]
pub(super) fn Answer(reckoned: Reckoned) -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>().get_untracked();
    let question = reckoned.season.report.reserve.question;
    let mut said: Vec<String> = reckoned.season.assumed.iter().map(words::assumed).collect();
    if reckoned.weather_made_up {
        said.push(words::WEATHER_MADE_UP.to_owned());
    }
    said.push(words::FORAGE_GUESSED.to_owned());
    if !reckoned.height_told {
        said.push(words::OWN_HEIGHT.to_owned());
    }
    let file = reckoned.file(&said);
    let name = words::file_name(&reckoned.hive, question.from);
    let report = reckoned.season.report;
    let needed = report.reserve.needed_kg;
    let style = draw::Style::page(units.told_in());
    let pictures = [
        (
            words::STORES_AHEAD,
            draw::stores_fan(&report.outlook, needed, &style),
        ),
        (words::BEES_AHEAD, draw::bees_fan(&report.outlook, &style)),
        (
            words::DRIVERS,
            draw::bar_chart(&report.drivers, needed, &style),
        ),
        (words::FORAGE, draw::forage_ribbon(&report.forage, &style)),
    ];
    let pictures = pictures.map(|(name, svg)| {
        view! { <h3>{name}</h3> <p class="hint slides">{words::SLIDES}</p> <div class="chart" role="region" tabindex="0" aria-label=name inner_html=svg></div> }
    });
    let outcome = RwSignal::new(String::new());
    let save = move |_| {
        let saved = files::save(&name, "application/json", &file);
        outcome.set(
            saved
                .err()
                .map(|why| crate::browser::words(&why))
                .unwrap_or_default(),
        );
    };
    let list = |lines: Vec<String>| {
        let lines = lines
            .into_iter()
            .map(|line| view! { <li>{texts::sentence(&line)}</li> });
        view! { <ul>{lines.collect_view()}</ul> }
    };
    view! {
        <section id="season-answer">
            <h2>{words::ANSWER}</h2>
            <p>{words::span(question.from, question.until, question.sure * 100.0)}</p>
            {figures(&report, units)}
            {pictures.collect_view()}
            <h3>{words::SWARM}</h3>
            {list(swarming(&report))}
            <h3>{words::ASSUMED}</h3>
            {list(said)}
            <h3>{words::MIND}</h3>
            {list(report.words_in(units.told_in()))}
            <button type="button" class="quiet-button" id="save-season" on:click=save>{words::SAVE}</button>
            <Outcome words=outcome />
        </section>
    }
}

fn figures(report: &Report, units: Units) -> impl IntoView + use<> {
    let mass = |mass: Mass| units.mass_words(mass);
    let needed = match (report.reserve.needed_kg, report.combs) {
        (Some(kg), Some(combs)) => words::needed(&mass(kg), combs.combs, combs.low, combs.high),
        _ => words::NO_AMOUNT.to_owned(),
    };
    let thumb = report.thumb.combs;
    let mut rows = vec![
        (words::NEEDED, needed),
        (words::THUMB, words::thumb(thumb.0, thumb.1)),
        (words::NOW, words::lives(report.reserve.lives_now)),
    ];
    rows.extend(report.feed.as_ref().map(|feed| {
        let (short, sugar) = (mass(feed.short_kg), mass(feed.sugar_kg));
        let how = words::feed(&short, &sugar, feed.syrup_l.to_litres(), &feed.last);
        (words::FEED, how)
    }));
    if let (Some(spare), None) = (report.spare_kg, &report.feed) {
        let combs = spare / report.full_comb.kg;
        rows.push((words::SPARE, words::spare(&mass(spare), combs)));
    }
    let later = words::last_take(&report.last_take, mass);
    let later = if report.spared_now_is_wanted_later() {
        let until = report.reserve.question.until;
        format!("{later} {}", words::wanted_later(until))
    } else {
        later
    };
    rows.push((words::TAKING, later));
    let rows = rows
        .into_iter()
        .map(|(name, figure)| view! { <div><dt>{name}</dt><dd>{figure}</dd></div> });
    view! { <dl class="account">{rows.collect_view()}</dl> }
}

fn swarming(report: &Report) -> Vec<String> {
    let mut high = report
        .swarm
        .iter()
        .filter(|week| week.pressure == Pressure::High);
    let mut lines = Vec::new();
    if let Some(first) = high.next() {
        let last = high.next_back().unwrap_or(first);
        let reasons = first.reasons.join(", ");
        lines.push(words::pressure(first.date, last.date, &reasons));
    }
    let splits = report.splits.iter();
    lines.extend(
        splits.map(|window| words::split(window.from, window.until, &window.opens, &window.closes)),
    );
    if lines.is_empty() {
        lines.push(words::NO_SWARM.to_owned());
    }
    lines
}
