//! Pages into a PDF file.

use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point, Rect};
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::{Document, SerializeSettings};

use super::error::PaperError;
use super::page::{Hold, Mark, Page, Shade};
use super::picture;
use super::typeface::{PT_PER_MM, Typeface};

/// What a file says of itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct About {
    /// Its title.
    pub title: String,
    /// Its language, as in BCP 47.
    pub language: String,
}

impl About {
    /// An English paper of this title.
    pub fn titled(title: impl Into<String>) -> Self {
        Self {
            title: title.into(),
            language: "en".to_owned(),
        }
    }
}

/// The pages as one PDF. The same pages give the same bytes: no clock, no random id.
///
/// # Errors
/// [`PaperError::Write`]; [`PaperError::Picture`].
pub fn write(pages: &[Page], about: &About, face: &Typeface) -> Result<Vec<u8>, PaperError> {
    let mut document = Document::new_with(SerializeSettings {
        enable_tagging: false,
        ..SerializeSettings::default()
    });
    document.set_metadata(
        Metadata::new()
            .title(about.title.clone())
            .language(about.language.clone())
            .creator("Combwright".to_owned()),
    );
    for page in pages {
        let (w, h) = (pt(page.paper.width), pt(page.paper.height));
        let settings = PageSettings::from_wh(w, h)
            .ok_or_else(|| PaperError::Write("a sheet without size".to_owned()))?;
        let mut sheet = document.start_page_with(settings);
        let mut surface = sheet.surface();
        for mark in &page.marks {
            draw(&mut surface, mark, face)?;
        }
        surface.finish();
        sheet.finish();
    }
    document
        .finish()
        .map_err(|why| PaperError::Write(format!("{why:?}")))
}

pub(crate) fn pt(mm: f64) -> f32 {
    (mm * PT_PER_MM) as f32
}

pub(crate) fn inked(shade: Shade) -> Fill {
    Fill {
        paint: luma::Color::new(shade).into(),
        ..Fill::default()
    }
}

fn draw(surface: &mut Surface<'_>, mark: &Mark, face: &Typeface) -> Result<(), PaperError> {
    match mark {
        Mark::Text {
            x,
            y,
            size,
            weight,
            hold,
            shade,
            text,
        } => {
            let width = face.width(text, *size, *weight);
            let left = match hold {
                Hold::Left => *x,
                Hold::Middle => x - width / 2.0,
                Hold::Right => x - width,
            };
            surface.set_stroke(None);
            surface.set_fill(Some(inked(*shade)));
            let cut = face.cut(*weight);
            let start = Point::from_xy(pt(left), pt(*y));
            surface.draw_glyphs(
                start,
                &cut.glyphs(text),
                cut.font.clone(),
                text,
                pt(*size),
                false,
            );
        }
        Mark::Line {
            points,
            width,
            shade,
            dash,
        } => {
            surface.set_fill(None);
            surface.set_stroke(Some(stroke(*width, *shade, *dash)));
            draw_path(surface, path(points, false));
        }
        Mark::Area { points, fill, edge } => {
            surface.set_fill(fill.map(inked));
            surface.set_stroke(edge.map(|(width, shade)| stroke(width, shade, None)));
            draw_path(surface, path(points, true));
        }
        Mark::Cells { at, cell, runs } => {
            surface.set_stroke(None);
            surface.set_fill(Some(Fill {
                rule: FillRule::NonZero,
                ..inked(0)
            }));
            draw_path(surface, cells(*at, *cell, runs));
        }
        Mark::Picture { at, width, svg } => picture::draw(surface, *at, *width, svg, face)?,
    }
    Ok(())
}

fn stroke(width: f64, shade: Shade, dash: Option<f64>) -> Stroke {
    Stroke {
        paint: luma::Color::new(shade).into(),
        width: pt(width),
        dash: dash.map(|mm| StrokeDash {
            array: vec![pt(mm), pt(mm)],
            offset: 0.0,
        }),
        ..Stroke::default()
    }
}

fn draw_path(surface: &mut Surface<'_>, path: Option<Path>) {
    if let Some(path) = path {
        surface.draw_path(&path);
    }
}

fn path(points: &[(f64, f64)], closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for (i, (x, y)) in points.iter().enumerate() {
        if i == 0 {
            builder.move_to(pt(*x), pt(*y));
        } else {
            builder.line_to(pt(*x), pt(*y));
        }
    }
    if closed {
        builder.close();
    }
    builder.finish()
}

/// One path for all cells, so that no hairline shows between neighbours.
fn cells((x, y): (f64, f64), cell: f64, runs: &[(u16, u16, u16)]) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for &(column, row, length) in runs {
        let left = x + f64::from(column) * cell;
        let top = y + f64::from(row) * cell;
        let rect = Rect::from_xywh(pt(left), pt(top), pt(f64::from(length) * cell), pt(cell))?;
        builder.push_rect(rect);
    }
    builder.finish()
}
