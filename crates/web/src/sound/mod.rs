//! The sound of a visit, kept on this device beside the journal, so that a word that the recogniser lost
//! can be heard again and typed in. It never leaves the device.

mod kept;
mod meter;
mod recorder;
pub mod sharing;

use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::{nap::Nap, words};
use crate::preferences::{self, Recording};
use crate::texts;
use crate::voice::Voice;

use kept::Kept;
pub use kept::Piece;
use recorder::Recorder;
use sharing::{Judged, Sharing};

/// How often it is looked at whether the microphone is shared.
const LOOK: Duration = Duration::from_millis(250);

/// The recordings of this device. Copies are the same.
#[derive(Clone, Copy)]
pub struct Sound {
    /// Whether one is being recorded now.
    pub running: RwSignal<bool>,
    /// What is kept, without the sound itself, oldest first.
    pub pieces: RwSignal<Vec<Piece>>,
    /// What went wrong last; empty when nothing did.
    pub trouble: RwSignal<String>,
    settled: RwSignal<preferences::Voice>,
    state: StoredValue<Rc<RefCell<State>>, LocalStorage>,
}

#[derive(Default)]
struct State {
    kept: Option<Rc<Kept>>,
    recorder: Option<Recorder>,
    playing: Option<recorder::Playing>,
}

/// The recordings, from anywhere below [`crate::app::App`].
pub fn use_sound() -> Sound {
    expect_context()
}

impl Sound {
    /// Reads what is kept in the background.
    pub fn new() -> Self {
        let sound = Self {
            running: RwSignal::new(false),
            pieces: RwSignal::new(Vec::new()),
            trouble: RwSignal::new(String::new()),
            settled: expect_context(),
            state: StoredValue::new_local(Rc::default()),
        };
        spawn_local(async move {
            // without a database there is nothing kept, and recording says why
            let _ = sound.read().await;
        });
        sound
    }

    /// Whether visits are recorded.
    pub fn wanted(self) -> bool {
        self.settled
            .with(|settled| settled.recording == Recording::On)
    }

    /// Recording gave way to listening on this device.
    pub fn yields(self) -> bool {
        self.settled
            .with(|settled| settled.recording == Recording::GaveWay)
    }

    /// Records visits from now on, or not.
    pub fn set_wanted(self, wanted: bool) {
        self.settled.update(|settled| {
            settled.recording = Recording::wanted(wanted);
            settled.keep();
        });
        if !wanted {
            self.end();
        }
    }

    /// Begins to record a visit, where that is wanted; gives way where the voice cannot hear beside it.
    pub fn begin(self, visit: String, voice: Voice) {
        if !untrack(|| self.wanted()) || self.running.get_untracked() {
            return;
        }
        self.running.set(true);
        self.trouble.set(String::new());
        // from here on: the recogniser may fail before the microphone is open
        let sharing = Sharing::begin(voice.tally());
        spawn_local(async move {
            let keep = move |piece: kept::New| {
                spawn_local(async move {
                    if let Err(why) = self.keep(piece).await {
                        self.trouble.set(texts::sound::not_kept(&words(&why)));
                        self.end();
                    }
                });
            };
            match Recorder::begin(visit, keep).await {
                Ok(recorder) => {
                    // switched off while the browser asked for leave
                    if self.running.get_untracked() {
                        self.with(|state| state.recorder = Some(recorder));
                        self.share(voice, sharing).await;
                    }
                }
                Err(why) => {
                    self.running.set(false);
                    self.trouble.set(texts::sound::not_recorded(&words(&why)));
                }
            }
        });
    }

    /// Watches, while it is recorded, whether both hear.
    async fn share(self, voice: Voice, mut sharing: Sharing) {
        loop {
            Nap::default().sleep(LOOK).await;
            let Some(level) =
                self.with(|state| state.recorder.as_ref().map(recorder::Recorder::level))
            else {
                return;
            };
            match sharing.judge(voice.tally(), level, LOOK.as_secs_f64()) {
                Judged::Open => {}
                Judged::Shared => return,
                Judged::Yield => break,
            }
        }
        self.end();
        self.settled.update(|settled| {
            settled.recording = Recording::GaveWay;
            settled.keep();
        });
        voice.listen_anew();
    }

    /// Ends the recording; what was recorded is kept.
    pub fn end(self) {
        self.running.set(false);
        drop(self.with(|state| state.recorder.take()));
    }

    /// The piece in which something was said.
    pub fn at(self, visit: &str, at_ms: i64) -> Option<Piece> {
        self.pieces.with(|pieces| {
            let holds = |piece: &&Piece| {
                piece.visit == visit && piece.from_ms <= at_ms && at_ms <= piece.to_ms
            };
            pieces.iter().find(holds).cloned()
        })
    }

    /// Plays a piece from just before an instant.
    pub fn play(self, piece: &Piece, at_ms: i64) {
        let (key, from_ms) = (piece.key, piece.from_ms);
        spawn_local(async move {
            let played = async {
                let blob = self.kept().await?.sound(key).await?;
                recorder::Playing::begin(&blob, (at_ms - from_ms) as f64 / 1000.0)
            };
            match played.await {
                Ok(playing) => self.with(|state| state.playing = Some(playing)),
                Err(why) => self.trouble.set(texts::sound::not_played(&words(&why))),
            }
        });
    }

    /// Deletes every piece of a visit.
    pub fn delete(self, visit: String) {
        spawn_local(async move {
            let deleted = async {
                let kept = self.kept().await?;
                let keys = self.pieces.with_untracked(|pieces| {
                    let of_visit = pieces.iter().filter(|piece| piece.visit == visit);
                    of_visit.map(|piece| piece.key).collect::<Vec<_>>()
                });
                for key in keys {
                    kept.delete(key).await?;
                }
                self.read().await
            };
            if let Err(why) = deleted.await {
                self.trouble.set(texts::sound::not_deleted(&words(&why)));
            }
        });
    }

    async fn keep(self, piece: kept::New) -> Result<(), wasm_bindgen::JsValue> {
        self.kept().await?.add(&piece).await?;
        self.read().await
    }

    async fn read(self) -> Result<(), wasm_bindgen::JsValue> {
        let pieces = self.kept().await?.list().await?;
        self.pieces.set(pieces);
        Ok(())
    }

    async fn kept(self) -> Result<Rc<Kept>, wasm_bindgen::JsValue> {
        if let Some(kept) = self.with(|state| state.kept.clone()) {
            return Ok(kept);
        }
        let kept = Rc::new(Kept::open().await?);
        self.with(|state| state.kept = Some(Rc::clone(&kept)));
        Ok(kept)
    }

    fn with<T>(self, work: impl FnOnce(&mut State) -> T) -> T {
        let state = self.state.get_value();
        let mut state = state.borrow_mut();
        work(&mut state)
    }
}

impl Default for Sound {
    fn default() -> Self {
        Self::new()
    }
}
