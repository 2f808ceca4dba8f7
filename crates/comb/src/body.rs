//! The body of a top-bar hive: its measures, checked, and the shape of its cavity.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::error::BodyFault;
use crate::{Angle, Area, CombError, Length, ToldIn};

/// The usual bar: 1 3/8 in.
/// Source: reference/colony.md A, "bars 1 1/4 to 1 3/8 in (32-35 mm)"; status seen.
pub const USUAL_BAR_WIDTH: Length = Length::mm(35.0);

/// Shape of the cavity's cross-section.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Section {
    /// Straight sides that lean in towards the floor.
    #[default]
    Sloped,
    /// Upright sides, as wide below as above.
    Rectangular,
    /// A trough: from a flat floor of the bottom width each side rises as a quarter of an
    /// ellipse, upright under the bars. With a bottom width of 0 it is half an ellipse, and half
    /// a barrel when the depth is half the top width.
    ///
    /// Half the width at depth y is `B/2 + (T - B)/2 * sqrt(1 - (y/d)^2)`.
    Rounded,
}

/// Where the bees go in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "place", deny_unknown_fields)]
pub enum Entrance {
    /// In the left end wall, as the keeper stands.
    LeftEnd,
    /// In the right end wall.
    RightEnd,
    /// In a long side.
    Side {
        /// Middle of the opening, from the inside of the left end wall.
        from_left_mm: Length,
    },
}

/// A body as measured, not yet checked; this is how a [`Body`] is written down.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BodyMeasures {
    /// Inside, end wall to end wall.
    pub cavity_length_mm: Length,
    /// Inside width right under the bars.
    pub top_width_mm: Length,
    /// Inside width at the floor; 0 is allowed in a rounded body only.
    pub bottom_width_mm: Length,
    /// From the underside of the bars to the floor.
    pub depth_mm: Length,
    /// Shape of the cross-section; sloped when not said.
    #[serde(default)]
    pub section: Section,
    /// Where the bees go in.
    pub entrance: Entrance,
    /// Width of the usual bar of this hive; [`USUAL_BAR_WIDTH`] when not said.
    #[serde(default = "usual_bar_width")]
    pub bar_width_mm: Length,
}

const fn usual_bar_width() -> Length {
    USUAL_BAR_WIDTH
}

/// A body that can be: every measure is a number in range, and a comb can be lifted out of it.
///
/// ```
/// use comb::{Body, BodyMeasures, Entrance, Length, Section};
/// let body = Body::new(BodyMeasures {
///     cavity_length_mm: Length::mm(1200.0),
///     top_width_mm: Length::inches(15.0),
///     bottom_width_mm: Length::inches(5.0),
///     depth_mm: Length::inches(12.0),
///     section: Section::Sloped,
///     entrance: Entrance::LeftEnd,
///     bar_width_mm: comb::body::USUAL_BAR_WIDTH,
/// })?;
/// assert_eq!(body.to_string(), "sloped 22.6 degrees, 381 to 127 mm wide, 305 mm deep, 1200 mm long");
/// assert_eq!(body.bars_that_fit(), 34);
///
/// // 15 inches written into a field for millimetres
/// let slip = BodyMeasures { top_width_mm: Length::mm(15.0), ..body.measures() };
/// let error = Body::new(slip).unwrap_err().to_string();
/// assert!(error.contains("if measured in inches, write 381"), "{error}");
/// # Ok::<(), comb::CombError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "BodyMeasures", into = "BodyMeasures")]
pub struct Body(BodyMeasures);

/// Smallest and largest that is taken for a measure, mm. The bounds are wide enough for a
/// five-bar nursery body and for the longest plan of reference/hive-plans.csv (1829 mm), and
/// narrow enough that inches or centimetres written as millimetres fall outside.
/// Source: common practice, no source.
struct Bounds {
    field: &'static str,
    least: f64,
    greatest: f64,
}

const CAVITY_LENGTH: Bounds = Bounds {
    field: "cavity length",
    least: 150.0,
    greatest: 3000.0,
};
const TOP_WIDTH: Bounds = Bounds {
    field: "top width",
    least: 120.0,
    greatest: 900.0,
};
const BOTTOM_WIDTH: Bounds = Bounds {
    field: "bottom width",
    least: 40.0,
    greatest: 900.0,
};
const DEPTH: Bounds = Bounds {
    field: "depth",
    least: 100.0,
    greatest: 700.0,
};
const BAR_WIDTH: Bounds = Bounds {
    field: "bar width",
    least: 20.0,
    greatest: 60.0,
};

/// Two widths this close are the same width, measured twice.
const SAME_WIDTH: Length = Length::mm(1.0);

impl Bounds {
    fn check(&self, measure: Length) -> Result<(), BodyFault> {
        let value_mm = measure.to_mm();
        if !(value_mm.is_finite() && value_mm > 0.0) {
            return Err(BodyFault::NotPositive {
                field: self.field,
                value_mm,
            });
        }
        if (self.least..=self.greatest).contains(&value_mm) {
            return Ok(());
        }
        Err(BodyFault::OutOfSize {
            field: self.field,
            value_mm,
            least_mm: self.least,
            greatest_mm: self.greatest,
        })
    }
}

impl BodyMeasures {
    fn check(&self) -> Result<(), BodyFault> {
        CAVITY_LENGTH.check(self.cavity_length_mm)?;
        TOP_WIDTH.check(self.top_width_mm)?;
        // a half barrel comes to a line at the bottom
        if self.section != Section::Rounded || self.bottom_width_mm != Length::ZERO {
            BOTTOM_WIDTH.check(self.bottom_width_mm)?;
        }
        DEPTH.check(self.depth_mm)?;
        BAR_WIDTH.check(self.bar_width_mm)?;
        self.check_section()?;
        self.check_entrance()
    }

