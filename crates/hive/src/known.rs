//! The kinds of entry that this program knows.

use comb::{Body, Contents, Length, Mass, Share};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::entry::What;
use crate::id::{ApiaryId, BarId, EntryId, HiveId};
use crate::sign::{Clearing, Report, Sign};
use crate::treatment::{Disposal, Purchase, Treatment, TreatmentEnd};
use crate::vocabulary::{
    Climate, ClosingWord, Decision, End, Hanging, Harvest, Match, Piece, Place, Reserve, Weather,
};

/// The kinds this program knows.
#[expect(clippy::large_enum_variant, reason = "it lives boxed, in `What`")]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Known {
    // --- the yard -------------------------------------------------------------------------
    /// An apiary is named, or its place or climate told anew.
    Apiary {
        /// Which.
        apiary: ApiaryId,
        /// Its name.
        name: String,
        /// Where it stands.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<Place>,
        /// Its winter.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        climate: Option<Climate>,
    },
    /// A hive begins; the entry's `hive` is its id.
    HiveStarted {
        /// Its name, unique among the yard's living hives, case aside.
        name: String,
        /// Where it stands.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        apiary: Option<ApiaryId>,
        /// Its body.
        body: Body,
        /// True when numbers are painted on the bars, so that a number heard is a bar known.
        numbered: bool,
    },
    /// The hive has another name from now on.
    HiveRenamed {
        /// The new name.
        name: String,
    },
    /// The hive stands in another apiary from now on.
    HiveMoved {
        /// Where.
        apiary: ApiaryId,
    },
    /// The body was measured anew.
    BodyMeasured {
        /// The body.
        body: Body,
    },
    /// The keeper settles what must stay.
    ReserveSet {
        /// How much; `None` goes back to the place's default.
        reserve: Option<Reserve>,
    },
    /// The keeper settles the capped share from which a comb counts as ripe.
    RipenessSet {
        /// Mean capped share of both faces, from 2/3 to 3/4.
        mean_capped: Share,
    },
    /// The colony died, was sold or joined to another; the hive is kept in the record.
    HiveEnded {
        /// Why.
        why: String,
    },

    // --- bars -----------------------------------------------------------------------------
    /// A bar comes into the hive's stock; it lies nowhere until it is arranged or moved.
    BarAdded {
        /// Its identity.
        bar: BarId,
        /// Its number, unique in the hive.
        number: u32,
        /// Its width along the row.
        width_mm: Length,
        /// What hangs from it.
        hanging: Hanging,
        /// When its comb was first drawn, if known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        drawn: Option<Date>,
    },
    /// The whole row as it lies, left end first; bars of the stock that are not in it lie nowhere.
    Arranged {
        /// The row.
        row: Vec<Piece>,
    },
    /// One end as it was closed: the row from `beyond` outward; the rest of the hive stays.
    EndArranged {
        /// Which end.
        end: End,
        /// The last bar that was not moved; `None` when the whole hive was worked.
        beyond: Option<BarId>,
        /// The pieces in their order from there outward, the one at the end wall last.
        row: Vec<Piece>,
    },
    /// One bar goes to stand beside another, on its `side`.
    BarMoved {
        /// Which bar.
        bar: BarId,
        /// The neighbour.
        beside: BarId,
        /// On which side of the neighbour.
        side: End,
    },
    /// The bar was turned end for end: what looked left looks right from now on.
    BarTurned {
        /// Which bar.
        bar: BarId,
    },
    /// What hangs from a bar now, when it was recorded otherwise or changed unseen.
    BarHangs {
        /// Which bar.
        bar: BarId,
        /// What hangs from it.
        hanging: Hanging,
    },
    /// Lifted out and leaned somewhere, its fate open; its place is kept.
    SetAside {
        /// Which bar.
        bar: BarId,
    },
    /// Back in the place where it was.
    PutBack {
        /// Which bar.
        bar: BarId,
    },
    /// A comb was harvested.
    CombTaken {
        /// Which bar.
        bar: BarId,
        /// How.
        how: Harvest,
    },
    /// An empty bar taken out of the hive, or a bar discarded.
    BarRemoved {
        /// Which bar.
        bar: BarId,
    },
    /// Bars with their combs and bees go to another hive, in this order.
    SplitTo {
        /// Which bars.
        bars: Vec<BarId>,
        /// Where to.
        to: HiveId,
    },

    // --- a visit --------------------------------------------------------------------------
    /// A visit begins; its id names the visit.
    VisitOpened {
        /// What it is for, in the keeper's words.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        aim: Option<String>,
        /// The weather, as far as said at the start.
        #[serde(default)]
        weather: Weather,
    },
    /// An end is opened: its follower board comes out.
    EndOpened {
        /// Which end.
        end: End,
    },
    /// Weather said later in the visit.
    WeatherNoted {
        /// What was said.
        weather: Weather,
    },
    /// What the keeper judged of a comb. Several in one visit add up, the later word on each part
    /// wins.
    CombSeen {
        /// Which bar.
        bar: BarId,
        /// What was judged.
        contents: Contents,
    },
    /// The keeper's word on a comb, with the program's verdict at that moment beside it.
    Decided {
        /// Which bar.
        bar: BarId,
        /// The keeper's word.
        decision: Decision,
        /// What the program had advised, in one short sentence.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        advised: Option<String>,
    },
    /// The queen was seen.
    QueenSeen {
        /// On which bar, if known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bar: Option<BarId>,
    },
    /// Queen cells were counted.
    QueenCells {
        /// On which bar, if known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bar: Option<BarId>,
        /// How many; 0 is "looked and found none".
        count: u32,
    },
    /// Bees were washed for mites.
    MiteWash {
        /// Mites counted.
        mites: u32,
        /// Bees in the sample.
        bees: u32,
    },
    /// The colony was fed.
    Fed {
        /// What, e.g. "1:1 syrup".
        food: String,
        /// How much, in litres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        litres: Option<f64>,
        /// How much, in kilograms.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        mass_kg: Option<Mass>,
    },
    /// The bars of an unmarked hive as they were matched to those expected.
    Matched {
        /// One per comb met, in the order met: the bar it was taken to be and how surely.
        bars: Vec<Match>,
    },
    /// Combs out as the keeper counts them, recorded beside the program's own count.
    TakenCounted {
        /// How many the keeper says have left the hive.
        count: u32,
    },
    /// The order that the keeper said while closing, from the nest outward, when it is not known
    /// which bars were meant.
    ClosingSaid {
        /// Which end.
        end: End,
        /// Words: full, cut, empty, follower, shim.
        order: Vec<ClosingWord>,
    },
    /// The visit ends.
    VisitClosed {},
    /// Anything else worth keeping.
    Note {
        /// The keeper's words.
        text: String,
    },

    // --- the honey house ------------------------------------------------------------------
    /// Something in the honey house, after combs have left the hive. Kept as given: what it means
    /// is the honey crate's matter, which folds these by itself, and nothing about hives follows
    /// from it. Combs are named by the id of their [`Known::CombTaken`] entry.
    HoneyHouse {
        /// An object with its kind in `event`.
        event: Map<String, Value>,
    },

    // --- health ---------------------------------------------------------------------------
    /// A medicine or another treatment is given; its id names the treatment.
    TreatmentBegun(Treatment),
    /// A treatment is over.
    TreatmentEnded(TreatmentEnd),
    /// A sign of a disease or pest was seen, or looked for and not found; its id names the sign.
    SignSeen(Sign),
    /// A sign was reported.
    SignReported(Report),
    /// A sign no longer stands.
    SignCleared(Clearing),
    /// A medicine was bought; a matter of the yard.
    MedicineBought(Purchase),
    /// A medicine was disposed of; a matter of the yard.
    MedicineDisposed(Disposal),

    // --- corrections ----------------------------------------------------------------------
    /// Another entry should have said this.
    Corrected {
        /// The entry that was wrong.
        target: EntryId,
        /// What it should have said.
        what: What,
    },
    /// Another entry never happened. Undoing an undo brings it back.
    Undone {
        /// The entry taken back.
        target: EntryId,
    },
}

