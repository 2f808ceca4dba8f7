//! Measures the exchange with a server whose journal is a file:
//! `COMBWRIGHT_SKIP_WEB=1 cargo run --release -p kept --example exchange_speed -- FOLDER [ENTRIES] [keep]`.
//! The folder decides which disk is measured; the figures go to BENCHMARKS.md; `keep` leaves the
//! journal there, for `bench/warm-start.sh`.
//!
//! A phone's journal, held in memory, runs the exchange's own rounds over HTTP on loopback; when the
//! server asks it to wait, it waits, as a phone does.
#![expect(clippy::print_stdout, reason = "its output is its purpose")]

use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;
use std::convert::Infallible;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

use axum::body::Body;
use axum::http::{Request, StatusCode};
use exchange::{Far, FarError, Hash, Near, Position, Pull, Pulled, Push, Pushed, Record, round};
use hive::{DeviceId, Entry, EntryId, Known};
use hyper_util::client::legacy::Client;
use hyper_util::client::legacy::connect::HttpConnector;
use hyper_util::rt::TokioExecutor;
use kept::Kept;
use serde::de::DeserializeOwned;
use server::{Config, Server};
use store::{FILE_NAME, Journal, OpenOptions};
use uuid::Uuid;

#[tokio::main]
async fn main() {
    let mut args = std::env::args().skip(1);
    let folder = args.next().map_or_else(std::env::temp_dir, PathBuf::from);
    let entries: u64 = args.next().and_then(|n| n.parse().ok()).unwrap_or(50_000);
    let folder = folder.join(format!("combwright-exchange-{}", std::process::id()));
    measure(&folder, entries).await;
    if args.next().is_some_and(|word| word == "keep") {
        println!("kept in {}", folder.display());
    } else {
        // a folder left behind is told by its name
        let _ = std::fs::remove_dir_all(&folder);
    }
}

async fn measure(folder: &std::path::Path, entries: u64) {
    let options = OpenOptions::write(|| DeviceId(Uuid::from_u128(1)));
    let journal = Journal::open(folder.join(FILE_NAME), options).await;
    let journal = journal.expect("the journal opens");
    let config = Config {
        port: 0,
        ..Config::new(folder.to_owned())
    };
    let kept = Arc::new(Kept::new(journal.clone()));
    let server = Server::bind(&config, kept, |_| {}).expect("the server starts");
    let wire = Wire {
        client: Client::builder(TokioExecutor::new()).build_http(),
        base: format!("{}api/v1/journal/records", server.welcome().here),
        requests: Cell::new(0),
        waited: Cell::new(Duration::ZERO),
    };
    tokio::spawn(server.run(std::future::pending()));

    let records = chain(2, entries);
    let bytes: usize = records.iter().map(|record| record.text.len()).sum();
    println!("{entries} entries, {:.1} MB of text", bytes as f64 / 1e6);
    let giver = Phone::of(records);
    run("a phone gives all to an empty server", &giver, &wire).await;
    assert_eq!(journal.len().await.expect("reads"), entries);
    let taker = Phone::of(Vec::new());
    run("another phone takes all", &taker, &wire).await;
    assert_eq!(taker.held.borrow().len() as u64, entries);
    run("a round with nothing new", &taker, &wire).await;
    let new = chain(3, 20);
    taker
        .waiting
        .borrow_mut()
        .extend(new.iter().map(|r| r.hash));
    taker.held.borrow_mut().extend(new);
    run("a round with a visit's 20 entries", &taker, &wire).await;
    run("and the first phone takes them", &giver, &wire).await;
    assert_eq!(giver.held.borrow().len() as u64, entries + 20);
}

async fn run(what: &str, phone: &Phone, wire: &Wire) {
    wire.requests.set(0);
    wire.waited.set(Duration::ZERO);
    let from = Instant::now();
    let done = round(phone, wire).await.expect("the round goes through");
    let took = from.elapsed();
    println!(
        "{what}: {took:.2?}, of it {:.2?} asked to wait; {} requests, {} given, {} taken",
        wire.waited.get(),
        wire.requests.get(),
        done.given,
        done.taken
    );
}

/// The server over HTTP.
struct Wire {
    client: Client<HttpConnector, Body>,
    base: String,
    requests: Cell<u32>,
    waited: Cell<Duration>,
}

