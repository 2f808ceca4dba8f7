//! Combs and cautions in a few words, for errors and notes of the record.

use honey::lots::Caution;

/// Combs in a few words: "Banksia 5, 14; Ironbark 3".
pub fn combs<'a>(combs: impl Iterator<Item = (&'a str, String)>) -> String {
    let mut hives: Vec<(&str, Vec<String>)> = Vec::new();
    for (hive, bar) in combs {
        match hives.iter_mut().find(|(name, _)| *name == hive) {
            Some((_, bars)) => bars.push(bar),
            None => hives.push((hive, vec![bar])),
        }
    }
    let words: Vec<String> = hives
        .iter()
        .map(|(hive, bars)| format!("{hive} {}", bars.join(", ")))
        .collect();
    words.join("; ")
}

/// A caution in words.
pub fn caution(caution: &Caution) -> String {
    match caution {
        Caution::Fermenting { since } => {
            format!("it ferments since {since}; blending does not cure that")
        }
        Caution::OverLimit {
            moisture_pct,
            limit,
        } => format!(
            "{moisture_pct} water is over the limit of {} % ({}; {})",
            limit.value,
            limit.instrument,
            honey::region::CHECK_WITH_AUTHORITY
        ),
        Caution::MayNotKeep {
            moisture_pct,
            keeping,
        } => format!("{moisture_pct} water: {}", keeping.advice()),
        Caution::MoistureNotRead => "its moisture was never read".to_owned(),
        Caution::Withheld { combs, what, .. } => {
            format!("this speaks against {combs} of its combs: {what}")
        }
    }
}

/// Several of them, in one line.
pub fn cautions(all: &[Caution]) -> String {
    let words: Vec<String> = all.iter().map(caution).collect();
    words.join("; ")
}
