//! Measures the journal: `cargo run --release -p store --example journal_speed -- FOLDER [ENTRIES]`.
//! The folder decides which disk is measured; the figures go to BENCHMARKS.md.
#![expect(clippy::print_stdout, reason = "its output is its purpose")]

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use hive::{DeviceId, EntryId, Known};
use jiff::Timestamp;
use store::{Cursor, Journal, OpenOptions, Pending, StoreError};
use uuid::Uuid;

const BATCH: u128 = 20;

fn main() -> Result<(), StoreError> {
    let mut args = std::env::args().skip(1);
    let folder = args.next().map_or_else(std::env::temp_dir, PathBuf::from);
    let entries: u128 = args.next().and_then(|n| n.parse().ok()).unwrap_or(50_000);
    let folder = folder.join(format!("combwright-speed-{}", std::process::id()));
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime can be made");
    let measured = runtime.block_on(measure(&folder, entries));
    // a folder left behind is told by its name
    let _ = std::fs::remove_dir_all(&folder);
    measured
}

async fn measure(folder: &Path, entries: u128) -> Result<(), StoreError> {
    let path = folder.join("journal.sqlite");
    let (journal, took) = timed(open(&path, 1)).await?;
    tell("open, made new", took);

    latencies(&journal, "append 1 entry, durable", 300, 1, 1 << 80).await?;
    latencies(&journal, "append 20 entries, durable", 100, BATCH, 1 << 81).await?;
    let so_far = u128::from(journal.len().await?);
    let ((), took) = timed(fill(&journal, entries.saturating_sub(so_far))).await?;
    println!("filled to {entries} entries in {took:.2?}");
    latencies(
        &journal,
        "append 1 entry to the full journal",
        300,
        1,
        1 << 82,
    )
    .await?;
    let (_, cursor) = journal.entries_since(Cursor::default()).await?;
    let one = vec![note(1 << 83)];
    let (_, took) = timed(journal.append_as_of(cursor, one)).await?;
    tell("append_as_of", took);
    let (_, took) = timed(journal.append_with(|standing| {
        Ok::<_, StoreError>(vec![note((1 << 84) + u128::from(standing.next_seq))])
    }))
    .await?;
    tell("append_with (reads all first)", took);
    journal.close().await;

    let size = std::fs::metadata(&path).map_or(0, |metadata| metadata.len());
    println!("file: {:.1} MB", size as f64 / 1e6);
    let (journal, took) = timed(open(&path, 1)).await?;
    tell("open", took);
    let (read, took) = timed(journal.entries()).await?;
    tell(&format!("entries() of {}", read.len()), took);
    let (found, took) = timed(journal.verify()).await?;
    assert!(found.is_sound(), "{found:?}");
    tell(&format!("verify() of {}", found.entries), took);

    let export = folder.join("export.jsonl");
    let (_, took) = timed(journal.export_file(&export, |_| ())).await?;
    let size = std::fs::metadata(&export).map_or(0, |metadata| metadata.len());
    tell(&format!("export_file, {:.1} MB", size as f64 / 1e6), took);
    let second = open(&folder.join("second.sqlite"), 2).await?;
    let (_, took) = timed(second.import_file(&export, |_| ())).await?;
    tell("import_file into an empty journal", took);
    let (_, took) = timed(second.import_file(&export, |_| ())).await?;
    tell("import_file, all known", took);
    let third = open(&folder.join("third.sqlite"), 3).await?;
    let (_, took) = timed(third.merge(&path, |_| ())).await?;
    tell("merge into an empty journal", took);
    println!("most memory held: {}", peak_memory());
    Ok(())
}

async fn open(path: &Path, device: u128) -> Result<Journal, StoreError> {
    let device = DeviceId(Uuid::from_u128(device));
    Journal::open(path, OpenOptions::write(move || device)).await
}

async fn fill(journal: &Journal, mut entries: u128) -> Result<(), StoreError> {
    while entries > 0 {
        let batch = entries.min(1000);
        journal
            .append((0..batch).map(|n| note((1 << 90) + entries - n)).collect())
            .await?;
        entries -= batch;
    }
    Ok(())
}

async fn latencies(
    journal: &Journal,
    what: &str,
    times: u128,
    batch: u128,
    from: u128,
) -> Result<(), StoreError> {
    let mut spans = Vec::new();
    for round in 0..times {
        let notes = (0..batch).map(|n| note(from + round * batch + n)).collect();
        let (_, took) = timed(journal.append(notes)).await?;
        spans.push(took);
    }
    spans.sort();
    let at = |percent: usize| spans[(spans.len() - 1) * percent / 100];
    println!(
        "{what}: median {:.2?}, 95 % {:.2?}, worst {:.2?} of {times}",
        at(50),
        at(95),
        at(100)
    );
    Ok(())
}

async fn timed<T>(
    work: impl Future<Output = Result<T, StoreError>>,
) -> Result<(T, Duration), StoreError> {
    let begun = Instant::now();
    let done = work.await?;
    Ok((done, begun.elapsed()))
}

fn tell(what: &str, took: Duration) {
    println!("{what}: {took:.2?}");
}

fn peak_memory() -> String {
    std::fs::read_to_string("/proc/self/status")
        .ok()
        .and_then(|status| {
            let line = status.lines().find(|line| line.starts_with("VmHWM"))?;
            Some(line.trim_start_matches("VmHWM:").trim().to_owned())
        })
        .unwrap_or_else(|| "not known here".to_owned())
}

/// A comb seen: about as long as entries are on average.
fn note(n: u128) -> Pending {
    let now = Timestamp::UNIX_EPOCH;
    Pending {
        id: EntryId(Uuid::from_u128(n)),
        at: now,
        recorded: now,
        zone: "+10:00".into(),
        by: "keeper".into(),
        hive: Some(hive::HiveId(Uuid::from_u128(5))),
        visit: Some(EntryId(Uuid::from_u128(6))),
        said: Some("the next one is about two thirds capped on this side".into()),
        what: Known::Note {
            text: "two thirds capped, the other side not looked at, hanging straight".into(),
        }
        .into(),
    }
}
