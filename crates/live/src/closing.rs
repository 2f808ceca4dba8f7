//! A closing-up as pieces of the row: what is drawn as the goal and recorded when it is done.

use advice::closing_plan::ClosingPlan;
use advice::closing_up::{Answer, is_added_bar};
use comb::Length;
use comb::order::InOrder as _;
use hive::entry::{End, Piece};
use hive::{BarId, Hive};

/// One end as it will be closed.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrangement {
    /// Which end.
    pub end: End,
    /// The last bar that is not moved.
    pub beyond: BarId,
    /// Pieces from there outward, the one at the end wall last.
    pub row: Vec<Piece>,
    /// Bars that are lifted; the others only slide.
    pub lifted: Vec<BarId>,
}

impl Arrangement {
    /// What a plan comes to in its hive; `None` when nothing is to be done, or it names bars that the
    /// hive does not have. Bars that must be laid in beside are of no number yet: the row leaves their
    /// width open.
    pub fn of(plan: &ClosingPlan, hive: &Hive) -> Option<Self> {
        let answer = plan.to_do()?;
        let bars = |names: &[String]| -> Option<Vec<BarId>> {
            let of_name = |name: &String| Some(hive.bar_numbered(name.parse().ok()?).ok()?.id);
            let known = names.iter().filter(|name| !is_added_bar(name));
            known.map(of_name).collect()
        };
        let piece = |bar: BarId| Piece::Bar { bar };
        let (inside, mut outside) = (bars(&answer.order)?, bars(&answer.outside)?);
        // lid bars are alike: they stay in the order in which they lie
        let met = hive.row.bars_from(plan.end);
        let inward = |bar: &BarId| met.iter().rev().position(|other| other == bar);
        outside.order_by_key(|bar| inward(bar).unwrap_or(usize::MAX));
        let mut row: Vec<Piece> = inside.into_iter().map(piece).collect();
        row.push(Piece::Follower {
            width_mm: Length::mm(f64::from(plan.problem.follower_mm.to_mm())),
        });
        row.extend(outside.into_iter().map(piece));
        row.extend(shims(answer));
        Some(Self {
            end: plan.end,
            beyond: hive.bar_numbered(plan.edge).ok()?.id,
            row,
            lifted: bars(&answer.lifted)?,
        })
    }
}

fn shims(answer: &Answer) -> impl Iterator<Item = Piece> + '_ {
    answer.shims_mm.iter().map(|shim| Piece::Shim {
        width_mm: Length::mm(f64::from(shim.to_mm())),
    })
}
