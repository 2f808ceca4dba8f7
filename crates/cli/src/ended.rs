//! A hive that has ended: its record is kept, and nothing more is recorded or advised for it.

use hive::{Hive, Yard};
use jiff::Timestamp;
use jiff::tz::TimeZone;

use crate::failure::Failure;
use crate::journal::hive_named;
use crate::out::quoted;

/// "ended on 2026-11-14: died out"; `None` for a living hive.
pub(crate) fn words(hive: &Hive, zone: &TimeZone) -> Option<String> {
    let ended = hive.ended.as_ref()?;
    let day = ended.at.to_zoned_datetime(zone.clone()).date();
    Some(format!("ended on {day}: {}", ended.why))
}

/// A hive by name that had not ended at an instant.
///
/// # Errors
/// No hive of that name, or one that has ended.
pub(crate) fn living_named<'a>(
    yard: &'a Yard,
    name: &str,
    at: Timestamp,
    zone: &TimeZone,
) -> Result<&'a Hive, Failure> {
    let hive = hive_named(yard, name)?;
    let over = hive.ended.as_ref().is_some_and(|ended| ended.at <= at);
    match words(hive, zone) {
        Some(words) if over => {
            let what = format!("{} {words}; nothing was recorded", hive.name);
            Err(Failure::input(what).help(format!(
                "Name a living hive. If it has not ended, `combwright journal undo {}` takes the end back, when \
                 that was the last thing recorded.",
                quoted(&hive.name)
            )))
        }
        _ => Ok(hive),
    }
}
