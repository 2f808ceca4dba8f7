//! What was heard, in a keeper's words.

use comb::{Length, Mass, Temperature, ToldIn, Volume};
use talk::{Comb, Visit};

/// One comb as heard.
pub(crate) fn comb_words(comb: &Comb, told_in: ToldIn) -> String {
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
    parts.extend(comb.loose.map(talk::understood::loose_words));
    let holds: Vec<String> = comb
        .all_holds()
        .iter()
        .map(|hold| hold.word().to_owned())
        .collect();
    if !holds.is_empty() {
        parts.push(holds.join(", "));
    }
    parts.extend(
        comb.fill
            .map(|fill| talk::understood::fill_word(fill).to_owned()),
    );
    parts.extend(
        comb.attached
            .map(|yes| if yes { "attached" } else { "free of the walls" }.to_owned()),
    );
    parts.extend(
        comb.straight
            .map(|yes| if yes { "straight" } else { "crossed" }.to_owned()),
    );
    parts.extend(comb.kg.map(|kg| told_in.mass_words(Mass::kg(kg))));
    let thick = |mm| format!("{} thick", told_in.length_words(Length::mm(mm)));
    parts.extend(comb.mm.map(thick));
    parts.push(match (comb.decision, comb.aside) {
        (Some(talk::act::Decision::Take), _) => "TAKE".to_owned(),
        (Some(talk::act::Decision::Leave), _) => "leave".to_owned(),
        (None, true) => "set aside".to_owned(),
        (None, false) => "not decided".to_owned(),
    });
    parts.join("; ")
}

/// The rest of a visit as heard.
pub(crate) fn visit_words(visit: &Visit, told_in: ToldIn) -> Vec<String> {
    let mut lines = Vec::new();
    let air = visit.temperature_c.map(Temperature::celsius);
    lines.extend(air.map(|air| told_in.temperature_words(air)));
    if visit.queen_seen {
        lines.push("The queen was seen".to_owned());
    }
    if visit.eggs_seen {
        lines.push("Eggs were seen".to_owned());
    }
    lines.extend(visit.queen_cells.map(|count| match count {
        0 => "No queen cells found".to_owned(),
        1 => "1 queen cell".to_owned(),
        count => format!("{count} queen cells"),
    }));
    if let (Some(mites), Some(bees)) = (visit.mites, visit.bees) {
        lines.push(format!("{} in {bees} bees", paper::told::mites(mites)));
    }
    if let Some(feed) = &visit.feed {
        let volume = visit.litres.map(Volume::litres);
        let volume = volume.map(|volume| told_in.volume_words(volume));
        let mass = visit.feed_kg.map(Mass::kg);
        let amount = volume.or_else(|| mass.map(|mass| told_in.mass_words(mass)));
        let amount = amount.map(|amount| format!("{amount} of "));
        lines.push(format!("Fed {}{feed}", amount.unwrap_or_default()));
    }
    lines.push(format!("{} taken", visit.taken()));
    if !visit.closing.is_empty() {
        let words: Vec<&str> = visit.closing.iter().map(|piece| piece.word()).collect();
        lines.push(format!(
            "Closed from the nest outward: {}",
            words.join(", ")
        ));
    }
    lines
}
