//! A share that was said without its side: shown at once, asked for when the comb is left, and on no
//! face until the side is told.

use std::collections::BTreeSet;

use talk::act::Side;
use talk::record::Transcript;
use talk::understood::understood;
use talk::{Act, Heard, Listener, Tap};

/// A visit with a keeper who hears the questions: what came of each phrase.
fn at_the_hive(phrases: &[&str]) -> (Listener, Vec<Heard>) {
    let mut listener = Listener::with_bars(1..=24);
    let heard = phrases.iter().map(|phrase| listener.hear(phrase)).collect();
    (listener, heard)
}

/// This and the other face of a comb, by the order met.
fn faces(listener: &Listener, comb: usize) -> (Option<f64>, Option<f64>) {
    let comb = &listener.visit().combs[comb];
    (comb.this, comb.other)
}

fn asked(heard: &[Heard]) -> Vec<&str> {
    heard.iter().filter_map(|h| h.ask.as_deref()).collect()
}

const EIGHTEEN: &str = "Half capped on which side of bar 18, or both?";

#[test]
fn a_share_without_a_side_is_shown_and_is_on_no_face() {
    for (said, shown) in [
        ("eighteen, half capped", "50 % capped, side not said"),
        (
            "bar eighteen two thirds capped",
            "67 % capped, side not said",
        ),
        (
            "bar eighteen sixty percent capped",
            "60 % capped, side not said",
        ),
    ] {
        let (listener, heard) = at_the_hive(&["right end", said]);
        assert_eq!(
            understood(&heard[1], comb::ToldIn::Metric),
            ["bar 18", shown],
            "{said}"
        );
        assert_eq!(heard[1].ask, None, "{said}");
        assert_eq!(faces(&listener, 0), (None, None), "{said}");
        let (_, heard) = at_the_hive(&["right end", said, "what was that"]);
        assert!(heard[2].question.is_some());
    }
}

#[test]
fn a_side_told_after_a_pause_is_not_asked_for() {
    for (side, told) in [
        ("both sides", (Some(0.5), Some(0.5))),
        ("on this side", (Some(0.5), None)),
        ("the other one", (None, Some(0.5))),
    ] {
        let phrases = [
            "right end",
            "bar eighteen half capped",
            side,
            "next one brood",
        ];
        let (listener, heard) = at_the_hive(&phrases);
        assert_eq!(faces(&listener, 0), told, "{side}");
        assert_eq!(asked(&heard), [""; 0], "{side}");
    }
}

#[test]
fn the_side_is_asked_for_once_when_the_comb_is_left() {
    for leaves in [
        "next one",
        "bar seventeen all capped both sides",
        "seventeen, a third capped",
        "left end",
        "closing up now",
        "from the nest full cut follower",
    ] {
        let phrases = ["right end", "bar eighteen half capped", "leave it", leaves];
        let (mut listener, heard) = at_the_hive(&phrases);
        assert_eq!(asked(&heard), [EIGHTEEN], "{leaves}");
        assert_eq!(heard[3].ask.as_deref(), Some(EIGHTEEN), "{leaves}");
        let later = listener.hear("all brood and eggs leave that");
        assert_ne!(later.ask.as_deref(), Some(EIGHTEEN), "{leaves}");
    }
}

#[test]
fn a_tap_on_the_next_comb_asks_as_well() {
    let (mut listener, _) = at_the_hive(&["right end", "bar eighteen half capped"]);
    let heard = listener.tap(&Tap::Meet { bar: Some(17) });
    assert_eq!(heard.ask.as_deref(), Some(EIGHTEEN));
    listener.tap(&Tap::BackTo(0));
    listener.tap(&Tap::Tell(Act::Capped(Side::This, 0.5)));
    assert_eq!(listener.visit().combs[0].loose, None);
}

#[test]
fn combs_without_numbers_are_asked_about_by_their_place() {
    let phrases = ["right end", "the next two half capped", "next one brood"];
    let (_, heard) = at_the_hive(&phrases);
    assert_eq!(
        asked(&heard),
        ["Half capped on which side of the 1st comb and the 2nd comb, or both?"]
    );
    let (listener, heard) =
        at_the_hive(&["right end", "first comb half capped", "left end", "both"]);
    assert_eq!(
        asked(&heard),
        ["Half capped on which side of the 1st comb at the right end, or both?"]
    );
    assert_eq!(faces(&listener, 0), (Some(0.5), Some(0.5)));
}

#[test]
fn a_side_alone_answers_the_question() {
    for (side, told) in [
        ("both", (Some(0.5), Some(0.5))),
        ("um both sides", (Some(0.5), Some(0.5))),
        ("this side", (Some(0.5), None)),
        ("the other one", (None, Some(0.5))),
        ("the back", (None, Some(0.5))),
    ] {
        let phrases = ["right end", "eighteen, half capped", "bar seventeen", side];
        let (mut listener, heard) = at_the_hive(&phrases);
        assert_eq!(faces(&listener, 0), told, "{side}");
        assert_eq!(heard[3].about.as_deref(), Some("bar 18"), "{side}");
        assert_eq!(
            understood(&heard[3], comb::ToldIn::Metric)[0],
            "bar 18",
            "{side}"
        );
        // and the talk goes on about the comb in hand
        listener.hear("a third capped this side");
        assert_eq!(faces(&listener, 1), (Some(0.33), None), "{side}");
        assert_eq!(faces(&listener, 0), told, "{side}");
    }
}

