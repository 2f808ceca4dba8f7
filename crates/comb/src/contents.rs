//! What the two faces of one comb hold, as a keeper judges it.

use serde::{Deserialize, Serialize};

use crate::{CombError, Length, Mass, Share};

/// What one face holds, as shares OF THE FACE; `None` is "not said" or "not looked at".
///
/// A keeper rarely says shares of the face; most often it is `capped_of_honey`, the capped share
/// of the honey that is there ("two thirds capped"). Both are kept as they were said.
/// Presence without a share ("some pollen") is in [`FaceContents::present`].
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct FaceContents {
    /// Capped share of this face's honey (of the honey, not of the face).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capped_of_honey: Option<Share>,
    /// Share of the face that is capped honey.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capped_honey: Option<Share>,
    /// Share of the face that is unripe honey or nectar.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unripe: Option<Share>,
    /// Share of the face with worker eggs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub eggs: Option<Share>,
    /// Share of the face with worker larvae.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub larvae: Option<Share>,
    /// Share of the face with capped worker brood.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capped_brood: Option<Share>,
    /// Share of the face with drone brood.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drone_brood: Option<Share>,
    /// Share of the face with pollen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pollen: Option<Share>,
    /// Share of the face that is drawn and empty.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub empty: Option<Share>,
    /// Share of the outline that is not built: bare bar above nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bare: Option<Share>,
    /// Kinds said to be there without a share, in the order of [`Holding`], each once.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub present: Vec<Holding>,
    /// Kinds said NOT to be there ("no brood on this side"), same order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub absent: Vec<Holding>,
}

/// One kind of thing that a comb holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Holding {
    /// Honey, ripe or not said.
    Honey,
    /// Unripe honey or nectar.
    Unripe,
    /// Worker brood of any age.
    WorkerBrood,
    /// Drone brood.
    DroneBrood,
    /// Eggs.
    Eggs,
    /// Pollen.
    Pollen,
    /// Drawn and empty cells.
    Empty,
    /// Comb newly drawn.
    NewComb,
}

impl Holding {
    /// All kinds, in their order.
    pub const ALL: [Self; 8] = [
        Self::Honey,
        Self::Unripe,
        Self::WorkerBrood,
        Self::DroneBrood,
        Self::Eggs,
        Self::Pollen,
        Self::Empty,
        Self::NewComb,
    ];

    /// True for brood of any kind and age, eggs included.
    pub const fn is_brood(self) -> bool {
        matches!(self, Self::WorkerBrood | Self::DroneBrood | Self::Eggs)
    }

    /// The trade's word, as it stands in a summary.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Honey => "honey",
            Self::Unripe => "unripe",
            Self::WorkerBrood => "worker brood",
            Self::DroneBrood => "drone brood",
            Self::Eggs => "eggs",
            Self::Pollen => "pollen",
            Self::Empty => "empty",
            Self::NewComb => "new comb",
        }
    }
}

/// How much comb or honey there is, in a keeper's coarse words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fill {
    /// A saucer, a hand's size, hardly any weight.
    Light,
    /// Half drawn or half filled.
    Part,
    /// Drawn to the floor, or filled.
    Full,
}

/// Whether a comb keeps to its bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Straightness {
    /// Keeps to its bar.
    Straight,
    /// Bends away from its bar, or runs across two.
    Crossed,
}

/// Where a comb is built to the body.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Attachment {
    /// Hangs free.
    Free,
    /// Built to a wall, which one was not said, or to both.
    Attached,
}

