//! The hive drawn in plain text, at most 80 columns wide.
//!
//! Each comb is two columns, its left-facing and its right-facing side, and a few rows high: what
//! stands highest on the comb stands highest in the drawing. Colour is left to the caller: a
//! [`TextDrawing`] is lines of [`Span`]s, each with a [`Tone`]; its `Display` is plain.

use std::fmt;

use crate::{Kind, Mark};

mod columns;
mod drawing;
mod fit;
mod table;

use comb::ToldIn;

pub use drawing::hive;
pub use table::bar_table;

pub(crate) use fit::{clean, cut, width, wrapped};

/// How the text is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TextOptions {
    /// Widest line, in columns; from 40 to 80, others are taken as the nearer of the two.
    pub columns: usize,
    /// True where only ASCII can be printed. Names keep the letters that they have.
    pub ascii: bool,
    /// Rows that a full comb takes, 3 to 12.
    pub levels: usize,
    /// The units.
    pub told_in: ToldIn,
}

impl Default for TextOptions {
    fn default() -> Self {
        Self {
            columns: 80,
            ascii: false,
            levels: 6,
            told_in: ToldIn::Metric,
        }
    }
}

impl TextOptions {
    pub(crate) fn columns(self) -> usize {
        self.columns.clamp(40, 80)
    }
    pub(crate) fn levels(self) -> usize {
        self.levels.clamp(3, 12)
    }
}

/// What a piece of drawn text is, so that a caller may colour it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tone {
    /// Plain text.
    Plain,
    /// The hive's name.
    Strong,
    /// Text that steps back: places, dates.
    Quiet,
    /// Wood: bars, follower boards, shims, end walls.
    Wood,
    /// A part of a face.
    Comb(Kind),
    /// A mark on a bar.
    Mark(Mark),
    /// Something to look into: what is not known, or does not fit.
    Warn,
}

/// A piece of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Span {
    /// The text.
    pub text: String,
    /// What it is.
    pub tone: Tone,
}

/// Lines of drawn text.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TextDrawing {
    /// Lines from the top, each as its pieces from the left; no line is wider than asked.
    pub lines: Vec<Vec<Span>>,
}

impl TextDrawing {
    /// The lines as plain text, trailing blanks dropped.
    pub fn plain_lines(&self) -> impl Iterator<Item = String> + '_ {
        self.lines.iter().map(|line| {
            let text: String = line.iter().map(|span| span.text.as_str()).collect();
            text.trim_end().to_owned()
        })
    }

    pub(crate) fn push(&mut self, line: Vec<Span>) {
        self.lines.push(line);
    }
    pub(crate) fn blank(&mut self) {
        self.lines.push(Vec::new());
    }
}

impl Span {
    pub(crate) fn new(text: impl Into<String>, tone: Tone) -> Self {
        Self {
            text: text.into(),
            tone,
        }
    }
}

impl fmt::Display for TextDrawing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.plain_lines()
            .try_for_each(|line| writeln!(f, "{line}"))
    }
}
