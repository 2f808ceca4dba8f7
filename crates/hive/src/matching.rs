//! Which bar is which in a hive whose bars bear no numbers: the combs met at a visit, aligned with
//! those expected.
//!
//! The row is read from the opened end. Each comb met is the next expected bar, or an expected bar
//! out of its turn (moved), or one that the record does not know (new); expected bars may not be
//! met at all (taken out, or beyond the point where the keeper stopped). This is a pair hidden
//! Markov model with one addition: a bar that was passed over, or one further on, may turn up at
//! any later point, so that moves and swaps are part of the model and not patched in afterwards.
//! Sums over all alignments (forward and backward, in logarithms, over the alignments that matter)
//! give for each comb met the probability of each bar.
//!
//! Content alone cannot tell combs apart that hold the same: two full capped combs that changed
//! places look as if they had not. The probabilities say so; [`Matching::unsure`] lists what to ask
//! or to leave open. How often it is right, and how often when it says that it is sure, is measured
//! by `cargo run -p hive --release --example matching`. It claims too much where errors feed on
//! errors: when only some of the combs are met at visit after visit, and when a row was shuffled
//! as a whole. Numbers painted on the bars are surer.

mod lattice;
mod likeness;

use comb::order::InOrder as _;
use comb::{Contents, Share};
use jiff::Timestamp;

use crate::entry::{End, Hanging, Match};
use crate::hive::Hive;
use crate::id::BarId;

/// From this probability on a match counts as sure (our own choice). Measured, seed 99: of matches
/// said to be 95 to 99 % sure 91 to 97 % are right when the whole row is met, of those above 99 %
/// more; see the module's text for where it claims too much.
pub const SURE: f64 = 0.95;

/// Most bars that are matched at once, in either sequence; the longest body of reference/hive-plans
/// takes 52 bars of the usual width.
pub const MOST_BARS: usize = 120;

/// A bar that is expected, in the order in which it would be met.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// Which bar.
    pub bar: BarId,
    /// What hangs from it as far as the record knows.
    pub hanging: Hanging,
    /// The latest known word on each part of its comb, faces as they hang now.
    pub contents: Contents,
    /// Days since it was last looked at.
    pub days: f64,
}

/// A comb as it is met, in the order met.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Met {
    /// What hangs from the bar, when said.
    pub hanging: Option<Hanging>,
    /// What was judged.
    pub contents: Contents,
}

/// How often rows change without a word in the record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Habits {
    /// Share of bars that are not met in their turn, because they were moved or taken out.
    pub passed_over: f64,
    /// Share of combs met that stand out of their turn.
    pub moved: f64,
    /// Share of combs met that the record does not know.
    pub new: f64,
    /// Share of bars that were turned end for end.
    pub turned: f64,
    /// True when the whole row was met, so that bars not met are gone.
    pub whole_row: bool,
}

impl Default for Habits {
    /// One or two changes in a row of twenty between visits (fit, on the simulation of the example
    /// `matching`).
    fn default() -> Self {
        Self {
            passed_over: 0.07,
            moved: 0.07,
            new: 0.04,
            turned: 0.01,
            whole_row: false,
        }
    }
}

impl Habits {
    /// The same with so many times the changes, none above one half.
    fn times(&self, times: f64) -> Self {
        let scaled = |share: f64| (share * times).min(0.4);
        Self {
            passed_over: scaled(self.passed_over),
            moved: scaled(self.moved),
            new: scaled(self.new),
            ..*self
        }
    }
}

/// What the combs met are taken to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Matching {
    /// One per comb met, in the order met.
    pub guesses: Vec<Guess>,
    /// Expected bars that were most likely not met, with the probability of that, in their order.
    pub not_met: Vec<(BarId, Share)>,
}

/// What one comb met is taken to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Guess {
    /// The bar; `None` for a comb that the record does not know.
    pub bar: Option<BarId>,
    /// Probability that this is right.
    pub sure: Share,
    /// The next best answer and its probability; `None` when there is no other.
    pub or_else: Option<(Option<BarId>, Share)>,
}

impl Guess {
    /// True when the match counts as sure, see [`SURE`].
    pub fn is_sure(&self) -> bool {
        self.sure.get() >= SURE
    }
}

