//! A page as a list of marks in millimetres, from the top left corner: what layout makes and the
//! writer draws.

use super::typeface::{Typeface, Weight};

/// Sheet of paper, portrait, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Paper {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Paper {
    /// ISO 216 A4.
    pub const A4: Self = Self {
        width: 210.0,
        height: 297.0,
    };
    /// ANSI A, "letter": 8.5 by 11 in.
    pub const LETTER: Self = Self {
        width: 215.9,
        height: 279.4,
    };
}

/// Where a line of text is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Hold {
    /// At its left end.
    #[default]
    Left,
    /// In its middle.
    Middle,
    /// At its right end.
    Right,
}

/// How light a mark is, from 0 (black) to 255 (white).
pub type Shade = u8;

/// Ink for text that is read.
pub const BLACK: Shade = 0;
/// Ink for text beside it; still 7:1 against white (WCAG 2.2, contrast enhanced).
pub const QUIET: Shade = 80;
/// Ink for rules.
pub const FAINT: Shade = 170;

/// One mark.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A line of text; `y` is the line it stands on.
    Text {
        /// Where it is held.
        x: f64,
        /// The line it stands on.
        y: f64,
        /// Letter size (em).
        size: f64,
        /// Weight.
        weight: Weight,
        /// Where along the text `x` is.
        hold: Hold,
        /// Ink.
        shade: Shade,
        /// The words.
        text: String,
    },
    /// A line through points.
    Line {
        /// Its points.
        points: Vec<(f64, f64)>,
        /// Its width.
        width: f64,
        /// Ink.
        shade: Shade,
        /// Length of dash and gap; `None` is unbroken.
        dash: Option<f64>,
    },
    /// A filled area with an edge.
    Area {
        /// Its corners.
        points: Vec<(f64, f64)>,
        /// Its ink.
        fill: Option<Shade>,
        /// Width and ink of its edge.
        edge: Option<(f64, Shade)>,
    },
    /// Square black cells, as of a code.
    Cells {
        /// Upper left corner.
        at: (f64, f64),
        /// Side of a cell.
        cell: f64,
        /// Runs: column, row, length.
        runs: Vec<(u16, u16, u16)>,
    },
    /// A picture of this crate, by its SVG text.
    Picture {
        /// Upper left corner.
        at: (f64, f64),
        /// Width on the page.
        width: f64,
        /// The picture.
        svg: String,
    },
}

/// One page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// Its sheet.
    pub paper: Paper,
    /// Its marks, in the order in which they are drawn.
    pub marks: Vec<Mark>,
}

impl Page {
    /// An empty page.
    pub const fn new(paper: Paper) -> Self {
        Self {
            paper,
            marks: Vec::new(),
        }
    }

    /// Black text held at its left end.
    pub fn text(&mut self, at: (f64, f64), size: f64, weight: Weight, text: impl Into<String>) {
        self.held(at, size, weight, Hold::Left, BLACK, text);
    }

    /// Text.
    pub fn held(
        &mut self,
        (x, y): (f64, f64),
        size: f64,
        weight: Weight,
        hold: Hold,
        shade: Shade,
        text: impl Into<String>,
    ) {
        let text = text.into();
        if text.is_empty() {
            return;
        }
        self.marks.push(Mark::Text {
            x,
            y,
            size,
            weight,
            hold,
            shade,
            text,
        });
    }

    /// A straight line.
    pub fn rule(&mut self, from: (f64, f64), to: (f64, f64), width: f64, shade: Shade) {
        self.marks.push(Mark::Line {
            points: vec![from, to],
            width,
            shade,
            dash: None,
        });
    }

    /// A box with an edge and no filling.
    pub fn frame(&mut self, (x, y): (f64, f64), (w, h): (f64, f64), width: f64, shade: Shade) {
        self.marks.push(Mark::Area {
            points: rectangle((x, y), (w, h)),
            fill: None,
            edge: Some((width, shade)),
        });
    }

    /// A filled box.
    pub fn block(&mut self, at: (f64, f64), size: (f64, f64), shade: Shade) {
        self.marks.push(Mark::Area {
            points: rectangle(at, size),
            fill: Some(shade),
            edge: None,
        });
    }

    /// Every line of text on the page, in order.
    pub fn texts(&self) -> impl Iterator<Item = &str> {
        self.marks.iter().filter_map(|mark| match mark {
            Mark::Text { text, .. } => Some(text.as_str()),
            _ => None,
        })
    }

    /// Text that runs over the sheet's edge: a fault of layout.
    pub fn runs_over(&self, face: &Typeface) -> Option<&str> {
        self.marks.iter().find_map(|mark| {
            let Mark::Text {
                x,
                y,
                size,
                weight,
                hold,
                text,
                ..
            } = mark
            else {
                return None;
            };
            let width = face.width(text, *size, *weight);
            let left = match hold {
                Hold::Left => *x,
                Hold::Middle => x - width / 2.0,
                Hold::Right => x - width,
            };
            let inside = left >= 0.0
                && left + width <= self.paper.width
                && *y <= self.paper.height
                && *y >= 0.0;
            (!inside).then_some(text.as_str())
        })
    }
}

fn rectangle((x, y): (f64, f64), (w, h): (f64, f64)) -> Vec<(f64, f64)> {
    vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
}
