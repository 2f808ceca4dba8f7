//! One row of the database: a record, and whether it waits for the server.

use exchange::{Hash, Record};
use hive::{DeviceId, EntryId};
use wasm_bindgen::JsValue;

use crate::browser::reflect;

/// A kept record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    /// Its place on this device, in the order of arrival; 0 before it is kept.
    pub(super) place: u64,
    /// The record.
    pub(super) record: Record,
    /// Whether the server is not known to have it.
    pub(super) waits: bool,
}

/// The largest whole number that a JavaScript number holds exactly.
const LARGEST: u64 = 1 << 53;

impl Row {
    /// A record that is new here.
    pub(super) const fn new(record: Record, waits: bool) -> Self {
        Self {
            place: 0,
            record,
            waits,
        }
    }

    /// As the database keeps it. What does not wait has no such property, so that the index of those
    /// that wait holds nothing else.
    pub(super) fn to_js(&self) -> JsValue {
        let Record {
            device,
            seq,
            id,
            prev,
            hash,
            text,
        } = &self.record;
        let string = |value: &dyn ToString| JsValue::from_str(&value.to_string());
        let mut properties = vec![
            ("device", string(device)),
            ("seq", JsValue::from_f64((*seq).min(LARGEST) as f64)),
            ("id", string(id)),
            ("prev", string(prev)),
            ("hash", string(hash)),
            ("text", JsValue::from_str(text)),
        ];
        if self.place > 0 {
            properties.push(("place", JsValue::from_f64(self.place as f64)));
        }
        if self.waits {
            properties.push(("waits", JsValue::from_f64(1.0)));
        }
        reflect::object(&properties)
    }

    /// Read back; `None` when something is missing or not what it should be. The hash is not proved
    /// again: that costs more than all the rest of a start, and whoever takes the record proves it.
    pub(super) fn of_js(value: &JsValue) -> Option<Self> {
        let text = |name| reflect::get(value, name)?.as_string();
        let number = |name| {
            reflect::get(value, name)?
                .as_f64()
                .map(|number| number as u64)
        };
        Some(Self {
            place: number("place")?,
            record: Record {
                device: text("device")?.parse::<DeviceId>().ok()?,
                seq: number("seq")?,
                id: text("id")?.parse::<EntryId>().ok()?,
                prev: text("prev")?.parse::<Hash>().ok()?,
                hash: text("hash")?.parse::<Hash>().ok()?,
                text: text("text")?,
            },
            waits: reflect::get(value, "waits").is_some(),
        })
    }
}
