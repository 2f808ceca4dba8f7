//! One comb as it is seen along the row: a section through it, the midrib in the middle, to its left
//! what its left-facing side holds, to its right the other. Down it has its true depth and taper,
//! along the row its thickness.

use comb::order::InOrder as _;
use comb::{Outline, Share};
use hive::entry::Hanging;

use super::comb_shape::CombShape;
use super::element::{Element, closed_path, open_path};
use super::palette::Ink;
use super::pattern;
use super::sheet::{Anchor, Sheet};
use crate::face::FacePicture;
use crate::section::{DrawnBar, HiveSection};
use crate::{Drawn, Kind};

/// Name of the patterns that are small enough for a comb in the row.
pub(crate) const SMALL: &str = "s";

/// Cells rise outward from the midrib; so do the edges of bands. As a part of the half's width.
const RISE: f64 = 0.3;
/// Height of a strip of comb left on a bar, mm. Source: practice; for the picture only.
const STRIP_MM: f64 = 20.0;

/// How combs of one hive are drawn at one scale.
pub(crate) struct RowComb {
    outline: Outline,
    full: CombShape,
    scale: f64,
}

/// Size of the patterns' tiles in a row.
pub(crate) fn tile(sheet: &Sheet<'_>, section: &HiveSection, scale: f64) -> f64 {
    let bar = section.body.bar_width().to_mm() * scale;
    (bar * 0.2).clamp(2.6, 5.5 * sheet.print())
}

/// Kinds that occur in a hive, in their order.
pub(crate) fn kinds(section: &HiveSection) -> Vec<Kind> {
    let faces = section
        .pieces
        .iter()
        .filter_map(Drawn::bar)
        .filter_map(DrawnBar::faces);
    let mut kinds: Vec<Kind> = faces
        .flatten()
        .flat_map(|face| face.bands.into_iter().map(|band| band.kind))
        .collect();
    kinds.put_in_order();
    kinds.dedup();
    kinds
}

impl RowComb {
    pub(crate) fn new(section: &HiveSection, scale: f64) -> Self {
        let outline = section.outline();
        Self {
            full: CombShape::in_row(&outline, Share::ONE),
            outline,
            scale,
        }
    }

    /// Draws what hangs from a bar whose underside has its middle at `hang`.
    pub(crate) fn draw(&self, sheet: &mut Sheet<'_>, bar: &DrawnBar, hang: (f64, f64)) {
        let half = bar.drawn_thickness().to_mm() * self.scale / 2.0;
        if let Some(faces) = bar.faces() {
            if bar.aside {
                sheet
                    .document
                    .open(&Element::new("g").set("opacity", "0.45"));
            }
            self.draw_comb(sheet, bar, &faces, hang, half);
            if bar.aside {
                sheet.document.close();
            }
        } else if bar.hanging == Hanging::Strip {
            self.draw_strip(sheet, hang, half);
        }
    }

    fn draw_comb(
        &self,
        sheet: &mut Sheet<'_>,
        bar: &DrawnBar,
        faces: &[FacePicture; 2],
        hang: (f64, f64),
        half: f64,
    ) {
        let built = faces[0].built;
        let shape = if built == Share::ONE {
            self.full.clone()
        } else {
            CombShape::in_row(&self.outline, built)
        };
        // a comb begun is narrower along the bar, not thinner along the row
        let across = half / shape.top_half();
        let place = Placed {
            shape: &shape,
            hang,
            across,
            scale: self.scale,
        };
        for (face, sign) in faces.iter().zip([-1.0, 1.0]) {
            draw_half(sheet, face, &place, sign);
        }
        let line = sheet.ink(Ink::Line);
        if faces[0].built.get() < 0.97 {
            let full = Placed {
                shape: &self.full,
                across: half / self.full.top_half(),
                ..place
            };
            let path = Element::new("path").set("d", closed_path(&full.outline()));
            sheet.document.leaf(&dashed(path, &sheet.ink(Ink::Quiet)));
        }
        let path = Element::new("path").set("d", closed_path(&place.outline()));
        let path = path
            .set("fill", "none")
            .set("stroke", &line)
            .num("stroke-width", 1.0);
        sheet.document.leaf(&path);
        let midrib = [hang, (hang.0, hang.1 + shape.depth() * self.scale)];
        let path = Element::new("path")
            .set("d", open_path(&midrib))
            .set("stroke", &line);
        sheet
            .document
            .leaf(&path.num("stroke-width", (half * 0.09).clamp(0.8, 1.6)));
        if bar.is_attached() {
            draw_attachment(sheet, &place);
        }
        if bar.is_crossed() {
            draw_crossing(sheet, &place, half);
        }
    }

