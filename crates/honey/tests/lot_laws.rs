//! Laws of the lot ledger over random histories.

use std::collections::BTreeSet;

use comb::Mass;
use honey::lots::event::{
    CombIn, Drawn, Gone, JarsBack, JarsFilled, JarsOut, Loss, LotEvent, LotFiltered, LotLost,
    LotMade, LotReceived, LotReweighed, LotsBlended, Method, MoistureRead, PailFilled,
};
use honey::lots::{CombId, House};
use honey::{Moisture, Reading};
use jiff::civil::{Date, date};
use proptest::prelude::*;

const DAY: Date = date(2026, 2, 7);

/// A step names things by small numbers, so that histories often hit what exists and sometimes
/// what does not.
#[derive(Debug, Clone)]
enum Step {
    Pail {
        combs: u8,
        grams: Option<u32>,
    },
    Make {
        pails: Vec<u8>,
        share: u8,
        wax: bool,
    },
    Receive {
        grams: u32,
    },
    Blend {
        from: Vec<(u8, u32)>,
        loss: u32,
    },
    Lose {
        lot: u8,
        grams: u32,
        water: bool,
    },
    Reweigh {
        lot: u8,
        grams: u32,
    },
    Read {
        lot: u8,
        tenths: u16,
    },
    Filter {
        lot: u8,
        grams: u32,
    },
    Fill {
        lot: u8,
        grams: u32,
        count: u8,
        over: u32,
    },
    Out {
        fill: u8,
        count: u8,
        sold: bool,
    },
    Back {
        fill: u8,
        count: u8,
    },
}

fn any_step() -> impl Strategy<Value = Step> {
    let lot = 0_u8..60;
    prop_oneof![
        4 => (1_u8..5, proptest::option::of(2_500_u32..9_000))
            .prop_map(|(combs, grams)| Step::Pail { combs, grams }),
        4 => (proptest::collection::vec(0_u8..60, 1..3), 20_u8..90, any::<bool>())
            .prop_map(|(pails, share, wax)| Step::Make { pails, share, wax }),
        1 => (100_u32..9_000).prop_map(|grams| Step::Receive { grams }),
        4 => (proptest::collection::vec((0_u8..60, 1_u32..400), 1..4), 0_u32..50)
            .prop_map(|(from, loss)| Step::Blend { from, loss }),
        1 => (lot.clone(), 1_u32..300, any::<bool>())
            .prop_map(|(lot, grams, water)| Step::Lose { lot, grams, water }),
        1 => (lot.clone(), 0_u32..5_000).prop_map(|(lot, grams)| Step::Reweigh { lot, grams }),
        2 => (lot.clone(), 140_u16..220).prop_map(|(lot, tenths)| Step::Read { lot, tenths }),
        1 => (lot.clone(), 0_u32..80).prop_map(|(lot, grams)| Step::Filter { lot, grams }),
        4 => (lot, 30_u32..400, 1_u8..6, 0_u32..9)
            .prop_map(|(lot, grams, count, over)| Step::Fill { lot, grams, count, over }),
        2 => (0_u8..60, 1_u8..5, any::<bool>())
            .prop_map(|(fill, count, sold)| Step::Out { fill, count, sold }),
        1 => (0_u8..60, 1_u8..4).prop_map(|(fill, count)| Step::Back { fill, count }),
    ]
}

fn grams(grams: u32) -> Mass {
    Mass::grams(f64::from(grams) + 0.3)
}

fn lot_name(at: usize) -> String {
    format!("lot {at}")
}