impl Matching {
    /// As it is recorded, see [`crate::Known::Matched`].
    pub fn matches(&self) -> Vec<Match> {
        let recorded = |guess: &Guess| Match {
            bar: guess.bar,
            sure: guess.sure,
        };
        self.guesses.iter().map(recorded).collect()
    }

    /// Combs met, counted from 1, whose match is not sure.
    pub fn unsure(&self) -> impl Iterator<Item = (usize, &Guess)> {
        (1..)
            .zip(&self.guesses)
            .filter(|(_, guess)| !guess.is_sure())
    }

    /// In one sentence for the keeper.
    pub fn in_words(&self) -> String {
        let met = self.guesses.len();
        let unsure: Vec<String> = self.unsure().map(|(n, _)| n.to_string()).collect();
        let new = self
            .guesses
            .iter()
            .filter(|guess| guess.bar.is_none())
            .count();
        let known = met - new;
        let new = if new > 0 {
            format!(", {new} new")
        } else {
            String::new()
        };
        let doubt = match unsure.as_slice() {
            [] => ", all sure".to_owned(),
            [one] => format!("; not sure of comb {one}"),
            several => format!("; not sure of combs {}", several.join(", ")),
        };
        format!("{known} of {met} combs recognised{new}{doubt}")
    }
}

/// Matches the combs met to the bars expected, both in their order from the opened end.
///
/// Only the first [`MOST_BARS`] of each are looked at.
pub fn match_combs(expected: &[Expected], met: &[Met], habits: &Habits) -> Matching {
    let expected = &expected[..expected.len().min(MOST_BARS)];
    let met = &met[..met.len().min(MOST_BARS)];
    let likeness: Vec<Vec<f64>> = met
        .iter()
        .map(|met| {
            expected
                .iter()
                .map(|e| likeness::log_ratio(e, met, habits.turned))
                .collect()
        })
        .collect();
    let settled: Vec<bool> = expected.iter().map(|e| e.contents.has_brood()).collect();
    let posterior = lattice::posterior(&likeness, &settled, habits);
    read_off(expected, &posterior)
}

/// Gives every comb its most probable bar, the surest first, each bar once.
fn read_off(expected: &[Expected], posterior: &lattice::Posterior) -> Matching {
    let bars = expected.len();
    let answer = |at: usize| expected.get(at).map(|e| e.bar);
    // in each row the bars in their order, then "new"
    let mut claims: Vec<(f64, usize, usize)> = Vec::new();
    for (comb, row) in posterior.rows.iter().enumerate() {
        claims.extend(row.iter().enumerate().map(|(at, p)| (*p, comb, at)));
    }
    claims.order_by(|a, b| b.0.total_cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let mut given: Vec<Option<(usize, f64)>> = vec![None; posterior.rows.len()];
    let mut taken = vec![false; bars];
    for (p, comb, at) in claims {
        if given[comb].is_none() && (at == bars || !taken[at]) {
            given[comb] = Some((at, p));
            if at < bars {
                taken[at] = true;
            }
        }
    }
    let guesses = given
        .iter()
        .zip(&posterior.rows)
        .map(|(given, row)| {
            let (at, p) = given.unwrap_or((bars, 0.0));
            let others = row
                .iter()
                .copied()
                .enumerate()
                .filter(|(other, _)| *other != at);
            let next = others.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
            Guess {
                bar: answer(at),
                sure: Share::clamped(p),
                or_else: next.map(|(other, p)| (answer(other), Share::clamped(p))),
            }
        })
        .collect();
    let not_met = expected
        .iter()
        .zip(&posterior.not_met)
        .filter(|(_, p)| **p > 0.5)
        .map(|(e, p)| (e.bar, Share::clamped(*p)))
        .collect();
    Matching { guesses, not_met }
}

impl Hive {
    /// The bars as they would be met from an end, with what is known of each.
    pub fn expected_from(&self, end: End, now: Timestamp) -> Vec<Expected> {
        self.bars_from(end)
            .into_iter()
            .map(|bar| Expected {
                bar: bar.id,
                hanging: bar.hanging,
                contents: bar.known_contents(),
                days: bar.seen.map_or(0.0, |seen| {
                    (now.duration_since(seen).as_secs_f64() / 86_400.0).max(0.0)
                }),
            })
            .collect()
    }
}
