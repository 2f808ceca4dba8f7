//! The outline of a full comb hanging in its body, for the area of a face and for drawing.

use std::f64::consts::FRAC_PI_2;

use serde::{Deserialize, Serialize};

use crate::{Area, Body, CombError, Length, Section, Share};

/// Part of the free shape that a comb with straight sides fills: its lower corners are round and
/// so is its edge. A rounded body's comb keeps the whole, its curve is counted already.
/// Source: reference/colony.md A; status practice.
pub const ROUND_CORNERS: f64 = 0.92;

/// Tangents laid to a rounded wall; with 180 the clearance is met within 0.05 mm
/// (tests/outline.rs).
const TANGENTS: u32 = 180;
/// Points along the curved lower edge of one side.
const EDGE_POINTS: u32 = 32;

/// The way that bees leave between a comb and the body.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BeeSpace {
    /// Between the comb's edge and a side wall, square to the wall.
    pub side_mm: Length,
    /// Between the comb's lowest point and the floor.
    pub under_mm: Length,
}

impl BeeSpace {
    /// 8 mm to the side (6 to 9.5; status seen), 12 mm under the comb (practice).
    /// Source: reference/comb-facts.csv "bee space (opposite to wall)"; reference/hive-plans.csv.
    pub const USUAL: Self = Self {
        side_mm: Length::mm(8.0),
        under_mm: Length::mm(12.0),
    };
    /// More than this is not a bee space any more: bees build in it. Source: practice.
    pub const GREATEST: Length = Length::mm(40.0);

    fn checked(self) -> Result<Self, CombError> {
        for (quantity, space) in [
            ("bee space to the side, mm,", self.side_mm),
            ("bee space under the comb, mm,", self.under_mm),
        ] {
            if !(space >= Length::ZERO && space <= Self::GREATEST) {
                let bound = "between 0 and 40";
                return Err(CombError::Measure {
                    quantity,
                    bound,
                    value: space.to_mm(),
                });
            }
        }
        Ok(self)
    }
}

impl Default for BeeSpace {
    fn default() -> Self {
        Self::USUAL
    }
}

/// A point of an outline: `x` from the middle of the bar, to the right; `y` down from the
/// underside of the bar.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// From the middle of the bar, right is positive.
    pub x_mm: Length,
    /// Down from the underside of the bar.
    pub y_mm: Length,
}

impl Point {
    const fn mm(x: f64, y: f64) -> Self {
        Self {
            x_mm: Length::mm(x),
            y_mm: Length::mm(y),
        }
    }
}

/// A straight line that the comb keeps inside of: half the width is at most `at_bar + slope * y`.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Wall {
    at_bar: f64,
    slope: f64,
}

/// A full comb in its body, seen square to its face.
///
/// ```
/// use comb::{Body, Outline};
/// let outline = Outline::of(&Body::default());
/// assert_eq!(format!("{:.2}", outline.net_area().to_dm2()), "7.08");
/// assert_eq!(format!("{:.2}", outline.face_area().to_dm2()), "6.51");
/// let lowest = outline.points().iter().map(|p| p.y_mm.to_mm()).fold(0.0, f64::max);
/// assert!((lowest - 293.0).abs() < 1e-9); // 305 mm deep, 12 mm bee space under the comb
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// Those that bound it, from the bar down.
    walls: Vec<Wall>,
    /// Lowest point under the bar, mm.
    depth: f64,
    /// Height of the curved lower edge, mm; 0 when the comb follows the free shape to its end.
    edge: f64,
    net_area: Area,
    face_area: Area,
    points: Vec<Point>,
}

impl Outline {
    /// With the usual bee space.
    pub fn of(body: &Body) -> Self {
        Self::within(body, BeeSpace::USUAL)
    }

    /// With a bee space of one's own.
    ///
    /// # Errors
    /// [`CombError::Measure`] when a space is negative, not a number, or above
    /// [`BeeSpace::GREATEST`].
    pub fn with_bee_space(body: &Body, space: BeeSpace) -> Result<Self, CombError> {
        Ok(Self::within(body, space.checked()?))
    }

