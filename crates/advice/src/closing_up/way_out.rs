//! What would make a problem close that does not: each way is tried on the problem itself, and is told only
//! when the problem so changed has an answer.

use super::hindrance::{Hindrance, hindrance};
use super::lid::Lid;
use super::problem::{Kind, Loose, LooseKind, Problem, Width};
use super::row::Row;
use super::{Answer, Effort, closed};

/// A board thinner than this is no follower board: it warps and lets bees by. Common practice, no source.
const THINNEST_BOARD_MM: u32 = 9;

/// Why nothing satisfies the rules, and what would. Serialises as its sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Impossible {
    /// The rule that cannot be met, and by how much.
    pub hindrance: Hindrance,
    /// What would make it close, the simplest first; empty when nothing was found.
    pub ways_out: Vec<WayOut>,
    /// The best closing-up with the first of them.
    pub then: Option<Box<Answer>>,
}

/// One change with which the problem closes.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum WayOut {
    /// Something more is laid in.
    Add(Added),
    /// These combs leave the hive.
    LeaveOut {
        /// The outermost honey combs, as many as it takes, the outermost first.
        combs: Vec<String>,
        /// What must be laid in for them.
        add: Option<Added>,
    },
    /// Another follower board.
    ThinnerBoard {
        /// So thick.
        most_mm: u32,
        /// The one there is.
        now_mm: u32,
    },
}

/// What is laid in beside all that is at hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Added {
    /// Empty bars.
    pub bars: u32,
    /// Width of each, mm: as most bars of the problem are.
    pub bar_mm: u32,
    /// Least and greatest width of one shim, mm, where one is wanted.
    pub shim_mm: Option<(u32, u32)>,
}

impl Impossible {
    /// Of a problem without an answer.
    pub(super) fn of(problem: &Problem) -> Self {
        let hindrance = hindrance(problem, &Row::new(problem), &Lid::new(problem));
        let mut found = Vec::new();
        if matches!(hindrance, Hindrance::TooWide { .. }) {
            found.extend(leaving_out(problem));
            found.extend(thinner_board(problem));
        } else {
            let bars = adding_bars(problem);
            // where bars are wanted anyhow, one bar less and a broad shim is no way of its own
            let least = adding(problem).filter(|(added, _)| bars.is_none() || added.bars == 0);
            let mut ways: Vec<_> = bars.into_iter().chain(least).collect();
            ways.dedup_by_key(|(added, _)| *added);
            found.extend(ways.into_iter().map(|(add, then)| (WayOut::Add(add), then)));
        }
        let then = found.first().map(|(_, then)| Box::new(then.clone()));
        Self {
            hindrance,
            ways_out: found.into_iter().map(|(way, _)| way).collect(),
            then,
        }
    }
}

/// What stays open at best, mm.
fn open(problem: &Problem) -> Option<u32> {
    let lid = Lid::new(problem);
    let (_, free) = lid.window()?;
    let sums = lid.sums(Row::new(problem).most_gaps() + 1);
    let covered = sums.into_iter().rev().find(|mm| *mm <= free)?;
    u32::try_from(free - covered).ok()
}

/// Bars alone over what the bars at hand leave open: better than a heap of shims as wide as a bar.
fn adding_bars(problem: &Problem) -> Option<(Added, Answer)> {
    let bare = Problem {
        shims_mm: Vec::new(),
        ..problem.clone()
    };
    let bar_mm = usual_width(problem)?;
    let added = Added {
        bars: open(&bare)? / bar_mm,
        bar_mm,
        shim_mm: None,
    };
    Some((added, answer(&added.to(problem)?)?))
}

/// Bars and a shim over what stays open at best, and the closing-up with them.
fn adding(problem: &Problem) -> Option<(Added, Answer)> {
    let open = open(problem)?;
    let bar_mm = usual_width(problem)?;
    let (bars, rest) = (open / bar_mm, open % bar_mm);
    let allowed = problem.tolerance_mm.to_mm();
    let added = Added {
        bars,
        bar_mm,
        shim_mm: (rest > allowed).then(|| (rest - allowed, rest)),
    };
    Some((added, answer(&added.to(problem)?)?))
}

/// Without the outermost honey combs, as few as make room for the follower board. Brood never leaves.
fn leaving_out(problem: &Problem) -> Option<(WayOut, Answer)> {
    let (mut rest, mut combs) = (problem.clone(), Vec::new());
    while Lid::new(&rest).window().is_none() {
        let outermost = rest
            .standing
            .iter()
            .rposition(|comb| comb.kind == Kind::Honey)?;
        combs.push(rest.standing.remove(outermost).id);
    }
    if let Some(answer) = answer(&rest) {
        return Some((WayOut::LeaveOut { combs, add: None }, answer));
    }
    let (added, answer) = adding_bars(&rest).or_else(|| adding(&rest))?;
    let add = Some(added);
    Some((WayOut::LeaveOut { combs, add }, answer))
}

fn thinner_board(problem: &Problem) -> Option<(WayOut, Answer)> {
    let combs: u32 = problem.standing.iter().map(|c| c.width_mm.to_mm()).sum();
    let most_mm = problem.cavity_mm.to_mm().checked_sub(combs)?;
    if most_mm < THINNEST_BOARD_MM {
        return None;
    }
    let thinner = Problem {
        follower_mm: Width::new(most_mm)?,
        ..problem.clone()
    };
    let now_mm = problem.follower_mm.to_mm();
    Some((WayOut::ThinnerBoard { most_mm, now_mm }, answer(&thinner)?))
}

/// The width that most bars of the problem have; of equally many the narrower.
fn usual_width(problem: &Problem) -> Option<u32> {
    let standing = problem.standing.iter().map(|comb| comb.width_mm);
    let widths: Vec<u32> = standing
        .chain(problem.loose.iter().map(|bar| bar.width_mm))
        .map(Width::to_mm)
        .collect();
    let many = |mm: &u32| widths.iter().filter(|other| *other == mm).count();
    widths
        .iter()
        .copied()
        .max_by_key(|mm| (many(mm), std::cmp::Reverse(*mm)))
}

/// A problem too large to answer has no way out that could be told.
fn answer(problem: &Problem) -> Option<Answer> {
    closed(problem, &mut Effort::default()).ok().flatten()
}

const ADDED_NAME: &str = "extra ";

/// True for the name of a bar that a way out lays in: nothing is known of it but its width.
pub fn is_added_bar(id: &str) -> bool {
    id.starts_with(ADDED_NAME)
}

impl Added {
    /// The problem with it at hand.
    fn to(self, problem: &Problem) -> Option<Problem> {
        let mut more = problem.clone();
        for nth in 1..=self.bars {
            more.loose.push(Loose {
                id: format!("{ADDED_NAME}{nth}"),
                kind: LooseKind::Empty,
                width_mm: Width::new(self.bar_mm)?,
            });
        }
        if let Some((_, most)) = self.shim_mm {
            more.shims_mm.push(Width::new(most)?);
        }
        Some(more)
    }
}
