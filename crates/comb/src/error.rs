//! What can be wrong with a measure, a body or a comb.

use thiserror::Error;

use crate::units::MM_PER_INCH;

/// One variant a cause, with the value and its bound.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum CombError {
    /// A share outside 0..=1, or not a number.
    #[error("a share lies between 0 and 1 (0 % and 100 %), this one is {0}")]
    Share(f64),
    /// A quantity that cannot be negative, zero or not a number.
    #[error("{quantity} must be {bound}, this one is {value}")]
    Measure {
        /// What was measured.
        quantity: &'static str,
        /// The bound it breaks, in words.
        bound: &'static str,
        /// The value given.
        value: f64,
    },
    /// The shares of one face add up to more than the whole face.
    #[error("the parts of one face add up to {0:.2}; together they cannot exceed 1")]
    FaceOverfull(f64),
    /// A body that cannot be.
    #[error(transparent)]
    Body(#[from] BodyFault),
    /// A comb thicker than its pitch allows beside a straight neighbour.
    #[error(
        "a comb {thickness_mm:.0} mm thick cannot hang beside a straight neighbour at a pitch of \
         {pitch_mm:.0} mm: at most {greatest_mm:.0} mm, it is {excess_mm:.0} mm too thick; it \
         would need a pitch of {needed_mm:.0} mm (wider bars, or {more_mm:.0} mm more of shims on \
         each side)",
        excess_mm = .thickness_mm - .greatest_mm,
        more_mm = .needed_mm - .pitch_mm
    )]
    Thickness {
        /// The thickness given.
        thickness_mm: f64,
        /// From midrib to midrib.
        pitch_mm: f64,
        /// The thickest that leaves the bees their way.
        greatest_mm: f64,
        /// The pitch that this thickness would need.
        needed_mm: f64,
    },
    /// Low, best and high out of order.
    #[error(
        "a range of masses runs from low over best to high, this one is {low_kg}, {best_kg}, {high_kg} kg"
    )]
    MassRange {
        /// The low end.
        low_kg: f64,
        /// The best guess.
        best_kg: f64,
        /// The high end.
        high_kg: f64,
    },
}

/// Why a body cannot be: field, value, bound, and what to do about it.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum BodyFault {
    /// Zero, negative, infinite or not a number.
    #[error(
        "{field} is {value_mm} mm; it must be a number above 0: measure it again, in millimetres"
    )]
    NotPositive {
        /// Which measure.
        field: &'static str,
        /// The value given.
        value_mm: f64,
    },
    /// Outside what a top-bar hive can be: most often another unit.
    #[error(
        "{field} is {value_mm} mm; it must lie between {least_mm} and {greatest_mm} mm: {}",
        slip_of_unit(*.value_mm, *.least_mm, *.greatest_mm)
    )]
    OutOfSize {
        /// Which measure.
        field: &'static str,
        /// The value given.
        value_mm: f64,
        /// The smallest that is taken.
        least_mm: f64,
        /// The largest that is taken.
        greatest_mm: f64,
    },
    /// A full comb could not be lifted out.
    #[error(
        "bottom width is {bottom_mm} mm, wider than the top width of {top_mm} mm: a comb would \
         not come out; look whether the two are swapped"
    )]
    BottomWiderThanTop {
        /// Width at the floor.
        bottom_mm: f64,
        /// Width under the bars.
        top_mm: f64,
    },
    /// A sloped or rounded body whose floor is wider than the cavity is deep.
    #[error(
        "bottom width is {bottom_mm} mm, wider than the cavity is deep ({depth_mm} mm): look \
         whether the two are swapped; for upright sides choose a rectangular body"
    )]
    BottomWiderThanDeep {
        /// Width at the floor.
        bottom_mm: f64,
        /// Depth under the bars.
        depth_mm: f64,
    },
    /// A rectangular body with two widths.
    #[error(
        "a rectangular body is as wide below as above, this one is {top_mm} mm above and \
         {bottom_mm} mm below: make them equal, or choose sloped sides"
    )]
    NotRectangular {
        /// Width under the bars.
        top_mm: f64,
        /// Width at the floor.
        bottom_mm: f64,
    },
    /// An entrance that is not in the body.
    #[error(
        "the entrance is {from_left_mm} mm from the left end, outside the cavity of {length_mm} \
         mm: measure from the inside of the left end wall"
    )]
    EntranceOutside {
        /// Where it was said to be.
        from_left_mm: f64,
        /// Length of the cavity.
        length_mm: f64,
    },
}

/// Names the unit that the keeper probably measured in; both when both would do.
fn slip_of_unit(value_mm: f64, least_mm: f64, greatest_mm: f64) -> String {
    let fits = |mm: f64| (least_mm..=greatest_mm).contains(&mm);
    let readings = [
        ("measured in inches", MM_PER_INCH),
        ("measured in centimetres", 10.0),
        ("measured in metres", 1000.0),
        ("one digit too many", 0.1),
    ];
    let likely: Vec<String> = readings
        .into_iter()
        .filter(|(_, factor)| fits(value_mm * factor))
        .map(|(what, factor)| format!("if {what}, write {:.0}", value_mm * factor))
        .collect();
    if likely.is_empty() {
        "measure it again, in millimetres".to_owned()
    } else {
        likely.join("; ")
    }
}
