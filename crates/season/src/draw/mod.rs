//! The season as drawn text (80 columns) and as SVG.

mod svg;
mod text;

pub use svg::{Style, bar_chart, bees_fan, forage_ribbon, stores_fan};
pub use text::{fan_text, sheet};