impl Wire {
    async fn ask<T: DeserializeOwned>(
        &self,
        method: &str,
        query: &str,
        body: &str,
    ) -> Result<T, FarError> {
        loop {
            self.requests.set(self.requests.get() + 1);
            let request = Request::builder()
                .method(method)
                .uri(format!("{}{query}", self.base))
                .header("content-type", "application/json")
                .body(Body::from(body.to_owned()))
                .expect("a request");
            let response = self.client.request(request).await.expect("an answer");
            let status = response.status();
            if status == StatusCode::TOO_MANY_REQUESTS {
                let seconds = response.headers()["retry-after"].to_str().expect("text");
                let wait = Duration::from_secs(seconds.parse().expect("seconds"));
                tokio::time::sleep(wait).await;
                self.waited.set(self.waited.get() + wait);
                continue;
            }
            let body = Body::new(response.into_body());
            let bytes = axum::body::to_bytes(body, usize::MAX)
                .await
                .expect("a body");
            assert_eq!(
                status,
                StatusCode::OK,
                "{}",
                String::from_utf8_lossy(&bytes)
            );
            return serde_json::from_slice(&bytes).map_err(|why| FarError::Garbled {
                why: why.to_string(),
            });
        }
    }
}

impl Far for Wire {
    async fn push(&self, push: &Push) -> Result<Pushed, FarError> {
        let body = serde_json::to_string(push).expect("JSON");
        self.ask("POST", "", &body).await
    }

    async fn pull(&self, pull: Pull) -> Result<Pulled, FarError> {
        let since = pull
            .since
            .map(|at| format!("place={}&hash={}&", at.place, at.hash));
        let query = format!("?{}limit={}", since.unwrap_or_default(), pull.limit);
        self.ask("GET", &query, "").await
    }
}

/// A phone's journal in memory.
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
}

impl Near for Phone {
    type Error = Infallible;

    async fn position(&self) -> Result<Option<Position>, Infallible> {
        Ok(self.position.get())
    }

    async fn holds_any(&self, records: &[Record]) -> Result<bool, Infallible> {
        let held = self.held.borrow();
        Ok(held.iter().any(|held| records.contains(held)))
    }

    async fn begin_anew(&self) -> Result<(), Infallible> {
        self.position.set(None);
        let all = self
            .held
            .borrow()
            .iter()
            .map(|record| record.hash)
            .collect();
        self.waiting.replace(all);
        Ok(())
    }

    async fn keep(&self, records: Vec<Record>, upto: Position) -> Result<(), Infallible> {
        let mut waiting = self.waiting.borrow_mut();
        // what waited is held already; the rest came from another device
        let new = records
            .into_iter()
            .filter(|record| !waiting.remove(&record.hash));
        self.held.borrow_mut().extend(new);
        self.position.set(Some(upto));
        Ok(())
    }

    async fn waiting(&self, after: u64, most: usize) -> Result<Vec<(u64, Record)>, Infallible> {
        let (held, waiting) = (self.held.borrow(), self.waiting.borrow());
        let rest = (1..).zip(held.iter()).skip(after as usize);
        let found = rest.filter(|(_, record)| waiting.contains(&record.hash));
        Ok(found
            .take(most)
            .map(|(at, record)| (at, record.clone()))
            .collect())
    }
}

/// A device's chain of notes, as long as spoken ones are.
fn chain(of: u64, upto: u64) -> Vec<Record> {
    let mut prev = Hash::ORIGIN;
    (1..=upto)
        .map(|seq| {
            let at = jiff::Timestamp::from_second(1_760_000_000 + seq.cast_signed());
            let at = at.expect("in range");
            let text = format!("comb {seq}: two thirds capped on this side, brood on the other");
            let entry = Entry {
                v: hive::entry::FORMAT,
                id: EntryId(Uuid::from_u64_pair(of, seq)),
                device: DeviceId(Uuid::from_u64_pair(0xd0, of)),
                seq,
                at,
                recorded: at,
                zone: "Australia/Sydney".into(),
                by: "keeper".into(),
                hive: None,
                visit: None,
                said: Some(text.clone()),
                what: Known::Note { text }.into(),
                extra: serde_json::Map::new(),
            };
            let (record, _) = Record::written(&entry, prev).expect("sound");
            prev = record.hash;
            record
        })
        .collect()
}
