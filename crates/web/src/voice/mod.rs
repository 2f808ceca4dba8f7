//! The voice: hears through the browser's speech recognition, answers by its speech synthesis, confirms
//! with short sounds.
//!
//! Nothing hangs on it: without a recogniser the text field and the keyboard's own dictation key do the
//! same. `turn` decides, without a browser, when to listen and what counts as heard;
//! `recogniser`, `mouth` and `sounds` are the browser's parts; [`Voice`] puts them together.

mod mouth;
mod recogniser;
pub mod results;
mod sounds;
pub mod turn;

use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;
use wasm_bindgen_futures::spawn_local;

use crate::browser::{document, nap::Nap};
use crate::preferences;
use crate::room::{Command, Room};
use recogniser::Recogniser;
use talk::vocabulary::EXPECTED;
use turn::{Act, Event, Failure, Hearing, Tally, Turn};

/// Slow speech takes no longer than this for a letter, and for the whole at least. Common practice, no
/// source.
const LETTER_MS: u64 = 120;
const LEAST_MS: u64 = 2500;

/// The voice of this tab. Copies are the same.
#[derive(Clone, Copy)]
pub struct Voice {
    /// Whether it hears, and if not, why.
    pub hearing: RwSignal<Hearing>,
    /// What is being said and not yet settled.
    pub interim: RwSignal<String>,
    /// Whether the recogniser works on this device, as far as the browser says.
    pub on_device: RwSignal<Option<bool>>,
    settled: RwSignal<preferences::Voice>,
    state: StoredValue<Rc<RefCell<State>>, LocalStorage>,
}

#[derive(Default)]
struct State {
    turn: Turn,
    recogniser: Option<Recogniser>,
    room: Option<Room>,
    /// How often each [`Clock`] was set, so that an older setting does nothing.
    clocks: [u32; 4],
    /// Counts what was said, so that a late end is not taken for that of the next.
    said: u32,
    sounds: sounds::Sounds,
    /// The recogniser cannot be told what to expect.
    expects_nothing: bool,
}

/// The voice, from anywhere below [`crate::app::App`].
pub fn use_voice() -> Voice {
    expect_context()
}

impl Voice {
    /// Off, with what was chosen before.
    pub fn new() -> Self {
        let voice = Self {
            hearing: RwSignal::new(if recogniser::is_there() {
                Hearing::Off
            } else {
                Hearing::NoRecogniser
            }),
            interim: RwSignal::new(String::new()),
            on_device: RwSignal::new(None),
            settled: expect_context(),
            state: StoredValue::new_local(Rc::default()),
        };
        spawn_local(async move { voice.look_on_device(false).await });
        voice.watch_the_page();
        voice
    }

    /// A phone takes the microphone from a page that is put away, and gives it back when asked.
    fn watch_the_page(self) {
        let seen = Closure::<dyn Fn()>::new(move || {
            let hidden = document().is_some_and(|document| document.hidden());
            self.tell(Event::Away(hidden));
        });
        if let Some(document) = document() {
            // without it the voice is started anew by a tap
            let _ = document.add_event_listener_with_callback(
                "visibilitychange",
                seen.as_ref().unchecked_ref(),
            );
        }
        // for as long as the page lives
        seen.forget();
    }

    /// Finds out whether it works on this device; where it could, what it needs is fetched if told to.
    async fn look_on_device(self, fetch: bool) {
        let there = recogniser::on_device(self.english(), fetch).await;
        self.on_device.set(there);
    }

    /// Answers aloud.
    pub fn aloud(self) -> bool {
        self.settled.with(|settled| settled.spoken)
    }

    fn aloud_untracked(self) -> bool {
        self.settled.with_untracked(|settled| settled.spoken)
    }

    /// What its turns have come to, for the recording.
    pub fn tally(self) -> Tally {
        self.with(|state| state.turn.tally())
    }

    /// Listens anew, where it listens: what kept it from the microphone is out of the way.
    pub fn listen_anew(self) {
        if self.with(|state| state.turn.is_wanted()) {
            self.tell(Event::WantedOn);
        }
    }

    /// Listens for a room from now on, or stops.
    pub fn toggle(self, room: Room) {
        self.with(|state| {
            state.room = Some(room);
        });
        self.touched();
        let off = matches!(
            self.hearing.get_untracked(),
            Hearing::Off
                | Hearing::NotAllowed
                | Hearing::NoMicrophone
                | Hearing::NotHere
                | Hearing::NoRecogniser
        );
        if off && self.on_device.get_untracked() == Some(false) {
            // megabytes perhaps, but only for who speaks, and once
            spawn_local(async move { self.look_on_device(true).await });
        }
        self.tell(if off {
            Event::WantedOn
        } else {
            Event::WantedOff
        });
    }

    /// To be called while a touch is handled: browsers allow sounds and speech only after one.
    pub fn touched(self) {
        self.with(|state| state.sounds.wake());
        self.may_answer();
    }

    /// The same for answers alone, where the keeper looks at the screen: an open sound card costs a slow
    /// phone more than the phrase.
    pub fn may_answer(self) {
        if self.aloud_untracked() {
            mouth::prime();
        }
    }

