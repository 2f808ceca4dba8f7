//! A plain bar chart, readable in black and white.

use super::page::{BLACK, FAINT, Hold, Page, QUIET};
use super::typeface::{Typeface, Weight};

/// Bars with a name under each and a figure above.
#[derive(Debug, Clone, PartialEq)]
pub struct Bars {
    /// Unit of the figures, said beside the axis.
    pub unit: String,
    /// Name and figure of each, in order.
    pub bars: Vec<(String, f64)>,
    /// Decimals of the figures.
    pub decimals: usize,
}

impl Bars {
    pub(crate) fn draw(
        &self,
        page: &mut Page,
        (x, y): (f64, f64),
        (width, height): (f64, f64),
        size: f64,
        face: &Typeface,
    ) {
        let most = self.bars.iter().map(|bar| bar.1).fold(0.0, f64::max);
        let step = step(most);
        let top = (most / step).ceil().max(1.0) * step;
        let label = format!("{top:.*}", self.decimals);
        let left = x + face.width(&label, size, Weight::Regular) + size;
        let (floor, ceiling) = (y + height - size * 1.6, y + size * 1.8);
        page.held(
            (x, y + size),
            size,
            Weight::Regular,
            Hold::Left,
            QUIET,
            self.unit.as_str(),
        );
        let at = |value: f64| floor - (floor - ceiling) * value / top;
        let mut value = 0.0;
        while value <= top + step * 0.01 {
            let ink = if value > 0.0 { FAINT } else { BLACK };
            page.rule((left, at(value)), (x + width, at(value)), 0.15, ink);
            let words = format!("{value:.*}", self.decimals);
            let spot = (left - size * 0.5, at(value) + size * 0.35);
            page.held(spot, size, Weight::Regular, Hold::Right, QUIET, words);
            value += step;
        }
        let pitch = (x + width - left) / self.bars.len().max(1) as f64;
        let wide = (pitch * 0.62).min(16.0);
        for (i, (name, value)) in self.bars.iter().enumerate() {
            let middle = left + pitch * (i as f64 + 0.5);
            if *value > 0.0 {
                page.block(
                    (middle - wide / 2.0, at(*value)),
                    (wide, floor - at(*value)),
                    105,
                );
                let words = format!("{value:.*}", self.decimals);
                let spot = (middle, at(*value) - size * 0.3);
                page.held(spot, size, Weight::Strong, Hold::Middle, BLACK, words);
            }
            let spot = (middle, floor + size * 1.25);
            page.held(
                spot,
                size,
                Weight::Regular,
                Hold::Middle,
                BLACK,
                name.as_str(),
            );
        }
    }
}

/// A round step that gives two to five lines: 1, 2 or 5 times a power of ten.
fn step(most: f64) -> f64 {
    if most <= 0.0 {
        return 1.0;
    }
    let power = libm::pow(10.0, libm::floor(libm::log10(most)));
    let steps = [0.2, 0.5, 1.0, 2.0];
    let found = steps.iter().find(|part| most / (*part * power) <= 5.0);
    found.unwrap_or(&2.0) * power
}
