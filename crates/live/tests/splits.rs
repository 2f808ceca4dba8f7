//! Combs that are carried away on their bars go to another hive with their record, whenever it is said
//! where they go.

mod desk;

use advice::closing_plan::{AtHand, closing_plan};
use advice::closing_up::Outcome;
use advice::stores::Scales;
use desk::{Desk, HIVE, VISIT, bar, live_at, said};
use hive::entry::{End, Piece};
use hive::pen::Subject;
use hive::{EntryId, HiveId, Known};
use jiff::SignedDuration;
use live::closing::Arrangement;
use live::{Did, Due, Live, Session, Step, Upto};
use proptest::prelude::*;
use talk::Tap;
use talk::act::{Act, Decision};
use uuid::Uuid;

const NUCLEUS: HiveId = HiveId(Uuid::from_u128(0xA2));
const OTHER: HiveId = HiveId(Uuid::from_u128(0xA3));

/// A desk with two more hives, whose rows are still empty, at a visit whose words carry combs away.
fn at_a_split(words: &[&str]) -> (Desk, Live) {
    let mut desk = Desk::new(true);
    for (id, name) in [(NUCLEUS, "Banksia"), (OTHER, "Grevillea")] {
        let body = desk.yard.hive(HIVE).expect("the hive").body;
        let started = Known::HiveStarted {
            name: name.into(),
            apiary: None,
            body,
            numbered: true,
        };
        desk.say(Subject::hive(id), started);
    }
    let mut live = live_at(&desk);
    for words in words {
        let step = said(&mut desk, words);
        live.step(step);
        desk.flush(&mut live, Upto::Settled);
    }
    (desk, live)
}

const CARRIED: [&str; 4] = [
    "right end open",
    "bar twenty brood both sides",
    "bar nineteen brood both sides",
    "bar eighteen all capped both sides",
];

/// Three combs, of which the first two are carried away on their bars.
fn carried() -> (Desk, Live) {
    let (mut desk, mut live) = at_a_split(&CARRIED);
    for nth in [0, 1] {
        tap(&mut desk, &mut live, Tap::BackTo(nth));
        tap(&mut desk, &mut live, Tap::Tell(Act::TakenWhole));
        desk.flush(&mut live, Upto::Settled);
    }
    tap(&mut desk, &mut live, Tap::BackTo(2));
    desk.flush(&mut live, Upto::All);
    (desk, live)
}

fn tap(desk: &mut Desk, live: &mut Live, tap: Tap) {
    let did = Did::Tapped(vec![tap]);
    step(desk, live, did);
}

fn step(desk: &mut Desk, live: &mut Live, did: Did) {
    desk.now += SignedDuration::from_secs(2);
    live.step(Step { at: desk.now, did });
}

fn go_to(desk: &mut Desk, live: &mut Live, to: Option<HiveId>) {
    step(desk, live, Did::CarriedTo { to, said: None });
}

/// Numbers of the bars in a hive's row.
fn row_of(desk: &Desk, hive: HiveId) -> Vec<u32> {
    let hive = desk.yard.hive(hive).expect("the hive");
    let bars = hive.bars_from(End::Left);
    bars.iter().map(|bar| bar.number).collect()
}

fn faultless(desk: &Desk) {
    assert_eq!(
        desk.yard.faults().count(),
        0,
        "{:?}",
        desk.yard.faults().next()
    );
}

fn kinds(due: &Due) -> Vec<&'static str> {
    due.writings.iter().map(|w| w.known.kind()).collect()
}

fn due(desk: &mut Desk, live: &mut Live, upto: Upto) -> Vec<&'static str> {
    live.mind(&desk.yard);
    let mut ids = desk.ids;
    let due = live.due(upto, || {
        ids += 1;
        EntryId(Uuid::from_u128(ids))
    });
    desk.ids = ids;
    desk.keep(&due);
    live.wrote(&due);
    kinds(&due)
}

#[test]
fn combs_carried_away_are_of_no_hive_until_it_is_said_where_they_go() {
    let (desk, live) = carried();
    assert_eq!(live.carried(), [bar(20), bar(19)]);
    assert_eq!(live.session().carried_to(), None);
    let hive = desk.yard.hive(HIVE).expect("the hive");
    let taken: Vec<_> = hive.visits[0].taken.iter().map(|t| t.bar).collect();
    assert_eq!(taken, [bar(20), bar(19)]);
    assert!(row_of(&desk, NUCLEUS).is_empty());
}

