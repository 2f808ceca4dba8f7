//! Recall over 100,000 jars, each its own filling: the worst case for the index.

use std::hint::black_box;

use comb::Mass;
use criterion::{Criterion, criterion_group, criterion_main};
use honey::lots::House;
use honey::lots::event::{
    CombIn, Drawn, JarsFilled, LotEvent, LotMade, LotsBlended, Method, PailFilled,
};
use jiff::civil::{Date, date};

const PAILS: usize = 2_000;
const COMBS_PER_PAIL: usize = 5;
const LOTS_PER_BLEND: usize = 10;
const JARS: usize = 100_000;
const DAY: Date = date(2026, 3, 14);

fn pail(at: usize) -> LotEvent {
    let combs = (0..COMBS_PER_PAIL).map(|comb| CombIn {
        comb: format!("comb-{at}-{comb}").into(),
        hive: [
            "Ironbark",
            "Banksia",
            "Tea-tree",
            "Grevillea",
            "Stringybark",
        ][at % 5]
            .to_owned(),
        bar: (comb + 10).to_string(),
        visit: format!("visit-{at}"),
        taken_on: DAY,
        mass_kg: None,
    });
    LotEvent::PailFilled(PailFilled {
        pail: format!("pail-{at}").into(),
        on: DAY,
        combs: combs.collect(),
        mass_kg: Some(Mass::kg(30.0)),
    })
}

fn made(at: usize) -> LotEvent {
    LotEvent::LotMade(LotMade {
        lot: format!("lot-{at}").into(),
        on: DAY,
        pails: vec![format!("pail-{at}").into()],
        method: Method::Drained,
        honey_kg: Mass::kg(25.0),
        wax_kg: None,
        loss_kg: None,
        country: "Australia".to_owned(),
    })
}

fn blend(at: usize) -> LotEvent {
    let from = (0..LOTS_PER_BLEND).map(|lot| Drawn {
        lot: format!("lot-{}", at * LOTS_PER_BLEND + lot).into(),
        mass_kg: Mass::kg(25.0),
    });
    LotEvent::LotsBlended(LotsBlended {
        lot: format!("blend-{at}").into(),
        on: DAY,
        from: from.collect(),
        loss_kg: Mass::ZERO,
    })
}

fn jar(at: usize) -> LotEvent {
    let blends = PAILS / LOTS_PER_BLEND;
    LotEvent::JarsFilled(JarsFilled {
        fill: format!("jar-{at}").into(),
        lot: format!("blend-{}", at % blends).into(),
        on: DAY,
        net_kg: Mass::grams(340.0),
        count: 1,
        drawn_kg: None,
        mark: format!("26-{}", at % blends),
        best_before: date(2028, 3, 14),
    })
}

fn events() -> Vec<LotEvent> {
    let pails = (0..PAILS).map(pail);
    let lots = (0..PAILS).map(made);
    let blends = (0..PAILS / LOTS_PER_BLEND).map(blend);
    pails
        .chain(lots)
        .chain(blends)
        .chain((0..JARS).map(jar))
        .collect()
}

fn trace(c: &mut Criterion) {
    let events = events();
    let (house, refused) = House::fold(&events);
    assert!(refused.is_empty());
    assert_eq!(house.fillings().len(), JARS);
    let comb = "comb-77-3".into();
    let mut group = c.benchmark_group("trace_100k_jars");
    group.bench_function("jars_with_comb", |b| {
        b.iter(|| {
            black_box(&house)
                .jars_with_comb(black_box(&comb))
                .map(|f| f.with_others())
        });
    });
    group.bench_function("jars_with_bar_of_all_years", |b| {
        b.iter(|| {
            black_box(&house)
                .jars_with_bar("Banksia", "14")
                .map(|f| f.in_stock())
        });
    });
    group.bench_function("jars_with_hive_all_100k", |b| {
        b.iter(|| {
            black_box(&house)
                .jars_with_hive("Banksia")
                .map(|f| f.in_stock())
        });
    });
    group.bench_function("combs_with_mark", |b| {
        b.iter(|| {
            black_box(&house)
                .combs_with_mark("26-19")
                .map(|f| f.combs.len())
        });
    });
    group.sample_size(10);
    group.bench_function("fold_of_104_200_events", |b| {
        b.iter(|| House::fold(black_box(&events)).0.fillings().len());
    });
    group.finish();
}

criterion_group!(benches, trace);
criterion_main!(benches);
