//! However a visit comes in, phrase by phrase, with undos, pauses and restarts, the journal ends up
//! saying what it would say had the whole visit been told at once.

mod desk;

use std::collections::VecDeque;

use desk::{Desk, HIVE, VISIT, bar, live_at, said};
use hive::Known;
use hive::pen::Subject;
use jiff::SignedDuration;
use live::{Did, Live, Step, Upto};
use proptest::prelude::*;
use talk::Tap;
use talk::act::{Act, Decision, Side};

const VISITS: [&str; 14] = [
    include_str!("../../talk/tests/visits/01-ironbark-left-end.txt"),
    include_str!("../../talk/tests/visits/02-saltbush-numbered.txt"),
    include_str!("../../talk/tests/visits/03-quince-afternoon.txt"),
    include_str!("../../talk/tests/visits/04-fig-tree-two-ends.txt"),
    include_str!("../../talk/tests/visits/05-pearmain-first-look.txt"),
    include_str!("../../talk/tests/visits/06-cypress-fixing-to-go.txt"),
    include_str!("../../talk/tests/visits/07-linden-making-two.txt"),
    include_str!("../../talk/tests/visits/08-bracken-stores-count.txt"),
    include_str!("../../talk/tests/visits/09-hedge-winter-crack.txt"),
    include_str!("../../talk/tests/visits/10-hive-nine-mite-wash.txt"),
    include_str!("../../talk/tests/visits/11-willow-wandering-comb.txt"),
    include_str!("../../talk/tests/visits/12-new-lot-on-feed.txt"),
    include_str!("../../talk/tests/visits/13-peppercorn-both-ends.txt"),
    include_str!("../../talk/tests/visits/14-juniper-inches.txt"),
];

/// The whole visit told at once.
fn at_once(text: &str, numbered: bool) -> String {
    let mut desk = Desk::new(numbered);
    let mut live = live_at(&desk);
    for line in text.lines() {
        let step = said(&mut desk, line);
        live.step(step);
    }
    live.step(Step {
        at: desk.now,
        did: Did::Over,
    });
    desk.flush(&mut live, Upto::All);
    desk.outcome()
}

#[derive(Debug, Clone, Copy)]
enum Event {
    Phrase,
    Settled,
    All,
    UndoAndSayAgain(usize),
    /// The next phrase is heard as one of [`MISHEARD`].
    Misheard(usize),
    /// The phrase misheard first of those that are not put right yet.
    PutRight,
    BreakOff,
}

/// What a recogniser may make of a phrase: nothing, another bar, one that is not there, another fate, a
/// word that takes back.
const MISHEARD: [&str; 9] = [
    "lovely weather",
    "bar ninety nine all capped",
    "bar four",
    "next one",
    "take it",
    "it's all brood both sides",
    "scratch that",
    "closing up full full empty",
    "cut it off the bar a third capped this side",
];

fn event() -> impl Strategy<Value = Event> {
    prop_oneof![
        6 => Just(Event::Phrase),
        3 => Just(Event::Settled),
        1 => Just(Event::All),
        1 => (1..5_usize).prop_map(Event::UndoAndSayAgain),
        1 => (0..MISHEARD.len()).prop_map(Event::Misheard),
        1 => Just(Event::PutRight),
        1 => Just(Event::BreakOff),
    ]
}

