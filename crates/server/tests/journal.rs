//! The exchange over HTTP: the same round that a phone runs, against the server's own routes.

mod support;

use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;
use std::convert::Infallible;

use axum::Router;
use axum::http::StatusCode;
use exchange::{
    Far, FarError, Hash, Near, Position, Pull, Pulled, Push, Pushed, Record, RoundError, round,
};
use serde_json::json;
use support::{PHONE, Told, ask, bench, chain, entry, push};

/// The far side as a paired phone sees it.
struct Wire<'a> {
    routes: &'a Router,
    token: String,
}

fn read<T: serde::de::DeserializeOwned>(told: &Told) -> Result<T, FarError> {
    match told.status {
        StatusCode::OK => serde_json::from_str(&told.text).map_err(|why| FarError::Garbled {
            why: why.to_string(),
        }),
        StatusCode::UNAUTHORIZED => Err(FarError::Unpaired),
        _ => Err(FarError::Refused(
            serde_json::from_str(&told.text).expect("a problem"),
        )),
    }
}

impl Far for Wire<'_> {
    async fn push(&self, push: &Push) -> Result<Pushed, FarError> {
        let body = serde_json::to_string(push).expect("JSON");
        let question = ask("POST", "/api/v1/journal/records")
            .from(PHONE)
            .token(&self.token)
            .text(&body);
        read(&question.of(self.routes).await)
    }
    async fn pull(&self, pull: Pull) -> Result<Pulled, FarError> {
        let since = pull
            .since
            .map(|at| format!("place={}&hash={}&", at.place, at.hash))
            .unwrap_or_default();
        let path = format!("/api/v1/journal/records?{since}limit={}", pull.limit);
        read(
            &ask("GET", &path)
                .from(PHONE)
                .token(&self.token)
                .of(self.routes)
                .await,
        )
    }
}

/// A phone's journal.
struct Phone {
    held: RefCell<Vec<Record>>,
    waiting: RefCell<BTreeSet<Hash>>,
    position: Cell<Option<Position>>,
}

impl Phone {
    fn of(records: Vec<Record>) -> Self {
        let waiting = records.iter().map(|record| record.hash).collect();
        Self {
            held: records.into(),
            waiting: RefCell::new(waiting),
            position: Cell::new(None),
        }
    }

    fn hashes(&self) -> BTreeSet<Hash> {
        self.held
            .borrow()
            .iter()
            .map(|record| record.hash)
            .collect()
    }
}

impl Near for Phone {
    type Error = Infallible;
    async fn position(&self) -> Result<Option<Position>, Infallible> {
        Ok(self.position.get())
    }
    async fn holds_any(&self, records: &[Record]) -> Result<bool, Infallible> {
        let held = self.hashes();
        Ok(records.iter().any(|record| held.contains(&record.hash)))
    }
    async fn begin_anew(&self) -> Result<(), Infallible> {
        self.position.set(None);
        self.waiting.replace(self.hashes());
        Ok(())
    }
    async fn keep(&self, records: Vec<Record>, upto: Position) -> Result<(), Infallible> {
        let held = self.hashes();
        for record in records {
            self.waiting.borrow_mut().remove(&record.hash);
            if !held.contains(&record.hash) {
                self.held.borrow_mut().push(record);
            }
        }
        self.position.set(Some(upto));
        Ok(())
    }
    async fn waiting(&self, after: u64, most: usize) -> Result<Vec<(u64, Record)>, Infallible> {
        let (held, waiting) = (self.held.borrow(), self.waiting.borrow());
        let placed = (1..).zip(held.iter().cloned());
        let found = placed.filter(|(at, record)| *at > after && waiting.contains(&record.hash));
        Ok(found.take(most).collect())
    }
}

#[tokio::test]
async fn two_phones_that_exchange_with_the_server_end_with_the_same_journal() {
    let bench = bench();
    let (one, two) = (Phone::of(chain(1, 1200)), Phone::of(chain(2, 30)));
    let wire = Wire {
        routes: &bench.routes,
        token: bench.pair().await,
    };
    assert_eq!(round(&one, &wire).await.expect("goes through").given, 1200);
    assert_eq!(round(&two, &wire).await.expect("goes through").given, 30);
    round(&one, &wire).await.expect("goes through");
    assert_eq!(one.hashes(), two.hashes());
    assert_eq!(bench.journal.records().len(), 1230);
    assert!(one.waiting.borrow().is_empty());
}

