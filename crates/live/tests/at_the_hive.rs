//! What the keeper is told at the hive: what was taken back, what stands against what was taken,
//! counts; and presses on a face, which are one step.

mod desk;

use advice::advise::{Running, Surroundings, running};
use advice::returning::Ahead;
use advice::stores::Scales;
use desk::{Desk, HIVE, bar, live_at, said};
use hive::EntryId;
use hive::entry::End;
use live::concern::{Concern, concerns};
use live::{Did, Live, Session, Step, Upto};
use proptest::prelude::*;
use talk::act::{Act, Side};
use talk::{Question, Tap};
use uuid::Uuid;

fn advised(live: &Live) -> Running {
    let hive = live.hive();
    let around = Surroundings {
        ahead: Ahead {
            today: jiff::civil::date(2026, 9, 12),
            now: jiff::Timestamp::UNIX_EPOCH,
            flow: season::ripening::Flow::Thin,
            wanted: 1,
            suitable_days: Vec::new(),
        },
        climate: None,
        season_model: None,
        legal_moisture: None,
        at_hand: advice::closing_plan::AtHand::default(),
        withheld_by_others: Vec::new(),
    };
    running(hive, &Scales::of(hive, [hive]), &around)
}

fn stands_against(live: &Live) -> Vec<Concern> {
    concerns(live, &advised(live).count)
}

fn hear(live: &mut Live, desk: &mut Desk, words: &str) {
    let step = said(desk, words);
    live.step(step);
}

fn press(live: &mut Live, desk: &Desk, side: Side, eighths: u8) {
    live.step(Step {
        at: desk.now,
        did: Did::Tapped(vec![Tap::Tell(Act::Capped(side, f64::from(eighths) / 8.0))]),
    });
}

/// What was told of a comb at one visit and not at the next still counts while a third goes on.
#[test]
fn what_earlier_visits_told_is_known_while_a_visit_goes_on() {
    let mut desk = Desk::new(true);
    for (visit, words) in [
        (0xE1, ["bar 7 two kilos", "half capped both sides"]),
        (0xE2, ["bar 7 straight", "all capped this side"]),
    ] {
        let visit = EntryId(Uuid::from_u128(visit));
        let before = live::session::before(&desk.yard, HIVE, visit).expect("the hive");
        let mut live = Live::new(Session::begin(HIVE, visit), before);
        live.set_end(Some(End::Right));
        for words in ["right end"].into_iter().chain(words) {
            hear(&mut live, &mut desk, words);
        }
        desk.flush_of(visit, &mut live);
    }
    let mut live = live_at(&desk);
    for words in ["right end", "bar 7", "a quarter capped on the other side"] {
        hear(&mut live, &mut desk, words);
        let whole = live.hive_with_history();
        for (id, bar) in &live.hive().bars {
            assert_eq!(
                bar.known_contents(),
                whole.bars[id].known_contents(),
                "{words}"
            );
        }
    }
    let known = live.hive().bars[&bar(7)].known_contents();
    assert!(known.mass_kg.is_some() && known.straightness.is_some());
}

proptest! {
    #[test]
    fn presses_on_one_face_are_one_step(
        before in 0..=8_u8,
        presses in prop::collection::vec((any::<bool>(), 0..=8_u8), 1..20),
    ) {
        let mut desk = Desk::new(true);
        let mut live = live_at(&desk);
        for words in ["right end", "bar 7"] {
            hear(&mut live, &mut desk, words);
        }
        press(&mut live, &desk, Side::This, before);
        let stays = "smoke please";
        hear(&mut live, &mut desk, stays);
        let faces = |live: &Live| {
            let comb = &live.visit().combs[0];
            (comb.this, comb.other)
        };
        let (began, steps) = (faces(&live), live.session().steps.len());
        let mut runs = 0;
        let mut last = None;
        let mut wanted = began;
        for (near, eighths) in &presses {
            let side = if *near { Side::This } else { Side::Other };
            press(&mut live, &desk, side, *eighths);
            let share = Some(f64::from(*eighths) / 8.0);
            if *near { wanted.0 = share } else { wanted.1 = share }
            runs += usize::from(last != Some(side));
            last = Some(side);
        }
        prop_assert_eq!(faces(&live), wanted);
        prop_assert_eq!(live.session().steps.len(), steps + runs);
        for (_, told) in live.told().skip(steps) {
            prop_assert_eq!(told.heard.acts.len(), 1);
        }
        // read anew from the device it is the same
        let again = Live::new(live.session().clone(), live.before().clone());
        prop_assert_eq!(again.hive(), live.hive());
        prop_assert_eq!(again.told().collect::<Vec<_>>(), live.told().collect::<Vec<_>>());
        // one that changed nothing is no step to take back
        let mut undone = 0;
        while live.told().skip(steps).any(|(_, told)| told.changed) {
            live.undo();
            undone += 1;
        }
        prop_assert!(undone <= runs);
        prop_assert_eq!(faces(&live), began);
    }
}

