//! The shipped typeface: two weights of Open Sans (Apache-2.0, fonts/LICENSE-OPEN-SANS), cut down
//! to Latin letters. Widths come from the font itself; no shaping is needed for these letters.

use krilla::text::{Font, GlyphId, KrillaGlyph};
use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

use super::error::PaperError;

/// Points in a millimetre.
pub(crate) const PT_PER_MM: f64 = 72.0 / 25.4;

const REGULAR: &[u8] = include_bytes!("../../fonts/OpenSans-Regular.ttf");
const STRONG: &[u8] = include_bytes!("../../fonts/OpenSans-Semibold.ttf");

/// How dark letters stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Weight {
    /// Running text.
    #[default]
    Regular,
    /// Headings and figures that matter.
    Strong,
}

/// Both weights, ready to measure and to write.
pub struct Typeface {
    regular: Cut,
    strong: Cut,
}

/// One weight.
pub(crate) struct Cut {
    pub(crate) font: Font,
    /// Letters rising, with glyph and advance as a part of the letter size.
    letters: Vec<(char, u32, f32)>,
    x_height: f64,
    figure_height: f64,
}

impl Typeface {
    /// Reads the shipped files; about a tenth of a millisecond.
    ///
    /// # Errors
    /// [`PaperError::Write`] if they are broken, which the tests rule out.
    pub fn shipped() -> Result<Self, PaperError> {
        Ok(Self {
            regular: Cut::read(REGULAR)?,
            strong: Cut::read(STRONG)?,
        })
    }

    pub(crate) const fn cut(&self, weight: Weight) -> &Cut {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Strong => &self.strong,
        }
    }

    /// Width of a line of text, mm; `size` is the letter size (em), mm.
    pub fn width(&self, text: &str, size: f64, weight: Weight) -> f64 {
        let cut = self.cut(weight);
        let ems: f64 = text.chars().map(|c| f64::from(cut.letter(c).1)).sum();
        ems * size
    }

    /// Letter size at which a small x is this high, both mm.
    pub fn size_for_x_height(&self, x_height: f64) -> f64 {
        x_height / self.regular.x_height
    }

    /// Letter size at which figures and capitals are this high, both mm.
    pub fn size_for_figures(&self, height: f64) -> f64 {
        height / self.strong.figure_height
    }

    /// Height of a small x, mm, at a letter size.
    pub fn x_height(&self, size: f64) -> f64 {
        size * self.regular.x_height
    }

    /// Height of figures and capitals, mm, at a letter size.
    pub fn figure_height(&self, size: f64) -> f64 {
        size * self.strong.figure_height
    }

    /// The first letter that is missing.
    ///
    /// # Errors
    /// [`PaperError::NoLetter`].
    pub fn covers(&self, text: &str) -> Result<(), PaperError> {
        match text.chars().find(|c| !self.regular.has(*c)) {
            None => Ok(()),
            Some(letter) => Err(PaperError::NoLetter {
                letter,
                text: text.to_owned(),
            }),
        }
    }

    /// Text broken into lines no wider than `room` mm; a word that is wider is broken.
    pub fn lines(&self, text: &str, size: f64, weight: Weight, room: f64) -> Vec<String> {
        let mut lines = Vec::new();
        for paragraph in text.split('\n') {
            self.fill(paragraph, size, weight, room, &mut lines);
        }
        lines
    }

    /// A text in one line: where it has no room its middle is left out, since both ends tell something.
    pub fn shortened(&self, text: &str, size: f64, weight: Weight, room: f64) -> String {
        let letters: Vec<char> = text.chars().collect();
        let mut kept = letters.len();
        let mut short = text.to_owned();
        while kept > 0 && self.width(&short, size, weight) > room {
            kept -= 1;
            let head: String = letters[..kept.div_ceil(2)].iter().collect();
            let tail: String = letters[letters.len() - kept / 2..].iter().collect();
            short = format!("{}\u{2026}{}", head.trim_end(), tail.trim_start());
        }
        short
    }

    fn fill(&self, text: &str, size: f64, weight: Weight, room: f64, lines: &mut Vec<String>) {
        let space = self.width(" ", size, weight);
        let mut line = String::new();
        let mut used = 0.0;
        for word in text.split_whitespace() {
            let width = self.width(word, size, weight);
            if !line.is_empty() && used + space + width > room {
                lines.push(std::mem::take(&mut line));
                used = 0.0;
            }
            if !line.is_empty() {
                line.push(' ');
                used += space;
            }
            if width <= room {
                line.push_str(word);
                used += width;
                continue;
            }
            for c in word.chars() {
                let wide = self.width(c.encode_utf8(&mut [0; 4]), size, weight);
                if used + wide > room && !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                    used = 0.0;
                }
                line.push(c);
                used += wide;
            }
        }
        lines.push(line);
    }
}

impl Cut {
    fn read(bytes: &'static [u8]) -> Result<Self, PaperError> {
        let broken = || PaperError::Write("the shipped typeface is broken".to_owned());
        let font = Font::new(bytes.into(), 0).ok_or_else(broken)?;
        let tables = FontRef::new(bytes).map_err(|_| broken())?;
        let size = Size::new(1.0);
        let metrics = tables.glyph_metrics(size, LocationRef::default());
        let mut letters: Vec<(char, u32, f32)> = tables
            .charmap()
            .mappings()
            .filter_map(|(code, glyph)| {
                let letter = char::from_u32(code)?;
                Some((letter, glyph.to_u32(), metrics.advance_width(glyph)?))
            })
            .collect();
        letters.sort_unstable_by_key(|letter| letter.0);
        let height = |letter: char| {
            let glyph = tables.charmap().map(letter)?;
            metrics.bounds(glyph).map(|bounds| f64::from(bounds.y_max))
        };
        Ok(Self {
            font,
            letters,
            // flat letters: round ones rise a little higher
            x_height: height('x').ok_or_else(broken)?,
            figure_height: height('1').ok_or_else(broken)?,
        })
    }

    fn has(&self, letter: char) -> bool {
        self.letters.binary_search_by_key(&letter, |l| l.0).is_ok()
    }

    /// Glyph and advance; the box of missing letters for one that is not there.
    fn letter(&self, letter: char) -> (u32, f32) {
        match self.letters.binary_search_by_key(&letter, |l| l.0) {
            Ok(at) => (self.letters[at].1, self.letters[at].2),
            Err(_) => (0, 0.6),
        }
    }

    /// The glyphs of a line.
    pub(crate) fn glyphs(&self, text: &str) -> Vec<KrillaGlyph> {
        text.char_indices()
            .map(|(at, c)| {
                let (glyph, advance) = self.letter(c);
                KrillaGlyph {
                    glyph_id: GlyphId::new(glyph),
                    text_range: at..at + c.len_utf8(),
                    x_advance: advance,
                    x_offset: 0.0,
                    y_offset: 0.0,
                    y_advance: 0.0,
                    location: None,
                }
            })
            .collect()
    }
}
