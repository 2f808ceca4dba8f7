//! Files edited by hand: found, named, rescued and mended.

mod common;

use std::path::{Path, PathBuf};

use common::{block_on, device, edit, exported, id, in_memory, note, open};
use store::{Damage, Fault, Journal, OpenOptions, StoreError, Verification};

/// Six notes of device 1 in a file, edited by hand, and what a sound copy of it exports.
async fn edited(sql: &str) -> (tempfile::TempDir, PathBuf, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    let journal = open(&path, 1).await.expect("opens");
    journal
        .append((1..=6).map(note).collect())
        .await
        .expect("recorded");
    let export = exported(&journal).await;
    journal.close().await;
    edit(&path, sql).await;
    (folder, path, export)
}

async fn verified(path: &Path) -> Verification {
    let journal = Journal::open(path, OpenOptions::read())
        .await
        .expect("opens");
    journal.verify().await.expect("reads")
}

/// What verify says of an edit: one fault, with this number and id.
fn check(sql: &str, seq: u64, entry: Option<u128>, damage: &Damage) {
    block_on(async {
        let (_folder, path, _) = edited(sql).await;
        let found = verified(&path).await;
        let fault = Fault {
            device: device(1).to_string(),
            seq,
            id: entry.map(id),
            damage: damage.clone(),
        };
        assert_eq!(found.faults, [fault], "after {sql}");
        assert!(!found.is_sound());
    });
}

#[test]
fn a_sound_journal_has_no_fault() {
    block_on(async {
        let (_folder, path, _) = edited("").await;
        let found = verified(&path).await;
        assert!(found.is_sound(), "{found:?}");
        assert_eq!((found.entries, found.devices), (6, 1));
    });
}

#[test]
fn a_changed_text_is_found() {
    let sql = "UPDATE entry SET text = replace(text, 'note 3', 'note 9') WHERE seq = 3";
    check(sql, 3, Some(3), &Damage::Changed);
}

#[test]
fn a_changed_hash_is_found() {
    check(
        "UPDATE entry SET hash = zeroblob(32) WHERE seq = 3",
        3,
        Some(3),
        &Damage::Changed,
    );
    check(
        "UPDATE entry SET prev = randomblob(32) WHERE seq = 3",
        3,
        Some(3),
        &Damage::Changed,
    );
    // the last entry has no follower that would miss it
    check(
        "UPDATE entry SET hash = zeroblob(32) WHERE seq = 6",
        6,
        Some(6),
        &Damage::Changed,
    );
}

#[test]
fn missing_entries_are_found() {
    check(
        "DELETE FROM entry WHERE seq = 1",
        1,
        None,
        &Damage::Missing { through: 1 },
    );
    check(
        "DELETE FROM entry WHERE seq IN (3, 4)",
        3,
        None,
        &Damage::Missing { through: 4 },
    );
}

#[test]
fn a_chain_cut_off_at_its_end_is_found() {
    check(
        "DELETE FROM entry WHERE seq > 4",
        5,
        None,
        &Damage::Missing { through: 6 },
    );
    check(
        "DELETE FROM entry",
        1,
        None,
        &Damage::Missing { through: 6 },
    );
}

#[test]
fn entries_in_a_wrong_place_are_found() {
    let swap = "UPDATE entry SET seq = 100 WHERE seq = 2; UPDATE entry SET seq = 2 WHERE seq = 3; UPDATE entry SET seq = 3 WHERE seq = 100;";
    check(
        swap,
        2,
        Some(3),
        &Damage::OutOfOrder("its own number is 3".into()),
    );
    let renamed = "UPDATE entry SET id = zeroblob(16) WHERE seq = 5";
    check(
        renamed,
        5,
        Some(0),
        &Damage::OutOfOrder(format!("its own id is {}", id(5))),
    );
}

#[test]
fn text_that_is_no_entry_is_found() {
    block_on(async {
        for sql in [
            "UPDATE entry SET text = 'honey' WHERE seq = 4",
            "UPDATE entry SET text = CAST(x'ff00fe' AS TEXT) WHERE seq = 4",
            "UPDATE entry SET text = '{}' WHERE seq = 4",
            "UPDATE entry SET text = '' WHERE seq = 4",
        ] {
            let (_folder, path, _) = edited(sql).await;
            let found = verified(&path).await;
            assert!(
                matches!(
                    &found.faults[..],
                    [Fault {
                        seq: 4,
                        damage: Damage::Unreadable(_),
                        ..
                    }]
                ),
                "{sql}: {found:?}"
            );
            let journal = Journal::open(&path, OpenOptions::read())
                .await
                .expect("opens");
            let read = journal.entries().await;
            assert!(
                matches!(read, Err(StoreError::DamagedEntry { seq: 4, .. })),
                "{read:?}"
            );
        }
    });
}

#[test]
fn an_entry_forged_with_its_hash_does_not_fit_its_neighbours() {
    block_on(async {
        let (_folder, path, export) = edited("").await;
        // entry 3 anew: another text, its hash computed as the program would
        let line = export.lines().nth(3).expect("entry 3");
        let record = exchange::lines::read_line(line.as_bytes()).expect("sound");
        let forged = record.text.replace("note 3", "note 9");
        let hash = record.prev.followed_by(forged.as_bytes());
        let sql = format!("UPDATE entry SET text = '{forged}', hash = x'{hash}' WHERE seq = 3");
        edit(&path, &sql).await;
        let found = verified(&path).await;
        assert!(
            matches!(&found.faults[..], [Fault { seq: 4, damage: Damage::OutOfOrder(how), .. }] if how.contains("entry 3")),
            "{found:?}"
        );
    });
}

