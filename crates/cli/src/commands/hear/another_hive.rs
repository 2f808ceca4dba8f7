//! Which hive the words begin with: a file meant for one hive must not go silently into another.

use hive::{Hive, HiveId, Yard};

/// What may stand before a hive's name where a keeper begins: "okay, this is Banksia".
const LEAD_IN: [&str; 18] = [
    "ok", "okay", "right", "now", "so", "and", "then", "this", "here", "is", "s", "we", "re",
    "are", "at", "opening", "the", "hive",
];

/// Phrases in which a name may still be the beginning; later it is talk of another hive.
const FIRST: usize = 3;

/// Another living hive whose name the words begin with, before any comb; `None` where they begin with the
/// name of `into`, or with none.
pub(super) fn named_instead<'a>(text: &str, yard: &'a Yard, into: HiveId) -> Option<&'a Hive> {
    let hives = yard.living_hives();
    let mut transcript = talk::record::Transcript::default();
    let phrases = text.lines().filter(|line| !line.trim().is_empty());
    for phrase in phrases.take(FIRST) {
        let named = begins_with(phrase, &hives);
        if named.iter().any(|hive| hive.id == into) {
            return None;
        }
        if let Some(other) = named.first() {
            return Some(other);
        }
        transcript.hear(phrase);
        if !transcript.visit().combs.is_empty() {
            return None;
        }
    }
    None
}

/// Hives whose name the phrase begins with, all of the longest such name.
fn begins_with<'a>(phrase: &str, hives: &[&'a Hive]) -> Vec<&'a Hive> {
    let said = words(phrase);
    let lead_in = said.iter().take_while(|word| LEAD_IN.contains(&&***word));
    // a name may begin with such a word itself: "Hive 02"
    for from in 0..=lead_in.count() {
        let here = |hive: &&&Hive| {
            let name = words(&hive.name);
            !name.is_empty() && said[from..].starts_with(&name) && !is_ordinary(&hive.name)
        };
        let named: Vec<&Hive> = hives.iter().filter(here).copied().collect();
        let longest = named.iter().map(|hive| words(&hive.name).len()).max();
        if let Some(longest) = longest {
            let whole = |hive: &&Hive| words(&hive.name).len() == longest;
            return named.into_iter().filter(whole).collect();
        }
    }
    Vec::new()
}

/// True for a name that is also said of any hive: "Left", "Honey", "Two", "Sunny".
fn is_ordinary(name: &str) -> bool {
    let numbered_hive = words(name).first().is_some_and(|word| word == "hive");
    let strange = |(concept, _): &(&str, String)| *concept == "#word";
    !numbered_hive && !talk::concepts_of(name).iter().any(strange)
}

/// Words in small letters; a number without the noughts before it.
fn words(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric());
    words
        .filter(|word| !word.is_empty())
        .map(|word| match word.parse::<u32>() {
            Ok(number) => number.to_string(),
            Err(_) => word.to_owned(),
        })
        .collect()
}
