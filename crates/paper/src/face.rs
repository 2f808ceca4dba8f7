//! One face as it is drawn: bands from the bar down, worked out from whatever was said.
//!
//! This decides nothing; it is only a picture. Shares that were said are drawn as said. Where a kind
//! is known to be there and not how much, it gets a nominal part of what is left and its band is
//! marked as not judged, so that the picture can show the edge as unsure. What nobody spoke of
//! stays unknown.

use comb::Share;
use comb::contents::{Contents, FaceContents, Fill, Holding};
use comb::order::InOrder as _;

use crate::Kind;

/// One band of a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// What it holds.
    pub kind: Kind,
    /// Its share of the part that is built; the bands of a face sum to 1.
    pub share: Share,
    /// True when the share was said; false when the kind is known and its extent is not.
    pub judged: bool,
}

/// One face, ready to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct FacePicture {
    /// Bands from the bar down, without gaps, each larger than nothing. Never empty: a face of
    /// which nothing is known is one band of [`Kind::Unknown`].
    pub bands: Vec<Band>,
    /// Share of the full outline that is drawn comb.
    pub built: Share,
}

/// Smaller shares are rounding, not comb.
const NOTHING: f64 = 0.005;
/// A kind that never fills a face by itself ("some pollen"), as a share of the face. Source:
/// practice; for the picture only.
const SOME: f64 = 0.12;
/// Drawn size of a comb by the keeper's coarse word. Source: practice; for the picture only.
const LIGHT: f64 = 0.12;
const PART: f64 = 0.50;
/// A comb is never drawn smaller than this, or nobody would find it.
const LEAST_BUILT: f64 = 0.04;

/// Both faces of a comb, the left-facing first.
pub(crate) fn both(contents: &Contents) -> [FacePicture; 2] {
    let built = built(contents);
    [&contents.left, &contents.right].map(|face| FacePicture::of(face, contents, built))
}

/// Share of the outline that is built: from the bare part when said, else from the coarse word.
fn built(comb: &Contents) -> f64 {
    let bare: Vec<f64> = [&comb.left, &comb.right]
        .iter()
        .filter_map(|face| face.bare.map(Share::get))
        .collect();
    let wanted = if bare.is_empty() {
        match comb.fill {
            Some(Fill::Light) => LIGHT,
            Some(Fill::Part) => PART,
            Some(Fill::Full) | None => 1.0,
        }
    } else {
        1.0 - bare.iter().sum::<f64>() / bare.len() as f64
    };
    // shares are of the full face: a comb is at least as large as what it is said to hold
    let held = [&comb.left, &comb.right].map(|face| said(face).iter().map(|s| s.1).sum::<f64>());
    wanted.max(held[0]).max(held[1]).clamp(LEAST_BUILT, 1.0)
}

/// Shares of the face that were said, bare bar left out.
fn said(face: &FaceContents) -> Vec<(Kind, f64)> {
    [
        (Kind::CappedHoney, face.capped_honey),
        (Kind::Unripe, face.unripe),
        (Kind::Pollen, face.pollen),
        (Kind::CappedBrood, face.capped_brood),
        (Kind::Larvae, face.larvae),
        (Kind::Eggs, face.eggs),
        (Kind::DroneBrood, face.drone_brood),
        (Kind::Empty, face.empty),
    ]
    .into_iter()
    .filter_map(|(kind, share)| Some((kind, share?.get())))
    .collect()
}

impl FacePicture {
    fn of(face: &FaceContents, comb: &Contents, built: f64) -> Self {
        let mut parts: Vec<Part> = said(face)
            .into_iter()
            .map(|(kind, share)| Part::judged(kind, share))
            .collect();
        complete_honey(face, built, &mut parts);
        let words = words_without_share(face, comb);
        spread_words(&words, face, built, &mut parts);
        let room = room(&parts, built);
        if room > 0.02 || parts.iter().all(|part| part.share <= NOTHING) {
            parts.push(Part::judged(Kind::Unknown, room.max(NOTHING * 2.0)));
        }
        Self {
            bands: bands(parts),
            built: Share::clamped(built),
        }
    }

    /// True when nothing is known of what this face holds.
    pub fn is_unknown(&self) -> bool {
        self.bands.iter().all(|band| band.kind == Kind::Unknown)
    }
}

