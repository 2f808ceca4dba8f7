//! One comb on its grid: mean logit of the two faces by half their difference, under each rate.

use super::{Looked, Reading, RipeRule};

/// Cells of the mean logit, from -6 to 6 (0.25 % to 99.75 % capped). A quarter of this step and three
/// times as many rates change a probability of being ripe by 0.001 on the mean and by 0.04 at most (200
/// simulated visits, 6,000 forecasts), and no proposed day by more than one.
pub(super) const MEANS: usize = 61;
const MEAN_REACH: f64 = 6.0;
const STEP: f64 = 2.0 * MEAN_REACH / (MEANS - 1) as f64;
/// What a cell's width adds to a variance.
pub(super) const CELL_VARIANCE: f64 = STEP * STEP / 12.0;

/// Cells of half the difference between the faces, from -3.2 to 3.2, each as wide as [`APART`] cells of
/// the mean: so the logit of one face always lies on the grid.
const DIFFERENCES: usize = 17;
const APART: usize = 2;
const CELLS: usize = MEANS * DIFFERENCES;
/// Logits that one face may have: those of the mean, with half a difference to either side.
const FACES: usize = MEANS + APART * (DIFFERENCES - 1);

/// So little probability of a cell is moved, but not blurred: all such cells of a table hold less than a
/// hundredth, and most cells are such once a comb was looked at.
const TRACE: f64 = 1e-5;

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
    STEP * (APART * cell) as f64 - STEP * (APART * (DIFFERENCES - 1) / 2) as f64
}

/// The logit of one face, by its place among [`FACES`].
fn face_at(place: usize) -> f64 {
    mean_at(0) + difference_at(0) + STEP * place as f64
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
        let means: [f64; MEANS] =
            std::array::from_fn(|i| bell(mean_at(i) - UNREAD_MEAN, UNREAD_SPREAD));
        let mut table = Vec::with_capacity(CELLS);
        for j in 0..DIFFERENCES {
            let apart = bell(difference_at(j), DIFFERENCE_SPREAD);
            table.extend(means.map(|mean| mean * apart));
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
        let middle = kernel.len() / 2;
        // the row as it would be on a grid without ends
        let mut moved = vec![0.0; MEANS + kernel.len() - 1];
        for row in self.tables[rate].chunks_exact_mut(MEANS) {
            moved.fill(0.0);
            for (i, &mass) in row.iter().enumerate() {
                if mass < TRACE {
                    moved[i + middle] += mass;
                    continue;
                }
                for (to, weight) in moved[i..].iter_mut().zip(&kernel) {
                    *to += mass * weight;
                }
            }
            // what leaves the grid gathers in its outermost cells
            let below = first.min(0).unsigned_abs().min(moved.len());
            let above = first.max(0).unsigned_abs().min(MEANS);
            let (under, rest) = moved.split_at(below);
            let (within, over) = rest.split_at(rest.len().min(MEANS - above));
            row.fill(0.0);
            row[above..above + within.len()].copy_from_slice(within);
            row[0] += under.iter().sum::<f64>();
            row[MEANS - 1] += over.iter().sum::<f64>();
        }
    }

    /// Multiplies by a reading's likelihood; gives the reading's evidence under each rate.
    pub(super) fn weigh(&mut self, reading: Reading) -> Vec<f64> {
        let likely = likelihoods(reading);
        self.tables
            .iter_mut()
            .map(|table| {
                for (mass, likely) in table.iter_mut().zip(&likely) {
                    *mass *= likely;
                }
                super::normalise(table)
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
        const REACH: f64 = 2.0 * MEAN_REACH + 4.0;
        let mut gathered = vec![0.0; (2.0 * REACH / FINE) as usize + 2];
        for (row, from) in self.tables[rate].chunks_exact(MEANS).zip(ripe_from) {
            for (i, mass) in row.iter().enumerate() {
                let gap = from - mean_at(i);
                gathered[((gap + REACH) / FINE + 0.5) as usize] += mass;
            }
        }
        gathered
            .into_iter()
            .enumerate()
            .filter(|(_, mass)| *mass > 1e-7)
            .map(|(slot, mass)| (slot as f64 * FINE - REACH, mass))
            .collect()
    }
}

/// How likely a reading is in each cell.
fn likelihoods(reading: Reading) -> Vec<f64> {
    let shares: [f64; FACES] = std::array::from_fn(|place| share(face_at(place)));
    if reading.looked() == Looked::Both {
        let both = |j: usize, i: usize| {
            let mean = f64::midpoint(shares[i + APART * j], shares[i + right(j)]);
            reading.likelihood(mean)
        };
        let half = DIFFERENCES / 2 + 1;
        let mut likely: Vec<f64> = (0..half)
            .flat_map(|j| (0..MEANS).map(move |i| both(j, i)))
            .collect();
        // which face is the better one makes no difference
        for j in half..DIFFERENCES {
            let same = (DIFFERENCES - 1 - j) * MEANS;
            likely.extend_from_within(same..same + MEANS);
        }
        return likely;
    }
    let faces = shares.map(|truth| reading.likelihood(truth));
    let left = reading.looked() == Looked::Left;
    (0..DIFFERENCES)
        .flat_map(|j| {
            let first = if left { APART * j } else { right(j) };
            faces[first..first + MEANS].iter().copied()
        })
        .collect()
}

/// Where the logits of the right face begin, for a cell of difference.
const fn right(difference: usize) -> usize {
    APART * (DIFFERENCES - 1 - difference)
}

/// Weights of a normal density on the grid around `pace`, and the offset of the first. What would go
/// beyond either end from wherever it stands is put together.
fn kernel(pace: f64, variance: f64) -> (Vec<f64>, isize) {
    let spread = libm::sqrt(variance).max(0.5 * STEP);
    let cells = |offset: f64| libm::floor(offset / STEP) as isize;
    let (first, last) = (cells(pace - 4.0 * spread), cells(pace + 4.0 * spread) + 1);
    let end = MEANS.cast_signed();
    let (lowest, highest) = (first.clamp(-end, end), last.clamp(-end, end));
    let mut weights = vec![0.0; (highest - lowest).unsigned_abs() + 1];
    for k in first..=last {
        let off = (k as f64 * STEP - pace) / spread;
        let at = (k.clamp(lowest, highest) - lowest).unsigned_abs();
        weights[at] += libm::exp(-0.5 * off * off);
    }
    super::normalise(&mut weights);
    (weights, lowest)
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
    fn a_drift_far_beyond_the_grid_gathers_all_at_its_end() {
        let mut comb = CombGrid::unread(1);
        comb.drift(0, 300.0, 20.0);
        let last: f64 = comb.tables[0].chunks(MEANS).map(|row| row[MEANS - 1]).sum();
        assert!((last - 1.0).abs() < 1e-9, "{last}");
    }

    #[test]
    fn the_likelihood_of_a_cell_is_that_of_its_faces() {
        for looked in [Looked::Left, Looked::Right, Looked::Both] {
            let reading = Reading::number(looked, comb::Share::clamped(0.7));
            for (cell, likely) in likelihoods(reading).into_iter().enumerate() {
                let (mean, apart) = (mean_at(cell % MEANS), difference_at(cell / MEANS));
                let (left, right) = (share(mean + apart), share(mean - apart));
                let truth = match looked {
                    Looked::Left => left,
                    Looked::Right => right,
                    Looked::Both => f64::midpoint(left, right),
                };
                assert!((likely - reading.likelihood(truth)).abs() < 1e-9, "{cell}");
            }
        }
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
