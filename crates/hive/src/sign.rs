//! Signs of disease and pests, as entries say them: seen, reported, cleared.
//!
//! A sign is the keeper's word, not a diagnosis. Whether it must be reported, and what then may be
//! moved, the local authority decides. Fields that a newer program adds are carried on in `more`.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::id::{BarId, EntryId};

/// A sign of a disease or pest in a hive, or that none was found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sign {
    /// The day, as the keeper counts days where the hive stands.
    pub on: Date,
    /// The disease or pest: its common name, or the keeper's words for what it might be.
    pub condition: String,
    /// How sure it is.
    pub certainty: Certainty,
    /// On which bar, if known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bar: Option<BarId>,
    /// What was seen, in the keeper's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen: Option<String>,
    /// How it was looked for: "ropiness test", "laboratory".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<String>,
    /// Whether the law of the place asks for a report, as the keeper found out; `None` is not
    /// found out yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub notifiable: Option<bool>,
    /// What a newer program says beside; kept as it came.
    #[serde(flatten)]
    pub more: Map<String, Value>,
}

/// How sure a sign is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Certainty {
    /// It may be.
    Suspected,
    /// A laboratory or an inspector says so, or it cannot be mistaken.
    Confirmed,
    /// It was looked for and not found. That clears nothing seen before.
    NotFound,
}

/// A sign was reported.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Report {
    /// The entry of the sign.
    pub sign: EntryId,
    /// The day.
    pub on: Date,
    /// To whom.
    pub to: String,
    /// Their reference, or what they said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub answer: Option<String>,
    /// What a newer program says beside; kept as it came.
    #[serde(flatten)]
    pub more: Map<String, Value>,
}

/// A sign no longer stands: it was something else, it is gone, or the order was lifted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Clearing {
    /// The entry of the sign.
    pub sign: EntryId,
    /// The day from which it no longer stands.
    pub on: Date,
    /// Why: "the laboratory found none", "the inspector lifted the order".
    pub why: String,
    /// What a newer program says beside; kept as it came.
    #[serde(flatten)]
    pub more: Map<String, Value>,
}

impl Sign {
    /// Of which no more than this is known.
    pub fn new(on: Date, condition: impl Into<String>, certainty: Certainty) -> Self {
        Self {
            on,
            condition: condition.into(),
            certainty,
            bar: None,
            seen: None,
            method: None,
            notifiable: None,
            more: Map::new(),
        }
    }
}