/// A part of a face before it becomes a band; `share` is of the full face.
#[derive(Debug, Clone, Copy)]
struct Part {
    kind: Kind,
    share: f64,
    judged: bool,
}

impl Part {
    const fn judged(kind: Kind, share: f64) -> Self {
        let judged = true;
        Self {
            kind,
            share,
            judged,
        }
    }
    const fn nominal(kind: Kind, share: f64) -> Self {
        let judged = false;
        Self {
            kind,
            share,
            judged,
        }
    }
}

fn room(parts: &[Part], built: f64) -> f64 {
    (built - parts.iter().map(|part| part.share).sum::<f64>()).max(0.0)
}

/// The other kind of honey, when one was said together with the capped share of the honey.
fn complete_honey(face: &FaceContents, built: f64, parts: &mut Vec<Part>) {
    let Some(of_honey) = face.capped_of_honey.map(Share::get) else {
        return;
    };
    let left = room(parts, built);
    match (face.capped_honey, face.unripe) {
        (Some(capped), None) if of_honey > 0.0 => {
            let rest = capped.get() * (1.0 - of_honey) / of_honey;
            parts.push(Part::nominal(Kind::Unripe, rest.min(left)));
        }
        (None, Some(unripe)) if of_honey < 1.0 => {
            let rest = unripe.get() * of_honey / (1.0 - of_honey);
            parts.push(Part::nominal(Kind::CappedHoney, rest.min(left)));
        }
        _ => {}
    }
}

/// Kinds said to be there, on this face or on the comb, that bear no share on this face.
fn words_without_share(face: &FaceContents, comb: &Contents) -> Vec<Holding> {
    let mut words: Vec<Holding> = face.present.clone();
    words.extend(&comb.present);
    let honey_by_share = face.capped_of_honey.is_some() && !shares_of_honey(face);
    if honey_by_share {
        words.push(Holding::Honey);
    }
    words.put_in_order();
    words.dedup();
    words.retain(|word| !has_share(*word, face));
    // a word on this face outweighs one on the whole comb
    words.retain(|word| !face.absent.contains(word) || face.present.contains(word));
    // the narrower word says it already
    if words.contains(&Holding::Unripe) {
        words.retain(|word| *word != Holding::Honey);
    }
    if words.contains(&Holding::Eggs) && words.contains(&Holding::WorkerBrood) {
        words.retain(|word| *word != Holding::Eggs);
    }
    words
}

fn shares_of_honey(face: &FaceContents) -> bool {
    face.capped_honey.is_some() || face.unripe.is_some()
}

fn has_share(word: Holding, face: &FaceContents) -> bool {
    match word {
        Holding::Honey => shares_of_honey(face),
        Holding::Unripe => face.unripe.is_some(),
        Holding::WorkerBrood => [face.eggs, face.larvae, face.capped_brood]
            .iter()
            .any(Option::is_some),
        Holding::DroneBrood => face.drone_brood.is_some(),
        Holding::Eggs => face.eggs.is_some(),
        Holding::Pollen => face.pollen.is_some(),
        Holding::Empty | Holding::NewComb => face.empty.is_some(),
    }
}

/// Weight of a word in sharing out what is left: honey over brood is the smaller part.
/// Source: practice; for the picture only.
const fn weight(word: Holding) -> Option<f64> {
    match word {
        Holding::Honey => Some(1.0),
        Holding::WorkerBrood => Some(2.0),
        Holding::Unripe | Holding::Empty | Holding::NewComb => Some(0.8),
        Holding::DroneBrood | Holding::Eggs | Holding::Pollen => None,
    }
}

fn spread_words(words: &[Holding], face: &FaceContents, built: f64, parts: &mut Vec<Part>) {
    for word in words.iter().filter(|word| weight(**word).is_none()) {
        let share = (SOME * built).min(room(parts, built));
        parts.extend(as_parts(*word, share, face));
    }
    // whoever says "empty" or "new comb" beside honey means the rest
    let left = room(parts, built);
    let whole: f64 = words.iter().filter_map(|word| weight(*word)).sum();
    for word in words {
        if let Some(weight) = weight(*word) {
            parts.extend(as_parts(*word, left * weight / whole, face));
        }
    }
}

