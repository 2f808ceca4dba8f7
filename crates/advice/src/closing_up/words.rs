//! Every sentence that closing up says, in one place: the steps, and why it cannot be done.

use std::fmt::{self, Display, Formatter};

use serde::{Serialize, Serializer};

use super::lid::Lid;
use super::problem::{LooseKind, Problem};
use super::row::Row;
use super::steps::{Step, Where};

impl Display for Where {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Edge => f.write_str("the comb that was not moved"),
            Self::Bar(id) => f.write_str(id),
        }
    }
}

impl Display for Step {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Slide { combs, against } => {
                write!(f, "Slide {} up against {against}.", list(combs, ", then "))
            }
            Self::SetAside { comb } => {
                write!(f, "Lift {comb} out and hang it upright on the stand.")
            }
            Self::SetBack {
                comb,
                brood,
                against,
            } => {
                let turned = as_it_hung(*brood);
                write!(
                    f,
                    "Set {comb} back in from the stand, against {against}{turned}."
                )
            }
            Self::Move {
                comb,
                brood,
                against,
            } => {
                let turned = as_it_hung(*brood);
                write!(f, "Lift {comb} out and set it against {against}{turned}.")
            }
            Self::SetLoose { bar, cut, against } => {
                let kind = if *cut { "cut" } else { "empty" };
                write!(f, "Set the {kind} bar {bar} against {against}.")
            }
            Self::Follower { against } => write!(f, "Set the follower board against {against}."),
            Self::LayOutside { bars } => {
                let bar = if bars.len() == 1 { "bar" } else { "bars" };
                let bars = list(bars, ", ");
                write!(
                    f,
                    "Lay the empty {bar} {bars} beyond the follower board as lid."
                )
            }
            Self::Shims { shims_mm, open_mm } => {
                let shims: Vec<String> = shims_mm
                    .iter()
                    .map(|shim| shim.to_mm().to_string())
                    .collect();
                match shims.as_slice() {
                    [] => f.write_str("No shim is needed")?,
                    [one] => write!(f, "Push the {one} mm shim in at the end")?,
                    more => write!(f, "Push the shims in at the end: {} mm", list(more, ", "))?,
                }
                match open_mm {
                    0 => f.write_str("; the lid is closed."),
                    1 => f.write_str("; 1 mm stays open."),
                    open => write!(f, "; {open} mm stay open."),
                }
            }
        }
    }
}

fn as_it_hung(brood: bool) -> &'static str {
    if brood { ", facing as it hung" } else { "" }
}

fn list(items: &[String], between: &str) -> String {
    items.join(between)
}

/// Why nothing satisfies the rules, and by how much. Serialises as its sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum Impossible {
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

impl Display for Impossible {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match *self {
            Self::TooWide {
                needed_mm,
                cavity_mm,
            } => write!(
                f,
                "the combs and the follower board need {needed_mm} mm, the cavity has {cavity_mm}: \
                 {} mm too much",
                needed_mm - cavity_mm
            ),
            Self::TooShort {
                missing_mm,
                shims_mm,
                tolerance_mm,
                cut_left_out,
            } => {
                write!(f, "{missing_mm} mm of lid are missing; ")?;
                match shims_mm {
                    0 => f.write_str("no shims are at hand")?,
                    most => write!(f, "the shims at hand make at most {most}")?,
                }
                match tolerance_mm {
                    0 => {}
                    open => write!(f, ", and no more than {open} may stay open")?,
                }
                match cut_left_out {
                    0 => Ok(()),
                    1 => f.write_str(
                        "; 1 cut bar finds no place between straight honey combs or last",
                    ),
                    more => write!(
                        f,
                        "; {more} cut bars find no place between straight honey combs or last"
                    ),
                }
            }
            Self::NoFit {
                free_mm,
                tolerance_mm,
                below_mm,
                above_mm,
            } => {
                write!(
                    f,
                    "{free_mm} mm of lid are missing; what is at hand makes {below_mm} mm, which \
                     leaves {} open where {tolerance_mm} may stay open",
                    free_mm - below_mm
                )?;
                match above_mm {
                    Some(above) => write!(f, ", or {above} mm, {} too much", above - free_mm),
                    None => Ok(()),
                }
            }
            Self::NoPlace { inside, places } => write!(
                f,
                "the lid comes out right only with {inside} or more loose bars inside, and there \
                 is place for {places}: between two straight honey combs, or one last before the \
                 follower board"
            ),
        }
    }
}

impl Serialize for Impossible {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// Names the rule that cannot be met; asked only when nothing satisfies them.
pub(super) fn why_impossible(problem: &Problem, row: &Row, lid: &Lid) -> Impossible {
    let cavity_mm = problem.cavity_mm.to_mm();
    let Some((least, most)) = lid.window() else {
        let combs: u32 = problem.standing.iter().map(|c| c.width_mm.to_mm()).sum();
        let needed_mm = combs + problem.follower_mm.to_mm();
        return Impossible::TooWide {
            needed_mm,
            cavity_mm,
        };
    };
    let places = row.most_gaps() + 1;
    if let Some(inside) = (places + 1..=problem.loose.len()).find(|n| lid.fill(*n).is_some()) {
        return Impossible::NoPlace { inside, places };
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
        return Impossible::NoFit {
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
    Impossible::TooShort {
        missing_mm: free_mm - (below_mm - shims_mm),
        shims_mm,
        tolerance_mm,
        cut_left_out: cut.saturating_sub(places),
    }
}
