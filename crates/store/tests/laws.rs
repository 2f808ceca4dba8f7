//! Laws of merging: journals merged in any order, and any number of times, are one.

mod common;

use std::collections::BTreeSet;

use comb::{Body, BodyMeasures, Contents, Entrance, FaceContents, Length, Section, Share};
use common::{block_on, exported, id, in_memory, said};
use hive::entry::{Decision, Hanging, Piece};
use hive::{BarId, Entry, HiveId, Known, Yard};
use proptest::prelude::*;
use store::{Journal, Pending};
use uuid::Uuid;

const IRONBARK: HiveId = HiveId(Uuid::from_u128(0xA1));

fn bar(n: u8) -> BarId {
    BarId(Uuid::from_u128(0xB00 + u128::from(n)))
}

fn body() -> Body {
    Body::new(BodyMeasures {
        cavity_length_mm: Length::mm(1000.0),
        top_width_mm: Length::mm(430.0),
        bottom_width_mm: Length::mm(200.0),
        depth_mm: Length::mm(300.0),
        section: Section::Sloped,
        entrance: Entrance::LeftEnd,
        bar_width_mm: Length::mm(35.0),
    })
    .expect("a body that can be")
}

/// What a device may say; some of it makes no sense where it falls, as between real devices.
fn known() -> impl Strategy<Value = Known> {
    prop_oneof![
        Just(Known::HiveStarted {
            name: "Ironbark".into(),
            apiary: None,
            body: body(),
            numbered: true,
        }),
        (1..8u8).prop_map(|n| Known::BarAdded {
            bar: bar(n),
            number: u32::from(n),
            width_mm: Length::mm(35.0),
            hanging: Hanging::Comb,
            drawn: None,
        }),
        prop::sample::subsequence((1..8u8).collect::<Vec<_>>(), 0..7)
            .prop_shuffle()
            .prop_map(|bars| Known::Arranged {
                row: bars
                    .into_iter()
                    .map(|n| Piece::Bar { bar: bar(n) })
                    .collect(),
            }),
        (1..8u8, 0..=100u8).prop_map(|(n, percent)| Known::CombSeen {
            bar: bar(n),
            contents: Contents {
                left: FaceContents {
                    capped_of_honey: Share::percent(f64::from(percent)).ok(),
                    ..FaceContents::default()
                },
                ..Contents::default()
            },
        }),
        (1..8u8).prop_map(|n| Known::BarTurned { bar: bar(n) }),
        (1..8u8).prop_map(|n| Known::Decided {
            bar: bar(n),
            decision: Decision::Take,
            advised: None,
        }),
        "[ -~é]{0,12}".prop_map(|text| Known::Note { text }),
        // takes back something that any of the devices may have said
        (1..60u128).prop_map(|n| Known::Undone { target: id(n) }),
    ]
}

/// A chain of one device: `chain` numbers the ids, `device` is the id it writes under.
async fn chain(chain: u128, device: u128, saying: &[(Known, u8)]) -> Vec<String> {
    let journal = in_memory(device).await;
    let mut batch: Vec<Pending> = Vec::new();
    for (n, (known, minute)) in saying.iter().enumerate() {
        let mut pending = said(chain * 15 + n as u128 + 1, known.clone());
        pending.hive = Some(IRONBARK);
        pending.at += jiff::SignedDuration::from_mins(i64::from(*minute));
        batch.push(pending);
    }
    journal.append(batch).await.expect("recorded");
    let export = exported(&journal).await;
    export.lines().skip(1).map(str::to_owned).collect()
}

/// A journal in memory that holds these lines.
async fn holding(device: u128, lines: &BTreeSet<String>) -> Journal {
    let journal = in_memory(device).await;
    take(&journal, lines).await;
    journal
}

async fn take(journal: &Journal, lines: &BTreeSet<String>) {
    let header = format!(
        r#"{{"journal":"combwright","version":1,"entries":{}}}"#,
        lines.len()
    );
    let text: String = std::iter::once(header.as_str())
        .chain(lines.iter().map(String::as_str))
        .flat_map(|line| [line, "\n"])
        .collect();
    journal
        .import(text.as_bytes(), |_| ())
        .await
        .expect("taken in");
}

async fn state(journal: &Journal) -> (String, Yard) {
    let entries: Vec<Entry> = journal.entries().await.expect("reads");
    (exported(journal).await, Yard::fold(entries))
}

const ORDERS: [[usize; 3]; 6] = [
    [0, 1, 2],
    [0, 2, 1],
    [1, 0, 2],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 0],
];

/// Four chains over three devices (the last writes under the first one's id: a fork), and for each
/// entry the set of the three files that hold it.
fn three_files() -> impl Strategy<Value = (Vec<Vec<(Known, u8)>>, Vec<u8>)> {
    (
        prop::collection::vec(prop::collection::vec((known(), any::<u8>()), 0..12), 4),
        prop::collection::vec(0..8u8, 1..50),
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn merging_in_any_order_gives_one_journal_and_one_state((chains, held) in three_files()) {
        block_on(async {
            let mut files = vec![BTreeSet::new(); 3];
            let mut place = 0;
            for (n, saying) in chains.iter().enumerate() {
                for line in chain(n as u128, [1, 100, 200, 1][n], saying).await {
                    for (file, lines) in files.iter_mut().enumerate() {
                        if held[place % held.len()] & (1 << file) != 0 {
                            lines.insert(line.clone());
                        }
                    }
                    place += 1;
                }
            }
            let union: BTreeSet<String> = files.iter().flatten().cloned().collect();
            let (export, yard) = state(&holding(50, &union).await).await;
            let heads = holding(50, &union).await.heads().await.expect("reads");

            let journals = [
                holding(51, &files[0]).await,
                holding(52, &files[1]).await,
                holding(53, &files[2]).await,
            ];
            for order in ORDERS {
                let one = in_memory(60).await;
                for n in order {
                    one.merge_from(&journals[n], &mut |_| ()).await.expect("merged");
                }
                let (merged, folded) = state(&one).await;
                prop_assert_eq!(&merged, &export);
                prop_assert_eq!(&folded, &yard);
                prop_assert_eq!(one.heads().await.expect("reads"), heads.clone());

                // again, and what it already holds: nothing changes
                let again = one.merge_from(&journals[order[0]], &mut |_| ()).await.expect("merged");
                prop_assert_eq!((again.new, again.mended), (0, 0));
                prop_assert_eq!(exported(&one).await, export.clone());
            }
            // associative: a merged pair merged into the third
            let pair = holding(54, &files[1]).await;
            pair.merge_from(&journals[2], &mut |_| ()).await.expect("merged");
            journals[0].merge_from(&pair, &mut |_| ()).await.expect("merged");
            prop_assert_eq!(exported(&journals[0]).await, export);
            Ok(())
        })?;
    }
}