#[tokio::test]
async fn a_device_that_is_not_paired_keeps_its_entries_and_is_told() {
    let bench = bench();
    let wire = Wire {
        routes: &bench.routes,
        token: "stale".into(),
    };
    let phone = Phone::of(chain(1, 3));
    let broken = round(&phone, &wire).await.expect_err("not paired");
    assert_eq!(broken, RoundError::Far(FarError::Unpaired));
    assert_eq!(
        (bench.journal.records().len(), phone.waiting.borrow().len()),
        (0, 3)
    );
}

#[tokio::test]
async fn giving_twice_changes_nothing() {
    let bench = bench();
    let body = push(&chain(1, 2));
    let give = || {
        ask("POST", "/api/v1/journal/records")
            .text(&body)
            .of(&bench.routes)
    };
    assert_eq!(give().await.json(), json!({ "new": 2, "known": 0 }));
    assert_eq!(give().await.json(), json!({ "new": 0, "known": 2 }));
    assert_eq!(bench.journal.records().len(), 2);
}

#[tokio::test]
async fn a_changed_record_and_a_conflict_are_refused_whole() {
    let bench = bench();
    let give = async |body: String| {
        ask("POST", "/api/v1/journal/records")
            .text(&body)
            .of(&bench.routes)
            .await
    };
    let told = give(push(&chain(1, 2)).replace("note 2", "note 3")).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        told.text.contains("was changed after it was recorded"),
        "{}",
        told.text
    );
    assert!(
        bench.journal.records().is_empty(),
        "nothing of a refused message is kept"
    );
    give(push(&chain(1, 1))).await;
    let mut other = entry(1, 1);
    other.by = "someone else".into();
    let other = Record::written(&other, Hash::ORIGIN).expect("sound").0;
    let told = give(push(&[chain(2, 1), vec![other]].concat())).await;
    assert_eq!(
        (told.status, told.problem().as_str()),
        (StatusCode::CONFLICT, "conflict")
    );
    assert_eq!(bench.journal.records().len(), 1);
}

#[tokio::test]
async fn an_entry_of_a_future_version_is_carried_byte_for_byte() {
    let bench = bench();
    let text = chain(1, 1)[0]
        .text
        .replace("\"v\":1", "\"v\":9,  \"moon\" : [1.0, null]");
    let hash = Hash::ORIGIN.followed_by(text.as_bytes());
    let (record, _) = Record::proved(Hash::ORIGIN, hash, text).expect("kept as it came");
    let told = ask("POST", "/api/v1/journal/records")
        .text(&push(std::slice::from_ref(&record)))
        .of(&bench.routes)
        .await;
    assert_eq!(told.status, StatusCode::OK, "{}", told.text);
    let back = ask("GET", "/api/v1/journal/records")
        .of(&bench.routes)
        .await;
    assert!(back.text.contains(&record.json()), "{}", back.text);
}

#[tokio::test]
async fn messages_beyond_the_bounds_are_refused_with_the_bound() {
    let bench = bench();
    let give = async |body: String| {
        ask("POST", "/api/v1/journal/records")
            .text(&body)
            .of(&bench.routes)
            .await
    };
    let told = give(push(&chain(1, 501))).await;
    assert_eq!(told.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(
        told.text.contains("501 records, at most 500"),
        "{}",
        told.text
    );
    let told = give(format!("{{\"records\":[{}]}}", " ".repeat(5 * 1024 * 1024))).await;
    assert_eq!(
        (told.status, told.problem().as_str()),
        (StatusCode::PAYLOAD_TOO_LARGE, "too_large")
    );
}

#[tokio::test]
async fn pages_follow_each_other_without_gap_or_overlap() {
    let bench = bench();
    ask("POST", "/api/v1/journal/records")
        .text(&push(&chain(1, 7)))
        .of(&bench.routes)
        .await;
    let (mut since, mut seen) = (String::new(), Vec::new());
    loop {
        let path = format!("/api/v1/journal/records?{since}limit=3");
        let told = ask("GET", &path).of(&bench.routes).await;
        let page = serde_json::from_str(&told.text).expect("a page");
        let Pulled::Page {
            records,
            next: Some(next),
            more,
        } = page
        else {
            panic!("{}", told.text);
        };
        seen.extend(records.iter().map(|record| record.seq));
        since = format!("place={}&hash={}&", next.place, next.hash);
        if !more {
            break;
        }
    }
    assert_eq!(seen, [1, 2, 3, 4, 5, 6, 7]);
    let elsewhere = format!("place=7&hash={}", Hash::ORIGIN);
    let told = ask("GET", &format!("/api/v1/journal/records?{elsewhere}"))
        .of(&bench.routes)
        .await;
    assert_eq!(told.json(), json!({ "answer": "elsewhere" }));
}
