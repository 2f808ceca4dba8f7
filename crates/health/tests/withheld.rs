//! Honey withheld, comb by comb and day by day.
//!
//! The periods are those that a label may name; that unknown is never "none", and that the day of the
//! end is not counted among the days after, is our own rule, on the safe side.

use comb::{Body, Length};
use health::due::{DueKind, due};
use health::mind;
use health::withheld::{
    Cause, Until, Weight, binding, from_others, gravest, of_yard, withholdings,
};
use hive::entry::{Hanging, Harvest, Piece};
use hive::pen::{Stamp, Subject};
use hive::sign::{Certainty, Clearing, Sign};
use hive::treatment::{LabelPeriod, Treatment, TreatmentEnd};
use hive::{ApiaryId, BarId, DeviceId, Entry, EntryId, Hive, HiveId, Known, Pen, Yard};
use jiff::civil::{Date, date};
use jiff::{Timestamp, ToSpan};
use proptest::prelude::*;
use serde_json::Map;
use uuid::Uuid;

const IRONBARK: HiveId = HiveId(Uuid::from_u128(1));
const BANKSIA: HiveId = HiveId(Uuid::from_u128(2));
const SITE: ApiaryId = ApiaryId(Uuid::from_u128(3));

fn bar(number: u32) -> BarId {
    BarId(Uuid::from_u128(100 + u128::from(number)))
}

/// Writes a journal day by day, at noon in UTC.
struct Scribe {
    pen: Pen,
    next: u128,
    entries: Vec<Entry>,
    on: Date,
}

impl Scribe {
    /// Ironbark with three combs and Banksia beside it, begun on 1 September 2026.
    fn new() -> Self {
        let mut scribe = Self {
            pen: Pen::new(DeviceId(Uuid::from_u128(9)), 1, "keeper", "UTC"),
            next: 1000,
            entries: Vec::new(),
            on: date(2026, 9, 1),
        };
        scribe.say(
            None,
            Known::Apiary {
                apiary: SITE,
                name: "Wattle Bend".into(),
                place: None,
                climate: None,
            },
        );
        for (hive, name) in [(IRONBARK, "Ironbark"), (BANKSIA, "Banksia")] {
            scribe.say(
                Some(hive),
                Known::HiveStarted {
                    name: name.into(),
                    apiary: Some(SITE),
                    body: Body::default(),
                    numbered: true,
                },
            );
        }
        for number in 1..=3 {
            scribe.say(
                Some(IRONBARK),
                Known::BarAdded {
                    bar: bar(number),
                    number,
                    width_mm: Length::mm(35.0),
                    hanging: Hanging::Comb,
                    drawn: None,
                },
            );
        }
        let row = (1..=3).map(|n| Piece::Bar { bar: bar(n) }).collect();
        scribe.say(Some(IRONBARK), Known::Arranged { row });
        scribe
    }

    fn say(&mut self, hive: Option<HiveId>, what: Known) -> EntryId {
        self.next += 1;
        let id = EntryId(Uuid::from_u128(self.next));
        let at: Timestamp = format!("{}T12:00:00Z", self.on)
            .parse()
            .expect("an instant");
        let about = Subject { hive, visit: None };
        let entry = self.pen.write(Stamp::now(id, at), about, what.into());
        self.entries.push(entry);
        id
    }

    fn treat(&mut self, on: Date, label: Option<LabelPeriod>) -> EntryId {
        self.on = on;
        let given = Treatment {
            withholding: label,
            planned_removal: on.checked_add(40.days()).ok(),
            ..Treatment::new(on, "Acme Strips")
        };
        self.say(Some(IRONBARK), Known::TreatmentBegun(given))
    }

    fn end(&mut self, treatment: EntryId, on: Date) {
        self.on = on;
        let end = TreatmentEnd {
            treatment,
            on,
            left: None,
            more: Map::new(),
        };
        self.say(Some(IRONBARK), Known::TreatmentEnded(end));
    }

    fn sign(&mut self, on: Date, condition: &str, notifiable: Option<bool>) -> EntryId {
        self.on = on;
        let sign = Sign {
            notifiable,
            ..Sign::new(on, condition, Certainty::Suspected)
        };
        self.say(Some(IRONBARK), Known::SignSeen(sign))
    }

    fn yard(&self) -> Yard {
        let yard = Yard::fold(self.entries.clone());
        let faults: Vec<_> = yard.faults().collect();
        assert!(faults.is_empty(), "{faults:?}");
        yard
    }

    fn ironbark(&self) -> Hive {
        self.yard().hive(IRONBARK).expect("begun").clone()
    }
}

fn weight(hive: &Hive, day: Date) -> Option<Weight> {
    binding(&withholdings(hive), day).first().map(|(w, _)| *w)
}

const OCTOBER_1: Date = Date::constant(2026, 10, 1);
const NOVEMBER_12: Date = Date::constant(2026, 11, 12);

