//! Lots as a keeper meets them: Wattle Bend's honey from the bars to the jars and back.

use comb::Mass;
use honey::limits::Kind;
use honey::lots::event::{
    CombIn, Drawn, FermentationSeen, Gone, JarsBack, JarsFilled, JarsOut, Loss, LotEvent,
    LotFiltered, LotLost, LotMade, LotReceived, LotReweighed, LotsBlended, Method, MoistureRead,
    Money, PailFilled,
};
use honey::lots::{Cause, Caution, House, Until, Weight, Withholding};
use honey::{HoneyError, Moisture, Reading, Region};
use jiff::civil::{Date, date};

const TAKEN: Date = date(2026, 2, 7);
const CRUSHED: Date = date(2026, 2, 8);
const FILLED: Date = date(2026, 2, 20);

fn comb(comb: &str, hive: &str, bar: &str, kg: Option<f64>) -> CombIn {
    CombIn {
        comb: comb.into(),
        hive: hive.to_owned(),
        bar: bar.to_owned(),
        visit: format!("{hive} of {TAKEN}"),
        taken_on: TAKEN,
        mass_kg: kg.map(Mass::kg),
    }
}

fn pail(pail: &str, combs: Vec<CombIn>, kg: Option<f64>) -> LotEvent {
    LotEvent::PailFilled(PailFilled {
        pail: pail.into(),
        on: TAKEN,
        combs,
        mass_kg: kg.map(Mass::kg),
    })
}

fn made(lot: &str, pails: &[&str], honey: f64, wax: Option<f64>) -> LotEvent {
    LotEvent::LotMade(LotMade {
        lot: lot.into(),
        on: CRUSHED,
        pails: pails.iter().map(|pail| (*pail).into()).collect(),
        method: Method::Drained,
        honey_kg: Mass::kg(honey),
        wax_kg: wax.map(Mass::kg),
        loss_kg: None,
        country: "Australia".to_owned(),
    })
}

fn read(lot: &str, percent: f64) -> LotEvent {
    LotEvent::MoistureRead(MoistureRead {
        lot: lot.into(),
        on: CRUSHED,
        reading: Reading::Water {
            moisture_pct: Moisture::percent(percent).expect("a possible moisture"),
        },
    })
}

fn blended(lot: &str, from: &[(&str, f64)]) -> LotEvent {
    LotEvent::LotsBlended(LotsBlended {
        lot: lot.into(),
        on: CRUSHED,
        from: from
            .iter()
            .map(|(lot, kg)| Drawn {
                lot: (*lot).into(),
                mass_kg: Mass::kg(*kg),
            })
            .collect(),
        loss_kg: Mass::ZERO,
    })
}

fn jars(fill: &str, lot: &str, count: u32, drawn: Option<f64>) -> LotEvent {
    LotEvent::JarsFilled(JarsFilled {
        fill: fill.into(),
        lot: lot.into(),
        on: FILLED,
        net_kg: Mass::grams(340.0),
        count,
        drawn_kg: drawn.map(Mass::kg),
        mark: format!("mark {lot}"),
        best_before: date(2028, 2, 8),
    })
}

fn out(fill: &str, count: u32, how: Gone) -> LotEvent {
    LotEvent::JarsOut(JarsOut {
        fill: fill.into(),
        on: FILLED,
        count,
        how,
        to: (how == Gone::Sold).then(|| "the Saturday stall".to_owned()),
        taken: (how == Gone::Sold).then(|| Money {
            minor_units: 1_200 * u64::from(count),
            currency: "AUD".to_owned(),
        }),
    })
}

/// Two hives, three pails, a blend of two lots, a lot of its own.
fn season() -> Vec<LotEvent> {
    vec![
        pail(
            "white",
            vec![
                comb("b14", "Banksia", "14", None),
                comb("b15", "Banksia", "15", None),
            ],
            Some(4.1),
        ),
        pail(
            "amber",
            vec![
                comb("i3", "Ironbark", "3", Some(1.6)),
                comb("i4", "Ironbark", "4", Some(1.9)),
            ],
            None,
        ),
        pail("late", vec![comb("g9", "Grevillea", "9", None)], None),
        made("26-1", &["white"], 3.3, Some(0.15)),
        made("26-2", &["amber"], 2.8, None),
        made("26-3", &["late"], 1.2, None),
        read("26-1", 17.0),
        read("26-2", 19.0),
        blended("26-4", &[("26-1", 2.0), ("26-2", 2.0)]),
        jars("a", "26-1", 3, None),
        jars("b", "26-4", 10, Some(3.45)),
        jars("c", "26-3", 3, None),
        out("b", 4, Gone::Sold),
        out("c", 1, Gone::Given),
    ]
}