#[test]
fn combs_carried_away_hang_in_the_hive_that_they_go_to() {
    let (mut desk, mut live) = carried();
    go_to(&mut desk, &mut live, Some(NUCLEUS));
    // what was written of their taking is taken back, and they go together
    let written = due(&mut desk, &mut live, Upto::Settled);
    assert_eq!(written, ["undone", "undone", "split_to"]);
    assert_eq!(row_of(&desk, NUCLEUS), [20, 19]);
    assert!(!row_of(&desk, HIVE).contains(&20));
    let there = desk.yard.hive(NUCLEUS).expect("the hive");
    assert!(there.bars[&bar(20)].known_contents().has_brood());
    // carried away is not harvested
    assert!(
        desk.yard.hive(HIVE).expect("the hive").visits[0]
            .taken
            .is_empty()
    );
    assert_eq!(live.hive().row, desk.yard.hive(HIVE).expect("the hive").row);
    assert!(due(&mut desk, &mut live, Upto::All).is_empty());
    step(&mut desk, &mut live, Did::Over);
    assert_eq!(due(&mut desk, &mut live, Upto::All), ["visit_closed"]);
    faultless(&desk);
}

#[test]
fn another_hive_is_a_correction_and_none_takes_it_back() {
    let (mut desk, mut live) = carried();
    go_to(&mut desk, &mut live, Some(NUCLEUS));
    due(&mut desk, &mut live, Upto::All);
    go_to(&mut desk, &mut live, Some(OTHER));
    assert_eq!(due(&mut desk, &mut live, Upto::All), ["corrected"]);
    assert!(row_of(&desk, NUCLEUS).is_empty());
    assert_eq!(row_of(&desk, OTHER), [20, 19]);
    go_to(&mut desk, &mut live, None);
    let written = due(&mut desk, &mut live, Upto::All);
    assert_eq!(written, ["undone", "comb_taken", "comb_taken"]);
    let hive = desk.yard.hive(HIVE).expect("the hive");
    assert_eq!(hive.visits[0].taken.len(), 2);
    assert!(row_of(&desk, OTHER).is_empty());
    faultless(&desk);
}

#[test]
fn the_choice_of_a_hive_is_one_step_to_take_back() {
    let (mut desk, mut live) = carried();
    let before = desk.outcome();
    go_to(&mut desk, &mut live, Some(NUCLEUS));
    due(&mut desk, &mut live, Upto::All);
    // said twice it changes nothing, and undo goes past it
    go_to(&mut desk, &mut live, Some(NUCLEUS));
    assert!(!live.told().next_back().expect("a step").1.changed);
    assert!(live.undo());
    assert_eq!(live.session().carried_to(), None);
    due(&mut desk, &mut live, Upto::All);
    assert_eq!(desk.outcome(), before);
    faultless(&desk);
}

#[test]
fn what_is_told_later_of_combs_that_went_is_told_before_they_go() {
    let (mut desk, mut live) = carried();
    go_to(&mut desk, &mut live, Some(NUCLEUS));
    due(&mut desk, &mut live, Upto::All);
    // a look is corrected where it stands
    tap(&mut desk, &mut live, Tap::BackTo(1));
    tap(&mut desk, &mut live, Tap::Tell(Act::Weighs(2.0)));
    assert_eq!(due(&mut desk, &mut live, Upto::Settled), ["corrected"]);
    // what is new about it is written before the split, which is written anew
    tap(&mut desk, &mut live, Tap::Tell(Act::Turned));
    let written = due(&mut desk, &mut live, Upto::Settled);
    assert!(
        written.starts_with(&["undone"]) && written.ends_with(&["split_to"]),
        "{written:?}"
    );
    tap(&mut desk, &mut live, Tap::Tell(Act::QueenSeen));
    let written = due(&mut desk, &mut live, Upto::Settled);
    assert_eq!(written, ["undone", "queen_seen", "split_to"]);
    // a third one goes with them
    tap(&mut desk, &mut live, Tap::BackTo(2));
    tap(&mut desk, &mut live, Tap::Tell(Act::TakenWhole));
    due(&mut desk, &mut live, Upto::Settled);
    assert_eq!(row_of(&desk, NUCLEUS), [20, 19, 18]);
    // and the first stays after all
    tap(&mut desk, &mut live, Tap::BackTo(0));
    tap(
        &mut desk,
        &mut live,
        Tap::Tell(Act::Decided(Some(Decision::Leave))),
    );
    due(&mut desk, &mut live, Upto::Settled);
    assert_eq!(row_of(&desk, NUCLEUS), [19, 18]);
    assert!(row_of(&desk, HIVE).contains(&20));
    assert_eq!(live.hive().row, desk.yard.hive(HIVE).expect("the hive").row);
    faultless(&desk);
}

