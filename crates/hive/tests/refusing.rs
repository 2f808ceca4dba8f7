//! Bad input is refused before it is recorded, in words that help; and the last acts taken back.

mod common;

use comb::Length;
use common::*;
use hive::entry::{End, Hanging, Harvest, Piece, Weather};
use hive::pen::{Stamp, Subject};
use hive::{EntryId, Known, Scope, Yard, check, redo_last, undo_last};
use jiff::{SignedDuration, Timestamp};
use uuid::Uuid;

/// Tries one more entry after the journal, written at `at`, and gives the answer.
fn tried_at(journal: &Journal, at: Timestamp, known: Known) -> Result<(), String> {
    let mut pen = journal.pen.clone();
    let stamp = Stamp {
        id: EntryId(Uuid::from_u128(0xFFFF)),
        at,
        recorded: journal.now,
    };
    let entry = pen.write(stamp, journal.about, known.into());
    check(&journal.fold(), &entry, journal.now).map_err(|error| error.to_string())
}

fn tried(journal: &Journal, known: Known) -> Result<(), String> {
    tried_at(journal, journal.now, known)
}

fn opened() -> Known {
    Known::VisitOpened {
        aim: None,
        weather: Weather::default(),
    }
}

fn added(bar: hive::BarId, number: u32) -> Known {
    Known::BarAdded {
        bar,
        number,
        width_mm: Length::mm(35.0),
        hanging: Hanging::Nothing,
        drawn: None,
    }
}

#[test]
fn good_input_passes() {
    let mut journal = Journal::with_bars(3);
    assert_eq!(tried(&journal, opened()), Ok(()));
    journal.open_visit();
    let good = [
        Known::CombSeen {
            bar: bar(1),
            contents: capped(Some(50.0), None),
        },
        Known::SetAside { bar: bar(2) },
        Known::CombTaken {
            bar: bar(2),
            how: Harvest::Cut,
        },
        Known::Arranged {
            row: row(&[3, 1, 2]),
        },
        added(bar(4), 4),
        Known::VisitClosed {},
    ];
    for known in good {
        assert_eq!(tried(&journal, known), Ok(()));
    }
}

#[test]
fn a_row_too_long_is_not_refused() {
    let journal = Journal::with_bars(3);
    let mut pieces = row(&[1, 2, 3]);
    for _ in 0..4 {
        pieces.push(Piece::Follower {
            width_mm: Length::mm(290.0),
        });
    }
    assert_eq!(tried(&journal, Known::Arranged { row: pieces }), Ok(()));
}

/// Ironbark after one visit: comb 3 was carried away; the visit, a look and the undo of that look.
fn after_a_visit() -> (Journal, EntryId, EntryId, EntryId) {
    let mut journal = Journal::with_bars(5);
    journal.later(SignedDuration::from_hours(24));
    let visit = journal.open_visit();
    let seen = journal.see(1, capped(Some(50.0), None));
    let undo = journal.undo(seen);
    journal.take(3, Harvest::Whole);
    journal.close_visit();
    (journal, visit, seen, undo)
}

fn note(text: &str) -> Known {
    Known::Note { text: text.into() }
}

fn told(answers: Vec<Result<(), String>>) -> String {
    let told: Vec<String> = answers
        .into_iter()
        .map(|answer| answer.expect_err("each of these is refused"))
        .collect();
    told.join("\n")
}

#[test]
fn wrong_hives_visits_and_dates_are_refused() {
    let (mut journal, visit, seen, _) = after_a_visit();
    let before = journal.now - SignedDuration::from_hours(2);
    let after = journal.now + SignedDuration::from_hours(1);
    let mut answers = vec![
        tried_at(&journal, after, opened()),
        tried_at(&journal, before, opened()),
        tried_at(
            &journal,
            start() - SignedDuration::from_hours(1),
            note("too early"),
        ),
        tried(&journal, Known::EndOpened { end: End::Left }),
        tried(
            &journal,
            Known::HiveStarted {
                name: "ironbark ".into(),
                apiary: None,
                body: body(),
                numbered: true,
            },
        ),
        tried(
            &journal,
            Known::RipenessSet {
                mean_capped: share(50.0),
            },
        ),
    ];
    journal.about = Subject::visit(IRONBARK, visit);
    answers.push(tried_at(&journal, before, note("before its visit")));
    journal.about = Subject::visit(IRONBARK, seen);
    answers.push(tried(&journal, note("in no visit")));
    journal.about = Subject::hive(BANKSIA);
    answers.push(tried(&journal, opened()));
    answers.push(tried(
        &journal,
        Known::HiveStarted {
            name: "ironbark ".into(),
            apiary: None,
            body: body(),
            numbered: true,
        },
    ));
    journal.about = Subject::YARD;
    answers.push(tried(&journal, opened()));
    insta::assert_snapshot!(told(answers));
}

#[test]
fn bars_that_are_not_there_and_impossible_handlings_are_refused() {
    let (journal, ..) = after_a_visit();
    let beside = |neighbour| Known::BarMoved {
        bar: bar(1),
        beside: bar(neighbour),
        side: End::Left,
    };
    let answers = [
        Known::BarTurned { bar: bar(9) },
        Known::SetAside { bar: bar(3) },
        Known::CombTaken {
            bar: bar(3),
            how: Harvest::Cut,
        },
        beside(1),
        beside(3),
        Known::Arranged {
            row: row(&[1, 2, 1]),
        },
        added(bar(1), 9),
        added(bar(9), 4),
        Known::SplitTo {
            bars: vec![bar(1)],
            to: BANKSIA,
        },
    ];
    let answers = answers
        .into_iter()
        .map(|known| tried(&journal, known))
        .collect();
    insta::assert_snapshot!(told(answers));
}

