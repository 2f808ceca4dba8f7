//! The spoken test visits, and what holds for any text.

mod support;

use std::fs;
use std::path::Path;

use proptest::prelude::*;
use support::{Score, score};
use talk::{Listener, Summary, hear_text};

fn visits() -> Vec<(String, String, serde_json::Value)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/visits");
    let mut names: Vec<String> = fs::read_dir(&folder)
        .expect("the folder is in the repository")
        .filter_map(|e| {
            e.ok()?
                .file_name()
                .into_string()
                .ok()?
                .strip_suffix(".txt")
                .map(str::to_owned)
        })
        .collect();
    names.sort();
    names
        .into_iter()
        .map(|name| {
            let text = fs::read_to_string(folder.join(format!("{name}.txt"))).expect("text");
            let json = fs::read_to_string(folder.join(format!("{name}.json"))).expect("json");
            (name, text, serde_json::from_str(&json).expect("valid json"))
        })
        .collect()
}

/// Source: the shared set's README, "Score"; its bar is micro F1 0.95.
#[test]
fn the_known_visits_are_understood() {
    let mut total = Score::default();
    let visits = visits();
    assert_eq!(visits.len(), 14);
    for (name, text, want) in visits {
        let got = serde_json::to_value(Summary::from(&hear_text(&text).0)).expect("plain data");
        let one = score(&want, &got);
        assert!(one.f1() >= 0.85, "{name}: {:.3}", one.f1());
        total = total.plus(one);
    }
    assert!(total.f1() >= 0.95, "micro F1 {:.3}", total.f1());
}

#[test]
fn phrase_by_phrase_is_the_whole_text() {
    for (name, text, _) in visits() {
        let mut listener = Listener::new();
        for line in text.lines() {
            listener.hear(line);
        }
        assert_eq!(listener.finish(), hear_text(&text).0, "{name}");
        let mut whole = Listener::new();
        whole.hear(&text);
        assert_eq!(whole.finish(), hear_text(&text).0, "{name}");
    }
}

#[test]
fn every_act_keeps_its_words() {
    for (name, text, _) in visits() {
        let mut listener = Listener::new();
        for line in text.lines() {
            for noted in listener.hear(line).acts {
                let words = line.get(noted.words.clone());
                assert!(words.is_some_and(|w| !w.is_empty()), "{name}: {noted:?}");
            }
        }
    }
}

#[test]
fn nothing_comes_of_bytes_that_are_no_text() {
    let bytes: Vec<u8> = (0..4096_u32)
        .map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8)
        .collect();
    let visit = hear_text(&String::from_utf8_lossy(&bytes)).0;
    assert_eq!(visit.combs.len(), 0);
    assert_eq!(visit.taken(), 0);
}

#[test]
fn an_empty_text_is_an_empty_visit() {
    assert_eq!(hear_text("").0, talk::Visit::default());
}

const WORDS: [&str; 40] = [
    "bar", "twelve", "first", "second", "next", "comb", "capped", "half", "this", "side", "the",
    "other", "back", "take", "leave", "it", "no", "wait", "scratch", "that", "sorry", "brood",
    "eggs", "honey", "two", "kilos", "and", "a", "left", "end", "from", "nest", "full", "empty",
    "follower", "all", "same", "again", "aside", ",",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn any_text_is_heard_without_fault(text in "\\PC{0,200}") {
        let _ = Summary::from(&hear_text(&text).0);
    }

    #[test]
    fn any_row_of_trade_words_is_heard_without_fault(
        words in proptest::collection::vec(0..WORDS.len(), 0..60),
        breaks in proptest::collection::vec(any::<bool>(), 60),
    ) {
        let mut text = String::new();
        for (w, b) in words.iter().zip(breaks) {
            text.push_str(WORDS[*w]);
            text.push(if b { '\n' } else { ' ' });
        }
        let (visit, heard) = hear_text(&text);
        let taken = visit.taken();
        prop_assert!(taken <= visit.combs.len());
        for (line, heard) in text.lines().zip(heard) {
            for noted in heard.acts {
                prop_assert!(line.get(noted.words).is_some());
            }
        }
    }
}
