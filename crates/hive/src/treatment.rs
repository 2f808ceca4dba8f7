//! What is given to a hive against mites or disease, as entries say it: treatments begun and ended,
//! medicines bought and disposed of.
//!
//! Every word is the keeper's or the label's. Nothing here knows a dose or a product's period: the
//! label does, and the keeper copies it in. Fields that a newer program adds are carried on in
//! `more`.

use comb::Temperature;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::id::EntryId;

/// A medicine or another treatment given to a hive. Days are the keeper's, where the hive stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Treatment {
    /// The day on which it was given.
    pub on: Date,
    /// The product as its label names it, or what was done where there is no product.
    pub product: String,
    /// The active substance, as the label names it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub active: Option<String>,
    /// The batch on the packet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
    /// How much, in the keeper's words: "2 strips".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quantity: Option<String>,
    /// How it was given: "hung between the brood combs".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub how: Option<String>,
    /// What it is against: "varroa".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub against: Option<String>,
    /// The day on which it is to come out; `None` is not said, or it does not stay in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planned_removal: Option<Date>,
    /// What the label says of honey; `None` is not copied in, which is never "none".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub withholding: Option<LabelPeriod>,
    /// Who sold it, with the address.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supplier: Option<String>,
    /// The day on which it was bought.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bought: Option<Date>,
    /// Who prescribed it, where it needs a prescription.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub prescriber: Option<String>,
    /// The coldest air expected while it is on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_from_c: Option<Temperature>,
    /// The warmest air expected while it is on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_to_c: Option<Temperature>,
    /// Whether honey for harvest was in the hive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub honey_on: Option<bool>,
    /// Whether there was capped brood.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub capped_brood: Option<bool>,
    /// What a newer program says beside; kept as it came.
    #[serde(flatten)]
    pub more: Map<String, Value>,
}

/// What a label says of honey from a treated hive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "says", rename_all = "snake_case", deny_unknown_fields)]
pub enum LabelPeriod {
    /// Nil: honey may be taken at any time.
    Nil,
    /// Honey may not be taken while it is on, nor on so many whole days after.
    Days {
        /// Days after the end; the day of the end is not counted.
        days: u16,
    },
    /// Honey may not be taken up to this day, the day itself included.
    Through {
        /// The last day.
        day: Date,
    },
    /// Honey that was in the hive while it was on, or within so many days after, must never be
    /// taken.
    HoneyOnIsLost {
        /// Days after the end; the day of the end is not counted.
        #[serde(default)]
        days: u16,
    },
}

/// A treatment is over: the strips are out, the course is given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TreatmentEnd {
    /// The entry that began it.
    pub treatment: EntryId,
    /// The day on which it ended.
    pub on: Date,
    /// What was left over or found: "one strip of two, the other had fallen down".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left: Option<String>,
    /// What a newer program says beside; kept as it came.
    #[serde(flatten)]
    pub more: Map<String, Value>,
}

/// A medicine was bought; a matter of the yard.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Purchase {
    /// The day.
    pub on: Date,
    /// The product as its label names it.
    pub product: String,
    /// The active substance, as the label names it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub active: Option<String>,
    /// The batch on the packet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
    /// How much, in the keeper's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quantity: Option<String>,
    /// What the label says of honey; `None` is not copied in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub withholding: Option<LabelPeriod>,
    /// Who sold it, with the address.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supplier: Option<String>,
    /// Use by this day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expires: Option<Date>,
    /// Where the proof of purchase is: "invoice 12 in the folder".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub proof: Option<String>,
    /// What a newer program says beside; kept as it came.
    #[serde(flatten)]
    pub more: Map<String, Value>,
}

/// A medicine was disposed of; a matter of the yard.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Disposal {
    /// The day.
    pub on: Date,
    /// The product as its label names it.
    pub product: String,
    /// The batch on the packet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
    /// How much, in the keeper's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quantity: Option<String>,
    /// How and where: "taken back to the seller".
    pub how: String,
    /// What a newer program says beside; kept as it came.
    #[serde(flatten)]
    pub more: Map<String, Value>,
}

impl Treatment {
    /// Of which no more than this is known.
    pub fn new(on: Date, product: impl Into<String>) -> Self {
        Self {
            on,
            product: product.into(),
            active: None,
            batch: None,
            quantity: None,
            how: None,
            against: None,
            planned_removal: None,
            withholding: None,
            supplier: None,
            bought: None,
            prescriber: None,
            air_from_c: None,
            air_to_c: None,
            honey_on: None,
            capped_brood: None,
            more: Map::new(),
        }
    }
}
