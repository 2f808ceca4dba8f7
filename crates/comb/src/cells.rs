//! How many cells there are on a comb.

use crate::{Area, Length};

/// Worker cell, wall to wall. Source: comb-facts.csv, 5.2 mm; status seen.
pub const WORKER_CELL: Length = Length::mm(5.2);
/// Drone cell, wall to wall. Source: comb-facts.csv, 6.2 mm; status seen.
pub const DRONE_CELL: Length = Length::mm(6.2);

/// Cells on one dm2 of ONE face. A hexagon of width w between opposite walls covers
/// `sqrt(3)/2 w^2`.
/// Source: reference/colony.md B; status computed.
///
/// ```
/// use comb::cells;
/// assert_eq!(cells::per_dm2(cells::WORKER_CELL).round(), 427.0);
/// assert_eq!(cells::per_dm2(cells::DRONE_CELL).round(), 300.0);
/// ```
pub fn per_dm2(cell_width: Length) -> f64 {
    let width = cell_width.to_mm();
    10_000.0 / (libm::sqrt(3.0) / 2.0 * width * width)
}

/// Cells on ONE face of this area, to the nearest cell.
pub fn on_face(face_area: Area, cell_width: Length) -> u32 {
    (face_area.to_dm2() * per_dm2(cell_width)).round() as u32
}

/// Betts' formula: cells on BOTH faces of a dm2 when `in_100_mm` cells stand in a row of 100 mm.
/// Source: Betts 1938, Bee World, pp. 106-107, after Justrich; status seen.
pub fn both_faces_per_dm2(in_100_mm: f64) -> f64 {
    2.309 * in_100_mm * in_100_mm
}

/// Cell width from a count along a row, as keepers measure it: ten cells, wall to wall.
pub fn width_from_row(row: Length, cells: u32) -> Option<Length> {
    (cells > 0 && row.is_finite() && row > Length::ZERO).then(|| row / f64::from(cells))
}
