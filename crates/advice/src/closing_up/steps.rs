//! An answer as steps for two full hands: from the edge outward, each comb lifted once at most, and
//! set aside only when it is in the way.
//!
//! The row settled so far always stands against the edge; what is not settled hangs further out and
//! can be pushed to the open end, for all that will stand inside fits the cavity beside the board.

use super::problem::{Kind, Problem, Width};
use super::rules::{self, Layout};

/// What a bar, a comb or the board is pushed against.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Where {
    /// The last comb that was not moved.
    Edge,
    /// A bar or comb already in its place.
    Bar(String),
}

/// One thing to do. Its words ([`Tell`](comb::Tell)) are read aloud.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum Step {
    /// These combs stay in the hive; slide them up one after another.
    Slide {
        /// From the edge outward.
        combs: Vec<String>,
        /// What the first is pushed against.
        against: Where,
    },
    /// A comb in the way goes onto the stand.
    SetAside {
        /// The comb.
        comb: String,
    },
    /// A comb comes from the stand to its place.
    SetBack {
        /// The comb.
        comb: String,
        /// It carries brood: it keeps its direction.
        brood: bool,
        /// Its neighbour.
        against: Where,
    },
    /// A comb goes straight from its old place to its new one.
    Move {
        /// The comb.
        comb: String,
        /// It carries brood: it keeps its direction.
        brood: bool,
        /// Its neighbour.
        against: Where,
    },
    /// A cut or empty bar goes in.
    SetLoose {
        /// The bar.
        bar: String,
        /// A strip of comb hangs on it.
        cut: bool,
        /// Its neighbour.
        against: Where,
    },
    /// The follower board goes in.
    Follower {
        /// Its neighbour.
        against: Where,
    },
    /// Empty bars go beyond the board as lid.
    LayOutside {
        /// The bars.
        bars: Vec<String>,
    },
    /// Shims close the rest.
    Shims {
        /// Their widths, none if there are none to lay.
        shims_mm: Vec<Width>,
        /// What stays open.
        open_mm: u32,
    },
}

/// The standing combs' present places, in a layout's order.
pub(super) fn comb_order(problem: &Problem, layout: &Layout) -> Vec<usize> {
    let place = |id: &String| problem.standing.iter().position(|comb| comb.id == *id);
    layout.order.iter().filter_map(place).collect()
}

/// The steps that lead from the combs as they stand to a layout that keeps the rules.
pub fn steps(problem: &Problem, layout: &Layout) -> Vec<Step> {
    let keeps = rules::kept(problem, &comb_order(problem, layout));
    let mut walk = Walk {
        problem,
        keeps,
        passed: 0,
        settled: Where::Edge,
        steps: Vec::new(),
    };
    for id in &layout.order {
        match problem.standing.iter().position(|comb| comb.id == *id) {
            Some(comb) if walk.keeps[comb] => walk.slide(comb),
            Some(comb) => walk.bring(comb),
            None => walk.set_loose(id),
        }
        walk.settled = Where::Bar(id.clone());
    }
    walk.finish(layout)
}

struct Walk<'a> {
    problem: &'a Problem,
    keeps: Vec<bool>,
    /// Combs of the present row that were settled or set aside.
    passed: usize,
    settled: Where,
    steps: Vec<Step>,
}

impl Walk<'_> {
    fn id(&self, comb: usize) -> String {
        self.problem.standing[comb].id.clone()
    }

    /// A comb that stays in the hive comes up; combs lifted from before it make way first.
    fn slide(&mut self, comb: usize) {
        for before in self.passed..comb {
            // those moved outright are gone already
            if self.is_still_in(before) {
                let comb = self.id(before);
                self.steps.push(Step::SetAside { comb });
            }
        }
        self.passed = comb + 1;
        let id = self.id(comb);
        if let Some(Step::Slide { combs, .. }) = self.steps.last_mut() {
            combs.push(id);
        } else {
            let against = self.settled.clone();
            self.steps.push(Step::Slide {
                combs: vec![id],
                against,
            });
        }
    }

    fn is_still_in(&self, comb: usize) -> bool {
        let id = &self.problem.standing[comb].id;
        !self.steps.iter().any(|step| match step {
            Step::Move { comb, .. } | Step::SetAside { comb } => comb == id,
            _ => false,
        })
    }

    /// A comb that is lifted comes to its place, from the stand or from where it hangs.
    fn bring(&mut self, comb: usize) {
        let brood = self.problem.standing[comb].kind == Kind::Brood;
        let (in_hive, against, comb) =
            (self.is_still_in(comb), self.settled.clone(), self.id(comb));
        self.steps.push(if in_hive {
            Step::Move {
                comb,
                brood,
                against,
            }
        } else {
            Step::SetBack {
                comb,
                brood,
                against,
            }
        });
    }

    fn set_loose(&mut self, id: &str) {
        let bar = self.problem.loose.iter().find(|bar| bar.id == *id);
        let cut = bar.is_some_and(|bar| bar.kind == super::LooseKind::Cut);
        let against = self.settled.clone();
        self.steps.push(Step::SetLoose {
            bar: id.to_owned(),
            cut,
            against,
        });
    }

    fn finish(mut self, layout: &Layout) -> Vec<Step> {
        self.steps.push(Step::Follower {
            against: self.settled,
        });
        if !layout.outside.is_empty() {
            self.steps.push(Step::LayOutside {
                bars: layout.outside.clone(),
            });
        }
        let open_mm = rules::score(self.problem, layout).map_or(0, |score| score.shortfall_mm);
        self.steps.push(Step::Shims {
            shims_mm: layout.shims.clone(),
            open_mm,
        });
        self.steps
    }
}
