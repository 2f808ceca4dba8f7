//! The comb in hand: its two sides next to each other, each in the body's own cross-section.

use comb::{Body, Length, Share};
use hive::BarId;
use hive::entry::{Face, Hanging};

use super::PictureOptions;
use super::arches::{Arches, WIDE, pill};
use super::comb_shape::CombShape;
use super::element::{Element, closed_path, number};
use super::palette::Ink;
use super::pattern;
use super::sheet::{Anchor, SERIF, Sheet, text_width};
use crate::face::FacePicture;
use crate::section::{DrawnBar, HiveSection};
use crate::{Kind, words};

/// How far the ends of a bar reach over the cavity, and the drawn thickness of bar and walls, mm.
/// Source: practice; a body's record does not say them.
const BAR_REACH_MM: f64 = 26.0;
const BAR_HEIGHT_MM: f64 = 19.0;
const WALL_MM: f64 = 14.0;
/// Bold letters are wider than plain ones. Source: practice.
const BOLD: f64 = 1.12;

/// One comb large, both sides. The side that looks at the opened gap is called so where one end is
/// open. `None` when the bar is not in the row.
pub fn comb_large(section: &HiveSection, bar: BarId, options: &PictureOptions) -> Option<String> {
    let bar = section.bar(bar)?;
    let mut sheet = Sheet::new(options);
    let panels = Panels::of(&sheet, &section.body);
    let pattern_size = (panels.scale * 20.0).clamp(6.0, 15.0);
    pattern::define(&mut sheet, WIDE, pattern_size, &Kind::ALL);
    let mut y = heading(&mut sheet, bar);
    y += sheet.text_size() * 1.2;
    let mut lowest = y;
    for (i, face) in [Face::Left, Face::Right].into_iter().enumerate() {
        let x = panels.left + panels.step * i as f64;
        let below = panel(&mut sheet, section, bar, face, (x, y), &panels);
        lowest = lowest.max(below);
    }
    let whole = words::whole_comb(&bar.contents, options.told_in);
    if !whole.is_empty() {
        let (margin, size) = (sheet.margin(), sheet.text_size());
        let room = sheet.width() - 2.0 * margin;
        let text = words::capital(&format!("{}.", whole.join(", ")));
        lowest = sheet.paragraph((margin, lowest + size * 0.3), room, size, Ink::Text, &text);
    }
    let height = lowest + sheet.margin();
    let picture = sheet.take_document();
    let title = format!(
        "{}, bar {}",
        super::section_picture::title(section),
        bar.number
    );
    Some(sheet.framed(height, &title, &words::bar(bar, options.told_in), picture))
}

/// Where the two panels stand.
struct Panels {
    left: f64,
    step: f64,
    width: f64,
    scale: f64,
}

impl Panels {
    fn of(sheet: &Sheet<'_>, body: &Body) -> Self {
        let margin = sheet.margin();
        let width = (sheet.width() - 3.0 * margin) / 2.0;
        let across = body.top_width().to_mm() + 2.0 * BAR_REACH_MM;
        Self {
            left: margin,
            step: width + margin,
            width,
            scale: width / across,
        }
    }
}

fn heading(sheet: &mut Sheet<'_>, bar: &DrawnBar) -> f64 {
    let (margin, size) = (sheet.margin(), sheet.text_size());
    if !sheet.options.with_heading {
        return margin * 0.4;
    }
    let large = size * 1.9;
    let y = margin * 0.5 + large;
    let element = sheet.label_element((margin, y), Anchor::Start, large, Ink::Text);
    let name = format!("{} {}", words::BAR, bar.number);
    sheet
        .document
        .text(&element.set("font-family", SERIF), &name);
    let place = format!("{} {}", words::PLACE, bar.place);
    let mut x = margin + text_width(&name, large) + size;
    sheet.label((x, y), Anchor::Start, size, Ink::Quiet, &place);
    if let Some(mark) = bar.mark {
        x += text_width(&place, size) + size * 1.6;
        super::marks::draw(sheet, mark, (x, y - size * 0.35), size * 0.6);
        sheet.strong(
            (x + size, y),
            Anchor::Start,
            size,
            Ink::Text,
            words::mark(mark),
        );
    }
    y + size * 0.6
}

