//! What honey a comb carries, from its outline, thickness and faces; always a range.
//!
//! The formula of reference/colony.md B is an upper bound, for a full and capped comb:
//!
//! `honey kg = 0.01278 * area of one face (dm2) * mean thickness (mm) * fill`
//!
//! A keeper judges a full thick comb at 2 to 2.5 kg (common practice, no source). So each figure
//! is taken with how far it may be off; what was not said widens the range and is named.

use serde::{Deserialize, Serialize};

use crate::calibration::{Calibration, NINETY_PER_CENT, PRIOR_SD};
use crate::contents::Contents;
use crate::honey_share::{self, FaceHoney};
use crate::judged::Judged;
use crate::order::InOrder as _;
use crate::pitch::{self, Pitch};
use crate::{Area, Length, Mass, MassRange, Outline, Share};

/// Honey at 18 % water and 20 C, kg per litre.
/// Source: comb-facts.csv "honey density" 1.42 (1.41 to 1.43); status memory.
pub const HONEY_DENSITY: f64 = 1.42;
/// Part of a full capped comb's volume that is honey; the rest is wax and air.
/// Source: comb-facts.csv "honey volume share of capped comb" 0.90 (0.85 to 0.93); status
/// computed, practice.
pub const HONEY_OF_COMB: f64 = 0.90;
/// Honey of one dm2 of full capped comb, both faces, per mm of thickness: grams.
/// Source: comb-facts.csv, 12.78 (12.1 to 13.2); status computed.
pub const GRAMS_PER_DM2_MM: f64 = 12.78;
const GRAMS_PER_DM2_MM_JUDGED: Judged = Judged::new(12.1, GRAMS_PER_DM2_MM, 13.2);

/// Water in honey as it is capped, when nobody measured it. Source: honey-density.csv, the
/// density's own condition.
const USUAL_WATER: f64 = 0.18;
/// Water in what is not capped yet: between nectar and honey. Status: practice.
const UNRIPE_WATER: f64 = 0.25;
/// Density falls by so much for each 1 % of water more, as a part of the density at 18 %:
/// (1.4431 - 1.3925) / 8 / 1.4146. Source: honey-density.csv, 13 and 21 % water; status
/// computed from memory rows. Taken on beyond 21 % for unripe honey.
const DENSITY_PER_WATER: f64 = 0.447;

/// How full cells stand that are not capped, as a part of capped ones. Status: practice.
const OPEN_CELLS: Judged = Judged::new(0.55, 0.80, 0.95);

/// Mean thickness as a part of the thickest place, least, usual, most. Status: practice; the
/// usual is reference/colony.md B.
const MEAN_OF_THICKEST: [f64; 3] = [0.70, pitch::MEAN_OF_THICKEST, 0.90];
/// Mean thickness of comb when neither thickness nor pitch is known, mm: from natural worker comb
/// to honey comb. Source: comb-facts.csv, 22.5 and 25 to 45; the middle is a 35 mm bar's 26 mm.
const THICKNESS_UNKNOWN: Judged = Judged::new(22.0, 26.0, 38.0);

/// A keeper's thickness may be this much too small, as a part of it. Status: practice.
const THICKNESS_EYE: f64 = 0.10;

/// How far a mass judged in the hand is off, as a part of it, either way. Status: practice.
pub(crate) const HAND: f64 = 0.15;

/// Where a comb hangs and what the yard's weighed combs say; the same for most combs of a hive.
#[derive(Debug, Clone, Copy)]
pub struct CombPlace<'a> {
    /// The full comb of this body.
    pub outline: &'a Outline,
    /// Midrib to midrib, from bar and shims; `None` when not known.
    pub pitch: Option<Pitch>,
    /// [`Calibration::PRIOR`] when nothing was weighed.
    pub calibration: &'a Calibration,
}

/// What had to be guessed because nobody said it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Guess {
    /// How much of a face is honey.
    HoneyShare,
    /// How much of the honey is capped.
    CappedShare,
    /// How thick the comb is.
    Thickness,
    /// The thickness said is more than the pitch allows beside a straight neighbour.
    ThickerThanPitch,
}

impl Guess {
    /// In words, to follow "guessed: ".
    pub const fn words(self) -> &'static str {
        match self {
            Self::HoneyShare => "how much of the comb is honey",
            Self::CappedShare => "how much of the honey is capped",
            Self::Thickness => "how thick the comb is",
            Self::ThickerThanPitch => "the thickness said is more than the bars leave room for",
        }
    }
}