    fn within(body: &Body, space: BeeSpace) -> Self {
        let mut outline = Self {
            walls: bounding(walls(body, space.side_mm.to_mm())),
            depth: (body.depth() - space.under_mm).to_mm(),
            edge: 0.0,
            net_area: Area::ZERO,
            face_area: Area::ZERO,
            points: Vec::new(),
        };
        outline.depth = outline.lowest_with_width();
        outline.points = outline.polygon();
        outline.net_area = polygon_area(&outline.points);
        outline.face_area = outline.net_area;
        if body.section() != Section::Rounded {
            outline.round_lower_edge();
        }
        outline
    }

    /// Width of the comb where it hangs from its bar.
    pub fn top_width(&self) -> Length {
        self.half_width_at(Length::ZERO) * 2.0
    }
    /// From the underside of the bar to the comb's lowest point.
    pub fn depth(&self) -> Length {
        Length::mm(self.depth)
    }
    /// What is left of the cavity's cross-section after the bee space, corners not yet rounded.
    pub fn net_area(&self) -> Area {
        self.net_area
    }
    /// Area of ONE face of a full comb, round corners taken off.
    pub fn face_area(&self) -> Area {
        self.face_area
    }

    /// Half the comb's width at a depth under the bar; none below its lowest point.
    pub fn half_width_at(&self, depth: Length) -> Length {
        let y = depth.to_mm();
        if y > self.depth {
            return Length::ZERO;
        }
        let into_edge = y - (self.depth - self.edge);
        let narrowed = if self.edge > 0.0 && into_edge > 0.0 {
            let part = (into_edge / self.edge).min(1.0);
            libm::sqrt(1.0 - part * part)
        } else {
            1.0
        };
        Length::mm(self.free_half_width(y) * narrowed)
    }

    /// The outline as a closed polygon, from the left end of the bar clockwise; the last point
    /// is not the first again. Its area is [`Outline::face_area`].
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The outline of a comb that is drawn only in part: the full one, smaller, under the middle
    /// of the bar, as bees begin. `drawn` is its share of a full face.
    pub fn points_drawn(&self, drawn: Share) -> Vec<Point> {
        let scale = libm::sqrt(drawn.get());
        self.points
            .iter()
            .map(|p| Point {
                x_mm: p.x_mm * scale,
                y_mm: p.y_mm * scale,
            })
            .collect()
    }

    /// Half the width left by the walls alone, mm.
    fn free_half_width(&self, y: f64) -> f64 {
        let narrowest = self.walls.iter().map(|wall| wall.at_bar + wall.slope * y);
        narrowest.fold(f64::INFINITY, f64::min).max(0.0)
    }

    /// A half barrel can narrow to nothing before the space under the comb begins.
    fn lowest_with_width(&self) -> f64 {
        if self.free_half_width(self.depth) > 0.0 {
            return self.depth;
        }
        bisect(self.depth, |y| self.free_half_width(y) > 0.0)
    }

    /// Replaces the lower part by half an ellipse's narrowing, as high as leaves
    /// [`ROUND_CORNERS`] of the area.
    fn round_lower_edge(&mut self) {
        let wanted = self.net_area * ROUND_CORNERS;
        let area_with = |edge: f64| {
            let tried = Self {
                edge,
                ..self.clone()
            };
            polygon_area(&tried.polygon())
        };
        self.edge = bisect(self.depth, |edge| area_with(edge) > wanted);
        self.points = self.polygon();
        self.face_area = wanted;
    }

    fn polygon(&self) -> Vec<Point> {
        let right: Vec<Point> = self
            .heights()
            .into_iter()
            .map(|y| Point::mm(self.half_width_at(Length::mm(y)).to_mm(), y))
            .collect();
        let left = right.iter().rev().map(|p| Point {
            x_mm: -p.x_mm,
            ..*p
        });
        // begin at the left end of the bar
        let mut all: Vec<Point> = Vec::with_capacity(2 * right.len());
        all.push(Point {
            x_mm: -right[0].x_mm,
            ..right[0]
        });
        all.extend(&right);
        all.extend(left.take(right.len() - 1));
        all.dedup();
        all
    }