#[test]
fn wrong_targets_of_undo_and_correction_are_refused() {
    let (journal, visit, seen, undo) = after_a_visit();
    let corrected = |target, what: Known| Known::Corrected {
        target,
        what: what.into(),
    };
    let nobody = EntryId(Uuid::nil());
    let answers = [
        Known::Undone { target: seen },
        Known::Undone { target: nobody },
        corrected(seen, note("x")),
        corrected(nobody, note("x")),
        corrected(undo, note("x")),
        corrected(visit, Known::Undone { target: seen }),
        corrected(visit, Known::BarTurned { bar: bar(9) }),
    ];
    let answers = answers
        .into_iter()
        .map(|known| tried(&journal, known))
        .collect();
    insta::assert_snapshot!(told(answers));
}

#[test]
fn a_number_used_twice_and_a_clock_that_fell_back_are_refused() {
    let journal = Journal::with_bars(1);
    let yard = journal.fold();
    let mut entry = journal.entries.last().expect("some").clone();
    let again = check(&yard, &entry, journal.now)
        .expect_err("it is there")
        .to_string();
    assert!(again.contains("in the journal already"), "{again}");
    entry.id = EntryId(Uuid::from_u128(0xFFFF));
    let error = check(&yard, &entry, journal.now)
        .expect_err("number used")
        .to_string();
    assert_eq!(error, "the device's next entry is number 4, this one is 3");
    entry.seq = 4;
    entry.recorded = start() - SignedDuration::from_hours(1);
    let error = check(&yard, &entry, journal.now)
        .expect_err("clock")
        .to_string();
    assert!(error.contains("set the clock right"), "{error}");
}

#[test]
fn a_hive_that_does_not_exist_gets_near_names() {
    let mut journal = Journal::with_bars(2);
    journal.start_hive(BANKSIA, "Banksia");
    let yard = journal.fold();
    assert_eq!(
        yard.hive_named(" ironBARK").map(|hive| hive.id),
        Ok(IRONBARK)
    );
    let told = |name| yard.hive_named(name).expect_err("no such hive").to_string();
    assert_eq!(
        told("Ironbrak"),
        "there is no hive Ironbrak; did you mean Ironbark?"
    );
    assert_eq!(
        told("Willow"),
        "there is no hive Willow; there are Banksia, Ironbark"
    );
    let hive = yard.hive(IRONBARK).expect("started");
    assert_eq!(
        hive.bar_numbered(7).expect_err("no such bar").to_string(),
        "Ironbark has no bar 7; there are 1, 2"
    );
}

fn apply(journal: &mut Journal, undos: Vec<Known>) {
    for undo in undos {
        journal.say(undo);
    }
}

fn decisions(yard: &Yard) -> (Option<f64>, usize) {
    let hive = yard.hive(IRONBARK).expect("started");
    let left = hive.bars[&bar(1)].contents.left.capped_of_honey;
    (
        left.map(comb::Share::to_percent),
        hive.visits[0].taken.len(),
    )
}

#[test]
fn the_last_acts_are_taken_back_one_by_one_and_come_again() {
    let mut journal = Journal::with_bars(2);
    let visit = journal.open_visit();
    journal.see(1, capped(Some(25.0), None));
    journal.see(1, capped(Some(75.0), None));
    journal.take(2, Harvest::Cut);
    let scope = Scope::Visit(visit);
    let last = undo_last(&journal.fold(), scope, 1).expect("something to undo");
    assert_eq!(last.len(), 1);
    apply(&mut journal, last);
    assert_eq!(decisions(&journal.fold()), (Some(75.0), 0));
    let next = undo_last(&journal.fold(), scope, 1).expect("something to undo");
    apply(&mut journal, next);
    assert_eq!(decisions(&journal.fold()), (Some(25.0), 0));
    let again = redo_last(&journal.fold(), scope, 2).expect("two undos");
    apply(&mut journal, again);
    assert_eq!(decisions(&journal.fold()), (Some(75.0), 1));
    let all = undo_last(&journal.fold(), scope, 99).expect("all but the opening");
    assert_eq!(all.len(), 3);
    apply(&mut journal, all);
    assert_eq!(decisions(&journal.fold()), (None, 0));
    let error = undo_last(&journal.fold(), scope, 1).expect_err("nothing left");
    assert_eq!(error.to_string(), "there is nothing to take back");
}

#[test]
fn what_came_from_one_phrase_is_taken_back_as_one() {
    let mut journal = Journal::with_bars(2);
    let visit = journal.open_visit();
    journal.see(1, capped(Some(25.0), None));
    journal.take(2, Harvest::Cut);
    journal.see(2, capped(Some(100.0), None));
    let count = journal.entries.len();
    let at = journal.now;
    for entry in &mut journal.entries[count - 2..] {
        (entry.at, entry.recorded) = (at, at);
        entry.said = Some("into the bucket, capped all over".into());
    }
    let last = undo_last(&journal.fold(), Scope::Visit(visit), 1).expect("something to undo");
    assert_eq!(last.len(), 2);
    let last = undo_last(&journal.fold(), Scope::Hive(IRONBARK), 2).expect("something to undo");
    assert_eq!(last.len(), 3);
}
