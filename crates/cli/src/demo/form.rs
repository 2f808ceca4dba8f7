//! How the season is written down.

use comb::{Body, Length};
use hive::entry::{End, Hanging, Piece};
use honey::lots::event::Gone;
use serde::Deserialize;

/// The yard.
#[derive(Debug, Deserialize)]
pub(super) struct YardTold {
    pub(super) name: String,
    pub(super) keeper: String,
    #[serde(flatten)]
    pub(super) began: When,
}

/// An instant, counted back from the day on which the season is told.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct When {
    pub(super) days_ago: i64,
    pub(super) time: String,
}

/// When a hive began.
pub(super) type Began = When;

/// One hive and its season.
#[derive(Debug, Deserialize)]
pub(super) struct HiveTold {
    pub(super) name: String,
    #[serde(flatten)]
    pub(super) began: Began,
    pub(super) numbered: bool,
    pub(super) body: Body,
    pub(super) row: Vec<PieceTold>,
    pub(super) visit: Vec<VisitTold>,
    #[serde(default)]
    pub(super) typed: Vec<Typed>,
}

impl HiveTold {
    /// The name that it is given later.
    pub(super) fn renamed(&self) -> Option<&String> {
        self.typed.iter().find_map(|typed| match &typed.doing {
            Doing::Renamed { name } => Some(name),
            _ => None,
        })
    }
}

/// A run of bars, or another piece of the row.
#[derive(Debug, Clone, Deserialize)]
#[serde(untagged)]
pub(super) enum PieceTold {
    Bars(Bars),
    Other(Other),
}

/// Bars from one number to another, rising or falling.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Bars {
    bars: [u32; 2],
    pub(super) hanging: Option<Hanging>,
}

impl Bars {
    /// The numbers, left end first.
    pub(super) fn numbers(&self) -> Vec<u32> {
        let [from, to] = self.bars;
        if from <= to {
            (from..=to).collect()
        } else {
            (to..=from).rev().collect()
        }
    }
}

/// A board or a shim.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Other {
    FollowerMm(Length),
    ShimMm(Length),
}

impl Other {
    pub(super) const fn piece(self) -> Piece {
        match self {
            Self::FollowerMm(width_mm) => Piece::Follower { width_mm },
            Self::ShimMm(width_mm) => Piece::Shim { width_mm },
        }
    }
}

/// A spoken visit.
#[derive(Debug, Deserialize)]
pub(super) struct VisitTold {
    #[serde(flatten)]
    pub(super) when: When,
    pub(super) by: Option<String>,
    /// Where combs "for the split" go.
    pub(super) split_to: Option<String>,
    /// Bars in the order met, as the keeper would read them off; for the tests.
    #[cfg_attr(not(test), expect(dead_code, reason = "the tests compare it"))]
    pub(super) met: Vec<u32>,
    /// Combs that left the hive, as the keeper counts them; for the tests.
    #[cfg_attr(not(test), expect(dead_code, reason = "the tests compare it"))]
    pub(super) counted: usize,
    /// One line per pause.
    pub(super) spoken: String,
}

/// What was done in the honey house.
#[derive(Debug, Deserialize)]
pub(super) struct HouseTold {
    pub(super) step: Vec<Stepped>,
}

/// One thing done there.
#[derive(Debug, Deserialize)]
pub(super) struct Stepped {
    #[serde(flatten)]
    pub(super) when: When,
    pub(super) doing: Step,
}

/// What was done, combs by hive and bar.
#[derive(Debug, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum Step {
    Seller {
        region: String,
        business: String,
        country: String,
        storage: String,
    },
    Pail {
        pail: String,
        combs: Vec<String>,
        kg: f64,
    },
    Lot {
        lot: String,
        pails: Vec<String>,
        honey_kg: f64,
        wax_kg: f64,
    },
    Filter {
        lot: String,
        mesh_um: u32,
        loss_kg: f64,
    },
    Reading {
        lot: String,
        index: f64,
        celsius: f64,
    },
    Jars {
        lot: String,
        net_g: f64,
        count: u32,
    },
    Out {
        fill: String,
        count: u32,
        how: Gone,
        to: Option<String>,
        money: Option<String>,
        currency: Option<String>,
    },
}

/// Something typed at the desk.
#[derive(Debug, Deserialize)]
pub(super) struct Typed {
    #[serde(flatten)]
    pub(super) when: When,
    pub(super) by: Option<String>,
    /// True for what belongs to the hive's latest visit.
    #[serde(default)]
    pub(super) in_visit: bool,
    pub(super) doing: Doing,
}

/// What was typed, bars by their numbers.
#[derive(Debug, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum Doing {
    Note {
        text: String,
    },
    Seen {
        bar: u32,
        /// Of the honey on the left-facing and the right-facing side.
        capped_percent: Option<[f64; 2]>,
        moisture_percent: Option<f64>,
        #[serde(default)]
        present: Vec<comb::contents::Holding>,
    },
    /// The latest look at the bar's comb should have said this weight.
    Correct {
        bar: u32,
        mass_kg: f64,
    },
    Turned {
        bar: u32,
    },
    Moved {
        bar: u32,
        beside: u32,
        side: End,
    },
    BarsAdded {
        bars: [u32; 2],
    },
    Arranged {
        row: Vec<PieceTold>,
    },
    EndArranged {
        end: End,
        beyond: u32,
        row: Vec<PieceTold>,
    },
    Renamed {
        name: String,
    },
    Fed {
        food: String,
        litres: f64,
    },
    /// What was given, as its label would say.
    Treated {
        product: String,
        active: String,
        batch: String,
        quantity: String,
        how: String,
        supplier: String,
        /// Days until it is to come out.
        out_after: i32,
        /// Days after that on which its label withholds honey.
        withheld_after: u16,
    },
    /// The treatment that is on is over.
    TreatmentOver {
        left: String,
    },
    Sign {
        condition: String,
        bar: u32,
        seen: String,
    },
    MiteWash {
        mites: u32,
        bees: u32,
    },
    ReserveCombs {
        combs: f64,
    },
    ReserveKg {
        kg: f64,
    },
    RipeFrom {
        percent: f64,
    },
    /// The last thing recorded of the hive never happened.
    Undo,
}
