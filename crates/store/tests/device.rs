//! Two machines never write under one device id; where that fails, nothing is lost.

mod common;

use std::fs;

use common::{block_on, device, exported, id, in_memory, note, open};
use store::{Fork, Journal, OpenOptions};

#[test]
fn the_device_id_is_made_once_and_kept() {
    block_on(async {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("journal.sqlite");
        let journal = open(&path, 1).await.expect("opens");
        assert_eq!(journal.device().await.expect("made"), device(1));
        assert_eq!(journal.device_name().await.expect("reads"), None);
        journal
            .set_device_name("phone in the bee suit")
            .await
            .expect("set");
        journal.close().await;

        let journal = open(&path, 50).await.expect("opens");
        assert_eq!(journal.device().await.expect("kept"), device(1));
        let name = journal.device_name().await.expect("reads");
        assert_eq!(name.as_deref(), Some("phone in the bee suit"));
    });
}

#[test]
fn a_copied_file_goes_on_under_a_fresh_id() {
    block_on(async {
        let folder = tempfile::tempdir().expect("a folder");
        let here = folder.path().join("desk.sqlite");
        let there = folder.path().join("phone.sqlite");
        let desk = open(&here, 1).await.expect("opens");
        desk.append(vec![note(1), note(2)]).await.expect("recorded");
        desk.close().await;
        fs::copy(&here, &there).expect("copied");

        let phone = open(&there, 2).await.expect("opens");
        let on_phone = phone.append(vec![note(3)]).await.expect("recorded");
        assert_eq!((on_phone[0].device, on_phone[0].seq), (device(2), 1));
        phone.close().await;

        let desk = open(&here, 9).await.expect("opens");
        let on_desk = desk.append(vec![note(4)]).await.expect("recorded");
        assert_eq!((on_desk[0].device, on_desk[0].seq), (device(1), 3));
        let joined = desk.merge(&there, |_| ()).await.expect("merged");
        assert_eq!((joined.new, joined.known, joined.gave_up), (1, 2, None));
        assert!(joined.forks.is_empty() && joined.gaps.is_empty());
        assert!(desk.verify().await.expect("reads").is_sound());
    });
}

#[test]
fn a_backup_put_back_goes_on_under_a_fresh_id() {
    block_on(async {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("journal.sqlite");
        let backup = folder.path().join("backup");
        let journal = open(&path, 1).await.expect("opens");
        journal.append(vec![note(1)]).await.expect("recorded");
        journal.close().await;
        fs::copy(&path, &backup).expect("copied");
        let journal = open(&path, 1).await.expect("opens");
        journal.append(vec![note(2)]).await.expect("recorded");
        journal.close().await;

        fs::remove_file(&path).expect("lost");
        fs::copy(&backup, &path).expect("put back");
        let journal = open(&path, 5).await.expect("opens");
        let written = journal.append(vec![note(3)]).await.expect("recorded");
        assert_eq!((written[0].device, written[0].seq), (device(5), 1));
    });
}

#[test]
fn a_file_that_meets_later_entries_of_its_own_gives_its_id_up() {
    block_on(async {
        // a disk set back to an older state cannot be noticed; the phone knows better
        let first = common::with_notes(1, 1, 2).await;
        let early = exported(&first).await;
        first.append(vec![note(3)]).await.expect("recorded");
        let late = exported(&first).await;

        let set_back = common::with_notes(1, 1, 2).await;
        assert_eq!(exported(&set_back).await, early);
        let joined = set_back
            .import(late.as_bytes(), |_| ())
            .await
            .expect("taken in");
        assert_eq!((joined.new, joined.gave_up), (1, Some(device(1))));
        assert!(joined.forks.is_empty());
        let next = set_back.append(vec![note(4)]).await.expect("recorded");
        assert_eq!((next[0].device, next[0].seq), (device(2), 1));
        assert!(set_back.verify().await.expect("reads").is_sound());
    });
}

#[test]
fn a_fork_is_kept_on_both_branches_and_told() {
    block_on(async {
        let one = common::with_notes(1, 1, 2).await;
        let other = common::with_notes(1, 1, 2).await;
        one.append(vec![note(3)]).await.expect("recorded");
        other
            .append(vec![note(4), note(5)])
            .await
            .expect("recorded");
        let (from_one, from_other) = (exported(&one).await, exported(&other).await);

        let joined = one
            .import(from_other.as_bytes(), |_| ())
            .await
            .expect("taken in");
        let [
            Fork {
                device: forked,
                seq,
                ids,
            },
        ] = &joined.forks[..]
        else {
            panic!("{joined:?}");
        };
        assert_eq!((*forked, *seq, joined.new), (device(1), 3, 2));
        let mut ids = ids.clone();
        ids.sort();
        assert_eq!(ids, [id(3), id(4)]);
        assert_eq!(joined.gave_up, Some(device(1)));

        other
            .import(from_one.as_bytes(), |_| ())
            .await
            .expect("taken in");
        assert_eq!(exported(&one).await, exported(&other).await);
        assert_eq!(one.len().await.expect("reads"), 5);
        let found = one.verify().await.expect("reads");
        assert!(found.is_sound(), "both branches hold: {found:?}");
        assert_eq!(found.forks, joined.forks);
        // and neither writes on under the id
        let next = one.append(vec![note(6)]).await.expect("recorded");
        assert_eq!(next[0].device, device(2));
    });
}

#[test]
fn taking_ones_own_export_back_changes_nothing() {
    block_on(async {
        let journal = common::with_notes(1, 1, 4).await;
        let export = exported(&journal).await;
        let joined = journal
            .import(export.as_bytes(), |_| ())
            .await
            .expect("taken in");
        assert_eq!((joined.new, joined.known, joined.gave_up), (0, 4, None));
        let fresh = in_memory(7).await;
        fresh
            .import(export.as_bytes(), |_| ())
            .await
            .expect("taken in");
        assert_eq!(exported(&fresh).await, export);
        assert_eq!(
            fresh.heads().await.expect("reads"),
            journal.heads().await.expect("reads")
        );
    });
}

#[test]
fn a_journal_is_not_merged_into_itself() {
    block_on(async {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("journal.sqlite");
        let journal = open(&path, 1).await.expect("opens");
        let same = folder
            .path()
            .join("../")
            .join(folder.path().file_name().expect("named"));
        let refused = journal.merge(same.join("journal.sqlite"), |_| ()).await;
        assert!(matches!(refused, Err(store::StoreError::Itself { .. })));
        let reading = Journal::open(&path, OpenOptions::read())
            .await
            .expect("opens");
        assert!(reading.is_empty().await.expect("reads"));
    });
}
