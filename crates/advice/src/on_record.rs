//! What the season's model needs of a colony, read from the record; what had to be assumed is told.

use comb::contents::{Contents, Holding};
use comb::{Area, Mass, Outline};
use hive::entry::Climate;
use hive::{Bar, Hive};
use jiff::civil::Date;
use season::colony::{bees_on, brood_in};
use season::weather::{MonthMeans, YearOfMonths};
use season::{Colony, Queen};

use crate::AdviceError;
use crate::reserve::reserve_due;
use crate::stores::{Scales, stores_account};

/// What the keeper told of the colony; it goes before the record.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Told {
    /// Bees.
    pub bees: Option<f64>,
    /// Cells of brood.
    pub brood: Option<f64>,
    /// Honey, in kilograms.
    pub honey_kg: Option<f64>,
    /// No queen lays.
    pub queenless: bool,
}

/// What nobody said and had to be assumed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Assumed {
    /// Brood on half of the faces of the brood combs.
    BroodOnHalf {
        /// Brood combs on record.
        combs: usize,
    },
    /// Bees as if they covered so much of the peopled combs.
    BeesCover {
        /// How many that makes.
        bees: f64,
        /// Per cent of the faces.
        percent: f64,
        /// Peopled combs on record.
        combs: usize,
    },
    /// Combs that nobody looked at hold nothing.
    NotLookedAt {
        /// How many.
        combs: usize,
    },
}

/// Share of a brood comb's face that is brood when nobody said how much. Common practice, no source.
const BROOD_OF_FACE: f64 = 0.5;
/// Share of a comb's faces that bees cover on average through a peopled hive. Common practice, no source.
const COVERED: f64 = 0.7;

/// The colony as the record has it, and what was assumed.
///
/// # Errors
/// [`AdviceError::NoCombs`] when no comb is on record and no bees were told.
pub fn colony_on_record(
    hive: &Hive,
    scales: &Scales,
    told: &Told,
) -> Result<(Colony, Vec<Assumed>), AdviceError> {
    let mut assumed = Vec::new();
    let face = Outline::of(&hive.body).face_area();
    let combs: Vec<&Bar> = hive.bars_in_row().filter(|bar| bar.has_comb()).collect();
    if combs.is_empty() && told.bees.is_none() {
        return Err(AdviceError::NoCombs {
            hive: hive.name.clone(),
        });
    }
    let brood_combs = combs
        .iter()
        .filter(|bar| bar.known_contents().has_brood())
        .count();
    let brood_cells = told.brood.unwrap_or_else(|| {
        assumed.push(Assumed::BroodOnHalf { combs: brood_combs });
        brood_in(face * (2.0 * brood_combs as f64 * BROOD_OF_FACE))
    });
    let bees = told.bees.unwrap_or_else(|| {
        let peopled = combs.iter().filter(|bar| is_peopled(bar)).count();
        let bees = bees_on(face * (2.0 * peopled as f64 * COVERED));
        assumed.push(Assumed::BeesCover {
            bees,
            percent: COVERED * 100.0,
            combs: peopled,
        });
        bees
    });
    let due = reserve_due(hive, None, None, scales.ordinary_comb());
    let account = stores_account(combs.iter().copied(), scales, due);
    if !account.not_looked_at.is_empty() && told.honey_kg.is_none() {
        assumed.push(Assumed::NotLookedAt {
            combs: account.not_looked_at.len(),
        });
    }
    let unripe_kg = account.unripe_when_ripe.best();
    let honey_kg = told.honey_kg.map_or(account.capped.best(), Mass::kg);
    let colony = Colony {
        bees,
        brood_cells,
        honey_kg,
        unripe_kg: if told.honey_kg.is_some() {
            Mass::ZERO
        } else {
            unripe_kg
        },
        pollen_kg: None,
        queen: if told.queenless {
            Queen::Missing
        } else {
            Queen::Laying
        },
        room_kg: room(hive, scales).max(honey_kg + unripe_kg),
    };
    Ok((colony, assumed))
}

/// The forage calendar to begin with: a first guess for this kind of place, no source.
pub const fn forage_guess(climate: Option<Climate>) -> season::Climate {
    match climate {
        Some(Climate::MildCoast) => season::Climate::MildCoast,
        Some(Climate::HardWinter) => season::Climate::ColdContinental,
        Some(Climate::RealWinter) | None => season::Climate::Temperate,
    }
}

/// Bees sit on combs that hold something.
fn is_peopled(bar: &Bar) -> bool {
    let known = bar.known_contents();
    known != Contents::default() && !known.present.contains(&Holding::Empty)
}

/// Honey that all bars of the body could carry, the brood nest's combs left out.
fn room(hive: &Hive, scales: &Scales) -> Mass {
    let bars = hive.row.bar_count();
    let brood = hive
        .bars_in_row()
        .filter(|bar| bar.known_contents().has_brood())
        .count();
    scales.ordinary_comb() * (bars.saturating_sub(brood)).max(1) as f64
}

/// Bees that the body holds before it is crowded: every bar's faces covered.
pub fn bees_held(hive: &Hive) -> f64 {
    let face: Area = Outline::of(&hive.body).face_area();
    bees_on(face * (2.0 * hive.row.bar_count() as f64))
}

/// The day to which stores must last unless told: the next first of September south of the equator,
/// the next first of April north of it, at least two months ahead. Common practice, no source.
pub fn spring(from: Date, latitude: f64) -> Date {
    let month = if latitude < 0.0 { 9 } else { 4 };
    let this_year = Date::new(from.year(), month, 1).unwrap_or(from);
    let days = (this_year.duration_since(from).as_hours()) / 24;
    if days >= 60 {
        this_year
    } else {
        Date::new(from.year() + 1, month, 1).unwrap_or(this_year)
    }
}

/// Invented monthly means, July to June north of the equator turned by half a year south of it: a mild
/// coast, a real winter, a hard winter. Invented; they stand in until a keeper gives the place's own.
pub fn means(climate: Option<Climate>, latitude: f64) -> YearOfMonths {
    // coldest and warmest month's mean low and high, day-to-day spread, rain and rain days a month
    let (cold, warm, spread_k, rain_mm, rain_days) = match climate {
        Some(Climate::MildCoast) => ((9.5, 17.5), (18.0, 25.5), 2.5, 95.0, 8.0),
        Some(Climate::HardWinter) => ((-12.0, -2.0), (14.0, 27.0), 5.0, 60.0, 8.0),
        Some(Climate::RealWinter) | None => ((-1.0, 5.0), (12.5, 22.5), 4.0, 65.0, 11.0),
    };
    let month = |month: usize| {
        // January is the coldest month in the north, July in the south
        let phase = (month as f64 - if latitude < 0.0 { 6.0 } else { 0.0 }) / 12.0;
        let warmth = (1.0 - (std::f64::consts::TAU * phase).cos()) / 2.0;
        let between = |(cold, warm): (f64, f64)| cold + (warm - cold) * warmth;
        MonthMeans {
            tmin_c: between((cold.0, warm.0)),
            tmax_c: between((cold.1, warm.1)),
            spread_k,
            rain_mm,
            rain_days,
        }
    };
    YearOfMonths(std::array::from_fn(month))
}
