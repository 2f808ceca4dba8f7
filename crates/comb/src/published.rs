//! Bodies to begin with, named by their measures.

use crate::{Body, BodyMeasures, Entrance, Length, Section};

/// One line of the table: length, top, bottom, depth, bar, mm.
struct Row(Section, [f64; 5]);

/// Outlines of published plans first, in the order of reference/hive-plans.csv.
///
/// Rows 1 to 3: plans 1, 2, 3 of that table; status seen, the top width of the third computed.
/// The second plan gives no length: 1000 mm, "plans roughly 1 m long" (seen).
/// Bars 35 mm, the third too: its plan does not say. The upright and the rounded body have no
/// plan there: common practice, no source.
const ROWS: [Row; 5] = [
    Row(Section::Sloped, [1200.0, 381.0, 127.0, 305.0, 35.0]),
    Row(Section::Sloped, [1000.0, 368.0, 140.0, 254.0, 35.0]),
    Row(Section::Sloped, [1067.0, 524.0, 194.0, 286.0, 35.0]),
    Row(Section::Rectangular, [1000.0, 430.0, 430.0, 280.0, 35.0]),
    Row(Section::Rounded, [900.0, 560.0, 0.0, 280.0, 35.0]),
];

impl Row {
    fn body(&self) -> Body {
        let [length, top, bottom, depth, bar] = self.1.map(Length::mm);
        Body::new(BodyMeasures {
            cavity_length_mm: length,
            top_width_mm: top,
            bottom_width_mm: bottom,
            depth_mm: depth,
            section: self.0,
            entrance: Entrance::LeftEnd,
            bar_width_mm: bar,
        })
        .expect("the table's measures are in range, see the test")
    }
}

impl Body {
    /// Bodies to choose from when a hive is set up, entrance in the left end; the keeper then
    /// changes the measures.
    ///
    /// ```
    /// let third = &comb::Body::published()[2];
    /// assert_eq!(comb::ToldIn::Metric.body_words(third), "sloped 30.0 degrees, 524 to 194 mm wide, 286 mm deep");
    /// ```
    pub fn published() -> Vec<Self> {
        ROWS.iter().map(Row::body).collect()
    }
}

impl Default for Body {
    /// The first of [`Body::published`].
    fn default() -> Self {
        ROWS[0].body()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_published_body_can_be() {
        assert_eq!(Body::published().len(), ROWS.len());
    }
}