/// The same, as it happens at the hive.
fn streamed(text: &str, numbered: bool, events: &[Event]) -> String {
    let mut desk = Desk::new(numbered);
    let mut live = live_at(&desk);
    let mut lines = text.lines();
    let mut wrong: VecDeque<(usize, &str)> = VecDeque::new();
    let right = |desk: &mut Desk, live: &mut Live, wrong: &mut VecDeque<(usize, &str)>| {
        let Some((nth, phrase)) = wrong.pop_front() else {
            return false;
        };
        desk.now += SignedDuration::from_secs(4);
        live.put_right(desk.now, nth, Some(phrase));
        assert_eq!(
            live.session().words(nth).map(|(words, _)| words),
            Some(phrase)
        );
        true
    };
    for event in events.iter().chain(std::iter::repeat(&Event::Phrase)) {
        match event {
            Event::Phrase => {
                let Some(phrase) = lines.next() else { break };
                let step = said(&mut desk, phrase);
                live.step(step);
            }
            Event::Settled => {
                desk.flush(&mut live, Upto::Settled);
            }
            Event::All => {
                desk.flush(&mut live, Upto::All);
            }
            Event::UndoAndSayAgain(count) => {
                let steps = live.session().steps.clone();
                for _ in 0..*count {
                    live.undo();
                }
                desk.flush(&mut live, Upto::All);
                for step in &steps[live.session().steps.len()..] {
                    live.step(step.clone());
                }
            }
            Event::Misheard(which) => {
                let Some(phrase) = lines.next() else { break };
                wrong.push_back((live.session().steps.len(), phrase.trim()));
                let step = said(&mut desk, MISHEARD[*which]);
                live.step(step);
            }
            Event::PutRight => {
                right(&mut desk, &mut live, &mut wrong);
            }
            Event::BreakOff => {
                let kept = serde_json::to_string(live.session()).expect("it can be kept");
                let session = serde_json::from_str(&kept).expect("and read");
                let base = live::session::before(&desk.yard, HIVE, VISIT).expect("the hive");
                live = Live::new(session, base);
            }
        }
    }
    while right(&mut desk, &mut live, &mut wrong) {}
    live.step(Step {
        at: desk.now,
        did: Did::Over,
    });
    desk.flush(&mut live, Upto::All);
    assert_eq!(desk.flush(&mut live, Upto::All), 0, "nothing more is due");
    desk.outcome()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn streaming_gives_what_the_whole_gives(
        visit in 0..VISITS.len(),
        numbered: bool,
        events in prop::collection::vec(event(), 0..90),
    ) {
        let whole = at_once(VISITS[visit], numbered);
        let streamed = streamed(VISITS[visit], numbered, &events);
        let differs = streamed.lines().zip(whole.lines()).find(|(a, b)| a != b);
        prop_assert!(streamed == whole, "{:.3000?}", differs);
    }
}

#[test]
fn what_the_screen_shows_is_what_the_journal_will_say() {
    for text in VISITS {
        let mut desk = Desk::new(true);
        let mut live = live_at(&desk);
        for line in text.lines() {
            let step = said(&mut desk, line);
            live.step(step);
            desk.flush(&mut live, Upto::All);
            let hive = desk.yard.hive(HIVE).expect("the hive");
            for (id, shown) in &live.hive().bars {
                let kept = &hive.bars[id];
                let told =
                    |bar: &hive::Bar| (bar.known_contents(), bar.lies, bar.hanging, bar.decision);
                assert_eq!(told(shown), told(kept), "after {line:?}");
            }
            assert_eq!(live.hive().row, hive.row);
        }
    }
}

#[test]
fn a_comb_in_hand_is_written_when_it_is_settled() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for (words, entries) in [
        ("right end open", 2),
        ("bar twelve two thirds capped this side", 0),
        ("three quarters on the other", 0),
        ("take it", 0),
        ("bar eleven all brood", 3),
    ] {
        let step = said(&mut desk, words);
        live.step(step);
        assert_eq!(desk.flush(&mut live, Upto::Settled), entries, "{words}");
    }
    // a later word on a comb corrects its look, and the advice beside the decision
    let step = said(&mut desk, "bar twelve half capped this side");
    live.step(step);
    assert_eq!(
        desk.flush(&mut live, Upto::All),
        3,
        "two corrections, and bar eleven"
    );
    // one step back corrects them back
    assert!(live.undo());
    assert_eq!(desk.flush(&mut live, Upto::All), 2);
}

#[test]
fn a_side_told_after_the_comb_was_left_puts_its_look_right() {
    let question = "Half capped on which side of bar 12, or both?";
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in ["right end open", "twelve, half capped"] {
        let step = said(&mut desk, words);
        assert!(live.step(step).changed, "{words}");
        desk.flush(&mut live, Upto::All);
    }
    assert_eq!(live.doubts(), [question]);
    let step = said(&mut desk, "bar eleven all brood");
    assert_eq!(live.step(step).heard.ask.as_deref(), Some(question));
    desk.flush(&mut live, Upto::All);
    let capped = |desk: &Desk| {
        let hive = desk.yard.hive(HIVE).expect("the hive");
        let seen = hive.bars[&bar(12)].known_contents();
        seen.left.capped_of_honey.is_some() && seen.right.capped_of_honey.is_some()
    };
    assert!(!capped(&desk), "no face has it before its side is told");
    let step = said(&mut desk, "both sides");
    assert!(live.step(step).changed);
    desk.flush(&mut live, Upto::All);
    assert!(capped(&desk));
    assert_eq!(live.in_hand(), Some(bar(11)));
    assert_eq!(live.doubts(), [""; 0]);
    // one step back, and it waits again
    assert!(live.undo());
    desk.flush(&mut live, Upto::All);
    assert!(!capped(&desk));
    assert_eq!(live.doubts(), [question]);
}

