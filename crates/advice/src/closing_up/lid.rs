//! Which loose bars go inside, which outside, and which shims: the widths alone decide, whatever the
//! order of the combs, because every standing comb is inside in any answer.
//!
//! A table over (bars and shims looked at, loose bars inside, millimetres covered) holds the best way
//! to reach each sum; it is exact for any widths.

use super::problem::{LooseKind, Problem};

/// How the length left by combs and follower board is covered, as indices into the problem.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Fill {
    pub(super) inside: Vec<usize>,
    pub(super) outside: Vec<usize>,
    pub(super) shims: Vec<usize>,
}

/// Everything that bars and shims at hand can cover.
pub(super) struct Lid {
    /// Least and most that must be covered, mm; `None` when combs and board alone are too wide.
    window: Option<(usize, usize)>,
    /// `tables[i][inside][mm]`: cheapest way to cover `mm` with the first `i` pieces.
    tables: Vec<Vec<Vec<Cost>>>,
    pieces: Vec<Piece>,
}

/// Shims first; then, among equals and only to make the choice definite: few cut bars left out, few
/// bars outside. Packed in this order.
type Cost = u32;
const NO_WAY: Cost = Cost::MAX;
const SHIM: Cost = 1 << 16;
const CUT_LEFT_OUT: Cost = 1 << 8;
const OUTSIDE: Cost = 1;

#[derive(Clone, Copy)]
enum Piece {
    Loose(usize, LooseKind, usize),
    Shim(usize, usize),
}

#[derive(Clone, Copy, PartialEq)]
enum Use {
    Left,
    Inside,
    Outside,
    Shim,
}

impl Piece {
    fn mm(self) -> usize {
        match self {
            Self::Loose(_, _, mm) | Self::Shim(_, mm) => mm,
        }
    }
    /// What can be done with it, and at what cost.
    fn uses(self) -> &'static [(Use, Cost)] {
        match self {
            Self::Loose(_, LooseKind::Cut, _) => &[(Use::Left, CUT_LEFT_OUT), (Use::Inside, 0)],
            Self::Loose(_, LooseKind::Empty, _) => {
                &[(Use::Left, 0), (Use::Inside, 0), (Use::Outside, OUTSIDE)]
            }
            Self::Shim(..) => &[(Use::Left, 0), (Use::Shim, SHIM)],
        }
    }
}

impl Lid {
    pub(super) fn new(problem: &Problem) -> Self {
        let loose = problem.loose.iter().enumerate();
        let shims = problem.shims_mm.iter().enumerate();
        let pieces: Vec<Piece> = loose
            .map(|(i, bar)| Piece::Loose(i, bar.kind, bar.width_mm.to_mm() as usize))
            .chain(shims.map(|(i, mm)| Piece::Shim(i, mm.to_mm() as usize)))
            .collect();
        let window = window(problem);
        let (_, most) = window.unwrap_or((0, 0));
        // sums above the window matter only for saying what is wrong, and the smallest of them
        // exceeds it by less than one piece: take any piece away and it is no longer above
        let widest = pieces.iter().map(|piece| piece.mm()).max().unwrap_or(0);
        let total: usize = pieces.iter().map(|piece| piece.mm()).sum();
        let reach = total.min(most + widest);
        let mut first = vec![vec![NO_WAY; reach + 1]; problem.loose.len() + 1];
        first[0][0] = 0;
        let mut tables = vec![first];
        for piece in &pieces {
            let table = tables.last().map(|before| with_piece(before, *piece));
            tables.extend(table);
        }
        Self {
            window,
            tables,
            pieces,
        }
    }

    /// Least and most that bars and shims must cover, mm.
    pub(super) fn window(&self) -> Option<(usize, usize)> {
        self.window
    }

    /// The best fill with exactly this many loose bars inside.
    pub(super) fn fill(&self, inside: usize) -> Option<Fill> {
        let (least, most) = self.window?;
        let covered = self.tables.last()?.get(inside)?;
        let sums = least..=most.min(covered.len() - 1);
        let best = sums
            .filter(|mm| covered[*mm] != NO_WAY)
            .min_by_key(|mm| (covered[*mm] / SHIM, most - mm, covered[*mm]))?;
        Some(self.trace(inside, best))
    }

    /// Sums that can be covered with at most this many loose bars inside, rising.
    pub(super) fn sums(&self, inside_at_most: usize) -> Vec<usize> {
        let Some(last) = self.tables.last() else {
            return Vec::new();
        };
        let rows = &last[..=inside_at_most.min(last.len() - 1)];
        let reach = last[0].len();
        let covered = |mm: &usize| rows.iter().any(|row| row[*mm] != NO_WAY);
        (0..reach).filter(covered).collect()
    }

    /// Walks back through the tables.
    fn trace(&self, mut inside: usize, mut mm: usize) -> Fill {
        let mut fill = Fill::default();
        for (i, piece) in self.pieces.iter().enumerate().rev() {
            let (before, cost) = (&self.tables[i], self.tables[i + 1][inside][mm]);
            let way = piece.uses().iter().find_map(|(way, price)| {
                let from = origin(*piece, *way, inside, mm)?;
                let earlier = before[from.0][from.1];
                (earlier != NO_WAY && earlier + price == cost).then_some((*way, from))
            });
            let Some((way, from)) = way else { continue };
            (inside, mm) = from;
            match (way, piece) {
                (Use::Inside, Piece::Loose(bar, ..)) => fill.inside.push(*bar),
                (Use::Outside, Piece::Loose(bar, ..)) => fill.outside.push(*bar),
                (Use::Shim, Piece::Shim(shim, _)) => fill.shims.push(*shim),
                _ => {}
            }
        }
        fill.inside.reverse();
        fill.outside.reverse();
        fill.shims.reverse();
        fill
    }
}

/// What combs and follower board leave, less the tolerance.
fn window(problem: &Problem) -> Option<(usize, usize)> {
    let combs: u32 = problem.standing.iter().map(|c| c.width_mm.to_mm()).sum();
    let needed = combs + problem.follower_mm.to_mm();
    let free = problem.cavity_mm.to_mm().checked_sub(needed)?;
    let least = free.saturating_sub(problem.tolerance_mm.to_mm());
    Some((least as usize, free as usize))
}

/// Where a use of a piece came from: (loose bars inside, millimetres) before it.
fn origin(piece: Piece, way: Use, inside: usize, mm: usize) -> Option<(usize, usize)> {
    match way {
        Use::Left => Some((inside, mm)),
        Use::Inside => Some((inside.checked_sub(1)?, mm.checked_sub(piece.mm())?)),
        Use::Outside | Use::Shim => Some((inside, mm.checked_sub(piece.mm())?)),
    }
}

fn with_piece(before: &[Vec<Cost>], piece: Piece) -> Vec<Vec<Cost>> {
    let cheapest = |inside: usize, mm: usize| {
        let ways = piece.uses().iter().filter_map(|(way, price)| {
            let (inside, mm) = origin(piece, *way, inside, mm)?;
            let earlier = before[inside][mm];
            (earlier != NO_WAY).then(|| earlier + price)
        });
        ways.min().unwrap_or(NO_WAY)
    };
    let row = |inside: usize| {
        (0..before[inside].len())
            .map(|mm| cheapest(inside, mm))
            .collect()
    };
    (0..before.len()).map(row).collect()
}
