//! Bars and shims give the pitch; the pitch gives how thick a comb can be.

use serde::{Deserialize, Serialize};

use crate::{CombError, Length};

/// What a comb's bar takes beyond the comb's thickness: the bees' way between two faces.
/// Source: reference/colony.md B, "pitch = thickness + about 9 mm"; comb-facts.csv "bee space
/// between comb faces" 9.5 (8 to 13); status seen.
pub const BETWEEN_FACES: Length = Length::mm(9.0);
/// The narrowest way between faces; a comb that leaves less is refused.
/// Source: comb-facts.csv, same row, low end; status seen.
pub const LEAST_BETWEEN_FACES: Length = Length::mm(8.0);

/// Natural worker brood comb, wall to wall: the thinnest that drawn comb is.
/// Source: comb-facts.csv "worker brood comb thickness (natural)" 22.5 (21 to 24); status seen.
pub const WORKER_COMB: Length = Length::mm(22.5);
/// Mean thickness of a honey comb as a part of its thickest place, which is what keepers say.
/// Source: reference/colony.md B; status practice.
pub const MEAN_OF_THICKEST: f64 = 0.8;

/// Distance from the midrib of one comb to the midrib of the next.
///
/// ```
/// use comb::{Length, Pitch};
/// let bar = Length::mm(38.0);
/// assert_eq!(Pitch::of_bars(bar).greatest_thickness(), Length::mm(29.0));
/// // a comb of 45 mm needs 54 mm: 38 mm bars with 16 mm of shims
/// let thick = Length::mm(45.0);
/// assert_eq!(Pitch::for_thickness(thick).to_length(), Length::mm(54.0));
/// assert!(Pitch::between(bar, Length::mm(16.0), bar).check(thick).is_ok());
/// let refusal = Pitch::of_bars(bar).check(thick).unwrap_err().to_string();
/// assert!(refusal.contains("16 mm too thick"), "{refusal}");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Pitch(Length);

impl Pitch {
    /// Bars of one width side by side.
    pub const fn of_bars(bar_width: Length) -> Self {
        Self(bar_width)
    }

    /// From the middle of one bar to the middle of the next with so much of shims in the gap.
    #[must_use]
    pub fn between(bar: Length, shims: Length, next_bar: Length) -> Self {
        Self(bar / 2.0 + shims + next_bar / 2.0)
    }

    /// The pitch that equal combs of this thickness need.
    #[must_use]
    pub fn for_thickness(thickness: Length) -> Self {
        Self(thickness + BETWEEN_FACES)
    }

    /// As a length.
    pub const fn to_length(self) -> Length {
        self.0
    }

    /// The thickest that combs grow side by side at this pitch, wall to wall; never below 0.
    pub fn greatest_thickness(self) -> Length {
        (self.0 - BETWEEN_FACES).max(Length::ZERO)
    }

    /// The thickest that a comb grows beside a straight neighbour of a known thickness: a thinner
    /// neighbour leaves more room, which is how bees come to deepen an unripe comb beside a
    /// fresh one.
    pub fn greatest_beside(self, neighbour: Length) -> Length {
        (self.greatest_thickness() * 2.0 - neighbour).max(Length::ZERO)
    }

    /// Refuses a thickness that equal straight neighbours leave no room for.
    ///
    /// # Errors
    /// [`CombError::Measure`] when the thickness is not a number above 0;
    /// [`CombError::Thickness`] when less than [`LEAST_BETWEEN_FACES`] would be left, with how
    /// much it is too thick and the pitch it would need.
    pub fn check(self, thickness: Length) -> Result<(), CombError> {
        if !(thickness.is_finite() && thickness > Length::ZERO) {
            return Err(CombError::Measure {
                quantity: "comb thickness, mm,",
                bound: "a number above 0",
                value: thickness.to_mm(),
            });
        }
        if thickness <= self.0 - LEAST_BETWEEN_FACES {
            return Ok(());
        }
        Err(CombError::Thickness {
            thickness_mm: thickness.to_mm(),
            pitch_mm: self.0.to_mm(),
            greatest_mm: self.greatest_thickness().to_mm(),
            needed_mm: Self::for_thickness(thickness).0.to_mm(),
        })
    }
}

/// Mean thickness of a comb from its thickest place: [`MEAN_OF_THICKEST`] of it, though drawn
/// comb is nowhere thinner than [`WORKER_COMB`].
pub fn mean_thickness(thickest: Length) -> Length {
    mean_at(thickest, MEAN_OF_THICKEST)
}

pub(crate) fn mean_at(thickest: Length, part: f64) -> Length {
    (thickest * part).max(thickest.min(WORKER_COMB))
}