/// Turns a step into an event against the house as it stands.
#[expect(clippy::too_many_lines, reason = "one arm a kind of step")]
fn event(step: &Step, house: &House) -> LotEvent {
    let next_lot = lot_name(house.lots().len());
    // one more than there are, so that some steps name what is not there
    let one_of = |at: &u8, there: usize| usize::from(*at) % (there + 1);
    let lot = |at: u8| lot_name(one_of(&at, house.lots().len())).into();
    let fill = |at: &u8| format!("fill {}", one_of(at, house.fillings().len())).into();
    let waiting: Vec<_> = house
        .pails()
        .iter()
        .filter(|pail| pail.lot.is_none())
        .collect();
    let pail = |at: &u8| match waiting.get(one_of(at, waiting.len())) {
        Some(pail) => pail.pail.clone(),
        None => "pail 0".into(),
    };
    match step {
        Step::Pail { combs, grams: g } => {
            let at = house.pails().len();
            let combs = (0..*combs).map(|n| CombIn {
                comb: format!("comb {at}-{n}").into(),
                hive: ["Ironbark", "Banksia", "Tea-tree"][(at + usize::from(n)) % 3].to_owned(),
                bar: n.to_string(),
                visit: format!("visit {at}"),
                taken_on: DAY,
                mass_kg: None,
            });
            LotEvent::PailFilled(PailFilled {
                pail: format!("pail {at}").into(),
                on: DAY,
                combs: combs.collect(),
                mass_kg: g.map(grams),
            })
        }
        Step::Make { pails, share, wax } => LotEvent::LotMade(LotMade {
            lot: next_lot.into(),
            on: DAY,
            pails: pails.iter().map(pail).collect(),
            method: Method::Drained,
            honey_kg: Mass::kg(f64::from(*share) / 25.0),
            wax_kg: wax.then(|| Mass::kg(0.123_456)),
            loss_kg: None,
            country: "Australia".to_owned(),
        }),
        Step::Receive { grams: g } => LotEvent::LotReceived(LotReceived {
            lot: next_lot.into(),
            on: DAY,
            from: "next door".to_owned(),
            their_lot: "1".to_owned(),
            mass_kg: grams(*g),
            country: "New Zealand".to_owned(),
        }),
        Step::Blend { from, loss } => LotEvent::LotsBlended(LotsBlended {
            lot: next_lot.into(),
            on: DAY,
            from: from
                .iter()
                .map(|(at, g)| Drawn {
                    lot: lot(*at),
                    mass_kg: grams(*g),
                })
                .collect(),
            loss_kg: Mass::grams(f64::from(*loss)),
        }),
        Step::Lose {
            lot: at,
            grams: g,
            water,
        } => LotEvent::LotLost(LotLost {
            lot: lot(*at),
            on: DAY,
            mass_kg: grams(*g),
            why: if *water { Loss::Water } else { Loss::Spilt },
        }),
        Step::Reweigh { lot: at, grams: g } => LotEvent::LotReweighed(LotReweighed {
            lot: lot(*at),
            on: DAY,
            mass_kg: grams(*g),
        }),
        Step::Read { lot: at, tenths } => LotEvent::MoistureRead(MoistureRead {
            lot: lot(*at),
            on: DAY,
            reading: Reading::Water {
                moisture_pct: Moisture::percent(f64::from(*tenths) / 10.0).expect("possible"),
            },
        }),
        Step::Filter { lot: at, grams: g } => LotEvent::LotFiltered(LotFiltered {
            lot: lot(*at),
            on: DAY,
            mesh_um: 200,
            loss_kg: Mass::grams(f64::from(*g)),
        }),
        Step::Fill {
            lot: at,
            grams: g,
            count,
            over,
        } => LotEvent::JarsFilled(JarsFilled {
            fill: format!("fill {}", house.fillings().len()).into(),
            lot: lot(*at),
            on: DAY,
            net_kg: Mass::grams(f64::from(*g)),
            count: u32::from(*count),
            drawn_kg: Some(Mass::grams(f64::from(*g * u32::from(*count) + over))),
            mark: format!("mark {}", at % 5),
            best_before: date(2028, 2, 7),
        }),
        Step::Out {
            fill: at,
            count,
            sold,
        } => LotEvent::JarsOut(JarsOut {
            fill: fill(at),
            on: DAY,
            count: u32::from(*count),
            how: if *sold { Gone::Sold } else { Gone::Eaten },
            to: None,
            taken: None,
        }),
        Step::Back { fill: at, count } => LotEvent::JarsBack(JarsBack {
            fill: fill(at),
            on: DAY,
            count: u32::from(*count),
        }),
    }
}

/// The history, and the house after it, refused steps left out.
fn lived(steps: &[Step]) -> (House, Vec<LotEvent>) {
    let mut house = House::default();
    let mut kept = Vec::new();
    for step in steps {
        let event = event(step, &house);
        let before = house.clone();
        if house.apply(&event).is_ok() {
            kept.push(event);
        } else {
            assert_eq!(house, before, "a refused event left traces: {event:?}");
        }
    }
    (house, kept)
}

