//! The writer that the tests start, starve and kill. It says what is acknowledged, line by line.
//!
//!     store-appender append JOURNAL BATCHES PER_BATCH   prints "id seq" of each entry once durable
//!     store-appender import JOURNAL EXPORT              prints "joined NEW" once durable
//!     store-appender merge JOURNAL OTHER                the same
//!     store-appender read JOURNAL                       prints the number of entries

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;
use std::time::{SystemTime, UNIX_EPOCH};

use hive::{DeviceId, EntryId, Known};
use jiff::Timestamp;
use store::{Journal, OpenOptions, Pending, StoreError};
use uuid::Uuid;

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = args.iter().map(String::as_str).collect();
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime can be made");
    match runtime.block_on(run(&words)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            let kind = format!("{why:?}");
            let kind = kind.split([' ', '(']).next().unwrap_or_default();
            let _ = writeln!(std::io::stderr(), "{kind}: {why}");
            ExitCode::FAILURE
        }
    }
}

async fn run(words: &[&str]) -> Result<(), StoreError> {
    match words {
        ["append", path, batches, per_batch] => {
            append(path.as_ref(), number(batches), number(per_batch)).await
        }
        ["import", path, export] => {
            let joined = open(path.as_ref())
                .await?
                .import_file(export, |_| ())
                .await?;
            say(&format!("joined {}", joined.new));
            Ok(())
        }
        ["merge", path, other] => {
            let joined = open(path.as_ref()).await?.merge(other, |_| ()).await?;
            say(&format!("joined {}", joined.new));
            Ok(())
        }
        ["read", path] => {
            let journal = Journal::open(path, OpenOptions::read()).await?;
            say(&journal.len().await?.to_string());
            Ok(())
        }
        _ => panic!("unknown words {words:?}"),
    }
}

async fn open(path: &Path) -> Result<Journal, StoreError> {
    let mut ids = Ids::new();
    let device = DeviceId(ids.next());
    Journal::open(path, OpenOptions::write(move || device)).await
}

async fn append(path: &Path, batches: u64, per_batch: u64) -> Result<(), StoreError> {
    let journal = open(path).await?;
    let mut ids = Ids::new();
    for batch in 0..batches {
        let notes = (0..per_batch).map(|n| note(ids.next(), batch, n)).collect();
        for entry in journal.append(notes).await? {
            say(&format!("{} {}", entry.id, entry.seq));
        }
    }
    Ok(())
}

fn note(id: Uuid, batch: u64, n: u64) -> Pending {
    let now = Timestamp::UNIX_EPOCH;
    Pending {
        id: EntryId(id),
        at: now,
        recorded: now,
        zone: "+10:00".into(),
        by: "keeper".into(),
        hive: None,
        visit: None,
        said: Some("the next one is about two thirds capped on this side".into()),
        what: Known::Note {
            text: format!("batch {batch}, entry {n}"),
        }
        .into(),
    }
}

fn number(word: &str) -> u64 {
    word.parse().expect("a number")
}

fn say(line: &str) {
    let mut out = std::io::stdout().lock();
    // one write a line: a kill cannot leave a number half said
    let written = out
        .write_all(format!("{line}\n").as_bytes())
        .and_then(|()| out.flush());
    assert!(written.is_ok(), "the test listens");
}

/// Ids that no other run gives: time, process and a count.
struct Ids {
    next: u128,
}

impl Ids {
    fn new() -> Self {
        let now = SystemTime::now()
            .duration_since(UNIX_EPOCH)
            .expect("the clock is past 1970");
        let start = (now.as_nanos() << 64) | (u128::from(std::process::id()) << 32);
        Self { next: start }
    }

    fn next(&mut self) -> Uuid {
        self.next += 1;
        Uuid::from_u128(self.next)
    }
}
