//! A lower bound on the lifts and mass still to come, from a small table filled from the end.
//!
//! The table knows only the combs that slide. Lifted combs that are set in between can only add
//! blocks, never take one away, so the capped blocks of the sliding combs alone must already be few
//! enough. And each straight comb set in lowers `straight blocks - capped blocks` by one at most (it
//! opens one capped block: a capped comb among open ones, or an open one among capped ones), a crooked
//! comb not at all; so that difference, less one for each straight comb still to be set, must come out
//! low enough. Both are necessary, hence a lower bound; without demand for gaps beside open combs the
//! second condition always holds and the first is sufficient, hence exact.

use super::order::Cost;
use super::row::{CLASSES, Class, Demand, Row, signed};

pub(super) struct Bound {
    most_capped_blocks: usize,
    /// Most that straight blocks may exceed capped blocks by; `None` if any number may.
    most_spread: Option<i32>,
    /// Offset and size of the spread's axis.
    low: i32,
    spreads: usize,
    combs: usize,
    table: Vec<Cost>,
}

impl Bound {
    /// `None` if the row has too few combs for the demand.
    pub(super) fn new(row: &Row, demand: Demand) -> Option<Self> {
        let capped = row.count(Class::Capped);
        let straight = capped + row.count(Class::Open);
        let most_capped_blocks = if capped == 0 && demand.between_capped == 0 {
            0
        } else {
            capped.checked_sub(demand.between_capped)?
        };
        let most_spread =
            (demand.other > 0).then(|| signed(straight - capped) - signed(demand.other));
        let (low, spreads) = match most_spread {
            Some(_) => (-signed(2 * straight) - 1, 4 * straight + 3),
            None => (0, 1),
        };
        let combs = row.honey.len();
        let size = 2 * (combs + 1) * CLASSES.len() * (most_capped_blocks + 1) * spreads;
        let table = vec![Cost::NEVER; size];
        let mut bound = Self {
            most_capped_blocks,
            most_spread,
            low,
            spreads,
            combs,
            table,
        };
        for at in (0..=combs).rev() {
            for last in CLASSES {
                bound.fill(row, at, last);
            }
        }
        Some(bound)
    }

    /// Straight blocks less capped blocks, where the demand asks for it.
    pub(super) fn spread(&self, straight_block: bool, capped_block: bool) -> i8 {
        if self.most_spread.is_none() {
            return 0;
        }
        i8::from(straight_block) - i8::from(capped_block)
    }

    /// What is still to come at least, `at` combs of the row being passed: `spread` counts one less
    /// for each straight comb waiting, one more for each owed. `None` if nothing can come of it.
    pub(super) fn ahead(
        &self,
        anchored: bool,
        at: usize,
        last: Class,
        capped_blocks: usize,
        spread: i32,
    ) -> Option<Cost> {
        let index = self.index(anchored, at, last, capped_blocks, spread)?;
        let cost = self.table[index];
        (cost != Cost::NEVER).then_some(cost)
    }

    fn index(
        &self,
        anchored: bool,
        at: usize,
        last: Class,
        capped_blocks: usize,
        spread: i32,
    ) -> Option<usize> {
        if capped_blocks > self.most_capped_blocks {
            return None;
        }
        let spread = match self.most_spread {
            // below the axis it is as good as at its end: every wish is met there
            Some(_) => usize::try_from((spread - self.low).max(0)).ok()?,
            None => 0,
        };
        if spread >= self.spreads {
            return None;
        }
        let row = (usize::from(anchored) * (self.combs + 1) + at) * CLASSES.len() + last as usize;
        Some((row * (self.most_capped_blocks + 1) + capped_blocks) * self.spreads + spread)
    }

    fn fill(&mut self, row: &Row, at: usize, last: Class) {
        for blocks in 0..=self.most_capped_blocks {
            for step in 0..self.spreads {
                let spread = self.low + signed(step);
                for anchored in [true, false] {
                    let cost = self.cheapest(row, anchored, at, last, blocks, spread);
                    if let Some(index) = self.index(anchored, at, last, blocks, spread) {
                        self.table[index] = cost;
                    }
                }
            }
        }
    }

    fn cheapest(
        &self,
        row: &Row,
        anchored: bool,
        at: usize,
        last: Class,
        blocks: usize,
        spread: i32,
    ) -> Cost {
        let Some(comb) = row.honey.get(at) else {
            let met = self.most_spread.is_none_or(|most| spread <= most);
            return if met { Cost::NONE } else { Cost::NEVER };
        };
        let capped_block = comb.class.is_capped() && !last.is_capped();
        let straight_block = comb.class.is_straight() && !last.is_straight();
        let more = i32::from(self.spread(straight_block, capped_block));
        let blocks_then = blocks + usize::from(capped_block);
        let slid = self
            .ahead(true, at + 1, comb.class, blocks_then, spread + more)
            .map(|rest| {
                let (count, mass) = if anchored { (0, 0) } else { comb.brood_beyond };
                rest.and(Cost::lifts(count, mass))
            });
        let less = i32::from(comb.class.is_straight());
        let lifted = self
            .ahead(anchored, at + 1, last, blocks, spread - less)
            .map(|rest| rest.and(Cost::lifts(1, comb.mass_mg)));
        slid.into_iter().chain(lifted).min().unwrap_or(Cost::NEVER)
    }
}