/// Which combs are in which filling, walked along the EVENTS, not along the house's own index.
fn by_hand(events: &[LotEvent]) -> BTreeSet<(CombId, String)> {
    let mut pails: Vec<(String, Vec<CombId>)> = Vec::new();
    let mut lots: Vec<(String, BTreeSet<CombId>)> = Vec::new();
    let mut found = BTreeSet::new();
    let lot_of = |lots: &[(String, BTreeSet<CombId>)], name: &str| {
        let found = lots.iter().find(|lot| lot.0 == name);
        found.map(|lot| lot.1.clone()).unwrap_or_default()
    };
    for event in events {
        match event {
            LotEvent::PailFilled(it) => {
                let combs = it.combs.iter().map(|comb| comb.comb.clone()).collect();
                pails.push((it.pail.to_string(), combs));
            }
            LotEvent::LotMade(it) => {
                let mine = |pail: &&(String, Vec<CombId>)| {
                    it.pails.iter().any(|name| name.as_str() == pail.0)
                };
                let combs = pails.iter().filter(mine).flat_map(|pail| pail.1.clone());
                lots.push((it.lot.to_string(), combs.collect()));
            }
            LotEvent::LotReceived(it) => lots.push((it.lot.to_string(), BTreeSet::new())),
            LotEvent::LotsBlended(it) => {
                let combs = it
                    .from
                    .iter()
                    .flat_map(|drawn| lot_of(&lots, drawn.lot.as_str()));
                let combs = combs.collect();
                lots.push((it.lot.to_string(), combs));
            }
            LotEvent::JarsFilled(it) => {
                let combs = lot_of(&lots, it.lot.as_str()).into_iter();
                found.extend(combs.map(|comb| (comb, it.fill.to_string())));
            }
            _ => {}
        }
    }
    found
}

