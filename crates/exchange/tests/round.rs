//! One round against a far side that breaks off, forgets and lies.

mod support;

use exchange::{Far, FarError, Near as _, Position, Pull, Pulled, Push, Pushed, RoundError, round};
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
    let copy = desk.records.borrow()[..2].to_vec();
    let restored = Journal::of([copy, chain(3, 50, "c")].concat());
    run(&phone, &restored).expect("goes through");
    assert_eq!((restored.len(), phone.len()), (55, 55));
    assert_eq!(phone.holding(), restored.holding());
}

/// A phone that was with its desk, and has written one more record since.
fn at_home() -> (Journal, Journal) {
    let phone = Journal::of(chain(1, 5, "a"));
    let desk = Journal::of(chain(2, 5, "b"));
    run(&phone, &desk).expect("goes through");
    let last = phone.records.borrow()[4].hash;
    phone.write(chain_after(1, 6, 6, "a", last));
    (phone, desk)
}

#[test]
fn another_journal_in_the_place_of_ours_is_neither_given_nor_taken() {
    let (phone, desk) = at_home();
    let (position, waiting) = (phone.position.get(), phone.waiting.borrow().clone());
    for strange in [Journal::of(chain(3, 1200, "c")), Journal::of(vec![])] {
        let (theirs, ours) = (strange.holding(), phone.holding());
        for _ in 0..2 {
            assert_eq!(run(&phone, &strange), Err(RoundError::Another));
        }
        assert_eq!((strange.holding(), phone.holding()), (theirs, ours));
        assert_eq!(phone.position.get(), position);
        assert_eq!(*phone.waiting.borrow(), waiting);
    }
    // and with the right one it goes on as if nothing had been
    let done = run(&phone, &desk).expect("goes through");
    assert_eq!((done.given, done.taken), (1, 1));
    assert_eq!(phone.holding(), desk.holding());
}

#[test]
fn another_journal_is_joined_when_the_keeper_wants_it() {
    for theirs in [chain(3, 700, "c"), vec![]] {
        let (phone, _) = at_home();
        let strange = Journal::of(theirs);
        run(&phone, &strange).expect_err("it is another");
        pollster::block_on(phone.begin_anew()).expect("it is at hand");
        run(&phone, &strange).expect("goes through");
        assert_eq!(phone.holding(), strange.holding());
        assert!(phone.waiting.borrow().is_empty());
        let again = run(&phone, &strange).expect("goes through");
        assert_eq!((again.given, again.taken), (0, 0));
        // that was for this one: the next is asked about again
        let third = Journal::of(chain(4, 9, "d"));
        assert_eq!(run(&phone, &third), Err(RoundError::Another));
    }
}

#[test]
fn a_copy_is_known_by_its_first_page() {
    let phone = Journal::of(chain(1, 4000, "a"));
    let desk = Journal::of(vec![]);
    run(&phone, &desk).expect("goes through");
    let copy = desk.records.borrow()[..3900].to_vec();
    let restored = Journal::of(copy);
    run(&phone, &restored).expect("goes through");
    // refused; the first page to know it; eight pages again; the last hundred that were given
    assert_eq!(restored.pulls.get(), 1 + 1 + 8 + 1);
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

    /// Any journal that shares a record with ours is brought up by itself, any that shares none is let
    /// be, cut off or not, until it is joined; then both are whole, and a round more changes nothing.
    #[test]
    fn a_journal_that_shares_nothing_is_not_mixed_in(
        ours in 1u64..700,
        theirs in 0u64..700,
        copied in 0usize..700,
        cuts in prop::collection::vec(0u32..6, 0..6),
    ) {
        let phone = Journal::of(chain(1, ours, "a"));
        let desk = Journal::of(vec![]);
        run(&phone, &desk).expect("goes through");
        let copied = copied.min(desk.len() - 1);
        let copy = desk.records.borrow()[..copied].to_vec();
        // its own come first, or last
        let own = chain(2, theirs, "b");
        let far = Journal::of(if theirs % 2 == 0 { [copy, own].concat() } else { [own, copy].concat() });
        let before = (phone.holding(), far.holding());
        for cut in &cuts {
            far.breaks_after.set(Some(*cut));
            let _ = run(&phone, &far);
        }
        far.breaks_after.set(None);
        if copied == 0 {
            prop_assert_eq!(run(&phone, &far), Err(RoundError::Another));
            prop_assert_eq!((phone.holding(), far.holding()), before);
            pollster::block_on(phone.begin_anew()).expect("it is at hand");
            for cut in cuts {
                far.breaks_after.set(Some(cut));
                let _ = run(&phone, &far);
            }
            far.breaks_after.set(None);
        }
        run(&phone, &far).expect("goes through");
        prop_assert_eq!(phone.holding(), far.holding());
        prop_assert_eq!(phone.len() as u64, ours + theirs);
        prop_assert!(phone.waiting.borrow().is_empty());
        let again = run(&phone, &far).expect("goes through");
        prop_assert_eq!((again.given, again.taken), (0, 0));
    }
}