/// All that was judged of one comb at one look; what was not looked at stays `None`.
///
/// Faces are named by the way they look while the bar hangs in its place: the left-facing face
/// looks to the left end of the hive as the keeper stands.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Contents {
    /// The face that looks to the left end.
    #[serde(skip_serializing_if = "FaceContents::is_unknown")]
    pub left: FaceContents,
    /// The face that looks to the right end.
    #[serde(skip_serializing_if = "FaceContents::is_unknown")]
    pub right: FaceContents,
    /// Kinds said to be on the comb without saying which face, each once, in order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub present: Vec<Holding>,
    /// Kinds said NOT to be on the comb, each once, in order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub absent: Vec<Holding>,
    /// How much there is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fill: Option<Fill>,
    /// Thickness wall to wall at the thickest place, midrib included.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thickness_mm: Option<Length>,
    /// Mass of the comb with its honey, as judged or weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_kg: Option<Mass>,
    /// Built to the body or free.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub attachment: Option<Attachment>,
    /// Keeps to its bar or not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub straightness: Option<Straightness>,
    /// Water in the honey by refractometer, as a share of mass.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub moisture: Option<Share>,
}

impl FaceContents {
    /// True when nothing at all is known of this face.
    pub fn is_unknown(&self) -> bool {
        *self == Self::default()
    }

    /// The shares of the face that were said, with their kinds.
    pub fn shares(&self) -> impl Iterator<Item = Share> {
        [
            self.capped_honey,
            self.unripe,
            self.eggs,
            self.larvae,
            self.capped_brood,
            self.drone_brood,
            self.pollen,
            self.empty,
            self.bare,
        ]
        .into_iter()
        .flatten()
    }

    /// Checks that the parts said do not exceed the face (1 % of play for rounding).
    ///
    /// # Errors
    /// [`CombError::FaceOverfull`] with the sum.
    pub fn checked(self) -> Result<Self, CombError> {
        let sum: f64 = self.shares().map(Share::get).sum();
        if sum > 1.01 {
            Err(CombError::FaceOverfull(sum))
        } else {
            Ok(self)
        }
    }

    /// Capped share of this face's honey: as said, else worked out from the shares of the face;
    /// `None` when unknown or when the face has no honey.
    pub fn capped_share(&self) -> Option<Share> {
        if self.capped_of_honey.is_some() {
            return self.capped_of_honey;
        }
        let (capped, unripe) = (self.capped_honey?.get(), self.unripe?.get());
        let honey = capped + unripe;
        if honey > 0.0 {
            Some(Share::clamped(capped / honey))
        } else {
            None
        }
    }

    /// True when brood of any kind is known on this face.
    pub fn has_brood(&self) -> bool {
        let some = |share: Option<Share>| share.is_some_and(|s| s.get() > 0.0);
        some(self.eggs)
            || some(self.larvae)
            || some(self.capped_brood)
            || some(self.drone_brood)
            || self.present.iter().any(|h| h.is_brood())
    }
}

impl Contents {
    /// True when brood of any kind is known on the comb.
    pub fn has_brood(&self) -> bool {
        self.left.has_brood() || self.right.has_brood() || self.present.iter().any(|h| h.is_brood())
    }

    /// Mean capped share of the honey over both faces; `None` unless both are known.
    pub fn mean_capped(&self) -> Option<Share> {
        Some(self.left.capped_share()?.mean(self.right.capped_share()?))
    }

    /// The same comb turned about its bar's middle: what looked left looks right.
    #[must_use]
    pub fn turned(mut self) -> Self {
        std::mem::swap(&mut self.left, &mut self.right);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_overfull_face_is_refused() {
        let face = FaceContents {
            capped_honey: Some(Share::clamped(0.7)),
            pollen: Some(Share::clamped(0.5)),
            ..FaceContents::default()
        };
        assert!(matches!(face.checked(), Err(CombError::FaceOverfull(_))));
    }

    #[test]
    fn turning_twice_changes_nothing() {
        let comb = Contents {
            left: FaceContents {
                capped_of_honey: Some(Share::HALF),
                ..FaceContents::default()
            },
            ..Contents::default()
        };
        assert_eq!(comb.clone().turned().turned(), comb);
        assert_eq!(comb.clone().turned().right, comb.left);
    }
}
