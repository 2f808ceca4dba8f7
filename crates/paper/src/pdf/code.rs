//! A QR code (ISO/IEC 18004) as cells.

use fast_qr::{ECL, QRBuilder};

use super::error::PaperError;
use super::page::Mark;

/// Cells of light all round. Source: ISO/IEC 18004, quiet zone of four modules (from memory).
const QUIET_CELLS: f64 = 4.0;
/// Least side of a cell on paper, mm, for a phone at arm's length and a desk printer (common
/// practice, no source).
pub const LEAST_CELL_MM: f64 = 0.33;

/// A code, ready to be set in any size.
#[derive(Debug, Clone, PartialEq)]
pub struct Code {
    text: String,
    size: usize,
    runs: Vec<(u16, u16, u16)>,
}

impl Code {
    /// The code of a text; level M mends about 15 % of damage (from memory).
    ///
    /// # Errors
    /// [`PaperError::CodeTooDense`] for a text longer than a code holds.
    pub fn of(text: &str) -> Result<Self, PaperError> {
        let code = QRBuilder::new(text).ecl(ECL::M).build();
        let code = code.map_err(|_| PaperError::CodeTooDense {
            text: text.to_owned(),
            needs_mm: f64::INFINITY,
            room_mm: 0.0,
        })?;
        let mut runs = Vec::new();
        for row in 0..code.size {
            let mut column = 0;
            while column < code.size {
                let dark = |at: usize| at < code.size && code.data[row * code.size + at].value();
                let start = column;
                while dark(column) {
                    column += 1;
                }
                if column > start {
                    runs.push((start as u16, row as u16, (column - start) as u16));
                }
                column += 1;
            }
        }
        Ok(Self {
            text: text.to_owned(),
            size: code.size,
            runs,
        })
    }

    /// Least side with its light border, mm.
    pub fn least_side(&self) -> f64 {
        (self.size as f64 + 2.0 * QUIET_CELLS) * LEAST_CELL_MM
    }

    /// The code with its light border in a square of this side, mm.
    ///
    /// # Errors
    /// [`PaperError::CodeTooDense`] when its cells would be too small to scan.
    pub fn mark(&self, (x, y): (f64, f64), side: f64) -> Result<Mark, PaperError> {
        if side + 1e-9 < self.least_side() {
            return Err(PaperError::CodeTooDense {
                text: self.text.clone(),
                needs_mm: self.least_side(),
                room_mm: side,
            });
        }
        let cell = side / (self.size as f64 + 2.0 * QUIET_CELLS);
        let inset = QUIET_CELLS * cell;
        Ok(Mark::Cells {
            at: (x + inset, y + inset),
            cell,
            runs: self.runs.clone(),
        })
    }
}
