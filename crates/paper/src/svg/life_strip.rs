//! One bar through time: each look as a small comb, the oldest on the left.

use comb::{Body, Outline, Share, ToldIn};

use super::PictureOptions;
use super::comb_shape::CombShape;
use super::element::{Element, closed_path, open_path};
use super::palette::Ink;
use super::pattern;
use super::sheet::{Anchor, SERIF, Sheet};
use crate::face::{FacePicture, both};
use crate::life::{Life, LifeLook};
use crate::{Kind, words};

const SMALL: &str = "s";
/// Width of one look, normal print, CSS px.
const CELL: f64 = 92.0;

/// The life of the combs on one bar: a comb for each look, its left half the left-facing side, with
/// the day and the place below and what happened between.
pub fn life_strip(life: &Life, body: &Body, options: &PictureOptions) -> String {
    let mut sheet = Sheet::new(options);
    let pattern_size = 5.0 * sheet.print();
    pattern::define(&mut sheet, SMALL, pattern_size, &Kind::ALL);
    let (margin, size) = (sheet.margin(), sheet.text_size());
    let mut y = margin * 0.5;
    if options.with_heading {
        y += size * 1.75;
        let label = sheet.label_element((margin, y), Anchor::Start, size * 1.75, Ink::Text);
        let name = format!("{} {}", words::BAR, life.number);
        sheet.document.text(&label.set("font-family", SERIF), &name);
        y += size * 0.6;
    }
    let outline = Outline::of(body);
    let room = sheet.width() - 2.0 * margin;
    let a_row = ((room / (CELL * sheet.print())) as usize).max(1);
    let cell = (room / a_row as f64).min(CELL * sheet.print() * 1.5);
    let scale = cell * 0.72 / outline.top_width().to_mm();
    let high = outline.depth().to_mm() * scale;
    if life.looks.is_empty() {
        y = sheet.paragraph((margin, y), room, size, Ink::Quiet, words::NEVER_LOOKED);
    }
    for row in life.looks.chunks(a_row) {
        let top = y + size * 1.6;
        for (i, look) in row.iter().enumerate() {
            let x = margin + cell * (i as f64 + 0.5);
            draw_look(&mut sheet, look, &outline, (x, top), (cell, scale));
        }
        y = top + high + size * 3.0;
    }
    let picture = sheet.take_document();
    let title = format!("{} {}", words::BAR, life.number);
    sheet.framed(
        y + margin * 0.5,
        &title,
        &describe(life, options.told_in),
        picture,
    )
}

fn draw_look(
    sheet: &mut Sheet<'_>,
    look: &LifeLook,
    outline: &Outline,
    (x, y): (f64, f64),
    (cell, scale): (f64, f64),
) {
    let size = sheet.text_size() * 0.92;
    let faces = both(&look.contents);
    let said = describe_look(look, sheet.options.told_in);
    sheet.document.open(
        &Element::new("g")
            .set("role", "img")
            .set("aria-label", &said),
    );
    sheet.document.text(&Element::new("title"), &said);
    let wood = Element::new("rect")
        .num("x", x - cell * 0.42)
        .num("y", y - 5.0);
    let wood = wood.num("width", cell * 0.84).num("height", 5.0);
    let wood = wood
        .set("fill", sheet.ink(Ink::Wood))
        .set("stroke", sheet.ink(Ink::WoodLine));
    sheet.document.leaf(&wood.num("stroke-width", 0.8));
    draw_comb(sheet, &faces, outline, (x, y), scale);
    sheet.document.close();
    if look.another_comb {
        let top = y - size * 1.4;
        let low = y + outline.depth().to_mm() * scale;
        let line = [(x - cell / 2.0, top), (x - cell / 2.0, low)];
        let path = Element::new("path")
            .set("d", open_path(&line))
            .set("stroke", sheet.ink(Ink::Line));
        sheet.document.leaf(&path.num("stroke-width", 1.6));
    }
    if !look.since.is_empty() {
        let letters = (cell / (size * super::sheet::LETTER)) as usize;
        let text = crate::text::cut(&look.since.join(", "), letters);
        sheet.label(
            (x, y - size * 0.75),
            Anchor::Middle,
            size,
            Ink::Quiet,
            &text,
        );
    }
    let below = y + outline.depth().to_mm() * scale + size * 1.25;
    let fitting = size.min(cell / 6.6);
    sheet.label(
        (x, below),
        Anchor::Middle,
        fitting,
        Ink::Text,
        &words::short_date(look.date),
    );
    if let Some(place) = look.place {
        let place = format!("{} {place}", words::PLACE);
        sheet.label(
            (x, below + size * 1.2),
            Anchor::Middle,
            fitting,
            Ink::Quiet,
            &place,
        );
    }
}

fn draw_comb(
    sheet: &mut Sheet<'_>,
    faces: &[FacePicture; 2],
    outline: &Outline,
    (x, y): (f64, f64),
    scale: f64,
) {
    let full = CombShape::of(outline, Share::ONE);
    let shape = CombShape::of(outline, faces[0].built);
    let at = |sign: f64, p: (f64, f64)| (x + sign * p.0 * scale, y + p.1 * scale);
    let around = |shape: &CombShape| -> Vec<(f64, f64)> {
        let side = shape.side(0.0, shape.depth());
        let right = side.iter().map(|p| at(1.0, *p));
        right
            .chain(side.iter().rev().map(|p| at(-1.0, *p)))
            .collect()
    };
    if faces[0].built.get() < 0.97 {
        let path = Element::new("path").set("d", closed_path(&around(&full)));
        let ink = sheet.ink(Ink::Quiet);
        sheet.document.leaf(&super::row_comb::dashed(path, &ink));
    }
    for (face, sign) in faces.iter().zip([-1.0, 1.0]) {
        let mut from = 0.0;
        for (band, to) in face.bands.iter().zip(shape.edges(face)) {
            let mut points = vec![at(sign, (0.0, from))];
            points.extend(shape.side(from, to).into_iter().map(|p| at(sign, p)));
            points.push(at(sign, (0.0, to)));
            let path = Element::new("path").set("d", closed_path(&points));
            let path = path.set("fill", pattern::fill(sheet, SMALL, band.kind));
            let path = path
                .set("stroke", sheet.ink(Ink::Line))
                .num("stroke-width", 0.7);
            sheet.document.leaf(&if band.judged {
                path
            } else {
                path.set("stroke-dasharray", "2.5 2")
            });
            from = to;
        }
    }
    let path = Element::new("path")
        .set("d", closed_path(&around(&shape)))
        .set("fill", "none");
    let path = path
        .set("stroke", sheet.ink(Ink::Line))
        .num("stroke-width", 1.1);
    sheet.document.leaf(&path);
}

fn describe(life: &Life, told_in: ToldIn) -> String {
    if life.looks.is_empty() {
        return words::NEVER_LOOKED.to_owned();
    }
    let looks: Vec<String> = life
        .looks
        .iter()
        .map(|look| describe_look(look, told_in))
        .collect();
    looks.join(" ")
}

fn describe_look(look: &LifeLook, told_in: ToldIn) -> String {
    let mut parts = look.since.clone();
    parts.push(format!(
        "{} {}",
        words::LEFT_FACE,
        words::face(&look.contents.left, &look.contents)
    ));
    parts.push(format!(
        "{} {}",
        words::RIGHT_FACE,
        words::face(&look.contents.right, &look.contents)
    ));
    parts.extend(words::whole_comb(&look.contents, told_in));
    format!("{}: {}.", words::date(look.date), parts.join("; "))
}
