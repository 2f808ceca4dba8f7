//! What happens in a honey house, as it is recorded.

use comb::Mass;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::id::{CombId, FillId, LotId, PailId};
use crate::{Reading, Region};

/// One thing that happened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "snake_case")]
pub enum LotEvent {
    /// Combs went into a pail.
    PailFilled(PailFilled),
    /// Pails were emptied: crushed and drained, pressed, or packed as comb.
    LotMade(LotMade),
    /// Honey came from somebody else.
    LotReceived(LotReceived),
    /// Honey of several lots became a new lot.
    LotsBlended(LotsBlended),
    /// Honey of a lot was lost or dried.
    LotLost(LotLost),
    /// A lot was weighed again; the difference becomes an entry.
    LotReweighed(LotReweighed),
    /// A moisture was read.
    MoistureRead(MoistureRead),
    /// A lot went through a strainer.
    LotFiltered(LotFiltered),
    /// A lot was seen to ferment.
    FermentationSeen(FermentationSeen),
    /// Jars were filled.
    JarsFilled(JarsFilled),
    /// Jars left the stock.
    JarsOut(JarsOut),
    /// Jars came back into the stock.
    JarsBack(JarsBack),
    /// Who sells, and where: what every label repeats.
    SellerTold(Seller),
}

/// One comb that went into a pail.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CombIn {
    /// This taking of it.
    pub comb: CombId,
    /// Its hive.
    pub hive: String,
    /// Its bar, as it is marked.
    pub bar: String,
    /// The visit on which it was taken.
    pub visit: String,
    /// The day of that visit.
    pub taken_on: Date,
    /// Its weight off the bar, if it was weighed alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_kg: Option<Mass>,
}

/// See [`LotEvent::PailFilled`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PailFilled {
    /// This fill of the pail.
    pub pail: PailId,
    /// When.
    pub on: Date,
    /// What went in.
    pub combs: Vec<CombIn>,
    /// Weight of the comb in it, without the pail. Where it is missing the combs' own weights
    /// are added up, if all are known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_kg: Option<Mass>,
}

/// How honey was got from comb. Names as in Directive 2001/110/EC Annex I; all of them ask for
/// broodless comb.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// Crushed and left to drain, without squeezing (our reading of "drained").
    Drained,
    /// Squeezed or pressed, at most 45 C.
    Pressed,
    /// Spun.
    Extracted,
    /// Packed as comb; "honey" then means comb and all.
    Comb,
}

/// See [`LotEvent::LotMade`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LotMade {
    /// The new lot.
    pub lot: LotId,
    /// When.
    pub on: Date,
    /// Pails emptied into it, each whole.
    pub pails: Vec<PailId>,
    /// How.
    pub method: Method,
    /// Honey in the lot.
    pub honey_kg: Mass,
    /// Wax, if it was weighed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wax_kg: Option<Mass>,
    /// Loss, if it was weighed. What is missing from weighed comb is entered as "not weighed
    /// apart" by the fold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loss_kg: Option<Mass>,
    /// Country of harvest, as it shall stand on a label.
    pub country: String,
}

/// See [`LotEvent::LotReceived`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LotReceived {
    /// The new lot.
    pub lot: LotId,
    /// When.
    pub on: Date,
    /// From whom.
    pub from: String,
    /// Their lot mark.
    pub their_lot: String,
    /// How much.
    pub mass_kg: Mass,
    /// Country of harvest.
    pub country: String,
}

/// A mass taken from a lot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Drawn {
    /// From which lot.
    pub lot: LotId,
    /// How much.
    pub mass_kg: Mass,
}

/// See [`LotEvent::LotsBlended`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LotsBlended {
    /// The new lot; a blend always takes a new name.
    pub lot: LotId,
    /// When.
    pub on: Date,
    /// What went in.
    pub from: Vec<Drawn>,
    /// What stuck to the vessels.
    #[serde(default)]
    pub loss_kg: Mass,
}