fn house(events: &[LotEvent]) -> House {
    let (house, refused) = House::fold(events);
    assert!(refused.is_empty(), "{refused:?}");
    assert!(house.balance().even, "{:?}", house.balance());
    house
}

/// The event is refused with these words, and nothing of it is recorded.
fn refused(house: &House, event: &LotEvent, words: &str) -> HoneyError {
    let mut after = house.clone();
    let error = after.apply(event).expect_err("must be refused");
    assert!(error.to_string().contains(words), "{error}");
    assert_eq!(&after, house, "a refused event left traces: {error}");
    error
}

fn names<'a, T>(things: &[&'a T], name: fn(&'a T) -> &'a str) -> Vec<&'a str> {
    things.iter().map(|thing| name(thing)).collect()
}

#[test]
fn bar_14_of_banksia_is_found_in_its_jars() {
    let house = house(&season());
    let found = house.jars_with_bar("Banksia", "14").unwrap();
    assert_eq!(names(&found.fills, |fill| fill.fill.as_str()), ["a", "b"]);
    assert_eq!(names(&found.lots, |lot| lot.lot.as_str()), ["26-1", "26-4"]);
    assert_eq!((found.in_stock(), found.with_others()), (9, 4));
    let same = house.jars_with_comb(&"b14".into()).unwrap();
    assert_eq!(same, found);
    let late = house.jars_with_hive("Grevillea").unwrap();
    assert_eq!(names(&late.fills, |fill| fill.fill.as_str()), ["c"]);
    assert!(house.jars_with_bar("Banksia", "99").is_err());
    assert!(house.jars_with_bar("Saltbush", "14").is_err());
}

#[test]
fn a_jar_tells_its_combs() {
    let house = house(&season());
    let found = house.combs_with_mark("mark 26-4").unwrap();
    let combs = names(&found.combs, |comb| comb.taken.comb.as_str());
    assert_eq!(combs, ["b14", "b15", "i3", "i4"]);
    let found = house.combs_in_filling(&"c".into()).unwrap();
    assert_eq!(names(&found.combs, |comb| comb.taken.bar.as_str()), ["9"]);
    assert!(house.combs_with_mark("no such mark").is_err());
}

#[test]
fn the_balance_closes_by_hand() {
    // by hand: in 4.1 + 3.5 + 1.2 = 8.8. Jars 3 x 0.34 + 3.45 + 3 x 0.34 = 5.49; lots 0.28 + 0.8
    // + 0.55 + 0.18 = 1.81; wax 0.15; not apart 0.65 + 0.7; together 8.8
    let balance = house(&season()).balance();
    let figures = [
        (balance.came_in_kg, 8.8),
        (balance.in_lots_kg, 0.28 + 0.8 + 0.18 + 0.55),
        (balance.in_stock_kg + balance.jars_gone_kg, 5.49),
        (balance.wax_kg, 0.15),
        (balance.not_weighed_apart_kg, 0.65 + 0.7),
        (balance.lost_kg, 0.0),
    ];
    for (got, want) in figures {
        assert!(
            (got.to_kg() - want).abs() < 1e-9,
            "{got:?} {want}: {balance:?}"
        );
    }
}