fn as_parts(word: Holding, share: f64, face: &FaceContents) -> Vec<Part> {
    let kind = match word {
        Holding::Honey | Holding::Unripe => return honey_parts(word, share, face),
        Holding::WorkerBrood => Kind::Brood,
        Holding::DroneBrood => Kind::DroneBrood,
        Holding::Eggs => Kind::Eggs,
        Holding::Pollen => Kind::Pollen,
        Holding::Empty | Holding::NewComb => Kind::Empty,
    };
    vec![Part::nominal(kind, share)]
}

fn honey_parts(word: Holding, share: f64, face: &FaceContents) -> Vec<Part> {
    match face.capped_of_honey.map(Share::get) {
        Some(capped) if !shares_of_honey(face) => vec![
            Part::nominal(Kind::CappedHoney, share * capped),
            Part::nominal(Kind::Unripe, share * (1.0 - capped)),
        ],
        _ if word == Holding::Unripe => vec![Part::nominal(Kind::Unripe, share)],
        _ => vec![Part::nominal(Kind::Honey, share)],
    }
}

/// Bands in their order, like ones joined, summing to 1.
fn bands(mut parts: Vec<Part>) -> Vec<Band> {
    parts.retain(|part| part.share > NOTHING);
    parts.order_by_key(|part| part.kind);
    let whole: f64 = parts.iter().map(|part| part.share).sum();
    let mut bands: Vec<Band> = Vec::new();
    for part in parts {
        let share = part.share / whole;
        match bands.last_mut() {
            Some(last) if last.kind == part.kind => {
                last.share = Share::clamped(last.share.get() + share);
                last.judged &= part.judged;
            }
            _ => bands.push(Band {
                kind: part.kind,
                share: Share::clamped(share),
                judged: part.judged,
            }),
        }
    }
    bands
}

#[cfg(test)]
mod tests {
    use super::*;

    fn share(percent: f64) -> Share {
        Share::clamped(percent / 100.0)
    }

    fn picture(comb: &Contents) -> Vec<(Kind, u32, bool)> {
        let [left, _] = both(comb);
        let rounded = |band: &Band| (band.share.to_percent() + 0.5) as u32;
        let bands = left.bands.iter();
        bands.map(|b| (b.kind, rounded(b), b.judged)).collect()
    }

    #[test]
    fn nothing_said_is_unknown_and_not_empty() {
        assert_eq!(picture(&Contents::default()), [(Kind::Unknown, 100, true)]);
    }

    #[test]
    fn said_shares_are_drawn_as_said_and_the_rest_is_unknown() {
        let left = FaceContents {
            capped_brood: Some(share(40.0)),
            capped_honey: Some(share(20.0)),
            ..FaceContents::default()
        };
        let comb = Contents {
            left,
            ..Contents::default()
        };
        let bands = [
            (Kind::CappedHoney, 20, true),
            (Kind::CappedBrood, 40, true),
            (Kind::Unknown, 40, true),
        ];
        assert_eq!(picture(&comb), bands);
    }

    #[test]
    fn a_capped_share_of_the_honey_fills_the_face_unjudged() {
        let left = FaceContents {
            capped_of_honey: Some(share(75.0)),
            ..FaceContents::default()
        };
        let comb = Contents {
            left,
            ..Contents::default()
        };
        let bands = [(Kind::CappedHoney, 75, false), (Kind::Unripe, 25, false)];
        assert_eq!(picture(&comb), bands);
    }

    #[test]
    fn a_word_without_a_share_leaves_room_for_what_is_not_known() {
        let comb = Contents {
            present: vec![Holding::Pollen],
            ..Contents::default()
        };
        let bands = [(Kind::Pollen, 12, false), (Kind::Unknown, 88, true)];
        assert_eq!(picture(&comb), bands);
    }

    #[test]
    fn a_bare_part_makes_the_comb_smaller() {
        let left = FaceContents {
            bare: Some(share(70.0)),
            unripe: Some(share(30.0)),
            ..FaceContents::default()
        };
        let comb = Contents {
            left,
            ..Contents::default()
        };
        let [face, _] = both(&comb);
        assert!((face.built.get() - 0.3).abs() < 1e-9);
        assert_eq!(picture(&comb), [(Kind::Unripe, 100, true)]);
    }
}