#[test]
fn the_first_damage_of_each_device_is_named() {
    block_on(async {
        let (_folder, path, _) = edited("").await;
        let journal = open(&path, 1).await.expect("opens");
        let other = common::with_notes(30, 100, 5).await;
        journal
            .merge_from(&other, &mut |_| ())
            .await
            .expect("merged");
        journal.close().await;
        edit(
            &path,
            "UPDATE entry SET text = text || '!' WHERE seq IN (2, 4)",
        )
        .await;
        let found = verified(&path).await;
        let told: Vec<String> = found.faults.iter().map(ToString::to_string).collect();
        assert_eq!(told.len(), 2, "{told:?}");
        assert!(
            told.iter().all(|fault| fault.contains(": entry 2 (")),
            "{told:?}"
        );
    });
}

#[test]
fn changing_an_entry_by_hand_is_refused_at_first() {
    block_on(async {
        let (_folder, path, _) = edited("").await;
        let journal = open(&path, 1).await.expect("opens");
        journal.close().await;
        // `edit` drops the trigger; a fresh journal has it
        let folder = tempfile::tempdir().expect("a folder");
        let fresh = folder.path().join("journal.sqlite");
        let journal = open(&fresh, 1).await.expect("opens");
        journal.append(vec![note(1)]).await.expect("recorded");
        journal.close().await;
        let connect = sqlx::sqlite::SqliteConnectOptions::new().filename(&fresh);
        let mut conn = <sqlx::SqliteConnection as sqlx::Connection>::connect_with(&connect)
            .await
            .expect("opens");
        let refused = sqlx::query("UPDATE entry SET text = ''")
            .execute(&mut conn)
            .await;
        let why = refused.expect_err("refused").to_string();
        assert!(why.contains("record a correction instead"), "{why}");
    });
}

#[test]
fn a_sound_copy_mends_every_damage() {
    block_on(async {
        for (sql, mended, new) in [
            (
                "UPDATE entry SET text = replace(text, 'note 3', 'x') WHERE seq = 3",
                1,
                0,
            ),
            ("UPDATE entry SET text = 'honey'", 6, 0),
            ("UPDATE entry SET hash = zeroblob(32) WHERE seq = 6", 1, 0),
            ("UPDATE entry SET id = zeroblob(16) WHERE seq = 5", 1, 0),
            (
                "UPDATE entry SET seq = 100 WHERE seq = 2; UPDATE entry SET seq = 2 WHERE seq = 3; UPDATE entry SET seq = 3 WHERE seq = 100;",
                2,
                0,
            ),
            ("DELETE FROM entry WHERE seq IN (2, 6)", 0, 2),
            ("DELETE FROM entry; DELETE FROM head", 0, 6),
        ] {
            let (_folder, path, export) = edited(sql).await;
            let journal = open(&path, 1).await.expect("opens");
            let joined = journal
                .import(export.as_bytes(), |_| ())
                .await
                .expect("taken in");
            assert_eq!((joined.mended, joined.new), (mended, new), "{sql}");
            let found = journal.verify().await.expect("reads");
            assert!(found.is_sound(), "{sql}: {found:?}");
            assert_eq!(exported(&journal).await, export, "{sql}");
        }
    });
}

#[test]
fn a_damaged_journal_is_not_passed_on_but_can_be_rescued() {
    block_on(async {
        let sql = "UPDATE entry SET text = replace(text, 'note 3', 'note 9') WHERE seq = 3";
        let (folder, path, export) = edited(sql).await;
        let out = folder.path().join("out.jsonl");
        let journal = open(&path, 1).await.expect("opens");
        let refused = journal.export_file(&out, |_| ()).await;
        assert!(matches!(
            refused,
            Err(StoreError::DamagedEntry { seq: 3, .. })
        ));
        assert!(!out.exists() && !folder.path().join("out.jsonl.part").exists());
        let clean = in_memory(5).await;
        let refused = clean.merge(&path, |_| ()).await;
        assert!(
            matches!(refused, Err(StoreError::Other { seq: 3, .. })),
            "{refused:?}"
        );
        assert!(clean.is_empty().await.expect("reads"));

        let rescue = journal.rescue_file(&out, |_| ()).await.expect("written");
        assert_eq!((rescue.entries, rescue.left_out.len()), (5, 1));
        assert!(rescue.left_out[0].contains("entry 3"), "{rescue:?}");
        let joined = clean.import_file(&out, |_| ()).await.expect("taken in");
        assert_eq!(joined.new, 5);
        assert_eq!(
            joined.gaps.iter().map(|gap| gap.before).collect::<Vec<_>>(),
            [4]
        );
        // the rest turns up
        let joined = clean
            .import(export.as_bytes(), |_| ())
            .await
            .expect("taken in");
        assert!(joined.gaps.is_empty() && joined.new == 1);
        assert_eq!(exported(&clean).await, export);
    });
}