#[test]
fn a_queen_told_on_another_comb_and_back_is_told_before_it_goes() {
    let (mut desk, mut live) = at_a_split(&CARRIED);
    tap(&mut desk, &mut live, Tap::BackTo(1));
    tap(&mut desk, &mut live, Tap::Tell(Act::TakenWhole));
    tap(&mut desk, &mut live, Tap::Tell(Act::QueenSeen));
    go_to(&mut desk, &mut live, Some(NUCLEUS));
    tap(&mut desk, &mut live, Tap::BackTo(2));
    tap(&mut desk, &mut live, Tap::Tell(Act::QueenSeen));
    due(&mut desk, &mut live, Upto::Settled);
    assert!(live.undo());
    due(&mut desk, &mut live, Upto::All);
    let seen = &desk.yard.hive(HIVE).expect("the hive").queen_seen;
    assert_eq!(seen[0].bar, Some(bar(19)));
    faultless(&desk);
}

#[test]
fn an_end_closed_before_a_comb_was_carried_away_has_it_no_more() {
    let (mut desk, mut live) = carried();
    go_to(&mut desk, &mut live, Some(NUCLEUS));
    let row: Vec<Piece> = (18..=28)
        .filter(|n| ![19, 20].contains(n))
        .map(|n| Piece::Bar { bar: bar(n) })
        .collect();
    let closed = Did::Arranged {
        end: End::Right,
        beyond: bar(17),
        row,
    };
    step(&mut desk, &mut live, closed);
    due(&mut desk, &mut live, Upto::All);
    tap(&mut desk, &mut live, Tap::Tell(Act::TakenWhole));
    step(&mut desk, &mut live, Did::Over);
    due(&mut desk, &mut live, Upto::All);
    assert_eq!(row_of(&desk, NUCLEUS), [20, 19, 18]);
    assert_eq!(
        row_of(&desk, HIVE)[16..],
        [17, 21, 22, 23, 24, 25, 26, 27, 28]
    );
    assert_eq!(live.hive().row, desk.yard.hive(HIVE).expect("the hive").row);
    faultless(&desk);
}

#[test]
fn a_split_that_somebody_took_back_is_left_alone() {
    let (mut desk, mut live) = carried();
    go_to(&mut desk, &mut live, Some(NUCLEUS));
    due(&mut desk, &mut live, Upto::All);
    let acts = desk.yard.acts().iter();
    let target = acts
        .rev()
        .find(|act| matches!(act.what().known(), Some(Known::SplitTo { .. })))
        .map(|act| act.entry().id)
        .expect("they went");
    desk.say(Subject::visit(HIVE, VISIT), Known::Undone { target });
    tap(&mut desk, &mut live, Tap::BackTo(0));
    tap(&mut desk, &mut live, Tap::Tell(Act::Turned));
    // one more goes, by itself
    tap(&mut desk, &mut live, Tap::BackTo(2));
    tap(&mut desk, &mut live, Tap::Tell(Act::TakenWhole));
    due(&mut desk, &mut live, Upto::All);
    assert_eq!(row_of(&desk, NUCLEUS), [18]);
    assert!(row_of(&desk, HIVE).contains(&20));
    faultless(&desk);
}

