//! What the season model says must stay in each hive, for advice: reckoned in the background, where the
//! weather of the hive's place is kept on this device.
//!
//! A reserve takes the model a moment, in which nothing else moves. So it is kept with what it was reckoned
//! from, reckoned anew only when that changed, one hive after the other, and never while the keeper works
//! at a hive: what must stay does not change by what is said there. The model itself, and
//! whatever it needs, comes with the desk's screens (`screens::desk`): nobody waits for it at a hive.

use std::collections::BTreeMap;
use std::time::Duration;

use advice::reserve::ModelReserve;
use advice::season_model::ModelAsk;
use comb::Mass;
use hive::{ApiaryId, HiveId, Yard};
use jiff::civil::Date;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use crate::browser::nap::Nap;
use crate::browser::{clock, mark, storage};
use crate::journal::Journal;
use crate::parts::go::Place;
use crate::weather;

/// The reserves of all hives. Copies are the same.
#[derive(Clone, Copy)]
pub struct Reserves {
    known: RwSignal<BTreeMap<HiveId, Held>>,
    begin: StoredValue<Nap, LocalStorage>,
}

/// One reserve; `None` where the model has no answer.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Held {
    /// Tells what it was reckoned from.
    from: u64,
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
        let reserves = Self {
            known: RwSignal::new(read(&storage::get(NAME).unwrap_or_default())),
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
                if !place.route_untracked().is_at_hive() {
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
        let mut files: BTreeMap<ApiaryId, Option<String>> = BTreeMap::new();
        let mut living = Vec::new();
        for hive in yard.living_hives() {
            if let Some(apiary) = hive.apiary {
                files.entry(apiary).or_insert_with(|| weather::text(apiary));
                living.push((hive.id, apiary));
            }
        }
        living.retain(|(_, apiary)| files.get(apiary).is_some_and(Option::is_some));
        let left = |hive: &HiveId| !living.iter().any(|(living, _)| living == hive);
        if self.known.with_untracked(|known| known.keys().any(left)) {
            self.known
                .update(|known| known.retain(|hive, _| !left(hive)));
            self.write_down();
        }
        if living.is_empty() {
            return;
        }
        // not here yet, and no network: it is tried again at the next change
        let Ok(reckon) = fetched().await else { return };
        for (hive, apiary) in living {
            // reckoning may take long enough for the keeper to go to work
            if place.route_untracked().is_at_hive() {
                return;
            }
            let Some(Some(file)) = files.get(&apiary) else {
                continue;
            };
            let held = self.known.with_untracked(|known| known.get(&hive).copied());
            let now = reckon(&yard, hive, today, file, held);
            if now == held {
                continue;
            }
            self.known.update(|known| match now {
                Some(now) => drop(known.insert(hive, now)),
                None => drop(known.remove(&hive)),
            });
            self.write_down();
            Nap::default().sleep(BREATH).await;
        }
        mark("reserves-reckoned");
    }

    fn write_down(self) {
        storage::set(NAME, &self.known.with_untracked(written));
    }
}

/// The reserves, from anywhere below [`crate::app::App`].
pub fn use_reserves() -> Reserves {
    expect_context()
}

/// One hive a line: its id, what it was reckoned from, and kilograms, share and day where there is an
/// answer.
fn written(known: &BTreeMap<HiveId, Held>) -> String {
    let line = |(hive, held): (&HiveId, &Held)| {
        let answer = held.reserve.map_or_else(String::new, |reserve| {
            let ModelReserve { mass, sure, until } = reserve;
            format!(" {} {sure} {until}", mass.to_kg())
        });
        format!("{hive} {}{answer}\n", held.from)
    };
    known.iter().map(line).collect()
}

/// What [`written`] wrote; a line that cannot be read is reckoned anew.
fn read(text: &str) -> BTreeMap<HiveId, Held> {
    let line = |line: &str| {
        let mut words = line.split(' ');
        let (hive, from) = (words.next()?.parse().ok()?, words.next()?.parse().ok()?);
        let reserve = match words.next() {
            None => None,
            Some(kg) => Some(ModelReserve {
                mass: Mass::kg(kg.parse().ok()?),
                sure: words.next()?.parse().ok()?,
                until: words.next()?.parse().ok()?,
            }),
        };
        Some((hive, Held { from, reserve }))
    };
    text.lines().filter_map(line).collect()
}

/// Asks the model about a hive, unless what is held was reckoned from the very same.
type Reckon = fn(&Yard, HiveId, Date, &str, Option<Held>) -> Option<Held>;

fn reckon(
    yard: &Yard,
    hive: HiveId,
    today: Date,
    weather_file: &str,
    held: Option<Held>,
) -> Option<Held> {
    let ask = ModelAsk::of(yard, yard.hive(hive)?, today)?;
    let from = tag(&[&serde_json::to_string(&ask).ok()?, weather_file]);
    if held.is_some_and(|held| held.from == from) {
        return held;
    }
    // weather that makes no years was refused when it was given
    let answer = weather::series(weather_file).and_then(|days| ask.answer(&days).ok());
    Some(Held {
        from,
        reserve: answer.flatten(),
    })
}

#[wasm_split(desk, fallible)]
#[allow(
    clippy::unnecessary_wraps,
    reason = "the fetching may fail, this cannot"
)]
fn fetched() -> Result<Reckon, SplitLoaderError> {
    Ok(reckon)
}

/// Tells texts from others: 64-bit FNV-1a.
fn tag(texts: &[&str]) -> u64 {
    let step = |hash: u64, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    let bytes = texts.iter().flat_map(|text| text.bytes().chain([0]));
    bytes.fold(0xcbf2_9ce4_8422_2325, step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_reads_back_and_a_spoilt_line_is_left_out() {
        let hive = |n: u128| HiveId(uuid::Uuid::from_u128(n));
        let reserve = ModelReserve {
            mass: Mass::kg(26.0 / 3.0),
            sure: 0.95,
            until: Date::constant(2027, 9, 1),
        };
        let known = BTreeMap::from([
            (
                hive(1),
                Held {
                    from: 7,
                    reserve: None,
                },
            ),
            (
                hive(2),
                Held {
                    from: u64::MAX,
                    reserve: Some(reserve),
                },
            ),
        ]);
        let text = written(&known);
        assert_eq!(read(&text), known);
        let spoilt = text.replace("2027-09-01", "soon");
        assert_eq!(read(&spoilt).keys().collect::<Vec<_>>(), [&hive(1)]);
    }
}
