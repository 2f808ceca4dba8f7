//! Pictures as SVG, to scale, readable in colour, in grey and by a screen reader.

mod arches;
mod closing_goal;
mod comb_large;
mod comb_shape;
mod element;
mod legend;
mod life_strip;
mod marks;
mod palette;
mod parts;
mod pattern;
mod row;
mod row_comb;
mod section_picture;
mod sheet;
mod strip;

use comb::ToldIn;
use hive::BarId;

pub use closing_goal::closing_goal;
pub use comb_large::comb_large;
pub use life_strip::life_strip;
pub use palette::page_css;
pub use parts::parts;
pub use section_picture::hive;

/// Which colours a picture uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Theme {
    /// Dark on paper, colours written into the picture: for files and print.
    #[default]
    Light,
    /// Light on dark, colours written into the picture.
    Dark,
    /// The page's own: custom properties as [`page_css`] sets them, so that a picture standing in a
    /// page follows it from light to dark.
    Page,
}

/// How a picture is drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PictureOptions {
    /// Width in CSS pixels; the height follows. From 240 to 8000, others are taken as the nearer.
    pub width_px: u32,
    /// Larger letters and lines.
    pub large_print: bool,
    /// Colours.
    pub theme: Theme,
    /// The bar in hand.
    pub highlight: Option<BarId>,
    /// The row is broken into several where bars would come out narrower than this, in CSS pixels;
    /// 0 keeps the hive in one row whatever its length.
    pub least_bar_px: u32,
    /// Name and day above the picture.
    pub with_heading: bool,
    /// What the patterns mean, the scale bar and what is not known, below the picture.
    pub with_legend: bool,
    /// Units of lengths and masses.
    pub told_in: ToldIn,
    /// Begins every id in the picture, so that several can stand in one page. Letters, digits and
    /// hyphens; anything else is left out.
    pub id_prefix: String,
}

impl Default for PictureOptions {
    fn default() -> Self {
        Self {
            width_px: 1120,
            large_print: false,
            theme: Theme::Light,
            highlight: None,
            least_bar_px: 15,
            with_heading: true,
            with_legend: true,
            told_in: ToldIn::Metric,
            id_prefix: "section".to_owned(),
        }
    }
}