    /// Depths at which the right side has a point, from the bar down, mm.
    fn heights(&self) -> Vec<f64> {
        // between two walls' crossings a side is straight, so these points lose nothing of the area
        let crossings = self.walls.windows(2).map(|pair| pair[0].crosses(pair[1]));
        let upper = std::iter::once(0.0).chain(crossings);
        let straight = self.depth - self.edge;
        let mut heights: Vec<f64> = upper.take_while(|y| *y < straight).collect();
        if self.edge > 0.0 {
            let steps = (0..=EDGE_POINTS).map(|i| f64::from(i) / f64::from(EDGE_POINTS));
            heights.extend(steps.map(|s| straight + self.edge * libm::sin(s * FRAC_PI_2)));
        } else {
            heights.push(self.depth);
        }
        heights
    }
}

impl Wall {
    /// The depth at which a wall that leans in more begins to be the nearer one.
    fn crosses(self, more: Self) -> f64 {
        (more.at_bar - self.at_bar) / (self.slope - more.slope)
    }
}

/// Of walls that lean in more and more those that bound a comb somewhere under its bar.
fn bounding(walls: Vec<Wall>) -> Vec<Wall> {
    let mut kept: Vec<Wall> = Vec::with_capacity(walls.len());
    for wall in walls {
        while let Some(&last) = kept.last() {
            let from = match kept.len() {
                1 => 0.0,
                many => kept[many - 2].crosses(last),
            };
            if last.crosses(wall) > from {
                break;
            }
            kept.pop();
        }
        kept.push(wall);
    }
    kept
}

/// The lines that keep the comb a bee space, square, from the walls.
///
/// Straight sides: `t = T - 2 g / cos s`. Source: reference/colony.md A.
/// A rounded side is a quarter of an ellipse with half axes `a = (T - B)/2` and `b = d`; each of
/// its tangents is a straight wall, and the comb stays inside of all of them.
fn walls(body: &Body, space: f64) -> Vec<Wall> {
    let (top, bottom) = (
        body.top_width().to_mm() / 2.0,
        body.bottom_width().to_mm() / 2.0,
    );
    let depth = body.depth().to_mm();
    match body.section() {
        Section::Sloped | Section::Rectangular => {
            let tangent = body.slope_tangent();
            let along = libm::sqrt(1.0 + tangent * tangent); // 1 / cos s
            vec![Wall {
                at_bar: top - space * along,
                slope: -tangent,
            }]
        }
        Section::Rounded => {
            let a = top - bottom;
            let flat = a / depth;
            let tangent_at = |i: u32| {
                let angle = f64::from(i) / f64::from(TANGENTS) * FRAC_PI_2;
                let (sin, cos) = (libm::sin(angle), libm::cos(angle));
                let square = libm::sqrt(cos * cos + flat * flat * sin * sin);
                Wall {
                    at_bar: bottom + (a - space * square) / cos,
                    slope: -flat * sin / cos,
                }
            };
            (0..TANGENTS).map(tangent_at).collect()
        }
    }
}

/// The largest value in 0..=`most` for which `holds`, which is true below some value and false
/// above it.
fn bisect(most: f64, holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, most);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// Area of a closed polygon (the shoelace formula).
fn polygon_area(points: &[Point]) -> Area {
    let next = points.iter().cycle().skip(1);
    let doubled: f64 = points
        .iter()
        .zip(next)
        .map(|(p, q)| p.x_mm.to_mm() * q.y_mm.to_mm() - q.x_mm.to_mm() * p.y_mm.to_mm())
        .sum();
    Area::dm2((doubled / 2.0).abs() / 10_000.0)
}
