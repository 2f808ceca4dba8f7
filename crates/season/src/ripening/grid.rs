//! One comb on its grid: mean logit of the two faces by half their difference, under each rate.

use super::{Looked, Reading, RipeRule};

/// Cells of the mean logit, from -6 to 6 (0.25 % to 99.75 % capped).
pub(super) const MEANS: usize = 81;
const MEAN_REACH: f64 = 6.0;
const STEP: f64 = 2.0 * MEAN_REACH / (MEANS - 1) as f64;
/// What a cell's width adds to a variance.
pub(super) const CELL_VARIANCE: f64 = STEP * STEP / 12.0;

/// Cells of half the difference between the faces, from -3.2 to 3.2.
const DIFFERENCES: usize = 17;
const DIFFERENCE_REACH: f64 = 3.2;
const CELLS: usize = MEANS * DIFFERENCES;

/// Before anything is read: mean logit and its spread (anything from open to capped), and the spread
/// of half the difference (0.9: the faces of a half-capped
/// comb usually differ by up to 0.4 in share). Ours, no source.
const UNREAD_MEAN: f64 = -0.8;
const UNREAD_SPREAD: f64 = 2.2;
const DIFFERENCE_SPREAD: f64 = 0.9;

pub(super) fn mean_at(cell: usize) -> f64 {
    -MEAN_REACH + STEP * cell as f64
}

fn difference_at(cell: usize) -> f64 {
    -DIFFERENCE_REACH + 2.0 * DIFFERENCE_REACH / (DIFFERENCES - 1) as f64 * cell as f64
}

fn share(logit: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-logit))
}

/// The least mean logit at which a comb is ripe, per cell of difference.
pub(super) fn ripe_from(rule: RipeRule) -> [f64; DIFFERENCES] {
    let face = libm::log(rule.face().get() / (1.0 - rule.face().get()));
    std::array::from_fn(|j| {
        let apart = difference_at(j);
        let (mut low, mut high) = (-10.0, 10.0);
        while high - low > 1e-9 {
            let mean = f64::midpoint(low, high);
            if f64::midpoint(share(mean + apart), share(mean - apart)) >= rule.mean().get() {
                high = mean;
            } else {
                low = mean;
            }
        }
        f64::max(high, face + apart.abs())
    })
}

/// Probability over (difference, mean), one such table a rate, each summing to one.
#[derive(Debug, Clone)]
pub(super) struct CombGrid {
    tables: Vec<Vec<f64>>,
}

impl CombGrid {
    pub(super) fn unread(rates: usize) -> Self {
        let bell = |off: f64, spread: f64| libm::exp(-0.5 * (off / spread) * (off / spread));
        let mut table = Vec::with_capacity(CELLS);
        for j in 0..DIFFERENCES {
            for i in 0..MEANS {
                table.push(
                    bell(difference_at(j), DIFFERENCE_SPREAD)
                        * bell(mean_at(i) - UNREAD_MEAN, UNREAD_SPREAD),
                );
            }
        }
        super::normalise(&mut table);
        Self {
            tables: vec![table; rates],
        }
    }

    /// Moves the mean of one rate's table by `pace`, and blurs it by `variance`.
    /// The kernel is a normal density on the cells around the move, so the move itself adds no blur.
    pub(super) fn drift(&mut self, rate: usize, pace: f64, variance: f64) {
        let (kernel, first) = kernel(pace, variance);
        let table = &mut self.tables[rate];
        let mut moved = [0.0; MEANS];
        for row in table.chunks_exact_mut(MEANS) {
            moved.fill(0.0);
            for (i, &mass) in row.iter().enumerate() {
                if mass < 1e-12 {
                    continue;
                }
                for (k, weight) in kernel.iter().enumerate() {
                    // what leaves the grid gathers in its outermost cell
                    let to = (i + k).saturating_add_signed(first).min(MEANS - 1);
                    moved[to] += mass * weight;
                }
            }
            row.copy_from_slice(&moved);
        }
    }

