//! What a comb weighs in the hand: honey, wax, brood and pollen.

use crate::cells;
use crate::contents::{Contents, FaceContents, Holding};
use crate::honey_mass::{CombPlace, honey_mass};
use crate::honey_share::fill_range;
use crate::judged::Judged;
use crate::{MassRange, Outline, Share};

/// Wax of one cell, mg. Source: comb-facts.csv "wax per cell"; status seen. Low and high: practice.
const WAX_PER_CELL_MG: Judged = Judged::new(9.0, 11.8, 14.0);
/// Wax in the cappings, part of the honey. Source: comb-facts.csv, 18 g per kg; status seen.
const CAPPINGS: f64 = 0.018;
/// One cell of brood of mixed age with its food, mg. Status: from memory, wide.
const BROOD_PER_CELL_MG: Judged = Judged::new(70.0, 120.0, 160.0);
/// Pollen per cell, mg. Source: comb-facts.csv, 160 (140 to 200); status memory. The low end is
/// half of that: cells of pollen are seldom full (practice).
const POLLEN_PER_CELL_MG: Judged = Judged::new(80.0, 160.0, 200.0);

/// A kind that is on the comb, and not how much, as a share of the face. Status: practice.
const SAID_TO_BE_THERE: Judged = Judged::new(0.05, 0.30, 0.80);
/// A kind that was not spoken of. Status: practice.
const NOT_SPOKEN_OF: Judged = Judged::new(0.0, 0.0, 0.20);
/// A comb whose size was not said is taken as drawn so far. Status: practice.
const DRAWN_UNSAID: Judged = Judged::new(0.4, 0.95, 1.0);

/// All that hangs from the bar, bar and bees not counted: what a keeper lifts.
///
/// A mass judged in the hand is taken as it was said, with how far a hand is off; else honey by
/// [`honey_mass`] and what [`without_honey`] gives.
pub fn comb_mass(contents: &Contents, place: &CombPlace<'_>) -> MassRange {
    if let Some(mass) = contents.mass_kg {
        let kg = MassRange::exactly(mass).best().to_kg();
        let hand = crate::honey_mass::HAND;
        return Judged::new(kg * (1.0 - hand), kg, kg * (1.0 + hand)).kg();
    }
    let honey = honey_mass(contents, place);
    let cappings = honey.capped * Share::clamped(CAPPINGS);
    honey.total + cappings + without_honey(contents, place.outline)
}

/// Wax, brood and pollen of a comb, both faces together.
pub fn without_honey(contents: &Contents, outline: &Outline) -> MassRange {
    let cells = cells::per_dm2(cells::WORKER_CELL) * outline.face_area().to_dm2();
    let faces = [&contents.left, &contents.right];
    let of_both = |share: &dyn Fn(&FaceContents) -> Judged, per_cell_mg: Judged| {
        let shares = share(faces[0]).plus(share(faces[1]));
        Judged::product(&[shares, per_cell_mg]).scaled(cells / 1e6)
    };
    let wax = of_both(&|face| drawn(face, contents), WAX_PER_CELL_MG);
    let brood = of_both(&|face| brood(face, contents), BROOD_PER_CELL_MG);
    let pollen = of_both(&|face| pollen(face, contents), POLLEN_PER_CELL_MG);
    wax.plus(brood).plus(pollen).kg()
}

fn drawn(face: &FaceContents, comb: &Contents) -> Judged {
    match (face.bare, comb.fill) {
        (Some(bare), _) => Judged::exactly(bare.rest().get()),
        (None, Some(fill)) => fill_range(fill),
        (None, None) => DRAWN_UNSAID,
    }
}

fn brood(face: &FaceContents, comb: &Contents) -> Judged {
    let said = [face.eggs, face.larvae, face.capped_brood, face.drone_brood];
    let spoken = |kinds: &[Holding]| kinds.iter().any(|h| h.is_brood());
    share_of(
        &said,
        spoken(&face.present) || spoken(&comb.present),
        spoken(&face.absent) || spoken(&comb.absent),
    )
}

fn pollen(face: &FaceContents, comb: &Contents) -> Judged {
    let spoken = |kinds: &[Holding]| kinds.contains(&Holding::Pollen);
    share_of(
        &[face.pollen],
        spoken(&face.present) || spoken(&comb.present),
        spoken(&face.absent) || spoken(&comb.absent),
    )
}

fn share_of(said: &[Option<Share>], present: bool, absent: bool) -> Judged {
    if said.iter().any(Option::is_some) {
        let sum: f64 = said.iter().flatten().map(|s| s.get()).sum();
        return Judged::exactly(sum.min(1.0));
    }
    if present {
        SAID_TO_BE_THERE
    } else if absent {
        Judged::NONE
    } else {
        NOT_SPOKEN_OF
    }
}
