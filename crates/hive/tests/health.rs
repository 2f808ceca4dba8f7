//! Treatments, signs and medicines: folded, refused, taken back, and carried on when newer.

mod common;

use common::*;
use hive::pen::Subject;
use hive::sign::{Certainty, Clearing, Report, Sign};
use hive::treatment::{LabelPeriod, Purchase, Treatment, TreatmentEnd};
use hive::{Entry, EntryId, Happened, Known, Scope, Why, Yard, check, undo_last};
use jiff::SignedDuration;
use jiff::civil::{Date, date};
use serde_json::{Map, json};
use uuid::Uuid;

fn strips(on: Date) -> Known {
    Known::TreatmentBegun(Treatment {
        planned_removal: Some(date(2026, 10, 24)),
        withholding: Some(LabelPeriod::Days { days: 14 }),
        ..Treatment::new(on, "Acme Strips")
    })
}

fn end(treatment: EntryId, on: Date) -> Known {
    Known::TreatmentEnded(TreatmentEnd {
        treatment,
        on,
        left: None,
        more: Map::new(),
    })
}

fn suspected(condition: &str) -> Sign {
    Sign::new(date(2026, 9, 12), condition, Certainty::Suspected)
}

fn cleared(sign: EntryId, on: Date) -> Known {
    Known::SignCleared(Clearing {
        sign,
        on,
        why: "the laboratory found none".into(),
        more: Map::new(),
    })
}

fn tried(journal: &Journal, known: Known) -> Result<(), String> {
    let mut pen = journal.pen.clone();
    let stamp = hive::pen::Stamp::now(EntryId(Uuid::from_u128(0xFFFF)), journal.now);
    let entry = pen.write(stamp, journal.about, known.into());
    check(&journal.fold(), &entry, journal.now).map_err(|error| error.to_string())
}

#[test]
fn a_treatment_is_on_until_its_end_is_said() {
    let mut journal = Journal::with_bars(3);
    let begun = journal.say(strips(date(2026, 9, 12)));
    let on = |journal: &Journal| {
        let yard = journal.fold();
        let hive = yard.hive(IRONBARK).expect("started");
        hive.treatments_on().count()
    };
    assert_eq!(on(&journal), 1);
    let ended = journal.say(end(begun, date(2026, 9, 12)));
    assert_eq!(on(&journal), 0);
    journal.undo(ended);
    assert_eq!(on(&journal), 1);
}

#[test]
fn a_sign_stands_until_it_is_cleared_and_a_look_that_found_none_clears_nothing() {
    let mut journal = Journal::with_bars(3);
    let seen = journal.say(Known::SignSeen(Sign {
        bar: Some(bar(2)),
        ..suspected("American foulbrood")
    }));
    journal.say(Known::SignSeen(Sign::new(
        date(2026, 9, 12),
        "American foulbrood",
        Certainty::NotFound,
    )));
    journal.say(Known::SignReported(Report {
        sign: seen,
        on: date(2026, 9, 12),
        to: "the inspector".into(),
        answer: None,
        more: Map::new(),
    }));
    let yard = journal.fold();
    let hive = yard.hive(IRONBARK).expect("started");
    let standing: Vec<_> = hive.signs_standing().collect();
    assert_eq!(standing.len(), 1);
    assert_eq!(standing[0].reports.len(), 1);
    let happened = &hive.bars[&bar(2)].history.last().expect("some").what;
    assert!(matches!(happened, Happened::SignSeen { .. }));
    journal.say(cleared(seen, date(2026, 9, 12)));
    let yard = journal.fold();
    let hive = yard.hive(IRONBARK).expect("started");
    assert_eq!(hive.signs_standing().count(), 0);
    assert_eq!(hive.signs.len(), 2, "the record keeps both");
}