#[test]
fn brood_taken_is_a_concern_and_brood_carried_on_its_bar_is_none() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in ["right end", "bar 7 all brood", "leave it"] {
        hear(&mut live, &mut desk, words);
    }
    let brood = Concern::Brood { bar: 7 };
    assert!(!stands_against(&live).contains(&brood));
    hear(&mut live, &mut desk, "take it");
    assert!(stands_against(&live).contains(&brood));
    live.undo();
    assert!(!stands_against(&live).contains(&brood));
    live.step(Step {
        at: desk.now,
        did: Did::Tapped(vec![Tap::Tell(Act::TakenWhole)]),
    });
    assert!(!stands_against(&live).contains(&brood));
}

#[test]
fn each_comb_taken_beyond_the_reserve_is_told_once() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    hear(&mut live, &mut desk, "right end");
    let mut told = 0;
    for bar in 1..=7 {
        let before = stands_against(&live);
        hear(
            &mut live,
            &mut desk,
            &format!("bar {bar} all capped both sides take it"),
        );
        let new = stands_against(&live);
        told += new
            .iter()
            .filter(|c| matches!(c, Concern::Reserve { .. }) && c.is_new(&before))
            .count();
        // and nothing new by a word that takes nothing
        hear(&mut live, &mut desk, "smoke please");
        assert!(stands_against(&live).iter().all(|c| !c.is_new(&new)));
    }
    // nobody knows what the other combs hold: unknown is not nothing
    let unseen = |concern: &Concern| match concern {
        Concern::Reserve { not_looked_at, .. } => Some(*not_looked_at),
        _ => None,
    };
    let against = stands_against(&live);
    assert_eq!(against.iter().find_map(unseen), Some(28 - 7));
    let taken = advised(&live).count.taken;
    assert!((1..=taken).contains(&told), "{told} of {taken}");
    let before = stands_against(&live);
    live.undo();
    live.undo();
    assert!(stands_against(&live).iter().all(|c| !c.is_new(&before)));
}

#[test]
fn what_is_scratched_is_found_again() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in [
        "right end",
        "bar 7",
        "all capped this side",
        "half capped the other",
        "scratch that",
        "scratch that",
    ] {
        hear(&mut live, &mut desk, words);
    }
    let words = |nth| match &live.taken_back_by(nth).expect("it took back").0.did {
        Did::Said(words) => words.clone(),
        other => panic!("{other:?}"),
    };
    assert_eq!(words(4), "half capped the other");
    assert_eq!(words(5), "all capped this side");
    assert!(live.taken_back_by(3).is_none());
}

#[test]
fn counts_are_told_in_figures_with_what_is_counted() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in [
        "right end",
        "bar 7 all capped both sides",
        "take it",
        "bar 6 half capped both sides leave it",
    ] {
        hear(&mut live, &mut desk, words);
    }
    let advice = advised(&live);
    let answer = |question| {
        live.transcript()
            .answer(question, &live::answer::Offer::from(&advice))
    };
    assert_eq!(
        answer(Question::HowMany),
        "1 taken, 1 looked at and staying."
    );
    assert_eq!(answer(Question::HowManyStay), "1 of 2 looked at stay.");
}

/// A number misheard is no reason to forget what was done before it, however the visit is come back to.
#[test]
fn a_bar_that_is_not_there_takes_nothing_back() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in ["right end", "bar 7 all capped both sides", "take it"] {
        hear(&mut live, &mut desk, words);
    }
    desk.flush(&mut live, Upto::All);
    let before = advised(&live).count;
    assert_eq!(before.taken, 1);
    hear(&mut live, &mut desk, "bar ninety nine all capped");
    assert!(live.refused().is_some());
    assert_eq!(advised(&live).count, before);

    let mut again = Live::new(live.session().clone(), live.before().clone());
    assert_eq!(again.refused(), live.refused());
    assert_eq!(advised(&again).count, before);
    assert_eq!(again.bars(), live.bars());
    assert_eq!(
        desk.flush(&mut again, Upto::All),
        0,
        "nothing is taken back"
    );

    // put right, it is recorded
    hear(&mut again, &mut desk, "that's not ninety nine, that's six");
    assert_eq!(again.refused(), None);
    assert_eq!(again.in_hand(), Some(bar(6)));
}

