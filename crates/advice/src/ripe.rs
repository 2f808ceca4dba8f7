//! Whether a comb may be taken: the cap rule, what overrides it, and the reason in words.
//!
//! Rule: no brood on the comb, mean capped share of its honey over both faces at least 2/3
//! (settable to 3/4), no face under 1/2. A refractometer at or under the legal limit overrides the
//! caps. Common practice, no source.

use std::fmt;

use comb::contents::{Fill, Holding, Straightness};
use comb::{Contents, FaceContents, Share};
use hive::entry::Face;
use serde::Serialize;

/// Least mean capped share of both faces. Common practice, no source.
pub const RIPE_MEAN: f64 = 2.0 / 3.0;
/// Least capped share of either face. Common practice, no source.
pub const RIPE_FACE: f64 = 0.5;
/// Water, as a share of mass, up to which honey is lawful honey in general.
/// Source: reference/honey.md 1, Codex CXS 12-1981 and EU Directive 2001/110/EC, 20 %; status seen (EU).
pub const LEGAL_MOISTURE: f64 = 0.20;
/// "Two thirds" is said as 0.67 and tapped as 5/8 or 6/8; a share this little under the line is on it.
const ROUNDING: f64 = 0.005;

/// What counts as ripe here.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RipeRule {
    /// Least mean capped share of both faces.
    pub mean_capped: Share,
    /// Least capped share of either face.
    pub face_capped: Share,
    /// Water up to which a refractometer overrides the caps.
    pub legal_moisture: Share,
}

impl Default for RipeRule {
    fn default() -> Self {
        Self {
            mean_capped: Share::clamped(RIPE_MEAN),
            face_capped: Share::clamped(RIPE_FACE),
            legal_moisture: Share::clamped(LEGAL_MOISTURE),
        }
    }
}

impl RipeRule {
    /// The default rule with the keeper's own mean, where one is set.
    #[must_use]
    pub fn with_mean(mean_capped: Option<Share>) -> Self {
        Self {
            mean_capped: mean_capped.unwrap_or(Share::clamped(RIPE_MEAN)),
            ..Self::default()
        }
    }
}

/// The rule's word on one comb.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "verdict", rename_all = "snake_case")]
pub enum Verdict {
    /// Ripe by its caps.
    Ripe {
        /// Mean capped share of both faces.
        mean_capped: Share,
    },
    /// Ripe by refractometer, whatever the caps say.
    RipeByMoisture {
        /// Water found.
        moisture: Share,
        /// The limit.
        limit: Share,
    },
    /// The other face decides.
    LookAtOtherSide {
        /// The face that was not looked at.
        face: Face,
        /// What the known face shows.
        known: Share,
        /// What the other must show at least.
        needed: Share,
    },
    /// Honey that is not ripe.
    Unripe {
        /// Mean capped share of both faces; `None` when one face alone settles it.
        mean_capped: Option<Share>,
        /// The weaker face.
        weakest: Share,
        /// The mean that is asked for.
        needed: Share,
        /// The least of either face that is asked for.
        needed_face: Share,
    },
    /// Capped or not, the refractometer says too wet.
    TooWet {
        /// Water found.
        moisture: Share,
        /// The limit.
        limit: Share,
    },
    /// Brood on it.
    Brood,
    /// Looked at, and no honey on it.
    NoHoney,
    /// Honey, but nothing was said of its capping.
    CappingNotSaid,
    /// Something is known of it, its weight or how it hangs, but not what is on it.
    HoldingsNotSaid,
    /// Nothing is known of it.
    NotLookedAt,
}

impl Verdict {
    /// True when the comb may be taken, stores allowing.
    pub const fn is_ripe(self) -> bool {
        matches!(self, Self::Ripe { .. } | Self::RipeByMoisture { .. })
    }

    /// True when honey on it may ripen by itself.
    pub const fn is_ripening(self) -> bool {
        matches!(self, Self::Unripe { .. } | Self::TooWet { .. })
    }
}

/// The rule's word on a comb of which this is known.
///
/// ```
/// use advice::ripe::{RipeRule, Verdict, verdict};
/// use comb::{Contents, FaceContents, Share};
/// let face = |capped: f64| FaceContents {
///     capped_of_honey: Some(Share::clamped(capped)),
///     ..FaceContents::default()
/// };
/// let comb = Contents { left: face(0.9), right: face(0.5), ..Contents::default() };
/// assert!(verdict(&comb, RipeRule::default()).is_ripe()); // 0.70 in the mean, no face under a half
/// let one_side = Contents { left: face(0.9), ..Contents::default() };
/// assert!(matches!(verdict(&one_side, RipeRule::default()), Verdict::LookAtOtherSide { .. }));
/// ```
pub fn verdict(contents: &Contents, rule: RipeRule) -> Verdict {
    if contents.has_brood() {
        return Verdict::Brood;
    }
    if let Some(moisture) = contents.moisture {
        let limit = rule.legal_moisture;
        return if moisture <= limit {
            Verdict::RipeByMoisture { moisture, limit }
        } else {
            Verdict::TooWet { moisture, limit }
        };
    }
    let left = contents.left.capped_share();
    let right = contents.right.capped_share();
    match (left, right) {
        (Some(left), Some(right)) => both_faces(left, right, contents, rule),
        (Some(known), None) => one_face(known, Face::Right, contents, rule),
        (None, Some(known)) => one_face(known, Face::Left, contents, rule),
        (None, None) => no_face(contents),
    }
}