/// Why honey of a lot is gone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Loss {
    /// Froth and wax taken off the top.
    Skimmed,
    /// Spilt or left in the vessel.
    Spilt,
    /// Taken for a test.
    Sample,
    /// Eaten or given from the tank.
    Eaten,
    /// Thrown away.
    Discarded,
    /// Water, by drying: the lot's moisture falls with it.
    Water,
}

/// See [`LotEvent::LotLost`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LotLost {
    /// Of which lot.
    pub lot: LotId,
    /// When.
    pub on: Date,
    /// How much.
    pub mass_kg: Mass,
    /// Why.
    pub why: Loss,
}

/// See [`LotEvent::LotReweighed`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LotReweighed {
    /// Which lot.
    pub lot: LotId,
    /// When.
    pub on: Date,
    /// What it weighs.
    pub mass_kg: Mass,
}

/// See [`LotEvent::MoistureRead`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MoistureRead {
    /// Of which lot.
    pub lot: LotId,
    /// When.
    pub on: Date,
    /// As the instrument showed it.
    pub reading: Reading,
}

/// See [`LotEvent::LotFiltered`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LotFiltered {
    /// Which lot.
    pub lot: LotId,
    /// When.
    pub on: Date,
    /// Openings of the strainer, micrometres.
    pub mesh_um: u32,
    /// What stayed in it.
    #[serde(default)]
    pub loss_kg: Mass,
}

/// See [`LotEvent::FermentationSeen`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FermentationSeen {
    /// Which lot.
    pub lot: LotId,
    /// When.
    pub on: Date,
}

/// See [`LotEvent::JarsFilled`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JarsFilled {
    /// This filling.
    pub fill: FillId,
    /// From which lot.
    pub lot: LotId,
    /// When.
    pub on: Date,
    /// Net quantity on the label.
    pub net_kg: Mass,
    /// How many jars.
    pub count: u32,
    /// Honey drawn for all of them; without it, exactly what the labels promise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drawn_kg: Option<Mass>,
    /// Lot mark on the label, by which a jar is found again. Fillings may share one.
    pub mark: String,
    /// Best before.
    pub best_before: Date,
}

/// How jars left.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Gone {
    /// Sold.
    Sold,
    /// Given away (in some places the same in law as sold).
    Given,
    /// Eaten at home.
    Eaten,
    /// Broken.
    Broken,
    /// Destroyed, as after a recall.
    Destroyed,
}

/// Money, in the smallest unit of its currency.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Money {
    /// Cents, pence.
    pub minor_units: u64,
    /// ISO 4217 code.
    pub currency: String,
}

/// See [`LotEvent::JarsOut`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JarsOut {
    /// Of which filling.
    pub fill: FillId,
    /// When.
    pub on: Date,
    /// How many.
    pub count: u32,
    /// How.
    pub how: Gone,
    /// To whom, for a recall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Taken for all of them together.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken: Option<Money>,
}

/// See [`LotEvent::JarsBack`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JarsBack {
    /// Of which filling.
    pub fill: FillId,
    /// When.
    pub on: Date,
    /// How many; of those sold or given.
    pub count: u32,
}

/// See [`LotEvent::SellerTold`]. What is not told anew stays as it was.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seller {
    /// Where the honey is sold: whose rules are asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub region: Option<Region>,
    /// Name and address, as they shall stand on a label.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub business: Option<String>,
    /// Country of harvest of own honey.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub country: Option<String>,
    /// How to keep the honey.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub storage: Option<String>,
    /// Nutrition panel, ready made.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nutrition: Option<String>,
    /// Page to which a label's code leads; the lot mark is added to it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trace_page: Option<String>,
}

impl Seller {
    pub(crate) fn tell(&mut self, told: &Self) {
        self.region = told.region.or(self.region);
        let texts = [
            (&mut self.business, &told.business),
            (&mut self.country, &told.country),
            (&mut self.storage, &told.storage),
            (&mut self.nutrition, &told.nutrition),
            (&mut self.trace_page, &told.trace_page),
        ];
        for (known, told) in texts {
            if told.is_some() {
                known.clone_from(told);
            }
        }
    }
}
