//! What was heard, in a keeper's words.

use talk::act::Side;
use talk::{Act, Comb, Visit};

/// One comb as heard.
pub(crate) fn comb_words(comb: &Comb) -> String {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let mut parts = Vec::new();
    match (comb.this, comb.other) {
        (Some(this), Some(other)) if (this - other).abs() < 1e-9 => {
            parts.push(format!("capped {} both sides", percent(this)));
        }
        (this, other) => {
            parts.extend(this.map(|share| format!("capped {} this side", percent(share))));
            parts.extend(other.map(|share| format!("{} the other", percent(share))));
        }
    }
    let holds: Vec<String> = comb
        .all_holds()
        .iter()
        .map(|hold| hold.word().to_owned())
        .collect();
    if !holds.is_empty() {
        parts.push(holds.join(", "));
    }
    parts.extend(comb.fill.map(|fill| fill_word(fill).to_owned()));
    parts.extend(
        comb.attached
            .map(|yes| if yes { "attached" } else { "free of the walls" }.to_owned()),
    );
    parts.extend(
        comb.straight
            .map(|yes| if yes { "straight" } else { "crossed" }.to_owned()),
    );
    parts.extend(comb.kg.map(|kg| format!("{kg:.1} kg")));
    parts.extend(comb.mm.map(|mm| format!("{mm:.0} mm thick")));
    parts.push(match (comb.decision, comb.aside) {
        (Some(talk::act::Decision::Take), _) => "TAKE".to_owned(),
        (Some(talk::act::Decision::Leave), _) => "leave".to_owned(),
        (None, true) => "set aside".to_owned(),
        (None, false) => "not decided".to_owned(),
    });
    parts.join("; ")
}

/// One thing understood, as it is answered at the hive; nothing for what says no news.
pub(crate) fn act_words(act: &Act) -> Option<String> {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    Some(match act {
        Act::EndOpened(Some(talk::act::End::Left)) => "left end".to_owned(),
        Act::EndOpened(Some(talk::act::End::Right)) => "right end".to_owned(),
        Act::EndOpened(None) => "an end not named".to_owned(),
        Act::CombMet { bar: Some(bar) } => format!("bar {bar}"),
        Act::CombMet { bar: None } => "the next comb".to_owned(),
        Act::Renumbered(bar) => format!("it is bar {bar}"),
        Act::Capped(Side::This, share) => format!("{} capped this side", percent(*share)),
        Act::Capped(Side::Other, share) => format!("{} capped the other side", percent(*share)),
        Act::Holds(hold) => hold.word().to_owned(),
        Act::HoldsNot(hold) => format!("no {}", hold.word()),
        Act::Filled(fill) => fill_word(*fill).to_owned(),
        Act::Attached(true) => "attached".to_owned(),
        Act::Attached(false) => "free of the walls".to_owned(),
        Act::Straight(true) => "straight".to_owned(),
        Act::Straight(false) => "crossed".to_owned(),
        Act::Decided(Some(talk::act::Decision::Take)) => "TAKE".to_owned(),
        Act::Decided(Some(talk::act::Decision::Leave)) => "leave".to_owned(),
        Act::Decided(None) => "set aside".to_owned(),
        Act::Broke => "it broke off".to_owned(),
        Act::Weighs(kg) => format!("{kg:.1} kg"),
        Act::Thick(mm) => format!("{mm:.0} mm thick"),
        Act::QueenSeen => "the queen".to_owned(),
        Act::EggsSeen => return None,
        Act::QueenCells(count) => format!("{count} queen cells"),
        Act::Temperature(degrees) => format!("{degrees:.0} degrees C"),
        Act::Mites { count, bees } => match (count, bees) {
            (Some(mites), Some(bees)) => format!("{mites} mites in {bees} bees"),
            (Some(mites), None) => format!("{mites} mites"),
            (None, Some(bees)) => format!("{bees} bees"),
            (None, None) => return None,
        },
        Act::Fed { kind, .. } => format!("fed {}", kind.as_deref().unwrap_or("syrup")),
        Act::Closed(row) => {
            let words: Vec<String> = row.iter().filter_map(named).collect();
            format!("closed from the nest outward: {}", words.join(", "))
        }
        Act::TakenBack => "taken back".to_owned(),
    })
}

const fn fill_word(fill: talk::act::Fill) -> &'static str {
    match fill {
        talk::act::Fill::Full => "full",
        talk::act::Fill::Part => "part full",
        talk::act::Fill::Light => "light",
    }
}

/// The word under which a plain value is written.
fn named(value: &impl serde::Serialize) -> Option<String> {
    let value = serde_json::to_value(value).ok()?;
    value.as_str().map(str::to_owned)
}

/// The rest of a visit as heard.
pub(crate) fn visit_words(visit: &Visit) -> Vec<String> {
    let mut lines = Vec::new();
    lines.extend(visit.temperature_c.map(|c| format!("{c:.0} degrees C")));
    if visit.queen_seen {
        lines.push("The queen was seen".to_owned());
    }
    if visit.eggs_seen {
        lines.push("Eggs were seen".to_owned());
    }
    if visit.queen_cells > 0 {
        lines.push(format!("{} queen cells", visit.queen_cells));
    }
    if let (Some(mites), Some(bees)) = (visit.mites, visit.bees) {
        lines.push(format!("{mites} mites in {bees} bees"));
    }
    if let Some(feed) = &visit.feed {
        let litres = visit
            .litres
            .map_or_else(String::new, |l| format!("{l:.1} litres of "));
        lines.push(format!("Fed {litres}{feed}"));
    }
    lines.push(format!("{} taken", visit.taken()));
    if !visit.closing.is_empty() {
        let words: Vec<String> = visit.closing.iter().filter_map(named).collect();
        lines.push(format!(
            "Closed from the nest outward: {}",
            words.join(", ")
        ));
    }
    lines
}