#[test]
fn an_answer_may_name_the_bar() {
    for answer in [
        "eighteen, both sides half capped",
        "eighteen both sides",
        "bar eighteen both sides",
        "bar eighteen half capped on both sides",
    ] {
        let before = ["right end", "eighteen, half capped", "bar twelve", "brood"];
        let (mut listener, _) = at_the_hive(&before);
        listener.hear(answer);
        assert_eq!(faces(&listener, 0), (Some(0.5), Some(0.5)), "{answer}");
        assert_eq!(faces(&listener, 1), (None, None), "{answer}");
    }
}

#[test]
fn a_side_that_may_be_of_either_comb_is_asked_again() {
    let phrases = [
        "right end",
        "eighteen, half capped",
        "seventeen, two thirds capped",
        "both sides",
        "eighteen both sides",
        "seventeen, this side",
    ];
    let (listener, heard) = at_the_hive(&phrases);
    assert_eq!(
        heard[3].ask.as_deref(),
        Some("Is that bar 18 or bar 17? Say which, and the side.")
    );
    assert_eq!(faces(&listener, 0), (Some(0.5), Some(0.5)));
    assert_eq!(faces(&listener, 1), (Some(0.67), None));
}

#[test]
fn a_side_that_the_comb_in_hand_waited_for_is_its_own() {
    let phrases = [
        "right end",
        "eighteen, half capped",
        "bar seventeen a third capped this side",
        "other side",
        "a quarter",
    ];
    let (listener, _) = at_the_hive(&phrases);
    assert_eq!(faces(&listener, 0), (None, None));
    assert_eq!(faces(&listener, 1), (Some(0.33), Some(0.25)));
}

/// In a text nobody heard the question, so nothing answers it.
#[test]
fn a_side_in_a_text_is_of_the_comb_in_hand() {
    let mut listener = Listener::new();
    for phrase in [
        "right end",
        "bar eighteen half capped",
        "bar seventeen",
        "both sides",
        "a third",
    ] {
        listener.hear(phrase);
    }
    assert_eq!(faces(&listener, 0), (None, None));
    assert_eq!(faces(&listener, 1), (Some(0.33), Some(0.33)));
}

#[test]
fn a_share_put_right_or_taken_back_is_not_asked_for() {
    let loose = |phrases: &[&str]| {
        let before = ["right end", "bar eighteen half capped"];
        let (listener, _) = at_the_hive(&[&before[..], phrases].concat());
        listener.visit().combs[0].loose
    };
    assert_eq!(loose(&["no two thirds"]), Some(0.67));
    assert_eq!(loose(&["no wait a third this side"]), None);
    assert_eq!(loose(&["scratch that"]), None);
    assert_eq!(
        loose(&["a third this side and a quarter on the back"]),
        None
    );
    // a weight taken back leaves it
    assert_eq!(loose(&["weighs two kilos", "scratch that"]), Some(0.5));
}

#[test]
fn what_both_sides_have_is_not_said_without_a_side() {
    for phrases in [
        [
            "bar eighteen both sides half capped",
            "so about half capped",
        ],
        ["bar eighteen all capped", "next one brood"],
    ] {
        let (_, heard) = at_the_hive(&phrases);
        assert!(heard.iter().all(|h| h.loose.is_none()), "{phrases:?}");
    }
}

#[test]
fn a_bar_that_is_not_there_is_asked_about_first() {
    let phrases = [
        "right end",
        "bar eighteen half capped",
        "bar forty",
        "bar seventeen",
    ];
    let (_, heard) = at_the_hive(&phrases);
    let questions: BTreeSet<&str> = asked(&heard).into_iter().collect();
    assert_eq!(questions.len(), 2);
    assert!(
        heard[2]
            .ask
            .as_deref()
            .is_some_and(|q| q.contains("bar 40"))
    );
    assert_eq!(heard[3].ask.as_deref(), Some(EIGHTEEN));
}

#[test]
fn an_answer_is_kept_with_its_words_and_can_be_taken_back() {
    let mut transcript = Transcript::at_bars(1..=24);
    for phrase in [
        "right end",
        "eighteen, half capped",
        "bar seventeen",
        "both",
    ] {
        transcript.hear(phrase);
    }
    assert_eq!(transcript.visit().combs[0].other, Some(0.5));
    assert_eq!(transcript.in_hand(), Some(1));
    transcript.hear("scratch that");
    assert_eq!(transcript.visit().combs[0].other, None);
    assert_eq!(transcript.visit().combs[0].loose, Some(0.5));
}
