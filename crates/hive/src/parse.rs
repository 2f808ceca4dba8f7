//! Reading an entry: what this version can read is read strictly, what a newer one wrote is kept.
//!
//! An unreadable body of a kind that this version knows is a fault and refused by name; an unknown
//! kind, or any kind in an entry with a newer version number, is kept as [`What::Foreign`] and
//! written again as it came. The envelope's fields never change their meaning between versions;
//! they may only grow in number ([`Entry::extra`]).

use jiff::Timestamp;
use serde::{Deserialize, Deserializer, de::Error as _};
use serde_json::{Map, Value};

use crate::HiveError;
use crate::entry::{Entry, FORMAT, What};
use crate::id::{DeviceId, EntryId, HiveId};
use crate::known::Known;

/// An entry of this version. `Current<Known>` is nearly every line of a journal; read as that, and not by way
/// of [`What`], its text is taken apart once instead of twice.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Current<W> {
    v: u32,
    id: EntryId,
    device: DeviceId,
    seq: u64,
    at: Timestamp,
    recorded: Timestamp,
    zone: String,
    by: String,
    #[serde(default)]
    hive: Option<HiveId>,
    #[serde(default)]
    visit: Option<EntryId>,
    #[serde(default)]
    said: Option<String>,
    what: W,
}

/// The same with whatever else a newer program wrote.
#[derive(Deserialize)]
struct Newer {
    v: u32,
    id: EntryId,
    device: DeviceId,
    seq: u64,
    at: Timestamp,
    recorded: Timestamp,
    zone: String,
    by: String,
    #[serde(default)]
    hive: Option<HiveId>,
    #[serde(default)]
    visit: Option<EntryId>,
    #[serde(default)]
    said: Option<String>,
    what: Map<String, Value>,
    #[serde(flatten)]
    extra: Map<String, Value>,
}

impl Entry {
    /// Reads one entry from its JSON text, one line of an exported journal.
    ///
    /// # Errors
    /// [`HiveError::NotJson`] with line and column, [`HiveError::Malformed`] with the part that
    /// cannot be read, or what [`Known::check_values`] refuses.
    pub fn parse(json: &str) -> Result<Self, HiveError> {
        if let Ok(current) = serde_json::from_str::<Current<Known>>(json)
            && current.v == FORMAT
        {
            return Self::from(current).with_sound_values();
        }
        let value: Value = serde_json::from_str(json).map_err(|why| HiveError::not_json(&why))?;
        Self::from_value(value)
    }

    /// Reads one entry from a JSON value; as [`Entry::parse`].
    pub fn from_value(value: Value) -> Result<Self, HiveError> {
        let Value::Object(map) = &value else {
            return Err(HiveError::malformed("entry", "is not an object"));
        };
        let version = match map.get("v").map(Value::as_u64) {
            None => return Err(HiveError::malformed("v", "is missing")),
            Some(Some(version)) if version >= 1 => version,
            Some(_) => return Err(HiveError::malformed("v", "is not a number from 1 on")),
        };
        let kind = kind_of(map.get("what"))?;
        check_envelope(map)?;
        if version > u64::from(FORMAT) {
            return serde_json::from_value::<Newer>(value)
                .map(Self::from)
                .map_err(|why| HiveError::malformed("envelope", &why));
        }
        if Known::KINDS.contains(&kind.as_str()) {
            readable::<What>(map, "what")
                .map_err(|why| HiveError::malformed(&format!("what ({kind})"), &why))?;
        }
        serde_json::from_value::<Current<What>>(value)
            .map_err(|why| HiveError::malformed("envelope", &why))
            .map(Self::from)?
            .with_sound_values()
    }

    fn with_sound_values(self) -> Result<Self, HiveError> {
        self.what.check_values()?;
        Ok(self)
    }
}

/// Names the first field of the envelope that cannot be read.
fn check_envelope(map: &Map<String, Value>) -> Result<(), HiveError> {
    type Reader = fn(&Map<String, Value>, &str) -> Result<(), serde_json::Error>;
    const FIELDS: [(&str, Reader); 10] = [
        ("id", readable::<EntryId>),
        ("device", readable::<DeviceId>),
        ("seq", readable::<u64>),
        ("at", readable::<Timestamp>),
        ("recorded", readable::<Timestamp>),
        ("zone", readable::<String>),
        ("by", readable::<String>),
        ("hive", readable::<Option<HiveId>>),
        ("visit", readable::<Option<EntryId>>),
        ("said", readable::<Option<String>>),
    ];
    for (field, read) in FIELDS {
        let missing = !map.contains_key(field) && !["hive", "visit", "said"].contains(&field);
        if missing {
            return Err(HiveError::malformed(field, "is missing"));
        }
        read(map, field).map_err(|why| HiveError::malformed(field, &why))?;
    }
    Ok(())
}

fn readable<T: for<'de> Deserialize<'de>>(
    map: &Map<String, Value>,
    field: &str,
) -> Result<(), serde_json::Error> {
    T::deserialize(map.get(field).unwrap_or(&Value::Null)).map(|_| ())
}

fn kind_of(what: Option<&Value>) -> Result<String, HiveError> {
    match what.map(|what| what.get("kind").map(Value::as_str)) {
        None => Err(HiveError::malformed("what", "is missing")),
        Some(Some(Some(kind))) => Ok(kind.to_owned()),
        Some(_) => Err(HiveError::malformed("what", "has no `kind`")),
    }
}

impl<W: Into<What>> From<Current<W>> for Entry {
    fn from(read: Current<W>) -> Self {
        Self {
            v: read.v,
            id: read.id,
            device: read.device,
            seq: read.seq,
            at: read.at,
            recorded: read.recorded,
            zone: read.zone,
            by: read.by,
            hive: read.hive,
            visit: read.visit,
            said: read.said,
            what: read.what.into(),
            extra: Map::new(),
        }
    }
}

impl From<Newer> for Entry {
    fn from(read: Newer) -> Self {
        Self {
            v: read.v,
            id: read.id,
            device: read.device,
            seq: read.seq,
            at: read.at,
            recorded: read.recorded,
            zone: read.zone,
            by: read.by,
            hive: read.hive,
            visit: read.visit,
            said: read.said,
            what: What::Foreign(read.what),
            extra: read.extra,
        }
    }
}

impl<'de> Deserialize<'de> for Entry {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Self::from_value(Value::deserialize(deserializer)?).map_err(D::Error::custom)
    }
}

impl<'de> Deserialize<'de> for What {
    /// A known kind must be readable; an unknown one is kept as it came.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let map = Map::<String, Value>::deserialize(deserializer)?;
        let Some(kind) = map.get("kind").and_then(Value::as_str) else {
            return Err(D::Error::custom("`what` needs a `kind`"));
        };
        if Known::KINDS.contains(&kind) {
            let known = Known::deserialize(Value::Object(map)).map_err(D::Error::custom)?;
            Ok(known.into())
        } else {
            Ok(Self::Foreign(map))
        }
    }
}
