//! Garbage to every end point, made from the server's own OpenAPI description, against a journal
//! file: always an answer that the description knows, never a fault of the server's, and what was
//! recorded before stays as it was.

mod support;

use std::fmt::Write as _;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;

use axum::Router;
use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::{HeaderValue, Request, StatusCode};
use exchange::record::MAX_ENTRY;
use exchange::{Hash, Pull, Pulled};
use kept::Kept;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use proptest::strategy::Union;
use proptest::string::string_regex;
use serde_json::{Map, Value, json};
use server::{Config, Lan, Server};
use store::Damage;
use support::chain;
use tower::ServiceExt as _;

const DESK: IpAddr = IpAddr::V4(Ipv4Addr::LOCALHOST);
const PHONE: IpAddr = IpAddr::V4(Ipv4Addr::new(192, 168, 1, 30));

/// Records in the journal before the garbage comes.
const BEFORE: u64 = 3;

fn description() -> Value {
    serde_json::from_str(include_str!("../../server/openapi.json")).expect("JSON")
}

/// One end point of the description.
#[derive(Debug, Clone)]
struct Operation {
    method: String,
    path: String,
    told: Value,
}

fn operations() -> Vec<Operation> {
    let all = description();
    let paths = all["paths"].as_object().expect("paths");
    paths
        .iter()
        .flat_map(|(path, methods)| {
            let methods = methods.as_object().expect("methods");
            methods.iter().map(|(method, told)| Operation {
                method: method.to_uppercase(),
                path: path.clone(),
                told: told.clone(),
            })
        })
        .collect()
}

impl Operation {
    /// Whether everyone may ask it: its security holds the empty requirement alone.
    fn is_open(&self) -> bool {
        self.told["security"] == json!([{}])
    }

    fn body(&self) -> Option<Value> {
        let body = &self.told["requestBody"]["content"]["application/json"]["schema"];
        (!body.is_null()).then(|| body.clone())
    }
}

/// Any JSON, up to a few levels deep.
fn any_json() -> BoxedStrategy<Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<u64>().prop_map(Value::from),
        any::<f64>().prop_map(|f| json!(f)),
        ".{0,12}".prop_map(Value::from),
        Just(json!("2026-11-25T10:00:00Z")),
        Just(json!("9999-99-99T99:99:99Z")),
        Just(json!("01890a5d-ac96-774b-bcce-b302099a8057")),
    ];
    leaf.prop_recursive(4, 30, 5, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..5).prop_map(Value::from),
            prop::collection::btree_map("[a-z_]{1,8}", inner, 0..5)
                .prop_map(|map| Value::Object(map.into_iter().collect())),
        ]
    })
    .boxed()
}

/// Values of a schema: the part of JSON Schema that the description uses.
fn of(schema: &Value, all: &Value) -> BoxedStrategy<Value> {
    if let Some(name) = schema["$ref"].as_str() {
        let schema = all.pointer(name.trim_start_matches('#'));
        return of(schema.expect("it is described"), all);
    }
    if let Some(allowed) = schema["enum"].as_array() {
        return select(allowed.clone()).boxed();
    }
    match schema["type"].as_str() {
        Some("string") => text_of(schema),
        Some("integer") => {
            let least = schema["minimum"].as_u64().unwrap_or(0);
            let most = schema["maximum"].as_u64().unwrap_or(u64::MAX);
            prop_oneof![Just(least), Just(most), least..=most.min(9), least..=most]
                .prop_map(Value::from)
                .boxed()
        }
        Some("boolean") => any::<bool>().prop_map(Value::from).boxed(),
        Some("array") => {
            let items = of(&schema["items"], all);
            prop::collection::vec(items, 0..3)
                .prop_map(Value::from)
                .boxed()
        }
        Some("object") => {
            let required = schema["required"].as_array().cloned().unwrap_or_default();
            let fields = schema["properties"].as_object().cloned();
            let fields: Vec<_> = fields
                .unwrap_or_default()
                .iter()
                .map(|(name, schema)| {
                    let always = required.iter().any(|r| r == name);
                    let name = name.clone();
                    given(of(schema, all), always)
                        .prop_map(move |value| value.map(|value| (name.clone(), value)))
                })
                .collect();
            fields
                .prop_map(|fields| {
                    Value::Object(fields.into_iter().flatten().collect::<Map<_, _>>())
                })
                .boxed()
        }
        _ => any_json(),
    }
}

/// The value, or nothing unless it is always there.
fn given(value: BoxedStrategy<Value>, always: bool) -> BoxedStrategy<Option<Value>> {
    if always {
        value.prop_map(Some).boxed()
    } else {
        prop::option::of(value).boxed()
    }
}

