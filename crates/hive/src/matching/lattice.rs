//! Forward and backward sums over the alignments of combs met with bars expected.

use std::collections::BTreeMap;

use crate::matching::Habits;
use comb::order::InOrder as _;

/// Alignments this many times (as a logarithm) less probable than the best are left out: each
/// weighs less than a hundred-thousandth of it.
const LOG_NEGLIGIBLE: f64 = 11.0;
/// Most alignments kept after each comb, the best ones.
const WIDEST: usize = 250;
/// Most expected bars passed over at once in line; a longer jump is a move.
const LONGEST_SKIP: usize = 8;
/// Most moves go a few places; a few go anywhere (fit, on the
/// simulation of the example `matching`).
const NEAR_PLACES: f64 = 2.0;
const FAR: f64 = 0.01;
/// Probability that a bar just passed over is the next comb met: most were swapped or moved a
/// little, few were taken out (fit, on the simulation of the example `matching`).
const RETURNS: f64 = 0.6;
/// How much less or more readily than the mean a comb with brood and another one are moved: a
/// keeper leaves the order of the brood alone (DESIGN 4.3; the figures are our own choice).
const SETTLED: f64 = 0.3;
const LOOSE: f64 = 1.5;
/// How much calmer or busier than its habits a hive is tried to be (fit, on the same simulation).
const BUSYNESS: [f64; 3] = [0.3, 1.0, 3.0];

/// Probabilities given everything that was met.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Posterior {
    /// One per comb met: the probability of each expected bar, and last of a new one.
    pub(super) rows: Vec<Vec<f64>>,
    /// One per expected bar: the probability that it was not met.
    pub(super) not_met: Vec<f64>,
}

/// An alignment so far: which bars were met, and from which bar on the line goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Node {
    met: u128,
    line: usize,
}

/// One step from a node: to which node of the next column, with which bar (or new), how probable.
struct Step {
    from: usize,
    to: usize,
    /// Index of the bar; the number of bars for a new one.
    bar: usize,
    log: f64,
}

struct Column {
    nodes: Vec<Node>,
    forward: Vec<f64>,
    /// Steps that lead here.
    steps: Vec<Step>,
}

/// `likeness[comb][bar]` is the logarithm of how much more probable the comb's contents are if it
/// is that bar than if it is a new one; `settled` tells which bars bear brood.
///
/// How much was changed since the last look is not known either: the habits are tried as they are,
/// calmer and busier, and each counts by how well it explains what was met.
pub(super) fn posterior(likeness: &[Vec<f64>], settled: &[bool], habits: &Habits) -> Posterior {
    let bars = settled.len();
    let tried = BUSYNESS.map(|times| Model::of(settled, &habits.times(times)).posterior(likeness));
    let best = tried
        .iter()
        .map(|(log, _)| *log)
        .fold(f64::NEG_INFINITY, f64::max);
    let weights = tried.each_ref().map(|(log, _)| libm::exp(log - best));
    let total: f64 = weights.iter().sum();
    let mut mean = Posterior {
        rows: vec![vec![0.0; bars + 1]; likeness.len()],
        not_met: vec![0.0; bars],
    };
    for ((_, found), weight) in tried.iter().zip(weights) {
        mean.add(found, weight / total);
    }
    mean
}

impl Posterior {
    fn add(&mut self, other: &Self, weight: f64) {
        let rows = self
            .rows
            .iter_mut()
            .flatten()
            .zip(other.rows.iter().flatten());
        let not_met = self.not_met.iter_mut().zip(&other.not_met);
        for (sum, p) in rows.chain(not_met) {
            *sum += weight * p;
        }
    }
}

/// A weight with its logarithm.
struct Weight {
    weight: f64,
    log: f64,
}

impl Weight {
    fn of(weight: f64) -> Self {
        let log = libm::log(weight);
        Self { weight, log }
    }
}

