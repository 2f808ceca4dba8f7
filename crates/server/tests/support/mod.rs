//! A server within the test's process, and requests to it from anywhere.
#![allow(dead_code, reason = "each test file uses its part")]

use std::net::{IpAddr, SocketAddr};
use std::path::PathBuf;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, Mutex};

use axum::Router;
use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::{Method, Request, StatusCode};
use exchange::{Hash, Record};
use hive::{DeviceId, Entry, EntryId, Known};
use jiff::Timestamp;
use serde_json::Value;
use server::memory::MemoryJournal;
use server::{Config, Embedded, Lan, News, Server};
use tower::ServiceExt as _;
use uuid::Uuid;

/// Where a request comes from.
pub(crate) const DESK: IpAddr = IpAddr::V4(std::net::Ipv4Addr::LOCALHOST);
pub(crate) const PHONE: IpAddr = IpAddr::V4(std::net::Ipv4Addr::new(192, 168, 1, 30));

/// A server on the local network whose journal can be looked into.
pub(crate) struct Bench {
    pub(crate) routes: Router,
    pub(crate) journal: Arc<MemoryJournal>,
    pub(crate) news: Arc<Mutex<Vec<News>>>,
    pub(crate) code: String,
}

/// An answer, read to its end.
#[derive(Debug, Clone)]
pub(crate) struct Told {
    pub(crate) status: StatusCode,
    pub(crate) headers: axum::http::HeaderMap,
    pub(crate) text: String,
}

impl Told {
    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.text).unwrap_or(Value::Null)
    }
    pub(crate) fn problem(&self) -> String {
        self.json()["code"].as_str().unwrap_or_default().to_owned()
    }
}

/// One question.
pub(crate) struct Ask {
    from: IpAddr,
    request: axum::http::request::Builder,
    body: Vec<u8>,
}

pub(crate) fn ask(method: &str, path: &str) -> Ask {
    let method: Method = method.parse().expect("a method");
    Ask {
        from: DESK,
        request: Request::builder().method(method).uri(path),
        body: vec![],
    }
    .field("host", "localhost:8427")
}

impl Ask {
    pub(crate) fn from(mut self, from: IpAddr) -> Self {
        self.from = from;
        self
    }
    pub(crate) fn field(mut self, name: &str, value: &str) -> Self {
        self.request = self.request.header(name, value);
        self
    }
    pub(crate) fn token(self, token: &str) -> Self {
        self.field("authorization", &format!("Bearer {token}"))
    }
    pub(crate) fn json(self, value: &Value) -> Self {
        self.text(&value.to_string())
    }
    pub(crate) fn text(mut self, text: &str) -> Self {
        self.body = text.as_bytes().to_vec();
        self.field("content-type", "application/json")
    }
    pub(crate) fn bytes(mut self, bytes: Vec<u8>) -> Self {
        self.body = bytes;
        self
    }
    pub(crate) async fn of(self, routes: &Router) -> Told {
        let mut request = self.request.body(Body::from(self.body)).expect("a request");
        request
            .extensions_mut()
            .insert(ConnectInfo(SocketAddr::from((self.from, 40_000))));
        let response = routes.clone().oneshot(request).await.expect("never fails");
        let (status, headers) = (response.status(), response.headers().clone());
        let bytes = axum::body::to_bytes(response.into_body(), usize::MAX)
            .await
            .expect("a body");
        Told {
            status,
            headers,
            text: String::from_utf8_lossy(&bytes).into_owned(),
        }
    }
}

static NUMBER: AtomicU32 = AtomicU32::new(0);

/// A fresh folder.
pub(crate) fn folder() -> PathBuf {
    let number = NUMBER.fetch_add(1, Ordering::Relaxed);
    let folder = std::env::temp_dir().join(format!("server-{}-{number}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    folder
}

/// An app of one page.
const APP: &[Embedded] = &[Embedded {
    path: "/",
    immutable: false,
    raw: b"<!doctype html><title>A hive</title>",
    gzip: None,
    brotli: None,
}];

pub(crate) fn config(data: PathBuf) -> Config {
    Config {
        port: 0,
        lan: Lan::On { also: vec![] },
        data,
        name: "the shed".into(),
        app: APP,
    }
}

pub(crate) fn bench() -> Bench {
    let journal = Arc::new(MemoryJournal::new());
    let news = Arc::new(Mutex::new(Vec::new()));
    let heard = Arc::clone(&news);
    let server = Server::bind(&config(folder()), Arc::clone(&journal) as _, move |one| {
        heard.lock().expect("not poisoned").push(one);
    })
    .expect("binds");
    let code = server
        .welcome()
        .phones
        .clone()
        .expect("on the network")
        .code;
    Bench {
        routes: server.routes(),
        journal,
        news,
        code,
    }
}

impl Bench {
    /// Pairs the phone and gives its token.
    pub(crate) async fn pair(&self) -> String {
        let body = serde_json::json!({ "code": self.code, "name": "phone" });
        let told = ask("POST", "/api/v1/pairing")
            .from(PHONE)
            .json(&body)
            .of(&self.routes)
            .await;
        assert_eq!(told.status, StatusCode::OK, "{}", told.text);
        told.json()["token"].as_str().expect("a token").to_owned()
    }
}

pub(crate) fn device(n: u64) -> DeviceId {
    DeviceId(Uuid::from_u64_pair(0xd0, n))
}

pub(crate) fn entry(of: u64, seq: u64) -> Entry {
    let at = Timestamp::from_second(1_760_000_000 + seq.cast_signed()).expect("in range");
    Entry {
        v: hive::entry::FORMAT,
        id: EntryId(Uuid::from_u64_pair(of, seq)),
        device: device(of),
        seq,
        at,
        recorded: at,
        zone: "UTC".into(),
        by: "keeper".into(),
        hive: None,
        visit: None,
        said: Some("note all quiet".into()),
        what: Known::Note {
            text: format!("note {seq}"),
        }
        .into(),
        extra: serde_json::Map::new(),
    }
}

/// A device's chain from its first entry.
pub(crate) fn chain(of: u64, upto: u64) -> Vec<Record> {
    let mut prev = Hash::ORIGIN;
    (1..=upto)
        .map(|seq| {
            let (record, _) = Record::written(&entry(of, seq), prev).expect("sound");
            prev = record.hash;
            record
        })
        .collect()
}

pub(crate) fn push(records: &[Record]) -> String {
    let records = records.to_vec();
    serde_json::to_string(&exchange::Push { records }).expect("JSON")
}