#[test]
fn a_blend_has_the_moisture_and_the_countries_of_its_parts() {
    let mut events = season();
    events.push(LotEvent::LotReceived(LotReceived {
        lot: "bought".into(),
        on: CRUSHED,
        from: "the keeper over the hill".to_owned(),
        their_lot: "77".to_owned(),
        mass_kg: Mass::kg(1.5),
        country: "New Zealand".to_owned(),
    }));
    events.push(blended("26-5", &[("26-4", 0.5), ("bought", 1.5)]));
    let house = house(&events);
    let blend = house.lot(&"26-4".into()).unwrap();
    // by hand: equal parts of 17.0 and 19.0
    assert!((blend.moisture_pct.unwrap().to_percent() - 18.0).abs() < 1e-9);
    let mixed = house.lot(&"26-5".into()).unwrap();
    assert_eq!(mixed.moisture_pct, None, "one part was never read");
    let shares: Vec<(String, f64)> = mixed
        .countries()
        .into_iter()
        .map(|(country, share)| (country, share.get()))
        .collect();
    assert_eq!(shares[0].0, "New Zealand");
    assert!((shares[0].1 - 0.75).abs() < 1e-12 && (shares[1].1 - 0.25).abs() < 1e-12);
    let found = house.combs_in_lot(&"26-5".into()).unwrap();
    assert_eq!(names(&found.received, |lot| lot.lot.as_str()), ["bought"]);
    assert_eq!(found.combs.len(), 4);
    let recalled = house.jars_with_lot(&"bought".into()).unwrap();
    assert_eq!(
        names(&recalled.lots, |lot| lot.lot.as_str()),
        ["bought", "26-5"]
    );
}

#[test]
fn stock_is_told_by_size() {
    let mut events = season();
    events.push(LotEvent::JarsBack(JarsBack {
        fill: "b".into(),
        on: FILLED,
        count: 1,
    }));
    events.push(out("b", 1, Gone::Broken));
    let house = house(&events);
    let stock = house.stock();
    assert_eq!(stock.len(), 1);
    let line = &stock[0];
    // 16 filled; 4 sold less 1 back, 1 given, 1 broken
    assert_eq!((line.filled, line.in_stock), (16, 11));
    assert_eq!(line.gone[&Gone::Sold], 3);
    assert_eq!(line.gone[&Gone::Broken], 1);
    assert_eq!(line.taken["AUD"], 4_800);
    assert_eq!(house.filling(&"b".into()).unwrap().handed_to[0].1, 4);
}

#[test]
fn what_cannot_be_is_refused_and_leaves_no_trace() {
    let house = house(&season());
    // 26-3 holds 0.18 kg
    refused(
        &house,
        &jars("d", "26-3", 1, None),
        "holds 0.180 kg, 0.340 kg",
    );
    refused(&house, &jars("d", "26-3", 0, None), "more than 0");
    refused(&house, &jars("d", "26-2", 2, Some(0.6)), "need 0.680 kg");
    refused(&house, &jars("a", "26-2", 1, None), "exists already");
    refused(&house, &jars("d", "26-9", 1, None), "no lot 26-9");
    refused(&house, &out("b", 7, Gone::Sold), "6 jars in stock, 7");
    refused(&house, &out("zz", 1, Gone::Sold), "no filling zz");
    refused(
        &house,
        &made("26-9", &["white"], 1.0, None),
        "emptied into lot 26-1",
    );
    refused(&house, &made("26-9", &[], 1.0, None), "made of nothing");
    refused(
        &house,
        &made("26-1", &["late"], 1.0, None),
        "exists already",
    );
    refused(
        &house,
        &blended("26-9", &[("26-2", 0.5), ("26-2", 0.5)]),
        "holds 0.800 kg, 1.000 kg",
    );
    refused(&house, &blended("26-9", &[("26-2", -0.5)]), "weigh again");
    refused(
        &house,
        &blended("26-9", &[("26-2", f64::NAN)]),
        "weigh again",
    );
    refused(&house, &read("26-1", 5.0), "read again");
    let again = pail("new", vec![comb("b14", "Banksia", "14", None)], None);
    refused(&house, &again, "in pail white already");
    let twice = vec![
        comb("t1", "Tea-tree", "1", None),
        comb("t1", "Tea-tree", "1", None),
    ];
    refused(&house, &pail("new", twice, None), "one pail");
    refused(&house, &pail("new", vec![], None), "made of nothing");
    let back = LotEvent::JarsBack(JarsBack {
        fill: "b".into(),
        on: FILLED,
        count: 5,
    });
    refused(&house, &back, "4 jars with others, 5");
    let early = LotEvent::LotLost(LotLost {
        lot: "26-1".into(),
        on: TAKEN,
        mass_kg: Mass::kg(0.1),
        why: Loss::Spilt,
    });
    refused(&house, &early, "correct one of the two");
}

#[test]
fn more_honey_than_comb_is_refused() {
    let mut house = House::default();
    let combs = vec![comb("b1", "Banksia", "1", None)];
    house.apply(&pail("p", combs, Some(2.0))).unwrap();
    refused(
        &house,
        &made("x", &["p"], 1.9, Some(0.2)),
        "2.000 kg of comb went in and 2.100 kg",
    );
    house.apply(&made("x", &["p"], 1.9, Some(0.1))).unwrap();
    assert!(house.balance().even);
}