struct Model {
    bars: usize,
    new: f64,
    /// Probability that the comb met is one from further on.
    ahead: f64,
    /// For each bar the logarithms of being passed over in its turn, and of not.
    passed: Vec<(f64, f64)>,
    /// For each bar how readily it is moved, as a weight.
    loose: Vec<Weight>,
    whole_row: bool,
    /// How much less probable than the best an alignment may be (a logarithm).
    negligible: f64,
    /// How probable a move over so many places is, as a weight.
    nearness: Vec<Weight>,
}

impl Model {
    fn of(settled: &[bool], habits: &Habits) -> Self {
        let readily = |settled: &bool| Weight::of(if *settled { SETTLED } else { LOOSE });
        let loose: Vec<Weight> = settled.iter().map(readily).collect();
        let passed = |loose: &Weight| {
            let p = (habits.passed_over * loose.weight).clamp(1e-9, 0.5);
            (libm::log(p), libm::log(1.0 - p))
        };
        Self {
            bars: settled.len(),
            new: habits.new,
            ahead: habits.moved,
            passed: loose.iter().map(passed).collect(),
            loose,
            whole_row: habits.whole_row,
            negligible: LOG_NEGLIGIBLE,
            nearness: (0..=settled.len())
                .map(|places| Weight::of(libm::exp(-(places as f64) / NEAR_PLACES) + FAR))
                .collect(),
        }
    }

    /// What was met, and how well the habits explain it (a logarithm).
    fn posterior(&self, likeness: &[Vec<f64>]) -> (f64, Posterior) {
        let mut columns = vec![Column {
            nodes: vec![Node { met: 0, line: 0 }],
            forward: vec![0.0],
            steps: Vec::new(),
        }];
        for row in likeness {
            let next = columns.last().map(|last| self.advance(last, row));
            columns.extend(next);
        }
        self.gather(&columns)
    }

    fn is_met(node: Node, bar: usize) -> bool {
        node.met >> bar & 1 == 1
    }

    /// The node after meeting a bar; the line goes on at the first bar not met from `line` on.
    fn meeting(&self, node: Node, bar: usize, line: usize) -> Node {
        let met = node.met | 1 << bar;
        let mut line = line;
        while line < self.bars && met >> line & 1 == 1 {
            line += 1;
        }
        Node { met, line }
    }

    /// Calls `found` for each way to go on from a node with one more comb: a bar that was passed
    /// over turns up, one from further on, a new one, or the next in line.
    fn for_each_step(&self, node: Node, likeness: &[f64], mut found: impl FnMut(Node, usize, f64)) {
        let not_met = |bar: &usize| !Self::is_met(node, *bar);
        let near = |bar: usize| &self.nearness[bar.abs_diff(node.line)];
        let returning: f64 = (0..node.line)
            .filter(not_met)
            .map(|bar| near(bar).weight)
            .sum();
        let returning = RETURNS * returning;
        let scale = (0.5 / returning.max(f64::MIN_POSITIVE)).min(1.0);
        let returns = libm::log(RETURNS * scale);
        for bar in (0..node.line).filter(not_met) {
            found(
                self.meeting(node, bar, node.line),
                bar,
                returns + near(bar).log + likeness[bar],
            );
        }
        let rest = 1.0 - returning * scale;
        let on = |bar: usize| self.loose[bar].weight * near(bar).weight;
        let all_on: f64 = (node.line..self.bars).filter(not_met).map(on).sum();
        let ahead = libm::log(rest * self.ahead / all_on.max(f64::MIN_POSITIVE));
        for bar in (node.line..self.bars).filter(not_met) {
            let log = ahead + self.loose[bar].log + near(bar).log + likeness[bar];
            found(self.meeting(node, bar, node.line), bar, log);
        }
        found(node, self.bars, libm::log(rest * self.new));
        let mut prior = libm::log(rest * (1.0 - self.ahead - self.new));
        for bar in (node.line..self.bars)
            .filter(not_met)
            .take(LONGEST_SKIP + 1)
        {
            let (passed, in_turn) = self.passed[bar];
            found(
                self.meeting(node, bar, bar + 1),
                bar,
                prior + in_turn + likeness[bar],
            );
            prior += passed;
        }
    }

