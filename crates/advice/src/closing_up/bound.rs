//! A lower bound on the lifts and mass still to come, from small tables filled from the end.
//!
//! A table knows only the combs that slide. Lifted combs that are set in between can only add blocks
//! (see [`super::row`]), never take one away. With `c - p` the most capped blocks and `o' = (s - c) - o`
//! the most that straight blocks may exceed them by, what is asked of an order makes necessary:
//!
//! 1. capped blocks of the sliding combs `<= c - p`;
//! 2. straight blocks of the sliding combs `<= c - p + o'`;
//! 3. straight less capped blocks of the sliding combs, less one for each straight comb to be set,
//!    `<= o'`: a straight comb set in opens one capped block at most (a capped comb among open ones, an
//!    open one among capped ones), a crooked one lowers the difference not at all.
//!
//! Without demand for gaps beside open combs (`o = 0`) the first is sufficient, and the bound exact.
//! Else one table keeps 1 and 2, another 1 and 3, and the larger bound holds.

use super::order::Cost;
use super::row::{CLASSES, Class, Demand, HoneyComb, Row, signed};

/// A state of the search as far as the bound sees it.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    /// A honey comb has stayed put.
    pub(super) anchored: bool,
    /// Combs of the present row passed.
    pub(super) at: usize,
    /// The outermost comb of the new row.
    pub(super) last: Class,
    pub(super) capped_blocks: usize,
    pub(super) straight_blocks: usize,
    /// Straight combs waiting, less those owed.
    pub(super) straight_to_set: i32,
}

/// The larger of what the tables say.
pub(super) struct Bound {
    tables: Vec<Table>,
}

struct Table {
    most_capped_blocks: usize,
    /// The second condition's axis.
    axis: Axis,
    combs: usize,
    cells: Vec<Ahead>,
}

#[derive(Clone, Copy)]
enum Axis {
    /// No second condition.
    None,
    /// Condition 2.
    StraightBlocks { most: i32 },
    /// Condition 3, and how far below nothing the axis reaches.
    Difference { most: i32, below: i32 },
}

/// What is still to come at least.
#[derive(Clone, Copy)]
struct Ahead {
    /// Whatever is done with the next comb.
    any: Cost,
    /// If the next comb slides.
    sliding: Cost,
}

impl Bound {
    /// `None` if the row has too few combs for the demand.
    pub(super) fn new(row: &Row, demand: Demand) -> Option<Self> {
        let (capped, open) = (row.count(Class::Capped), row.count(Class::Open));
        let most_capped_blocks = capped.checked_sub(demand.between_capped)?;
        let most_more = signed(open) - signed(demand.other);
        let most_straight = signed(most_capped_blocks) + most_more;
        let axes: &[Axis] = if demand.other == 0 {
            &[Axis::None]
        } else {
            // each comb waiting or lifted takes one, each owed adds one: twice all, to be safe
            let below = 2 * signed(capped + open) + 1;
            &[
                Axis::StraightBlocks {
                    most: most_straight,
                },
                Axis::Difference {
                    most: most_more,
                    below,
                },
            ]
        };
        let table = |axis: &Axis| Table::new(row, most_capped_blocks, *axis);
        Some(Self {
            tables: axes.iter().map(table).collect(),
        })
    }

    /// What is still to come at least; `None` if nothing can come of it.
    pub(super) fn ahead(&self, view: View) -> Option<Cost> {
        self.largest(view, |ahead| ahead.any)
    }

    /// The same if the next comb must slide.
    pub(super) fn ahead_sliding(&self, view: View) -> Option<Cost> {
        self.largest(view, |ahead| ahead.sliding)
    }

    fn largest(&self, view: View, part: impl Fn(Ahead) -> Cost) -> Option<Cost> {
        let costs = self.tables.iter().map(|table| part(table.ahead(view)));
        costs.max().filter(|cost| *cost != Cost::NEVER)
    }
}

impl Axis {
    /// Cells on the axis.
    fn size(self) -> usize {
        let size = match self {
            Self::None => 1,
            Self::StraightBlocks { most } => most + 1,
            Self::Difference { most, below } => most + 2 * below,
        };
        usize::try_from(size).unwrap_or(0)
    }

    /// Whether the condition holds at the end of the row.
    fn is_met(self, along: usize) -> bool {
        match self {
            Self::None | Self::StraightBlocks { .. } => true,
            Self::Difference { most, below } => signed(along) - below <= most,
        }
    }

