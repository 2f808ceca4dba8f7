//! How hives stand: what is on, what was seen, which honey is withheld, what is due.

use health::condition::{CONDITIONS, PLACES};
use health::mind::{STOP, stop_is_on};
use health::told::Standing;
use hive::Yard;
use paper::told::sentence;
use serde_json::{Value, json};

use super::Context;
use crate::failure::Failure;
use crate::journal::hive_named;
use crate::out;

/// Lists all hives, or one.
pub(super) async fn list(context: &Context, name: Option<&str>, all: bool) -> Result<(), Failure> {
    let yard = context.yard().await?;
    let today = context.now().date();
    let hives = match name {
        Some(name) => vec![hive_named(&yard, name)?],
        None => yard.living_hives(),
    };
    let standing: Vec<Standing<'_>> = hives
        .into_iter()
        .map(|hive| Standing::of(&yard, hive, today, all))
        .collect();
    if context.json {
        let hives: Vec<Value> = standing.iter().map(as_json).collect();
        return out::json(&json!({
            "day": today,
            "hives": hives,
            "bought": yard.purchases(),
            "disposed_of": yard.disposals(),
        }));
    }
    let mut quiet = true;
    for hive in &standing {
        let lines = hive.lines(&yard, today);
        if lines.is_empty() {
            continue;
        }
        quiet = false;
        out::line(out::strong(&hive.hive.name));
        for (lead, words) in lines {
            out::folded(&format!("  {lead}: "), &words);
        }
    }
    if quiet {
        out::folded(
            "",
            "No treatment is on, no sign stands, no honey is withheld by what is recorded here.",
        );
    }
    if all {
        medicines(&yard);
    }
    if standing.iter().any(|s| stop_is_on(s.hive)) {
        out::folded("Mind: ", STOP);
    }
    Ok(())
}

fn as_json(standing: &Standing<'_>) -> Value {
    let withheld = standing.withheld.iter();
    let due = standing.due.iter();
    json!({
        "hive": standing.hive.name,
        "treatments": standing.treatments,
        "signs": standing.signs,
        "withheld": withheld
            .map(|(weight, withheld)| json!({ "weight": weight, "why": withheld }))
            .collect::<Vec<_>>(),
        "due": due
            .map(|due| json!({ "day": due.day, "what": due.words }))
            .collect::<Vec<_>>(),
    })
}

fn medicines(yard: &Yard) {
    for purchased in yard.purchases() {
        let bought = &purchased.bought;
        let parts = [
            Some(bought.product.clone()),
            bought.quantity.clone(),
            bought.batch.as_ref().map(|batch| format!("batch {batch}")),
            bought.supplier.as_ref().map(|from| format!("from {from}")),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        out::folded(&format!("Bought {}: ", bought.on), &parts.join(", "));
    }
    for disposed in yard.disposals() {
        let what = &disposed.disposed;
        let parts = [Some(what.product.clone()), what.quantity.clone()];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        out::folded(
            &format!("Disposed of {}: ", what.on),
            &format!("{}: {}", parts.join(", "), what.how),
        );
    }
}

/// Prints what the reference knows of diseases and pests.
pub(super) fn conditions(context: &Context) -> Result<(), Failure> {
    if context.json {
        let all: Vec<Value> = CONDITIONS
            .iter()
            .map(|condition| {
                let law: serde_json::Map<String, Value> = PLACES
                    .iter()
                    .zip(condition.places)
                    .map(|(place, found)| ((*place).to_owned(), Value::from(found)))
                    .collect();
                json!({
                    "name": condition.name,
                    "signs": condition.signs,
                    "must": condition.must,
                    "law_as_read": law,
                })
            })
            .collect();
        return out::json(&all);
    }
    for condition in CONDITIONS {
        out::line(out::strong(condition.name));
        out::folded("  Shows: ", &sentence(condition.signs));
        out::folded("  Do: ", &sentence(condition.must));
        for (place, found) in PLACES.iter().zip(condition.places) {
            if found != "-" {
                out::folded(&format!("  {place}: "), found);
            }
        }
    }
    out::folded(
        "Mind: ",
        "Law differs and changes: this is what was read, your local authority decides. A sign is \
         not a diagnosis.",
    );
    Ok(())
}