/// One side of the comb; gives the lower edge of its words.
fn panel(
    sheet: &mut Sheet<'_>,
    section: &HiveSection,
    bar: &DrawnBar,
    face: Face,
    (x, y): (f64, f64),
    panels: &Panels,
) -> f64 {
    let (contents, index, name) = match face {
        Face::Left => (&bar.contents.left, 0, words::LEFT_FACE),
        Face::Right => (&bar.contents.right, 1, words::RIGHT_FACE),
    };
    let size = sheet.text_size();
    let middle = x + panels.width / 2.0;
    let this_side = section.opened.len() == 1 && section.opened[0].near_face() == face;
    let name = if this_side {
        format!("{name} ({})", words::THIS_SIDE)
    } else {
        name.to_owned()
    };
    let title_size = size.min(panels.width / (text_width(&name, BOLD)));
    sheet.strong((middle, y), Anchor::Middle, title_size, Ink::Text, &name);
    let top = y + size * 0.6;
    let hang = top + BAR_HEIGHT_MM * panels.scale;
    let said = words::face(contents, &bar.contents);
    sheet.document.open(
        &Element::new("g")
            .set("role", "img")
            .set("aria-label", format!("{name}: {said}")),
    );
    draw_body(sheet, &section.body, (middle, hang), panels.scale);
    if let Some(faces) = bar.faces() {
        draw_face(
            sheet,
            section,
            bar,
            &faces[index],
            (middle, hang),
            panels.scale,
        );
    } else if bar.hanging == Hanging::Strip {
        draw_strip(sheet, section, (middle, hang), panels.scale);
    }
    draw_bar(sheet, (x, top), panels);
    sheet.document.close();
    let floor = hang + (section.body.depth().to_mm() + WALL_MM) * panels.scale;
    if !bar.has_comb() {
        let text = words::hanging(bar.hanging);
        sheet.label(
            (middle, floor + size * 1.35),
            Anchor::Middle,
            size,
            Ink::Text,
            text,
        );
        return floor + size * 1.6;
    }
    sheet.paragraph(
        (x, floor + size * 0.2),
        panels.width,
        size,
        Ink::Text,
        &words::capital(&said),
    )
}

fn draw_bar(sheet: &mut Sheet<'_>, (x, y): (f64, f64), panels: &Panels) {
    let rect = Element::new("rect")
        .num("x", x)
        .num("y", y)
        .num("width", panels.width);
    let rect = rect
        .num("height", BAR_HEIGHT_MM * panels.scale)
        .num("rx", 2.0);
    let rect = rect
        .set("fill", sheet.ink(Ink::Wood))
        .set("stroke", sheet.ink(Ink::WoodLine));
    sheet.document.leaf(&rect.num("stroke-width", 1.0));
}

/// The cavity and its walls.
fn draw_body(sheet: &mut Sheet<'_>, body: &Body, (x, y): (f64, f64), scale: f64) {
    let depth = body.depth().to_mm();
    let steps = 40;
    let side: Vec<(f64, f64)> = (0..=steps)
        .map(|i| {
            let down = depth * f64::from(i) / f64::from(steps);
            (body.half_width_at(Length::mm(down)).to_mm(), down)
        })
        .collect();
    let around = |thick: f64, under: f64| -> Vec<(f64, f64)> {
        let at = |sign: f64, p: &(f64, f64)| {
            let down = if p.1 >= depth { p.1 + under } else { p.1 };
            (x + sign * (p.0 + thick) * scale, y + down * scale)
        };
        let right = side.iter().map(|p| at(1.0, p));
        let left = side.iter().rev().map(|p| at(-1.0, p));
        right.chain(left).collect()
    };
    for (points, ink) in [
        (around(WALL_MM, WALL_MM), Ink::Wood),
        (around(0.0, 0.0), Ink::Cavity),
    ] {
        let path = Element::new("path")
            .set("d", closed_path(&points))
            .set("fill", sheet.ink(ink));
        let path = path
            .set("stroke", sheet.ink(Ink::WoodLine))
            .num("stroke-width", 0.9);
        sheet.document.leaf(&path);
    }
}

