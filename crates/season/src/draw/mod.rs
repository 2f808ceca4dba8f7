//! The season as drawn text (80 columns) and as SVG.

mod svg;
mod text;

pub use svg::{Style, bar_chart, bees_fan, forage_ribbon, stores_fan};
pub use text::{fan_text, sheet};

use crate::outlook::Fan;

/// Every figure of a fan, told otherwise.
fn each(fan: Fan, told: impl Fn(f64) -> f64) -> Fan {
    Fan {
        p5: told(fan.p5),
        p25: told(fan.p25),
        p50: told(fan.p50),
        p75: told(fan.p75),
        p95: told(fan.p95),
    }
}
