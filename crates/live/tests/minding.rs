//! What Records, another tab or another device changes of a visit, the visit follows.

mod desk;

use std::sync::Arc;

use desk::{Desk, HIVE, VISIT, bar, live_at, said};
use hive::pen::Subject;
use hive::undo::Scope;
use hive::{BarId, Entry, EntryId, Known, undo_last};
use live::{Live, Upto};

const TOLD: [&str; 4] = [
    "right end open",
    "bar twelve all capped both sides",
    "take it",
    "bar eleven brood",
];

fn told(lines: &[&str]) -> (Desk, Live) {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for line in lines {
        hear(&mut desk, &mut live, line);
    }
    (desk, live)
}

fn hear(desk: &mut Desk, live: &mut Live, words: &str) {
    let step = said(desk, words);
    live.step(step);
    desk.flush(live, Upto::All);
}

/// As the records screen does it.
fn take_back_last(desk: &mut Desk) {
    let undos = undo_last(&desk.yard, Scope::Hive(HIVE), 1).expect("something is there");
    for undo in undos {
        desk.say(Subject::hive(HIVE), undo);
    }
}

fn seen(desk: &Desk, of: BarId) -> EntryId {
    let acts = desk.yard.acts().iter();
    let seen = acts
        .rev()
        .find(|act| matches!(act.what().known(), Some(Known::CombSeen { bar, .. }) if *bar == of));
    seen.expect("it was seen").entry().id
}

/// What is shown is what the journal says, of every bar.
fn agree(desk: &Desk, live: &Live) {
    let hive = desk.yard.hive(HIVE).expect("the hive");
    for (id, shown) in &live.hive().bars {
        let told = |bar: &hive::Bar| (bar.known_contents(), bar.lies, bar.hanging, bar.decision);
        assert_eq!(told(shown), told(&hive.bars[id]), "bar {}", shown.number);
    }
    assert_eq!(live.hive().row, hive.row);
}

#[test]
fn acts_taken_back_in_records_are_taken_back_at_the_hive() {
    let (mut desk, mut live) = told(&TOLD);
    for left in [3, 2, 1] {
        take_back_last(&mut desk);
        assert!(live.mind(&desk.yard));
        agree(&desk, &live);
        assert_eq!(live.session().steps.len(), left);
        // nothing brings it back
        assert_eq!(desk.flush(&mut live, Upto::All), 0);
        agree(&desk, &live);
    }
    hear(&mut desk, &mut live, "bar twelve half capped both sides");
    let _ = seen(&desk, bar(12));
    agree(&desk, &live);
}

#[test]
fn what_is_said_anew_after_it_is_recorded() {
    let (mut desk, mut live) = told(&TOLD[..2]);
    let target = seen(&desk, bar(12));
    desk.say(Subject::visit(HIVE, VISIT), Known::Undone { target });
    assert!(live.mind(&desk.yard));
    agree(&desk, &live);
    hear(&mut desk, &mut live, "bar twelve brood");
    assert_ne!(seen(&desk, bar(12)), target);
    agree(&desk, &live);
}

#[test]
fn a_comb_taken_back_between_others_leaves_them_as_they_are() {
    let (mut desk, mut live) = told(&[TOLD[0], TOLD[1], TOLD[3]]);
    let target = seen(&desk, bar(12));
    desk.say(Subject::visit(HIVE, VISIT), Known::Undone { target });
    assert!(live.mind(&desk.yard));
    assert_eq!(live.session().steps.len(), 2);
    agree(&desk, &live);
}

/// Words put right behind a comb that is taken back stay with their phrase.
#[test]
fn words_put_right_stay_with_their_phrase() {
    let (mut desk, mut live) = told(&[TOLD[0], TOLD[1], "bar eleven half capped both sides"]);
    assert!(live.put_right(desk.now, 2, Some("bar ten half capped both sides")));
    desk.flush(&mut live, Upto::All);
    agree(&desk, &live);
    let target = seen(&desk, bar(12));
    desk.say(Subject::visit(HIVE, VISIT), Known::Undone { target });
    assert!(live.mind(&desk.yard));
    agree(&desk, &live);
    let _ = seen(&desk, bar(10));
    assert_eq!(live.session().steps.len(), 3);
    assert_eq!(desk.flush(&mut live, Upto::All), 0);
}

#[test]
fn a_correction_by_hand_stands_over_what_was_said() {
    let (mut desk, mut live) = told(&TOLD);
    let target = seen(&desk, bar(12));
    let (brood, twelve) = (seen(&desk, bar(11)), bar(12));
    let Some(Known::CombSeen { contents, .. }) =
        desk.yard.says(brood).and_then(|w| w.known()).cloned()
    else {
        panic!("a comb seen")
    };
    let what = Known::CombSeen {
        bar: twelve,
        contents,
    };
    desk.say(
        Subject::visit(HIVE, VISIT),
        Known::Corrected {
            target,
            what: what.into(),
        },
    );
    assert!(live.mind(&desk.yard));
    assert_eq!(live.bars_of_others(), [twelve]);
    agree(&desk, &live);
    hear(&mut desk, &mut live, "bar ten half capped both sides");
    agree(&desk, &live);
}

#[test]
fn what_is_let_stand_again_is_shown_again() {
    let (mut desk, mut live) = told(&TOLD[..2]);
    let target = seen(&desk, bar(12));
    let about = Subject::visit(HIVE, VISIT);
    desk.say(about, Known::Undone { target });
    assert!(live.mind(&desk.yard));
    let is_undo = |entry: &&Arc<Entry>| matches!(entry.what.known(), Some(Known::Undone { .. }));
    let target = desk.yard.journal().find(is_undo).expect("the undo").id;
    desk.say(about, Known::Undone { target });
    assert!(live.mind(&desk.yard));
    agree(&desk, &live);
    assert_eq!(desk.flush(&mut live, Upto::All), 0);
}

#[test]
fn a_session_is_kept_and_read_with_it() {
    let (mut desk, mut live) = told(&TOLD);
    take_back_last(&mut desk);
    live.mind(&desk.yard);
    let kept = serde_json::to_string(live.session()).expect("JSON");
    let session = serde_json::from_str(&kept).expect("it reads");
    let base = live::session::before(&desk.yard, HIVE, VISIT).expect("the hive");
    let mut again = Live::new(session, base);
    assert!(!again.mind(&desk.yard));
    agree(&desk, &again);
}