/// What was told of the wrong comb moves to the right one in the journal too, and back with one step.
#[test]
fn what_was_told_of_the_wrong_comb_is_put_right_in_the_journal() {
    let wrong = "right end open\nbar twelve honey half capped both sides leave it\n\
                 bar eleven all brood\nbar ten pollen\n";
    for (cue, of) in [
        ("wrong bar it was eleven", "bar eleven pollen"),
        ("sorry I said ten that was nine", "bar nine pollen"),
        ("no that was the next one", "bar nine pollen"),
    ] {
        let settled = [Event::Phrase, Event::All].repeat(9);
        let text = format!("{wrong}{cue}\nleave it\n");
        assert_eq!(
            streamed(&text, true, &settled),
            at_once(&text, true),
            "{cue}"
        );
        let mut desk = Desk::new(true);
        let mut live = live_at(&desk);
        let looks = |desk: &Desk| {
            let hive = desk.yard.hive(HIVE).expect("the hive");
            [9, 10, 11].map(|b| format!("{:?}", hive.bars[&bar(b)].known_contents()))
        };
        for line in wrong.lines() {
            let step = said(&mut desk, line);
            live.step(step);
            desk.flush(&mut live, Upto::All);
        }
        let before = looks(&desk);
        let step = said(&mut desk, cue);
        live.step(step);
        desk.flush(&mut live, Upto::All);
        let after = looks(&desk);
        assert_ne!(
            before[1], after[1],
            "{cue}: nothing is told of bar ten any more"
        );
        let mut told = Desk::new(true);
        let mut as_meant = live_at(&told);
        let first: Vec<&str> = wrong.lines().take(3).chain([of]).collect();
        for line in first {
            let step = said(&mut told, line);
            as_meant.step(step);
            told.flush(&mut as_meant, Upto::All);
        }
        assert_eq!(looks(&told), after, "{cue}");
        assert!(live.undo());
        desk.flush(&mut live, Upto::All);
        assert_eq!(looks(&desk), before, "{cue}");
    }
}

/// Cells looked for and not found are a finding: what was found the visit before is over with it.
#[test]
fn cells_that_were_not_found_are_recorded() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in [
        "right end open",
        "bar twelve all brood",
        "if there are no queen cells I am glad",
        "no queen cells",
    ] {
        let step = said(&mut desk, words);
        let changed = live.step(step).changed;
        assert_eq!(changed, !words.starts_with("if "), "{words}");
        desk.flush(&mut live, Upto::All);
        let hive = desk.yard.hive(HIVE).expect("the hive");
        let counts: Vec<u32> = hive.queen_cells.iter().map(|told| told.count).collect();
        let none: &[u32] = if words == "no queen cells" { &[0] } else { &[] };
        assert_eq!(counts, none, "{words}");
    }
    let shown = live
        .told()
        .last()
        .map(|(_, told)| talk::understood::understood(&told.heard, comb::ToldIn::Metric));
    assert_eq!(shown, Some(vec!["no queen cells".to_owned()]));
}

#[test]
fn all_steps_undone_leave_an_open_visit_with_nothing_in_it() {
    let mut desk = Desk::new(true);
    let before = desk.outcome();
    let mut live = live_at(&desk);
    for words in [
        "right end open",
        "bar twelve all capped both sides take it",
        "next one brood",
    ] {
        let step = said(&mut desk, words);
        live.step(step);
        desk.flush(&mut live, Upto::All);
    }
    while live.undo() {
        desk.flush(&mut live, Upto::All);
    }
    assert!(!live.can_undo() && live.session().has_written());
    let hive = desk.yard.hive(HIVE).expect("the hive");
    assert_eq!(hive.visits.len(), 1);
    assert!(hive.visits[0].seen.is_empty() && hive.visits[0].taken.is_empty());
    let row = |told: &str| told.lines().next().map(str::to_owned);
    assert_eq!(row(&desk.outcome()), row(&before));
}

#[test]
fn a_wash_and_a_feed_open_no_end() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    live.set_end(None);
    for words in [
        "nineteen degrees",
        "four mites in three hundred bees",
        "closed it with full cut full follower",
        "fed them a litre of one to one",
    ] {
        let step = said(&mut desk, words);
        live.step(step);
        assert!(live.refused().is_none(), "{words}");
        desk.flush(&mut live, Upto::All);
    }
    let hive = desk.yard.hive(HIVE).expect("the hive");
    assert!(hive.visits[0].ends.is_empty(), "{:?}", hive.visits[0].ends);
    assert_eq!((hive.washes.len(), hive.feeds.len()), (1, 1));
    // the order said is of no end that is known, and is kept all the same
    assert!(hive.notes.iter().any(|note| note.text.contains("cut")));
}

