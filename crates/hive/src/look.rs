//! Adding up what is said of one comb in one visit.

use comb::contents::Holding;
use comb::order::InOrder as _;
use comb::{Contents, FaceContents, Share};

/// The earlier words with the later ones laid over them: the later word on each part wins, and
/// what the later does not speak of stays.
///
/// A kind said to be there ends an earlier word that it is not, and the other way round; a share
/// that contradicts a later "none" becomes unknown, it is never made 0.
#[must_use]
pub fn add_up(earlier: Contents, later: Contents) -> Contents {
    let mut said = earlier;
    said.left = add_up_face(said.left, later.left);
    said.right = add_up_face(said.right, later.right);
    add_up_kinds(
        &mut said.present,
        &mut said.absent,
        later.present,
        later.absent,
    );
    // a word on the whole comb reaches its faces where it contradicts them
    for kind in said.absent.clone() {
        deny(&mut said.left, kind);
        deny(&mut said.right, kind);
    }
    said.fill = later.fill.or(said.fill);
    said.thickness_mm = later.thickness_mm.or(said.thickness_mm);
    said.mass_kg = later.mass_kg.or(said.mass_kg);
    said.attachment = later.attachment.or(said.attachment);
    said.straightness = later.straightness.or(said.straightness);
    said.moisture = later.moisture.or(said.moisture);
    said
}

fn add_up_face(earlier: FaceContents, later: FaceContents) -> FaceContents {
    let mut said = earlier;
    // a new pair of shares of the face outdates an earlier capped share of the honey
    let outdated = later.capped_honey.is_some() && later.unripe.is_some();
    said.capped_of_honey =
        later
            .capped_of_honey
            .or(if outdated { None } else { said.capped_of_honey });
    for kind in &later.absent {
        deny(&mut said, *kind);
    }
    for part in PARTS {
        let (slot, new) = ((part.slot)(&mut said), (part.get)(&later));
        if new.is_some() {
            *slot = new;
        }
        if new.is_some_and(|share| share.get() > 0.0) {
            said.absent.retain(|kind| !part.kinds.contains(kind));
        }
    }
    add_up_kinds(
        &mut said.present,
        &mut said.absent,
        later.present,
        later.absent,
    );
    said
}

/// Drops what an "it is not there" contradicts.
fn deny(face: &mut FaceContents, kind: Holding) {
    for part in PARTS.iter().filter(|part| part.kinds.contains(&kind)) {
        let slot = (part.slot)(face);
        if slot.is_some_and(|share| share.get() > 0.0) {
            *slot = None;
        }
    }
    if kind == Holding::Honey {
        face.capped_of_honey = None;
    }
    face.present.retain(|there| *there != kind);
}

fn add_up_kinds(
    present: &mut Vec<Holding>,
    absent: &mut Vec<Holding>,
    later_present: Vec<Holding>,
    later_absent: Vec<Holding>,
) {
    absent.retain(|kind| !later_present.contains(kind));
    present.retain(|kind| !later_absent.contains(kind));
    // a single look that says both keeps both: the contradiction is the keeper's to see
    present.extend(later_present);
    absent.extend(later_absent);
    for kinds in [present, absent] {
        kinds.put_in_order();
        kinds.dedup();
    }
}

/// One share of the face and the kinds it is of.
struct Part {
    slot: fn(&mut FaceContents) -> &mut Option<Share>,
    get: fn(&FaceContents) -> Option<Share>,
    kinds: &'static [Holding],
}

macro_rules! part {
    ($field:ident, [$($kind:ident),*]) => {
        Part {
            slot: |face| &mut face.$field,
            get: |face| face.$field,
            kinds: &[$(Holding::$kind),*],
        }
    };
}

/// `bare` is of no kind: a face half built is not "without" anything.
const PARTS: [Part; 9] = [
    part!(capped_honey, [Honey]),
    part!(unripe, [Honey, Unripe]),
    part!(eggs, [Eggs, WorkerBrood]),
    part!(larvae, [WorkerBrood]),
    part!(capped_brood, [WorkerBrood]),
    part!(drone_brood, [DroneBrood]),
    part!(pollen, [Pollen]),
    part!(empty, [Empty]),
    part!(bare, []),
];

/// True when the words can only be about a comb, not about an empty bar.
pub(crate) fn shows_comb(contents: &Contents) -> bool {
    let comb_on = |face: &FaceContents| {
        face.capped_of_honey.is_some()
            || face.present.iter().any(|kind| *kind != Holding::Empty)
            || PARTS
                .iter()
                .filter(|part| !part.kinds.is_empty())
                .any(|part| (part.get)(face).is_some_and(|share| share.get() > 0.0))
    };
    contents.fill.is_some()
        || contents.thickness_mm.is_some()
        || contents.mass_kg.is_some()
        || contents.moisture.is_some()
        || contents.straightness.is_some()
        || contents.attachment.is_some()
        || contents.present.iter().any(|kind| *kind != Holding::Empty)
        || comb_on(&contents.left)
        || comb_on(&contents.right)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn face(capped: f64) -> FaceContents {
        FaceContents {
            capped_of_honey: Some(Share::clamped(capped)),
            ..FaceContents::default()
        }
    }

    #[test]
    fn the_unknown_never_covers_the_known() {
        let first = Contents {
            left: face(0.5),
            ..Contents::default()
        };
        let second = Contents {
            right: face(0.75),
            ..Contents::default()
        };
        let both = add_up(first.clone(), second);
        assert_eq!(both.left, first.left);
        assert_eq!(both.right, face(0.75));
        assert_eq!(add_up(both.clone(), Contents::default()), both);
    }

    #[test]
    fn a_later_none_makes_a_share_unknown_not_zero() {
        let brood = Contents {
            left: FaceContents {
                capped_brood: Some(Share::HALF),
                ..FaceContents::default()
            },
            present: vec![Holding::WorkerBrood],
            ..Contents::default()
        };
        let none = Contents {
            absent: vec![Holding::WorkerBrood],
            ..Contents::default()
        };
        let said = add_up(brood, none);
        assert_eq!(said.left.capped_brood, None);
        assert_eq!(said.present, []);
        assert_eq!(said.absent, [Holding::WorkerBrood]);
        assert!(!said.has_brood());
    }
}
