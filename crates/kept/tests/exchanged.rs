//! What devices exchange is in the file, once each, in the order of arrival.

mod support;

use std::collections::BTreeSet;
use std::sync::Arc;

use exchange::wire::ENOUGH_BYTES;
use exchange::{Hash, Position, Pull, Pulled, Pushed, Record};
use hive::Known;
use kept::Kept;
use server::{Exchange, ExchangeError};
use store::{Journal, OpenOptions};
use support::{chain, chain_of, edit, entry, open};

async fn pull(kept: &Kept, since: Option<Position>, limit: usize) -> Pulled {
    kept.pull(Pull { since, limit }).await.expect("reads")
}

/// Everything handed out, page by page, with the sizes of the pages.
async fn all(kept: &Kept, limit: usize) -> (Vec<Record>, Vec<usize>) {
    let (mut since, mut records, mut pages) = (None, Vec::new(), Vec::new());
    loop {
        let Pulled::Page {
            records: page,
            next,
            more,
        } = pull(kept, since, limit).await
        else {
            panic!("it knows its own places");
        };
        pages.push(page.len());
        records.extend(page);
        since = next;
        if !more {
            return (records, pages);
        }
    }
}

#[tokio::test]
async fn what_is_acknowledged_is_in_the_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let kept = Kept::new(open(folder.path()).await);
    let records = chain(1, 3);
    let pushed = kept.push(records.clone()).await.expect("taken");
    assert_eq!(pushed, Pushed { new: 3, known: 0 });
    // another program, that shares nothing with this one but the file
    let other = Journal::open(folder.path().join(store::FILE_NAME), OpenOptions::read()).await;
    let seen = Kept::new(other.expect("opens"));
    assert_eq!(all(&seen, 500).await.0, records);
    let again = kept.push(records).await.expect("taken");
    assert_eq!(again, Pushed { new: 0, known: 3 });
    assert_eq!(kept.about().await.expect("reads").entries, 3);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn many_phones_at_once_lose_nothing_and_are_handed_out_in_one_order() {
    const PHONES: u64 = 12;
    let folder = tempfile::tempdir().expect("a folder");
    let kept = Arc::new(Kept::new(open(folder.path()).await));
    let phones: Vec<_> = (1..=PHONES)
        .map(|phone| {
            let kept = Arc::clone(&kept);
            tokio::spawn(async move {
                for part in chain(phone, 40).chunks(8) {
                    // an answer lost on the way: given twice
                    for _ in 0..2 {
                        kept.push(part.to_vec()).await.expect("taken");
                    }
                    // and reading goes on meanwhile
                    assert!(matches!(pull(&kept, None, 5).await, Pulled::Page { .. }));
                }
            })
        })
        .collect();
    for phone in phones {
        phone.await.expect("the phone is served");
    }
    let (records, _) = all(&kept, 500).await;
    let once: BTreeSet<_> = records.iter().map(|record| record.hash).collect();
    assert_eq!((records.len(), once.len()), (40 * 12, 40 * 12));
    for phone in 1..=PHONES {
        let seqs: Vec<u64> = records
            .iter()
            .filter(|record| record.device == support::device(phone))
            .map(|record| record.seq)
            .collect();
        assert!(seqs.is_sorted(), "each device's in its own order");
    }
    let found = kept.journal().verify().await.expect("reads");
    assert!(found.is_sound() && found.forks.is_empty(), "{found:?}");
}

#[tokio::test]
async fn pages_follow_each_other_without_gap_or_overlap() {
    let folder = tempfile::tempdir().expect("a folder");
    let kept = Kept::new(open(folder.path()).await);
    let records = chain(1, 7);
    kept.push(records.clone()).await.expect("taken");
    assert_eq!(all(&kept, 3).await, (records.clone(), vec![3, 3, 1]));
    let Pulled::Page { next, .. } = pull(&kept, None, 500).await else {
        panic!("a page");
    };
    let at_end = pull(&kept, next, 500).await;
    let nothing_new = Pulled::Page {
        records: vec![],
        next,
        more: false,
    };
    assert_eq!(at_end, nothing_new, "the position stays where it was");
    let empty = Kept::new(support::in_memory().await);
    let nothing = Pulled::Page {
        records: vec![],
        next: None,
        more: false,
    };
    assert_eq!(pull(&empty, None, 500).await, nothing);
}

#[tokio::test]
async fn long_entries_come_in_small_pages() {
    let kept = Kept::new(support::in_memory().await);
    let long = "x".repeat(ENOUGH_BYTES * 2 / 3);
    let records = chain_of(1, 5, &long);
    kept.push(records.clone()).await.expect("taken");
    assert_eq!(all(&kept, 500).await, (records, vec![2, 2, 1]));
}

