//! Adding up what is said of one comb in one visit.

use comb::contents::Holding;
use comb::order::InOrder as _;
use comb::{Contents, FaceContents, Share};

/// The earlier words with the later ones laid over them: the later word on each part wins, and
/// what the later does not speak of stays.
///
/// A kind said to be there ends an earlier word that it is not, and the other way round; a share
/// that contradicts a later "none" becomes unknown, it is never made 0.
pub(crate) fn add(said: &mut Contents, later: &Contents) {
    add_face(&mut said.left, &later.left);
    add_face(&mut said.right, &later.right);
    add_kinds(
        (&mut said.present, &mut said.absent),
        (&later.present, &later.absent),
    );
    // a word on the whole comb reaches its faces where it contradicts them
    for kind in &said.absent {
        deny(&mut said.left, *kind);
        deny(&mut said.right, *kind);
    }
    said.fill = later.fill.or(said.fill);
    said.thickness_mm = later.thickness_mm.or(said.thickness_mm);
    said.mass_kg = later.mass_kg.or(said.mass_kg);
    said.attachment = later.attachment.or(said.attachment);
    said.straightness = later.straightness.or(said.straightness);
    said.moisture = later.moisture.or(said.moisture);
}

fn add_face(said: &mut FaceContents, later: &FaceContents) {
    // a new pair of shares of the face outdates an earlier capped share of the honey
    let outdated = later.capped_honey.is_some() && later.unripe.is_some();
    said.capped_of_honey =
        later
            .capped_of_honey
            .or(if outdated { None } else { said.capped_of_honey });
    for kind in &later.absent {
        deny(said, *kind);
    }
    for part in &PARTS {
        let Some(new) = (part.get)(later) else {
            continue;
        };
        *(part.slot)(said) = Some(new);
        if new.get() > 0.0 {
            said.absent.retain(|kind| !part.kinds.contains(kind));
        }
    }
    add_kinds(
        (&mut said.present, &mut said.absent),
        (&later.present, &later.absent),
    );
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

/// Kinds said to be there, and not to be there.
fn add_kinds(
    (present, absent): (&mut Vec<Holding>, &mut Vec<Holding>),
    (later_present, later_absent): (&[Holding], &[Holding]),
) {
    // most looks say nothing in kinds
    if later_present.is_empty() && later_absent.is_empty() {
        return;
    }
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
        let mut both = first.clone();
        add(&mut both, &second);
        assert_eq!(both.left, first.left);
        assert_eq!(both.right, face(0.75));
        let mut same = both.clone();
        add(&mut same, &Contents::default());
        assert_eq!(same, both);
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
        let mut said = brood;
        add(&mut said, &none);
        assert_eq!(said.left.capped_brood, None);
        assert_eq!(said.present, []);
        assert_eq!(said.absent, [Holding::WorkerBrood]);
        assert!(!said.has_brood());
    }
}
