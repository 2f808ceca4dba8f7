//! Problems of many makes, the same for the same seed.

use advice::closing_up::{Edge, Kind, Loose, LooseKind, Problem, Standing, WholeMm};
use comb::{Mass, Share};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// How large.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Size {
    pub(crate) standing: usize,
    pub(crate) loose: usize,
    pub(crate) shims: usize,
}

/// How the combs are mixed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Make {
    /// Anything, masses all different.
    Mixed,
    /// Anything, all masses equal: many ties.
    Ties,
    /// Capped and open combs in turn, equal masses.
    Alternating,
    /// Pairs of capped combs, pairs of others, equal masses.
    Pairs,
    /// Runs of one to four of a class, equal masses.
    Runs,
    /// Three classes in turn, equal masses.
    Turns,
    /// Few capped combs, far apart, equal masses.
    Sparse,
    /// As the last, masses of one or two kilograms.
    TwoMasses,
    /// Brood among and beyond the honey, equal masses.
    Brood,
    /// Brood among and beyond runs of honey; only cut bars at hand.
    BroodAmongRuns,
    /// Brood beyond all honey but the last comb.
    BroodBeyond,
    /// Only cut bars at hand, and a lid that needs them all inside; equal masses.
    AllInside,
    /// The same, with three classes in turn.
    AllInsideTurns,
    /// The same, few open combs among crooked ones.
    AllInsideSparse,
}

pub(crate) const MAKES: [Make; 14] = [
    Make::Mixed,
    Make::Ties,
    Make::Alternating,
    Make::Pairs,
    Make::Runs,
    Make::Turns,
    Make::Sparse,
    Make::TwoMasses,
    Make::Brood,
    Make::BroodAmongRuns,
    Make::BroodBeyond,
    Make::AllInside,
    Make::AllInsideTurns,
    Make::AllInsideSparse,
];

/// Capped, open, crooked; each with its share of a draw.
fn drawn(rng: &mut ChaCha8Rng, weights: [u32; 3]) -> (bool, bool) {
    let draw = rng.random_range(0..weights.iter().sum());
    match draw {
        capped if capped < weights[0] => (true, true),
        open if open < weights[0] + weights[1] => (true, false),
        _ => (false, rng.random_bool(0.5)),
    }
}

/// One problem; it has an answer more often than not.
pub(crate) fn instance(size: Size, make: Make, seed: u64) -> Problem {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let weights = [
        rng.random_range(1..6),
        rng.random_range(0..6),
        rng.random_range(0..6),
    ];
    let mut run = (0, (true, true));
    let mut standing = Vec::new();
    for i in 0..size.standing {
        let turn = |period: usize, of: usize| i % period == of;
        let (straight, capped) = match make {
            Make::Alternating => (rng.random_bool(0.97), turn(2, 0)),
            Make::Pairs => (true, i % 4 < 2),
            Make::Turns | Make::AllInsideTurns => (!turn(3, 2), turn(3, 0)),
            Make::Sparse | Make::TwoMasses => drawn(&mut rng, [1, 1, 2]),
            Make::AllInsideSparse => drawn(&mut rng, [1, 2, 3]),
            Make::Runs | Make::BroodAmongRuns => {
                if run.0 == 0 {
                    run = (rng.random_range(1..5), drawn(&mut rng, weights));
                }
                run.0 -= 1;
                run.1
            }
            _ => drawn(&mut rng, weights),
        };
        let brood = match make {
            Make::Brood | Make::BroodAmongRuns => rng.random_bool(0.4),
            Make::BroodBeyond => i + 1 < size.standing && i > size.standing / 3,
            Make::Mixed | Make::Ties | Make::AllInside => i < 2 && seed.is_multiple_of(3),
            _ => false,
        };
        let kg = match make {
            Make::Mixed => rng.random_range(0.5..4.0),
            Make::TwoMasses => f64::from(rng.random_range(1..=2)),
            _ => 2.0,
        };
        standing.push(Standing {
            id: format!("b{i}"),
            kind: if brood { Kind::Brood } else { Kind::Honey },
            capped: Share::clamped(if capped { 0.8 } else { 0.3 }),
            straight,
            width_mm: width(rng.random_range(32..39)),
            mass_kg: Mass::kg(kg),
        });
    }
    let all_inside = matches!(
        make,
        Make::AllInside | Make::AllInsideTurns | Make::AllInsideSparse | Make::BroodAmongRuns
    );
    let loose: Vec<Loose> = (0..size.loose)
        .map(|i| Loose {
            id: format!("c{i}"),
            kind: if all_inside || rng.random_bool(0.5) {
                LooseKind::Cut
            } else {
                LooseKind::Empty
            },
            width_mm: width(rng.random_range(32..39)),
        })
        .collect();
    let shims: Vec<u32> = (0..size.shims).map(|_| rng.random_range(1..12)).collect();
    let combs: u32 = standing.iter().map(|comb| comb.width_mm.to_mm()).sum();
    let inside: u32 = loose.iter().map(|bar| bar.width_mm.to_mm()).sum();
    let share = if all_inside {
        0
    } else {
        rng.random_range(0..70)
    };
    Problem {
        cavity_mm: width(combs + 19 + inside + 12 - share.min(inside)),
        follower_mm: width(19),
        tolerance_mm: width(3),
        edge: Edge {
            kind: if rng.random_bool(0.5) {
                Kind::Brood
            } else {
                Kind::Honey
            },
            capped: Share::clamped(if rng.random_bool(0.5) { 0.8 } else { 0.3 }),
            straight: rng.random_bool(0.8),
        },
        standing,
        loose,
        shims_mm: shims.into_iter().map(width).collect(),
    }
}

fn width<const LEAST: u32>(mm: u32) -> WholeMm<LEAST> {
    WholeMm::new(mm).expect("widths made here are in range")
}
