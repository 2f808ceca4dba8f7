//! The goal of closing up: how one end stands now, how it will stand, and which combs are lifted.

use hive::entry::{End, Piece};
use hive::{BarId, Hive};
use jiff::tz::TimeZone;

use crate::section::{HiveSection, Mark, pieces};

/// An end to be closed, ready to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct ClosingGoal {
    /// The whole hive as it will stand; lifted bars are marked.
    pub goal: HiveSection,
    /// The whole hive as it stands.
    pub now: HiveSection,
    /// Which end.
    pub end: End,
    /// The last bar that is not moved; `None` when the whole hive is worked.
    pub beyond: Option<BarId>,
    /// Bars that are lifted; the others only slide.
    pub lifted: Vec<BarId>,
}

impl ClosingGoal {
    /// From the order found: pieces from `beyond` outward, the one at the end wall last. `None` when
    /// `beyond` is not in the hive's row.
    pub fn of(
        hive: &Hive,
        end: End,
        beyond: Option<BarId>,
        outward: &[Piece],
        lifted: &[BarId],
        zone: &TimeZone,
    ) -> Option<Self> {
        let row = hive.row.with_end(end, beyond, outward)?;
        let now = HiveSection::of(hive, zone).with_opened([end]);
        let mut goal = now.clone().with_opened([]);
        goal.pieces = pieces(hive, row.pieces(), zone);
        for piece in &mut goal.pieces {
            if let crate::Drawn::Bar(bar) = piece {
                // it is back in its place by then
                bar.aside = false;
                bar.mark = None;
            }
        }
        let marks = lifted.iter().map(|bar| (*bar, Mark::Lifted));
        Some(Self {
            goal: goal.with_marks(marks),
            now,
            end,
            beyond,
            lifted: lifted.to_vec(),
        })
    }
}
