//! A face's bands as arches, the way bees store: honey lower at the sides, brood high in the middle.

use super::comb_shape::CombShape;
use super::element::{Element, closed_path, number};
use super::palette::Ink;
use super::pattern;
use super::sheet::{Anchor, Sheet, text_width};
use crate::face::FacePicture;
use crate::words;

/// Name of the patterns that are large enough for a comb in hand.
pub(crate) const WIDE: &str = "w";
/// How much deeper the edge of a band is at the side than in the middle, as a part of the depth.
const BOW: f64 = 0.16;

/// Edges of bands, arched.
pub(crate) struct Arches {
    /// Lower edges at the middle, CSS px.
    edges: Vec<f64>,
    middle: f64,
    top: f64,
    half: f64,
    bow: f64,
    bottom: f64,
}

impl Arches {
    pub(crate) fn of(
        shape: &CombShape,
        face: &FacePicture,
        (x, y): (f64, f64),
        scale: f64,
    ) -> Self {
        let bow = shape.depth() * BOW;
        let edges = shape.arches(face, bow);
        Self {
            edges: edges.into_iter().map(|edge| y + edge * scale).collect(),
            middle: x,
            top: y,
            half: shape.top_half() * scale,
            bow: bow * scale,
            bottom: y + shape.depth() * scale,
        }
    }

    /// An arch through the middle at `y`: the parabola as a quadratic curve.
    fn arch(&self, y: f64) -> String {
        let (left, right) = (self.middle - self.half, self.middle + self.half);
        format!(
            "M{} {}Q{} {} {} {}",
            number(left),
            number(y + self.bow),
            number(self.middle),
            number(y - self.bow),
            number(right),
            number(y + self.bow)
        )
    }

    /// Bands from the lowest up, each over the one below it, then their edges.
    pub(crate) fn draw(&self, sheet: &mut Sheet<'_>, face: &FacePicture) {
        let last = face.bands.len() - 1;
        for (i, band) in face.bands.iter().enumerate().rev() {
            let (left, right) = (self.middle - self.half - 2.0, self.middle + self.half + 2.0);
            let path = if i == last {
                let low = self.bottom + 2.0;
                closed_path(&[
                    (left, self.top),
                    (right, self.top),
                    (right, low),
                    (left, low),
                ])
            } else {
                let above = self.top - self.bow * 2.0;
                format!(
                    "{}L{} {}L{} {}Z",
                    self.arch(self.edges[i]),
                    number(right - 2.0),
                    number(above),
                    number(left + 2.0),
                    number(above)
                )
            };
            let path = Element::new("path").set("d", path);
            sheet
                .document
                .leaf(&path.set("fill", pattern::fill(sheet, WIDE, band.kind)));
        }
        for (band, edge) in face.bands.iter().zip(&self.edges).take(last) {
            let path = Element::new("path")
                .set("d", self.arch(*edge))
                .set("fill", "none");
            let path = path
                .set("stroke", sheet.ink(Ink::Line))
                .num("stroke-width", 1.3);
            sheet.document.leaf(&if band.judged {
                path
            } else {
                path.set("stroke-dasharray", "5 4")
            });
        }
    }

    /// The kinds' names in their bands, where they fit.
    pub(crate) fn name(&self, sheet: &mut Sheet<'_>, face: &FacePicture, shape: &CombShape) {
        let mut from = self.top;
        let last = face.bands.len() - 1;
        for (i, (band, edge)) in face.bands.iter().zip(&self.edges).enumerate() {
            let to = if i == last { self.bottom } else { *edge };
            let height = to - from.max(self.top);
            let middle = f64::midpoint(from.max(self.top), to);
            let down = (middle - self.top) / (self.bottom - self.top) * shape.depth();
            let wide = shape.half_at(down) / shape.top_half() * self.half * 2.0;
            let text = words::kind(band.kind);
            let fits = text_width(text, sheet.text_size()) + 10.0 <= wide;
            if height >= sheet.text_size() * 1.5 && fits {
                pill(sheet, (self.middle, middle), text);
            }
            from = to;
        }
    }
}

/// A word on a ground of its own, readable over any pattern.
pub(crate) fn pill(sheet: &mut Sheet<'_>, (x, y): (f64, f64), text: &str) {
    let size = sheet.text_size();
    let width = text_width(text, size) + size * 0.8;
    let rect = Element::new("rect")
        .num("x", x - width / 2.0)
        .num("y", y - size * 0.72);
    let rect = rect
        .num("width", width)
        .num("height", size * 1.44)
        .num("rx", size * 0.5);
    sheet.document.leaf(
        &rect
            .set("fill", sheet.ink(Ink::Paper))
            .set("fill-opacity", "0.92"),
    );
    sheet.label((x, y + size * 0.35), Anchor::Middle, size, Ink::Text, text);
}
