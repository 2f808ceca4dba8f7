//! Which rules and which phrases of the lexicon earn their keep in only one of the visits of a
//! folder: `honesty DIR`. A rule that fires in one visit only may have been made for it.
#![allow(clippy::print_stdout, reason = "an example prints")]

use std::collections::{BTreeMap, BTreeSet};
use std::{env, fs};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = env::args().nth(1).ok_or("usage: honesty DIR")?;
    let mut rules: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut phrases: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut visits = 0;
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_none_or(|e| e != "txt") {
            continue;
        }
        visits += 1;
        let name = path
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let text = String::from_utf8_lossy(&fs::read(&path)?).into_owned();
        let mut listener = talk::Listener::new();
        for line in text.lines() {
            for noted in listener.hear(line).acts {
                rules
                    .entry(noted.rule.0.to_owned())
                    .or_default()
                    .insert(name.clone());
            }
            for (_, phrase) in talk::concepts_of(line) {
                if phrase.contains("<-") {
                    phrases.entry(phrase).or_default().insert(name.clone());
                }
            }
        }
    }
    println!("{visits} visits; rules of the grammar and the visits they fire in:");
    for (rule, seen) in &rules {
        let only = if seen.len() == 1 {
            format!("  only {}", seen.iter().next().map_or("", |s| s))
        } else {
            String::new()
        };
        println!("  {:4}  {rule}{only}", seen.len());
    }
    let once = phrases.values().filter(|s| s.len() == 1).count();
    println!(
        "{} phrases of the lexicon met, {once} of them in one visit only",
        phrases.len()
    );
    Ok(())
}