#[test]
fn days_after_the_end_are_whole_days_and_the_day_of_the_end_is_not_one_of_them() {
    let mut scribe = Scribe::new();
    let strips = scribe.treat(OCTOBER_1, Some(LabelPeriod::Days { days: 14 }));
    assert_eq!(weight(&scribe.ironbark(), date(2026, 9, 30)), None);
    assert_eq!(weight(&scribe.ironbark(), OCTOBER_1), Some(Weight::Blocks));
    // still in, whatever the plan was
    let late = date(2027, 2, 1);
    assert_eq!(weight(&scribe.ironbark(), late), Some(Weight::Blocks));
    scribe.end(strips, NOVEMBER_12);
    let hive = scribe.ironbark();
    // 12 November and fourteen whole days: the 26th is the last
    assert_eq!(weight(&hive, date(2026, 11, 26)), Some(Weight::Blocks));
    assert_eq!(weight(&hive, date(2026, 11, 27)), None);
    let free = due(&hive, date(2026, 11, 20));
    let free = free.iter().find(|due| due.kind == DueKind::HoneyFree);
    assert_eq!(free.map(|due| due.day), Some(date(2026, 11, 27)));
}

#[test]
fn a_label_that_says_nil_withholds_nothing_and_one_not_copied_in_is_never_taken_for_it() {
    let mut scribe = Scribe::new();
    scribe.treat(OCTOBER_1, Some(LabelPeriod::Nil));
    assert_eq!(weight(&scribe.ironbark(), OCTOBER_1), None);
    let mut scribe = Scribe::new();
    let unknown = scribe.treat(OCTOBER_1, None);
    assert_eq!(weight(&scribe.ironbark(), OCTOBER_1), Some(Weight::Warns));
    scribe.end(unknown, NOVEMBER_12);
    let hive = scribe.ironbark();
    assert_eq!(weight(&hive, date(2028, 1, 1)), Some(Weight::Warns));
}

#[test]
fn through_a_day_means_that_day_as_well() {
    let mut scribe = Scribe::new();
    let day = date(2026, 12, 24);
    scribe.treat(OCTOBER_1, Some(LabelPeriod::Through { day }));
    let hive = scribe.ironbark();
    assert_eq!(weight(&hive, day), Some(Weight::Blocks));
    assert_eq!(weight(&hive, date(2026, 12, 25)), None);
}

#[test]
fn honey_that_hung_there_is_lost_and_a_comb_begun_since_is_free() {
    let mut scribe = Scribe::new();
    let lost = LabelPeriod::HoneyOnIsLost { days: 14 };
    let strips = scribe.treat(OCTOBER_1, Some(lost));
    scribe.end(strips, NOVEMBER_12);
    // the comb on bar 2 is cut a month later, and another is built
    scribe.on = date(2026, 12, 20);
    scribe.say(
        Some(IRONBARK),
        Known::CombTaken {
            bar: bar(2),
            how: Harvest::Cut,
        },
    );
    let hive = scribe.ironbark();
    let withheld = withholdings(&hive);
    let on = |number, day| gravest(&withheld, &hive.bars[&bar(number)], day).map(|(w, _)| w);
    let autumn = date(2027, 3, 1);
    assert_eq!(on(1, autumn), Some(Weight::Blocks));
    assert_eq!(on(2, autumn), None);
    // of the hive as a whole it warns: which comb it is decides
    assert_eq!(weight(&hive, autumn), Some(Weight::Warns));
    // within the days after, everything is withheld, a new comb too
    assert_eq!(on(2, date(2026, 11, 26)), Some(Weight::Blocks));
}

#[test]
fn a_suspicion_of_foulbrood_stops_everything_until_it_is_cleared() {
    let mut scribe = Scribe::new();
    let sign = scribe.sign(OCTOBER_1, "AFB", None);
    let hive = scribe.ironbark();
    let held = withholdings(&hive);
    assert_eq!(held[0].cause, Cause::Disease);
    assert_eq!(held[0].until, Until::Open);
    assert!(
        held[0].what.contains("move no combs, report"),
        "{}",
        held[0].what
    );
    assert_eq!(weight(&hive, NOVEMBER_12), Some(Weight::Blocks));
    // the next hive on the site is warned, since nothing may leave the site
    let yard = scribe.yard();
    let banksia = yard.hive(BANKSIA).expect("begun");
    let passed = from_others(banksia, yard.hives());
    assert_eq!(binding(&passed, NOVEMBER_12)[0].0, Weight::Warns);
    scribe.on = date(2026, 10, 9);
    scribe.say(
        Some(IRONBARK),
        Known::SignCleared(Clearing {
            sign,
            on: date(2026, 10, 9),
            why: "the laboratory found none".into(),
            more: Map::new(),
        }),
    );
    let hive = scribe.ironbark();
    assert_eq!(weight(&hive, date(2026, 10, 8)), Some(Weight::Blocks));
    assert_eq!(weight(&hive, date(2026, 10, 9)), None);
    let yard = scribe.yard();
    assert!(of_yard(yard.hives())[&BANKSIA].is_empty());
}

