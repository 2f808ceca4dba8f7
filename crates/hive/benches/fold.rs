//! How long it takes to fold a journal, to add one entry to it, and to read it.

use std::hint::black_box;

use comb::{Body, BodyMeasures, Contents, Entrance, FaceContents, Length, Section, Share};
use criterion::{Criterion, criterion_group, criterion_main};
use hive::entry::{Decision, Hanging, Weather};
use hive::pen::{Stamp, Subject};
use hive::{BarId, DeviceId, Entry, EntryId, HiveId, Known, Pen, Scope, Yard, check, undo_last};
use jiff::{SignedDuration, Timestamp};
use uuid::Uuid;

struct Writing {
    pen: Pen,
    now: Timestamp,
    entries: Vec<Entry>,
}

impl Writing {
    fn say(&mut self, about: Subject, known: Known) -> EntryId {
        self.now += SignedDuration::from_secs(20);
        let id = EntryId(Uuid::from_u128(0x1000 + self.entries.len() as u128));
        let entry = self
            .pen
            .write(Stamp::now(id, self.now), about, known.into());
        self.entries.push(entry);
        id
    }
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

/// Five hives of twenty bars, visited in turn: each visit opens, looks at and decides on the twenty
/// combs, takes one entry back, and closes.
fn journal(count: usize) -> Vec<Entry> {
    let mut writing = Writing {
        pen: Pen::new(DeviceId(Uuid::from_u128(1)), 1, "keeper", "+10:00"),
        now: "2026-09-12T00:00:00Z".parse().expect("a timestamp"),
        entries: Vec::new(),
    };
    let bar = |hive: u128, n: u128| BarId(Uuid::from_u128(0x100 * hive + n));
    for hive in 1..=5 {
        let about = Subject::hive(HiveId(Uuid::from_u128(hive)));
        writing.say(
            about,
            Known::HiveStarted {
                name: format!("Hive {hive}"),
                apiary: None,
                body: body(),
                numbered: true,
            },
        );
        for n in 1..=20 {
            writing.say(
                about,
                Known::BarAdded {
                    bar: bar(hive, n),
                    number: n as u32,
                    width_mm: Length::mm(35.0),
                    hanging: Hanging::Comb,
                    drawn: None,
                },
            );
        }
        let row = (1..=20)
            .map(|n| hive::entry::Piece::Bar { bar: bar(hive, n) })
            .collect();
        writing.say(about, Known::Arranged { row });
    }
    let mut visits = 0u128;
    while writing.entries.len() < count {
        visits += 1;
        let hive = visits % 5 + 1;
        writing.now += SignedDuration::from_hours(24);
        let id = HiveId(Uuid::from_u128(hive));
        let opened = Known::VisitOpened {
            aim: None,
            weather: Weather::default(),
        };
        let visit = writing.say(Subject::hive(id), opened);
        let about = Subject::visit(id, visit);
        let mut last = visit;
        for n in 1..=20 {
            let face = FaceContents {
                capped_of_honey: Some(Share::eighths((n % 9) as u8)),
                ..FaceContents::default()
            };
            let contents = Contents {
                left: face.clone(),
                right: face,
                ..Contents::default()
            };
            last = writing.say(
                about,
                Known::CombSeen {
                    bar: bar(hive, n),
                    contents,
                },
            );
            writing.say(
                about,
                Known::Decided {
                    bar: bar(hive, n),
                    decision: Decision::Leave,
                    advised: None,
                },
            );
        }
        writing.say(about, Known::Undone { target: last });
        writing.say(about, Known::VisitClosed {});
    }
    writing.entries.truncate(count);
    writing.entries
}

fn fold(c: &mut Criterion) {
    let mut group = c.benchmark_group("hive");
    group.sample_size(10);
    for count in [5_000, 50_000] {
        let entries: Vec<std::sync::Arc<Entry>> = journal(count)
            .into_iter()
            .map(std::sync::Arc::new)
            .collect();
        group.bench_function(format!("fold {count} entries"), |b| {
            b.iter(|| Yard::fold(black_box(entries.iter().cloned())));
        });
        let (last, before) = entries.split_last().expect("there are entries");
        let yard = Yard::fold(before.iter().cloned());
        group.bench_function(format!("add one entry to {count}"), |b| {
            b.iter_batched_ref(
                || yard.clone(),
                |yard| yard.add(last.clone()),
                criterion::BatchSize::LargeInput,
            );
        });
        // a visit breaks off at a word of it, and the word is taken back
        let upto = entries
            .iter()
            .rposition(|entry| entry.what.kind() == "decided")
            .expect("something was decided");
        let broken_off = Yard::fold(entries[..=upto].iter().cloned());
        let said = &entries[upto];
        let mut undo = Entry::clone(said);
        undo.id = EntryId(Uuid::from_u128(1));
        undo.seq += 1;
        undo.what = Known::Undone { target: said.id }.into();
        let undo = std::sync::Arc::new(undo);
        group.bench_function(format!("take the last word back of {count}"), |b| {
            b.iter_batched_ref(
                || broken_off.clone(),
                |yard| yard.add(undo.clone()),
                criterion::BatchSize::LargeInput,
            );
        });
        group.bench_function(format!("copy a yard of {count}"), |b| {
            b.iter_with_large_drop(|| yard.clone());
        });
        let now = last.recorded;
        group.bench_function(format!("check one entry against {count}"), |b| {
            b.iter(|| check(&yard, last, now));
        });
        let hive = HiveId(Uuid::from_u128(1));
        group.bench_function(format!("find the last act among {count}"), |b| {
            b.iter(|| undo_last(&yard, Scope::Hive(hive), 1));
        });
    }
    let lines: Vec<String> = journal(5_000)
        .iter()
        .map(|entry| serde_json::to_string(entry).expect("an entry has a text"))
        .collect();
    group.bench_function("read 5000 entries", |b| {
        b.iter(|| {
            lines
                .iter()
                .filter_map(|line| Entry::parse(line).ok())
                .count()
        });
    });
    group.finish();
}

criterion_group!(benches, fold);
criterion_main!(benches);
