//! This crate's own SVG pictures set into a page: one picture for screen, file and paper.
//!
//! Reads only what this crate writes: rect, circle, path with absolute M L Q A Z, text, and tiled
//! patterns. Anything else is refused, so that a new kind of mark is not silently left out.

use std::collections::BTreeMap;

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::paint::{Fill, Paint, Pattern, Stroke, StrokeDash};
use krilla::surface::Surface;
use roxmltree::Node;

use super::error::PaperError;
use super::typeface::{Typeface, Weight};
use super::write::pt;

/// Height of a picture for its width, both mm.
///
/// # Errors
/// [`PaperError::Picture`].
pub(crate) fn height(svg: &str, width: f64) -> Result<f64, PaperError> {
    let tree = parse(svg)?;
    let root = tree.root_element();
    let (w, h) = (number(root, "width")?, number(root, "height")?);
    Ok(width * f64::from(h) / f64::from(w))
}

pub(crate) fn draw(
    surface: &mut Surface<'_>,
    (x, y): (f64, f64),
    width: f64,
    svg: &str,
    face: &Typeface,
) -> Result<(), PaperError> {
    let tree = parse(svg)?;
    let root = tree.root_element();
    let scale = pt(width) / number(root, "width")?;
    surface.push_transform(&Transform::from_row(scale, 0.0, 0.0, scale, pt(x), pt(y)));
    let mut pen = Pen {
        face,
        patterns: BTreeMap::new(),
    };
    let done = pen.children(surface, root);
    surface.pop();
    done
}

fn parse(svg: &str) -> Result<roxmltree::Document<'_>, PaperError> {
    roxmltree::Document::parse(svg).map_err(|why| PaperError::Picture(why.to_string()))
}

fn wrong(node: Node<'_, '_>, what: &str) -> PaperError {
    PaperError::Picture(format!("{what} of <{}>", node.tag_name().name()))
}

fn number(node: Node<'_, '_>, name: &str) -> Result<f32, PaperError> {
    node.attribute(name)
        .and_then(|text| text.parse().ok())
        .ok_or_else(|| wrong(node, name))
}

fn number_or(node: Node<'_, '_>, name: &str, or: f32) -> Result<f32, PaperError> {
    if node.has_attribute(name) {
        number(node, name)
    } else {
        Ok(or)
    }
}

struct Pen<'a> {
    face: &'a Typeface,
    patterns: BTreeMap<String, Pattern>,
}

