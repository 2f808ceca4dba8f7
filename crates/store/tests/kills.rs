//! Killed at any moment: what was acknowledged is there, whole, and nothing is half recorded.
//!
//! `COMBWRIGHT_KILLS` sets how many times the writer is killed (40 unless told). A kill proves that
//! nothing acknowledged waits in the program's memory; that the system has put it on the disk is
//! SQLite's word for `synchronous = FULL`.
#![cfg(unix)]

mod common;

use std::collections::BTreeSet;
use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use common::{block_on, exported, open, with_notes};
use rand::{Rng as _, SeedableRng as _, rngs::SmallRng};
use store::{Journal, OpenOptions, StoreError};

fn kills() -> u64 {
    let told = std::env::var("COMBWRIGHT_KILLS").ok();
    told.map_or(40, |told| {
        told.parse().expect("COMBWRIGHT_KILLS is a number")
    })
}

fn start(words: [&str; 4]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_store-appender"))
        .args(words.iter().filter(|word| !word.is_empty()))
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts")
}

/// Kills (SIGKILL) after a while and gives the whole lines that it had said.
fn killed(mut child: Child, after: Duration) -> Vec<String> {
    let out = child.stdout.take().expect("piped");
    let listener = std::thread::spawn(move || {
        BufReader::new(out)
            .lines()
            .map_while(Result::ok)
            .collect::<Vec<_>>()
    });
    std::thread::sleep(after);
    child.kill().expect("killed or done");
    child.wait().expect("waited for");
    listener.join().expect("listened")
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

#[test]
fn nothing_acknowledged_is_lost_when_the_writer_is_killed() {
    let folder = tempfile::tempdir().expect("a folder");
    let seed = u64::from(std::process::id());
    let mut chance = SmallRng::seed_from_u64(seed);
    let mut acknowledged = 0;
    let mut unsaid = 0;
    let mut known: BTreeSet<String> = BTreeSet::new();
    let mut before = 0;
    for round in 0..kills() {
        // a file is begun anew now and then: the making of it is a moment to be killed in, too
        let path = folder.path().join(format!("{}.sqlite", round / 20));
        if round % 20 == 0 {
            known.clear();
            before = 0;
        }
        let per_batch = chance.random_range(1..6);
        let after = Duration::from_micros(chance.random_range(0..120_000));
        let child = start(["append", text(&path), "1000000", &per_batch.to_string()]);
        let said = killed(child, after);
        known.extend(
            said.iter()
                .map(|line| line.split(' ').next().expect("an id").to_owned()),
        );
        acknowledged += said.len();
        let told = format!("seed {seed}, kill {round}");
        let now = block_on(proved(&path, &known, &told));
        let new = now - before;
        assert!(new >= said.len(), "{told}");
        assert_eq!(new % per_batch, 0, "{told}: batches are whole");
        unsaid += new - said.len();
        before = now;
    }
    println!(
        "{acknowledged} entries acknowledged over {} kills, {unsaid} more recorded before the word got out",
        kills()
    );
    assert!(
        acknowledged > 0,
        "the writer never came to write: nothing was tested"
    );
}

/// Opens after a kill: all that was said is there, all that is there is sound. Gives how many
/// entries there are; a kill may fall between the record and the word.
async fn proved(path: &Path, known: &BTreeSet<String>, told: &str) -> usize {
    if known.is_empty() && !path.exists() {
        return 0;
    }
    let journal = open(path, 1)
        .await
        .unwrap_or_else(|why| panic!("{told}: {why}"));
    let found = journal.verify().await.expect("reads");
    assert!(
        found.is_sound() && found.forks.is_empty(),
        "{told}: {found:?}"
    );
    let entries = journal.entries().await.expect("reads");
    let ids: BTreeSet<String> = entries.iter().map(|entry| entry.id.to_string()).collect();
    let lost: Vec<_> = known.difference(&ids).collect();
    assert!(lost.is_empty(), "{told}: lost {lost:?}");
    // one id for the whole life of the file, whatever killed its writers
    let devices: BTreeSet<_> = entries.iter().map(|entry| entry.device).collect();
    assert!(devices.len() <= 1, "{told}: {devices:?}");
    let seqs = entries.iter().map(|entry| entry.seq);
    assert!(
        seqs.eq(1..=entries.len() as u64),
        "{told}: numbers without gaps"
    );
    journal.close().await;
    ids.len()
}

#[test]
fn an_import_or_merge_that_is_killed_is_whole_or_not_there() {
    const ENTRIES: u128 = 4000;
    let folder = tempfile::tempdir().expect("a folder");
    let export = folder.path().join("export.jsonl");
    let other = folder.path().join("other.sqlite");
    block_on(async {
        let source = with_notes(1, 1, ENTRIES).await;
        std::fs::write(&export, exported(&source).await).expect("written");
        let file = open(&other, 1).await.expect("opens");
        file.import_file(&export, |_| ()).await.expect("taken in");
        file.close().await;
    });
    let seed = u64::from(std::process::id()) + 1;
    let mut chance = SmallRng::seed_from_u64(seed);
    let (mut nothing, mut all) = (0, 0);
    for (word, from) in [("import", &export), ("merge", &other)] {
        let begun = Instant::now();
        let whole = folder.path().join(format!("{word}-whole.sqlite"));
        let said = killed_at_end(start([word, text(&whole), text(from), ""]));
        assert_eq!(said, [format!("joined {ENTRIES}")]);
        let span = begun.elapsed();

        for round in 0..kills().div_ceil(4) {
            let path = folder.path().join(format!("{word}-{round}.sqlite"));
            let after = span.mul_f64(chance.random_range(0.0..1.15));
            let said = killed(start([word, text(&path), text(from), ""]), after);
            let count = block_on(held(&path));
            let told = format!("{word}, seed {seed}, kill {round}");
            assert!(count == 0 || count == ENTRIES, "{told}: {count} entries");
            assert!(
                said.is_empty() || count == ENTRIES,
                "{told}: said and not done"
            );
            if count == 0 { nothing += 1 } else { all += 1 }
        }
    }
    println!("killed imports and merges: {nothing} left nothing, {all} were whole");
    assert!(
        nothing > 0,
        "no kill fell into the work: nothing was tested"
    );
}

fn killed_at_end(child: Child) -> Vec<String> {
    let output = child.wait_with_output().expect("done");
    let text = String::from_utf8(output.stdout).expect("text");
    text.lines().map(str::to_owned).collect()
}

async fn held(path: &Path) -> u128 {
    let journal = match Journal::open(path, OpenOptions::read()).await {
        Ok(journal) => journal,
        Err(StoreError::NoJournal { .. }) => return 0,
        Err(why) => panic!("{why}"),
    };
    let found = journal.verify().await.expect("reads");
    assert!(found.is_sound(), "{found:?}");
    found.entries.into()
}

#[test]
fn programs_that_write_at_once_all_succeed_and_keep_one_chain() {
    const BATCHES: u64 = 60;
    let folder = tempfile::tempdir().expect("a folder");
    // the file is not there yet: they race to make it, too
    let path = folder.path().join("new/journal.sqlite");
    let children: Vec<Child> = (0..3)
        .map(|_| start(["append", text(&path), &BATCHES.to_string(), "3"]))
        .collect();
    let mut ids = BTreeSet::new();
    for child in children {
        let said = killed_at_end(child);
        assert_eq!(
            said.len() as u64,
            3 * BATCHES,
            "each one wrote all of its entries"
        );
        ids.extend(said);
    }
    block_on(async {
        let journal = open(&path, 1).await.expect("opens");
        let found = journal.verify().await.expect("reads");
        assert!(found.is_sound() && found.forks.is_empty(), "{found:?}");
        assert_eq!((found.devices, found.entries), (1, 9 * BATCHES));
        let entries = journal.entries().await.expect("reads");
        let there: BTreeSet<String> = entries
            .iter()
            .map(|entry| format!("{} {}", entry.id, entry.seq))
            .collect();
        assert_eq!(there, ids);
    });
}

#[test]
fn programs_that_begin_a_file_at_once_make_one() {
    let folder = tempfile::tempdir().expect("a folder");
    for round in 0..15 {
        let path = folder.path().join(format!("{round}.sqlite"));
        let children: Vec<Child> = (0..4)
            .map(|_| start(["append", text(&path), "1", "1"]))
            .collect();
        for child in children {
            assert_eq!(killed_at_end(child).len(), 1, "round {round}");
        }
        assert_eq!(block_on(held(&path)), 4);
    }
}
