//! Sheets of labels, by their measures.

use super::error::PaperError;
use super::page::Paper;

/// How a grid is written.
pub const FORM: &str = "COLUMNSxROWS:WIDTHxHEIGHT@LEFT,TOP+ACROSS,DOWN on A4 in mm, as in \
                        3x8:70x37@0,0.5+70,37";

/// Labels in columns and rows on one sheet, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grid {
    /// The sheet.
    pub paper: Paper,
    /// Labels side by side.
    pub columns: usize,
    /// Labels below each other.
    pub rows: usize,
    /// Width and height of one label.
    pub label: (f64, f64),
    /// Left and top edge of the first label.
    pub first: (f64, f64),
    /// From one label's edge to the next one's, across and down.
    pub pitch: (f64, f64),
}

const fn a4(columns: usize, rows: usize, label: (f64, f64), pitch: (f64, f64)) -> Grid {
    centred(Paper::A4, columns, rows, label, pitch)
}

const fn centred(
    paper: Paper,
    columns: usize,
    rows: usize,
    label: (f64, f64),
    pitch: (f64, f64),
) -> Grid {
    let wide = label.0 + pitch.0 * (columns - 1) as f64;
    let high = label.1 + pitch.1 * (rows - 1) as f64;
    Grid {
        paper,
        columns,
        rows,
        label,
        first: ((paper.width - wide) / 2.0, (paper.height - high) / 2.0),
        pitch,
    }
}

/// Sheets sold everywhere, centred on their paper, named by paper and number of labels.
/// Source: measures in common use (from memory); lay a test print over your sheet before the first
/// run and give your sheet's own measures where they differ.
pub const SHEETS: [(&str, Grid); 8] = [
    ("a4-65", a4(5, 13, (38.1, 21.2), (40.6, 21.2))),
    ("a4-24", a4(3, 8, (70.0, 37.0), (70.0, 37.0))),
    ("a4-21", a4(3, 7, (63.5, 38.1), (66.0, 38.1))),
    ("a4-14", a4(2, 7, (99.1, 38.1), (101.6, 38.1))),
    ("a4-12", a4(2, 6, (97.0, 42.3), (97.0, 42.3))),
    ("a4-8", a4(2, 4, (99.1, 67.7), (101.6, 67.7))),
    (
        "letter-30",
        centred(Paper::LETTER, 3, 10, (66.7, 25.4), (69.85, 25.4)),
    ),
    (
        "letter-10",
        centred(Paper::LETTER, 2, 5, (101.6, 50.8), (106.4, 50.8)),
    ),
];

impl Grid {
    /// By the name of a common sheet, or written out as in [`FORM`].
    ///
    /// # Errors
    /// [`PaperError::UnknownGrid`]; [`PaperError::Grid`] when it does not fit its paper.
    pub fn read(text: &str) -> Result<Self, PaperError> {
        let text = text.trim();
        if let Some((_, grid)) = SHEETS
            .iter()
            .find(|(name, _)| text.eq_ignore_ascii_case(name))
        {
            return Ok(*grid);
        }
        written(text)
            .ok_or_else(|| PaperError::UnknownGrid(text.to_owned()))?
            .checked()
    }

    /// Refuses a grid that does not fit its paper.
    ///
    /// # Errors
    /// [`PaperError::Grid`] with what is wrong.
    pub fn checked(self) -> Result<Self, PaperError> {
        let wrong = |what: String| Err(PaperError::Grid(what));
        let (w, h) = self.label;
        if self.columns == 0 || self.rows == 0 {
            return wrong("it has no labels".to_owned());
        }
        let sizes = [w, h, self.pitch.0, self.pitch.1, self.first.0, self.first.1];
        if !sizes.iter().all(|mm| mm.is_finite()) || w < 10.0 || h < 10.0 {
            return wrong(format!(
                "a label of {w} by {h} mm; at least 10 by 10 is needed"
            ));
        }
        if self.pitch.0 < w - 1e-6 || self.pitch.1 < h - 1e-6 {
            return wrong("its labels overlap".to_owned());
        }
        let right = self.first.0 + self.pitch.0 * (self.columns - 1) as f64 + w;
        let bottom = self.first.1 + self.pitch.1 * (self.rows - 1) as f64 + h;
        // half a millimetre: sheets whose labels reach the edges are made so
        if self.first.0 < -0.5
            || self.first.1 < -0.5
            || right > self.paper.width + 0.5
            || bottom > self.paper.height + 0.5
        {
            return wrong(format!(
                "it reaches to {right:.1} by {bottom:.1} mm on a sheet of {} by {}",
                self.paper.width, self.paper.height
            ));
        }
        Ok(self)
    }

    /// Labels on a sheet.
    pub const fn labels(&self) -> usize {
        self.columns * self.rows
    }

    /// Upper left corner of a label on its sheet, row by row, the first is 0.
    pub const fn corner(&self, at: usize) -> (f64, f64) {
        let (column, row) = (at % self.columns, at / self.columns % self.rows);
        (
            self.first.0 + self.pitch.0 * column as f64,
            self.first.1 + self.pitch.1 * row as f64,
        )
    }
}

fn written(text: &str) -> Option<Grid> {
    let (count, rest) = text.split_once(':')?;
    let (label, rest) = rest.split_once('@')?;
    let (first, pitch) = rest.split_once('+')?;
    let (columns, rows) = count.split_once('x')?;
    let pair = |text: &str, mark: char| -> Option<(f64, f64)> {
        let (one, other) = text.split_once(mark)?;
        Some((one.trim().parse().ok()?, other.trim().parse().ok()?))
    };
    Some(Grid {
        paper: Paper::A4,
        columns: columns.trim().parse().ok()?,
        rows: rows.trim().parse().ok()?,
        label: pair(label, 'x')?,
        first: pair(first, ',')?,
        pitch: pair(pitch, ',')?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn common_sheets_fit_their_paper() {
        for (name, grid) in SHEETS {
            assert!(grid.checked().is_ok(), "{name}: {grid:?}");
        }
    }

    #[test]
    fn a_grid_is_read_as_written() {
        let grid = Grid::read("3x8:70x37@0,0.5+70,37").expect("it fits");
        assert_eq!(grid.labels(), 24);
        assert_eq!(grid.corner(23), (140.0, 0.5 + 7.0 * 37.0));
        assert!(matches!(
            Grid::read("many"),
            Err(PaperError::UnknownGrid(_))
        ));
        let wide = Grid::read("4x8:70x37@0,0+70,37");
        assert!(matches!(wide, Err(PaperError::Grid(_))), "{wide:?}");
    }
}
