//! Bars keep their identity and their history through all that is done to them.

mod common;

use comb::{Contents, Length, Mass};
use common::*;
use hive::entry::{Decision, End, Hanging, Harvest, Known, Piece};
use hive::{Bar, Happened, Hive, Lies, Why, Yard};
use jiff::SignedDuration;

fn ironbark(yard: &Yard) -> &Hive {
    yard.hive(IRONBARK).expect("started")
}

fn whys(yard: &Yard) -> Vec<Why> {
    yard.faults().map(|fault| fault.why.clone()).collect()
}

fn bar_of(yard: &Yard, n: u128) -> &Bar {
    yard.hive_of_bar(bar(n))
        .and_then(|hive| hive.bar(bar(n)))
        .expect("it is somewhere")
}

#[test]
fn a_cut_comb_leaves_a_strip_of_unknown_contents_and_keeps_its_history() {
    let mut journal = Journal::with_bars(3);
    journal.open_visit();
    journal.see(2, capped(Some(100.0), Some(75.0)));
    journal.take(2, Harvest::Cut);
    let yard = journal.fold();
    let bar = bar_of(&yard, 2);
    assert_eq!(bar.hanging, Hanging::Strip);
    assert_eq!(bar.contents, Contents::default());
    assert_eq!((bar.drawn, bar.seen), (None, None));
    assert_eq!(bar.looks.len(), 1);
    assert_eq!(bar.looks_at_this_comb().count(), 0);
    assert_eq!(
        ironbark(&yard).place_of(bar.id),
        Some(2),
        "its place is kept"
    );
    assert_eq!(ironbark(&yard).visits[0].taken.len(), 1);
}

#[test]
fn the_weight_said_after_the_cut_belongs_to_the_comb_that_was_taken() {
    let mut journal = Journal::with_bars(1);
    journal.open_visit();
    journal.see(1, capped(Some(100.0), None));
    journal.take(1, Harvest::Cut);
    journal.see(
        1,
        Contents {
            mass_kg: Some(Mass::kg(1.8)),
            ..Contents::default()
        },
    );
    let yard = journal.fold();
    let found = bar_of(&yard, 1);
    assert_eq!(found.hanging, Hanging::Strip);
    assert_eq!(found.contents, Contents::default());
    let seen = &ironbark(&yard).visits[0].seen[&bar(1)];
    assert_eq!(seen.mass_kg, Some(Mass::kg(1.8)));
    assert_eq!(seen.left, capped(Some(100.0), None).left);
}

#[test]
fn a_comb_carried_away_leaves_the_row_and_its_bar_returns_as_a_cut_bar() {
    let mut journal = Journal::with_bars(3);
    journal.open_visit();
    journal.see(1, capped(Some(100.0), Some(100.0)));
    journal.take(1, Harvest::Whole);
    let yard = journal.fold();
    assert_eq!(order(ironbark(&yard)), [2, 3]);
    assert_eq!(bar_of(&yard, 1).lies, Lies::Away);
    journal.arrange(&[2, 1, 3]);
    let yard = journal.fold();
    let bar = bar_of(&yard, 1);
    assert_eq!((bar.lies, bar.hanging), (Lies::InRow, Hanging::Strip));
    assert_eq!(bar.contents, Contents::default());
    let happened: Vec<_> = bar.history.iter().map(|event| &event.what).collect();
    assert!(happened.contains(&&Happened::Returned));
    assert_eq!(bar.history.last().map(|event| event.place), Some(Some(2)));
}

#[test]
fn a_bar_set_aside_keeps_its_place_and_goes_back_into_it() {
    let mut journal = Journal::with_bars(3);
    journal.open_visit();
    journal.say(Known::SetAside { bar: bar(2) });
    let yard = journal.fold();
    assert_eq!(bar_of(&yard, 2).lies, Lies::Aside);
    assert_eq!(ironbark(&yard).place_of(bar(2)), Some(2));
    journal.say(Known::PutBack { bar: bar(2) });
    assert_eq!(bar_of(&journal.fold(), 2).lies, Lies::InRow);
}

#[test]
fn a_split_takes_combs_with_their_life_and_renumbers_only_where_numbers_meet() {
    let mut journal = Journal::with_bars(4);
    journal.open_visit();
    journal.see(3, capped(Some(50.0), None));
    journal.about.visit = None;
    journal.start_hive(BANKSIA, "Banksia");
    journal.say(Known::BarAdded {
        bar: bar(9),
        number: 4,
        width_mm: Length::mm(35.0),
        hanging: Hanging::Nothing,
        drawn: None,
    });
    journal.about.hive = Some(IRONBARK);
    journal.say(Known::SplitTo {
        bars: vec![bar(4), bar(3)],
        to: BANKSIA,
    });
    let yard = journal.fold();
    let banksia = yard.hive(BANKSIA).expect("started");
    assert_eq!(
        order(banksia),
        [4, 3],
        "they make up the empty row, in the order said"
    );
    assert_eq!(order(ironbark(&yard)), [1, 2]);
    assert_eq!(bar_of(&yard, 3).number, 3);
    assert_eq!(bar_of(&yard, 4).number, 5, "4 was in use there");
    assert_eq!(bar_of(&yard, 3).contents, capped(Some(50.0), None));
    assert_eq!(ironbark(&yard).departed.len(), 2);
    assert_eq!(
        whys(&yard),
        [Why::NumberTaken {
            number: 4,
            given: 5
        }]
    );
    assert_eq!(
        bar_of(&yard, 4)
            .history
            .last()
            .map(|event| event.what.clone()),
        Some(Happened::Split {
            from: IRONBARK,
            old_number: 4,
            number: 5
        })
    );
}

