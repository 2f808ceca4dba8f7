//! Marks over the bars: told apart by shape, not by colour.

use super::element::{Element, open_path};
use super::palette::Ink;
use super::sheet::{Anchor, Sheet};
use crate::Mark;

/// Draws one mark around its middle.
pub(crate) fn draw(sheet: &mut Sheet<'_>, mark: Mark, (x, y): (f64, f64), r: f64) {
    match mark {
        Mark::Take => {
            disc(sheet, (x, y), r, Ink::Text);
            let tick = [(-0.45, 0.05), (-0.1, 0.4), (0.5, -0.35)];
            stroke(sheet, (x, y), r, &tick, Ink::Paper);
        }
        Mark::Ripening => {
            ring(sheet, (x, y), r);
            half_disc(sheet, (x, y), r);
        }
        Mark::Stays => {
            let side = r * 1.5;
            let rect = Element::new("rect")
                .num("x", x - side / 2.0)
                .num("y", y - side / 2.0);
            let rect = rect.num("width", side).num("height", side);
            let ink = sheet.ink(Ink::Text);
            let rect = rect.set("fill", "none").set("stroke", ink);
            sheet.document.leaf(&rect.num("stroke-width", weight(r)));
        }
        Mark::LookAgain => {
            let size = r * 2.3;
            sheet.strong((x, y + size * 0.36), Anchor::Middle, size, Ink::Text, "?");
        }
        Mark::SetAside => {
            let arrow = [(-0.7, 0.7), (0.7, -0.7)];
            stroke(sheet, (x, y), r, &arrow, Ink::Text);
            let head = [(-0.25, -0.7), (0.7, -0.7), (0.7, 0.25)];
            stroke(sheet, (x, y), r, &head, Ink::Text);
        }
        Mark::Lifted => {
            let arrow = [(0.0, 0.95), (0.0, -0.9)];
            stroke(sheet, (x, y), r, &arrow, Ink::Text);
            let head = [(-0.7, -0.2), (0.0, -0.9), (0.7, -0.2)];
            stroke(sheet, (x, y), r, &head, Ink::Text);
        }
    }
}

fn weight(r: f64) -> f64 {
    (r * 0.28).clamp(1.0, 3.0)
}

fn disc(sheet: &mut Sheet<'_>, (x, y): (f64, f64), r: f64, ink: Ink) {
    let circle = Element::new("circle").num("cx", x).num("cy", y).num("r", r);
    let ink = sheet.ink(ink);
    sheet.document.leaf(&circle.set("fill", ink));
}

fn ring(sheet: &mut Sheet<'_>, (x, y): (f64, f64), r: f64) {
    let circle = Element::new("circle").num("cx", x).num("cy", y);
    let circle = circle.num("r", r - weight(r) / 2.0).set("fill", "none");
    let ink = sheet.ink(Ink::Text);
    sheet
        .document
        .leaf(&circle.set("stroke", ink).num("stroke-width", weight(r)));
}

fn half_disc(sheet: &mut Sheet<'_>, (x, y): (f64, f64), r: f64) {
    use super::element::number;
    let inner = r - weight(r) / 2.0;
    let path = format!(
        "M{} {}A{i} {i} 0 0 0 {} {}Z",
        number(x - inner),
        number(y),
        number(x + inner),
        number(y),
        i = number(inner)
    );
    let ink = sheet.ink(Ink::Text);
    sheet
        .document
        .leaf(&Element::new("path").set("d", path).set("fill", ink));
}

fn stroke(sheet: &mut Sheet<'_>, (x, y): (f64, f64), r: f64, points: &[(f64, f64)], ink: Ink) {
    let points: Vec<(f64, f64)> = points.iter().map(|p| (x + p.0 * r, y + p.1 * r)).collect();
    let path = Element::new("path")
        .set("d", open_path(&points))
        .set("fill", "none");
    let ink = sheet.ink(ink);
    let path = path.set("stroke", ink).num("stroke-width", weight(r));
    sheet.document.leaf(
        &path
            .set("stroke-linecap", "round")
            .set("stroke-linejoin", "round"),
    );
}
