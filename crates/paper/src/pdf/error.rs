//! What can keep a paper from being made.

use thiserror::Error;

/// One variant a cause.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum PaperError {
    /// A sheet whose labels do not fit it.
    #[error("the grid does not fit its sheet: {0}")]
    Grid(String),
    /// A grid that cannot be read.
    #[error("\"{0}\" is no grid: give a name such as a4-24, or {GRID_FORM}", GRID_FORM = super::grid::FORM)]
    UnknownGrid(String),
    /// More words than a label holds at the least height of its letters.
    #[error(
        "the label is too small for its words: they need {needs_mm:.1} mm of height at the least \
         letters allowed, the label leaves {room_mm:.1} mm"
    )]
    LabelFull {
        /// Height that the words need, mm.
        needs_mm: f64,
        /// Height there is, mm.
        room_mm: f64,
    },
    /// One word that is wider than its label.
    #[error(
        "\"{word}\" is {needs_mm:.1} mm wide at the least letters allowed, the label leaves {room_mm:.1} mm"
    )]
    WordTooWide {
        /// The word.
        word: String,
        /// Its width, mm.
        needs_mm: f64,
        /// Width there is, mm.
        room_mm: f64,
    },
    /// A letter that the shipped typeface does not have.
    #[error("the typeface has no \"{letter}\" (in \"{text}\"): it covers Latin letters only")]
    NoLetter {
        /// The letter.
        letter: char,
        /// Where it stands.
        text: String,
    },
    /// A code that would not scan at the size there is.
    #[error(
        "the code to \"{text}\" would need {needs_mm:.1} mm, the label leaves {room_mm:.1} mm: shorten the address"
    )]
    CodeTooDense {
        /// What it says.
        text: String,
        /// Side it needs, mm.
        needs_mm: f64,
        /// Side there is, mm.
        room_mm: f64,
    },
    /// The first label is not on the sheet.
    #[error("a sheet has {labels} labels, so it cannot start at {start}")]
    Start {
        /// Labels on a sheet.
        labels: usize,
        /// Asked for.
        start: usize,
    },
    /// A picture that is not of this crate's making.
    #[error("the picture cannot be set into the paper: {0}")]
    Picture(String),
    /// The file could not be put together.
    #[error("the PDF cannot be written: {0}")]
    Write(String),
}