impl Known {
    /// Every kind's name as it is written.
    pub const KINDS: [&str; 43] = [
        "apiary",
        "hive_started",
        "hive_renamed",
        "hive_moved",
        "body_measured",
        "reserve_set",
        "ripeness_set",
        "hive_ended",
        "bar_added",
        "arranged",
        "end_arranged",
        "bar_moved",
        "bar_turned",
        "bar_hangs",
        "set_aside",
        "put_back",
        "comb_taken",
        "bar_removed",
        "split_to",
        "visit_opened",
        "end_opened",
        "weather_noted",
        "comb_seen",
        "decided",
        "queen_seen",
        "queen_cells",
        "mite_wash",
        "fed",
        "matched",
        "taken_counted",
        "closing_said",
        "visit_closed",
        "note",
        "honey_house",
        "treatment_begun",
        "treatment_ended",
        "sign_seen",
        "sign_reported",
        "sign_cleared",
        "medicine_bought",
        "medicine_disposed",
        "corrected",
        "undone",
    ];

    /// The kind's name as it is written.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Apiary { .. } => "apiary",
            Self::HiveStarted { .. } => "hive_started",
            Self::HiveRenamed { .. } => "hive_renamed",
            Self::HiveMoved { .. } => "hive_moved",
            Self::BodyMeasured { .. } => "body_measured",
            Self::ReserveSet { .. } => "reserve_set",
            Self::RipenessSet { .. } => "ripeness_set",
            Self::HiveEnded { .. } => "hive_ended",
            Self::BarAdded { .. } => "bar_added",
            Self::Arranged { .. } => "arranged",
            Self::EndArranged { .. } => "end_arranged",
            Self::BarMoved { .. } => "bar_moved",
            Self::BarTurned { .. } => "bar_turned",
            Self::BarHangs { .. } => "bar_hangs",
            Self::SetAside { .. } => "set_aside",
            Self::PutBack { .. } => "put_back",
            Self::CombTaken { .. } => "comb_taken",
            Self::BarRemoved { .. } => "bar_removed",
            Self::SplitTo { .. } => "split_to",
            Self::VisitOpened { .. } => "visit_opened",
            Self::EndOpened { .. } => "end_opened",
            Self::WeatherNoted { .. } => "weather_noted",
            Self::CombSeen { .. } => "comb_seen",
            Self::Decided { .. } => "decided",
            Self::QueenSeen { .. } => "queen_seen",
            Self::QueenCells { .. } => "queen_cells",
            Self::MiteWash { .. } => "mite_wash",
            Self::Fed { .. } => "fed",
            Self::Matched { .. } => "matched",
            Self::TakenCounted { .. } => "taken_counted",
            Self::ClosingSaid { .. } => "closing_said",
            Self::VisitClosed { .. } => "visit_closed",
            Self::Note { .. } => "note",
            Self::HoneyHouse { .. } => "honey_house",
            Self::TreatmentBegun(_) => "treatment_begun",
            Self::TreatmentEnded(_) => "treatment_ended",
            Self::SignSeen(_) => "sign_seen",
            Self::SignReported(_) => "sign_reported",
            Self::SignCleared(_) => "sign_cleared",
            Self::MedicineBought(_) => "medicine_bought",
            Self::MedicineDisposed(_) => "medicine_disposed",
            Self::Corrected { .. } => "corrected",
            Self::Undone { .. } => "undone",
        }
    }
    /// True for treatments, signs and medicines.
    pub const fn is_of_health(&self) -> bool {
        matches!(
            self,
            Self::TreatmentBegun(_)
                | Self::TreatmentEnded(_)
                | Self::SignSeen(_)
                | Self::SignReported(_)
                | Self::SignCleared(_)
                | Self::MedicineBought(_)
                | Self::MedicineDisposed(_)
        )
    }
}
