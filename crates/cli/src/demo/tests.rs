//! The season holds together: understood as it was meant, and coherent to the end.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use hive::entry::{Hanging, Piece};
use hive::{DeviceId, Hive};
use uuid::Uuid;

use super::*;
use crate::surroundings::local_day;

/// Any day: the season is counted back from it.
fn today() -> ZonedDateTime {
    "2026-03-20T16:00+11:00[+11:00]"
        .parse()
        .expect("a day with its zone")
}

/// What a visit came to.
struct Came {
    hive: String,
    days_ago: i64,
    met_told: Vec<u32>,
    counted: usize,
    drafts: Vec<Known>,
    bars: Vec<BarId>,
    doubts: Vec<String>,
}

fn told() -> (Yard, Vec<Came>) {
    let device = DeviceId(Uuid::from_u128(7));
    let mut desk = Desk::over(Yard::default(), device, 1);
    let mut all = Vec::new();
    let names: BTreeMap<String, String> = HIVES
        .iter()
        .map(|text| toml_of::<HiveTold>(text).expect("the season is well formed"))
        .flat_map(|hive| {
            let name = hive.renamed().unwrap_or(&hive.name).clone();
            let visits = hive.visit.into_iter();
            visits.map(move |visit| (visit.spoken, name.clone()))
        })
        .collect();
    tell(&mut desk, &today(), |visit, recording| {
        all.push(Came {
            hive: names[&visit.spoken].clone(),
            days_ago: visit.when.days_ago,
            met_told: visit.met.clone(),
            counted: visit.counted,
            drafts: recording.drafts.iter().map(|d| d.known.clone()).collect(),
            bars: recording.bars.clone(),
            doubts: recording.doubts.clone(),
        });
    })
    .expect("the season can be told");
    (desk.yard().clone(), all)
}

fn number(yard: &Yard, bar: BarId) -> u32 {
    let hive = yard.hive_of_bar(bar).expect("every bar has a hive");
    hive.bar(bar).expect("every bar is its hive's").number
}

#[test]
fn the_season_folds_without_a_fault() {
    let (yard, came) = told();
    let faults: Vec<String> = yard.faults().map(|fault| fault.why.to_string()).collect();
    assert_eq!(faults, Vec::<String>::new());
    assert_eq!(yard.foreign().len(), 0);
    let names: Vec<&str> = yard
        .living_hives()
        .iter()
        .map(|h| h.name.as_str())
        .collect();
    let five = [
        "Banksia",
        "Grevillea",
        "Ironbark",
        "Stringybark",
        "Tea-tree",
    ];
    assert_eq!(names, five);
    assert_eq!(came.len(), 26);
    let (first, last) = (came.first().expect("26"), came.last().expect("26"));
    assert_eq!((first.days_ago, last.days_ago), (204, 6));
}

#[test]
fn every_visit_is_understood_as_it_was_meant() {
    let (yard, came) = told();
    for visit in &came {
        let name = format!("{}, {} days ago", visit.hive, visit.days_ago);
        let met: Vec<u32> = visit.bars.iter().map(|bar| number(&yard, *bar)).collect();
        assert_eq!(met, visit.met_told, "{name}: bars met");
        let left = |known: &Known| match known {
            Known::CombTaken { .. } => 1,
            Known::SplitTo { bars, .. } => bars.len(),
            _ => 0,
        };
        let gone: usize = visit.drafts.iter().map(left).sum();
        assert_eq!(gone, visit.counted, "{name}: the keeper's own count");
        // an unmarked hive is told how surely its combs were recognised, and brood that leaves a hive
        // is asked about: these doubts are meant
        let meant = |doubt: &&String| match (visit.hive.as_str(), visit.days_ago) {
            ("Grevillea", _) => doubt.starts_with("Bars without numbers"),
            ("Banksia", 161) => doubt.contains("taken with brood on it"),
            _ => false,
        };
        let unmeant: Vec<&String> = visit.doubts.iter().filter(|d| !meant(d)).collect();
        assert_eq!(unmeant, Vec::<&String>::new(), "{name}");
    }
}

/// Combs cut or carried away over the season, counted by hand in the heads of the files.
#[test]
fn combs_taken_are_those_counted_by_hand() {
    let (yard, _) = told();
    let taken = |name: &str| {
        let hive = yard.hive_named(name).expect("a hive of the yard");
        hive.visits.iter().map(|v| v.taken.len()).sum::<usize>()
    };
    assert_eq!(taken("Ironbark"), 6);
    assert_eq!(taken("Banksia"), 4);
    assert_eq!(taken("Tea-tree"), 5);
    assert_eq!(taken("Grevillea"), 3);
    assert_eq!(taken("Stringybark"), 0);
    let banksia = yard.hive_named("Banksia").expect("a hive of the yard");
    let gone: Vec<u32> = banksia.departed.iter().map(|d| d.number).collect();
    assert_eq!(gone, [18, 22, 23]);
}