/// The honey of one comb, both faces together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CombHoney {
    /// Capped and unripe together, as it hangs now.
    #[serde(rename = "total_kg")]
    pub total: MassRange,
    /// What is capped.
    #[serde(rename = "capped_kg")]
    pub capped: MassRange,
    /// What is not capped yet, with its water.
    #[serde(rename = "unripe_kg")]
    pub unripe: MassRange,
    /// What the unripe part will weigh when it is honey, its water gone, if no more is brought.
    #[serde(rename = "unripe_when_ripe_kg")]
    pub unripe_when_ripe: MassRange,
    /// What was guessed, each once, in the order of [`Guess`].
    pub guessed: Vec<Guess>,
}

/// Honey of a comb by the formula alone: an upper bound when the comb is full and capped.
///
/// ```
/// use comb::{honey_mass::full_comb_honey, Area, Length, Share};
/// // a plan's full comb 25 mm thick: reference/colony.md B
/// let honey = full_comb_honey(Area::dm2(6.51), Length::mm(25.0), Share::ONE);
/// assert_eq!(format!("{:.2}", honey.to_kg()), "2.08");
/// ```
pub fn full_comb_honey(face_area: Area, mean_thickness: Length, fill: Share) -> Mass {
    Mass::grams(GRAMS_PER_DM2_MM * face_area.to_dm2() * mean_thickness.to_mm()) * fill
}

/// Honey that a comb carries, from all that was judged of it.
///
/// A mass judged in the hand goes before geometry: comb, brood and pollen are taken off it.
/// Nothing here fails: what is not known widens the range and stands in [`CombHoney::guessed`];
/// only honey said to be absent weighs nothing.
///
/// ```
/// use comb::contents::{Contents, Fill};
/// use comb::honey_mass::{honey_mass, CombPlace, Guess};
/// use comb::{Body, Calibration, Length, Mass, Outline};
/// let outline = Outline::of(&Body::default());
/// let place = CombPlace { outline: &outline, pitch: None, calibration: &Calibration::PRIOR };
/// let thick = Contents {
///     fill: Some(Fill::Full),
///     thickness_mm: Some(Length::mm(45.0)),
///     ..Contents::default()
/// };
/// let honey = honey_mass(&thick, &place);
/// // keepers judge such a comb at 2 to 2.5 kg (common practice, no source)
/// assert!(honey.total.contains(Mass::kg(2.5)), "{}", honey.total);
/// assert_eq!(honey.guessed, [Guess::HoneyShare, Guess::CappedShare]);
/// ```
pub fn honey_mass(contents: &Contents, place: &CombPlace<'_>) -> CombHoney {
    let mut guessed = Vec::new();
    let faces = honey_share::both_faces(contents, &mut guessed);
    let parts = Parts::of(faces, contents.moisture);
    let per_part = match contents.mass_kg {
        Some(mass) => {
            guessed.retain(|guess| *guess == Guess::CappedShare);
            in_the_hand(mass, contents, place, &parts)
        }
        None => by_geometry(contents, place, &parts, &mut guessed),
    };
    guessed.put_in_order();
    guessed.dedup();
    let [total, capped, unripe] = per_part;
    let (capped, unripe) = (capped.within(total), unripe.within(total));
    let dried = (1.0 - UNRIPE_WATER) / (1.0 - USUAL_WATER);
    CombHoney {
        total,
        capped,
        unripe,
        unripe_when_ripe: unripe * Share::clamped(dried),
        guessed,
    }
}

/// Parts of a comb's volume, mean of both faces, as if capped honey at 18 % water filled them.
struct Parts {
    total: Judged,
    capped: Judged,
    unripe: Judged,
}

impl Parts {
    fn of(faces: [FaceHoney; 2], moisture: Option<Share>) -> Self {
        let measured = moisture.map(Share::get);
        let ripe = density_ratio(measured.unwrap_or(USUAL_WATER));
        let open = OPEN_CELLS.scaled(density_ratio(measured.unwrap_or(UNRIPE_WATER)));
        let total = |face: FaceHoney| {
            let mixed = |capped: f64, open: f64| capped * ripe + (1.0 - capped) * open;
            let filled = Judged::new(
                mixed(face.capped.low, open.low),
                mixed(face.capped.best, open.best),
                mixed(face.capped.high, open.high),
            );
            // the fullest faces are the capped ones, so the high ends go together
            let low = Judged::product(&[face.honey, filled]).low;
            Judged {
                low,
                ..face.honey.times_widest(filled)
            }
        };
        let over_both = |of: &dyn Fn(FaceHoney) -> Judged| of(faces[0]).mean(of(faces[1]));
        Self {
            total: over_both(&total),
            capped: over_both(&|face| face.capped_of_face().scaled(ripe)),
            unripe: over_both(&|face| face.unripe_of_face().times_widest(open)),
        }
    }