fn outline(shape: &CombShape, (x, y): (f64, f64), scale: f64) -> Vec<(f64, f64)> {
    let side = shape.side(0.0, shape.depth());
    let at = |sign: f64, p: &(f64, f64)| (x + sign * p.0 * scale, y + p.1 * scale);
    let right = side.iter().map(|p| at(1.0, p));
    let left = side.iter().rev().map(|p| at(-1.0, p));
    right.chain(left).collect()
}

fn draw_face(
    sheet: &mut Sheet<'_>,
    section: &HiveSection,
    bar: &DrawnBar,
    face: &FacePicture,
    hang: (f64, f64),
    scale: f64,
) {
    let full = CombShape::of(&section.outline(), Share::ONE);
    let shape = CombShape::of(&section.outline(), face.built);
    if face.built.get() < 0.97 {
        let path = Element::new("path").set("d", closed_path(&outline(&full, hang, scale)));
        let ink = sheet.ink(Ink::Quiet);
        sheet.document.leaf(&super::row_comb::dashed(path, &ink));
    }
    if bar.is_attached() {
        draw_attachments(sheet, section, &shape, hang, scale);
    }
    let points = closed_path(&outline(&shape, hang, scale));
    // the clip's name must differ between the two sides
    let clip = sheet.id(&format!("clip-{}", number(hang.0).replace('.', "-")));
    sheet
        .document
        .open(&Element::new("clipPath").set("id", &clip));
    sheet.document.leaf(&Element::new("path").set("d", &points));
    sheet.document.close();
    sheet
        .document
        .open(&Element::new("g").set("clip-path", format!("url(#{clip})")));
    let arches = Arches::of(&shape, face, hang, scale);
    arches.draw(sheet, face);
    sheet.document.close();
    let path = Element::new("path").set("d", &points).set("fill", "none");
    let path = path
        .set("stroke", sheet.ink(Ink::Line))
        .num("stroke-width", 1.6);
    sheet.document.leaf(&path);
    arches.name(sheet, face, &shape);
    if bar.is_crossed() {
        let text = words::CROSSED;
        let y = hang.1 + shape.depth() * scale * 0.94;
        pill(sheet, (hang.0, y), text);
    }
}

/// Built to the wall: wax from the comb's edge to the wall on both sides.
fn draw_attachments(
    sheet: &mut Sheet<'_>,
    section: &HiveSection,
    shape: &CombShape,
    (x, y): (f64, f64),
    scale: f64,
) {
    for sign in [-1.0, 1.0] {
        let wall = |down: f64| {
            let half = section.body.half_width_at(Length::mm(down)).to_mm();
            (x + sign * half * scale, y + down * scale)
        };
        let edge = |down: f64| (x + sign * shape.half_at(down) * scale, y + down * scale);
        let (from, to) = (shape.depth() * 0.35, shape.depth() * 0.6);
        let points = [edge(from), wall(from + 8.0), wall(to - 8.0), edge(to)];
        let path = Element::new("path").set("d", closed_path(&points));
        let path = path.set("fill", sheet.ink(Ink::Line));
        sheet.document.leaf(&path);
    }
}

fn draw_strip(sheet: &mut Sheet<'_>, section: &HiveSection, (x, y): (f64, f64), scale: f64) {
    let half = section.outline().top_width().to_mm() / 2.0 * scale;
    let depth = 20.0 * scale;
    let teeth = 11;
    let mut points = vec![(x - half, y), (x + half, y)];
    for i in 0..=teeth {
        let part = f64::from(i) / f64::from(teeth);
        let down = if i % 2 == 0 { depth } else { depth * 0.7 };
        points.push((x + half * (0.96 - 1.92 * part), y + down));
    }
    let path = Element::new("path").set("d", closed_path(&points));
    let path = path.set("fill", pattern::fill(sheet, WIDE, Kind::Empty));
    sheet.document.leaf(
        &path
            .set("stroke", sheet.ink(Ink::Line))
            .num("stroke-width", 1.2),
    );
}
