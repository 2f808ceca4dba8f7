//! The order in which entries act, and the hive as it stood.

mod common;

use comb::Share;
use common::*;
use hive::entry::{End, Hanging, Harvest};
use hive::pen::{Stamp, Subject};
use hive::{Entry, EntryId, Known, Pen, Why, Yard};
use jiff::SignedDuration;
use uuid::Uuid;

fn left_of(yard: &Yard, n: u128) -> Option<f64> {
    let bar = &yard.hive(IRONBARK)?.bars[&bar(n)];
    bar.contents.left.capped_of_honey.map(Share::to_percent)
}

fn look(n: u128, percent: f64) -> Known {
    Known::CombSeen {
        bar: bar(n),
        contents: capped(Some(percent), None),
    }
}

/// An entry of a second device.
fn other(pen: &mut Pen, id: u128, at: i64, recorded: i64, about: Subject, known: Known) -> Entry {
    let stamp = Stamp {
        id: EntryId(Uuid::from_u128(0x5000 + id)),
        at: minutes(at),
        recorded: minutes(recorded),
    };
    pen.write(stamp, about, known.into())
}

#[test]
fn a_clock_that_jumps_back_does_not_reorder_a_devices_own_entries() {
    let mut journal = Journal::with_bars(2);
    journal.say(look(1, 25.0));
    journal.later(SignedDuration::from_hours(-400));
    journal.say(look(1, 75.0));
    let yard = journal.fold();
    assert_eq!(left_of(&yard, 1), Some(75.0));
    assert_eq!(
        yard.faults()
            .map(|fault| fault.why.clone())
            .collect::<Vec<_>>(),
        [Why::ClockWentBack]
    );
}

#[test]
fn a_backdated_entry_acts_on_the_day_that_it_tells_of() {
    let mut journal = Journal::with_bars(2);
    journal.later(SignedDuration::from_hours(48));
    let yesterday = journal.now - SignedDuration::from_hours(24);
    journal.say(look(1, 75.0));
    let mut late = journal.entries.last().expect("just said").clone();
    late.id = EntryId(Uuid::from_u128(0x77));
    late.seq += 1;
    late.at = yesterday;
    late.what = look(1, 25.0).into();
    journal.entries.push(late);
    let yard = journal.fold();
    assert_eq!(
        left_of(&yard, 1),
        Some(75.0),
        "the later look stays the latest"
    );
    assert_eq!(left_of(&yard.as_of(yesterday), 1), Some(25.0));
    assert_eq!(yard.faults().count(), 0);
}

#[test]
fn a_word_added_days_later_to_a_visit_counts_in_that_visit() {
    let mut journal = Journal::with_bars(2);
    let first = journal.open_visit();
    journal.see(1, capped(Some(25.0), None));
    journal.close_visit();
    journal.later(SignedDuration::from_hours(100));
    journal.open_visit();
    journal.see(1, capped(Some(75.0), None));
    journal.close_visit();
    journal.about.visit = Some(first);
    journal.see(1, capped(None, Some(50.0)));
    let yard = journal.fold();
    let hive = yard.hive(IRONBARK).expect("started");
    assert_eq!(hive.visits[0].seen[&bar(1)], capped(Some(25.0), Some(50.0)));
    assert_eq!(hive.bars[&bar(1)].contents, capped(Some(75.0), None));
}

#[test]
fn two_phones_in_one_visit_work_together_though_their_clocks_differ() {
    let mut journal = Journal::with_bars(2);
    journal.later(SignedDuration::from_hours(1));
    let visit = journal.open_visit();
    let opened = 4 + 60 + 1;
    journal.see(1, capped(Some(25.0), None));
    // the second phone is an hour slow: its words come before the visit was opened
    let mut pen = Pen::new(device(2), 1, "helper", "+10:00");
    let about = Subject::visit(IRONBARK, visit);
    let slow = opened - 60;
    journal
        .entries
        .push(other(&mut pen, 1, slow, slow, about, look(2, 50.0)));
    let yard = journal.fold();
    assert_eq!(yard.faults().count(), 0);
    assert_eq!(
        yard.hive(IRONBARK).expect("started").visits[0].seen.len(),
        2
    );
}

#[test]
fn nothing_is_used_before_it_is_made_whatever_the_clocks_say() {
    let mut journal = Journal::new();
    journal.later(SignedDuration::from_hours(10));
    journal.start_hive(IRONBARK, "Ironbark");
    journal.add_bar(1, Hanging::Comb);
    let mut pen = Pen::new(device(2), 1, "helper", "+10:00");
    let about = Subject::hive(IRONBARK);
    journal
        .entries
        .insert(0, other(&mut pen, 1, 5, 5, about, look(1, 50.0)));
    let yard = journal.fold();
    assert_eq!(yard.faults().count(), 0);
    assert_eq!(left_of(&yard, 1), Some(50.0));
}

#[test]
fn the_hive_stands_as_it_stood_on_any_date() {
    let mut journal = Journal::with_bars(4);
    let before = journal.now;
    journal.later(SignedDuration::from_hours(24));
    journal.open_visit();
    journal.take(4, Harvest::Whole);
    journal.say(Known::BarMoved {
        bar: bar(1),
        beside: bar(3),
        side: End::Right,
    });
    let wrong = journal.see(2, capped(Some(10.0), None));
    let after = journal.now;
    journal.later(SignedDuration::from_hours(24));
    journal.correct(wrong, look(2, 90.0));
    let yard = journal.fold();
    let then = yard.as_of(before);
    assert_eq!(order(then.hive(IRONBARK).expect("started")), [1, 2, 3, 4]);
    assert_eq!(then.hive(IRONBARK).expect("started").visits.len(), 0);
    let then = yard.as_of(after);
    assert_eq!(order(then.hive(IRONBARK).expect("started")), [2, 3, 1]);
    assert_eq!(left_of(&then, 2), Some(90.0), "with what is known today");
    assert_eq!(yard.as_of(start()).hives().count(), 0);
}
