//! The sound of a visit, kept on this device beside the journal, so that a word that the recogniser lost
//! can be heard again and typed in. It never leaves the device.

mod kept;
mod recorder;

use std::cell::RefCell;
use std::rc::Rc;

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::browser::{storage, words};
use crate::texts;

use kept::Kept;
pub use kept::Piece;
use recorder::Recorder;

/// Where the wish is kept that nothing is recorded.
const OFF: &str = "sound-off";

/// The recordings of this device. Copies are the same.
#[derive(Clone, Copy)]
pub struct Sound {
    /// Whether visits are recorded.
    pub wanted: RwSignal<bool>,
    /// Whether one is being recorded now.
    pub running: RwSignal<bool>,
    /// What is kept, without the sound itself, oldest first.
    pub pieces: RwSignal<Vec<Piece>>,
    /// What went wrong last; empty when nothing did.
    pub trouble: RwSignal<String>,
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
            wanted: RwSignal::new(storage::get(OFF).as_deref() != Some("yes")),
            running: RwSignal::new(false),
            pieces: RwSignal::new(Vec::new()),
            trouble: RwSignal::new(String::new()),
            state: StoredValue::new_local(Rc::default()),
        };
        spawn_local(async move {
            // without a database there is nothing kept, and recording says why
            let _ = sound.read().await;
        });
        sound
    }

    /// Records visits from now on, or not.
    pub fn set_wanted(self, wanted: bool) {
        storage::set(OFF, if wanted { "" } else { "yes" });
        self.wanted.set(wanted);
        if !wanted {
            self.end();
        }
    }

    /// Begins to record a visit, where that is wanted.
    pub fn begin(self, visit: String) {
        if !self.wanted.get_untracked() || self.running.get_untracked() {
            return;
        }
        self.running.set(true);
        self.trouble.set(String::new());
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
                    }
                }
                Err(why) => {
                    self.running.set(false);
                    self.trouble.set(texts::sound::not_recorded(&words(&why)));
                }
            }
        });
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