#[test]
fn what_somebody_else_corrected_is_left_alone() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in [
        "right end open",
        "bar twelve all capped both sides",
        "bar eleven brood",
    ] {
        let step = said(&mut desk, words);
        live.step(step);
        desk.flush(&mut live, Upto::All);
    }
    let target = desk
        .yard
        .acts()
        .iter()
        .find(|act| matches!(act.what().known(), Some(Known::CombSeen { bar: b, .. }) if *b == bar(12)))
        .map(|act| act.entry().id)
        .expect("bar twelve was seen");
    desk.say(Subject::visit(HIVE, VISIT), Known::Undone { target });
    let step = said(&mut desk, "bar twelve two kilos");
    live.step(step);
    assert_eq!(desk.flush(&mut live, Upto::All), 0);
    assert_eq!(
        desk.yard.standing(target),
        Some(hive::yard::Standing::Undone)
    );
}

#[test]
fn a_turned_comb_keeps_its_faces() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    let taps = [
        vec![Tap::OpenEnd(talk::act::End::Right)],
        vec![Tap::Meet { bar: Some(20) }],
        vec![Tap::Tell(Act::Capped(Side::This, 1.0))],
        vec![Tap::Tell(Act::Capped(Side::Other, 0.25))],
        vec![Tap::Tell(Act::Turned)],
        vec![Tap::Tell(Act::Decided(Some(Decision::Leave)))],
    ];
    for (nth, taps) in taps.into_iter().enumerate() {
        desk.now += SignedDuration::from_secs(3);
        live.step(Step {
            at: desk.now,
            did: Did::Tapped(taps),
        });
        if nth % 2 == 0 {
            desk.flush(&mut live, Upto::All);
        }
    }
    // now the quarter looks at the gap, by the screen and by the record
    assert_eq!(live.visit().combs[0].this, Some(0.25));
    desk.flush(&mut live, Upto::All);
    let twenty = &desk.yard.hive(HIVE).expect("the hive").bars[&bar(20)];
    let capped = |face: &comb::FaceContents| face.capped_of_honey.map(comb::Share::to_percent);
    assert_eq!(capped(&twenty.known_contents().right), Some(25.0));
    assert_eq!(capped(&twenty.known_contents().left), Some(100.0));
    // told anew after the turn, it is still so
    live.step(Step {
        at: desk.now,
        did: Did::Tapped(vec![Tap::Tell(Act::Capped(Side::This, 0.5))]),
    });
    desk.flush(&mut live, Upto::All);
    let twenty = &desk.yard.hive(HIVE).expect("the hive").bars[&bar(20)];
    assert_eq!(capped(&twenty.known_contents().right), Some(50.0));
    assert_eq!(capped(&twenty.known_contents().left), Some(100.0));
}

/// Two hands of combs, then a number that moves all of them by one: each entry stays with its words.
#[test]
fn what_was_said_of_a_comb_stays_with_it_when_combs_are_matched_anew() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in [
        "right end open",
        "next one two thirds capped both sides",
        "next one half capped both sides",
        "next one a quarter capped both sides",
    ] {
        let step = said(&mut desk, words);
        live.step(step);
        desk.flush(&mut live, Upto::All);
    }
    let seen: Vec<_> = desk
        .yard
        .acts()
        .iter()
        .filter(|act| matches!(act.what().known(), Some(Known::CombSeen { .. })))
        .map(|act| (act.entry().id, act.what().known().cloned()))
        .collect();
    assert_eq!(seen.len(), 3);
    let step = said(&mut desk, "that was bar twenty five");
    live.step(step);
    // also the comb in hand, though more may be said of it
    desk.flush(&mut live, Upto::Settled);
    for (id, before) in seen {
        let now = desk.yard.says(id).and_then(|what| what.known());
        let (before, now) = (before.expect("known"), now.expect("it stands"));
        let moved = hive::of_bar::rematched(&before, now);
        let (from, to) = moved.expect("only the bar is another");
        let number = |of: hive::BarId| desk.yard.hive(HIVE).expect("the hive").bars[&of].number;
        assert_eq!(number(to) + 1, number(from));
    }
    assert_eq!(desk.flush(&mut live, Upto::All), 0);
}