    fn after_slide(self, along: usize, straight_block: usize, capped_block: usize) -> usize {
        match self {
            Self::None => along,
            Self::StraightBlocks { .. } => along + straight_block,
            Self::Difference { .. } => (along + straight_block).saturating_sub(capped_block),
        }
    }

    fn after_lift(self, along: usize, class: Class) -> usize {
        match self {
            Self::Difference { .. } if class.is_straight() => along.saturating_sub(1),
            _ => along,
        }
    }

    /// Where a state lies; `None` beyond the end.
    fn cell(self, view: View) -> Option<usize> {
        let (straight, capped) = (signed(view.straight_blocks), signed(view.capped_blocks));
        let cell = match self {
            Self::None => 0,
            Self::StraightBlocks { .. } => straight,
            // below the axis every wish is met, as it is at its end
            Self::Difference { below, .. } => {
                (straight - capped - view.straight_to_set + below).max(0)
            }
        };
        usize::try_from(cell)
            .ok()
            .filter(|cell| *cell < self.size())
    }
}

/// A place in a table, apart from how much of the present row is passed.
#[derive(Clone, Copy)]
struct Cell {
    anchored: bool,
    last: Class,
    capped_blocks: usize,
    along: usize,
}

const NEVER: Ahead = Ahead {
    any: Cost::NEVER,
    sliding: Cost::NEVER,
};

impl Table {
    fn new(row: &Row, most_capped_blocks: usize, axis: Axis) -> Self {
        let combs = row.honey.len();
        let size = (combs + 1) * 2 * CLASSES.len() * (most_capped_blocks + 1) * axis.size();
        let cells = vec![NEVER; size];
        let mut table = Self {
            most_capped_blocks,
            axis,
            combs,
            cells,
        };
        for at in (0..=combs).rev() {
            for anchored in [true, false] {
                for last in CLASSES {
                    for capped_blocks in 0..=most_capped_blocks {
                        for along in 0..axis.size() {
                            let cell = Cell {
                                anchored,
                                last,
                                capped_blocks,
                                along,
                            };
                            let index = table.index(at, cell);
                            table.cells[index] = table.cheapest(row.honey.get(at), at, cell);
                        }
                    }
                }
            }
        }
        table
    }

    fn index(&self, at: usize, cell: Cell) -> usize {
        let index = usize::from(cell.anchored) * (self.combs + 1) + at;
        let index = index * CLASSES.len() + cell.last as usize;
        let index = index * (self.most_capped_blocks + 1) + cell.capped_blocks;
        index * self.axis.size() + cell.along
    }

    fn get(&self, at: usize, cell: Cell) -> Ahead {
        if cell.capped_blocks > self.most_capped_blocks || cell.along >= self.axis.size() {
            return NEVER;
        }
        self.cells[self.index(at, cell)]
    }

    fn ahead(&self, view: View) -> Ahead {
        let View {
            anchored,
            at,
            last,
            capped_blocks,
            ..
        } = view;
        let along = self.axis.cell(view);
        along.map_or(NEVER, |along| {
            self.get(
                at,
                Cell {
                    anchored,
                    last,
                    capped_blocks,
                    along,
                },
            )
        })
    }

    fn cheapest(&self, next: Option<&HoneyComb>, at: usize, cell: Cell) -> Ahead {
        let Some(comb) = next else {
            let any = if self.axis.is_met(cell.along) {
                Cost::NONE
            } else {
                Cost::NEVER
            };
            return Ahead {
                any,
                sliding: Cost::NEVER,
            };
        };
        let capped_block = usize::from(comb.class.is_capped() && !cell.last.is_capped());
        let straight_block = usize::from(comb.class.is_straight() && !cell.last.is_straight());
        let slid = Cell {
            anchored: true,
            last: comb.class,
            capped_blocks: cell.capped_blocks + capped_block,
            along: self
                .axis
                .after_slide(cell.along, straight_block, capped_block),
        };
        let (count, mass) = if cell.anchored {
            (0, 0)
        } else {
            comb.brood_beyond
        };
        let sliding = self.get(at + 1, slid).any.and(Cost::lifts(count, mass));
        let along = self.axis.after_lift(cell.along, comb.class);
        let lifting = self.get(at + 1, Cell { along, ..cell }).any;
        let lifting = lifting.and(Cost::lifts(1, comb.mass_mg));
        Ahead {
            any: sliding.min(lifting),
            sliding,
        }
    }
}
