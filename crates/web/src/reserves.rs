//! What the season model says must stay in each hive, for advice: reckoned in the background, where the
//! weather of the hive's place is kept on this device.
//!
//! A reserve takes the model a moment, in which nothing else moves. So it is kept with what it was reckoned
//! from, reckoned anew only when that changed, one hive after the other, and never while the keeper works
//! at a hive: what must stay does not change by what is said there.

use std::collections::BTreeMap;
use std::time::Duration;

use advice::reserve::ModelReserve;
use advice::season_model::ModelAsk;
use hive::{ApiaryId, HiveId};
use leptos::prelude::*;
use serde::{Deserialize, Serialize};
use wasm_bindgen_futures::spawn_local;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use crate::browser::nap::Nap;
use crate::browser::{clock, mark, storage};
use crate::journal::Journal;
use crate::parts::go::Place;
use crate::route::Route;
use crate::weather;

/// Asks the model.
type Answer = fn(&ModelAsk, &str) -> Option<ModelReserve>;

fn answer(ask: &ModelAsk, weather_file: &str) -> Option<ModelReserve> {
    // weather that makes no years was refused when it was given
    let days = weather::series(weather_file)?;
    ask.answer(&days).ok().flatten()
}

/// The model comes with the desk's screens (`screens::desk`): nobody waits for it at an open hive.
#[wasm_split(desk, fallible)]
#[allow(
    clippy::unnecessary_wraps,
    reason = "the fetching may fail, this cannot"
)]
fn fetched() -> Result<Answer, SplitLoaderError> {
    Ok(answer)
}

/// The reserves of all hives. Copies are the same.
#[derive(Clone, Copy)]
pub struct Reserves {
    known: RwSignal<BTreeMap<HiveId, Reckoned>>,
    begin: StoredValue<Nap, LocalStorage>,
}

/// One reserve, and what it was reckoned from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
struct Reckoned {
    ask: ModelAsk,
    weather: u64,
    reserve: Option<ModelReserve>,
}

const NAME: &str = "reserves";
/// Entries arrive in bursts: only after so long a quiet does reckoning begin.
const QUIET: Duration = Duration::from_millis(1500);
/// Between two hives, for whatever else waits.
const BREATH: Duration = Duration::from_millis(100);

impl Reserves {
    /// As kept, and brought up to date in the background from now on.
    pub fn keep_reckoning(journal: Journal, place: Place) -> Self {
        let kept = storage::get(NAME).and_then(|text| serde_json::from_str(&text).ok());
        let reserves = Self {
            known: RwSignal::new(kept.unwrap_or_default()),
            begin: StoredValue::new_local(Nap::default()),
        };
        Effect::new(move || {
            journal.yard.track();
            place.route();
            reserves.reckon_soon();
        });
        spawn_local(async move {
            loop {
                reserves.begin.get_value().sleep(Duration::MAX).await;
                Nap::default().sleep(QUIET).await;
                if !at_work(place) {
                    reserves.bring_up_to_date(journal, place).await;
                }
            }
        });
        reserves
    }

    /// What must stay in a hive, where it is known.
    pub fn of(self, hive: HiveId) -> Option<ModelReserve> {
        self.known.with(|known| known.get(&hive)?.reserve)
    }

    /// The same, for who must not be told when it changes.
    pub fn of_untracked(self, hive: HiveId) -> Option<ModelReserve> {
        self.known.with_untracked(|known| known.get(&hive)?.reserve)
    }

    /// Something changed that a reserve hangs on.
    pub fn reckon_soon(self) {
        self.begin.with_value(Nap::wake);
    }

    async fn bring_up_to_date(self, journal: Journal, place: Place) {
        let yard = journal.yard.get_untracked();
        let today = clock::today();
        let living: Vec<_> = yard.living_hives().into_iter().collect();
        let mut files: BTreeMap<ApiaryId, Option<(u64, String)>> = BTreeMap::new();
        let gone = |hive: &HiveId| !living.iter().any(|living| living.id == *hive);
        if self.known.with_untracked(|known| known.keys().any(gone)) {
            self.known
                .update(|known| known.retain(|hive, _| !gone(hive)));
            self.write_down();
        }
        for hive in &living {
            let Some(apiary) = hive.apiary else { continue };
            let file = files
                .entry(apiary)
                .or_insert_with(|| weather::text(apiary).map(|text| (tag(&text), text)));
            let now = match (file, ModelAsk::of(&yard, hive, today)) {
                (Some((weather, text)), Some(ask)) => Some((ask, *weather, &*text)),
                _ => None,
            };
            let held = self
                .known
                .with_untracked(|known| known.get(&hive.id).copied());
            if held.map(|held| (held.ask, held.weather)) == now.map(|(ask, tag, _)| (ask, tag)) {
                continue;
            }
            // told here, since reckoning may take long enough for the keeper to go to work
            if at_work(place) {
                return;
            }
            let reckoned = match now {
                None => None,
                Some((ask, weather, text)) => {
                    // not here yet, and no network: it is tried again at the next change
                    let Ok(answer) = fetched().await else { return };
                    Some(Reckoned {
                        ask,
                        weather,
                        reserve: answer(&ask, text),
                    })
                }
            };
            self.known.update(|known| match reckoned {
                Some(reckoned) => drop(known.insert(hive.id, reckoned)),
                None => drop(known.remove(&hive.id)),
            });
            self.write_down();
            Nap::default().sleep(BREATH).await;
        }
        mark("reserves-reckoned");
    }

    fn write_down(self) {
        let text = self.known.with_untracked(serde_json::to_string);
        if let Ok(text) = text {
            storage::set(NAME, &text);
        }
    }
}

/// The reserves, from anywhere below [`crate::app::App`].
pub fn use_reserves() -> Reserves {
    expect_context()
}

fn at_work(place: Place) -> bool {
    let route = place.route_untracked();
    matches!(route, Route::Visit(Some(_)) | Route::ClosingUp(Some(_)))
}

/// Tells one file from another: 64-bit FNV-1a.
fn tag(text: &str) -> u64 {
    let step = |hash: u64, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    text.bytes().fold(0xcbf2_9ce4_8422_2325, step)
}
