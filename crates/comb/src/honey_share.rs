//! How much of a face is honey, and how much of that is capped, from whatever was said.
//!
//! Order of trust: shares of the face; what else fills the face; words for the whole comb; the
//! other face; nothing. Each step down widens the range and leaves a [`Guess`]. Only what was said
//! to be absent is nothing.

use crate::Share;
use crate::contents::{Contents, FaceContents, Fill, Holding};
use crate::honey_mass::Guess;
use crate::judged::Judged;

// Ranges of this file are shares of a face or of its honey. Status of all: practice.

/// How far a judged share is off, either way.
const EYE: f64 = 0.10;
/// A saucer, a hand's size.
const LIGHT: Judged = Judged::new(0.05, 0.12, 0.25);
/// Half drawn or half filled.
const PART: Judged = Judged::new(0.30, 0.50, 0.70);
/// Drawn to the floor and filled: rims and cells under brood or pollen are never all honey.
const FULL: Judged = Judged::new(0.80, 0.92, 1.00);
/// "Honey", and not how much.
const HONEY_SAID: Judged = Judged::new(0.20, 0.70, 1.00);
/// Nothing said at all.
const NOTHING_SAID: Judged = Judged::new(0.00, 0.50, 1.00);
/// "Empty" or "new comb", and nothing of honey.
const EMPTY_SAID: Judged = Judged::new(0.00, 0.03, 0.25);
/// The band of honey over brood when there is said to be one.
const OVER_BROOD: Judged = Judged::new(0.05, 0.25, 0.60);
/// A brood comb of which nothing is said of honey. The best guess leans on 5 % stores inside the
/// brood area (colony.md D; status seen) and the corners outside of it.
const BROOD_ONLY: Judged = Judged::new(0.00, 0.12, 0.40);
/// Capped share of honey that nobody looked at.
const CAPPED_UNSAID: Judged = Judged::new(0.00, 0.50, 1.00);

/// Honey on one face.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FaceHoney {
    /// Honey of any kind, as a share of the face.
    pub(crate) honey: Judged,
    /// Capped, as a share of the honey.
    pub(crate) capped: Judged,
}

impl FaceHoney {
    /// Capped honey as a share of the face.
    pub(crate) fn capped_of_face(&self) -> Judged {
        self.honey.times_widest(self.capped)
    }
    /// Unripe honey as a share of the face.
    pub(crate) fn unripe_of_face(&self) -> Judged {
        self.honey.times_widest(self.capped.rest())
    }
}

/// Both faces, left then right, and what had to be guessed.
pub(crate) fn both_faces(contents: &Contents, guesses: &mut Vec<Guess>) -> [FaceHoney; 2] {
    let faces = [&contents.left, &contents.right];
    let said = faces.map(|face| said_share(face, contents));
    let capped = faces.map(|face| said_capped(face, contents));
    if said.iter().any(Option::is_none) {
        guesses.push(Guess::HoneyShare);
    }
    if capped.iter().any(Option::is_none) && said != [Some(Judged::NONE); 2] {
        guesses.push(Guess::CappedShare);
    }
    [0, 1].map(|i| {
        let other = 1 - i;
        let honey = said[i].unwrap_or_else(|| match said[other] {
            Some(seen) if faces[i].is_unknown() => other_face(seen).at_most(1.0),
            _ => from_words(faces[i], contents),
        });
        let capped = capped[i]
            .or_else(|| capped[other].map(other_face))
            .unwrap_or(CAPPED_UNSAID)
            .at_most(1.0);
        FaceHoney { honey, capped }
    })
}