#[test]
fn a_lot_is_never_made_of_itself() {
    let house = house(&season());
    let own = refused(&house, &blended("26-4", &[("26-4", 0.1)]), "made of itself");
    assert!(matches!(own, HoneyError::LotLoop { .. }));
    // 26-4 came from 26-1: 26-1 cannot be made of 26-4
    let ring = refused(
        &house,
        &blended("26-1", &[("26-4", 0.1)]),
        "26-1 from 26-4 from 26-1",
    );
    assert!(matches!(ring, HoneyError::LotLoop { .. }));
    // a name that is merely taken is told as such
    refused(&house, &blended("26-3", &[("26-4", 0.1)]), "exists already");
}

#[test]
fn two_blends_that_wait_for_each_other_are_told_as_a_loop() {
    let mut events = season();
    events.push(blended("x", &[("y", 0.1)]));
    events.push(blended("y", &[("x", 0.1)]));
    events.push(blended("z", &[("nowhere", 0.1)]));
    let (house, refused) = House::fold(&events);
    let told: Vec<String> = refused
        .iter()
        .map(|refusal| refusal.why.to_string())
        .collect();
    assert!(told[0].contains("x from y from x"), "{told:?}");
    assert!(told[1].contains("y from x from y"), "{told:?}");
    assert!(told[2].contains("no lot nowhere"), "{told:?}");
    assert_eq!(
        house,
        House::fold(&season()).0,
        "nothing of them is recorded"
    );
}

#[test]
fn losses_filters_and_weighings_are_entries() {
    let mut events = season();
    events.push(LotEvent::LotFiltered(LotFiltered {
        lot: "26-2".into(),
        on: CRUSHED,
        mesh_um: 400,
        loss_kg: Mass::kg(0.05),
    }));
    events.push(LotEvent::LotLost(LotLost {
        lot: "26-2".into(),
        on: CRUSHED,
        mass_kg: Mass::kg(0.02),
        why: Loss::Sample,
    }));
    events.push(LotEvent::LotReweighed(LotReweighed {
        lot: "26-2".into(),
        on: FILLED,
        mass_kg: Mass::kg(0.75),
    }));
    events.push(LotEvent::LotReweighed(LotReweighed {
        lot: "26-1".into(),
        on: FILLED,
        mass_kg: Mass::kg(0.1),
    }));
    let house = house(&events);
    let lot = house.lot(&"26-2".into()).unwrap();
    assert_eq!(lot.filters[0].mesh_um, 400);
    assert_eq!(lot.losses().count(), 2);
    assert!((lot.mass().to_kg() - 0.75).abs() < 1e-12);
    let balance = house.balance();
    assert!(
        (balance.found_kg.to_kg() - 0.02).abs() < 1e-12,
        "{balance:?}"
    );
    assert!(
        (balance.missing_kg.to_kg() - 0.18).abs() < 1e-12,
        "{balance:?}"
    );
    assert!(
        (balance.lost_kg.to_kg() - 0.07).abs() < 1e-12,
        "{balance:?}"
    );
}

#[test]
fn drying_takes_water_and_leaves_the_rest() {
    let mut house = house(&season());
    let dry = |kg| {
        LotEvent::LotLost(LotLost {
            lot: "26-2".into(),
            on: FILLED,
            mass_kg: Mass::kg(kg),
            why: Loss::Water,
        })
    };
    // by hand: 0.8 kg at 19.0 holds 0.152 kg water; less 0.01 that is 0.142 of 0.79 = 17.975 %
    house.apply(&dry(0.01)).unwrap();
    let lot = house.lot(&"26-2".into()).unwrap();
    let percent = lot.moisture_pct.unwrap().to_percent();
    assert!((percent - 14.2 / 0.79).abs() < 1e-9, "{percent}");
    refused(&house, &dry(0.15), "no honey reads so");
}

