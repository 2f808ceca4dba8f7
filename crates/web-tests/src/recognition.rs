//! The service behind the browser's own recogniser, in the place of the real one: it takes the sound that
//! the browser sends and answers with the words that a test has it hear. All else is the browser's: its
//! microphone, its turns, its silences, its events.
//!
//! The protocol is Chromium's (`network_speech_recognition_engine_impl.cc`, `google_streaming_api.proto`
//! in its sources): the sound goes up as FLAC in one request; another, paired with it by a key, brings
//! down messages, each a length in four bytes, the highest first, and a protocol buffer.

use std::collections::HashMap;
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use axum::body::{Body, Bytes};
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse as _, Response};
use axum::routing::{get, post};
use axum_server::tls_rustls::RustlsConfig;
use futures_util::{StreamExt as _, stream};
use rustls::ServerConfig;
use rustls::pki_types::PrivateKeyDer;
use tokio::sync::mpsc;

use crate::browser::Around;

/// How long a test waits for the browser to listen.
const PATIENCE: Duration = Duration::from_mins(1);
/// A turn without a word is ended by the browser after eight seconds of sound, and a microphone that is
/// not paced runs faster: words sent later than this might come to a turn that is just ending.
const FRESH: Duration = Duration::from_millis(1200);
/// Between what a speaker's words grow by.
const WORD: Duration = Duration::from_millis(20);

/// A turn of the browser's recogniser, as the service sees it.
#[derive(Debug)]
struct Turn {
    begun: Instant,
    down: mpsc::UnboundedSender<Bytes>,
    /// Taken by the request that brings it down.
    waiting: Option<mpsc::UnboundedReceiver<Bytes>>,
    /// A turn that has brought words goes on until the page ends it.
    spoke: bool,
}

/// What the browser has asked for so far.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Asked {
    /// How many turns there were.
    pub turns: usize,
    /// Bytes of sound.
    pub sound: usize,
    /// Whether each turn's sound was FLAC by its own first bytes (RFC 9639, section 8.1).
    pub flac: bool,
    /// The language of the last turn.
    pub language: String,
    /// How many readings of a phrase are wanted.
    pub readings: usize,
}

#[derive(Debug, Default)]
struct Service {
    turns: HashMap<String, Turn>,
    asked: Asked,
    gone: bool,
}

type Shared = Arc<Mutex<Service>>;

/// The running service; dropped, it ends.
pub struct Recognition {
    service: Shared,
    at: SocketAddr,
    handle: axum_server::Handle<SocketAddr>,
}

impl Recognition {
    /// Starts one.
    pub fn start() -> Self {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).expect("a free port");
        listener.set_nonblocking(true).expect("a socket");
        let at = listener.local_addr().expect("a port");
        let service = Shared::default();
        let routes = axum::Router::new()
            .route("/speech-api/full-duplex/v1/down", get(down))
            .route("/speech-api/full-duplex/v1/up", post(up))
            .with_state(Arc::clone(&service));
        let handle = axum_server::Handle::new();
        let serving = axum_server::from_tcp_rustls(listener, RustlsConfig::from_config(tls()))
            .expect("a server")
            .handle(handle.clone())
            .serve(routes.into_make_service());
        tokio::spawn(async move { serving.await.expect("it serves") });
        Self {
            service,
            at,
            handle,
        }
    }

    /// What a browser needs around it to come here, with a microphone on which nothing is ever heard.
    /// `home` is the browser's.
    pub fn around(&self, home: &Path) -> Around {
        let still = home.join("still.conf");
        std::fs::write(&still, "pcm.!default { type null }\n").expect("a file");
        Around {
            arguments: vec![
                // whatever the browser asks of others comes here, and only here
                format!(
                    "--host-resolver-rules=MAP * {}, EXCLUDE localhost, EXCLUDE 127.0.0.1",
                    self.at
                ),
                "--ignore-certificate-errors".to_owned(),
            ],
            environment: vec![
                ("ALSA_CONFIG_PATH".into(), still.into()),
                // not the sound of whoever runs the test
                ("PULSE_SERVER".into(), "unix:/nonexistent".into()),
            ],
        }
    }

    /// Whether it has gone, as it has where there is no network.
    pub fn set_gone(&self, gone: bool) {
        let mut service = self.lock();
        service.gone = gone;
        if gone {
            // the messages that a turn waits for end, too
            service.turns.clear();
        }
    }

    /// What was asked for so far.
    pub fn asked(&self) -> Asked {
        self.lock().asked.clone()
    }

    /// Waits until the browser has begun so many turns.
    pub async fn turns(&self, wanted: usize) {
        let until = Instant::now() + PATIENCE;
        while self.asked().turns < wanted {
            assert!(Instant::now() < until, "no more turns: {:?}", self.asked());
            tokio::time::sleep(Duration::from_millis(25)).await;
        }
    }

    /// Hears a phrase in the browser's sound, once it listens: growing, then settled.
    pub async fn hear(&self, phrase: &str) {
        self.hear_as(&[phrase]).await;
    }

    /// The same, and what else the phrase may be behind its likeliest reading.
    pub async fn hear_as(&self, readings: &[&str]) {
        let down = self.listening().await;
        let words: Vec<&str> = readings[0].split(' ').collect();
        for grown in 1..words.len() {
            send(&down, &message(&[&words[..grown].join(" ")], None));
            tokio::time::sleep(WORD).await;
        }
        send(&down, &message(readings, Some(0.9)));
    }

    async fn listening(&self) -> mpsc::UnboundedSender<Bytes> {
        let until = Instant::now() + PATIENCE;
        loop {
            let found = self.lock().turns.values_mut().find_map(|turn| {
                let taken = turn.waiting.is_none() && !turn.down.is_closed();
                let open = turn.spoke || turn.begun.elapsed() < FRESH;
                (taken && open).then(|| {
                    turn.spoke = true;
                    turn.down.clone()
                })
            });
            if let Some(down) = found {
                return down;
            }
            assert!(
                Instant::now() < until,
                "it does not listen: {:?}",
                self.asked()
            );
            tokio::time::sleep(Duration::from_millis(10)).await;
        }
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Service> {
        lock(&self.service)
    }
}