#[test]
fn what_is_everywhere_or_harmless_withholds_nothing_and_the_unknown_asks() {
    for (condition, notifiable, wanted) in [
        ("chalkbrood", None, None),
        ("varroa", Some(true), None),
        ("small hive beetle", None, Some(Weight::Blocks)),
        // established where the keeper is, as they found out
        ("small hive beetle", Some(false), None),
        ("brood of a strange colour", None, Some(Weight::Warns)),
        (
            "brood of a strange colour",
            Some(true),
            Some(Weight::Blocks),
        ),
        ("brood of a strange colour", Some(false), None),
    ] {
        let mut scribe = Scribe::new();
        scribe.sign(OCTOBER_1, condition, notifiable);
        let found = weight(&scribe.ironbark(), OCTOBER_1);
        assert_eq!(found, wanted, "{condition} {notifiable:?}");
    }
}

#[test]
fn combs_that_go_to_another_hive_take_the_withholding_along() {
    let mut scribe = Scribe::new();
    scribe.treat(OCTOBER_1, Some(LabelPeriod::Days { days: 14 }));
    scribe.on = date(2026, 10, 20);
    scribe.say(
        Some(IRONBARK),
        Known::SplitTo {
            bars: vec![bar(3)],
            to: BANKSIA,
        },
    );
    let yard = scribe.yard();
    let banksia = yard.hive(BANKSIA).expect("begun");
    let passed = from_others(banksia, yard.hives());
    assert!(binding(&passed, date(2026, 10, 19)).is_empty());
    assert_eq!(binding(&passed, date(2026, 10, 21))[0].0, Weight::Blocks);
}

#[test]
fn the_same_group_twice_running_is_warned_of_and_another_is_not() {
    let mut scribe = Scribe::new();
    let given = |product: &str, active: Option<&str>| Treatment {
        active: active.map(Into::into),
        ..Treatment::new(OCTOBER_1, product)
    };
    let first = given("Acme Strips", Some("tau-fluvalinate"));
    scribe.on = OCTOBER_1;
    scribe.say(Some(IRONBARK), Known::TreatmentBegun(first));
    let before = scribe.ironbark().treatments;
    let warned = |next: &Treatment| mind::same_group_again(next, &before).is_some();
    assert!(warned(&given("Other Strips", Some("flumethrin"))));
    assert!(!warned(&given("Acme Gel", Some("thymol"))));
    assert!(!warned(&given("powdered sugar", None)));
}

#[test]
fn every_acid_comes_with_the_caution_on_acids_and_every_treatment_with_the_labels_word() {
    let mind_of = |active: &str| {
        mind::of_treatment(
            &Treatment {
                active: Some(active.into()),
                ..Treatment::new(OCTOBER_1, "Acme")
            },
            &[],
        )
    };
    for acid in ["oxalic acid", "formic acid", "lactic acid"] {
        assert!(mind_of(acid).contains(&mind::ACIDS.to_owned()), "{acid}");
    }
    assert!(!mind_of("thymol").contains(&mind::ACIDS.to_owned()));
    for any in ["thymol", "oxalic acid", "something"] {
        assert_eq!(
            mind_of(any).last().map(String::as_str),
            Some(mind::LABEL_DECIDES)
        );
    }
}

#[test]
fn strips_that_are_in_fall_due_and_a_sign_that_needs_no_report_does_not() {
    let mut scribe = Scribe::new();
    let strips = scribe.treat(OCTOBER_1, Some(LabelPeriod::Nil));
    scribe.sign(OCTOBER_1, "chalkbrood", None);
    let hive = scribe.ironbark();
    let due_now = due(&hive, OCTOBER_1);
    let kinds: Vec<DueKind> = due_now.iter().map(|due| due.kind).collect();
    assert_eq!(kinds, [DueKind::Removal]);
    assert_eq!(due_now[0].day, date(2026, 11, 10));
    scribe.end(strips, NOVEMBER_12);
    assert!(due(&scribe.ironbark(), NOVEMBER_12).is_empty());
}

fn label() -> impl Strategy<Value = Option<LabelPeriod>> {
    prop_oneof![
        Just(None),
        Just(Some(LabelPeriod::Nil)),
        (0..60u16).prop_map(|days| Some(LabelPeriod::Days { days })),
        (0..60u16).prop_map(|days| Some(LabelPeriod::HoneyOnIsLost { days })),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_but_nil_lets_honey_go_while_it_is_on(label in label(), on in 0..80i32, lasts in 0..60i32) {
        let mut scribe = Scribe::new();
        let begun = OCTOBER_1;
        let strips = scribe.treat(begun, label);
        let ended = begun.checked_add(lasts.days()).expect("a day");
        scribe.end(strips, ended);
        let hive = scribe.ironbark();
        let day = begun.checked_add(on.days()).expect("a day");
        let told = weight(&hive, day);
        if label == Some(LabelPeriod::Nil) {
            prop_assert_eq!(told, None);
        } else if day <= ended {
            prop_assert!(told.is_some(), "{:?} on {}", label, day);
        }
        // a comb is never freer than its hive says, but for one begun since
        let held = withholdings(&hive);
        for bar in hive.bars.values() {
            let comb = gravest(&held, bar, day).map(|(w, _)| w);
            prop_assert!(comb.is_some() == told.is_some());
        }
    }
}
