//! How high letters must be.

use comb::{Area, Length, Mass};
use serde::Serialize;

use crate::region::{Region, Status};
use crate::{HoneyError, bound::Bound};

/// A minimum height with where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MinimumHeight {
    /// The height, of what `measured_on` says.
    #[serde(rename = "height_mm")]
    pub height: Length,
    /// Which letters are measured.
    pub measured_on: &'static str,
    /// The instrument.
    pub instrument: &'static str,
    /// How it came here, in November 2026.
    pub status: Status,
}

const NOMINAL: Bound = Bound {
    quantity: "nominal quantity",
    low: 5.0,
    high: 25_000.0,
    unit: "g",
    advice: "the rule covers 5 g to 10 kg in the EU, 25 kg in the UK",
};

/// Nominal quantity up to, g, inclusive, and height of the figures, mm. A 200 g jar takes 3 mm, a
/// 1000 g jar 4 mm. Source: Directive 76/211/EEC Annex I 3.1 as read at usda-eu.org and
/// jusline.at (FPVO par. 11); status seen.
const EU_UK: [(f64, f64); 3] = [(50.0, 2.0), (200.0, 3.0), (1000.0, 4.0)];
/// Height above the last row, mm.
const EU_UK_ABOVE: f64 = 6.0;

/// Area of the principal display panel up to, square inches, inclusive, and height in inches.
/// Source: 21 CFR 101.7(i); status MEMORY.
const US: [(f64, f64); 4] = [
    (5.0, 1.0 / 16.0),
    (25.0, 1.0 / 8.0),
    (100.0, 3.0 / 16.0),
    (400.0, 1.0 / 4.0),
];
/// Height above the last row, inches.
const US_ABOVE: f64 = 1.0 / 2.0;

/// Square decimetres in a square inch, exact: 0.254 squared.
const DM2_PER_SQUARE_INCH: f64 = 0.064_516;

/// Height of the figures of the net quantity. EU and UK go by the nominal quantity (5 g to
/// 25 kg), the US by the area of the principal display panel ([`round_panel`], [`flat_panel`]).
/// Sources: tables of this file.
///
/// # Errors
/// [`HoneyError::OutOfRange`]; [`HoneyError::NotPositive`] for the panel;
/// [`HoneyError::NoRule`] for regions whose rule is not known here.
///
/// ```
/// use comb::{Area, Mass};
/// use honey::{Region, label::lettering::net_quantity_height};
/// let jar = net_quantity_height(Region::Uk, Mass::grams(340.0), Area::dm2(0.5))?;
/// assert!((jar.height.to_mm() - 4.0).abs() < 1e-9);
/// # Ok::<(), honey::HoneyError>(())
/// ```
pub fn net_quantity_height(
    region: Region,
    nominal: Mass,
    panel: Area,
) -> Result<MinimumHeight, HoneyError> {
    match region {
        Region::Eu | Region::Uk => {
            let grams = NOMINAL.check(nominal.to_grams())?;
            Ok(MinimumHeight {
                height: Length::mm(step(&EU_UK, EU_UK_ABOVE, grams)),
                measured_on: "figures of the net quantity",
                instrument: "Directive 76/211/EEC and national rules that repeat it",
                status: Status::Seen,
            })
        }
        Region::Us => {
            HoneyError::positive("principal display panel", "dm2", panel.to_dm2())?;
            let square_inches = panel.to_dm2() / DM2_PER_SQUARE_INCH;
            Ok(MinimumHeight {
                height: Length::inches(step(&US, US_ABOVE, square_inches)),
                measured_on: "letters and figures of the net quantity, in the bottom 30 % of \
                              the panel",
                instrument: "21 CFR 101.7(i)",
                status: Status::Memory,
            })
        }
        Region::Codex | Region::Australia | Region::NewZealand => Err(HoneyError::NoRule {
            what: "a height for the net quantity",
            region,
        }),
    }
}

fn step(rows: &[(f64, f64)], above: f64, value: f64) -> f64 {
    // rounding of a unit conversion must not lift 5 square inches over 5
    let row = rows.iter().find(|row| value <= row.0 + 1e-9);
    row.map_or(above, |row| row.1)
}

/// Faces smaller than this, dm2, may use the smaller letters: 80 cm2.
const SMALL_FACE_DM2: f64 = 0.8;

/// Height of a small x for the other mandatory particulars: 1.2 mm, 0.9 mm when the package's
/// largest face is under 80 cm2. EU and UK only. Source: tradehou.se on Regulation (EU) 1169/2011;
/// status seen.
///
/// # Errors
/// [`HoneyError::NotPositive`] for the face; [`HoneyError::NoRule`] elsewhere.
pub fn x_height(region: Region, largest_face: Area) -> Result<MinimumHeight, HoneyError> {
    if !matches!(region, Region::Eu | Region::Uk) {
        return Err(HoneyError::NoRule {
            what: "a height for letters",
            region,
        });
    }
    HoneyError::positive("largest face", "dm2", largest_face.to_dm2())?;
    let small = largest_face.to_dm2() < SMALL_FACE_DM2;
    Ok(MinimumHeight {
        height: Length::mm(if small { 0.9 } else { 1.2 }),
        measured_on: "a small x",
        instrument: "Regulation (EU) 1169/2011 article 13 and Annex IV",
        status: Status::Seen,
    })
}

/// Least height of the optional e mark, in the same field of vision as the quantity, EU and UK.
/// Source: usda-eu.org; status seen.
pub const E_MARK: Length = Length::mm(3.0);

/// Principal display panel of a flat-sided jar: that side. Source: 21 CFR 101.1; status seen.
pub fn flat_panel(width: Length, height: Length) -> Area {
    width.by(height)
}

/// Principal display panel of a round jar: 40 % of height times circumference.
/// Source: 21 CFR 101.1; status seen.
pub fn round_panel(height: Length, circumference: Length) -> Area {
    height.by(circumference) * 0.4
}
