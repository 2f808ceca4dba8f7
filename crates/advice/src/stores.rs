//! The account of stores: what each comb that stays carries, against what must stay.
//!
//! One full comb of the account is an ordinary capped honey comb of this hive, as geometry and the
//! keeper's own weighed combs give it: a comb that is called honey without a word on how full it is
//! counts about one. Combs nobody looked at count nothing toward the reserve and are listed apart:
//! unknown is not zero, but it is no store to take honey on either. Whether the reserve is covered is then
//! "not known", unless what was looked at covers it, or not even full combs everywhere would.

use comb::calibration::WeighedComb;
use comb::comb_mass::comb_mass;
use comb::contents::Holding;
use comb::honey_mass::{CombHoney, CombPlace, honey_mass};
use comb::{Calibration, Contents, FaceContents, Mass, MassRange, Outline, Pitch, Share};
use hive::{Bar, BarId, Hive};
use jiff::Timestamp;
use serde::Serialize;

use crate::reserve::ReserveDue;

/// Honey of one comb that stays.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CombStores {
    /// The bar.
    pub bar: BarId,
    /// Its number.
    pub number: u32,
    /// The same in full combs of this hive.
    pub combs: f64,
    /// The honey.
    pub honey: CombHoney,
    /// When the comb was last looked at.
    pub seen: Timestamp,
}

/// What a hive holds against what must stay.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StoresAccount {
    /// Combs with known honey, left end first.
    pub each: Vec<CombStores>,
    /// Honey of all of them.
    #[serde(rename = "total_kg")]
    pub total: MassRange,
    /// The part that is capped.
    #[serde(rename = "capped_kg")]
    pub capped: MassRange,
    /// What the open part will weigh when it is honey.
    #[serde(rename = "unripe_when_ripe_kg")]
    pub unripe_when_ripe: MassRange,
    /// The total in full combs of this hive.
    pub combs: f64,
    /// What an ordinary honey comb of this hive holds.
    #[serde(rename = "ordinary_comb_kg")]
    pub ordinary_comb: Mass,
    /// Numbers of the combs that nobody has looked at, rising.
    pub not_looked_at: Vec<u32>,
    /// The most that may be there: the high end of every comb looked at, and a full comb wherever
    /// nobody looked.
    #[serde(rename = "at_most_kg")]
    pub at_most: Mass,
    /// What must stay.
    pub reserve: ReserveDue,
    /// Best guess of what is there beyond the reserve, in full combs; negative when short.
    pub beyond_combs: f64,
    /// How the stores stand against the reserve.
    pub standing: Standing,
}

impl StoresAccount {
    /// True when no comb was looked at yet, so that the account says nothing of the stores.
    pub const fn is_unknown(&self) -> bool {
        self.each.is_empty()
    }
}

/// How the stores stand against the reserve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Even the low end of the range covers it.
    Covered,
    /// The best guess covers it, the low end does not.
    LikelyCovered,
    /// What was looked at does not cover it; with what was not, it may.
    NotKnown,
    /// The best guess does not cover it, the high end of the range does.
    LikelyShort,
    /// Even the most that may be there does not cover it.
    Short,
}

impl Standing {
    /// True when the best guess at what was looked at lies under the reserve.
    pub const fn is_under(self) -> bool {
        matches!(self, Self::NotKnown | Self::LikelyShort | Self::Short)
    }
}

/// Stores are judged, not weighed: this much under the reserve still counts as covering it, half of
/// the tenth in which combs are told, so that "5 combs" never fall short of "5 combs".
/// Common practice, no source.
pub(crate) const SLACK_COMBS: f64 = 0.05;

/// Whether stores so far beyond the reserve, in full combs, cover it.
pub fn covers(beyond_combs: f64) -> bool {
    beyond_combs >= -SLACK_COMBS
}

/// Scales of one hive: its comb's outline, what the yard's weighed combs say, an ordinary comb.
#[derive(Debug, Clone)]
pub struct Scales {
    outline: Outline,
    calibration: Calibration,
    ordinary_comb: Mass,
    fullest_comb: Mass,
    usual_pitch: Pitch,
}