impl Pen<'_> {
    fn children(
        &mut self,
        surface: &mut Surface<'_>,
        parent: Node<'_, '_>,
    ) -> Result<(), PaperError> {
        for node in parent.children().filter(Node::is_element) {
            self.node(surface, node)?;
        }
        Ok(())
    }

    fn node(&mut self, surface: &mut Surface<'_>, node: Node<'_, '_>) -> Result<(), PaperError> {
        match node.tag_name().name() {
            "title" | "desc" => Ok(()),
            // the picture's own ground: paper is white already, and ink costs
            "rect" if is_ground(node) => Ok(()),
            "g" | "defs" => self.children(surface, node),
            "pattern" => self.pattern(surface, node),
            "text" => self.text(surface, node),
            "rect" | "circle" | "path" => self.shape(surface, node),
            _ => Err(wrong(node, "an element")),
        }
    }

    fn pattern(&mut self, surface: &mut Surface<'_>, node: Node<'_, '_>) -> Result<(), PaperError> {
        let (width, height) = (number(node, "width")?, number(node, "height")?);
        let mut builder = surface.stream_builder();
        let mut tile = builder.surface();
        // strokes may hang over the tile; they are cut at its edge as SVG does
        let whole = Rect::from_xywh(0.0, 0.0, width, height).ok_or_else(|| wrong(node, "size"))?;
        let mut edge = PathBuilder::new();
        edge.push_rect(whole);
        let edge = edge.finish().ok_or_else(|| wrong(node, "size"))?;
        tile.push_clip_path(&edge, &krilla::paint::FillRule::NonZero);
        self.children(&mut tile, node)?;
        tile.pop();
        tile.finish();
        let pattern = Pattern {
            stream: builder.finish(),
            transform: Transform::identity(),
            width,
            height,
        };
        if let Some(id) = node.attribute("id") {
            self.patterns.insert(id.to_owned(), pattern);
        }
        Ok(())
    }

    fn shape(&mut self, surface: &mut Surface<'_>, node: Node<'_, '_>) -> Result<(), PaperError> {
        let path = match node.tag_name().name() {
            "rect" => {
                let at = (number_or(node, "x", 0.0)?, number_or(node, "y", 0.0)?);
                let (w, h) = (number(node, "width")?, number(node, "height")?);
                let mut builder = PathBuilder::new();
                if let Some(rect) = Rect::from_xywh(at.0, at.1, w, h) {
                    builder.push_rect(rect);
                }
                builder.finish()
            }
            "circle" => circle(number(node, "cx")?, number(node, "cy")?, number(node, "r")?),
            _ => path(node)?,
        };
        let Some(path) = path else { return Ok(()) };
        surface.set_fill(self.fill(node)?);
        surface.set_stroke(stroke(node)?);
        surface.draw_path(&path);
        Ok(())
    }

    fn fill(&self, node: Node<'_, '_>) -> Result<Option<Fill>, PaperError> {
        let text = node.attribute("fill").unwrap_or("#000000");
        let paint = if text == "none" {
            return Ok(None);
        } else if let Some(rest) = text.strip_prefix("url(#") {
            let (id, _) = rest.split_once(')').ok_or_else(|| wrong(node, "fill"))?;
            let pattern = self.patterns.get(id).ok_or_else(|| wrong(node, "fill"))?;
            pattern.clone().into()
        } else {
            colour(text).ok_or_else(|| wrong(node, "fill"))?
        };
        Ok(Some(Fill {
            paint,
            ..Fill::default()
        }))
    }

    fn text(&mut self, surface: &mut Surface<'_>, node: Node<'_, '_>) -> Result<(), PaperError> {
        let text = node.text().unwrap_or_default();
        if text.is_empty() {
            return Ok(());
        }
        let size = number(node, "font-size")?;
        let heavy = node
            .attribute("font-weight")
            .is_some_and(|weight| weight != "400" && weight != "normal");
        let weight = if heavy {
            Weight::Strong
        } else {
            Weight::Regular
        };
        let width = self.face.width(text, f64::from(size), weight) as f32;
        let x = number(node, "x")?;
        let left = match node.attribute("text-anchor") {
            Some("middle") => x - width / 2.0,
            Some("end") => x - width,
            _ => x,
        };
        surface.set_fill(self.fill(node)?);
        surface.set_stroke(None);
        let cut = self.face.cut(weight);
        let start = Point::from_xy(left, number(node, "y")?);
        surface.draw_glyphs(
            start,
            &cut.glyphs(text),
            cut.font.clone(),
            text,
            size,
            false,
        );
        Ok(())
    }
}

/// The first rectangle of a picture, as large as the picture.
fn is_ground(node: Node<'_, '_>) -> bool {
    let root = node.document().root_element();
    node.parent() == Some(root)
        && !node.has_attribute("x")
        && node.attribute("width") == root.attribute("width")
        && node.attribute("height") == root.attribute("height")
}

fn stroke(node: Node<'_, '_>) -> Result<Option<Stroke>, PaperError> {
    let Some(text) = node.attribute("stroke").filter(|text| *text != "none") else {
        return Ok(None);
    };
    let dash = node.attribute("stroke-dasharray").map(|dashes| {
        let parts = dashes
            .split([' ', ','])
            .filter_map(|part| part.parse().ok());
        StrokeDash {
            array: parts.collect(),
            offset: 0.0,
        }
    });
    Ok(Some(Stroke {
        paint: colour(text).ok_or_else(|| wrong(node, "stroke"))?,
        width: number_or(node, "stroke-width", 1.0)?,
        dash,
        ..Stroke::default()
    }))
}