/// The share of the face that is honey, when shares were said or honey was said to be absent.
fn said_share(face: &FaceContents, comb: &Contents) -> Option<Judged> {
    let (capped, unripe) = (
        face.capped_honey.map(Share::get),
        face.unripe.map(Share::get),
    );
    let of_honey = face.capped_of_honey.map(Share::get);
    let sum = match (capped, unripe, of_honey) {
        (Some(capped), Some(unripe), _) => capped + unripe,
        (Some(capped), None, Some(part)) if part > 0.0 => capped / part,
        (None, Some(unripe), Some(part)) if part < 1.0 => unripe / (1.0 - part),
        (Some(part), None, _) | (None, Some(part), _) => {
            // the other kind of honey was not spoken of
            let room = (room(face) - part).max(0.0);
            let most = part + room;
            return Some(Judged::new(part, part + room / 4.0, most).at_most(1.0));
        }
        (None, None, Some(_)) => return None,
        (None, None, None) => return said_absent(face, comb).then_some(Judged::NONE),
    };
    Some(judged_by_eye(sum.min(1.0)))
}

/// "No honey": of the face, or of the comb unless this face is said to hold some.
fn said_absent(face: &FaceContents, comb: &Contents) -> bool {
    face.absent.contains(&Holding::Honey)
        || (comb.absent.contains(&Holding::Honey) && !has_honey_word(&face.present))
        || room(face) <= 0.0
}

fn said_capped(face: &FaceContents, comb: &Contents) -> Option<Judged> {
    if let Some(share) = face.capped_share() {
        return Some(judged_by_eye(share.get()));
    }
    let nothing_unripe =
        face.absent.contains(&Holding::Unripe) || comb.absent.contains(&Holding::Unripe);
    if nothing_unripe {
        return Some(Judged::exactly(1.0));
    }
    let (capped, unripe) = (face.capped_honey?.get(), room(face));
    let most = capped + unripe;
    // said is the capped part alone; the rest of the room may be unripe, a quarter of it likely
    (most > 0.0 && capped > 0.0)
        .then(|| Judged::new(capped / most, capped / (capped + unripe / 4.0), 1.0))
}

/// Share of the honey on a face whose honey was spoken of in words, or not at all.
fn from_words(face: &FaceContents, comb: &Contents) -> Judged {
    let honey = face.capped_of_honey.is_some()
        || has_honey_word(&face.present)
        || has_honey_word(&comb.present);
    let empty =
        |kinds: &[Holding]| kinds.contains(&Holding::Empty) || kinds.contains(&Holding::NewComb);
    let range = match (comb.has_brood(), honey, comb.fill) {
        (true, true, _) => OVER_BROOD,
        (true, false, _) => BROOD_ONLY,
        (false, false, _) if empty(&face.present) || empty(&comb.present) => EMPTY_SAID,
        (false, _, Some(fill)) => fill_range(fill),
        (false, true, None) => HONEY_SAID,
        (false, false, None) => NOTHING_SAID,
    };
    range.at_most(room(face))
}

pub(crate) const fn fill_range(fill: Fill) -> Judged {
    match fill {
        Fill::Light => LIGHT,
        Fill::Part => PART,
        Fill::Full => FULL,
    }
}

fn has_honey_word(kinds: &[Holding]) -> bool {
    kinds.contains(&Holding::Honey) || kinds.contains(&Holding::Unripe)
}

/// What the shares said of other things leave of the face.
fn room(face: &FaceContents) -> f64 {
    let others = [
        face.eggs,
        face.larvae,
        face.capped_brood,
        face.drone_brood,
        face.pollen,
        face.empty,
        face.bare,
    ];
    let taken: f64 = others.into_iter().flatten().map(Share::get).sum();
    (1.0 - taken).max(0.0)
}

/// A share as an eye judges it; small shares are judged more closely, none is none.
fn judged_by_eye(share: f64) -> Judged {
    let off = EYE.min(share / 2.0);
    Judged::new(share - off, share, (share + off).min(1.0))
}

/// The face that was not looked at is like the other, less surely.
fn other_face(seen: Judged) -> Judged {
    Judged::new(seen.low / 2.0, seen.best, (seen.high + 2.0 * EYE).min(1.0))
}
