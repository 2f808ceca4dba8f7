//! Every sentence that closing up says, in one place: the steps, why it cannot be done, and what would help.

use std::fmt::{self, Display, Formatter};

use serde::{Serialize, Serializer};

use super::hindrance::Hindrance;
use super::steps::{Step, Where};
use super::way_out::{Added, Impossible, WayOut};

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

impl Display for Hindrance {
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

impl Display for Impossible {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.hindrance)?;
        for (nth, way) in self.ways_out.iter().enumerate() {
            let before = if nth == 0 {
                "; it closes with"
            } else {
                ", or with"
            };
            write!(f, "{before} {way}")?;
        }
        Ok(())
    }
}

impl Display for WayOut {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Add(added) => write!(f, "{added}"),
            Self::LeaveOut { combs, add } => {
                let comb = if combs.len() == 1 { "comb" } else { "combs" };
                write!(f, "{comb} {} left out", list(combs, " and "))?;
                add.as_ref().map_or(Ok(()), |add| write!(f, " and {add}"))
            }
            Self::ThinnerBoard { most_mm, now_mm } => write!(
                f,
                "a follower board of {most_mm} mm in place of that of {now_mm} mm"
            ),
        }
    }
}

impl Display for Added {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let mm = self.bar_mm;
        match self.bars {
            0 => {}
            1 => write!(f, "1 more empty bar of {mm} mm")?,
            bars => write!(f, "{bars} more empty bars of {mm} mm")?,
        }
        let and = if self.bars > 0 { " and " } else { "" };
        match self.shim_mm {
            None => Ok(()),
            Some((least, most)) if least == most => write!(f, "{and}one more shim of {most} mm"),
            Some((least, most)) => write!(f, "{and}one more shim of {least} to {most} mm"),
        }
    }
}

impl Serialize for Impossible {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