/// `#rrggbb`.
fn colour(text: &str) -> Option<Paint> {
    let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6)?;
    let part = |at: usize| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok();
    Some(rgb::Color::new(part(0)?, part(2)?, part(4)?).into())
}

/// A circle of four curves; the usual constant, good to 0.03 % of the radius.
fn circle(x: f32, y: f32, r: f32) -> Option<Path> {
    let k = r * 0.552_284_8;
    let mut builder = PathBuilder::new();
    builder.move_to(x + r, y);
    builder.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
    builder.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
    builder.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
    builder.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
    builder.close();
    builder.finish()
}

fn path(node: Node<'_, '_>) -> Result<Option<Path>, PaperError> {
    let data = node.attribute("d").ok_or_else(|| wrong(node, "d"))?;
    let mut builder = PathBuilder::new();
    let mut at = (0.0_f32, 0.0_f32);
    let mut rest = data;
    while let Some(start) = rest.find(|c: char| c.is_ascii_alphabetic()) {
        let command = rest.as_bytes()[start] as char;
        rest = &rest[start + 1..];
        let end = rest
            .find(|c: char| c.is_ascii_alphabetic())
            .unwrap_or(rest.len());
        let numbers: Vec<f32> = rest[..end]
            .split([' ', ','])
            .filter(|part| !part.is_empty())
            .map(|part| part.parse().map_err(|_| wrong(node, "d")))
            .collect::<Result<_, _>>()?;
        rest = &rest[end..];
        match (command, numbers.as_slice()) {
            ('M', [x, y]) => {
                at = (*x, *y);
                builder.move_to(*x, *y);
            }
            ('L', [x, y]) => {
                at = (*x, *y);
                builder.line_to(*x, *y);
            }
            ('Q', [a, b, x, y]) => {
                at = (*x, *y);
                builder.quad_to(*a, *b, *x, *y);
            }
            ('A', [r, _, _, large, sweep, x, y]) => {
                arc(&mut builder, at, *r, (*large > 0.5, *sweep > 0.5), (*x, *y));
                at = (*x, *y);
            }
            ('Z', []) => builder.close(),
            _ => return Err(wrong(node, "d")),
        }
    }
    Ok(builder.finish())
}

/// A circular arc as straight steps of at most 6 degrees: off by under 0.14 % of the radius.
fn arc(
    builder: &mut PathBuilder,
    (x0, y0): (f32, f32),
    r: f32,
    (large, sweep): (bool, bool),
    (x1, y1): (f32, f32),
) {
    let (dx, dy) = (f64::from(x1 - x0), f64::from(y1 - y0));
    let chord = libm::sqrt(dx * dx + dy * dy);
    let r = f64::from(r).max(chord / 2.0);
    if chord < 1e-6 {
        return;
    }
    let away = libm::sqrt((r * r - chord * chord / 4.0).max(0.0));
    // SVG 1.1, implementation notes F.6.5: on which side of the chord the centre lies
    let side = if large == sweep { -1.0 } else { 1.0 };
    let cx = f64::from(x0) + dx / 2.0 - side * away * dy / chord;
    let cy = f64::from(y0) + dy / 2.0 + side * away * dx / chord;
    let start = libm::atan2(f64::from(y0) - cy, f64::from(x0) - cx);
    let end = libm::atan2(f64::from(y1) - cy, f64::from(x1) - cx);
    let full = std::f64::consts::TAU;
    let mut turn = end - start;
    if sweep && turn < 0.0 {
        turn += full;
    }
    if !sweep && turn > 0.0 {
        turn -= full;
    }
    let steps = libm::ceil(turn.abs() / full * 60.0).max(1.0) as u32;
    for step in 1..=steps {
        let angle = start + turn * f64::from(step) / f64::from(steps);
        builder.line_to(
            (cx + r * libm::cos(angle)) as f32,
            (cy + r * libm::sin(angle)) as f32,
        );
    }
}
