//! The sheet that a picture is drawn on: its document, colours, letters and ids.

use super::element::{Document, Element, number};
use super::palette::Ink;
use super::{PictureOptions, Theme};

/// Letters, from the normal size, CSS px.
const TEXT: f64 = 13.0;
const LARGE: f64 = 1.4;
/// Mean width of a letter as a part of its size, for generic sans-serif; measured generously, since
/// fonts differ. Source: practice.
pub(crate) const LETTER: f64 = 0.56;

pub(crate) const SANS: &str = "system-ui, sans-serif";
pub(crate) const SERIF: &str = "ui-serif, Georgia, serif";

/// Where a text stands against its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

pub(crate) struct Sheet<'a> {
    pub(crate) document: Document,
    pub(crate) options: &'a PictureOptions,
    prefix: String,
}

impl<'a> Sheet<'a> {
    pub(crate) fn new(options: &'a PictureOptions) -> Self {
        let allowed = |c: &char| c.is_ascii_alphanumeric() || *c == '-';
        let mut prefix: String = options.id_prefix.chars().filter(allowed).collect();
        if !prefix.starts_with(|c: char| c.is_ascii_alphabetic()) {
            prefix.insert_str(0, "p-");
        }
        Self {
            document: Document::default(),
            options,
            prefix,
        }
    }

    pub(crate) fn width(&self) -> f64 {
        f64::from(self.options.width_px.clamp(240, 8000))
    }

    /// Factor on letters, lines and margins.
    pub(crate) fn print(&self) -> f64 {
        if self.options.large_print { LARGE } else { 1.0 }
    }

    /// Size of normal letters.
    pub(crate) fn text_size(&self) -> f64 {
        TEXT * self.print()
    }

    pub(crate) fn margin(&self) -> f64 {
        (self.width() * 0.022).clamp(8.0, 24.0)
    }

    pub(crate) fn ink(&self, ink: Ink) -> String {
        self.theme().of(ink)
    }

    pub(crate) fn theme(&self) -> Theme {
        self.options.theme
    }

    pub(crate) fn id(&self, name: &str) -> String {
        format!("{}-{name}", self.prefix)
    }

    /// The picture's frame with its words for a screen reader; `body` is what was drawn.
    pub(crate) fn framed(
        self,
        height: f64,
        title: &str,
        description: &str,
        body: Document,
    ) -> String {
        let (title_id, description_id) = (self.id("title"), self.id("desc"));
        let (width, height) = (self.width(), libm::ceil(height));
        let paper = self.ink(Ink::Paper);
        let mut document = self.document;
        document.open(
            &Element::new("svg")
                .set("xmlns", "http://www.w3.org/2000/svg")
                .num("width", width)
                .num("height", height)
                .set(
                    "viewBox",
                    format!("0 0 {} {}", number(width), number(height)),
                )
                .set("role", "group")
                .set("aria-labelledby", &title_id)
                .set("aria-describedby", &description_id)
                .set("font-family", SANS),
        );
        document.text(&Element::new("title").set("id", title_id), title);
        document.text(&Element::new("desc").set("id", description_id), description);
        document.leaf(
            &Element::new("rect")
                .num("width", width)
                .num("height", height)
                .set("fill", paper),
        );
        document.append(body);
        document.finish()
    }

    pub(crate) fn label(
        &mut self,
        at: (f64, f64),
        anchor: Anchor,
        size: f64,
        ink: Ink,
        text: &str,
    ) {
        let element = self.label_element(at, anchor, size, ink);
        self.document.text(&element, text);
    }

    pub(crate) fn strong(
        &mut self,
        at: (f64, f64),
        anchor: Anchor,
        size: f64,
        ink: Ink,
        text: &str,
    ) {
        let element = self.label_element(at, anchor, size, ink);
        self.document.text(&element.set("font-weight", "700"), text);
    }

    pub(crate) fn label_element(
        &self,
        at: (f64, f64),
        anchor: Anchor,
        size: f64,
        ink: Ink,
    ) -> Element {
        let element = Element::new("text")
            .num("x", at.0)
            .num("y", at.1)
            .num("font-size", size)
            .set("fill", self.ink(ink));
        match anchor {
            Anchor::Start => element,
            Anchor::Middle => element.set("text-anchor", "middle"),
            Anchor::End => element.set("text-anchor", "end"),
        }
    }

    /// A text broken into lines no wider than `width`; gives the height below the last line.
    pub(crate) fn paragraph(
        &mut self,
        at: (f64, f64),
        width: f64,
        size: f64,
        ink: Ink,
        text: &str,
    ) -> f64 {
        let letters = (width / (size * LETTER)) as usize;
        let mut y = at.1;
        for line in crate::text::wrapped(text, letters.max(8)) {
            y += size * 1.35;
            self.label((at.0, y), Anchor::Start, size, ink, &line);
        }
        y
    }

    /// Takes what was drawn so far, to put it into its frame.
    pub(crate) fn take_document(&mut self) -> Document {
        std::mem::take(&mut self.document)
    }
}

/// About how wide a text comes out; measured against a wide sans-serif, others come out narrower.
/// Source: practice.
pub(crate) fn text_width(text: &str, size: f64) -> f64 {
    let letter = |c: char| match c {
        'i' | 'j' | 'l' | 'f' | 't' | 'r' | '.' | ',' | ':' | ';' | '\'' | '-' | ' ' | '('
        | ')' => 0.36,
        'm' | 'w' | 'M' | 'W' | '%' => 0.93,
        'A'..='Z' => 0.70,
        c if c.is_ascii() => 0.61,
        // a letter of two columns is square
        c => crate::text::width(c.encode_utf8(&mut [0; 4])) as f64 * 0.61,
    };
    text.chars().map(letter).sum::<f64>() * size
}