    fn each(&self) -> [Judged; 3] {
        [self.total, self.capped, self.unripe]
    }

    /// Capped honey as a share of all honey, by mass.
    fn capped_share(&self) -> Judged {
        let share = |capped: f64, unripe: f64| {
            if capped > 0.0 {
                capped / (capped + unripe)
            } else {
                0.0
            }
        };
        let (capped, unripe) = (self.capped, self.unripe);
        Judged::new(
            share(capped.low, unripe.high),
            share(capped.best, unripe.best),
            share(capped.high, unripe.low),
        )
    }
}

fn density_ratio(water: f64) -> f64 {
    1.0 - DENSITY_PER_WATER * (water - USUAL_WATER)
}

fn by_geometry(
    contents: &Contents,
    place: &CombPlace<'_>,
    parts: &Parts,
    guessed: &mut Vec<Guess>,
) -> [MassRange; 3] {
    let area = place.outline.face_area().to_dm2() / 1000.0;
    let thickness = mean_thickness(contents.thickness_mm, place.pitch, guessed);
    let yard = {
        let distance = NINETY_PER_CENT * PRIOR_SD;
        Judged::spread(1.0, distance, distance)
    };
    // no comb holds more than its thickest place throughout
    let thickest = contents.thickness_mm.map_or(thickness.high, Length::to_mm);
    let most_thickness = thickest * (1.0 + THICKNESS_EYE);
    parts.each().map(|part| {
        let mut mass =
            Judged::product(&[GRAMS_PER_DM2_MM_JUDGED, thickness, part, yard]).scaled(area);
        let most = GRAMS_PER_DM2_MM_JUDGED.high * most_thickness * part.high * area;
        mass.high = mass.high.min(most).max(mass.best);
        place.calibration.apply(mass.kg())
    })
}

/// Mean thickness, mm, from what was said, else from the room that the bars leave.
fn mean_thickness(
    thickest: Option<Length>,
    pitch: Option<Pitch>,
    guessed: &mut Vec<Guess>,
) -> Judged {
    let mean = |thickest: Length| {
        let [low, best, high] = MEAN_OF_THICKEST.map(|part| pitch::mean_at(thickest, part).to_mm());
        Judged::new(low, best, high)
    };
    let usable = thickest.filter(|t| t.is_finite() && *t > Length::ZERO);
    match (usable, pitch) {
        (Some(thickest), Some(pitch)) if pitch.check(thickest).is_err() => {
            guessed.push(Guess::ThickerThanPitch);
            let said = mean(thickest);
            let room = mean(pitch.greatest_thickness());
            Judged::new(room.low.min(said.low), said.best, said.high)
        }
        (Some(thickest), _) => mean(thickest),
        (None, Some(pitch)) => {
            guessed.push(Guess::Thickness);
            // between thick at one place only and filling the room throughout
            let room = pitch.greatest_thickness();
            let usual = mean(room);
            Judged::new(
                usual.low,
                f64::midpoint(usual.best, room.to_mm()),
                room.to_mm(),
            )
        }
        (None, None) => {
            guessed.push(Guess::Thickness);
            THICKNESS_UNKNOWN
        }
    }
}

/// From a mass judged in the hand, split as the faces say.
fn in_the_hand(
    mass: Mass,
    contents: &Contents,
    place: &CombPlace<'_>,
    parts: &Parts,
) -> [MassRange; 3] {
    let kg = MassRange::exactly(mass).best().to_kg();
    let other = Judged::from(crate::comb_mass::without_honey(contents, place.outline));
    let honey = Judged::new(
        (kg * (1.0 - HAND) - other.high).max(0.0),
        (kg - other.best).max(0.0),
        (kg * (1.0 + HAND) - other.low).max(0.0),
    );
    if parts.total.high <= 0.0 {
        return [MassRange::ZERO; 3];
    }
    let capped = parts.capped_share();
    [
        honey,
        honey.times_widest(capped),
        honey.times_widest(capped.rest()),
    ]
    .map(Judged::kg)
}