    fn advance(&self, last: &Column, likeness: &[f64]) -> Column {
        // the best step first, so that what is negligible beside it is never stored
        let mut best = f64::NEG_INFINITY;
        for (node, before) in last.nodes.iter().zip(&last.forward) {
            self.for_each_step(*node, likeness, |_, _, log| best = best.max(before + log));
        }
        let mut index: BTreeMap<Node, usize> = BTreeMap::new();
        let mut column = Column {
            nodes: Vec::new(),
            forward: Vec::new(),
            steps: Vec::new(),
        };
        for (from, node) in last.nodes.iter().enumerate() {
            let before = last.forward[from];
            self.for_each_step(*node, likeness, |node, bar, log| {
                if before + log < best - self.negligible {
                    return;
                }
                let to = *index.entry(node).or_insert_with(|| {
                    column.nodes.push(node);
                    column.forward.push(f64::NEG_INFINITY);
                    column.nodes.len() - 1
                });
                column.forward[to] = log_add(column.forward[to], before + log);
                column.steps.push(Step { from, to, bar, log });
            });
        }
        column.narrowed(self.negligible)
    }

    /// The prior of stopping at a node.
    fn end(&self, node: Node) -> f64 {
        if !self.whole_row {
            return 0.0;
        }
        let left = (node.line..self.bars).filter(|bar| !Self::is_met(node, *bar));
        left.map(|bar| self.passed[bar].0).sum()
    }

    fn gather(&self, columns: &[Column]) -> (f64, Posterior) {
        let combs = columns.len() - 1;
        let last = &columns[combs];
        let mut backward: Vec<f64> = last.nodes.iter().map(|node| self.end(*node)).collect();
        let ends = last.forward.iter().zip(&backward).map(|(f, b)| f + b);
        let total = ends.fold(f64::NEG_INFINITY, log_add);
        let mut not_met = vec![0.0; self.bars];
        for ((node, forward), backward) in last.nodes.iter().zip(&last.forward).zip(&backward) {
            let p = libm::exp(forward + backward - total);
            for (bar, sum) in not_met.iter_mut().enumerate() {
                if !Self::is_met(*node, bar) {
                    *sum += p;
                }
            }
        }
        let mut rows = vec![vec![0.0; self.bars + 1]; combs];
        for comb in (0..combs).rev() {
            let (before, here) = (&columns[comb], &columns[comb + 1]);
            let mut earlier = vec![f64::NEG_INFINITY; before.nodes.len()];
            for step in &here.steps {
                let onward = step.log + backward[step.to];
                earlier[step.from] = log_add(earlier[step.from], onward);
                rows[comb][step.bar] += libm::exp(before.forward[step.from] + onward - total);
            }
            backward = earlier;
        }
        (total, Posterior { rows, not_met })
    }
}

impl Column {
    /// Only the nodes that matter, at most [`WIDEST`].
    fn narrowed(mut self, negligible: f64) -> Self {
        let best = self
            .forward
            .iter()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max);
        let mut order: Vec<usize> = (0..self.nodes.len()).collect();
        order.retain(|at| self.forward[*at] >= best - negligible);
        order.order_by(|a, b| {
            self.forward[*b]
                .total_cmp(&self.forward[*a])
                .then(self.nodes[*a].cmp(&self.nodes[*b]))
        });
        order.truncate(WIDEST);
        let mut place = vec![None; self.nodes.len()];
        for (new, old) in order.iter().enumerate() {
            place[*old] = Some(new);
        }
        self.nodes = order.iter().map(|at| self.nodes[*at]).collect();
        self.forward = order.iter().map(|at| self.forward[*at]).collect();
        self.steps.retain_mut(|step| match place[step.to] {
            Some(to) => {
                step.to = to;
                true
            }
            None => false,
        });
        self
    }
}

