//! One round against a far side that breaks off, forgets and lies.

mod support;

use exchange::{Far, FarError, Position, Pull, Pulled, Push, Pushed, RoundError, round};
use proptest::prelude::*;
use support::{Journal, chain, chain_after, run};

#[test]
fn a_round_leaves_both_sides_with_the_union_and_nothing_waiting() {
    let phone = Journal::of(chain(1, 1234, "a"));
    let desk = Journal::of(chain(2, 777, "b"));
    let done = run(&phone, &desk).expect("goes through");
    assert_eq!((done.given, done.taken), (1234, 777 + 1234));
    assert_eq!(phone.holding(), desk.holding());
    assert!(phone.waiting.borrow().is_empty());
}

#[test]
fn a_second_round_gives_and_takes_nothing() {
    let phone = Journal::of(chain(1, 10, "a"));
    let desk = Journal::of(chain(2, 10, "b"));
    run(&phone, &desk).expect("goes through");
    let again = run(&phone, &desk).expect("goes through");
    assert_eq!((again.given, again.taken), (0, 0));
}

#[test]
fn a_lost_answer_neither_doubles_a_record_nor_counts_it_as_there() {
    let phone = Journal::of(chain(1, 10, "a"));
    let desk = Journal::of(vec![]);
    desk.loses_answers.set(true);
    let broken = run(&phone, &desk).expect_err("the answer was lost");
    assert!(matches!(
        broken,
        RoundError::Far(FarError::Unreachable { .. })
    ));
    assert_eq!(
        phone.waiting.borrow().len(),
        10,
        "not seen to come back, so still waiting"
    );
    run(&phone, &desk).expect("goes through");
    assert_eq!((desk.len(), phone.waiting.borrow().len()), (10, 0));
}

#[test]
fn a_server_restored_from_an_old_copy_gets_everything_again() {
    let phone = Journal::of(chain(1, 30, "a"));
    let desk = Journal::of(chain(2, 5, "b"));
    run(&phone, &desk).expect("goes through");
    let copy = desk.records.borrow()[..20].to_vec();
    let restored = Journal::of(copy);
    let done = run(&phone, &restored).expect("goes through");
    assert_eq!(done.given, 15);
    assert_eq!(phone.holding(), restored.holding());
    assert!(phone.waiting.borrow().is_empty());
}

#[test]
fn a_restored_server_that_has_grown_beyond_our_place_is_noticed_too() {
    let phone = Journal::of(chain(1, 5, "a"));
    let desk = Journal::of(vec![]);
    run(&phone, &desk).expect("goes through");
    let restored = Journal::of(chain(3, 50, "c"));
    run(&phone, &restored).expect("goes through");
    assert_eq!((restored.len(), phone.len()), (55, 55));
}

#[test]
fn both_branches_of_a_device_id_used_twice_arrive_everywhere() {
    let trunk = chain(1, 4, "trunk");
    let at = trunk[3].hash;
    let branch = |words| [trunk.clone(), chain_after(1, 5, 8, words, at)].concat();
    let (phone, desk) = (
        Journal::of(branch("left")),
        Journal::of(branch("right one")),
    );
    run(&phone, &desk).expect("goes through");
    assert_eq!(phone.holding(), desk.holding());
    assert_eq!(phone.len(), 4 + 4 + 4);
}

#[test]
fn a_large_journal_goes_in_messages_of_bounded_size() {
    let phone = Journal::of(chain(1, 20, &"w".repeat(100_000)));
    let desk = Journal::of(vec![]);
    desk.breaks_after.set(Some(2));
    run(&phone, &desk).expect_err("cut off after one pull and one push");
    assert_eq!(desk.len(), 3, "three of 100 kB pass the bound of 256 KiB");
    desk.breaks_after.set(None);
    run(&phone, &desk).expect("goes on from there");
    assert_eq!(desk.len(), 20);
}

/// Says what it likes.
struct Liar(fn(Pull) -> Pulled);

impl Far for Liar {
    async fn push(&self, push: &Push) -> Result<Pushed, FarError> {
        Ok(Pushed {
            new: 0,
            known: push.records.len() as u64,
        })
    }
    async fn pull(&self, pull: Pull) -> Result<Pulled, FarError> {
        Ok((self.0)(pull))
    }
}

#[test]
fn a_far_side_that_lies_is_left_and_nothing_is_lost() {
    let phone = Journal::of(chain(1, 3, "a"));
    let stuck = Liar(|pull| Pulled::Page {
        records: vec![],
        next: pull.since,
        more: true,
    });
    pollster::block_on(round(&phone, &stuck)).expect("ends though more is promised for ever");
    assert_eq!(
        phone.waiting.borrow().len(),
        3,
        "it said yes, but nothing came back"
    );
    let lost = Liar(|_| Pulled::Elsewhere);
    let place = Position {
        place: 9,
        hash: phone.records.borrow()[0].hash,
    };
    phone.position.set(Some(place));
    let broken = pollster::block_on(round(&phone, &lost)).expect_err("never knows where we are");
    assert!(matches!(broken, RoundError::Far(FarError::Garbled { .. })));
    assert_eq!(phone.len(), 3);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    /// Cut off after any number of calls, any number of times: in the end both hold the union,
    /// each record once.
    #[test]
    fn rounds_cut_off_anywhere_end_in_the_union(
        phone_has in 0u64..700,
        desk_has in 0u64..700,
        cuts in prop::collection::vec(0u32..6, 0..6),
    ) {
        let phone = Journal::of(chain(1, phone_has, "a"));
        let desk = Journal::of(chain(2, desk_has, "b"));
        for cut in cuts {
            desk.breaks_after.set(Some(cut));
            let _ = run(&phone, &desk);
        }
        desk.breaks_after.set(None);
        run(&phone, &desk).expect("goes through");
        prop_assert_eq!(phone.holding(), desk.holding());
        prop_assert_eq!(phone.len() as u64, phone_has + desk_has);
        prop_assert!(phone.waiting.borrow().is_empty());
    }
}