/// True when honey of any ripeness was spoken of.
pub fn has_honey(contents: &Contents) -> bool {
    let honey = |kind: &Holding| matches!(kind, Holding::Honey | Holding::Unripe);
    let some = |share: Option<Share>| share.is_some_and(|s| s.get() > 0.0);
    let on_face = |face: &FaceContents| {
        some(face.capped_of_honey)
            || some(face.capped_honey)
            || some(face.unripe)
            || face.present.iter().any(honey)
    };
    on_face(&contents.left) || on_face(&contents.right) || contents.present.iter().any(honey)
}

/// True for a comb that is said to bend or to run across its neighbours.
pub fn is_crossed(contents: &Contents) -> bool {
    contents.straightness == Some(Straightness::Crossed)
}

fn reaches(share: Share, line: Share) -> bool {
    share.get() >= line.get() - ROUNDING
}

fn both_faces(left: Share, right: Share, contents: &Contents, rule: RipeRule) -> Verdict {
    let mean_capped = left.mean(right);
    let weakest = if left < right { left } else { right };
    if mean_capped == Share::ZERO && !has_honey(contents) {
        return Verdict::NoHoney;
    }
    if reaches(mean_capped, rule.mean_capped) && reaches(weakest, rule.face_capped) {
        Verdict::Ripe { mean_capped }
    } else {
        unripe(Some(mean_capped), weakest, rule)
    }
}

fn one_face(known: Share, other: Face, contents: &Contents, rule: RipeRule) -> Verdict {
    if known == Share::ZERO && !has_honey(contents) {
        return Verdict::NoHoney;
    }
    let for_mean = 2.0 * rule.mean_capped.get() - known.get();
    let needed = for_mean.max(rule.face_capped.get());
    if !reaches(known, rule.face_capped) || needed > 1.0 + ROUNDING {
        return unripe(None, known, rule);
    }
    Verdict::LookAtOtherSide {
        face: other,
        known,
        needed: Share::clamped(needed),
    }
}

fn unripe(mean_capped: Option<Share>, weakest: Share, rule: RipeRule) -> Verdict {
    let (needed, needed_face) = (rule.mean_capped, rule.face_capped);
    Verdict::Unripe {
        mean_capped,
        weakest,
        needed,
        needed_face,
    }
}

fn no_face(contents: &Contents) -> Verdict {
    let only_unripe =
        contents.present.contains(&Holding::Unripe) && !contents.present.contains(&Holding::Honey);
    if only_unripe {
        return unripe(None, Share::ZERO, RipeRule::default());
    }
    if has_honey(contents) {
        return Verdict::CappingNotSaid;
    }
    if *contents == Contents::default() {
        Verdict::NotLookedAt
    } else if says_what_is_on_it(contents) {
        Verdict::NoHoney
    } else {
        Verdict::HoldingsNotSaid
    }
}

