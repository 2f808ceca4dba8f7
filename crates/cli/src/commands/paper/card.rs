//! `combwright paper card`: one hive, for the next visit.

use advice::carry::carry;
use advice::needs::next_words;
use advice::stores::StoresAccount;
use advice::taking::Combs;
use comb::ToldIn;
use health::told::Standing;
use paper::PictureOptions;
use paper::pdf::{Flow, Print, Typeface};

use super::{Context, day_words, save};
use crate::commands::advise::{Choices, advice_on};
use crate::commands::show::section;
use crate::failure::Failure;
use crate::journal::hive_named;
use crate::paper_args::Output;
use hive::numbers::ranges;

/// Runs the command.
pub(super) async fn card(context: &Context, name: &str, to: &Output) -> Result<(), Failure> {
    let yard = context.yard().await?;
    let hive = hive_named(&yard, name)?;
    let choices = Choices::usual(context);
    let on = context.now();
    let advice = advice_on(&yard, hive, on, &choices)?;
    let face = Typeface::shipped()?;
    let day = day_words(on.date());
    let mut flow = Flow::new(
        Print::large(to.paper.into()),
        format!("{name}, card of {day}", name = hive.name),
        &face,
    );
    let apiary = hive.apiary.and_then(|id| yard.apiary(id));
    let beside = apiary.map_or_else(|| day.clone(), |apiary| format!("{}, {day}", apiary.name));
    flow.title(&hive.name, &beside);
    let picture = paper::svg::hive(
        &section(&yard, hive, on, &choices)?,
        &picture(&flow, context.told_in),
    );
    flow.picture(picture, 110.0)?;

    flow.heading("What to look for");
    let next = next_words(hive, &advice, on);
    if next.is_empty() {
        flow.tick("Nothing presses: food, space, brood, queen or eggs, mites.");
    }
    for words in &next {
        flow.tick(&paper::told::sentence(words));
    }
    let unseen = &advice.stores.not_looked_at;
    if !unseen.is_empty() && unseen.len() < 12 {
        flow.tick(&format!("Not looked at last time: bar {}.", ranges(unseen)));
    }
    flow.gap(0.3);
    flow.pair("May be taken", &taken(&advice.may_take));
    flow.pair(
        "Stores",
        &format!(
            "{}, {} must stay: {}",
            stores_there(&advice.stores),
            Combs(advice.stores.reserve.combs),
            advice.stores.reserve.source
        ),
    );
    if let Some(day) = advice.return_visit.day {
        let words = if day <= on.date() {
            "on the next good day".to_owned()
        } else {
            format!("about {}", day_words(day))
        };
        flow.pair("Next visit", &words);
    }

    let health = Standing::of(&yard, hive, on.date(), false).lines(&yard, on.date());
    if !health.is_empty() {
        flow.heading("Health");
    }
    for (lead, words) in &health {
        flow.pair(lead, &paper::told::sentence(words));
    }

    flow.heading("What to carry");
    for words in carry(hive, advice.may_take.len()) {
        flow.tick(&words);
    }
    flow.heading("Mind");
    for caution in &advice.cautions {
        flow.paragraph(&paper::told::sentence(&caution.text_in(context.told_in)));
    }
    flow.paragraph(
        "Someone should know where you are. Phone, water, and the injector if you are allergic. No \
         smoker on a day of total fire ban before you have checked the order. Disease suspected: \
         close up, move no comb, report to your local authority.",
    );
    flow.heading("Notes");
    flow.write_rest(3);
    save(
        context,
        &flow.finish(),
        &format!("{}, hive card", hive.name),
        &face,
        &to.out,
    )
}

fn picture(flow: &Flow<'_>, told_in: ToldIn) -> PictureOptions {
    PictureOptions {
        // large letters on paper: four CSS pixels a millimetre
        width_px: (flow.width() * 4.0) as u32,
        with_heading: false,
        large_print: true,
        told_in,
        ..PictureOptions::default()
    }
}

/// What is there, as far as it was looked at.
fn stores_there(account: &StoresAccount) -> String {
    match account.not_looked_at.len() {
        0 => format!("{} there", Combs(account.combs)),
        _ if account.is_unknown() => "not known, no comb was looked at".to_owned(),
        unseen => format!(
            "{} in those looked at, {unseen} not looked at",
            Combs(account.combs)
        ),
    }
}

fn taken(bars: &[u32]) -> String {
    if bars.is_empty() {
        "none".to_owned()
    } else {
        format!("bar {}", ranges(bars))
    }
}
