//! Garbage to every end point of the description: always an answer that the description knows,
//! never a fault of the server, never anything kept.

mod support;

use proptest::prelude::*;
use proptest::sample::select;
use serde_json::{Value, json};
use support::{DESK, PHONE, ask, bench};

/// Any JSON, up to a few levels deep, with the words of the wire among its keys.
fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<u64>().prop_map(Value::from),
        any::<f64>().prop_map(|f| json!(f)),
        ".{0,12}".prop_map(Value::from),
        Just(json!("2026-11-25T10:00:00Z")),
        Just(json!("01890a5d-ac96-774b-bcce-b302099a8057")),
    ];
    let keys = select(vec![
        "records", "prev", "hash", "entry", "v", "id", "device", "seq", "at", "recorded", "zone",
        "by", "what", "kind", "code", "name", "hive", "visit", "row", "contents",
    ]);
    leaf.prop_recursive(4, 40, 6, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..5).prop_map(Value::from),
            prop::collection::btree_map(keys.clone(), inner, 0..9)
                .prop_map(|map| map.into_iter().map(|(k, v)| (k.to_owned(), v)).collect()),
        ]
    })
}

/// A sound message with one field put wrong.
fn nearly_sound() -> impl Strategy<Value = Value> {
    let fields = select(vec![
        "v", "id", "device", "seq", "at", "recorded", "zone", "by", "what",
    ]);
    (fields, any_json()).prop_map(|(field, wrong)| {
        let mut entry = serde_json::to_value(support::entry(1, 1)).expect("JSON");
        entry[field] = wrong;
        let hash = exchange::Hash::ORIGIN.followed_by(entry.to_string().as_bytes());
        json!({ "records": [{ "prev": exchange::Hash::ORIGIN, "hash": hash, "entry": entry }] })
    })
}

fn operations() -> Vec<(String, String, Value)> {
    let description: Value = serde_json::from_str(include_str!("../openapi.json")).expect("JSON");
    let mut all = Vec::new();
    for (path, methods) in description["paths"].as_object().expect("paths") {
        for (method, told) in methods.as_object().expect("methods") {
            all.push((
                method.to_uppercase(),
                path.clone(),
                told["responses"].clone(),
            ));
        }
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn garbage_gets_a_described_answer_and_leaves_nothing(
        operation in select(operations()),
        body in prop_oneof![
            any_json().prop_map(|json| json.to_string().into_bytes()),
            nearly_sound().prop_map(|json| json.to_string().into_bytes()),
            prop::collection::vec(any::<u8>(), 0..200),
        ],
        media in select(vec!["application/json", "text/plain", ""]),
        id in "[a-z0-9%/.]{0,20}",
        query in "(place|hash|limit|x)=[-0-9a-z%]{0,22}",
        from in select(vec![DESK, PHONE]),
    ) {
        let (method, path, responses) = operation;
        let path = path.replace("{id}", &id.replace('%', "%25"));
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()
            .expect("a runtime");
        let (told, kept) = runtime.block_on(async {
            let bench = bench();
            let question = ask(&method, &format!("{path}?{}", query.replace('%', "%25")))
                .from(from).bytes(body).field("content-type", media);
            (question.of(&bench.routes).await, bench.journal.records())
        });
        let known = responses.get(told.status.as_str()).is_some()
            // the path has become another one
            || path.contains("/devices/") && [404, 405].contains(&told.status.as_u16());
        prop_assert!(known, "{} {}: {} is not described: {}", method, path, told.status, told.text);
        prop_assert!(!told.status.is_server_error());
        // a wrong field that still makes an entry is one; everything kept can be read again
        for record in kept {
            prop_assert!(record.entry().is_ok());
        }
    }
}
