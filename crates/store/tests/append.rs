//! Appending: numbered, whole, checked, and read back as written.

mod common;

use common::{block_on, device, exported, id, in_memory, note, open, said, with_notes};
use hive::{Known, What};
use store::{Cursor, Hash, Pending, RecordFault, StoreError};

#[test]
fn entries_are_numbered_without_gaps_over_batches_and_openings() {
    block_on(async {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("deep/er/journal.sqlite");
        let journal = open(&path, 1).await?;
        let first = journal.append(vec![note(1), note(2)]).await?;
        journal.close().await;

        let journal = open(&path, 9).await?;
        let second = journal.append(vec![note(3)]).await?;
        let all: Vec<_> = first.into_iter().chain(second).collect();
        assert_eq!(all.iter().map(|e| e.seq).collect::<Vec<_>>(), [1, 2, 3]);
        assert!(all.iter().all(|e| e.device == device(1)));
        assert_eq!(journal.entries().await?, all);
        assert_eq!(
            (journal.len().await?, journal.is_empty().await?),
            (3, false)
        );
        let heads = journal.heads().await?;
        assert_eq!((heads[0].device, heads[0].seq), (device(1), 3));
        assert!(
            exported(&journal)
                .await
                .contains(&heads[0].hash.to_string())
        );
        assert_ne!(heads[0].hash, Hash::ORIGIN);
        Ok::<_, Box<dyn std::error::Error>>(())
    })
    .expect("works");
}

#[test]
fn a_batch_is_recorded_whole_or_not_at_all() {
    block_on(async {
        let journal = with_notes(1, 1, 3).await;
        let refused = journal.append(vec![note(4), note(2), note(5)]).await;
        assert!(matches!(refused, Err(StoreError::IdTaken { id: taken }) if taken == id(2)));
        assert_eq!(journal.len().await.expect("reads"), 3);
        let next = journal.append(vec![note(5)]).await.expect("recorded");
        assert_eq!(next[0].seq, 4);
        assert!(
            journal
                .append(vec![])
                .await
                .expect("nothing to do")
                .is_empty()
        );
    });
}

#[test]
fn a_figure_that_is_not_finite_is_refused_not_turned_into_nothing() {
    block_on(async {
        let journal = in_memory(1).await;
        let fed = |litres| {
            said(
                1,
                Known::Fed {
                    food: "1:1 syrup".into(),
                    litres: Some(litres),
                    mass_kg: None,
                },
            )
        };
        let refused = journal.append(vec![fed(f64::NAN)]).await;
        assert!(
            matches!(
                &refused,
                Err(StoreError::Unkeepable {
                    why: RecordFault::NotFaithful,
                    ..
                })
            ),
            "{refused:?}"
        );
        assert!(journal.is_empty().await.expect("reads"));
        // a third has no short decimal form; it comes back to the last bit
        let third = journal
            .append(vec![fed(1.0 / 3.0)])
            .await
            .expect("recorded");
        assert_eq!(journal.entries().await.expect("reads"), third);
        assert_eq!(third[0].what, fed(1.0 / 3.0).what);
    });
}

#[test]
fn an_entry_longer_than_a_line_may_be_is_refused() {
    block_on(async {
        let journal = in_memory(1).await;
        let long = said(
            1,
            Known::Note {
                text: "x".repeat(exchange::record::MAX_ENTRY),
            },
        );
        assert!(matches!(
            journal.append(vec![long]).await,
            Err(StoreError::Unkeepable {
                why: RecordFault::TooLong { .. },
                ..
            })
        ));
    });
}

#[test]
fn a_check_sees_the_journal_as_it_stands_and_can_refuse() {
    block_on(async {
        let journal = with_notes(1, 1, 3).await;
        let refused = journal
            .append_with(|standing| {
                assert_eq!(standing.entries.len(), 3);
                assert_eq!((standing.device, standing.next_seq), (device(1), 4));
                Err::<Vec<Pending>, _>("there is no hive Ironbrak")
            })
            .await;
        let Err(StoreError::Refused(why)) = refused else {
            panic!("{refused:?}");
        };
        assert_eq!(why.to_string(), "there is no hive Ironbrak");
        assert_eq!(journal.len().await.expect("reads"), 3);

        let written = journal
            .append_with(|standing| {
                Ok::<_, StoreError>(vec![note(100 + u128::from(standing.next_seq))])
            })
            .await
            .expect("recorded");
        assert_eq!(written[0].id, id(104));
    });
}

#[test]
fn a_batch_decided_on_an_older_journal_is_refused() {
    block_on(async {
        let journal = with_notes(1, 1, 3).await;
        let (entries, cursor) = journal
            .entries_since(Cursor::default())
            .await
            .expect("reads");
        assert_eq!(entries.len(), 3);
        journal.append(vec![note(4)]).await.expect("recorded");
        let overtaken = journal.append_as_of(cursor, vec![note(5)]).await;
        assert!(matches!(overtaken, Err(StoreError::Overtaken { .. })));

        let (new, cursor) = journal.entries_since(cursor).await.expect("reads");
        assert_eq!(new.iter().map(|e| e.id).collect::<Vec<_>>(), [id(4)]);
        journal
            .append_as_of(cursor, vec![note(5)])
            .await
            .expect("recorded");
        assert_eq!(journal.len().await.expect("reads"), 5);
    });
}

#[test]
fn kinds_and_fields_of_a_newer_program_survive_byte_for_byte() {
    block_on(async {
        // spaces, an unknown kind, unknown fields, a long number: nothing of it is ours to tidy
        let id = id(77);
        let device = device(8);
        let text = format!(
            r#"{{"v":2, "id":"{id}","device":"{device}","seq":1,"at":"2026-09-12T00:00:00Z","recorded":"2026-09-12T00:00:00Z","zone":"+10:00","by":"keeper","moon":{{"phase": 0.30000000000000004441}},"what":{{"kind":"sung_to","song":"été \u00e9","n":123456789012345678901234567890}}}}"#
        );
        let hash = Hash::ORIGIN.followed_by(text.as_bytes());
        let zeros = Hash::ORIGIN;
        let export = format!(
            "{{\"journal\":\"combwright\",\"version\":1,\"entries\":1}}\n{{\"prev\":\"{zeros}\",\"hash\":\"{hash}\",\"entry\":{text}}}\n"
        );
        let journal = in_memory(1).await;
        let joined = journal
            .import(export.as_bytes(), |_| ())
            .await
            .expect("taken in");
        assert_eq!(joined.new, 1);
        assert_eq!(exported(&journal).await, export);
        let entries = journal.entries().await.expect("reads");
        assert!(matches!(&entries[0].what, What::Foreign(map) if map["song"] == "été é"));
        assert!(journal.verify().await.expect("reads").is_sound());
    });
}
