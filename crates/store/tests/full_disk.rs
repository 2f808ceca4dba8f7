//! No room: a clear error, nothing half recorded, and all is well when there is room again.
#![cfg(unix)]

mod common;

use std::collections::BTreeSet;
use std::path::Path;
use std::process::{Command, Output};

use common::{block_on, exported, note, open, with_notes};
use store::{Journal, OpenOptions, StoreError};

const PROGRAM: &str = env!("CARGO_BIN_EXE_store-appender");

/// What was acknowledged before the room ran out is there and sound, and writing goes on.
fn check_after(path: &Path, output: &Output, kinds: &[&str]) {
    let said = String::from_utf8_lossy(&output.stdout);
    let error = String::from_utf8_lossy(&output.stderr);
    assert!(!output.status.success(), "the room must run out");
    assert!(kinds.iter().any(|kind| error.starts_with(kind)), "{error}");
    let ids: BTreeSet<String> = said
        .lines()
        .map(|line| line.split(' ').next().expect("an id").to_owned())
        .collect();
    assert!(!ids.is_empty(), "something was recorded before: {error}");
    block_on(async {
        let reading = Journal::open(path, OpenOptions::read())
            .await
            .expect("opens");
        let entries = reading.entries().await.expect("reads");
        let there: BTreeSet<String> = entries.iter().map(|entry| entry.id.to_string()).collect();
        assert_eq!(there, ids, "what is there is what was acknowledged");
        reading.close().await;
    });
}

/// Room again: what is there is sound, and writing goes on.
fn goes_on(path: &Path) {
    block_on(async {
        let journal = open(path, 1).await.expect("opens");
        let before = journal.len().await.expect("reads");
        journal.append(vec![note(1)]).await.expect("recorded");
        let found = journal.verify().await.expect("reads");
        assert!(found.is_sound(), "{found:?}");
        assert_eq!(found.entries, before + 1);
        journal.close().await;
    });
}

#[test]
fn a_file_at_the_systems_size_limit_gives_a_clear_error() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    // RLIMIT_FSIZE in blocks of 512 bytes; ignoring the signal turns it into an error
    let output = Command::new("sh")
        .args([
            "-c",
            r#"trap "" XFSZ; ulimit -f 1200; exec "$0" append "$1" 100000 5"#,
            PROGRAM,
        ])
        .arg(&path)
        .output()
        .expect("it runs");
    check_after(&path, &output, &["Disk", "DiskFull"]);
    goes_on(&path);
}

/// On a file system of its own that is really full, where we may mount one; else the limit that
/// SQLite keeps itself. Both give `SQLITE_FULL`.
#[test]
fn a_full_disk_gives_a_clear_error() {
    let folder = tempfile::tempdir().expect("a folder");
    let mounted = Command::new("mount")
        .args(["-t", "tmpfs", "-o", "size=700k", "combwright-test"])
        .arg(folder.path())
        .output()
        .is_ok_and(|output| output.status.success());
    let path = folder.path().join("journal.sqlite");
    if mounted {
        let output = Command::new(PROGRAM)
            .args(["append"])
            .arg(&path)
            .args(["100000", "5"])
            .output()
            .expect("it runs");
        let checked = std::panic::catch_unwind(|| {
            check_after(&path, &output, &["DiskFull"]);
            let more = Command::new("mount")
                .args(["-o", "remount,size=8m"])
                .arg(folder.path())
                .status();
            assert!(more.expect("it runs").success());
            goes_on(&path);
        });
        let freed = Command::new("umount")
            .arg(folder.path())
            .status()
            .expect("it runs");
        assert!(freed.success());
        if let Err(why) = checked {
            std::panic::resume_unwind(why);
        }
    } else {
        println!("may not mount a file system here; the database's own limit stands in for it");
    }
}

#[test]
fn a_journal_at_its_own_size_limit_refuses_whole_batches() {
    block_on(async {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("journal.sqlite");
        let small = OpenOptions::write(|| common::device(1)).max_bytes(200 * 1024);
        let journal = Journal::open(&path, small).await.expect("opens");
        let mut recorded = 0;
        let full = loop {
            let batch = (recorded..recorded + 50).map(|n| note(n + 10)).collect();
            match journal.append(batch).await {
                Ok(_) => recorded += 50,
                Err(why) => break why,
            }
        };
        assert!(matches!(full, StoreError::DiskFull { .. }), "{full:?}");
        assert!(full.to_string().contains("nothing of this was recorded"));
        assert!(full.help().is_some_and(|help| help.contains("Make room")));
        assert_eq!(u128::from(journal.len().await.expect("reads")), recorded);
        assert!(journal.verify().await.expect("reads").is_sound());

        // again and again: a refusal leaves nothing behind that spoils the next
        for _ in 0..8 {
            let batch = (0..200).map(|n| note(n + 5_000_000)).collect();
            let outcome = journal.append(batch).await;
            assert!(
                matches!(outcome, Err(StoreError::DiskFull { .. })),
                "{outcome:?}"
            );
        }

        // an import that does not fit leaves nothing
        let before = exported(&journal).await;
        let large = exported(&with_notes(40, 1_000_000, 2000).await).await;
        let outcome = journal.import(large.as_bytes(), |_| ()).await;
        assert!(
            matches!(outcome, Err(StoreError::DiskFull { .. })),
            "{outcome:?}"
        );
        assert_eq!(exported(&journal).await, before);
        journal.close().await;

        let roomy = open(&path, 1).await.expect("opens");
        assert_eq!(
            roomy
                .import(large.as_bytes(), |_| ())
                .await
                .expect("taken in")
                .new,
            2000
        );
        assert!(roomy.verify().await.expect("reads").is_sound());
    });
}

#[test]
fn an_export_that_does_not_fit_leaves_no_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let to_nowhere = Path::new("/dev/full");
    if !to_nowhere.exists() {
        println!("this system has no device that is always full");
        return;
    }
    block_on(async {
        let journal = with_notes(1, 1, 50).await;
        let full = tokio::fs::OpenOptions::new()
            .write(true)
            .open(to_nowhere)
            .await;
        let outcome = journal.export(full.expect("opens"), |_| ()).await;
        assert!(
            matches!(outcome, Err(StoreError::DiskFull { .. })),
            "{outcome:?}"
        );

        let missing = folder.path().join("no such folder/out.jsonl");
        assert!(journal.export_file(&missing, |_| ()).await.is_err());
        let out = folder.path().join("out.jsonl");
        std::fs::write(&out, "an older export").expect("written");
        assert_eq!(
            journal.export_file(&out, |_| ()).await.expect("written"),
            50
        );
        let names: Vec<_> = std::fs::read_dir(folder.path())
            .expect("there")
            .map(|entry| entry.expect("reads").file_name())
            .collect();
        assert_eq!(names, ["out.jsonl"]);
    });
}