    /// Multiplies by a reading's likelihood; gives the reading's evidence under each rate.
    pub(super) fn weigh(&mut self, reading: Reading) -> Vec<f64> {
        let likely: Vec<f64> = (0..CELLS)
            .map(|cell| {
                let (mean, apart) = (mean_at(cell % MEANS), difference_at(cell / MEANS));
                let truth = match reading.looked() {
                    Looked::Left => share(mean + apart),
                    Looked::Right => share(mean - apart),
                    Looked::Both => f64::midpoint(share(mean + apart), share(mean - apart)),
                };
                reading.likelihood(truth)
            })
            .collect();
        self.tables
            .iter_mut()
            .map(|table| {
                let mut evidence = 0.0;
                for (mass, likely) in table.iter_mut().zip(&likely) {
                    *mass *= likely;
                    evidence += *mass;
                }
                super::normalise(table);
                evidence
            })
            .collect()
    }

    /// Mean capped share of both faces with its probability, all rates together.
    pub(super) fn mean_shares(&self, weights: &[f64]) -> Vec<(f64, f64)> {
        (0..CELLS)
            .map(|cell| {
                let (mean, apart) = (mean_at(cell % MEANS), difference_at(cell / MEANS));
                let capped = f64::midpoint(share(mean + apart), share(mean - apart));
                let tables = self.tables.iter().zip(weights);
                (
                    capped,
                    tables.map(|(table, weight)| table[cell] * weight).sum(),
                )
            })
            .collect()
    }

    /// How far each cell still is from ripe, in logit units, with its probability; gathered by
    /// steps of half a cell to keep the list short.
    pub(super) fn shortfall(&self, rate: usize, ripe_from: &[f64]) -> Vec<(f64, f64)> {
        const FINE: f64 = STEP / 2.0;
        const REACH: f64 = 2.0 * MEAN_REACH + DIFFERENCE_REACH;
        let mut gathered = vec![0.0; (2.0 * REACH / FINE) as usize + 2];
        for (cell, mass) in self.tables[rate].iter().enumerate() {
            let gap = ripe_from[cell / MEANS] - mean_at(cell % MEANS);
            gathered[((gap + REACH) / FINE + 0.5) as usize] += mass;
        }
        gathered
            .into_iter()
            .enumerate()
            .filter(|(_, mass)| *mass > 1e-7)
            .map(|(slot, mass)| (slot as f64 * FINE - REACH, mass))
            .collect()
    }
}

/// Weights of a normal density on the grid around `pace`, and the offset of the first.
fn kernel(pace: f64, variance: f64) -> (Vec<f64>, isize) {
    let spread = libm::sqrt(variance).max(0.5 * STEP);
    let first = libm::floor((pace - 4.0 * spread) / STEP) as isize;
    let last = libm::ceil((pace + 4.0 * spread) / STEP) as isize;
    let mut weights: Vec<f64> = (first..=last)
        .map(|k| {
            let off = (k as f64 * STEP - pace) / spread;
            libm::exp(-0.5 * off * off)
        })
        .collect();
    super::normalise(&mut weights);
    (weights, first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drift_moves_the_mean_by_its_pace_and_keeps_the_mass() {
        let mut comb = CombGrid::unread(1);
        // a narrow start near the middle, away from the edges
        comb.weigh(Reading::number(Looked::Both, comb::Share::HALF));
        let centre = |grid: &CombGrid| -> f64 {
            (0..CELLS)
                .map(|c| grid.tables[0][c] * mean_at(c % MEANS))
                .sum()
        };
        let before = centre(&comb);
        comb.drift(0, 0.73, 0.1);
        let mass: f64 = comb.tables[0].iter().sum();
        assert!((mass - 1.0).abs() < 1e-9, "{mass}");
        // the slip term leaves a little mass at the ends of the grid, where it cannot move on
        assert!((centre(&comb) - before - 0.73).abs() < 0.02);
    }

    #[test]
    fn ripe_needs_both_the_mean_and_the_poorer_face() {
        let from = ripe_from(RipeRule::default());
        let level = from[DIFFERENCES / 2];
        assert!((share(level) - 2.0 / 3.0).abs() < 1e-6);
        let apart = difference_at(0).abs();
        assert!((share(from[0] - apart) - 0.5).abs() < 1e-6);
    }
}