    fn draw_strip(&self, sheet: &mut Sheet<'_>, hang: (f64, f64), half: f64) {
        let depth = (STRIP_MM * self.scale).max(4.0);
        let (x, y) = hang;
        let points = [
            (x - half, y),
            (x + half, y),
            (x + half * 0.9, y + depth * 0.8),
            (x + half * 0.45, y + depth * 0.65),
            (x + half * 0.1, y + depth),
            (x - half * 0.4, y + depth * 0.7),
            (x - half * 0.85, y + depth * 0.95),
        ];
        let path = Element::new("path").set("d", closed_path(&points));
        let path = path.set("fill", pattern::fill(sheet, SMALL, Kind::Empty));
        let path = path
            .set("stroke", sheet.ink(Ink::Line))
            .num("stroke-width", 0.9);
        sheet.document.leaf(&path);
    }
}

/// A shape at its place in the picture.
struct Placed<'a> {
    shape: &'a CombShape,
    hang: (f64, f64),
    /// CSS px along the row for one mm across the hive.
    across: f64,
    /// CSS px for one mm down.
    scale: f64,
}

impl Placed<'_> {
    fn point(&self, (half, y): (f64, f64), sign: f64) -> (f64, f64) {
        (
            self.hang.0 + sign * half * self.across,
            self.hang.1 + y * self.scale,
        )
    }

    fn outline(&self) -> Vec<(f64, f64)> {
        let side = self.shape.side(0.0, self.shape.depth());
        let right = side.iter().map(|p| self.point(*p, 1.0));
        let left = side.iter().rev().map(|p| self.point(*p, -1.0));
        right.chain(left).collect()
    }

    /// How far edges of bands rise from the midrib outward, mm.
    fn rise(&self) -> f64 {
        RISE * self.shape.top_half() * self.across / self.scale
    }
}

fn draw_half(sheet: &mut Sheet<'_>, face: &FacePicture, place: &Placed<'_>, sign: f64) {
    let (depth, rise) = (place.shape.depth(), place.rise());
    let mut from = 0.0;
    for (band, to) in face.bands.iter().zip(place.shape.edges(face)) {
        let last = to >= depth - 1e-6;
        // half the rise up at the side, half down at the midrib: the area stays
        let tilt = |edge: f64| {
            if edge <= 0.0 || edge >= depth - 1e-6 {
                0.0
            } else {
                rise / 2.0
            }
        };
        let side = place.shape.side(from - tilt(from), to - tilt(to));
        let mut points = vec![place.point((0.0, from + tilt(from)), sign)];
        points.extend(side.into_iter().map(|p| place.point(p, sign)));
        points.push(place.point((0.0, (to + tilt(to)).min(depth)), sign));
        let path = Element::new("path").set("d", closed_path(&points));
        let path = path.set("fill", pattern::fill(sheet, SMALL, band.kind));
        sheet.document.leaf(&path);
        if !last {
            let edge = [
                place.point((0.0, (to + tilt(to)).min(depth)), sign),
                place.point((place.shape.half_at(to - tilt(to)), to - tilt(to)), sign),
            ];
            let path = Element::new("path")
                .set("d", open_path(&edge))
                .set("fill", "none");
            let path = path
                .set("stroke", sheet.ink(Ink::Line))
                .num("stroke-width", 0.8);
            sheet.document.leaf(&if band.judged {
                path
            } else {
                path.set("stroke-dasharray", "2 1.6")
            });
        }
        if band.kind == Kind::Unknown {
            question(sheet, place, (from, to), sign);
        }
        from = to;
    }
}