/// True when anything was said of what is on it, or that it weighs next to nothing: who speaks of the one
/// and not of honey saw none. A weight or a bend alone says nothing of honey.
fn says_what_is_on_it(contents: &Contents) -> bool {
    let on_face = |face: &FaceContents| *face != FaceContents::default();
    on_face(&contents.left)
        || on_face(&contents.right)
        || !contents.present.is_empty()
        || !contents.absent.is_empty()
        || contents.fill == Some(Fill::Light)
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Ripe { mean_capped } => write!(f, "ripe, {mean_capped} capped"),
            Self::RipeByMoisture { moisture, limit } => write!(
                f,
                "ripe, {:.1} % water is within {limit}",
                moisture.to_percent()
            ),
            Self::LookAtOtherSide {
                face,
                known,
                needed,
            } => {
                let side = if face == Face::Left { "left" } else { "right" };
                write!(
                    f,
                    "look at the {side}-facing side: {known} capped on this one, the other needs \
                     {needed}"
                )
            }
            Self::Unripe {
                mean_capped: Some(mean),
                weakest,
                needed,
                needed_face,
            } => {
                if reaches(mean, needed) {
                    write!(
                        f,
                        "not ripe, one face has only {weakest} of {needed_face} capped"
                    )
                } else {
                    write!(f, "not ripe, {mean} capped of the {needed} asked for")
                }
            }
            Self::Unripe {
                mean_capped: None,
                weakest,
                ..
            } if weakest == Share::ZERO => f.write_str("not ripe, nothing capped"),
            Self::Unripe {
                mean_capped: None,
                weakest,
                ..
            } => {
                write!(f, "not ripe, one face has only {weakest} capped")
            }
            Self::TooWet { moisture, limit } => {
                write!(
                    f,
                    "too wet, {:.1} % water, the limit is {limit}",
                    moisture.to_percent()
                )
            }
            Self::Brood => f.write_str("brood on it, it stays"),
            Self::NoHoney => f.write_str("no honey on it"),
            Self::CappingNotSaid => f.write_str("honey, but how much is capped was not said"),
            Self::HoldingsNotSaid => f.write_str("what is on it was not said"),
            Self::NotLookedAt => f.write_str("not looked at"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn comb(left: Option<f64>, right: Option<f64>) -> Contents {
        let face = |capped: Option<f64>| FaceContents {
            capped_of_honey: capped.map(Share::clamped),
            ..FaceContents::default()
        };
        Contents {
            left: face(left),
            right: face(right),
            present: vec![Holding::Honey],
            ..Contents::default()
        }
    }

    fn word(left: Option<f64>, right: Option<f64>) -> Verdict {
        verdict(&comb(left, right), RipeRule::default())
    }

    // The lines of the rule: DESIGN 4.1, common practice, no source.
    #[test]
    fn two_thirds_in_the_mean_with_no_face_under_a_half_is_ripe() {
        assert!(word(Some(1.0), Some(0.67)).is_ripe());
        assert!(word(Some(0.67), Some(0.67)).is_ripe());
        assert!(word(Some(0.84), Some(0.5)).is_ripe());
        assert!(
            !word(Some(1.0), Some(0.4)).is_ripe(),
            "0.70 in the mean, one face under a half"
        );
        assert!(!word(Some(0.8), Some(0.5)).is_ripe(), "0.65 in the mean");
    }

    #[test]
    fn an_unknown_face_is_looked_at_only_when_it_can_decide() {
        assert!(matches!(
            word(Some(0.9), None),
            Verdict::LookAtOtherSide {
                face: Face::Right,
                ..
            }
        ));
        assert!(matches!(
            word(None, Some(0.5)),
            Verdict::LookAtOtherSide {
                face: Face::Left,
                ..
            }
        ));
        // under a half: no other face can make it ripe
        assert!(word(Some(0.25), None).is_ripening());
    }

    #[test]
    fn brood_goes_before_caps_and_moisture() {
        let mut both = comb(Some(1.0), Some(1.0));
        both.moisture = Some(Share::clamped(0.17));
        both.present.push(Holding::WorkerBrood);
        assert_eq!(verdict(&both, RipeRule::default()), Verdict::Brood);
    }

    #[test]
    fn the_refractometer_overrides_the_caps_both_ways() {
        let mut open = comb(Some(0.2), Some(0.2));
        open.moisture = Some(Share::clamped(0.2));
        assert!(
            verdict(&open, RipeRule::default()).is_ripe(),
            "20.0 % passes"
        );
        let mut sealed = comb(Some(1.0), Some(1.0));
        sealed.moisture = Some(Share::clamped(0.201));
        assert!(matches!(
            verdict(&sealed, RipeRule::default()),
            Verdict::TooWet { .. }
        ));
    }

    #[test]
    fn a_comb_nobody_looked_at_is_not_a_comb_without_honey() {
        let rule = RipeRule::default();
        assert_eq!(verdict(&Contents::default(), rule), Verdict::NotLookedAt);
        let pollen = Contents {
            present: vec![Holding::Pollen],
            ..Contents::default()
        };
        assert_eq!(verdict(&pollen, rule), Verdict::NoHoney);
    }

    #[test]
    fn a_weight_alone_is_not_the_word_that_there_is_no_honey() {
        let rule = RipeRule::default();
        let weighed = Contents {
            mass_kg: Some(comb::Mass::kg(2.1)),
            ..Contents::default()
        };
        assert_eq!(verdict(&weighed, rule), Verdict::HoldingsNotSaid);
        let fill = |fill| Contents {
            fill: Some(fill),
            ..Contents::default()
        };
        assert_eq!(verdict(&fill(Fill::Full), rule), Verdict::HoldingsNotSaid);
        assert_eq!(verdict(&fill(Fill::Light), rule), Verdict::NoHoney);
    }

    proptest! {
        #[test]
        fn more_caps_never_unripen_a_comb(l in 0.0..=1.0f64, r in 0.0..=1.0f64, up in 0.0..=1.0f64) {
            let more = (l + up).min(1.0);
            if word(Some(l), Some(r)).is_ripe() {
                prop_assert!(word(Some(more), Some(r)).is_ripe());
            }
        }

        #[test]
        fn the_sides_of_a_comb_count_alike(l in 0.0..=1.0f64, r in 0.0..=1.0f64) {
            prop_assert_eq!(word(Some(l), Some(r)).is_ripe(), word(Some(r), Some(l)).is_ripe());
        }

        #[test]
        fn look_at_the_other_side_means_it_can_go_either_way(known in 0.0..=1.0f64) {
            if let Verdict::LookAtOtherSide { needed, .. } = word(Some(known), None) {
                prop_assert!(word(Some(known), Some(needed.get())).is_ripe());
                prop_assert!(!word(Some(known), Some(0.0)).is_ripe());
            } else {
                prop_assert!(!word(Some(known), Some(1.0)).is_ripe());
            }
        }
    }
}
