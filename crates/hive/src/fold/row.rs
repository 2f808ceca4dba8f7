//! How entries change the row.

use crate::bar::Lies;
use crate::entry::{End, Piece};
use crate::fault::Why;
use crate::fold::{Remarks, Told};
use crate::history::Happened;
use crate::hive::Hive;
use crate::id::BarId;
use crate::row::Row;

/// How much longer than the cavity a row may measure: widths are read to the millimetre and bars
/// give (the tolerance of the closing-up problem; common practice, no source).
pub(crate) const PLAY_MM: f64 = 3.0;

impl Hive {
    pub(super) fn arrange(
        &mut self,
        row: &[Piece],
        told: Told<'_>,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        self.lay(Row::new(row.to_vec()), told, remarks)
    }

    pub(super) fn arrange_end(
        &mut self,
        end: End,
        beyond: Option<BarId>,
        outward: &[Piece],
        told: Told<'_>,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        let row = self.row.with_end(end, beyond, outward);
        match (row, beyond) {
            (Some(row), _) => self.lay(row, told, remarks),
            (None, Some(bar)) => Err(Why::NotInRow { bar }),
            (None, None) => Ok(()),
        }
    }

    pub(super) fn move_bar(
        &mut self,
        bar: BarId,
        beside: BarId,
        side: End,
        told: Told<'_>,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        if bar == beside {
            return Err(Why::BesideItself { bar });
        }
        for needed in [bar, beside] {
            if !self.bars.contains_key(&needed) {
                return Err(Why::NoSuchBar { bar: needed });
            }
        }
        if !self.row.has(beside) {
            return Err(Why::NotInRow { bar: beside });
        }
        let from = self.row.place_of(bar);
        self.come_back(bar, told, remarks);
        self.row.put_beside(bar, beside, side);
        self.set_lies(bar, Lies::InRow);
        self.meet(bar, told);
        self.happened(bar, told, Happened::Placed { from });
        remarks.extend(self.too_long());
        Ok(())
    }

    /// Lays a whole row; every bar must be one of this hive and stand in it once.
    fn lay(&mut self, row: Row, told: Told<'_>, remarks: &mut Remarks) -> Result<(), Why> {
        if let Some(bar) = row.bars().find(|bar| !self.bars.contains_key(bar)) {
            return Err(Why::NoSuchBar { bar });
        }
        if let Some(bar) = row.first_twice() {
            return Err(Why::BarTwice { bar });
        }
        let old = std::mem::replace(&mut self.row, row);
        let left_out: Vec<_> = old.bars().filter(|bar| !self.row.has(*bar)).collect();
        for bar in left_out {
            let from = old.place_of(bar);
            self.set_lies(bar, Lies::Loose);
            self.happened(bar, told, Happened::LeftOut { from });
        }
        let slid = slid(&old, &self.row);
        let now: Vec<_> = self.row.bars().collect();
        for bar in now {
            self.come_back(bar, told, remarks);
            self.set_lies(bar, Lies::InRow);
            if !slid.contains(&bar) {
                let from = old.place_of(bar);
                self.happened(bar, told, Happened::Placed { from });
            }
        }
        remarks.extend(self.too_long());
        Ok(())
    }

    pub(super) fn too_long(&self) -> Option<Why> {
        let over_mm = -self.free_length();
        (over_mm.to_mm() > PLAY_MM).then_some(Why::RowTooLong { over_mm })
    }

    pub(super) fn set_lies(&mut self, bar: BarId, lies: Lies) {
        if let Some(bar) = self.bars.get_mut(&bar) {
            bar.lies = lies;
        }
    }
}

/// Bars that kept their order among themselves: a longest run of rising old places. They slid at
/// most; the others were lifted. Of several such runs, the one found first from the left.
fn slid(old: &Row, new: &Row) -> Vec<BarId> {
    let kept: Vec<(u32, BarId)> = new
        .bars()
        .filter_map(|bar| Some((old.place_of(bar)?, bar)))
        .collect();
    // longest run that ends at each bar, and the bar before it in that run
    let mut best: Vec<(usize, Option<usize>)> = Vec::with_capacity(kept.len());
    for (here, (place, _)) in kept.iter().enumerate() {
        let before = (0..here).filter(|before| kept[*before].0 < *place);
        let last = before.fold(None, |last: Option<usize>, before| match last {
            Some(last) if best[last].0 >= best[before].0 => Some(last),
            _ => Some(before),
        });
        best.push((last.map_or(1, |last| best[last].0 + 1), last));
    }
    let mut run = Vec::new();
    let mut at = (0..kept.len()).max_by_key(|i| (best[*i].0, std::cmp::Reverse(*i)));
    while let Some(here) = at {
        run.push(kept[here].1);
        at = best[here].1;
    }
    run
}

#[cfg(test)]
mod tests {
    use super::*;
    use uuid::Uuid;

    fn row(bars: &[u128]) -> Row {
        bars.iter().map(|n| BarId(Uuid::from_u128(*n))).collect()
    }

    #[test]
    fn one_bar_moved_leaves_the_others_slid() {
        let mut slid = slid(&row(&[1, 2, 3, 4, 5]), &row(&[2, 3, 4, 1, 5]));
        slid.sort();
        assert_eq!(slid, row(&[2, 3, 4, 5]).bars().collect::<Vec<_>>());
    }
}
