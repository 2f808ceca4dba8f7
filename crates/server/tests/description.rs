//! The OpenAPI description tells what the server does, no more and no less.

mod support;

use std::collections::BTreeSet;

use serde_json::{Value, json};
use server::ROUTES;
use support::{PHONE, ask, bench, chain, push};

fn description() -> Value {
    serde_json::from_str(include_str!("../openapi.json")).expect("JSON")
}

/// Checks a value against a schema: the part of JSON Schema that the description uses.
fn check(value: &Value, schema: &Value, all: &Value, at: &str) -> Result<(), String> {
    if let Some(name) = schema["$ref"].as_str() {
        let pointer = name.trim_start_matches('#');
        let schema = all
            .pointer(pointer)
            .ok_or_else(|| format!("{at}: no {name}"))?;
        return check(value, schema, all, at);
    }
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "boolean",
        Value::Number(n) if n.is_f64() => "number",
        Value::Number(_) => "integer",
        Value::String(_) => "string",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    };
    if schema["type"] != kind {
        return Err(format!("{at}: {kind}, not {}", schema["type"]));
    }
    if let Some(allowed) = schema["enum"].as_array()
        && !allowed.contains(value)
    {
        return Err(format!("{at}: {value} is none of {allowed:?}"));
    }
    for item in value.as_array().into_iter().flatten() {
        check(item, &schema["items"], all, &format!("{at}[]"))?;
    }
    let Some(map) = value.as_object() else {
        return Ok(());
    };
    for required in schema["required"].as_array().into_iter().flatten() {
        let name = required.as_str().unwrap_or_default();
        if !map.contains_key(name) {
            return Err(format!("{at}: {name} is missing"));
        }
    }
    for (name, inner) in map {
        let schema = match (&schema["properties"][name], &schema["additionalProperties"]) {
            (Value::Null, Value::Object(other)) => Value::Object(other.clone()),
            (Value::Null, _) if schema["properties"].is_null() || name == "text" => continue,
            (Value::Null, _) => return Err(format!("{at}: {name} is not described")),
            (told, _) => told.clone(),
        };
        check(inner, &schema, all, &format!("{at}.{name}"))?;
    }
    Ok(())
}

#[test]
fn the_described_and_the_served_routes_are_the_same() {
    let described: BTreeSet<(String, String)> = description()["paths"]
        .as_object()
        .expect("paths")
        .iter()
        .flat_map(|(path, methods)| {
            let methods = methods.as_object().expect("methods");
            methods
                .keys()
                .map(|m| (m.to_uppercase(), path.clone()))
                .collect::<Vec<_>>()
        })
        .collect();
    let served: BTreeSet<_> = ROUTES
        .iter()
        .map(|r| (r.method.to_owned(), r.path.to_owned()))
        .collect();
    assert_eq!(described, served);
}

#[tokio::test]
async fn answers_have_the_described_shapes() {
    let (bench, all) = (bench(), description());
    let token = bench.pair().await;
    let entries = push(&chain(1, 2));
    let pairing = json!({ "code": ask("GET", "/api/v1/pairing").of(&bench.routes).await.json()["code"],
        "name": "second" });
    let asked = [
        ("get", "/health", ask("GET", "/health").from(PHONE)),
        (
            "get",
            "/api/v1/me",
            ask("GET", "/api/v1/me").from(PHONE).token(&token),
        ),
        (
            "post",
            "/api/v1/journal/records",
            ask("POST", "/api/v1/journal/records").text(&entries),
        ),
        ("get", "/api/v1/journal", ask("GET", "/api/v1/journal")),
        (
            "get",
            "/api/v1/journal/records",
            ask("GET", "/api/v1/journal/records"),
        ),
        ("get", "/api/v1/pairing", ask("GET", "/api/v1/pairing")),
        (
            "post",
            "/api/v1/pairing",
            ask("POST", "/api/v1/pairing").json(&pairing),
        ),
        ("get", "/api/v1/devices", ask("GET", "/api/v1/devices")),
        // refusals
        (
            "get",
            "/api/v1/journal",
            ask("GET", "/api/v1/journal").from(PHONE),
        ),
        (
            "post",
            "/api/v1/pairing",
            ask("POST", "/api/v1/pairing").json(&pairing),
        ),
        (
            "post",
            "/api/v1/journal/records",
            ask("POST", "/api/v1/journal/records").text("{"),
        ),
    ];
    for (method, path, question) in asked {
        let told = question.of(&bench.routes).await;
        let response = &all["paths"][path][method]["responses"][told.status.as_str()];
        assert!(
            response.is_object(),
            "{method} {path}: {} is not described",
            told.status
        );
        let media = told.headers["content-type"].to_str().expect("text");
        let schema = &response["content"][media]["schema"];
        assert!(
            schema.is_object(),
            "{method} {path} {}: {media} is not described",
            told.status
        );
        check(&told.json(), schema, &all, &format!("{method} {path}")).expect("as described");
    }
}

#[tokio::test]
async fn the_description_is_handed_out() {
    let told = ask("GET", "/api/v1/openapi.json").of(&bench().routes).await;
    assert_eq!(told.json(), description());
}
