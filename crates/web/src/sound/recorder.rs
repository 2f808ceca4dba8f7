//! Records in pieces that each can be played for themselves.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use js_sys::Promise;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{Blob, BlobEvent, HtmlAudioElement, MediaRecorder, MediaStream, MediaStreamTrack};

use super::kept::New;
use super::meter::Meter;
use super::sharing::Level;
use crate::browser::{nap::Nap, reflect, window};
use std::time::Duration;

/// A piece this long is lost at most when the battery dies. Common practice, no source.
const PIECE: Duration = Duration::from_mins(1);
/// A phrase is settled after it was said: so long before, seconds, playing begins.
const BEFORE_S: f64 = 6.0;

/// A recording that goes on; dropped, it ends and the last piece is kept.
pub(super) struct Recorder {
    stream: MediaStream,
    now: Rc<RefCell<Option<MediaRecorder>>>,
    over: Rc<Cell<bool>>,
    meter: Option<Meter>,
}

impl Recorder {
    /// Asks for the microphone and begins.
    pub(super) async fn begin(
        visit: String,
        keep: impl Fn(New) + 'static,
    ) -> Result<Self, JsValue> {
        let missing = || JsValue::from_str("this browser records no sound");
        let window = window().ok_or_else(missing)?;
        let devices = reflect::get(&window.navigator(), "mediaDevices").ok_or_else(missing)?;
        let ask = reflect::method(&devices, "getUserMedia").ok_or_else(missing)?;
        let wanted = reflect::object(&[("audio", JsValue::TRUE)]);
        let asked = ask.call1(&devices, &wanted)?;
        let stream: MediaStream = JsFuture::from(Promise::resolve(&asked)).await?.dyn_into()?;
        let recorder = Self {
            stream: stream.clone(),
            now: Rc::default(),
            over: Rc::default(),
            // without one the recording is as good
            meter: Meter::on(&stream).ok(),
        };
        let keep: Rc<dyn Fn(New)> = Rc::new(keep);
        let first = piece(&stream, &visit, &keep)?;
        recorder.now.borrow_mut().replace(first);
        let (now, over) = (Rc::clone(&recorder.now), Rc::clone(&recorder.over));
        spawn_local(async move {
            loop {
                Nap::default().sleep(PIECE).await;
                if over.get() {
                    return;
                }
                // the next begins before this one ends, so that nothing is lost between
                let Ok(next) = piece(&stream, &visit, &keep) else {
                    return;
                };
                let former = now.borrow_mut().replace(next);
                stop(former);
            }
        });
        Ok(recorder)
    }

    /// How loud it is; `None` where the browser does not tell.
    pub(super) fn level(&self) -> Option<Level> {
        self.meter.as_ref()?.level()
    }
}

impl Drop for Recorder {
    fn drop(&mut self) {
        self.over.set(true);
        stop(self.now.borrow_mut().take());
        for track in self.stream.get_tracks() {
            track.unchecked_into::<MediaStreamTrack>().stop();
        }
    }
}

fn stop(recorder: Option<MediaRecorder>) {
    if let Some(recorder) = recorder {
        // one that has ended by itself has told its piece already
        let _ = recorder.stop();
    }
}

/// One piece, recorded from now until it is stopped.
fn piece(
    stream: &MediaStream,
    visit: &str,
    keep: &Rc<dyn Fn(New)>,
) -> Result<MediaRecorder, JsValue> {
    let recorder = MediaRecorder::new_with_media_stream(stream)?;
    let from_ms = js_sys::Date::now();
    let (visit, keep) = (visit.to_owned(), Rc::clone(keep));
    // told once, when it is stopped
    let told = Closure::once_into_js(move |event: BlobEvent| {
        if let Some(sound) = event.data().filter(|sound| sound.size() > 0.0) {
            let to_ms = js_sys::Date::now();
            keep(New {
                visit,
                from_ms,
                to_ms,
                sound,
            });
        }
    });
    recorder.set_ondataavailable(Some(told.unchecked_ref()));
    recorder.start()?;
    Ok(recorder)
}

/// A piece that is being played; dropped, it is silent.
pub(super) struct Playing {
    element: HtmlAudioElement,
    url: String,
}

impl Playing {
    /// Plays from a little before so many seconds.
    pub(super) fn begin(sound: &Blob, at_s: f64) -> Result<Self, JsValue> {
        let url = web_sys::Url::create_object_url_with_blob(sound)?;
        let element = HtmlAudioElement::new_with_src(&url)?;
        element.set_current_time((at_s - BEFORE_S).max(0.0));
        // what goes wrong later is only silent
        let _ = element.play()?;
        Ok(Self { element, url })
    }
}

impl Drop for Playing {
    fn drop(&mut self) {
        let _ = self.element.pause();
        let _ = web_sys::Url::revoke_object_url(&self.url);
    }
}
