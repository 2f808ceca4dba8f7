//! A pattern for every kind, so that no band is known by its colour alone.

use super::element::{Document, Element, number};
use super::palette::Ink;
use super::sheet::Sheet;
use crate::Kind;

/// Defines the patterns of these kinds with tiles of about `tile` CSS px, under `size` in the name.
pub(crate) fn define(sheet: &mut Sheet<'_>, size: &str, tile: f64, kinds: &[Kind]) {
    sheet.document.open(&Element::new("defs"));
    for kind in kinds {
        let pattern = Pattern {
            ground: sheet.ink(Ink::Ground(*kind)),
            figure: sheet.ink(Ink::Figure(*kind)),
            tile,
        };
        let id = sheet.id(&name(*kind, size));
        pattern.write(*kind, &id, &mut sheet.document);
    }
    sheet.document.close();
}

/// The fill of a kind, with its plain colour where patterns are not drawn.
pub(crate) fn fill(sheet: &Sheet<'_>, size: &str, kind: Kind) -> String {
    format!(
        "url(#{}) {}",
        sheet.id(&name(kind, size)),
        sheet.ink(Ink::Ground(kind))
    )
}

fn name(kind: Kind, size: &str) -> String {
    let kind = match kind {
        Kind::CappedHoney => "capped-honey",
        Kind::Honey => "honey",
        Kind::Unripe => "unripe",
        Kind::Pollen => "pollen",
        Kind::CappedBrood => "capped-brood",
        Kind::Brood => "brood",
        Kind::Larvae => "larvae",
        Kind::Eggs => "eggs",
        Kind::DroneBrood => "drone-brood",
        Kind::Empty => "empty",
        Kind::Unknown => "unknown",
    };
    format!("{size}-{kind}")
}

struct Pattern {
    ground: String,
    figure: String,
    tile: f64,
}

impl Pattern {
    fn write(&self, kind: Kind, id: &str, document: &mut Document) {
        let t = self.tile;
        let (width, height) = match kind {
            Kind::CappedHoney => (t * 2.4, t * 1.2),
            Kind::Empty => (t * 1.2, t * 1.2 * 1.732),
            Kind::Unknown => (t * 1.5, t * 1.5),
            Kind::DroneBrood => (t * 1.3, t * 1.3),
            Kind::Unripe => (t * 1.1, t * 1.1),
            Kind::Pollen => (t * 0.75, t * 0.75),
            _ => (t, t),
        };
        document.open(
            &Element::new("pattern")
                .set("id", id)
                .set("patternUnits", "userSpaceOnUse")
                .num("width", width)
                .num("height", height),
        );
        let rect = Element::new("rect")
            .num("width", width)
            .num("height", height);
        document.leaf(&rect.set("fill", &self.ground));
        self.figure(kind, (width, height), document);
        document.close();
    }

    fn figure(&self, kind: Kind, (w, h): (f64, f64), document: &mut Document) {
        let t = self.tile;
        match kind {
            // wax drawn over: short level strokes
            Kind::CappedHoney => {
                self.stroke(
                    document,
                    t * 0.13,
                    &[(0.1 * w, 0.25 * h), (0.45 * w, 0.25 * h)],
                );
                self.stroke(
                    document,
                    t * 0.13,
                    &[(0.6 * w, 0.75 * h), (0.95 * w, 0.75 * h)],
                );
            }
            Kind::Honey => self.diagonal(document, t * 0.2, w),
            // open cells, shining
            Kind::Unripe => {
                self.dot(document, (0.25 * w, 0.25 * h), t * 0.15);
                self.dot(document, (0.75 * w, 0.75 * h), t * 0.15);
            }
            // packed in layers of many colours: stripes, upright
            Kind::Pollen => {
                self.stroke(document, t * 0.26, &[(0.5 * w, 0.0), (0.5 * w, h)]);
            }
            // domed caps close together
            Kind::CappedBrood => {
                self.dot(document, (0.25 * w, 0.25 * h), t * 0.17);
                self.dot(document, (0.75 * w, 0.75 * h), t * 0.17);
            }
            Kind::Brood => {
                self.diagonal(document, t * 0.13, w);
                self.other_diagonal(document, t * 0.13, w);
            }
            // curled larvae
            Kind::Larvae => self.curl(document, w),
            Kind::Eggs => {
                self.stroke(
                    document,
                    t * 0.13,
                    &[(0.25 * w, 0.1 * h), (0.25 * w, 0.4 * h)],
                );
                self.stroke(
                    document,
                    t * 0.13,
                    &[(0.75 * w, 0.6 * h), (0.75 * w, 0.9 * h)],
                );
            }
            Kind::DroneBrood => self.dot(document, (0.5 * w, 0.5 * h), t * 0.36),
            Kind::Empty => self.cells(document, (w, h)),
            Kind::Unknown => self.diagonal(document, t * 0.09, w),
        }
    }

    fn stroke(&self, document: &mut Document, width: f64, points: &[(f64, f64)]) {
        self.path(document, width, &super::element::open_path(points));
    }

    fn path(&self, document: &mut Document, width: f64, path: &str) {
        document.leaf(
            &Element::new("path")
                .set("d", path)
                .set("fill", "none")
                .set("stroke", &self.figure)
                .num("stroke-width", width.max(0.4)),
        );
    }

    fn dot(&self, document: &mut Document, at: (f64, f64), radius: f64) {
        let circle = Element::new("circle").num("cx", at.0).num("cy", at.1);
        document.leaf(&circle.num("r", radius).set("fill", &self.figure));
    }

    /// Rising lines that meet at the tile's edges.
    fn diagonal(&self, document: &mut Document, width: f64, w: f64) {
        for from in [-0.5, 0.5] {
            let line = [
                (w * (from - 0.25), w * 1.25),
                (w * (from + 1.25), w * -0.25),
            ];
            self.stroke(document, width, &line);
        }
    }

    fn other_diagonal(&self, document: &mut Document, width: f64, w: f64) {
        for from in [-0.5, 0.5] {
            let line = [
                (w * (from - 0.25), w * -0.25),
                (w * (from + 1.25), w * 1.25),
            ];
            self.stroke(document, width, &line);
        }
    }

    fn curl(&self, document: &mut Document, w: f64) {
        let r = number(w * 0.26);
        let path = format!(
            "M{} {}A{r} {r} 0 1 0 {} {}",
            number(w * 0.66),
            number(w * 0.3),
            number(w * 0.66),
            number(w * 0.7)
        );
        self.path(document, w * 0.17, &path);
    }

    /// Six-sided cells, points up, without a seam.
    fn cells(&self, document: &mut Document, (w, h): (f64, f64)) {
        let rows = [
            [(0.0, h / 6.0), (w / 2.0, 0.0)],
            [(w / 2.0, 0.0), (w, h / 6.0)],
            [(0.0, h / 6.0), (0.0, h / 2.0)],
            [(w, h / 6.0), (w, h / 2.0)],
            [(0.0, h / 2.0), (w / 2.0, h * 2.0 / 3.0)],
            [(w / 2.0, h * 2.0 / 3.0), (w, h / 2.0)],
            [(w / 2.0, h * 2.0 / 3.0), (w / 2.0, h)],
        ];
        for line in rows {
            self.stroke(document, self.tile * 0.1, &line);
        }
    }
}