#[tokio::test]
async fn a_place_of_another_journal_is_told_as_such() {
    let kept = Kept::new(support::in_memory().await);
    kept.push(chain(1, 2)).await.expect("taken");
    let hash = chain(1, 2)[1].hash;
    let places = [(2, Hash::ORIGIN), (1, hash), (3, hash), (0, hash)];
    for (place, hash) in places.into_iter().chain([(u64::MAX, hash)]) {
        let since = Some(Position { place, hash });
        assert_eq!(pull(&kept, since, 9).await, Pulled::Elsewhere, "{place}");
    }
    let there = Some(Position { place: 2, hash });
    assert!(matches!(pull(&kept, there, 9).await, Pulled::Page { .. }));
}

#[tokio::test]
async fn a_conflict_is_refused_whole_and_named() {
    let kept = Kept::new(support::in_memory().await);
    kept.push(chain(1, 1)).await.expect("taken");
    let mut other = entry(1, 1, "note 1");
    other.by = "someone else".into();
    let (other, _) = Record::written(&other, Hash::ORIGIN).expect("sound");
    let id = other.id;
    let refused = kept.push([chain(2, 1), vec![other]].concat()).await;
    assert_eq!(refused, Err(ExchangeError::Conflict { id }));
    assert_eq!(kept.about().await.expect("reads").entries, 1);
}

#[tokio::test]
async fn entries_of_the_future_travel_byte_for_byte() {
    let kept = Kept::new(support::in_memory().await);
    let text = chain(1, 1)[0]
        .text
        .replace("\"v\":1", "\"v\":9,  \"moon\" : [1.0, null]")
        .replace("\"kind\":\"note\"", "\"kind\":\"hummed\"");
    let hash = Hash::ORIGIN.followed_by(text.as_bytes());
    let (record, _) = Record::proved(Hash::ORIGIN, hash, text.clone()).expect("kept as it came");
    kept.push(vec![record]).await.expect("taken");
    assert_eq!(all(&kept, 9).await.0[0].text, text);
}

#[tokio::test]
async fn what_the_desk_records_meanwhile_goes_out_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let kept = Kept::new(open(folder.path()).await);
    kept.push(chain(1, 2)).await.expect("taken");
    let desk = open(folder.path()).await;
    let known = Known::Note {
        text: "typed at the desk".into(),
    };
    let pending = store::Pending {
        what: known.into(),
        ..entry(0xde, 1, "").into()
    };
    desk.append(vec![pending]).await.expect("recorded");
    kept.push(chain(2, 1)).await.expect("taken");
    let (records, _) = all(&kept, 2).await;
    assert_eq!(records.len(), 4);
    assert!(records[2].text.contains("typed at the desk"));
}

#[tokio::test]
async fn a_damaged_entry_holds_nobody_up_and_its_sound_copy_goes_out_anew() {
    let folder = tempfile::tempdir().expect("a folder");
    let records = chain(1, 3);
    let journal = open(folder.path()).await;
    let kept = Kept::new(journal);
    kept.push(records.clone()).await.expect("taken");
    edit(
        folder.path(),
        "UPDATE entry SET text = replace(text, 'note 2', 'note 7')",
    )
    .await;
    let (sound, _) = all(&kept, 1).await;
    assert_eq!(sound, [records[0].clone(), records[2].clone()]);
    let Pulled::Page { next, .. } = pull(&kept, None, 500).await else {
        panic!("a page");
    };
    let mended = kept.push(vec![records[1].clone()]).await.expect("taken");
    assert_eq!(mended, Pushed { new: 1, known: 0 });
    let Pulled::Page { records: late, .. } = pull(&kept, next, 500).await else {
        panic!("a page");
    };
    assert_eq!(late, [records[1].clone()]);
}

#[tokio::test]
async fn a_full_disk_is_told_and_nothing_is_half_taken() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join(store::FILE_NAME);
    let options = OpenOptions::write(|| support::device(99)).max_bytes(256 * 1024);
    let kept = Kept::new(Journal::open(path, options).await.expect("opens"));
    kept.push(chain(1, 10)).await.expect("taken");
    let refused = kept.push(chain_of(2, 20, &"x".repeat(40_000))).await;
    assert!(
        matches!(refused, Err(ExchangeError::Full(_))),
        "{refused:?}"
    );
    assert_eq!(kept.about().await.expect("reads").entries, 10);
    kept.push(chain(3, 2))
        .await
        .expect("there is room for this");
}

#[tokio::test]
async fn a_busy_file_is_told_as_passing() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join(store::FILE_NAME);
    let options = OpenOptions::write(|| support::device(99));
    let patience = std::time::Duration::from_millis(50);
    let journal = Journal::open(path, options.patience(patience)).await;
    let kept = Kept::new(journal.expect("opens"));
    let holder = support::hold(folder.path()).await;
    let refused = kept.push(chain(1, 1)).await;
    assert!(
        matches!(refused, Err(ExchangeError::Busy(_))),
        "{refused:?}"
    );
    drop(holder);
    kept.push(chain(1, 1)).await.expect("taken");
}
