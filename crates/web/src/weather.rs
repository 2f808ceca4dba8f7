//! The daily weather of places, kept on this device beside the journal.

use hive::ApiaryId;
use season::Series;
use season::weather::read_csv;

use crate::browser::storage;

fn name_of(apiary: ApiaryId) -> String {
    format!("weather-{apiary}")
}

/// The file of a place as it was given; `None` where none is kept.
pub fn text(apiary: ApiaryId) -> Option<String> {
    storage::get(&name_of(apiary))
}

/// The days of a file; `None` where it cannot be read.
pub fn series(text: &str) -> Option<Series> {
    read_csv(text).ok().map(|read| read.series)
}

/// Keeps the file of a place; false when the browser has no room for it.
pub fn keep(apiary: ApiaryId, file: &str) -> bool {
    storage::set(&name_of(apiary), file);
    text(apiary).is_some_and(|held| held == file)
}
