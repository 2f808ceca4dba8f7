//! Every sentence that closing up says, in one place: the steps, why it cannot be done, and what would help.

use std::fmt::{self, Display, Formatter};

use comb::{Length, Tell, ToldIn};
use serde::{Serialize, Serializer};

use super::hindrance::Hindrance;
use super::steps::{Step, Where};
use super::way_out::{Added, Impossible, WayOut};

/// A width in millimetres without its unit. The plan reckons in whole ones, so that half of one is how near a
/// part of an inch must be; a thirty-second always is.
fn width(mm: u32, told_in: ToldIn) -> String {
    told_in.shim(Length::mm(f64::from(mm)), Length::mm(0.5))
}

/// A width with its unit.
fn with_unit(mm: u32, told_in: ToldIn) -> String {
    format!("{} {}", width(mm, told_in), told_in.length_sign())
}

impl Display for Where {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Edge => f.write_str("the comb that was not moved"),
            Self::Bar(id) => f.write_str(id),
        }
    }
}

impl Tell for Step {
    fn tell(&self, f: &mut Formatter<'_>, told_in: ToldIn) -> fmt::Result {
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
                let sign = told_in.length_sign();
                let shims: Vec<String> = shims_mm
                    .iter()
                    .map(|shim| width(shim.to_mm(), told_in))
                    .collect();
                match shims.as_slice() {
                    [] => f.write_str("No shim is needed")?,
                    [one] => write!(f, "Push the {one} {sign} shim in at the end")?,
                    more => {
                        let shims = list(more, ", ");
                        write!(f, "Push the shims in at the end: {shims} {sign}")?;
                    }
                }
                match (open_mm, told_in) {
                    (0, _) => f.write_str("; the lid is closed."),
                    (2.., ToldIn::Metric) => write!(f, "; {open_mm} mm stay open."),
                    _ => write!(f, "; {} stays open.", with_unit(*open_mm, told_in)),
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

impl Tell for Hindrance {
    fn tell(&self, f: &mut Formatter<'_>, told_in: ToldIn) -> fmt::Result {
        match *self {
            Self::TooWide {
                needed_mm,
                cavity_mm,
            } => write!(
                f,
                "the combs and the follower board need {}, the cavity has {}: {} too much",
                with_unit(needed_mm, told_in),
                width(cavity_mm, told_in),
                with_unit(needed_mm - cavity_mm, told_in)
            ),
            Self::TooShort {
                missing_mm,
                shims_mm,
                tolerance_mm,
                cut_left_out,
            } => {
                let missing = with_unit(missing_mm, told_in);
                write!(f, "{missing} of lid are missing; ")?;
                match shims_mm {
                    0 => f.write_str("no shims are at hand")?,
                    most => {
                        let most = width(most, told_in);
                        write!(f, "the shims at hand make at most {most}")?;
                    }
                }
                match tolerance_mm {
                    0 => {}
                    open => {
                        let open = width(open, told_in);
                        write!(f, ", and no more than {open} may stay open")?;
                    }
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
                    "{} of lid are missing; what is at hand makes {}, which leaves {} open where {} \
                     may stay open",
                    with_unit(free_mm, told_in),
                    with_unit(below_mm, told_in),
                    width(free_mm - below_mm, told_in),
                    width(tolerance_mm, told_in)
                )?;
                let Some(above) = above_mm else { return Ok(()) };
                let too_much = width(above - free_mm, told_in);
                let above = with_unit(above, told_in);
                write!(f, ", or {above}, {too_much} too much")
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

impl Tell for Impossible {
    fn tell(&self, f: &mut Formatter<'_>, told_in: ToldIn) -> fmt::Result {
        self.hindrance.tell(f, told_in)?;
        for (nth, way) in self.ways_out.iter().enumerate() {
            let before = if nth == 0 {
                "; it closes with"
            } else {
                ", or with"
            };
            write!(f, "{before} {}", way.told(told_in))?;
        }
        Ok(())
    }
}

impl Tell for WayOut {
    fn tell(&self, f: &mut Formatter<'_>, told_in: ToldIn) -> fmt::Result {
        match self {
            Self::Add(added) => added.tell(f, told_in),
            Self::LeaveOut { combs, add } => {
                let comb = if combs.len() == 1 { "comb" } else { "combs" };
                write!(f, "{comb} {} left out", list(combs, " and "))?;
                add.as_ref()
                    .map_or(Ok(()), |add| write!(f, " and {}", add.told(told_in)))
            }
            Self::ThinnerBoard { most_mm, now_mm } => write!(
                f,
                "a follower board of {} in place of that of {}",
                with_unit(*most_mm, told_in),
                with_unit(*now_mm, told_in)
            ),
        }
    }
}

impl Tell for Added {
    fn tell(&self, f: &mut Formatter<'_>, told_in: ToldIn) -> fmt::Result {
        let wide = with_unit(self.bar_mm, told_in);
        match self.bars {
            0 => {}
            1 => write!(f, "1 more empty bar of {wide}")?,
            bars => write!(f, "{bars} more empty bars of {wide}")?,
        }
        let and = if self.bars > 0 { " and " } else { "" };
        match self.shim_mm {
            None => Ok(()),
            Some((least, most)) => {
                let most = with_unit(most, told_in);
                let range = match width(least, told_in) {
                    least if most.starts_with(&format!("{least} ")) => most,
                    least => format!("{least} to {most}"),
                };
                write!(f, "{and}one more shim of {range}")
            }
        }
    }
}

impl Display for Step {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        self.tell(f, ToldIn::Metric)
    }
}

impl Display for Impossible {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        self.tell(f, ToldIn::Metric)
    }
}

impl Serialize for Step {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl Serialize for Impossible {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
