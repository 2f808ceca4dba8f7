//! Colour class from a Pfund grader's millimetres.

use serde::Serialize;

use crate::HoneyError;
use crate::bound::Bound;

/// The grader's wedge ends at 140 mm. Source: from memory.
const PFUND: Bound = Bound {
    quantity: "Pfund reading",
    low: 0.0,
    high: 140.0,
    unit: "mm",
    advice: "a Pfund grader reads 0 to 140 mm; read again",
};

/// Colour classes of the US standard, used by the trade at large. Colour is no part of a grade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ColourClass {
    /// Up to 8 mm.
    WaterWhite,
    /// Over 8 to 17 mm.
    ExtraWhite,
    /// Over 17 to 34 mm.
    White,
    /// Over 34 to 50 mm.
    ExtraLightAmber,
    /// Over 50 to 85 mm.
    LightAmber,
    /// Over 85 to 114 mm.
    Amber,
    /// Over 114 mm.
    DarkAmber,
}

/// Upper limit of each class, mm, INCLUSIVE, and its greatest optical density (AOAC 985.25).
/// Source: United States Standards for Grades of Extracted Honey, 23 May 1985, Table I; status
/// seen. Some pages print the ranges with slips (0-9, 9-19); those are not followed.
const CLASSES: [(ColourClass, f64, f64); 6] = [
    (ColourClass::WaterWhite, 8.0, 0.0945),
    (ColourClass::ExtraWhite, 17.0, 0.189),
    (ColourClass::White, 34.0, 0.378),
    (ColourClass::ExtraLightAmber, 50.0, 0.595),
    (ColourClass::LightAmber, 85.0, 1.389),
    (ColourClass::Amber, 114.0, 3.008),
];

impl ColourClass {
    /// The class of a Pfund reading in mm. Range 0 to 140 mm. Limits belong to the lighter class:
    /// 8 is Water White, 8.1 Extra White. Source: the table in this file.
    ///
    /// # Errors
    /// [`HoneyError::OutOfRange`] outside 0 to 140 mm.
    pub fn from_pfund_mm(mm: f64) -> Result<Self, HoneyError> {
        let mm = PFUND.check(mm)?;
        let class = CLASSES.iter().find(|class| mm <= class.1);
        Ok(class.map_or(Self::DarkAmber, |class| class.0))
    }

    /// Largest Pfund reading of the class, mm; `None` for the darkest, which is open.
    pub fn upper_mm(self) -> Option<f64> {
        CLASSES.iter().find(|row| row.0 == self).map(|row| row.1)
    }

    /// Greatest optical density of the class; `None` for the darkest. Source as the table.
    pub fn max_optical_density(self) -> Option<f64> {
        CLASSES.iter().find(|row| row.0 == self).map(|row| row.2)
    }

    /// The standard's name of the class.
    pub const fn name(self) -> &'static str {
        match self {
            Self::WaterWhite => "Water White",
            Self::ExtraWhite => "Extra White",
            Self::White => "White",
            Self::ExtraLightAmber => "Extra Light Amber",
            Self::LightAmber => "Light Amber",
            Self::Amber => "Amber",
            Self::DarkAmber => "Dark Amber",
        }
    }
}