fn text_of(schema: &Value) -> BoxedStrategy<Value> {
    let pattern = match (schema["format"].as_str(), schema["pattern"].as_str()) {
        (Some("uuid"), _) => "[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}",
        (Some("date-time"), _) => "20[0-9]{2}-0[1-9]-[0-2][1-8]T[01][0-9]:[0-5][0-9]:[0-5][0-9]Z",
        (_, Some(pattern)) => pattern.trim_start_matches('^').trim_end_matches('$'),
        _ => ".{0,12}",
    };
    let text = string_regex(pattern).expect("a pattern");
    text.prop_map(Value::from).boxed()
}

/// The same with one place put wrong: another value, or the field gone, or one too many.
fn nearly(right: BoxedStrategy<Value>) -> BoxedStrategy<Value> {
    (right, any::<Index>(), prop::option::of(any_json()))
        .prop_map(|(mut value, at, wrong)| {
            let mut places = Vec::new();
            pointers(&value, String::new(), &mut places);
            let place = at.get(&places).clone();
            let (parent, name) = place.rsplit_once('/').unwrap_or(("", ""));
            match (wrong, value.pointer_mut(parent)) {
                (None, Some(Value::Object(fields))) if !name.is_empty() => {
                    fields.remove(name);
                }
                (Some(wrong), Some(Value::Object(fields))) if name.is_empty() => {
                    fields.insert("more".into(), wrong);
                }
                (wrong, _) => {
                    if let Some(there) = value.pointer_mut(&place) {
                        *there = wrong.unwrap_or(Value::Null);
                    }
                }
            }
            value
        })
        .boxed()
}

fn pointers(value: &Value, at: String, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            for (name, inner) in fields {
                pointers(inner, format!("{at}/{name}"), found);
            }
        }
        Value::Array(items) => {
            for (n, inner) in items.iter().enumerate() {
                pointers(inner, format!("{at}/{n}"), found);
            }
        }
        _ => {}
    }
    found.push(at);
}

/// Gives every record in it the hash of its entry, as one who knows the chain would.
fn sealed(mut value: Value) -> Value {
    for record in value["records"].as_array_mut().into_iter().flatten() {
        let text = record["entry"].to_string();
        if let Some(fields) = record.as_object_mut() {
            let prev = fields.get("prev").and_then(Value::as_str);
            let prev = prev.and_then(|prev| prev.parse().ok());
            let prev = prev.filter(|_| !text.contains("\"seq\":1,"));
            let prev: Hash = prev.unwrap_or(Hash::ORIGIN);
            fields.insert("prev".into(), json!(prev));
            fields.insert("hash".into(), json!(prev.followed_by(text.as_bytes())));
        }
    }
    value
}

/// Bytes for a body: from the schema, nearly so, cut off, or nothing of the kind.
fn body_of(schema: Option<Value>, all: &Value) -> BoxedStrategy<Vec<u8>> {
    let bytes = prop::collection::vec(any::<u8>(), 0..200).boxed();
    let Some(schema) = schema else {
        return Union::new([bytes, any_json().prop_map(told).boxed()]).boxed();
    };
    let right = of(&schema, all);
    let near = nearly(right.clone());
    let cut = (right.clone(), any::<Index>()).prop_map(|(value, at)| {
        let mut bytes = told(value);
        bytes.truncate(at.index(bytes.len()));
        bytes
    });
    Union::new([
        bytes,
        any_json().prop_map(told).boxed(),
        cut.boxed(),
        right.clone().prop_map(told).boxed(),
        right.prop_map(sealed).prop_map(told).boxed(),
        near.clone().prop_map(told).boxed(),
        near.prop_map(sealed).prop_map(told).boxed(),
    ])
    .boxed()
}

#[expect(clippy::needless_pass_by_value, reason = "it ends a chain of maps")]
fn told(value: Value) -> Vec<u8> {
    value.to_string().into_bytes()
}

/// A value as it stands in an address, every byte of it written as RFC 3986 allows anywhere.
fn in_address(value: &Value) -> String {
    let text = value
        .as_str()
        .map_or_else(|| value.to_string(), str::to_owned);
    text.bytes().fold(String::new(), |mut address, byte| {
        let _ = write!(address, "%{byte:02X}");
        address
    })
}

