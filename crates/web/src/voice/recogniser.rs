//! The browser's speech recognition (Web Speech API), under either name, reached by name: the bindings
//! know it only unprefixed.

use js_sys::{Function, Reflect};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;

use super::results::{Piece, Settled};
use super::turn::{Event, Failure};
use crate::browser::{reflect, window};

/// Both names, the standard's first.
const NAMES: [&str; 2] = ["SpeechRecognition", "webkitSpeechRecognition"];

/// Readings of a phrase that are asked for. What more of them gain is in BENCHMARKS.md.
const READINGS: u32 = 6;

fn constructor() -> Option<Function> {
    let window = window()?;
    NAMES
        .into_iter()
        .find_map(|name| reflect::method(&window, name))
}

/// Whether there is one.
pub(super) fn is_there() -> bool {
    constructor().is_some()
}

/// Whether it can work on this device without sending the sound away; `None` when the browser does not
/// say. Fetches the language where that is offered and wanted.
pub(super) async fn on_device(language: &str, fetch: bool) -> Option<bool> {
    let constructor = constructor()?;
    let available = reflect::method(&constructor, "available")?;
    let languages = js_sys::Array::of1(&JsValue::from_str(language));
    let options = reflect::object(&[
        ("langs", languages.into()),
        ("processLocally", JsValue::TRUE),
    ]);
    let asked = available.call1(&constructor, &options).ok()?;
    let state = JsFuture::from(js_sys::Promise::resolve(&asked))
        .await
        .ok()?
        .as_string()?;
    if fetch
        && state == "downloadable"
        && let Some(install) = reflect::method(&constructor, "install")
        && let Ok(begun) = install.call1(&constructor, &options)
    {
        let done = JsFuture::from(js_sys::Promise::resolve(&begun)).await;
        return Some(done.is_ok_and(|done| done.is_truthy()));
    }
    Some(state == "available")
}

/// One recogniser; started again and again.
pub(super) struct Recogniser {
    raw: JsValue,
    // they live as long as the recogniser may call them
    _handlers: Vec<Closure<dyn FnMut(JsValue)>>,
}

impl Recogniser {
    /// Makes one that tells its events.
    pub(super) fn new(tell: impl Fn(Event) + Clone + 'static) -> Option<Self> {
        let raw = Reflect::construct(&constructor()?, &js_sys::Array::new()).ok()?;
        let set = |name: &str, value: JsValue| {
            // what a browser does not know it ignores
            let _ = Reflect::set(&raw, &JsValue::from_str(name), &value);
        };
        set("continuous", JsValue::TRUE);
        set("interimResults", JsValue::TRUE);
        set("maxAlternatives", JsValue::from_f64(READINGS.into()));
        let mut handlers = Vec::new();
        let mut handle = |name: &str, read: fn(&JsValue) -> Vec<Event>| {
            let tell = tell.clone();
            let handler = Closure::<dyn FnMut(JsValue)>::new(move |event: JsValue| {
                for event in read(&event) {
                    tell(event);
                }
            });
            set(name, handler.as_ref().clone());
            handlers.push(handler);
        };
        handle("onstart", |_| vec![Event::Started]);
        handle("onaudiostart", |_| vec![Event::Opened]);
        handle("onresult", results);
        handle("onerror", |event| {
            let name = reflect::get(event, "error").and_then(|name| name.as_string());
            vec![Event::Failed(Failure::named(&name.unwrap_or_default()))]
        });
        handle("onend", |_| vec![Event::Ended { at_ms: now_ms() }]);
        Some(Self {
            raw,
            _handlers: handlers,
        })
    }

    /// Starts it for a language, on this device where it can, and tells it what to expect; false when the
    /// browser refuses.
    pub(super) fn start(&self, language: &str, on_device: bool, expected: &[&str]) -> bool {
        let set = |name: &str, value: JsValue| {
            // what a browser does not know it ignores
            let _ = Reflect::set(&self.raw, &JsValue::from_str(name), &value);
        };
        set("lang", JsValue::from_str(language));
        set("processLocally", JsValue::from_bool(on_device));
        set("phrases", phrases(expected).into());
        self.call("start")
    }

    /// Ends it at once, without results.
    pub(super) fn abort(&self) {
        self.call("abort");
    }

    fn call(&self, name: &str) -> bool {
        reflect::method(&self.raw, name).is_some_and(|method| method.call0(&self.raw).is_ok())
    }
}

impl Drop for Recogniser {
    fn drop(&mut self) {
        for name in ["onstart", "onaudiostart", "onresult", "onerror", "onend"] {
            // it may still have something to tell, and nobody is there any more
            let _ = Reflect::set(&self.raw, &JsValue::from_str(name), &JsValue::NULL);
        }
        self.abort();
    }
}

/// About the natural logarithm of how much likelier a phrase is here than anywhere (Web Speech API,
/// SpeechRecognitionPhrase; up to 10). Twenty times; common practice, no source.
const BOOST: f64 = 3.0;

/// Phrases to expect, as the browser takes them; none where it does not.
fn phrases(expected: &[&str]) -> js_sys::Array {
    let maker = window().and_then(|window| reflect::method(&window, "SpeechRecognitionPhrase"));
    let make = |phrase: &&str| {
        let arguments = js_sys::Array::of2(&JsValue::from_str(phrase), &JsValue::from_f64(BOOST));
        Reflect::construct(maker.as_ref()?, &arguments).ok()
    };
    expected.iter().filter_map(make).collect()
}

/// Milliseconds since the page began.
pub(super) fn now_ms() -> f64 {
    window()
        .and_then(|window| window.performance())
        .map_or_else(js_sys::Date::now, |clock| clock.now())
}

/// The whole list, whichever part of it is told to have changed: phones are not to be trusted with that.
fn results(event: &JsValue) -> Vec<Event> {
    let Some(list) = reflect::get(event, "results") else {
        return Vec::new();
    };
    let length = reflect::get(&list, "length").and_then(|n| n.as_f64());
    let pieces = (0..length.unwrap_or_default() as u32).map(|nth| piece(&list, nth));
    vec![Event::Heard {
        pieces: pieces.collect(),
        at_ms: now_ms(),
    }]
}

fn piece(list: &JsValue, nth: u32) -> Piece {
    let result = Reflect::get_u32(list.unchecked_ref(), nth).unwrap_or_default();
    let (words, confidence) = reading(&result, 0);
    let settled = reflect::get(&result, "isFinal").is_some_and(|settled| settled.is_truthy());
    // nobody asks what else words may be that still grow
    let others = settled.then(|| {
        let length = reflect::get(&result, "length").and_then(|n| n.as_f64());
        (1..length.unwrap_or_default() as u32).map(|at| reading(&result, at).0)
    });
    Piece {
        words,
        others: others.into_iter().flatten().collect(),
        settled: match (settled, confidence) {
            (false, _) => Settled::Open,
            (true, Some(0.0)) => Settled::Doubtful,
            (true, _) => Settled::Yes,
        },
    }
}

/// One reading of a result: its words, and how sure the browser is of it.
fn reading(result: &JsValue, at: u32) -> (String, Option<f64>) {
    let reading = Reflect::get_u32(result.unchecked_ref(), at).unwrap_or_default();
    let words = reflect::get(&reading, "transcript").and_then(|words| words.as_string());
    let confidence = reflect::get(&reading, "confidence").and_then(|sure| sure.as_f64());
    (words.unwrap_or_default(), confidence)
}
