//! `combwright paper calendar`: what is due, for the calendar on the wall or the phone.

use std::path::Path;

use health::due::DueKind;
use health::mind;
use hive::numbers::ranges;
use hive::{Hive, Yard};
use honey::lots::House;
use house::Kept;
use jiff::civil::Date;
use jiff::{ToSpan, ZonedDateTime};
use paper::calendar::{Due, calendar as written};
use serde_json::json;

use super::Context;
use crate::commands::advise::{Choices, advice_on};
use crate::failure::Failure;
use crate::out;
use crate::surroundings::local_day;

/// Runs the command.
pub(super) async fn calendar(context: &Context, file: &Path) -> Result<(), Failure> {
    let yard = context.yard().await?;
    let due = due_things(&yard, context.now(), &Choices::usual(context))?;
    let text = written("Combwright", &due, context.now().timestamp());
    if file == Path::new("-") {
        out::line(text.trim_end());
        return Ok(());
    }
    crate::commands::write_whole(file, text.as_bytes())?;
    if context.json {
        let listed: Vec<_> = due
            .iter()
            .map(|due| json!({ "day": due.day, "summary": due.summary }))
            .collect();
        return out::json(&json!({ "file": file, "due": listed }));
    }
    for due in &due {
        out::folded(&format!("{}  ", due.day), &due.summary);
    }
    out::folded(
        "",
        &format!("{} due things written to {}.", due.len(), file.display()),
    );
    Ok(())
}

/// Everything due in a yard, by day.
pub(crate) fn due_things(
    yard: &Yard,
    now: &ZonedDateTime,
    choices: &Choices,
) -> Result<Vec<Due>, Failure> {
    let mut due = Vec::new();
    for hive in yard.living_hives() {
        due.extend(of_hive(yard, hive, now, choices)?);
        due.extend(of_health(yard, hive, now.date()));
    }
    due.extend(of_jars(&Kept::of(yard, &local_day).house, now.date()));
    due.sort_by(|a, b| (a.day, &a.uid).cmp(&(b.day, &b.uid)));
    Ok(due)
}

/// Reports, removals and the end of withholdings. What is overdue stands under today.
fn of_health(yard: &Yard, hive: &Hive, today: Date) -> Vec<Due> {
    let of = |due: health::due::Due| {
        let (what, description) = match due.kind {
            DueKind::Report => ("report", STOP_OR_ASK),
            DueKind::Removal => ("removal", mind::LABEL_DECIDES),
            DueKind::HoneyFree => ("honey-free", mind::LABEL_DECIDES),
        };
        let late = if due.day < today && due.kind == DueKind::Removal {
            format!(" (was to be on {})", due.day)
        } else {
            String::new()
        };
        Due {
            uid: format!("{what}-{}@combwright", due.entry),
            day: due.day.max(today),
            summary: format!("{}: {}{late}", hive.name, due.words),
            description: description.to_owned(),
            location: place(yard, hive),
        }
    };
    health::due::due(hive, today).into_iter().map(of).collect()
}

/// Said with a sign that is not reported yet.
const STOP_OR_ASK: &str =
    "Until your local authority has answered: move no bees, combs, honey or tools off the site.";

fn place(yard: &Yard, hive: &Hive) -> Option<String> {
    let apiary = hive.apiary.and_then(|id| yard.apiary(id));
    apiary.map(|apiary| apiary.name.clone())
}

/// A wash every six weeks while bees fly (common practice, no source; your local plan decides).
const WASH_EVERY_DAYS: i32 = 42;
/// From queen cells to the look for eggs of the new queen (queen timelines of the reference: a
/// virgin not laying 28 to 35 days after she emerged has failed; practice).
const NEW_QUEEN_DAYS: i32 = 35;

fn of_hive(
    yard: &Yard,
    hive: &Hive,
    now: &ZonedDateTime,
    choices: &Choices,
) -> Result<Vec<Due>, Failure> {
    let today = now.date();
    let place = place(yard, hive);
    let advice = advice_on(yard, hive, now, choices)?;
    let event = |what: &str, day: Date, summary: String, description: String| Due {
        uid: format!("{what}-{}@combwright", hive.id),
        day: day.max(today),
        summary,
        description,
        location: place.clone(),
    };
    let mut due = Vec::new();
    if let Some(day) = advice.return_visit.day {
        let combs = ranges(&advice.may_take);
        let take = if combs.is_empty() {
            String::new()
        } else {
            format!(" May be taken now: bar {combs}.")
        };
        due.push(event(
            "return",
            day,
            if advice.return_visit.spare > 0 {
                format!("{}: come back for honey", hive.name)
            } else {
                format!("{}: combs are likely ripe, look at the stores", hive.name)
            },
            format!("{}.{take}", advice.return_visit.reason),
        ));
    }
    let day_of = |entry| {
        let zone = yard
            .entry(entry)
            .map_or("UTC", |e| e.zone.as_str())
            .to_owned();
        move |at| local_day(at, &zone)
    };
    if let Some(wash) = hive.washes.last() {
        let day = day_of(wash.when.entry)(wash.when.at);
        if let Ok(next) = day.checked_add(WASH_EVERY_DAYS.days()) {
            due.push(event(
                "wash",
                next,
                format!("{}: wash for mites", hive.name),
                format!(
                    "Last wash {day}: {} in {} bees.",
                    paper::told::mites(wash.mites),
                    wash.bees
                ),
            ));
        }
    }
    if let Some(cells) = hive.queen_cells.last().filter(|cells| cells.count > 0) {
        let day = day_of(cells.when.entry)(cells.when.at);
        let check = day.checked_add(NEW_QUEEN_DAYS.days()).ok();
        if let Some(check) = check.filter(|check| *check >= today) {
            due.push(event(
                "queen",
                check,
                format!("{}: eggs of the new queen?", hive.name),
                format!(
                    "{} queen cells on {day}. Not on a warm midday while she may fly.",
                    cells.count
                ),
            ));
        }
    }
    Ok(due)
}

fn of_jars(house: &House, today: Date) -> Vec<Due> {
    let in_stock = house.fillings().iter().filter(|fill| fill.in_stock > 0);
    in_stock
        .map(|fill| Due {
            uid: format!("jars-{}@combwright", fill.fill),
            day: fill.best_before.max(today),
            summary: format!("Best before: jars {}, lot mark {}", fill.fill, fill.mark),
            description: format!(
                "{} jars of {:.0} g are here.",
                fill.in_stock,
                fill.net().to_grams()
            ),
            location: None,
        })
        .collect()
}
