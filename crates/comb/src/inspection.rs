//! How many bars make an inspection as large as three full-depth brood frames.

use crate::{Area, Outline};

/// One face of a full-depth frame's comb, about 43 by 20.5 cm.
/// Source: reference/health.md 0, point 2; status practice.
pub const FULL_DEPTH_FRAME_FACE: Area = Area::dm2(8.8);

/// Bars whose full combs have at least the area of so many full-depth frames, rounded up: the
/// code of practice asks for three, bees shaken or brushed off (reference/health.md 0, point 2;
/// status seen). Local codes differ; the local authority decides.
///
/// ```
/// use comb::{inspection, Body, Outline};
/// assert_eq!(inspection::bars_equal_to_frames(&Outline::of(&Body::default()), 3), 5);
/// ```
pub fn bars_equal_to_frames(outline: &Outline, frames: u32) -> u32 {
    bars_for(outline.face_area(), frames)
}

fn bars_for(face: Area, frames: u32) -> u32 {
    (f64::from(frames) * (FULL_DEPTH_FRAME_FACE / face)).ceil() as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Length;

    #[test]
    fn the_worked_example_of_the_reference_gives_four_bars() {
        // reference/health.md 0, point 2: widths 43 and 24 cm, 25 cm deep: 837.5 cm2, 4 bars
        let face = Length::mm(f64::midpoint(430.0, 240.0)).by(Length::mm(250.0));
        assert!((face.to_dm2() - 8.375).abs() < 1e-9);
        assert_eq!(bars_for(face, 3), 4);
    }
}
