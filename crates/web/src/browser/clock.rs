//! The time, and ids that carry it.

use std::cell::RefCell;

use jiff::civil::Date;
use jiff::tz::{Offset, TimeZone};
use jiff::{Timestamp, ZonedDateTime};
use js_sys::Function;
use uuid::Uuid;
use wasm_bindgen::{JsCast as _, JsValue};

use super::{reflect, window};

/// Now, by the device's clock.
pub fn now() -> Timestamp {
    Timestamp::from_millisecond(js_sys::Date::now() as i64).unwrap_or_default()
}

/// The device's time zone, an IANA name; `UTC` where the browser does not say.
pub fn zone() -> String {
    thread_local! {
        // the browser takes long to tell, and nobody crosses into another zone of the same offset
        // in the middle of a visit
        static KNOWN: RefCell<Option<(i32, String)>> = const { RefCell::new(None) };
    }
    let offset = js_sys::Date::new_0().get_timezone_offset() as i32;
    KNOWN.with_borrow_mut(|known| match known {
        Some((of, zone)) if *of == offset => zone.clone(),
        _ => known.insert((offset, zone_by_browser())).1.clone(),
    })
}

fn zone_by_browser() -> String {
    let options = js_sys::Intl::DateTimeFormat::new(&js_sys::Array::new(), &js_sys::Object::new())
        .resolved_options();
    reflect::get(&options, "timeZone")
        .and_then(|zone| zone.as_string())
        .unwrap_or_else(|| "UTC".into())
}

/// The device's offset from UTC as it is now, as a zone to count days in. Days of half a year ago
/// may begin an hour off where clocks are changed: the app carries no table of zones.
pub fn time_zone() -> TimeZone {
    // JavaScript counts minutes to be added to local time to get UTC (ECMA-262, getTimezoneOffset)
    let minutes = js_sys::Date::new_0().get_timezone_offset();
    Offset::from_seconds((-minutes * 60.0) as i32).map_or(TimeZone::UTC, TimeZone::fixed)
}

/// Now, with the device's own zone.
pub fn now_here() -> ZonedDateTime {
    now().to_zoned_datetime(time_zone())
}

/// The device's own day.
pub fn today() -> Date {
    time_zone().to_datetime(now()).date()
}

/// The day of an instant in the zone that an entry names, as the browser knows zones; by the device's
/// own offset for one that it does not know.
pub fn day_of(at: Timestamp, zone: &str) -> Date {
    thread_local! {
        // most entries name one zone, and the browser takes long to make a reader for it
        static READER: RefCell<(String, Option<Function>)> = const { RefCell::new((String::new(), None)) };
    }
    let told = READER.with_borrow_mut(|(known, reader)| {
        if known != zone {
            *reader = reader_of(zone);
            zone.clone_into(known);
        }
        let at = JsValue::from_f64(at.as_millisecond() as f64);
        let told = reader.as_ref()?.call1(&JsValue::UNDEFINED, &at).ok()?;
        told.as_string()?.parse().ok()
    });
    told.unwrap_or_else(|| time_zone().to_datetime(at).date())
}

/// Writes an instant as 2026-11-20 in a zone; `None` where the browser does not know the zone.
fn reader_of(zone: &str) -> Option<Function> {
    let intl = reflect::get(&js_sys::global(), "Intl")?;
    let maker = reflect::method(&intl, "DateTimeFormat")?;
    // Swedish days are written as ISO 8601 has them
    let options = reflect::object(&[("timeZone", JsValue::from_str(zone))]);
    let arguments = js_sys::Array::of2(&JsValue::from_str("sv-SE"), &options);
    let format = js_sys::Reflect::construct(&maker, &arguments).ok()?;
    reflect::get(&format, "format")?.dyn_into().ok()
}

/// A fresh UUID, version 7 (RFC 9562), from an instant and the browser's random numbers.
///
/// # Errors
/// The browser's words when it gives no random numbers.
pub fn fresh_uuid(at: Timestamp) -> Result<Uuid, JsValue> {
    let mut random = [0; 10];
    let crypto = window().ok_or(JsValue::NULL)?.crypto()?;
    crypto.get_random_values_with_u8_array(&mut random)?;
    let millis = u64::try_from(at.as_millisecond()).unwrap_or_default();
    Ok(uuid::Builder::from_unix_timestamp_millis(millis, &random).into_uuid())
}