#[test]
fn feed_by_mass_is_recorded_by_mass() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in [
        "right end",
        "bar 7 brood",
        "leave it",
        "gave them two pounds of fondant",
    ] {
        hear(&mut live, &mut desk, words);
    }
    desk.flush(&mut live, Upto::All);
    let hive = desk.yard.hive(HIVE).expect("the hive");
    let fed = hive.feeds.last().expect("it was fed");
    assert_eq!((fed.food.as_str(), fed.litres), ("fondant", None));
    // 0.45359237 kg to the pound, by definition
    let kg = fed.mass_kg.expect("by mass").to_kg();
    assert!((kg - 0.907_184_74).abs() < 1e-9, "{kg}");
}

/// A comb that is met before the first number is one that hangs there, not the bar that was cut before.
#[test]
fn a_comb_before_the_first_number_hangs_on_a_bar_that_bears_one() {
    let mut desk = Desk::new(true);
    let mut first = live_at(&desk);
    for words in ["right end", "bar 27 all capped both sides", "take it"] {
        hear(&mut first, &mut desk, words);
    }
    desk.flush(&mut first, Upto::All);
    let before = desk.yard.hive(HIVE).expect("the hive").clone();
    let visit = EntryId(Uuid::from_u128(0xE7));
    let mut live = Live::new(Session::begin(HIVE, visit), before);
    for words in [
        "right end",
        "next comb",
        "all capped both sides",
        "take it",
        "bar 26",
        "brood",
    ] {
        hear(&mut live, &mut desk, words);
    }
    assert_eq!(live.refused(), None);
    assert_eq!(live.bars(), [bar(28), bar(26)]);
}

/// A phrase misheard long ago is put right where it stands, and that is a step which is taken back like others.
#[test]
fn a_phrase_is_put_right_where_it_stands() {
    let mut desk = Desk::new(true);
    let mut live = live_at(&desk);
    for words in [
        "right end",
        "bar 7 all capped both sides",
        "take it",
        "bar 5",
        "half capped both sides",
        "leave it",
    ] {
        hear(&mut live, &mut desk, words);
    }
    desk.flush(&mut live, Upto::All);
    let misheard = live.hive().clone();

    assert!(live.put_right(desk.now, 3, Some(" bar 6 ")));
    assert_eq!(live.session().words(3), Some(("bar 6", true)));
    assert_eq!(live.bars(), [bar(7), bar(6)]);
    assert_eq!(live.last_change().map(|(step, _)| step.at), Some(desk.now));
    assert!(desk.flush(&mut live, Upto::All) > 0);
    let kept = &desk.yard.hive(HIVE).expect("the hive").bars;
    assert_eq!(
        kept[&bar(5)].known_contents(),
        live.before().bars[&bar(5)].known_contents()
    );
    assert_eq!(
        kept[&bar(6)].known_contents(),
        live.hive().bars[&bar(6)].known_contents()
    );

    assert!(
        !live.put_right(desk.now, 3, Some("bar 6")),
        "it says so already"
    );
    assert!(
        !live.put_right(desk.now, 6, Some("bar 6")),
        "that is no phrase"
    );
    assert!(!live.put_right(desk.now, 99, None), "there is no such step");

    assert!(live.undo());
    assert_eq!(live.session().words(3), Some(("bar 5", false)));
    assert_eq!(*live.hive(), misheard);

    assert!(
        live.put_right(desk.now, 2, Some("  ")),
        "blank words leave it out"
    );
    assert!(live.session().is_left_out(2));
    assert_eq!(live.session().words(2), None);
    assert_eq!(advised(&live).count.taken, 0);
    assert!(
        live.put_right(desk.now, 2, Some("take it")),
        "and it comes back"
    );
    assert_eq!(advised(&live).count.taken, 1);
    assert_eq!(live.session().words(2), Some(("take it", false)));
}
