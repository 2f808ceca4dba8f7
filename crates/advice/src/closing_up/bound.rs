//! A lower bound on the lifts, mass and swaps still to come, from a table filled as it is asked.
//!
//! The table knows which combs slide and where capped combs are set; other lifted combs it leaves out of
//! the new row. Leaving combs out never adds a block (see [`super::row`]), so with `c - p` the most capped
//! blocks and `(s - c) - o` the most that straight blocks may exceed them by, what is asked of an order
//! makes necessary, of what the table sees:
//!
//! 1. capped blocks `<= c - p`;
//! 2. straight blocks `<= (c - p) + (s - c) - o`.
//!
//! For lifts and mass that is exact at the start. Without demand for gaps beside open combs (`o = 0`) the
//! first is all that is asked. With it, `c - p <= 1`: a demand with fewer gaps between capped combs than
//! one block of them has, and some beside open combs, asks for as many bars as one with a gap more of the
//! first kind and one fewer of the second, which some order also allows and which was tried before. Then
//! lifted combs go in without a further block: capped ones beside the capped block (or as one, at the end
//! of a straight block), open ones beside straight ones, crooked ones at the end.
//!
//! Swaps are counted of pairs of which one comb slides, each in one place only:
//!
//! - a capped comb that is lifted: with each comb that slides while it waits or is owed, exactly;
//! - another that is lifted: one. It crosses at least one comb that slides, or it could slide too and the
//!   order would have fewer lifts than it is charged (so no best pair is lost). Before the first comb
//!   slides that does not hold, since brood may have to be lifted for it.

use std::num::NonZeroU64;

use super::order::Cost;
use super::row::{CLASSES, Class, Demand, HoneyComb, Row};

/// A state of the search as far as the bound sees it.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    /// A comb was set since the last slide: the next comb must slide.
    pub(super) setting: bool,
    /// A honey comb has stayed put.
    pub(super) anchored: bool,
    /// Combs of the present row passed.
    pub(super) at: usize,
    /// The outermost comb of the new row.
    pub(super) last: Class,
    pub(super) capped_blocks: usize,
    pub(super) straight_blocks: usize,
    /// Capped combs waiting, less those owed. Of one class there are never both.
    pub(super) capped_to_set: i32,
}

impl View {
    /// The new row with one more comb.
    fn with(self, class: Class) -> Self {
        let capped_block = class.is_capped() && !self.last.is_capped();
        let straight_block = class.is_straight() && !self.last.is_straight();
        Self {
            last: class,
            capped_blocks: self.capped_blocks + usize::from(capped_block),
            straight_blocks: self.straight_blocks + usize::from(straight_block),
            ..self
        }
    }
}

pub(super) struct Bound {
    honey: Vec<HoneyComb>,
    /// Capped combs from a place on outward.
    capped_left: Vec<i32>,
    most_capped_blocks: usize,
    /// `None` where the second condition asks nothing.
    most_straight_blocks: Option<usize>,
    /// What is still to come, plus one; nothing where it was not asked yet.
    cells: Vec<Option<NonZeroU64>>,
}

impl Bound {
    /// `None` if the row has too few combs for the demand.
    pub(super) fn new(row: &Row, demand: Demand) -> Option<Self> {
        let (capped, open) = (row.count(Class::Capped), row.count(Class::Open));
        let crooked = row.count(Class::Crooked);
        let most_capped_blocks = capped.checked_sub(demand.between_capped)?;
        let most_straight_blocks = if demand.other == 0 {
            None
        } else {
            // more than one beside each crooked comb there cannot be
            let most = (most_capped_blocks + open).checked_sub(demand.other)?;
            Some(most.min(crooked + 1))
        };
        let mut capped_left = vec![0; row.honey.len() + 1];
        for (at, comb) in row.honey.iter().enumerate().rev() {
            capped_left[at] = capped_left[at + 1] + i32::from(comb.class.is_capped());
        }
        let mut bound = Self {
            honey: row.honey.clone(),
            capped_left,
            most_capped_blocks,
            most_straight_blocks,
            cells: Vec::new(),
        };
        let places = 2 * 2 * (row.honey.len() + 1) * CLASSES.len();
        let counts = (most_capped_blocks + 1) * (most_straight_blocks.unwrap_or(0) + 1);
        bound.cells = vec![None; places * counts * bound.balances()];
        Some(bound)
    }

