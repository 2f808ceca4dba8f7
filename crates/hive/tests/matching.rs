//! What the matching of unmarked bars can be relied on for, on fixed seeds.
//!
//! The bounds lie well under what the example `matching` measures on many hives; the constants of
//! the model were fit on another seed.

mod simulation;

use comb::{Contents, FaceContents, Share};
use hive::BarId;
use hive::entry::Hanging;
use hive::matching::{Expected, Habits, Met, SURE, match_combs};
use simulation::{Case, Changes, Combs, Moves, Talk, run};
use uuid::Uuid;

const SEED: u64 = 7;

#[test]
fn combs_unlike_each_other_are_recognised_through_moves() {
    let tally = run(
        Case {
            combs: Combs::Unlike,
            talk: Talk::Full,
            changes: Changes::Once,
            moves: Moves::Anywhere,
            met: 20,
        },
        4,
        SEED,
    );
    assert!(tally.right() > 0.95, "seed {SEED}: {}", tally.right());
}

#[test]
fn what_counts_as_sure_is_right_though_combs_ripen_and_grow_alike() {
    let tally = run(
        Case {
            combs: Combs::Ripening,
            talk: Talk::Full,
            changes: Changes::Once,
            moves: Moves::OutsideNest,
            met: 20,
        },
        4,
        SEED,
    );
    let (count, said, right) = tally.band(SURE, 1.01);
    assert!(count > 200, "seed {SEED}: only {count} are sure");
    assert!(
        right > 0.93,
        "seed {SEED}: {count} say {said}, {right} are right"
    );
    assert!(
        tally.kept_right() < 1.0,
        "content alone cannot keep them all apart"
    );
}

fn capped(left: f64, right: f64) -> Contents {
    let face = |share| FaceContents {
        capped_of_honey: Some(Share::clamped(share)),
        ..FaceContents::default()
    };
    Contents {
        left: face(left),
        right: face(right),
        ..Contents::default()
    }
}

fn expected(faces: &[(f64, f64)]) -> Vec<Expected> {
    (1..)
        .zip(faces)
        .map(|(n, (left, right))| Expected {
            bar: BarId(Uuid::from_u128(n)),
            hanging: Hanging::Comb,
            contents: capped(*left, *right),
            days: 3.0,
        })
        .collect()
}

fn met(faces: &[(f64, f64)]) -> Vec<Met> {
    faces
        .iter()
        .map(|(left, right)| Met {
            hanging: Some(Hanging::Comb),
            contents: capped(*left, *right),
        })
        .collect()
}

fn answers(matching: &hive::matching::Matching) -> Vec<Option<u128>> {
    matching
        .guesses
        .iter()
        .map(|guess| guess.bar.map(|bar| bar.0.as_u128()))
        .collect()
}

#[test]
fn a_comb_taken_out_leaves_the_others_recognised_and_is_named() {
    let row = [(0.0, 0.1), (0.9, 1.0), (0.2, 0.8), (0.9, 0.1), (0.4, 0.4)];
    let habits = Habits {
        whole_row: true,
        ..Habits::default()
    };
    let seen = [row[0], row[1], row[3], row[4]];
    let found = match_combs(&expected(&row), &met(&seen), &habits);
    assert_eq!(answers(&found), [Some(1), Some(2), Some(4), Some(5)]);
    let gone: Vec<u128> = found
        .not_met
        .iter()
        .map(|(bar, _)| bar.0.as_u128())
        .collect();
    assert_eq!(gone, [3]);
}

#[test]
fn combs_that_hold_the_same_are_not_called_sure_to_be_in_order() {
    let row = [(1.0, 1.0); 6];
    let found = match_combs(&expected(&row), &met(&row), &Habits::default());
    assert_eq!(answers(&found), (1..=6).map(Some).collect::<Vec<_>>());
    assert!(
        found.guesses.iter().all(|guess| guess.sure.get() < 0.99),
        "{found:?}"
    );
}

#[test]
fn a_keeper_who_stops_at_the_nest_has_not_lost_the_rest() {
    let row = [(0.0, 0.1), (0.9, 1.0), (0.2, 0.8), (0.9, 0.1), (0.4, 0.4)];
    let found = match_combs(&expected(&row), &met(&row[..2]), &Habits::default());
    assert_eq!(answers(&found), [Some(1), Some(2)]);
    assert!(
        found.in_words().starts_with("2 of 2 combs recognised"),
        "{}",
        found.in_words()
    );
}

#[test]
fn nothing_expected_or_nothing_met_is_no_trouble() {
    let row = [(0.5, 0.5)];
    assert_eq!(
        answers(&match_combs(&[], &met(&row), &Habits::default())),
        [None]
    );
    assert!(
        match_combs(&expected(&row), &[], &Habits::default())
            .guesses
            .is_empty()
    );
}