/// The address: its declared parameters, each right, nearly so or left out, and sometimes another.
fn address_of(operation: &Operation, all: &Value) -> BoxedStrategy<String> {
    let path = operation.path.clone();
    let parameters = operation.told["parameters"].as_array();
    let parameters: Vec<_> = parameters
        .cloned()
        .unwrap_or_default()
        .into_iter()
        .map(|told| {
            let name = told["name"].as_str().expect("a name").to_owned();
            let in_path = told["in"] == "path";
            let value = Union::new([of(&told["schema"], all), any_json()]);
            given(value.boxed(), in_path).prop_map(move |value| (name.clone(), in_path, value))
        })
        .collect();
    let further = prop::option::weighted(0.1, "[a-z]{1,5}=[a-z0-9]{0,5}");
    (parameters, further)
        .prop_map(move |(parameters, further)| {
            let mut path = path.clone();
            let mut query: Vec<String> = further.into_iter().collect();
            for (name, in_path, value) in parameters {
                let Some(value) = value.as_ref().map(in_address) else {
                    continue;
                };
                if in_path {
                    path = path.replace(&format!("{{{name}}}"), &value);
                } else {
                    query.push(format!("{name}={value}"));
                }
            }
            format!("{path}?{}", query.join("&"))
        })
        .boxed()
}

/// With which token one comes.
#[derive(Debug, Clone)]
enum Token {
    None,
    Paired,
    /// Of a device that was taken off the list.
    Revoked,
    Wrong(String),
}

#[derive(Debug, Clone)]
struct Question {
    operation: Operation,
    address: String,
    body: Vec<u8>,
    media: &'static str,
    token: Token,
    from: IpAddr,
}

fn question() -> impl Strategy<Value = Question> {
    let token = prop_oneof![
        1 => Just(Token::None),
        4 => Just(Token::Paired),
        1 => Just(Token::Revoked),
        1 => "[ -~]{0,80}".prop_map(Token::Wrong),
    ];
    let media = prop_oneof![
        6 => Just("application/json"),
        1 => select(vec!["text/plain", "", "application/json; charset=utf-7"]),
    ];
    let whence = select(vec![DESK, PHONE]);
    let asked = select(operations()).prop_flat_map(|operation| {
        let all = description();
        (
            address_of(&operation, &all),
            body_of(operation.body(), &all),
            Just(operation),
        )
    });
    (asked, media, token, whence).prop_map(|((address, body, operation), media, token, from)| {
        Question {
            operation,
            address,
            body,
            media,
            token,
            from,
        }
    })
}

/// A server over a journal file that holds something, with a paired device and one put out again.
struct Bench {
    routes: Router,
    kept: Arc<Kept>,
    paired: String,
    revoked: String,
    _folder: tempfile::TempDir,
}

