//! A visit in the fields of the spoken test visits.

use serde::{Deserialize, Serialize};

use crate::act::{Closing, Decision, End, Fill, Hold};
use crate::visit::{Comb, Visit};

/// A whole visit; `null` is what was not said.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Summary {
    /// First end opened.
    pub end: Option<End>,
    /// Every comb handled or judged, in the order first met.
    pub combs: Vec<CombSummary>,
    /// `"seen"` or null.
    pub queen: Option<Seen>,
    /// Eggs were seen.
    pub eggs_seen: bool,
    /// Queen cells counted.
    pub queen_cells: u32,
    /// Degrees Celsius.
    pub temperature_c: Option<Number>,
    /// Mite wash.
    pub mites: Option<MiteSummary>,
    /// Feed given.
    pub fed: Option<FedSummary>,
    /// Combs cut or carried away.
    pub taken: usize,
    /// Order said while closing, from the nest outward.
    pub closing: Option<Vec<Closing>>,
}

/// One comb.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CombSummary {
    /// The number said.
    pub bar: Option<u32>,
    /// Capped share toward the keeper.
    pub this: Option<f64>,
    /// Capped share on the far face.
    pub other: Option<f64>,
    /// What it holds.
    pub holds: Vec<Hold>,
    /// How full.
    pub fill: Option<Fill>,
    /// Fixed to a wall.
    pub attached: Option<bool>,
    /// Straight.
    pub straight: Option<bool>,
    /// The keeper's last word.
    pub decision: Option<Decision>,
    /// Kilograms, to 0.1.
    pub kg: Option<f64>,
    /// Millimetres, to 1.
    pub mm: Option<Number>,
}

/// The queen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// She was seen.
    Seen,
}

/// A number, written without a point where it is whole.
pub type Number = i64;

/// Mites in a wash.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MiteSummary {
    /// Counted.
    pub count: Option<u32>,
    /// In the sample.
    pub bees: Option<u32>,
}

/// Feed given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FedSummary {
    /// Litres, to 0.1.
    pub litres: Option<f64>,
    /// "1:1 syrup", "2:1 syrup", "syrup", "fondant", "dry sugar".
    pub kind: Option<String>,
}

impl From<&Visit> for Summary {
    fn from(visit: &Visit) -> Self {
        let fed = visit.litres.is_some() || visit.feed.is_some();
        let wash = visit.mites.is_some();
        Self {
            end: visit.ends.iter().flatten().next().copied(),
            combs: visit.combs.iter().map(CombSummary::from).collect(),
            queen: visit.queen_seen.then_some(Seen::Seen),
            eggs_seen: visit.eggs_seen,
            queen_cells: visit.queen_cells.unwrap_or(0),
            temperature_c: visit.temperature_c.map(|t| t.round() as Number),
            mites: wash.then_some(MiteSummary {
                count: visit.mites,
                bees: visit.bees,
            }),
            fed: fed.then(|| FedSummary {
                litres: visit.litres.map(|l| round(l, 10.0)),
                kind: visit.feed.clone(),
            }),
            taken: visit.taken(),
            closing: (!visit.closing.is_empty()).then(|| visit.closing.clone()),
        }
    }
}

impl From<&Comb> for CombSummary {
    fn from(comb: &Comb) -> Self {
        Self {
            bar: comb.bar,
            this: comb.this.map(|s| round(s, 100.0)),
            other: comb.other.map(|s| round(s, 100.0)),
            holds: comb.all_holds(),
            fill: comb.fill,
            attached: comb.attached,
            straight: comb.straight,
            decision: comb.decision,
            kg: comb.kg.map(|k| round(k, 10.0)),
            mm: comb.mm.map(|m| m.round() as Number),
        }
    }
}

fn round(x: f64, per_unit: f64) -> f64 {
    (x * per_unit).round() / per_unit
}
