//! What can be wrong with a reading, a blend, a lot or a label: the value, the bound, and what to
//! do about it.

use comb::Mass;
use jiff::civil::Date;
use thiserror::Error;

use crate::limits::{Item, Kind};
use crate::lots::{CombId, FillId, LotId, PailId};
use crate::{Moisture, Region};

/// One variant a cause.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum HoneyError {
    /// A figure outside the range of its source; never carried further than that.
    #[error("{quantity} {value} is outside {low} to {high}{}: {advice}", spaced(.unit))]
    OutOfRange {
        /// What was given.
        quantity: &'static str,
        /// Its value.
        value: f64,
        /// Least value the source covers.
        low: f64,
        /// Largest value the source covers.
        high: f64,
        /// Unit of the three.
        unit: &'static str,
        /// What to do.
        advice: &'static str,
    },
    /// A quantity that must be more than nothing.
    #[error("{quantity} must be more than 0{}, this one is {value}: measure it again", spaced(.unit))]
    NotPositive {
        /// What was given.
        quantity: &'static str,
        /// Unit of the value.
        unit: &'static str,
        /// Its value.
        value: f64,
    },
    /// Drying to a moisture that is not drier.
    #[error("drying goes down: {to} is not below {from}")]
    NotDrier {
        /// Moisture now.
        from: Moisture,
        /// Moisture asked for.
        to: Moisture,
    },

    /// A two-lot blend whose target does not lie between its lots.
    #[error("no blend of {dry} and {wet} gives {target}: the target must lie between the two")]
    TargetNotBetween {
        /// The drier lot.
        dry: Moisture,
        /// The wetter lot.
        wet: Moisture,
        /// What was asked for.
        target: Moisture,
    },
    /// All the honey together stays over the target.
    #[error("these lots cannot reach {target}: the best they come to is {reachable}{}", more_words(.more.as_ref()))]
    BlendTooWet {
        /// What was asked for.
        target: Moisture,
        /// The driest that can be reached.
        reachable: Moisture,
        /// How much more honey of the driest lot's moisture would do; `None` if none is drier
        /// than the target.
        more: Option<(Mass, Moisture)>,
    },
    /// Less honey than the batch asks for.
    #[error("the batch asks for {:.3} kg, the lots hold {:.3} kg: ask for less", asked.to_kg(), there.to_kg())]
    BlendTooLittle {
        /// Mass of the batch.
        asked: Mass,
        /// Mass there is.
        there: Mass,
    },

    /// A region whose rules are not known here.
    #[error("no rules are known for \"{0}\": choose codex, eu, uk, us, australia or new zealand")]
    UnknownRegion(String),
    /// The region's instrument sets no such limit.
    #[error("{region} sets no limit for {item:?} of {kind:?} honey here: ask your authority")]
    NoLimit {
        /// The region.
        region: Region,
        /// The item.
        item: Item,
        /// The kind of honey.
        kind: Kind,
    },
    /// A rule that is not known here for a region; never borrowed from another one.
    #[error("{what} is not known here for {region}: ask your authority")]
    NoRule {
        /// The rule asked for.
        what: &'static str,
        /// The region.
        region: Region,
    },
    /// Shares of origin that do not make a whole.
    #[error("the shares of origin add up to {0:.1} %, not 100 %: name every country once")]
    OriginShares(f64),

    /// A comb that is already in a pail.
    #[error("comb {comb} is in pail {pail} already: a comb goes into one pail")]
    CombTwice {
        /// The comb.
        comb: CombId,
        /// Where it is.
        pail: PailId,
    },
    /// A name that is taken.
    #[error("{what} {name} exists already: give the new one another name")]
    NameTaken {
        /// Pail, lot or filling.
        what: &'static str,
        /// The name.
        name: String,
    },
    /// A name that is not known.
    #[error("there is no {what} {name}: look at the list, or record it first")]
    Unknown {
        /// Comb, bar, pail, lot, filling or lot mark.
        what: &'static str,
        /// The name.
        name: String,
    },
    /// A lot that would be made of itself.
    #[error("lot {lot} would be made of itself ({}): a blend takes a new lot name", path_words(.path))]
    LotLoop {
        /// The lot.
        lot: LotId,
        /// From the lot to itself.
        path: Vec<LotId>,
    },
    /// A pail that has been emptied.
    #[error("pail {pail} was emptied into lot {lot} already")]
    PailEmptied {
        /// The pail.
        pail: PailId,
        /// Where its honey went.
        lot: LotId,
    },
    /// Nothing to make something of.
    #[error("{what} {name} is made of nothing: name what goes into it")]
    MadeOfNothing {
        /// Pail or lot.
        what: &'static str,
        /// Its name.
        name: String,
    },
    /// Honey, wax and loss that do not add up to the weighed combs.
    #[error("lot {lot}: {:.3} kg of comb went in and {:.3} kg of honey, wax and loss came out: weigh again", into.to_kg(), out.to_kg())]
    Unbalanced {
        /// The lot.
        lot: LotId,
        /// Weighed comb.
        into: Mass,
        /// Honey, wax and loss.
        out: Mass,
    },
    /// More than the lot holds.
    #[error("lot {lot} holds {:.3} kg, {:.3} kg were to be taken: nothing is recorded", there.to_kg(), asked.to_kg())]
    MoreThanLot {
        /// The lot.
        lot: LotId,
        /// What it holds.
        there: Mass,
        /// What was asked of it.
        asked: Mass,
    },
    /// Jars that would hold less than their label says.
    #[error("filling {fill}: {count} jars of {:.0} g need {:.3} kg, only {:.3} kg were drawn", net.to_grams(), needed.to_kg(), drawn.to_kg())]
    JarsTooLight {
        /// The filling.
        fill: FillId,
        /// Number of jars.
        count: u32,
        /// Net quantity of one.
        net: Mass,
        /// What their labels promise.
        needed: Mass,
        /// What went in.
        drawn: Mass,
    },
    /// More jars than there are.
    #[error("filling {fill} has {there} jars {place}, {asked} were asked for: nothing is recorded")]
    MoreThanJars {
        /// The filling.
        fill: FillId,
        /// Jars there.
        there: u32,
        /// Jars asked for.
        asked: u32,
        /// "in stock" or "out".
        place: &'static str,
    },
    /// Something dated before what it is made of.
    #[error(
        "{what} {name} is dated {on}, but {source_name} is of {source_on}: correct one of the two"
    )]
    BeforeItsSource {
        /// What is dated too early.
        what: &'static str,
        /// Its name.
        name: String,
        /// Its date.
        on: Date,
        /// What it came from.
        source_name: String,
        /// That one's date.
        source_on: Date,
    },
}

impl HoneyError {
    /// Refuses what is not a finite number above nothing.
    pub(crate) fn positive(
        quantity: &'static str,
        unit: &'static str,
        value: f64,
    ) -> Result<(), Self> {
        if value.is_finite() && value > 0.0 {
            Ok(())
        } else {
            Err(Self::NotPositive {
                quantity,
                unit,
                value,
            })
        }
    }
}

fn spaced(unit: &str) -> String {
    if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    }
}

fn more_words(more: Option<&(Mass, Moisture)>) -> String {
    match more {
        Some((mass, at)) => format!("; {:.3} kg more honey of {at} would do", mass.to_kg()),
        None => "; find drier honey, or dry it".to_owned(),
    }
}

fn path_words(path: &[LotId]) -> String {
    let names: Vec<&str> = path.iter().map(LotId::as_str).collect();
    names.join(" from ")
}
