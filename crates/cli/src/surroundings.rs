//! What the pure crates may not know: the clock, the zone, fresh ids, the data folder.

use std::path::PathBuf;

use etcetera::{AppStrategy, AppStrategyArgs, choose_app_strategy};
use hive::{DeviceId, EntryId};
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use uuid::Uuid;

use crate::failure::Failure;

/// Now, where this machine stands.
pub(crate) fn now() -> ZonedDateTime {
    ZonedDateTime::now()
}

/// A fresh UUID, version 7.
pub(crate) fn fresh_id() -> EntryId {
    EntryId(Uuid::now_v7())
}

/// A device id that no device had before.
pub(crate) fn fresh_device() -> DeviceId {
    DeviceId(Uuid::now_v7())
}

/// The keeper's name for "who says so": as the system knows the person, else "keeper".
pub(crate) fn person() -> String {
    ["COMBWRIGHT_BY", "USER", "USERNAME"]
        .iter()
        .find_map(|name| std::env::var(name).ok().filter(|value| !value.is_empty()))
        .filter(|name| name != "root")
        .unwrap_or_else(|| "keeper".to_owned())
}

/// The zone's name as it is written into entries: an IANA name, else an offset.
pub(crate) fn zone_name(zoned: &ZonedDateTime) -> String {
    match zoned.time_zone().iana_name() {
        Some(name) => name.to_owned(),
        None => zoned.offset().to_string(),
    }
}

/// The day of an instant in the zone in which it was written.
pub(crate) fn local_day(at: Timestamp, zone: &str) -> Date {
    at.to_zoned_datetime(zone_of(zone)).date()
}

/// A zone by the name that stands in an entry: an IANA name or an offset; UTC for one that this
/// machine does not know.
pub(crate) fn zone_of(name: &str) -> TimeZone {
    TimeZone::get(name)
        .ok()
        .or_else(|| {
            // an offset such as +10:00 is read through a date that bears it
            let bearing = format!("2000-01-01T00:00{name}[{name}]");
            let read = bearing.parse::<ZonedDateTime>().ok();
            read.map(|zoned| zoned.time_zone().clone())
        })
        .unwrap_or(TimeZone::UTC)
}

/// The data folder: as told, else the place where this system keeps a program's data.
pub(crate) fn data_folder(told: Option<PathBuf>) -> Result<PathBuf, Failure> {
    if let Some(folder) = told {
        return Ok(folder);
    }
    let strategy = choose_app_strategy(AppStrategyArgs {
        top_level_domain: "org".to_owned(),
        author: "Combwright".to_owned(),
        app_name: "Combwright".to_owned(),
    });
    strategy.map(|strategy| strategy.data_dir()).map_err(|_| {
        Failure::input("this system does not say where a person's data belongs")
            .help("Name a folder with --data.")
    })
}

/// A day or an instant as a person writes it: `2026-11-14`, `2026-11-14T10:30`, or with a zone.
/// A day alone is read as its noon, when hives are opened.
pub(crate) fn instant(text: &str, zone: &TimeZone) -> Result<ZonedDateTime, Failure> {
    if let Ok(zoned) = text.parse::<ZonedDateTime>() {
        return Ok(zoned);
    }
    if let Ok(timestamp) = text.parse::<Timestamp>() {
        return Ok(timestamp.to_zoned_datetime(zone.clone()));
    }
    let local = text
        .parse::<Date>()
        .map(|date| date.at(12, 0, 0, 0))
        .or_else(|_| text.parse::<DateTime>())
        .map_err(|_| {
            Failure::input(format!("\"{text}\" is no day"))
                .help("Write a day as 2026-11-14, or a time as 2026-11-14T10:30.")
        })?;
    local
        .to_zoned_datetime(zone.clone())
        .map_err(|why| Failure::input(format!("{text}: {why}")))
}