/// A question mark in a band that is not known, where there is room for one.
fn question(sheet: &mut Sheet<'_>, place: &Placed<'_>, (from, to): (f64, f64), sign: f64) {
    let half = place.shape.half_at(f64::midpoint(from, to)) * place.across;
    let height = (to - from) * place.scale;
    let size = (half * 1.3).min(height * 0.8).min(sheet.text_size() * 1.1);
    if size < 6.0 {
        return;
    }
    let middle = from + (to - from) * 0.42;
    let (x, y) = place.point((place.shape.half_at(middle) * 0.5, middle), sign);
    let backing = Element::new("circle")
        .num("cx", x)
        .num("cy", y)
        .num("r", size * 0.52);
    sheet
        .document
        .leaf(&backing.set("fill", sheet.ink(Ink::Paper)));
    sheet.strong((x, y + size * 0.36), Anchor::Middle, size, Ink::Quiet, "?");
}

pub(crate) fn dashed(path: Element, ink: &str) -> Element {
    path.set("fill", "none")
        .set("stroke", ink)
        .num("stroke-width", 0.8)
        .set("stroke-dasharray", "2.5 2.5")
}

/// Built to the wall: wedges on both sides, where they are cut.
fn draw_attachment(sheet: &mut Sheet<'_>, place: &Placed<'_>) {
    let depth = place.shape.depth();
    for sign in [-1.0, 1.0] {
        let at = |y: f64, out: f64| {
            let (x, y) = place.point((place.shape.half_at(y), y), sign);
            (x + sign * out, y)
        };
        let points = [
            at(depth * 0.50, 0.0),
            at(depth * 0.58, 3.4),
            at(depth * 0.66, 0.0),
        ];
        let path = Element::new("path").set("d", closed_path(&points));
        let ink = sheet.ink(Ink::Line);
        sheet.document.leaf(&path.set("fill", ink));
    }
}

/// Crossed: a bold stroke that leaves its bar.
fn draw_crossing(sheet: &mut Sheet<'_>, place: &Placed<'_>, half: f64) {
    let depth = place.shape.depth() * place.scale;
    let (x, y) = place.hang;
    let line = [
        (x - half * 1.15, y + depth * 0.06),
        (x + half * 1.15, y + depth * 0.92),
    ];
    for (ink, width) in [(Ink::Paper, 4.2), (Ink::Line, 2.2)] {
        let path = Element::new("path")
            .set("d", open_path(&line))
            .set("stroke", sheet.ink(ink));
        sheet.document.leaf(
            &path
                .num("stroke-width", width)
                .set("stroke-linecap", "round"),
        );
    }
}

/// The bar itself, seen from its end; an empty one is light, a cut one has its strip below.
pub(crate) fn draw_bar(
    sheet: &mut Sheet<'_>,
    bar: &DrawnBar,
    (x, width): (f64, f64),
    (top, bottom): (f64, f64),
) {
    let ground = match bar.hanging {
        Hanging::Comb => Ink::Wood,
        Hanging::Strip | Hanging::Nothing => Ink::WoodLight,
    };
    let rect = Element::new("rect")
        .num("x", x)
        .num("y", top)
        .num("width", width)
        .num("height", bottom - top)
        .set("stroke", sheet.ink(Ink::WoodLine))
        .num("stroke-width", 0.9);
    let rect = if bar.aside {
        rect.set("fill", "none").set("stroke-dasharray", "2.5 2.5")
    } else {
        rect.set("fill", sheet.ink(ground))
    };
    sheet.document.leaf(&rect);
}
