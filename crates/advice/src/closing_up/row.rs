//! What of the combs matters to the loose bars: the row of honey combs, each capped and straight,
//! open and straight, or crooked; and how many loose bars such a row can take.
//!
//! Two countings carry the whole search. Call a longest run of neighbouring capped straight combs a
//! *capped block* and a longest run of neighbouring straight combs (capped or open) a *straight
//! block*. A row of `c` capped and `s` straight combs (the edge among them if it can be a neighbour)
//! has `c - capped blocks` gaps between two capped combs and `s - straight blocks` gaps between two
//! straight ones. So asking for at least `p` gaps of the first kind and `o` of the straight but not
//! capped kind is asking for
//!
//! - `capped blocks <= c - p`, and
//! - `straight blocks - capped blocks <= (s - c) - o`.

use super::problem::{Kind, Problem, milligrams};

/// How a comb can stand beside a loose bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Class {
    /// Straight honey, capped.
    Capped = 0,
    /// Straight honey, not capped.
    Open = 1,
    /// No neighbour for a loose bar.
    Crooked = 2,
}

pub(super) const CLASSES: [Class; 3] = [Class::Capped, Class::Open, Class::Crooked];

impl Class {
    pub(super) fn is_straight(self) -> bool {
        self != Self::Crooked
    }
    pub(super) fn is_capped(self) -> bool {
        self == Self::Capped
    }
    fn new(straight: bool, capped: bool) -> Self {
        match (straight, capped) {
            (true, true) => Self::Capped,
            (true, false) => Self::Open,
            (false, _) => Self::Crooked,
        }
    }
}

/// A count of combs, where differences of counts are taken.
pub(super) fn signed(count: usize) -> i32 {
    i32::try_from(count).unwrap_or(i32::MAX)
}

/// One honey comb.
#[derive(Debug, Clone, Copy)]
pub(super) struct HoneyComb {
    /// Its place in `Problem::standing`.
    pub(super) standing: usize,
    pub(super) class: Class,
    pub(super) mass_mg: u64,
    /// Brood combs, and their mass, that must be lifted if this is the first honey comb to stay put:
    /// those outside it now. They end inside all honey, in the same order.
    pub(super) brood_beyond: (u32, u64),
}

/// The honey combs in present order, and what stands before the first.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// What the first honey comb stands beside: the edge if it is honey and no brood stands between,
    /// else as good as a crooked comb.
    pub(super) anchor: Class,
    pub(super) honey: Vec<HoneyComb>,
    /// Places of the brood combs in `Problem::standing`.
    pub(super) brood: Vec<usize>,
}

/// Gaps that loose bars ask for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Demand {
    /// Loose bars between two capped straight combs.
    pub(super) between_capped: usize,
    /// Loose bars between two straight combs that are not both capped.
    pub(super) other: usize,
}

impl Row {
    pub(super) fn new(problem: &Problem) -> Self {
        let mut brood_beyond = (0, 0);
        let mut row = Self {
            anchor: Class::Crooked,
            honey: Vec::new(),
            brood: Vec::new(),
        };
        for (standing, comb) in problem.standing.iter().enumerate().rev() {
            let mass_mg = milligrams(comb.mass_kg);
            if comb.kind == Kind::Brood {
                brood_beyond = (brood_beyond.0 + 1, brood_beyond.1 + mass_mg);
                row.brood.push(standing);
            } else {
                let class = Class::new(comb.straight, comb.is_capped());
                row.honey.push(HoneyComb {
                    standing,
                    class,
                    mass_mg,
                    brood_beyond,
                });
            }
        }
        row.honey.reverse();
        row.brood.reverse();
        let edge = &problem.edge;
        if row.brood.is_empty() && edge.kind == Kind::Honey {
            row.anchor = Class::new(edge.straight, edge.is_capped());
        }
        row
    }

    /// Combs of a class, the anchor among them.
    pub(super) fn count(&self, class: Class) -> usize {
        let honey = self.honey.iter().filter(|comb| comb.class == class);
        honey.count() + usize::from(self.anchor == class && class.is_straight())
    }

    /// Most loose bars that can stand between straight combs, all straight combs side by side.
    pub(super) fn most_gaps(&self) -> usize {
        (self.count(Class::Capped) + self.count(Class::Open)).saturating_sub(1)
    }

    /// Most loose bars that can stand between capped combs.
    pub(super) fn most_capped_gaps(&self) -> usize {
        self.count(Class::Capped).saturating_sub(1)
    }

    /// Whether some order of the honey combs has these gaps.
    ///
    /// With all straight combs in one block (crooked ones at the end), any number of capped blocks
    /// from 1 to the number of open combs plus 1 can be had, one fewer at most if an open anchor
    /// stands first. More straight blocks only take gaps away.
    pub(super) fn allows(&self, demand: Demand) -> bool {
        let (capped, open) = (self.count(Class::Capped), self.count(Class::Open));
        if capped == 0 {
            return demand.between_capped == 0 && demand.other <= open.saturating_sub(1);
        }
        let most_blocks = (open + usize::from(self.anchor != Class::Open)).min(capped);
        (1..=most_blocks)
            .any(|blocks| demand.between_capped + blocks <= capped && demand.other < open + blocks)
    }
}