/// Random histories are worth nothing if they are refused: most must reach jars, many by blends.
#[test]
fn the_histories_are_deep_enough_to_prove_something() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let histories = proptest::collection::vec(any_step(), 20..90);
    let (mut jars, mut by_blend, mut combs) = (0, 0, 0);
    for _ in 0..100 {
        let (house, events) = lived(&histories.new_tree(&mut runner).unwrap().current());
        let pairs = by_hand(&events);
        jars += usize::from(!pairs.is_empty());
        let through = |fill: &honey::lots::Filling| {
            let found = house.combs_in_filling(&fill.fill).unwrap();
            found.lots.len() > 2 && !found.combs.is_empty()
        };
        by_blend += usize::from(house.fillings().iter().any(through));
        combs += pairs.len();
    }
    println!("of 100 histories {jars} reach jars, {by_blend} through blends; {combs} pairs");
    assert!(
        jars > 50 && by_blend > 10 && combs > 500,
        "{jars} {by_blend} {combs}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn mass_is_conserved_to_the_milligram(steps in proptest::collection::vec(any_step(), 20..90)) {
        let mut house = House::default();
        for step in &steps {
            let _ = house.apply(&event(step, &house));
            prop_assert!(house.balance().even, "after {:?}: {:?}", step, house.balance());
        }
        let balance = house.balance();
        let came = (balance.came_in_kg + balance.found_kg).to_kg();
        let there = balance.in_lots_kg + balance.in_stock_kg + balance.jars_gone_kg
            + balance.wax_kg + balance.lost_kg + balance.not_weighed_apart_kg + balance.missing_kg;
        prop_assert!((came - there.to_kg()).abs() < 1e-6);
    }

    #[test]
    fn what_came_in_is_what_the_events_say(steps in proptest::collection::vec(any_step(), 20..90)) {
        // an account of its own: weighed pails that were worked, else what came of them, and
        // what was received
        let (house, events) = lived(&steps);
        let mut weighed = std::collections::BTreeMap::new();
        let mut came = 0.0;
        for event in &events {
            match event {
                LotEvent::PailFilled(it) => {
                    weighed.insert(it.pail.clone(), it.mass_kg);
                }
                LotEvent::LotMade(it) => {
                    let all: Option<Vec<Mass>> = it.pails.iter().map(|pail| weighed[pail]).collect();
                    let all = all.map(|pails| pails.into_iter().sum::<Mass>());
                    let out = it.honey_kg + it.wax_kg.unwrap_or_default();
                    came += all.unwrap_or(out).to_kg();
                }
                LotEvent::LotReceived(it) => came += it.mass_kg.to_kg(),
                _ => {}
            }
        }
        prop_assert!((house.balance().came_in_kg.to_kg() - came).abs() < 1e-5);
    }

    #[test]
    fn recall_is_the_inverse_of_trace(steps in proptest::collection::vec(any_step(), 20..90)) {
        let (house, events) = lived(&steps);
        let mut forward = BTreeSet::new();
        for comb in house.combs() {
            for fill in house.jars_with_comb(&comb.taken.comb).unwrap().fills {
                forward.insert((comb.taken.comb.clone(), fill.fill.to_string()));
            }
        }
        let mut backward = BTreeSet::new();
        for fill in house.fillings() {
            for comb in house.combs_in_filling(&fill.fill).unwrap().combs {
                backward.insert((comb.taken.comb.clone(), fill.fill.to_string()));
            }
        }
        prop_assert_eq!(&forward, &backward);
        prop_assert_eq!(&forward, &by_hand(&events));
    }

    #[test]
    fn a_mark_a_hive_and_a_bar_tell_the_union(
        steps in proptest::collection::vec(any_step(), 20..90),
    ) {
        let (house, _) = lived(&steps);
        for mark in house.fillings().iter().map(|fill| fill.mark.as_str()) {
            let all: BTreeSet<_> = house
                .fillings()
                .iter()
                .filter(|fill| fill.mark == mark)
                .flat_map(|fill| house.combs_in_filling(&fill.fill).unwrap().combs)
                .map(|comb| comb.taken.comb.clone())
                .collect();
            let found = house.combs_with_mark(mark).unwrap().combs;
            let told: BTreeSet<_> = found.iter().map(|comb| comb.taken.comb.clone()).collect();
            prop_assert_eq!(told.len(), found.len(), "each comb once");
            prop_assert_eq!(told, all);
        }
        for comb in house.combs() {
            let (hive, bar) = (&comb.taken.hive, &comb.taken.bar);
            let one = house.jars_with_comb(&comb.taken.comb).unwrap();
            let bar = house.jars_with_bar(hive, bar).unwrap();
            let hive = house.jars_with_hive(hive).unwrap();
            prop_assert!(one.fills.iter().all(|fill| bar.fills.contains(fill)));
            prop_assert!(bar.fills.iter().all(|fill| hive.fills.contains(fill)));
        }
    }

    #[test]
    fn a_blend_lies_between_its_sources(steps in proptest::collection::vec(any_step(), 20..90)) {
        let mut house = House::default();
        for step in &steps {
            let event = event(step, &house);
            let before = house.clone();
            let LotEvent::LotsBlended(it) = &event else {
                let _ = house.apply(&event);
                continue;
            };
            if house.apply(&event).is_err() {
                continue;
            }
            let lot = house.lot(&it.lot).unwrap();
            let sources: Option<Vec<f64>> = it.from.iter()
                .map(|drawn| before.lot(&drawn.lot).unwrap().moisture_pct.map(Moisture::to_percent))
                .collect();
            match (lot.moisture_pct, sources) {
                (Some(mixed), Some(sources)) => {
                    let least = sources.iter().copied().fold(100.0, f64::min);
                    let most = sources.iter().copied().fold(0.0, f64::max);
                    let mixed = mixed.to_percent();
                    prop_assert!(mixed > least - 1e-9 && mixed < most + 1e-9);
                }
                (mixed, sources) => prop_assert_eq!(mixed.is_none(), sources.is_none()),
            }
            let whole: f64 = lot.countries().iter().map(|(_, share)| share.get()).sum();
            prop_assert!((whole - 1.0).abs() < 1e-9, "{}", whole);
        }
    }

    #[test]
    fn a_journal_read_back_gives_the_same_house(
        steps in proptest::collection::vec(any_step(), 1..40),
    ) {
        let (house, events) = lived(&steps);
        let text = serde_json::to_string(&events).unwrap();
        let read: Vec<LotEvent> = serde_json::from_str(&text).unwrap();
        let (again, refused) = House::fold(&read);
        prop_assert!(refused.is_empty());
        prop_assert_eq!(again, house);
    }
}
