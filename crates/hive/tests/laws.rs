//! Laws of the fold: what holds for every journal, in every order of arrival.

mod common;

use comb::Share;
use common::*;
use hive::entry::{Harvest, Known};
use hive::{Entry, EntryId, Yard};
use proptest::prelude::*;

fn shuffled(entries: &[Entry], keys: &[u32]) -> Vec<Entry> {
    let mut order: Vec<usize> = (0..entries.len()).collect();
    order.sort_by_key(|i| keys.get(i % keys.len().max(1)).copied().unwrap_or(0) ^ (*i as u32 * 31));
    order.into_iter().map(|i| entries[i].clone()).collect()
}

/// State without the journal it came from: two journals that differ in corrections may agree here.
fn state(yard: &Yard) -> (Vec<hive::Hive>, Vec<hive::Apiary>) {
    (
        yard.hives().cloned().collect(),
        yard.apiaries().cloned().collect(),
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_fold_ignores_the_order_of_arrival(
        entries in journal(),
        keys in prop::collection::vec(any::<u32>(), 1..40),
    ) {
        prop_assert_eq!(Yard::fold(entries.clone()), Yard::fold(shuffled(&entries, &keys)));
    }

    #[test]
    fn adding_one_by_one_gives_what_folding_at_once_gives(
        entries in journal(),
        keys in prop::collection::vec(any::<u32>(), 1..40),
    ) {
        let whole = Yard::fold(entries.clone());
        let mut in_order = Yard::default();
        for entry in entries.clone() {
            in_order.add(entry);
        }
        prop_assert_eq!(&in_order, &whole);
        let mut mixed = Yard::default();
        for entry in shuffled(&entries, &keys) {
            mixed.add(entry);
        }
        prop_assert_eq!(&mixed, &whole);
    }

    #[test]
    fn taking_back_and_putting_right_at_the_hive_gives_what_folding_at_once_gives(
        words in prop::collection::vec((0..14u8, 0..8usize, -20..40i64), 1..60),
    ) {
        let entries = a_day_at_the_hives(&words);
        let mut in_order = Yard::default();
        for (nth, entry) in entries.iter().enumerate() {
            in_order.add(entry.clone());
            prop_assert_eq!(&in_order, &Yard::fold(entries[..=nth].to_vec()));
        }
    }

    #[test]
    fn an_entry_that_comes_twice_counts_once(
        entries in journal(),
        again in prop::collection::vec(any::<prop::sample::Index>(), 0..10),
    ) {
        let mut twice = entries.clone();
        twice.extend(again.iter().map(|i| i.get(&entries).clone()));
        prop_assert_eq!(Yard::fold(twice), Yard::fold(entries));
    }

    #[test]
    fn merging_commutes_and_is_associative(
        entries in journal(),
        parts in prop::collection::vec(0..7u8, 1..80),
    ) {
        // each entry is in one, two or all three journals
        let part = |bit: u8| -> Vec<Entry> {
            entries.iter().zip(parts.iter().cycle())
                .filter(|(_, part)| (**part + 1) & bit != 0)
                .map(|(entry, _)| entry.clone())
                .collect()
        };
        let (a, b, c) = (part(1), part(2), part(4));
        let merged = |first: &[Entry], rest: &[&[Entry]]| {
            let mut yard = Yard::fold(first.to_vec());
            for more in rest {
                yard.merge(more.to_vec());
            }
            yard
        };
        prop_assert_eq!(merged(&a, &[&b]), merged(&b, &[&a]));
        let bc: Vec<Entry> = merged(&b, &[&c]).journal().map(|e| Entry::clone(e)).collect();
        prop_assert_eq!(merged(&a, &[&b, &c]), merged(&a, &[&bc]));
    }

    #[test]
    fn undoing_the_undo_is_as_if_nothing_was_said(entries in journal(), pick in any::<prop::sample::Index>()) {
        let plain = Yard::fold(entries.clone());
        let target = pick.get(&entries).id;
        prop_assume!(plain.standing(target) != Some(hive::yard::Standing::Undone));
        // an undo of an undo that takes part in a circle changes which entries lie on it
        prop_assume!(!plain.faults().any(|fault| fault.why == hive::Why::Circle));
        let mut undone = entries;
        let undo = last_word(&mut undone, target, 1);
        let without = Yard::fold(undone.clone());
        prop_assert_eq!(without.standing(target), Some(hive::yard::Standing::Undone));
        last_word(&mut undone, undo, 2);
        prop_assert_eq!(state(&Yard::fold(undone)), state(&plain));
    }

    #[test]
    fn correcting_equals_having_said_it_right(entries in journal(), pick in any::<prop::sample::Index>(), percent in 0..=100u8) {
        let right = Known::CombSeen { bar: bar(1), contents: capped(Some(f64::from(percent)), None) };
        let wrong = pick.get(&entries).clone();
        let plain = Yard::fold(entries.clone());
        let meta = ["undone", "corrected", "hive_started", "bar_added", "visit_opened", "visit_closed", "sung_to"];
        prop_assume!(!meta.contains(&wrong.what.kind()));
        prop_assume!(plain.standing(wrong.id) == Some(hive::yard::Standing::Stands));
        let mut said_right = entries.clone();
        for entry in &mut said_right {
            if entry.id == wrong.id {
                entry.what = right.clone().into();
            }
        }
        let mut corrected = entries;
        let mut correction = corrected[0].clone();
        correction.id = EntryId(uuid::Uuid::from_u128(0xC0));
        correction.seq = 900;
        correction.what = Known::Corrected { target: wrong.id, what: right.into() }.into();
        corrected.push(correction);
        prop_assert_eq!(state(&Yard::fold(corrected)), state(&Yard::fold(said_right)));
    }

    #[test]
    fn no_bar_is_ever_lost_or_doubled(entries in journal()) {
        let yard = Yard::fold(entries.clone());
        let refused: Vec<_> = yard.faults().filter(|f| !f.applied).map(|f| f.entry).collect();
        let added: std::collections::BTreeSet<_> = yard.acts().iter()
            .filter(|act| !refused.contains(&act.entry().id))
            .filter_map(|act| match act.what().known() {
                Some(Known::BarAdded { bar, .. }) => Some(*bar),
                _ => None,
            })
            .collect();
        let mut held: Vec<_> = yard.hives().flat_map(|hive| hive.bars.keys().copied()).collect();
        held.sort();
        prop_assert_eq!(held, added.into_iter().collect::<Vec<_>>());
        for hive in yard.hives() {
            let in_row: Vec<_> = hive.row.bars().collect();
            let lying: Vec<_> = hive.bars.values()
                .filter(|bar| matches!(bar.lies, hive::Lies::InRow | hive::Lies::Aside))
                .map(|bar| bar.id)
                .collect();
            prop_assert_eq!(in_row.len(), lying.len());
            prop_assert!(lying.iter().all(|bar| in_row.contains(bar)));
            let mut numbers = hive.numbers();
            numbers.dedup();
            prop_assert_eq!(numbers, hive.numbers(), "numbers are unique");
        }
    }

    #[test]
    fn what_was_not_said_stays_unknown(entries in journal()) {
        // every share in the state was said by some entry: none is made up, least of all a zero
        let yard = Yard::fold(entries.clone());
        let mut said = std::collections::BTreeSet::new();
        for entry in &entries {
            collect(&entry.what, &mut said);
        }
        for hive in yard.hives() {
            for bar in hive.bars.values() {
                for face in [&bar.contents.left, &bar.contents.right] {
                    prop_assert!(face.capped_of_honey.is_none_or(|s| said.contains(&s.get().to_bits())));
                    prop_assert_eq!(face.shares().count(), 0);
                }
            }
        }
    }

    #[test]
    fn what_is_printed_is_read_back(entries in journal()) {
        for entry in entries {
            let text = serde_json::to_string(&entry).expect("an entry has a text");
            prop_assert_eq!(Entry::parse(&text).expect("its own text"), entry);
        }
    }
}

/// One device at one hive, visit after visit, which mostly takes back or puts right one of its latest
/// entries; some are written down late, some by a clock that was set back.
fn a_day_at_the_hives(words: &[(u8, usize, i64)]) -> Vec<Entry> {
    let mut journal = Journal::with_bars(6);
    for (word, back, minutes) in words {
        journal.later(jiff::SignedDuration::from_mins(*minutes / 8));
        let seen = |percent: f64| Known::CombSeen {
            bar: bar(*back as u128 % 6 + 1),
            contents: capped(Some(percent), None),
        };
        let nth_last = journal.entries.len().saturating_sub(1 + back);
        let target = journal.entries[nth_last].id;
        match word {
            0 | 1 => {
                journal.open_visit();
            }
            2 => journal.close_visit(),
            3..=5 => {
                journal.say(seen(*minutes as f64 + 20.0));
            }
            6 => {
                let side = hive::entry::End::Left;
                let (bar, beside) = (bar(*back as u128 % 6 + 1), bar(1));
                journal.say(Known::BarMoved { bar, beside, side });
            }
            7 => {
                let bar = bar(*back as u128 % 6 + 1);
                journal.say(Known::CombTaken {
                    bar,
                    how: Harvest::Cut,
                });
            }
            8..=10 => {
                journal.undo(target);
            }
            _ => {
                journal.correct(target, seen(100.0));
            }
        }
        if *minutes > 30 {
            let late = journal.entries.last_mut().expect("one was written");
            late.at -= jiff::SignedDuration::from_mins(*minutes);
        }
    }
    journal.entries
}

fn last_word(entries: &mut Vec<Entry>, target: EntryId, n: u128) -> EntryId {
    let id = EntryId(uuid::Uuid::from_u128(0xC0 + n));
    let mut undo = entries[0].clone();
    undo.id = id;
    undo.seq = 900 + n as u64;
    undo.recorded = entries
        .iter()
        .map(|entry| entry.recorded)
        .max()
        .expect("some entries");
    undo.at = undo.recorded;
    undo.what = Known::Undone { target }.into();
    entries.push(undo);
    id
}

fn collect(what: &hive::What, said: &mut std::collections::BTreeSet<u64>) {
    match what.known() {
        Some(Known::CombSeen { contents, .. }) => {
            for face in [&contents.left, &contents.right] {
                said.extend(face.capped_of_honey.map(|s| s.get().to_bits()));
            }
        }
        Some(Known::Corrected { what, .. }) => collect(what, said),
        _ => {}
    }
}

// --- faces: a model beside the fold ---------------------------------------------------------

/// What a keeper with paper would do: each bar a card with a mark for each side.
#[derive(Debug, Clone)]
struct Card {
    bar: u128,
    left: Option<f64>,
    right: Option<f64>,
}

#[derive(Debug, Clone)]
enum Handling {
    Move(usize, usize),
    Turn(usize),
    Look(usize, f64, f64),
    NewVisit,
}

fn handling() -> impl Strategy<Value = Handling> {
    prop_oneof![
        (0..6usize, 0..6usize).prop_map(|(a, b)| Handling::Move(a, b)),
        (0..6usize).prop_map(Handling::Turn),
        (0..6usize, 0..=100u8, 0..=100u8).prop_map(|(bar, l, r)| Handling::Look(
            bar,
            f64::from(l),
            f64::from(r)
        )),
        Just(Handling::NewVisit),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn faces_stay_true_through_moves_and_turns(handlings in prop::collection::vec(handling(), 0..40)) {
        let mut cards: Vec<Card> =
            (1..=6).map(|bar| Card { bar, left: None, right: None }).collect();
        let mut journal = Journal::with_bars(6);
        journal.open_visit();
        for handling in handlings {
            match handling {
                Handling::Move(from, to) if from != to => {
                    let beside = cards[to].bar;
                    let card = cards.remove(from);
                    let at = cards.iter().position(|c| c.bar == beside).expect("it is there");
                    journal.say(Known::BarMoved { bar: bar(card.bar), beside: bar(beside), side: hive::entry::End::Right });
                    cards.insert(at + 1, card);
                }
                Handling::Move(..) => {}
                Handling::Turn(at) => {
                    let card = &mut cards[at];
                    std::mem::swap(&mut card.left, &mut card.right);
                    journal.turn(card.bar);
                }
                Handling::Look(at, left, right) => {
                    let card = &mut cards[at];
                    (card.left, card.right) = (Some(left), Some(right));
                    journal.see(card.bar, capped(Some(left), Some(right)));
                }
                Handling::NewVisit => {
                    journal.close_visit();
                    journal.later(jiff::SignedDuration::from_hours(48));
                    journal.open_visit();
                }
            }
        }
        let yard = journal.fold();
        prop_assert_eq!(yard.faults().count(), 0);
        let hive = yard.hive(IRONBARK).expect("it was started");
        prop_assert_eq!(order(hive), cards.iter().map(|c| c.bar).collect::<Vec<_>>());
        for card in cards {
            let found = hive.bar(bar(card.bar)).expect("it was added");
            prop_assert_eq!(&found.contents, &capped(card.left, card.right));
            // and the latest look of the comb's life says the same
            let last = found.looks_at_this_comb().last().map(|look| look.contents).unwrap_or_default();
            prop_assert_eq!(&last, &found.contents);
        }
    }
}

// --- named cases ----------------------------------------------------------------------------

#[test]
fn a_correction_that_arrives_before_its_target_acts_when_it_comes() {
    let mut journal = Journal::with_bars(3);
    let seen = journal.see(1, capped(Some(50.0), None));
    journal.correct(
        seen,
        Known::CombSeen {
            bar: bar(2),
            contents: capped(Some(75.0), None),
        },
    );
    let all = journal.entries.clone();
    let mut without = all.clone();
    without.retain(|entry| entry.id != seen);
    let mut yard = Yard::fold(without);
    assert_eq!(
        yard.faults()
            .map(|fault| fault.why.clone())
            .collect::<Vec<_>>(),
        [hive::Why::NoSuchEntry { target: seen }]
    );
    yard.merge(all.clone());
    assert_eq!(yard, Yard::fold(all));
    let hive = yard.hive(IRONBARK).expect("started");
    assert_eq!(hive.bars[&bar(1)].seen, None);
    assert_eq!(hive.bars[&bar(2)].contents, capped(Some(75.0), None));
}

#[test]
fn a_correction_of_a_correction_counts_and_undoing_it_gives_the_first_again() {
    let mut journal = Journal::with_bars(1);
    let look = |percent| Known::CombSeen {
        bar: bar(1),
        contents: capped(Some(percent), None),
    };
    let seen = journal.say(look(10.0));
    let first = journal.correct(seen, look(20.0));
    let second = journal.correct(first, look(30.0));
    let now = |journal: &Journal| {
        let yard = journal.fold();
        let bar = &yard.hive(IRONBARK).expect("started").bars[&bar(1)];
        bar.contents.left.capped_of_honey.map(Share::to_percent)
    };
    assert_eq!(now(&journal), Some(30.0));
    journal.undo(second);
    assert_eq!(now(&journal), Some(20.0));
    let undo = journal.undo(first);
    assert_eq!(now(&journal), Some(10.0));
    journal.undo(undo);
    assert_eq!(now(&journal), Some(20.0));
    // a correction of an entry that is taken back waits
    let gone = journal.undo(seen);
    assert_eq!(now(&journal), None);
    journal.undo(gone);
    assert_eq!(now(&journal), Some(20.0));
}

#[test]
fn entries_that_take_each_other_back_in_a_circle_do_nothing() {
    let mut journal = Journal::with_bars(2);
    let taken = journal.take(1, Harvest::Cut);
    let (x, y) = (
        EntryId(uuid::Uuid::from_u128(0x1000 + 7)),
        EntryId(uuid::Uuid::from_u128(0x1000 + 6)),
    );
    let first = journal.undo(x);
    let second = journal.undo(first);
    assert_eq!((first, second), (y, x), "the ids of the next two entries");
    let yard = journal.fold();
    let circle = yard
        .faults()
        .filter(|fault| fault.why == hive::Why::Circle)
        .count();
    assert_eq!(circle, 2);
    assert_eq!(yard.standing(taken), Some(hive::yard::Standing::Stands));
}

#[test]
fn two_bodies_under_one_id_give_the_same_choice_in_either_order() {
    let journal = Journal::with_bars(2);
    let mut twin = journal.entries[1].clone();
    twin.by = "another".into();
    let mut one = journal.entries.clone();
    one.push(twin.clone());
    let mut other = vec![twin];
    other.extend(journal.entries);
    let (one, other) = (Yard::fold(one), Yard::fold(other));
    assert_eq!(one, other);
    assert_eq!(
        one.faults().map(|fault| &fault.why).collect::<Vec<_>>(),
        [&hive::Why::DifferentTwins]
    );
}
