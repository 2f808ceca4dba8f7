//! Which rule a problem without an answer cannot meet, and by how much.

use super::lid::Lid;
use super::problem::{LooseKind, Problem};
use super::row::Row;

/// Why nothing satisfies the rules, and by how much.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Hindrance {
    /// What must go in is longer than the cavity.
    TooWide {
        /// Combs and follower board.
        needed_mm: u32,
        /// The cavity.
        cavity_mm: u32,
    },
    /// Everything at hand does not cover the rest.
    TooShort {
        /// Missing after all bars that may be laid are laid.
        missing_mm: u32,
        /// All shims at hand.
        shims_mm: u32,
        /// What may stay open.
        tolerance_mm: u32,
        /// Cut bars that find no place inside.
        cut_left_out: usize,
    },
    /// Bars and shims at hand make too little or too much, nothing between.
    NoFit {
        /// Left by combs and follower board.
        free_mm: u32,
        /// What may stay open.
        tolerance_mm: u32,
        /// The widest choice that leaves too much open.
        below_mm: u32,
        /// The narrowest choice that is too wide, if there is one.
        above_mm: Option<u32>,
    },
    /// The lid comes out right only with more loose bars inside than the combs have places for.
    NoPlace {
        /// Loose bars that would have to hang inside.
        inside: usize,
        /// Places there are.
        places: usize,
    },
}

/// Names the rule that cannot be met; asked only when nothing satisfies them.
pub(super) fn hindrance(problem: &Problem, row: &Row, lid: &Lid) -> Hindrance {
    let cavity_mm = problem.cavity_mm.to_mm();
    let Some((least, most)) = lid.window() else {
        let combs: u32 = problem.standing.iter().map(|c| c.width_mm.to_mm()).sum();
        let needed_mm = combs + problem.follower_mm.to_mm();
        return Hindrance::TooWide {
            needed_mm,
            cavity_mm,
        };
    };
    let places = row.most_gaps() + 1;
    if let Some(inside) = (places + 1..=problem.loose.len()).find(|n| lid.fill(*n).is_some()) {
        return Hindrance::NoPlace { inside, places };
    }
    let (tolerance_mm, free_mm) = (problem.tolerance_mm.to_mm(), most as u32);
    let sums = lid.sums(places);
    let below_mm = sums
        .iter()
        .rev()
        .find(|mm| **mm < least)
        .map_or(0, |mm| *mm as u32);
    let above_mm = sums.iter().find(|mm| **mm > most).map(|mm| *mm as u32);
    let shims_mm: u32 = problem.shims_mm.iter().map(|shim| shim.to_mm()).sum();
    if above_mm.is_some() || below_mm < shims_mm {
        return Hindrance::NoFit {
            free_mm,
            tolerance_mm,
            below_mm,
            above_mm,
        };
    }
    // nothing reaches further: every bar that may be laid and every shim is in `below_mm`
    let cut = problem
        .loose
        .iter()
        .filter(|bar| bar.kind == LooseKind::Cut)
        .count();
    Hindrance::TooShort {
        missing_mm: free_mm - (below_mm - shims_mm),
        shims_mm,
        tolerance_mm,
        cut_left_out: cut.saturating_sub(places),
    }
}