    fn check_section(&self) -> Result<(), BodyFault> {
        let (top, bottom, depth) = (self.top_width_mm, self.bottom_width_mm, self.depth_mm);
        if self.section == Section::Rectangular {
            // upright sides may well stand wider than deep
            return if (top - bottom).abs() <= SAME_WIDTH {
                Ok(())
            } else {
                Err(BodyFault::NotRectangular {
                    top_mm: top.to_mm(),
                    bottom_mm: bottom.to_mm(),
                })
            };
        }
        if bottom > top {
            Err(BodyFault::BottomWiderThanTop {
                bottom_mm: bottom.to_mm(),
                top_mm: top.to_mm(),
            })
        } else if bottom > depth {
            Err(BodyFault::BottomWiderThanDeep {
                bottom_mm: bottom.to_mm(),
                depth_mm: depth.to_mm(),
            })
        } else {
            Ok(())
        }
    }

    fn check_entrance(&self) -> Result<(), BodyFault> {
        let Entrance::Side { from_left_mm } = self.entrance else {
            return Ok(());
        };
        if from_left_mm >= Length::ZERO && from_left_mm <= self.cavity_length_mm {
            Ok(())
        } else {
            Err(BodyFault::EntranceOutside {
                from_left_mm: from_left_mm.to_mm(),
                length_mm: self.cavity_length_mm.to_mm(),
            })
        }
    }
}

impl Body {
    /// Checks the measures.
    ///
    /// # Errors
    /// [`CombError::Body`] with the field, the value, the bound and what to do: a measure that is
    /// not a number above 0 or out of size (with the unit it was probably taken in), a bottom
    /// wider than the top, a sloped or rounded body with a bottom wider than it is deep, a
    /// rectangular one with two widths, an entrance outside the cavity.
    pub fn new(measures: BodyMeasures) -> Result<Self, CombError> {
        measures.check()?;
        Ok(Self(measures))
    }

    /// The measures, to change some of them and check again.
    pub const fn measures(&self) -> BodyMeasures {
        self.0
    }
    /// Inside, end wall to end wall.
    pub const fn cavity_length(&self) -> Length {
        self.0.cavity_length_mm
    }
    /// Inside width right under the bars.
    pub const fn top_width(&self) -> Length {
        self.0.top_width_mm
    }
    /// Inside width at the floor.
    pub const fn bottom_width(&self) -> Length {
        self.0.bottom_width_mm
    }
    /// From the underside of the bars to the floor.
    pub const fn depth(&self) -> Length {
        self.0.depth_mm
    }
    /// Shape of the cross-section.
    pub const fn section(&self) -> Section {
        self.0.section
    }
    /// Where the bees go in.
    pub const fn entrance(&self) -> Entrance {
        self.0.entrance
    }
    /// Width of the usual bar of this hive.
    pub const fn bar_width(&self) -> Length {
        self.0.bar_width_mm
    }

    /// Lean of the sides from the vertical: `tan s = (T - B) / (2 d)`. In a rounded body that of
    /// the straight line from the top edge to the edge of the floor.
    /// Source: reference/colony.md A; status computed.
    pub fn slope(&self) -> Angle {
        Angle::radians(libm::atan(self.slope_tangent()))
    }

    pub(crate) fn slope_tangent(&self) -> f64 {
        (self.top_width() - self.bottom_width()) / (self.depth() * 2.0)
    }

    /// Half the inside width at a depth under the bars, from 0 to [`Body::depth`]; a depth outside
    /// is taken as the nearer of the two.
    pub fn half_width_at(&self, depth: Length) -> Length {
        let down = (depth / self.depth()).clamp(0.0, 1.0);
        let (top, bottom) = (self.top_width() / 2.0, self.bottom_width() / 2.0);
        match self.section() {
            Section::Sloped | Section::Rectangular => top - (top - bottom) * down,
            Section::Rounded => bottom + (top - bottom) * libm::sqrt(1.0 - down * down),
        }
    }

    /// Area of the cavity's cross-section, walls to floor: what the plans' "outline" is.
    pub fn section_area(&self) -> Area {
        match self.section() {
            Section::Sloped | Section::Rectangular => {
                ((self.top_width() + self.bottom_width()) / 2.0).by(self.depth())
            }
            Section::Rounded => {
                let floor = self.bottom_width().by(self.depth());
                let rounds = (self.top_width() - self.bottom_width()).by(self.depth());
                floor + rounds * std::f64::consts::FRAC_PI_4
            }
        }
    }

    /// How many of the hive's usual bars the cavity has room for, follower boards not counted.
    pub fn bars_that_fit(&self) -> usize {
        (self.cavity_length() / self.bar_width()) as usize
    }

    /// Where the entrance is, from the inside of the left end wall.
    pub const fn entrance_from_left(&self) -> Length {
        match self.entrance() {
            Entrance::LeftEnd => Length::ZERO,
            Entrance::RightEnd => self.cavity_length(),
            Entrance::Side { from_left_mm } => from_left_mm,
        }
    }
}

impl TryFrom<BodyMeasures> for Body {
    type Error = CombError;
    fn try_from(measures: BodyMeasures) -> Result<Self, CombError> {
        Self::new(measures)
    }
}

impl From<Body> for BodyMeasures {
    fn from(body: Body) -> Self {
        body.0
    }
}

impl fmt::Display for Body {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}, {:.0} mm long",
            ToldIn::Metric.body_words(self),
            self.cavity_length().to_mm()
        )
    }
}