    /// Stops listening and speaking; for when the work is left.
    pub fn stop(self) {
        self.tell(Event::WantedOff);
        mouth::hush();
    }

    /// Answers aloud, or not.
    pub fn set_aloud(self, aloud: bool) {
        self.settled.update(|settled| {
            settled.spoken = aloud;
            settled.keep();
        });
        if !aloud {
            mouth::hush();
            self.tell(Event::SpeechEnded);
        }
    }

    /// Says something, if answers are wanted aloud. It does not listen to itself meanwhile.
    pub fn say(self, told: &str) {
        if !self.aloud_untracked() || told.is_empty() {
            return;
        }
        let nth = self.with(|state| {
            state.said += 1;
            state.said
        });
        self.tell(Event::SpeechBegins);
        let ended = move || {
            if self.with(|state| state.said) == nth {
                self.tell(Event::SpeechEnded);
            }
        };
        if !mouth::say(told, self.english(), ended) {
            ended();
            return;
        }
        // a browser without a voice may never tell the end, and would leave the keeper unheard
        let longest = Duration::from_millis(LEAST_MS + LETTER_MS * told.len() as u64);
        spawn_local(async move {
            Nap::default().sleep(longest).await;
            ended();
        });
    }

    /// A short sound: understood, or not.
    pub fn sound(self, understood: bool) {
        if !self.settled.with_untracked(|settled| settled.sounds) {
            return;
        }
        self.with(|state| state.sounds.play(understood));
    }

    /// What a command means for the voice.
    pub fn obey(self, command: Command) {
        match command {
            Command::Quiet => self.set_aloud(false),
            Command::Speak => self.set_aloud(true),
            Command::StopListening => self.tell(Event::WantedOff),
            _ => {}
        }
    }

    fn with<T>(self, work: impl FnOnce(&mut State) -> T) -> T {
        let state = self.state.get_value();
        let mut state = state.borrow_mut();
        work(&mut state)
    }

    fn english(self) -> &'static str {
        self.settled.with_untracked(|settled| settled.english)
    }

    fn tell(self, event: Event) {
        if event == Event::Failed(Failure::Phrases) {
            self.with(|state| state.expects_nothing = true);
        }
        if event == Event::Failed(Failure::Language) {
            // not on this device, then: by the network
            self.on_device.set(Some(false));
        }
        let acts = self.with(|state| state.turn.on(event));
        for act in acts {
            self.act(act);
        }
        let (hearing, interim) =
            self.with(|state| (state.turn.hearing(), state.turn.interim().to_owned()));
        if self.hearing.get_untracked() != hearing && recogniser::is_there() {
            self.hearing.set(hearing);
        }
        if self.interim.get_untracked() != interim {
            self.interim.set(interim);
        }
    }

    fn act(self, act: Act) {
        match act {
            Act::Start => {
                let made = self.with(|state| {
                    if state.recogniser.is_none() {
                        let events = move |event| self.tell(event);
                        state.recogniser = Recogniser::new(events);
                    }
                    let local = self.on_device.get_untracked() == Some(true);
                    // one that works elsewhere cannot be told
                    let expected: &[&str] = if local && !state.expects_nothing {
                        &EXPECTED
                    } else {
                        &[]
                    };
                    let recogniser = state.recogniser.as_ref();
                    recogniser.is_some_and(|one| one.start(self.english(), local, expected))
                });
                if !made {
                    let at_ms = recogniser::now_ms();
                    self.tell(Event::Ended { at_ms });
                }
            }
            Act::Abort => self.with(|state| {
                if let Some(recogniser) = &state.recogniser {
                    recogniser.abort();
                }
            }),
            Act::Wait { millis } => self.later(Clock::Wait, millis, || Event::Waited),
            Act::Watch { millis } => self.later(Clock::Watch, millis, || Event::Stuck),
            Act::Trust { millis } => self.later(Clock::Trust, millis, || Event::Steady),
            Act::Settle { millis } => self.later(Clock::Settle, millis, || Event::Quiet {
                at_ms: recogniser::now_ms(),
            }),
            Act::Renew => drop(self.with(|state| state.recogniser.take())),
            Act::Deliver(readings) => {
                if let Some(room) = self.with(|state| state.room) {
                    room.hear(readings.all());
                }
            }
        }
    }

    /// Tells an event after a while, unless this clock is set again before.
    fn later(self, clock: Clock, millis: u64, event: fn() -> Event) {
        let nth = self.with(|state| {
            let set = &mut state.clocks[clock as usize];
            *set += 1;
            *set
        });
        spawn_local(async move {
            Nap::default().sleep(Duration::from_millis(millis)).await;
            if self.with(|state| state.clocks[clock as usize]) == nth {
                self.tell(event());
            }
        });
    }
}

/// What is waited for, each for itself.
#[derive(Debug, Clone, Copy)]
enum Clock {
    Wait,
    Watch,
    Trust,
    Settle,
}

impl Default for Voice {
    fn default() -> Self {
        Self::new()
    }
}
