//! The form for an apiary: name, winter, where on earth.

use comb::typed::number;
use hive::entry::{Climate, Place};
use hive::{Apiary, ApiaryId, Known};
use leptos::prelude::*;

use super::field::{Choice, Field};
use crate::texts::new_hive as words;

/// What is typed of an apiary. Copies are the same draft.
#[derive(Clone, Copy)]
pub struct PlaceDraft {
    /// Its name.
    pub name: RwSignal<String>,
    winter: RwSignal<String>,
    latitude: RwSignal<String>,
    longitude: RwSignal<String>,
    altitude: RwSignal<String>,
}

/// What is wrong with a draft, by field.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PlaceFaults {
    name: Option<&'static str>,
    latitude: Option<&'static str>,
    longitude: Option<&'static str>,
    altitude: Option<&'static str>,
}

/// Key and climate of each winter, in the order shown.
const WINTERS: [(&str, Option<Climate>); 4] = [
    ("mild_coast", Some(Climate::MildCoast)),
    ("real_winter", Some(Climate::RealWinter)),
    ("hard_winter", Some(Climate::HardWinter)),
    ("not_told", None),
];

impl PlaceDraft {
    /// An empty one.
    pub fn empty() -> Self {
        Self::filled("", None, None)
    }

    /// As an apiary is known.
    pub fn of(apiary: &Apiary) -> Self {
        Self::filled(&apiary.name, apiary.climate, apiary.place)
    }

    fn filled(name: &str, climate: Option<Climate>, place: Option<Place>) -> Self {
        let winter = WINTERS.iter().find(|(_, winter)| *winter == climate);
        let typed = |figure: Option<f64>| {
            RwSignal::new(figure.map(|figure| figure.to_string()).unwrap_or_default())
        };
        Self {
            name: RwSignal::new(name.to_owned()),
            winter: RwSignal::new(winter.map_or("not_told", |(key, _)| *key).to_owned()),
            latitude: typed(place.map(|place| place.latitude)),
            longitude: typed(place.map(|place| place.longitude)),
            altitude: typed(place.and_then(|place| place.altitude_m)),
        }
    }

    /// The entry that tells it.
    ///
    /// # Errors
    /// [`PlaceFaults`], to be shown beside the fields.
    pub fn read(self, apiary: ApiaryId) -> Result<Known, PlaceFaults> {
        let mut faults = PlaceFaults::default();
        let name = self.name.get().trim().to_owned();
        if name.is_empty() {
            faults.name = Some(words::NO_PLACE_NAME);
        }
        let within =
            |signal: RwSignal<String>, bound: f64, fault: &mut Option<&'static str>, why| {
                let typed = signal.get();
                if typed.trim().is_empty() {
                    return None;
                }
                let figure = number(&typed).filter(|figure| figure.abs() <= bound);
                if figure.is_none() {
                    *fault = Some(why);
                }
                figure
            };
        let latitude = within(
            self.latitude,
            90.0,
            &mut faults.latitude,
            words::NO_LATITUDE,
        );
        let longitude = within(
            self.longitude,
            180.0,
            &mut faults.longitude,
            words::NO_LONGITUDE,
        );
        let altitude_m = within(
            self.altitude,
            9000.0,
            &mut faults.altitude,
            words::NO_NUMBER,
        );
        if faults == PlaceFaults::default() && latitude.is_some() != longitude.is_some() {
            faults.longitude = Some(words::BOTH_COORDINATES);
        }
        if faults != PlaceFaults::default() {
            return Err(faults);
        }
        let place = latitude.zip(longitude).map(|(latitude, longitude)| Place {
            latitude,
            longitude,
            altitude_m,
        });
        let winter = self.winter.get();
        let winter = WINTERS.iter().find(|(key, _)| *key == winter);
        Ok(Known::Apiary {
            apiary,
            name,
            place,
            climate: winter.and_then(|(_, climate)| *climate),
        })
    }
}

/// Its fields.
#[component]
pub fn PlaceFields(
    /// What is typed.
    draft: PlaceDraft,
    /// Whether faults are shown already.
    #[prop(into)]
    tried: Signal<bool>,
) -> impl IntoView {
    let faults = Memo::new(move |_| {
        draft
            .read(ApiaryId(uuid::Uuid::nil()))
            .err()
            .unwrap_or_default()
    });
    let fault = move |of: fn(&PlaceFaults) -> Option<&'static str>| {
        Signal::derive(move || {
            let shown = tried.get();
            faults.with(|faults| of(faults).filter(|_| shown).map(str::to_owned))
        })
    };
    let winters: Vec<(String, String)> = WINTERS
        .iter()
        .map(|(key, climate)| ((*key).to_owned(), words::winter(*climate).to_owned()))
        .collect();
    view! {
        <Field id="place-name" label=words::PLACE_NAME value=draft.name fault=fault(|f| f.name) />
        <Choice name="winter" legend=words::WINTER of=winters chosen=draft.winter />
        <p class="hint">{words::WINTER_HINT}</p>
        <div class="pairs">
            <Field id="latitude" label=words::LATITUDE value=draft.latitude fault=fault(|f| f.latitude) />
            <Field id="longitude" label=words::LONGITUDE value=draft.longitude fault=fault(|f| f.longitude) />
            <Field id="altitude" label=words::ALTITUDE value=draft.altitude fault=fault(|f| f.altitude) />
        </div>
        <p class="hint">{words::COORDINATES_HINT}</p>
    }
}