#[test]
fn a_turn_within_a_look_joins_both_halves_and_later_turns_leave_the_old_look_alone() {
    let mut journal = Journal::with_bars(1);
    journal.open_visit();
    journal.see(1, capped(Some(100.0), None));
    journal.turn(1);
    // the same face, seen again after the turn, looks right now
    journal.see(1, capped(Some(25.0), None));
    let yard = journal.fold();
    assert_eq!(bar_of(&yard, 1).contents, capped(Some(25.0), Some(100.0)));
    assert_eq!(
        ironbark(&yard).visits[0].seen[&bar(1)],
        capped(Some(25.0), Some(100.0))
    );
    journal.close_visit();
    journal.later(SignedDuration::from_hours(24));
    journal.open_visit();
    journal.turn(1);
    let yard = journal.fold();
    let bar = bar_of(&yard, 1);
    assert_eq!(bar.contents, capped(Some(100.0), Some(25.0)));
    assert_eq!(
        bar.looks[0].contents,
        capped(Some(25.0), Some(100.0)),
        "as it hung then"
    );
    let now: Vec<_> = bar.looks_at_this_comb().map(|look| look.contents).collect();
    assert_eq!(now, [capped(Some(100.0), Some(25.0))], "as it hangs now");
}

#[test]
fn a_new_visit_starts_a_new_look_and_the_old_one_stays_in_the_history() {
    let mut journal = Journal::with_bars(1);
    journal.open_visit();
    journal.see(1, capped(Some(25.0), Some(50.0)));
    journal.say(Known::Decided {
        bar: bar(1),
        decision: Decision::Leave,
        advised: None,
    });
    journal.close_visit();
    journal.later(SignedDuration::from_hours(24 * 7));
    journal.open_visit();
    journal.see(1, capped(Some(75.0), None));
    let yard = journal.fold();
    let bar = bar_of(&yard, 1);
    assert_eq!(
        bar.contents,
        capped(Some(75.0), None),
        "the other face was not looked at"
    );
    assert_eq!(bar.looks.len(), 2);
    assert_eq!(bar.known_contents(), capped(Some(75.0), Some(50.0)));
    assert_eq!(bar.decision, None, "a decision is for one visit");
}

#[test]
fn a_comb_seen_on_a_strip_has_been_drawn() {
    let mut journal = Journal::new();
    journal.start_hive(IRONBARK, "Ironbark");
    journal.add_bar(1, Hanging::Strip);
    journal.see(1, capped(Some(0.0), None));
    let yard = journal.fold();
    let bar = bar_of(&yard, 1);
    assert_eq!(bar.hanging, Hanging::Comb);
    assert_eq!(bar.first_seen, bar.seen);
}

#[test]
fn an_arrangement_with_a_bar_twice_or_unknown_does_nothing() {
    let mut journal = Journal::with_bars(3);
    journal.arrange(&[1, 2, 1]);
    journal.arrange(&[1, 2, 7]);
    let yard = journal.fold();
    assert_eq!(order(ironbark(&yard)), [1, 2, 3]);
    assert_eq!(
        whys(&yard),
        [
            Why::BarTwice { bar: bar(1) },
            Why::NoSuchBar { bar: bar(7) }
        ]
    );
}

#[test]
fn a_row_too_long_is_listed_and_laid_all_the_same() {
    let mut journal = Journal::with_bars(3);
    let mut pieces = row(&[1, 2, 3]);
    pieces.push(Piece::Shim {
        width_mm: Length::mm(299.0),
    });
    for _ in 0..3 {
        pieces.push(Piece::Follower {
            width_mm: Length::mm(299.0),
        });
    }
    journal.say(Known::Arranged { row: pieces });
    let yard = journal.fold();
    assert_eq!(ironbark(&yard).row.pieces().len(), 7);
    let over_mm = Length::mm(105.0 + 4.0 * 299.0 - 1000.0);
    assert_eq!(whys(&yard), [Why::RowTooLong { over_mm }]);
}

#[test]
fn closing_an_end_keeps_the_rest_and_leaves_out_what_is_not_named() {
    let mut journal = Journal::with_bars(6);
    journal.open_visit();
    journal.say(Known::EndArranged {
        end: End::Left,
        beyond: Some(bar(4)),
        row: row(&[2, 3]),
    });
    let yard = journal.fold();
    assert_eq!(order(ironbark(&yard)), [3, 2, 4, 5, 6]);
    assert_eq!(bar_of(&yard, 1).lies, Lies::Loose);
    assert_eq!(ironbark(&yard).loose_bars().len(), 1);
}
