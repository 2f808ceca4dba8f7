//! Events of the honey house in a few words.

use comb::Mass;
use serde_json::{Map, Value};

use super::event::{Gone, Loss};
use super::{LotEvent, PailId};

/// A honey-house event in a few words.
pub fn event(event: &Map<String, Value>) -> String {
    match serde_json::from_value::<LotEvent>(Value::Object(event.clone())) {
        Ok(known) => lot_event(&known),
        Err(_) => format!(
            "honey house: something a newer program wrote ({})",
            event.get("event").and_then(Value::as_str).unwrap_or("?")
        ),
    }
}

/// The same of an event that was read.
pub fn lot_event(event: &LotEvent) -> String {
    lot_event_in(event, &|mass| format!("{:.2} kg", mass.to_kg()), &|mass| {
        format!("{:.0} g", mass.to_grams())
    })
}

/// The same in other units: how a mass of honey or comb is written, and what one jar holds.
pub fn lot_event_in(
    event: &LotEvent,
    kg: &dyn Fn(Mass) -> String,
    jar: &dyn Fn(Mass) -> String,
) -> String {
    match event {
        LotEvent::PailFilled(it) => {
            let combs: Vec<String> = it
                .combs
                .iter()
                .map(|comb| format!("{} {}", comb.hive, comb.bar))
                .collect();
            let mass = it
                .mass_kg
                .map(|m| format!(", {}", kg(m)))
                .unwrap_or_default();
            format!("pail {}: {}{mass}", it.pail, combs.join(", "))
        }
        LotEvent::LotMade(it) => {
            let pails: Vec<&str> = it.pails.iter().map(PailId::as_str).collect();
            format!(
                "lot {}: {} from pail {}",
                it.lot,
                kg(it.honey_kg),
                pails.join(", ")
            )
        }
        LotEvent::LotReceived(it) => {
            format!(
                "lot {}: {} from {}, their lot {}",
                it.lot,
                kg(it.mass_kg),
                it.from,
                it.their_lot
            )
        }
        LotEvent::LotsBlended(it) => {
            let parts: Vec<String> = it
                .from
                .iter()
                .map(|d| format!("{} of {}", kg(d.mass_kg), d.lot))
                .collect();
            format!("lot {}: blended from {}", it.lot, parts.join(", "))
        }
        LotEvent::LotLost(it) => {
            format!("lot {}: {} {}", it.lot, kg(it.mass_kg), lost(it.why))
        }
        LotEvent::LotReweighed(it) => format!("lot {}: weighs {}", it.lot, kg(it.mass_kg)),
        LotEvent::MoistureRead(it) => match it.reading.moisture() {
            Ok(moisture) => format!("lot {}: {moisture} water", it.lot),
            Err(_) => format!("lot {}: a reading out of range", it.lot),
        },
        LotEvent::LotFiltered(it) => {
            format!("lot {}: strained, {} micrometres", it.lot, it.mesh_um)
        }
        LotEvent::FermentationSeen(it) => format!("lot {}: ferments", it.lot),
        LotEvent::JarsFilled(it) => format!(
            "{}: {} of {} from lot {}, lot mark {}",
            it.fill,
            jars(it.count),
            jar(it.net_kg),
            it.lot,
            it.mark
        ),
        LotEvent::JarsOut(it) => {
            let to = it
                .to
                .as_ref()
                .map(|to| format!(" to {to}"))
                .unwrap_or_default();
            format!("{}: {} {}{to}", it.fill, jars(it.count), gone(it.how))
        }
        LotEvent::JarsBack(it) => format!("{}: {} back", it.fill, jars(it.count)),
        LotEvent::SellerTold(_) => "what every label repeats".to_owned(),
    }
}

const fn lost(why: Loss) -> &'static str {
    match why {
        Loss::Skimmed => "skimmed off",
        Loss::Spilt => "spilt",
        Loss::Sample => "taken for a test",
        Loss::Eaten => "eaten or given",
        Loss::Discarded => "thrown away",
        Loss::Water => "of water dried off",
    }
}

fn jars(count: u32) -> String {
    if count == 1 {
        "1 jar".to_owned()
    } else {
        format!("{count} jars")
    }
}

const fn gone(how: Gone) -> &'static str {
    match how {
        Gone::Sold => "sold",
        Gone::Given => "given away",
        Gone::Eaten => "eaten at home",
        Gone::Broken => "broken",
        Gone::Destroyed => "destroyed",
    }
}