#[test]
fn what_cannot_be_is_refused_with_words_that_help() {
    let mut journal = Journal::with_bars(3);
    let begun = journal.say(strips(date(2026, 9, 12)));
    let sign = journal.say(Known::SignSeen(suspected("chalkbrood")));
    let nobody = EntryId(Uuid::nil());
    let mut out_before_in = Treatment::new(date(2026, 9, 12), "Acme Strips");
    out_before_in.planned_removal = Some(date(2026, 9, 1));
    let mut too_long = Treatment::new(date(2026, 9, 12), "Acme Strips");
    too_long.withholding = Some(LabelPeriod::Days { days: 1400 });
    let mut answers = vec![
        tried(&journal, strips(date(2026, 9, 14))),
        tried(&journal, Known::TreatmentBegun(out_before_in)),
        tried(&journal, Known::TreatmentBegun(too_long)),
        tried(
            &journal,
            Known::TreatmentBegun(Treatment::new(date(2026, 9, 12), " ")),
        ),
        tried(&journal, end(begun, date(2026, 9, 11))),
        tried(&journal, end(nobody, date(2026, 9, 12))),
        tried(&journal, cleared(nobody, date(2026, 9, 12))),
        tried(&journal, cleared(sign, date(2026, 9, 11))),
        tried(
            &journal,
            Known::SignSeen(Sign {
                bar: Some(bar(9)),
                ..suspected("chalkbrood")
            }),
        ),
    ];
    journal.say(end(begun, date(2026, 9, 12)));
    journal.say(cleared(sign, date(2026, 9, 12)));
    answers.push(tried(&journal, end(begun, date(2026, 9, 12))));
    answers.push(tried(&journal, cleared(sign, date(2026, 9, 12))));
    journal.about = Subject::YARD;
    answers.push(tried(&journal, strips(date(2026, 9, 12))));
    let told: Vec<String> = answers
        .into_iter()
        .map(|answer| answer.expect_err("each of these is refused"))
        .collect();
    insta::assert_snapshot!(told.join("\n"));
}

#[test]
fn an_end_that_comes_before_its_beginning_acts_when_the_beginning_comes() {
    let mut journal = Journal::with_bars(1);
    let begun = journal.say(strips(date(2026, 9, 12)));
    journal.say(end(begun, date(2026, 9, 12)));
    let all = journal.entries.clone();
    let without: Vec<Entry> = all.iter().filter(|e| e.id != begun).cloned().collect();
    let mut yard = Yard::fold(without);
    let faults: Vec<_> = yard.faults().map(|fault| fault.why.clone()).collect();
    assert_eq!(faults, [Why::NoSuchTreatment { treatment: begun }]);
    for entry in all.clone() {
        yard.add(entry);
    }
    assert_eq!(yard, Yard::fold(all));
    assert_eq!(yard.faults().count(), 0);
}

#[test]
fn medicines_are_of_the_yard_and_health_is_taken_back_by_itself() {
    let mut journal = Journal::with_bars(1);
    journal.say(strips(date(2026, 9, 12)));
    journal.about = Subject::YARD;
    let bought = Purchase {
        on: date(2026, 9, 10),
        product: "Acme Strips".into(),
        active: None,
        batch: Some("B-17".into()),
        quantity: None,
        withholding: None,
        supplier: None,
        expires: None,
        proof: None,
        more: Map::new(),
    };
    assert_eq!(
        tried(&journal, Known::MedicineBought(bought.clone())),
        Ok(())
    );
    journal.say(Known::MedicineBought(bought));
    journal.say(Known::Note {
        text: "rain".into(),
    });
    let yard = journal.fold();
    assert_eq!(yard.purchases().len(), 1);
    for undo in undo_last(&yard, Scope::Health, 1).expect("the purchase") {
        journal.say(undo);
    }
    let yard = journal.fold();
    assert_eq!((yard.purchases().len(), yard.notes().len()), (0, 1));
    for undo in undo_last(&yard, Scope::Health, 1).expect("the treatment") {
        journal.say(undo);
    }
    let yard = journal.fold();
    assert_eq!(yard.hive(IRONBARK).expect("started").treatments.len(), 0);
    assert!(undo_last(&yard, Scope::Health, 1).is_err());
}

#[test]
fn fields_that_a_newer_program_adds_are_carried_on() {
    let mut journal = Journal::with_bars(1);
    journal.later(SignedDuration::from_hours(1));
    journal.say(strips(date(2026, 9, 12)));
    let entry = journal.entries.last().expect("just said");
    let mut value = serde_json::to_value(entry).expect("JSON");
    value["what"]["vet_visit"] = json!({"n": 0.1, "of": [1, null, "x"]});
    let read = Entry::parse(&value.to_string()).expect("it is read");
    assert!(matches!(read.what.known(), Some(Known::TreatmentBegun(_))));
    assert_eq!(serde_json::to_value(&read).expect("JSON"), value);
}
