//! What the fold could not take as it was written. A fault never stops the fold.

use comb::Length;
use serde::Serialize;
use thiserror::Error;

use crate::id::{ApiaryId, BarId, EntryId, HiveId};

/// One entry that was not taken, or not quite as it was written.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Fault {
    /// The entry.
    pub entry: EntryId,
    /// The hive it is about.
    pub hive: Option<HiveId>,
    /// True when the entry was applied all the same, as far as the reason allows.
    pub applied: bool,
    /// What is wrong.
    pub why: Why,
}

/// What can be wrong with a recorded entry.
#[derive(Debug, Clone, PartialEq, Serialize, Error)]
#[serde(tag = "why", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Why {
    /// The kind needs a hive and none is named.
    #[error("names no hive")]
    NoHive,
    /// The hive is not in the journal (yet).
    #[error("hive {hive} is not in the journal")]
    NoSuchHive {
        /// Which.
        hive: HiveId,
    },
    /// The apiary is not in the journal (yet).
    #[error("apiary {apiary} is not in the journal")]
    NoSuchApiary {
        /// Which.
        apiary: ApiaryId,
    },
    /// A hive is started that is there already.
    #[error("this hive was started before")]
    StartedTwice,
    /// Another living hive bears this name.
    #[error("another living hive is named {name}")]
    NameTaken {
        /// The name.
        name: String,
    },
    /// The hive has no such bar.
    #[error("bar {bar} is not a bar of this hive")]
    NoSuchBar {
        /// Which.
        bar: BarId,
    },
    /// A bar is added that is there already.
    #[error("bar {bar} was added before")]
    AddedTwice {
        /// Which.
        bar: BarId,
    },
    /// Another bar of the hive bears this number; this one was given another.
    #[error("number {number} is in use, the bar was given {given}")]
    NumberTaken {
        /// As written.
        number: u32,
        /// As given.
        given: u32,
    },
    /// The bar is not in the row, where the entry needs it.
    #[error("bar {bar} is not in the row")]
    NotInRow {
        /// Which.
        bar: BarId,
    },
    /// A bar beside itself.
    #[error("bar {bar} cannot stand beside itself")]
    BesideItself {
        /// Which.
        bar: BarId,
    },
    /// The bar does not lie aside.
    #[error("bar {bar} was not set aside")]
    NotAside {
        /// Which.
        bar: BarId,
    },
    /// There is no comb on the bar that could be taken.
    #[error("bar {bar} has no comb in the hive")]
    NoComb {
        /// Which.
        bar: BarId,
    },
    /// A row with a bar in two places.
    #[error("bar {bar} stands in the row twice")]
    BarTwice {
        /// Which.
        bar: BarId,
    },
    /// A row longer than the cavity.
    #[error("the row is {:.0} mm too long for the cavity", .over_mm.to_mm())]
    RowTooLong {
        /// By how much.
        over_mm: Length,
    },
    /// The visit is not one of this hive, or not in the journal (yet).
    #[error("visit {visit} is not a visit of this hive")]
    NoSuchVisit {
        /// Which.
        visit: EntryId,
    },
    /// The kind belongs to a visit, and the entry names none of this hive.
    #[error("belongs to no visit of this hive")]
    NoVisit,
    /// What was said of one face adds up to more than the face.
    #[error("what was said of one face of bar {bar} adds up to more than the face")]
    FaceOverfull {
        /// Which bar.
        bar: BarId,
    },
    /// The treatment is not one of this hive, or not in the journal (yet).
    #[error("treatment {treatment} is not one of this hive")]
    NoSuchTreatment {
        /// Which.
        treatment: EntryId,
    },
    /// The sign is not one of this hive, or not in the journal (yet).
    #[error("sign {sign} is not one of this hive")]
    NoSuchSign {
        /// Which.
        sign: EntryId,
    },
    /// The entry to correct or take back is not in the journal (yet).
    #[error("entry {target}, which this is about, is not in the journal")]
    NoSuchEntry {
        /// Which.
        target: EntryId,
    },
    /// Entries that take back or correct each other in a circle; none of them acts.
    #[error("takes part in a circle of corrections")]
    Circle,
    /// An undo or a correction cannot be corrected into this.
    #[error("an undo is taken back, not corrected; and nothing is corrected into one")]
    NotCorrectable,
    /// Two entries with one id and different bodies; the one whose text sorts first counts.
    #[error("there are different entries with this id")]
    DifferentTwins,
    /// Two entries of one device with one number.
    #[error("device's number {seq} is used by another entry as well")]
    SequenceTwice {
        /// The number.
        seq: u64,
    },
    /// The device's clock stood before its own earlier entry; it counts as written right after.
    #[error("written while the device's clock stood before its earlier entries")]
    ClockWentBack,
}