#[test]
fn withheld_honey_is_found_before_and_after() {
    let strip = |until| Withholding {
        hive: "Banksia".to_owned(),
        from: date(2026, 1, 10),
        until,
        cause: Cause::Treatment,
        what: "strips, removed late".to_owned(),
    };
    let through = |day| Until::Through(day);
    let table = [
        (through(date(2026, 2, 6)), None),
        (through(TAKEN), Some(Weight::Block)),
        (Until::Open, Some(Weight::Block)),
        (Until::NotKnown, Some(Weight::Warn)),
    ];
    let mut events = season();
    events.retain(|event| !matches!(event, LotEvent::JarsFilled(_) | LotEvent::JarsOut(_)));
    let house = house(&events);
    for (until, want) in table {
        let record = [strip(until)];
        let taking = honey::lots::withholding::against_taking("Banksia", TAKEN, &record);
        assert_eq!(taking.first().map(|found| found.0), want, "{until:?}");
        assert!(
            honey::lots::withholding::against_taking("Ironbark", TAKEN, &record).is_empty(),
            "another hive is free"
        );
        let held = house.withheld_in(&"26-4".into(), &record).unwrap();
        assert_eq!(held.len(), if want.is_some() { 2 } else { 0 }, "{until:?}");
        let cautions = house
            .cautions(&"26-4".into(), Region::Eu, Kind::General, &record)
            .unwrap();
        let told = cautions
            .iter()
            .find(|c| matches!(c, Caution::Withheld { .. }));
        assert_eq!(told.map(Caution::weight), want, "{cautions:?}");
    }
    let before = [Withholding {
        from: date(2026, 2, 8),
        ..strip(Until::Open)
    }];
    assert!(
        house
            .withheld_in(&"26-4".into(), &before)
            .unwrap()
            .is_empty()
    );
}

#[test]
fn law_and_keeping_are_cautioned_apart() {
    let mut events = vec![
        pail("p", vec![comb("s1", "Stringybark", "1", None)], None),
        made("wet", &["p"], 5.0, None),
    ];
    let ask = |events: &[LotEvent], region, kind| {
        house(events)
            .cautions(&"wet".into(), region, kind, &[])
            .unwrap()
    };
    let unread = ask(&events, Region::Eu, Kind::General);
    assert!(matches!(unread[..], [Caution::MoistureNotRead]));
    events.push(read("wet", 20.4));
    let eu = ask(&events, Region::Eu, Kind::General);
    assert!(
        matches!(
            eu[..],
            [Caution::OverLimit { .. }, Caution::MayNotKeep { .. }]
        ),
        "{eu:?}"
    );
    assert_eq!(eu[0].weight(), Weight::Block);
    // lawful in Australia, and still it will not keep
    let au = ask(&events, Region::Australia, Kind::General);
    assert!(matches!(au[..], [Caution::MayNotKeep { .. }]), "{au:?}");
    // a US grade is voluntary: a warning
    let us = ask(&events, Region::Us, Kind::UsGradeC);
    assert!(
        us.iter().all(|caution| caution.weight() == Weight::Warn),
        "{us:?}"
    );
    events.push(LotEvent::FermentationSeen(FermentationSeen {
        lot: "wet".into(),
        on: FILLED,
    }));
    events.push(LotEvent::LotsBlended(LotsBlended {
        lot: "hidden".into(),
        on: FILLED,
        from: vec![Drawn {
            lot: "wet".into(),
            mass_kg: Mass::kg(1.0),
        }],
        loss_kg: Mass::ZERO,
    }));
    let hidden = house(&events)
        .cautions(&"hidden".into(), Region::Eu, Kind::General, &[])
        .unwrap();
    assert!(
        matches!(hidden[0], Caution::Fermenting { since } if since == FILLED),
        "blending does not cure: {hidden:?}"
    );
}

#[test]
fn events_keep_their_form_in_a_journal() {
    let events = season();
    let text = serde_json::to_string(&events).unwrap();
    let back: Vec<LotEvent> = serde_json::from_str(&text).unwrap();
    assert_eq!(back, events);
    let jar = serde_json::to_value(jars("a", "26-1", 3, None)).unwrap();
    let expected = serde_json::json!({
        "event": "jars_filled", "fill": "a", "lot": "26-1", "on": "2026-02-20",
        "net_kg": 0.34, "count": 3, "mark": "mark 26-1", "best_before": "2028-02-08",
    });
    assert_eq!(jar, expected);
    let typo = r#"{"event":"lot_reweighed","lot":"a","on":"2026-02-20","mass":1.0}"#;
    assert!(serde_json::from_str::<LotEvent>(typo).is_err());
}