impl Scales {
    /// The scales of a hive, learnt from every comb of these hives that was judged in the hand.
    pub fn of<'a>(hive: &Hive, yard: impl IntoIterator<Item = &'a Hive>) -> Self {
        let outline = Outline::of(&hive.body);
        let usual_pitch = Pitch::of_bars(hive.body.bar_width());
        let calibration = calibrated(yard);
        let place = CombPlace {
            outline: &outline,
            pitch: Some(usual_pitch),
            calibration: &calibration,
        };
        let full = honey_mass(&ordinary_comb(), &place).total;
        Self {
            outline,
            calibration,
            ordinary_comb: full.best(),
            fullest_comb: full.high(),
            usual_pitch,
        }
    }

    /// What an ordinary capped honey comb of this hive holds.
    pub const fn ordinary_comb(&self) -> Mass {
        self.ordinary_comb
    }

    /// What was learnt from combs judged in the hand.
    pub const fn calibration(&self) -> &Calibration {
        &self.calibration
    }

    /// Honey of a comb of this hive.
    pub fn honey(&self, contents: &Contents) -> CombHoney {
        honey_mass(contents, &self.place())
    }

    /// All that hangs from the bar.
    pub fn comb(&self, contents: &Contents) -> MassRange {
        comb_mass(contents, &self.place())
    }

    fn place(&self) -> CombPlace<'_> {
        CombPlace {
            outline: &self.outline,
            pitch: Some(self.usual_pitch),
            calibration: &self.calibration,
        }
    }
}

/// Honey capped on both faces, nothing else said: what a keeper means by "a comb of honey".
fn ordinary_comb() -> Contents {
    let face = FaceContents {
        capped_of_honey: Some(Share::ONE),
        ..FaceContents::default()
    };
    Contents {
        left: face.clone(),
        right: face,
        present: vec![Holding::Honey],
        ..Contents::default()
    }
}

/// Every comb of the yard that was judged in the hand, against its prediction by geometry.
fn calibrated<'a>(yard: impl IntoIterator<Item = &'a Hive>) -> Calibration {
    let mut weighed = Vec::new();
    for hive in yard {
        let outline = Outline::of(&hive.body);
        let place = CombPlace {
            outline: &outline,
            pitch: Some(Pitch::of_bars(hive.body.bar_width())),
            calibration: &Calibration::PRIOR,
        };
        for look in hive.bars.values().flat_map(|bar| &bar.looks) {
            let Some(weighed_kg) = look.contents.mass_kg else {
                continue;
            };
            let unweighed = Contents {
                mass_kg: None,
                ..look.contents.clone()
            };
            let predicted_kg = comb_mass(&unweighed, &place).best();
            weighed.push(WeighedComb {
                predicted_kg,
                weighed_kg,
            });
        }
    }
    weighed.retain(|w| w.weighed_kg > Mass::ZERO && w.predicted_kg > Mass::ZERO);
    Calibration::from_weighed(&weighed).unwrap_or(Calibration::PRIOR)
}

/// The account of the combs that stay: those of `staying`, left end first.
pub fn stores_account<'a>(
    staying: impl IntoIterator<Item = &'a Bar>,
    scales: &Scales,
    reserve: ReserveDue,
) -> StoresAccount {
    let mut each = Vec::new();
    let mut not_looked_at = Vec::new();
    for bar in staying {
        let known = bar.known_contents();
        let seen = bar.looks_at_this_comb().last().map(|look| look.at);
        match seen {
            Some(seen) => {
                let honey = scales.honey(&known);
                let combs = honey.total.best() / scales.ordinary_comb;
                each.push(CombStores {
                    bar: bar.id,
                    number: bar.number,
                    combs,
                    honey,
                    seen,
                });
            }
            None => not_looked_at.push(bar.number),
        }
    }
    not_looked_at.sort_unstable();
    let sum = |of: fn(&CombHoney) -> MassRange| each.iter().map(|c| of(&c.honey)).sum();
    let total: MassRange = sum(|honey| honey.total);
    let combs = total.best() / scales.ordinary_comb;
    let at_most = total.high() + scales.fullest_comb * not_looked_at.len() as f64;
    let most_combs = at_most / scales.ordinary_comb;
    let standing = if total.low() >= reserve.mass {
        Standing::Covered
    } else if covers(combs - reserve.combs) {
        Standing::LikelyCovered
    } else if !covers(most_combs - reserve.combs) {
        Standing::Short
    } else if not_looked_at.is_empty() {
        Standing::LikelyShort
    } else {
        Standing::NotKnown
    };
    StoresAccount {
        total,
        capped: sum(|honey| honey.capped),
        unripe_when_ripe: sum(|honey| honey.unripe_when_ripe),
        combs,
        ordinary_comb: scales.ordinary_comb,
        not_looked_at,
        at_most,
        beyond_combs: combs - reserve.combs,
        standing,
        reserve,
        each,
    }
}