#[test]
fn a_session_kept_before_there_was_such_a_step_is_read() {
    let kept = r#"{"hive":"00000000-0000-0000-0000-0000000000a1",
        "visit":"00000000-0000-0000-0000-0000000000f1","end":null,
        "steps":[{"at":"2026-09-12T00:00:00Z","did":{"said":"right end open"}},
                 {"at":"2026-09-12T00:00:09Z","did":"over"}],"written":[]}"#;
    let session: Session = serde_json::from_str(kept).expect("it is read");
    assert_eq!(session.carried_to(), None);
    let (mut desk, mut live) = carried();
    go_to(&mut desk, &mut live, Some(NUCLEUS));
    let kept = serde_json::to_string(live.session()).expect("it can be kept");
    let session: Session = serde_json::from_str(&kept).expect("and read");
    assert_eq!(&session, live.session());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// However combs are taken whole, left, told of, sent here and there, with pauses and undos: the
    /// journal never refuses, and says in the end what it would say had it been written at the end.
    #[test]
    fn wherever_combs_go_the_journal_says_it(
        events in prop::collection::vec((0u8..9, 0usize..3, 0u8..3), 1..40),
    ) {
        let (mut desk, mut live) = at_a_split(&CARRIED);
        for (what, comb, then) in events {
            let tell = |act| Some(Tap::Tell(act));
            let act = match what {
                0 | 1 => tell(Act::TakenWhole),
                2 => tell(Act::Decided(Some(Decision::Leave))),
                3 => tell(Act::Turned),
                4 => tell(Act::Weighs(1.0 + f64::from(then))),
                5 => tell(Act::QueenSeen),
                _ => None,
            };
            if let Some(act) = act {
                tap(&mut desk, &mut live, Tap::BackTo(comb));
                tap(&mut desk, &mut live, act);
            }
            match what {
                6 | 7 => {
                    let to = [None, Some(NUCLEUS), Some(OTHER)][comb];
                    go_to(&mut desk, &mut live, to);
                }
                // an opening that was written stays, though all else is taken back
                8 if live.session().steps.len() > CARRIED.len() => {
                    live.undo();
                }
                _ => {}
            }
            match then {
                0 => drop(due(&mut desk, &mut live, Upto::Settled)),
                1 => drop(due(&mut desk, &mut live, Upto::All)),
                _ => {}
            }
        }
        step(&mut desk, &mut live, Did::Over);
        due(&mut desk, &mut live, Upto::All);
        prop_assert!(due(&mut desk, &mut live, Upto::All).is_empty());
        prop_assert_eq!(desk.yard.faults().count(), 0);

        let (mut fresh, _) = at_a_split(&[]);
        let mut session = Session::begin(HIVE, VISIT);
        session.steps.clone_from(&live.session().steps);
        session.end = live.session().end;
        let base = live::session::before(&fresh.yard, HIVE, VISIT).expect("the hive");
        let mut at_once = Live::new(session, base);
        fresh.now = desk.now;
        due(&mut fresh, &mut at_once, Upto::All);
        let (streamed, whole) = (desk.outcome(), fresh.outcome());
        let differs = streamed.lines().zip(whole.lines()).find(|(a, b)| a != b);
        prop_assert!(streamed == whole, "{:.3000?}", differs);
        for hive in [NUCLEUS, OTHER] {
            prop_assert_eq!(row_of(&desk, hive), row_of(&fresh, hive));
        }
        prop_assert_eq!(&live.hive().row, &desk.yard.hive(HIVE).expect("the hive").row);
    }
}

/// The carried bars' widths are to be covered anew: the plan says with what, and still has steps and a row.
#[test]
fn an_end_that_lost_its_bars_is_closed_with_bars_laid_in() {
    let (_, live) = carried();
    let hive = live.hive();
    let visit = hive.open_visit().expect("the visit goes on");
    let scales = Scales::of(hive, [hive]);
    let plan = closing_plan(hive, visit, End::Right, &scales, &AtHand::default());
    let plan = plan.expect("it can be asked").expect("combs were met");
    let Outcome::Impossible { impossible } = &plan.outcome else {
        panic!("two bars are missing");
    };
    let told = impossible.to_string();
    assert!(told.contains("it closes with 2 more empty bars"), "{told}");
    let arrangement = Arrangement::of(&plan, hive).expect("what is known is set in order");
    let board = |piece: &Piece| matches!(piece, Piece::Follower { .. });
    assert!(arrangement.row.iter().any(board));
    let gone = [bar(20), bar(19)];
    let back = |piece: &Piece| piece.bar().is_some_and(|id| gone.contains(&id));
    assert!(!arrangement.row.iter().any(back));
}
