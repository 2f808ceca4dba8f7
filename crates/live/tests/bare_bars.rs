//! Comb told of a bar that had none is asked about where none can have been built, and nowhere else.

mod desk;

use comb::Length;
use desk::{Desk, HIVE, bar, said};
use hive::entry::{Hanging, Piece};
use hive::pen::Subject;
use hive::{EntryId, Known};
use jiff::SignedDuration;
use live::{Live, Session};
use uuid::Uuid;

/// Bars 29 and 30 lie beyond the follower board and bear nothing, as does bar 27 inside of it.
fn with_lid() -> Desk {
    let mut desk = Desk::new(true);
    let about = Subject::hive(HIVE);
    for n in [29, 30] {
        let (number, width_mm, drawn) = (n as u32, Length::mm(35.0), None);
        let added = Known::BarAdded {
            bar: bar(n),
            number,
            width_mm,
            hanging: Hanging::Nothing,
            drawn,
        };
        desk.say(about, added);
    }
    let hangs = Known::BarHangs {
        bar: bar(27),
        hanging: Hanging::Nothing,
    };
    desk.say(about, hangs);
    let piece = |n| Piece::Bar { bar: bar(n) };
    let mut row: Vec<Piece> = (1..=28).map(piece).collect();
    row.push(Piece::Follower {
        width_mm: Length::mm(19.0),
    });
    row.extend([29, 30].map(piece));
    desk.say(about, Known::Arranged { row });
    desk
}

/// What a visit of these phrases leaves to be asked.
fn visit(desk: &mut Desk, number: u128, phrases: &[&str]) -> Vec<String> {
    let visit = EntryId(Uuid::from_u128(0xE00 + number));
    let before = live::session::before(&desk.yard, HIVE, visit).expect("the hive");
    let mut live = Live::new(Session::begin(HIVE, visit), before);
    for words in phrases {
        let step = said(desk, words);
        live.step(step);
    }
    desk.flush_of(visit, &mut live);
    live.doubts().to_vec()
}

#[test]
fn comb_beyond_the_follower_board_is_asked_about() {
    let mut desk = with_lid();
    visit(
        &mut desk,
        1,
        &["right end", "bar 28 half capped both sides"],
    );
    let told = [
        "right end",
        "bar 29 all capped both sides",
        "bar 30 has honey",
    ];
    let doubts = visit(&mut desk, 2, &told);
    let wanted = "bars 29, 30 had no comb and lie beyond the follower board: recorded as said, look whether other \
                  bars were meant";
    assert_eq!(doubts, [wanted]);
}

#[test]
fn what_may_well_hang_there_is_not_asked_about() {
    let mut desk = with_lid();
    // the first visit tells what hangs there
    let first = ["right end", "bar 29 all capped both sides"];
    assert_eq!(visit(&mut with_lid(), 1, &first), [""; 0]);
    visit(
        &mut desk,
        1,
        &["right end", "bar 28 half capped both sides"],
    );
    for told in [
        "bar 29 empty",
        "bar 29 new comb",
        "bar 27 all capped both sides",
    ] {
        let doubts = visit(&mut desk.clone(), 2, &["right end", told]);
        assert_eq!(doubts, [""; 0], "{told}");
    }
}

#[test]
fn capped_comb_where_one_was_cut_a_few_days_ago_is_asked_about() {
    let mut desk = with_lid();
    let cut = ["right end", "bar 28 all capped both sides", "take it"];
    visit(&mut desk, 1, &cut);
    let again = ["right end", "bar 28 all capped both sides"];
    desk.now += SignedDuration::from_hours(24);
    let doubts = visit(&mut desk.clone(), 2, &again);
    assert!(
        matches!(&doubts[..], [one] if one.starts_with("the comb of bar 28 was taken a few days ago")),
        "{doubts:?}"
    );
    desk.now += SignedDuration::from_hours(21 * 24);
    assert_eq!(visit(&mut desk, 3, &again), [""; 0]);
}