impl Drop for Recognition {
    fn drop(&mut self) {
        self.handle.shutdown();
    }
}

fn lock(service: &Shared) -> std::sync::MutexGuard<'_, Service> {
    service.lock().unwrap_or_else(PoisonError::into_inner)
}

fn send(down: &mpsc::UnboundedSender<Bytes>, message: &Bytes) {
    down.send(message.clone())
        .expect("the turn ended while its words were on the way");
}

/// A server's certificate of its own; the browser is told to ask for none that it knows.
fn tls() -> Arc<ServerConfig> {
    let made = rcgen::generate_simple_self_signed(["recognition.invalid".to_owned()])
        .expect("a certificate");
    let key = PrivateKeyDer::try_from(made.signing_key.serialize_der()).expect("a key");
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let tls = ServerConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .and_then(|builder| {
            builder
                .with_no_client_auth()
                .with_single_cert(vec![made.cert.into()], key)
        });
    Arc::new(tls.expect("a configuration"))
}

type Asking = Query<HashMap<String, String>>;

fn key(asking: &HashMap<String, String>) -> String {
    asking.get("pair").cloned().unwrap_or_default()
}

impl Service {
    /// The turn with that key; whichever of its two requests comes first begins it.
    fn turn(&mut self, key: String) -> &mut Turn {
        self.turns.entry(key).or_insert_with(|| {
            let (down, waiting) = mpsc::unbounded_channel();
            Turn {
                begun: Instant::now(),
                down,
                waiting: Some(waiting),
                spoke: false,
            }
        })
    }
}

/// Brings the words down, until the turn is over.
async fn down(State(service): State<Shared>, Query(asking): Asking) -> Response {
    let mut service = lock(&service);
    if service.gone {
        return StatusCode::SERVICE_UNAVAILABLE.into_response();
    }
    let Some(words) = service.turn(key(&asking)).waiting.take() else {
        return StatusCode::CONFLICT.into_response();
    };
    let words = stream::unfold(words, |mut words| async move {
        let next = words.recv().await?;
        Some((Ok::<_, std::convert::Infallible>(next), words))
    });
    Body::from_stream(words).into_response()
}

/// Takes the sound.
async fn up(State(service): State<Shared>, Query(asking): Asking, sound: Body) -> StatusCode {
    let key = key(&asking);
    {
        let mut service = lock(&service);
        if service.gone {
            return StatusCode::SERVICE_UNAVAILABLE;
        }
        service.turn(key.clone());
        let asked = &mut service.asked;
        asked.turns += 1;
        asked.language = asking.get("lang").cloned().unwrap_or_default();
        asked.readings = asking
            .get("maxAlternatives")
            .and_then(|most| most.parse().ok())
            .unwrap_or_default();
    }
    let mut sound = sound.into_data_stream();
    let mut first = true;
    while let Some(Ok(bytes)) = sound.next().await {
        let asked = &mut lock(&service).asked;
        asked.sound += bytes.len();
        if first {
            asked.flac = bytes.starts_with(b"fLaC") && (asked.flac || asked.turns == 1);
            first = false;
        }
    }
    // the browser has ended the turn
    lock(&service).turns.remove(&key);
    StatusCode::OK
}

/// A message with one result, the likeliest reading first: settled with so much confidence, or still open.
fn message(readings: &[&str], settled: Option<f32>) -> Bytes {
    let mut result = Vec::new();
    for (at, words) in readings.iter().enumerate() {
        // SpeechRecognitionAlternative: transcript = 1, confidence = 2
        let mut alternative = nested(1, words.as_bytes());
        // the service is sure of the first alone
        if let (0, Some(confidence)) = (at, settled) {
            alternative.push(2 << 3 | 5);
            alternative.extend(confidence.to_le_bytes());
        }
        // SpeechRecognitionResult: alternative = 1, final = 2
        result.extend(nested(1, &alternative));
    }
    result.extend([2 << 3, u8::from(settled.is_some())]);
    // SpeechRecognitionEvent: result = 2
    let event = nested(2, &result);
    let length = u32::try_from(event.len()).expect("it is short");
    let mut framed = length.to_be_bytes().to_vec();
    framed.extend(event);
    framed.into()
}

/// A field that holds bytes, in a protocol buffer's wire format.
fn nested(field: u8, bytes: &[u8]) -> Vec<u8> {
    let mut all = vec![field << 3 | 2];
    let mut length = bytes.len();
    while length > 127 {
        all.push((length % 128) as u8 | 128);
        length /= 128;
    }
    all.push(length as u8);
    all.extend(bytes);
    all
}