#[test]
fn every_row_lies_over_the_whole_cavity() {
    let (yard, _) = told();
    for hive in yard.living_hives() {
        let free = hive.free_length().to_mm();
        assert!((0.0..=3.0).contains(&free), "{}: {free} mm free", hive.name);
        let boards = |hive: &Hive| {
            let pieces = hive.row.pieces().iter();
            pieces
                .filter(|piece| matches!(piece, Piece::Follower { .. }))
                .count()
        };
        let two = usize::from(matches!(hive.name.as_str(), "Ironbark" | "Tea-tree"));
        assert_eq!(boards(hive), 1 + two, "{}: follower boards", hive.name);
        assert!(
            hive.loose_bars().is_empty(),
            "{}: bars lie about",
            hive.name
        );
        assert!(hive.open_visit().is_none(), "{}: left open", hive.name);
    }
}

/// Closing up keeps its hard rule: never two bars without full comb beside each other among the
/// combs, except that one may stand last before the follower board.
#[test]
fn cut_and_empty_bars_stand_apart() {
    let (yard, _) = told();
    for hive in yard.living_hives() {
        let inside: Vec<bool> = among_combs(hive);
        let pairs = inside.windows(2).filter(|pair| !pair[0] && !pair[1]);
        assert_eq!(pairs.count(), 0, "{}: {inside:?}", hive.name);
    }
}

/// From the first to the last comb: whether each bar bears one. A bar cut in the season counts as
/// drawn again when bees built on it.
fn among_combs(hive: &Hive) -> Vec<bool> {
    let bears: Vec<bool> = hive
        .bars_in_row()
        .map(|bar| bar.hanging == Hanging::Comb)
        .collect();
    let first = bears.iter().position(|comb| *comb).unwrap_or(0);
    let last = bears.iter().rposition(|comb| *comb).unwrap_or(0);
    bears[first..=last].to_vec()
}

#[test]
fn what_was_corrected_and_taken_back_counts_no_more() {
    let (yard, _) = told();
    let ironbark = yard.hive_named("Ironbark").expect("a hive of the yard");
    let eight = ironbark.bar_numbered(8).expect("a bar of the hive");
    let judged: Vec<f64> = eight
        .looks
        .iter()
        .filter_map(|look| look.contents.mass_kg)
        .map(comb::Mass::to_kg)
        .collect();
    assert_eq!(judged.len(), 2);
    assert!((judged[0] - 1.8).abs() < 1e-9, "{judged:?}");
    let grevillea = yard.hive_named("Grevillea").expect("a hive of the yard");
    assert!(grevillea.notes.is_empty(), "its only note was taken back");
    assert_eq!(grevillea.feeds.len(), 1);
}

/// A comb of the season is found in jars, and what stands on the shelf is what the steps leave.
#[test]
fn a_comb_of_the_season_is_followed_into_jars() {
    let (yard, _) = told();
    let kept = house::Kept::of(&yard, &local_day);
    assert_eq!(kept.refused, Vec::<String>::new());
    assert!(kept.house.balance().even, "{:?}", kept.house.balance());
    let house = &kept.house;
    let jars = house::trace::jars_of_bar(&yard, house, "Banksia", 14, &local_day);
    let jars = jars.expect("it went into a pail");
    // 24 and 16 filled; 10 + 2 and 6 with others, 1 broken
    assert_eq!((jars.in_stock(), jars.with_others()), (12 + 9, 12 + 6));
    let waiting = house::taking::waiting(&yard, house, &local_day);
    let waiting = waiting.iter().map(|t| (t.hive.as_str(), t.bar));
    assert_eq!(
        waiting.collect::<Vec<_>>(),
        [("Tea-tree", 19), ("Ironbark", 8)]
    );
    let moist: Vec<f64> = house
        .lots()
        .iter()
        .filter_map(|lot| lot.moisture_pct.map(honey::Moisture::to_tenths))
        .collect();
    insta::assert_debug_snapshot!(moist);
}

/// One line a comb and visit, to be read beside the talk.
#[test]
fn what_was_understood() {
    let (yard, came) = told();
    let mut page = String::new();
    for visit in &came {
        let _ = writeln!(page, "{}, {} days ago", visit.hive, visit.days_ago);
        for known in &visit.drafts {
            let line = match known {
                Known::CombSeen { bar, contents } => {
                    format!(
                        "bar {}: {}",
                        number(&yard, *bar),
                        paper::told::contents(contents, comb::ToldIn::Metric)
                    )
                }
                other => paper::told::what(
                    &yard,
                    &other.clone().into(),
                    paper::told::Manner {
                        honey_house: &honey::lots::told::event,
                        told_in: comb::ToldIn::Metric,
                    },
                ),
            };
            let _ = writeln!(page, "  {line}");
        }
    }
    insta::assert_snapshot!(page);
}

#[test]
fn the_life_of_two_bars() {
    let (yard, _) = told();
    for (name, bar) in [("Ironbark", 9), ("Stringybark", 18)] {
        let hive = yard.hive_named(name).expect("a hive of the yard");
        let bar = hive.bar_numbered(bar).expect("a bar of the hive");
        let mut page = String::new();
        for event in &bar.history {
            let days = today().timestamp().duration_since(event.at).as_hours() / 24;
            let what = paper::told::happened(
                &yard,
                event.hive,
                hive.id,
                &event.what,
                comb::ToldIn::Metric,
            );
            let place = event
                .place
                .map(|p| format!(", place {p}"))
                .unwrap_or_default();
            let _ = writeln!(page, "{days} days ago{place}: {what}");
        }
        insta::assert_snapshot!(format!("life_{}_{}", name.to_lowercase(), bar.number), page);
    }
}