impl Bench {
    async fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let kept = Arc::new(Kept::new(support::open(folder.path()).await));
        let records = chain(1, BEFORE);
        kept.journal().take(&records).await.expect("taken");
        let config = Config {
            port: 0,
            lan: Lan::On { also: vec![] },
            ..Config::new(folder.path().into())
        };
        let server = Server::bind(&config, Arc::clone(&kept) as _, |_| {}).expect("binds");
        let mut bench = Self {
            routes: server.routes(),
            kept,
            paired: String::new(),
            revoked: String::new(),
            _folder: folder,
        };
        (bench.revoked, _) = bench.pair().await;
        let (_, list) = bench.ask_desk("GET", "/api/v1/devices", vec![]).await;
        let id = list["devices"][0]["id"].as_str().expect("an id").to_owned();
        let (status, _) = bench
            .ask_desk("DELETE", &format!("/api/v1/devices/{id}"), vec![])
            .await;
        assert_eq!(status, StatusCode::NO_CONTENT);
        (bench.paired, _) = bench.pair().await;
        bench
    }

    async fn pair(&self) -> (String, Value) {
        let (_, shown) = self.ask_desk("GET", "/api/v1/pairing", vec![]).await;
        let ask = json!({ "code": shown["code"], "name": "phone" });
        let (_, answer) = self.ask_desk("POST", "/api/v1/pairing", told(ask)).await;
        let token = answer["token"].as_str().expect("a token").to_owned();
        (token, answer)
    }

    async fn ask_desk(&self, method: &str, path: &str, body: Vec<u8>) -> (StatusCode, Value) {
        let request = Request::builder()
            .method(method)
            .uri(path)
            .header("host", "localhost:8427")
            .header("content-type", "application/json");
        let request = request.body(Body::from(body)).expect("a request");
        let (status, _, text) = self.answer(request, DESK).await;
        (status, serde_json::from_str(&text).unwrap_or_default())
    }

    async fn answer(
        &self,
        mut request: Request<Body>,
        from: IpAddr,
    ) -> (StatusCode, Option<HeaderValue>, String) {
        let from = ConnectInfo(SocketAddr::from((from, 40_000)));
        request.extensions_mut().insert(from);
        let response = self.routes.clone().oneshot(request).await;
        let response = response.expect("never fails");
        let status = response.status();
        let media = response.headers().get("content-type").cloned();
        let body = axum::body::to_bytes(response.into_body(), usize::MAX).await;
        let text = String::from_utf8_lossy(&body.expect("a body")).into_owned();
        (status, media, text)
    }

    async fn put(&self, question: &Question) -> (StatusCode, Option<HeaderValue>, String) {
        let mut request = Request::builder()
            .method(question.operation.method.as_str())
            .uri(&question.address)
            .header("host", "localhost:8427")
            .header("content-type", question.media);
        let token = match &question.token {
            Token::None => None,
            Token::Paired => Some(&self.paired),
            Token::Revoked => Some(&self.revoked),
            Token::Wrong(text) => Some(text),
        };
        if let Some(token) = token {
            request = request.header("authorization", format!("Bearer {token}"));
        }
        let body = Body::from(question.body.clone());
        self.answer(request.body(body).expect("a request"), question.from)
            .await
    }

    /// What was there before is there as it was, and whatever else came in proves itself.
    async fn is_sound(&self) {
        let found = self.kept.journal().verify().await.expect("reads");
        assert!(found.structure.is_empty(), "{found:?}");
        // made-up entries that prove themselves may bear any number; none may be damaged
        for fault in &found.faults {
            let gap = matches!(fault.damage, Damage::Missing { .. });
            let of_ours = fault.device == support::device(1).to_string();
            assert!(gap && !of_ours, "{fault}");
        }
        let Pulled::Page { records, .. } = self
            .kept
            .journal()
            .pull(Pull {
                since: None,
                limit: 500,
            })
            .await
            .expect("reads")
        else {
            panic!("a page");
        };
        assert_eq!(records[..BEFORE as usize], chain(1, BEFORE));
        assert_eq!(records.len() as u64, found.entries, "all are handed out");
        let entries = self.kept.journal().entries().await.expect("all are read");
        // and whatever came in can be folded without a panic
        let _ = hive::Yard::fold(entries);
    }
}

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn garbage_gets_a_described_answer_and_harms_nothing(
        questions in prop::collection::vec(question(), 1..12)
    ) {
        runtime().block_on(async {
            let bench = Bench::new().await;
            for question in &questions {
                let (status, media, text) = bench.put(question).await;
                let operation = &question.operation;
                let what = format!("{} {}", operation.method, question.address);
                // 429 is due after a few tries of the pairing code
                assert!(
                    !status.is_server_error(),
                    "{what}: {status} {text}"
                );
                let described = &operation.told["responses"][status.as_str()];
                assert!(described.is_object(), "{what}: {status} is not described: {text}");
                if let Some(content) = described["content"].as_object() {
                    let media = media.expect("told").to_str().expect("text").to_owned();
                    assert!(content.contains_key(&media), "{what} {status}: {media}");
                    let value: Value = serde_json::from_str(&text).expect("JSON");
                    if media == "application/problem+json" {
                        assert_eq!(value["status"], status.as_u16());
                        assert!(!text.contains(".sqlite"), "no file of ours is told: {text}");
                    }
                }
                let stranger = question.from == PHONE && !matches!(question.token, Token::Paired);
                if stranger && !operation.is_open() {
                    assert_eq!(status, StatusCode::UNAUTHORIZED, "{what}");
                }
            }
            bench.is_sound().await;
        });
    }
}

/// Beyond every bound: too long, too many, too deep, too large.
#[tokio::test]
async fn bodies_beyond_the_bounds_are_refused_with_the_bound() {
    let bench = Bench::new().await;
    let records = "/api/v1/journal/records";
    let cases = [
        ("POST", records, vec![b' '; 4 * 1024 * 1024 + 1], 413),
        ("POST", "/api/v1/pairing", vec![b' '; 16 * 1024 + 1], 413),
        ("POST", records, b"[".repeat(200_000), 422),
        ("POST", records, b"{\"records\":".repeat(50_000), 422),
        ("POST", "/api/v1/pairing", b"{\"code\":".repeat(1000), 422),
    ];
    for (method, path, body, expected) in cases {
        let (status, value) = bench.ask_desk(method, path, body).await;
        assert_eq!(status.as_u16(), expected, "{path}: {value}");
        assert!(value["detail"].is_string(), "{value}");
    }
    // an entry of one byte too many, with a hash that is right
    let text = chain(7, 1)[0]
        .text
        .replace("note 1", &"x".repeat(MAX_ENTRY));
    let hash = Hash::ORIGIN.followed_by(text.as_bytes());
    let zeros = Hash::ORIGIN;
    let body = format!(r#"{{"records":[{{"prev":"{zeros}","hash":"{hash}","entry":{text}}}]}}"#);
    let (status, value) = bench.ask_desk("POST", records, body.into_bytes()).await;
    assert_eq!(status.as_u16(), 422, "{value}");
    let detail = value["detail"].as_str().expect("a detail");
    assert!(detail.contains("the most is 1024 KiB"), "{detail}");
    bench.is_sound().await;
}