    /// What is still to come at least; `None` if nothing can come of it.
    pub(super) fn ahead(&mut self, view: View) -> Option<Cost> {
        Some(self.least(view)).filter(|cost| *cost != Cost::NEVER)
    }

    /// Whether no further straight block is allowed.
    pub(super) fn is_last_straight_block(&self, straight_blocks: usize) -> bool {
        self.most_straight_blocks
            .is_some_and(|most| straight_blocks >= most)
    }

    /// From all capped combs owed to all waiting.
    fn balances(&self) -> usize {
        2 * self.capped_left[0].unsigned_abs() as usize + 1
    }

    /// Where a state lies; `None` if nothing can come of it.
    fn index(&self, view: View) -> Option<usize> {
        let most_straight = self.most_straight_blocks.unwrap_or(0);
        let straight = self
            .most_straight_blocks
            .map_or(0, |_| view.straight_blocks);
        if view.capped_blocks > self.most_capped_blocks || straight > most_straight {
            return None;
        }
        let balance = usize::try_from(view.capped_to_set + self.capped_left[0]).ok()?;
        let index = usize::from(view.setting) * 2 + usize::from(view.anchored);
        let index = index * (self.honey.len() + 1) + view.at;
        let index = index * CLASSES.len() + view.last as usize;
        let index = index * (self.most_capped_blocks + 1) + view.capped_blocks;
        let index = index * (most_straight + 1) + straight;
        Some(index * self.balances() + balance)
    }

    fn least(&mut self, view: View) -> Cost {
        let Some(index) = self.index(view) else {
            return Cost::NEVER;
        };
        if let Some(known) = self.cells[index] {
            return Cost::stored(known);
        }
        let cost = match self.honey.get(view.at).copied() {
            None if view.capped_to_set == 0 => Cost::NONE,
            None => self.setting(view),
            Some(comb) => {
                let least = self.setting(view).min(self.sliding(view, &comb));
                if view.setting {
                    least
                } else {
                    least.min(self.lifting(view, &comb))
                }
            }
        };
        self.cells[index] = Some(cost.to_store());
        cost
    }

    /// If a capped comb is set next: one that waits, or one from beyond the next that slides.
    fn setting(&mut self, view: View) -> Cost {
        let beyond = self.capped_left.get(view.at + 1);
        if view.capped_to_set <= 0 && beyond.is_none_or(|beyond| beyond + view.capped_to_set <= 0) {
            return Cost::NEVER;
        }
        self.least(View {
            setting: true,
            capped_to_set: view.capped_to_set - 1,
            ..view.with(Class::Capped)
        })
    }

    fn sliding(&mut self, view: View, comb: &HoneyComb) -> Cost {
        let slid = View {
            setting: false,
            anchored: true,
            at: view.at + 1,
            ..view.with(comb.class)
        };
        let (count, mass) = if view.anchored {
            (0, 0)
        } else {
            comb.brood_beyond
        };
        let crossed = view.capped_to_set.unsigned_abs() as usize;
        let price = Cost::lifts(count, mass).and(Cost::swaps(crossed));
        self.least(slid).and(price)
    }

    fn lifting(&mut self, view: View, comb: &HoneyComb) -> Cost {
        let capped = comb.class.is_capped();
        let lifted = View {
            at: view.at + 1,
            capped_to_set: view.capped_to_set + i32::from(capped),
            ..view
        };
        let crossed = usize::from(view.anchored && !capped);
        let price = Cost::lifts(1, comb.mass_mg).and(Cost::swaps(crossed));
        self.least(lifted).and(price)
    }
}
