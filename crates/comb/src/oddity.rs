//! Bodies that can be and are still worth a second look at the rule.

use serde::Serialize;

use crate::{Angle, Area, Body, Length, Outline, Section};

/// Sides of published plans lean 8 to 30 degrees. Source: reference/colony.md A; status seen.
const PUBLISHED_SLOPES: [Angle; 2] = [Angle::degrees(7.5), Angle::degrees(31.0)];
/// Bars of published plans are 32 to 38 mm. Source: reference/colony.md A; status seen. A
/// millimetre of play for wood that has dried or swollen.
const PUBLISHED_BARS: [Length; 2] = [Length::mm(31.0), Length::mm(39.0)];
/// The largest full comb of the published plans is 8.8 dm2 (colony.md A; computed); much larger
/// ones tear off in the heat (common practice, no source).
const LARGE_COMB: Area = Area::dm2(11.0);
/// Fewer bars make a nursery body. Source: common practice, no source; plans have 24 to 30 bars
/// (colony.md A; seen).
const FEW_BARS: usize = 15;

/// What is odd about a body; nothing is refused for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Oddity {
    /// Sloped sides, and hardly or very much so.
    Slope,
    /// Bars narrower or wider than published ones.
    BarWidth,
    /// Full combs so large that they tear off in the heat.
    LargeComb,
    /// Room for few bars.
    FewBars,
}

impl Oddity {
    /// What to look at, as a sentence.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Slope => {
                "Sides usually lean 8 to 30 degrees: measure both widths and the depth once more."
            }
            Self::BarWidth => {
                "Bars are usually 32 to 38 mm wide: measure ten side by side and divide."
            }
            Self::LargeComb => {
                "Full combs of this body are large and heavy; take care in warm weather."
            }
            Self::FewBars => {
                "This body has room for few bars: is the length the whole inside length?"
            }
        }
    }
}

impl Body {
    /// What is odd about this body, each once, in the order of [`Oddity`]; mostly nothing.
    ///
    /// ```
    /// use comb::oddity::Oddity;
    /// use comb::{Body, BodyMeasures, Length};
    /// assert!(Body::default().oddities().is_empty());
    /// let measures = BodyMeasures { bar_width_mm: Length::mm(25.0), ..Body::default().measures() };
    /// assert_eq!(Body::new(measures)?.oddities(), [Oddity::BarWidth]);
    /// # Ok::<(), comb::CombError>(())
    /// ```
    pub fn oddities(&self) -> Vec<Oddity> {
        let [least_slope, greatest_slope] = PUBLISHED_SLOPES;
        let [least_bar, greatest_bar] = PUBLISHED_BARS;
        let sloped = self.section() == Section::Sloped;
        [
            (
                Oddity::Slope,
                sloped && !(least_slope..=greatest_slope).contains(&self.slope()),
            ),
            (
                Oddity::BarWidth,
                !(least_bar..=greatest_bar).contains(&self.bar_width()),
            ),
            (
                Oddity::LargeComb,
                Outline::of(self).face_area() > LARGE_COMB,
            ),
            (Oddity::FewBars, self.bars_that_fit() < FEW_BARS),
        ]
        .into_iter()
        .filter_map(|(oddity, found)| found.then_some(oddity))
        .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sloped_published_bodies_are_not_odd() {
        let published = Body::published();
        for body in published
            .iter()
            .filter(|body| body.section() == Section::Sloped)
        {
            assert!(body.oddities().is_empty(), "{body}: {:?}", body.oddities());
        }
    }
}