/// `ln(e^a + e^b)`.
fn log_add(a: f64, b: f64) -> f64 {
    let (high, low) = if a >= b { (a, b) } else { (b, a) };
    if low == f64::NEG_INFINITY {
        high
    } else {
        high + libm::log1p(libm::exp(low - high))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three bars, each unlike the others by `unlike`.
    fn likeness(met: &[usize], bars: usize, unlike: f64) -> Vec<Vec<f64>> {
        let row = |bar: &usize| {
            (0..bars)
                .map(|b| if b == *bar { unlike } else { -unlike })
                .collect()
        };
        met.iter().map(row).collect()
    }

    #[test]
    fn each_row_sums_to_one() {
        let habits = Habits::default();
        let found = posterior(&likeness(&[0, 2, 1, 3], 6, 2.0), &[false; 6], &habits);
        for row in &found.rows {
            let sum: f64 = row.iter().sum();
            assert!((sum - 1.0).abs() < 1e-9, "{sum}");
        }
        // each bar is met at most once: met and not met make one
        for bar in 0..6 {
            let met: f64 = found.rows.iter().map(|row| row[bar]).sum();
            assert!((met + found.not_met[bar] - 1.0).abs() < 1e-9, "bar {bar}");
        }
    }

    #[test]
    fn a_swap_is_seen_when_contents_tell() {
        let found = posterior(
            &likeness(&[1, 0, 2], 3, 8.0),
            &[false; 3],
            &Habits::default(),
        );
        assert!(
            found.rows[0][1] > 0.99 && found.rows[1][0] > 0.99,
            "{found:?}"
        );
    }

    #[test]
    fn combs_that_hold_the_same_keep_their_order_but_are_not_sure() {
        let found = posterior(&vec![vec![2.0; 3]; 3], &[false; 3], &Habits::default());
        for comb in 0..3 {
            let p = found.rows[comb][comb];
            assert!(p > 0.8 && p < 0.99, "{found:?}");
        }
    }

    #[test]
    fn the_sum_over_alignments_is_that_of_enumeration() {
        // every way to go on, step by step, without merging nodes
        fn walk(
            model: &Model,
            node: Node,
            rows: &[Vec<f64>],
            log: f64,
            out: &mut Vec<(Vec<usize>, f64)>,
            path: &mut Vec<usize>,
        ) {
            let Some((row, rest)) = rows.split_first() else {
                out.push((path.clone(), log + model.end(node)));
                return;
            };
            let mut steps = Vec::new();
            model.for_each_step(node, row, |to, bar, step| steps.push((to, bar, step)));
            for (to, bar, step) in steps {
                path.push(bar);
                walk(model, to, rest, log + step, out, path);
                path.pop();
            }
        }
        let habits = Habits {
            whole_row: true,
            ..Habits::default()
        };
        let rows = [
            vec![1.0, 0.5, -1.0, 0.2],
            vec![0.3, 0.1, 0.9, -2.0],
            vec![-1.0, 1.5, 0.4, 0.0],
        ];
        let mut model = Model::of(&[false, true, false, true], &habits);
        model.negligible = f64::INFINITY;
        let mut paths = Vec::new();
        walk(
            &model,
            Node { met: 0, line: 0 },
            &rows,
            0.0,
            &mut paths,
            &mut Vec::new(),
        );
        let total: f64 = paths.iter().map(|(_, log)| libm::exp(*log)).sum();
        let (_, found) = model.posterior(&rows);
        for comb in 0..3 {
            for bar in 0..5 {
                let sum: f64 = paths
                    .iter()
                    .filter(|(path, _)| path[comb] == bar)
                    .map(|(_, log)| libm::exp(*log))
                    .sum();
                assert!((found.rows[comb][bar] - sum / total).abs() < 1e-9);
            }
        }
    }
}
