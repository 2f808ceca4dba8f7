//! What the season model needs and nobody said: assumed in the open, each in a sentence.

use advice::stores::{Scales, stores_account};
use comb::contents::{Contents, Holding};
use comb::{Area, Mass, Outline};
use hive::entry::Climate;
use hive::{Bar, Hive};
use jiff::civil::Date;
use season::colony::{bees_on, brood_in};
use season::weather::{MonthMeans, YearOfMonths};
use season::{Colony, Queen};

use crate::args::SeasonArgs;
use crate::failure::Failure;

/// What was assumed, in sentences.
#[derive(Debug, Default)]
pub(super) struct Known {
    words: Vec<String>,
}

/// What the keeper told of the colony.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Told {
    bees: Option<f64>,
    brood: Option<f64>,
    honey: Option<f64>,
    queenless: bool,
}

impl Told {
    /// On the command line.
    pub(super) const fn of(args: &SeasonArgs) -> Self {
        Self {
            bees: args.bees,
            brood: args.brood,
            honey: args.honey,
            queenless: args.queenless,
        }
    }
}

/// Share of a brood comb's face that is brood when nobody said how much. Common practice, no source.
const BROOD_OF_FACE: f64 = 0.5;
/// Share of a comb's faces that bees cover on average through a peopled hive. Common practice, no source.
const COVERED: f64 = 0.7;

impl Known {
    /// Notes one assumption.
    pub(super) fn assume(&mut self, words: impl Into<String>) {
        self.words.push(words.into());
    }

    /// All of them.
    pub(super) fn words(&self) -> &[String] {
        &self.words
    }

    /// The colony as the record has it; what is told on the command line goes before.
    pub(super) fn colony(
        &mut self,
        hive: &Hive,
        scales: &Scales,
        told: &Told,
    ) -> Result<Colony, Failure> {
        let face = Outline::of(&hive.body).face_area();
        let combs: Vec<&Bar> = hive.bars_in_row().filter(|bar| bar.has_comb()).collect();
        if combs.is_empty() && told.bees.is_none() {
            return Err(
                Failure::input(format!("{} has no combs on record", hive.name))
                    .help("Record a visit first, or give --bees, --brood and --honey."),
            );
        }
        let brood_combs = combs
            .iter()
            .filter(|bar| bar.known_contents().has_brood())
            .count();
        let brood_cells = told.brood.unwrap_or_else(|| {
            self.assume(format!(
                "brood on half of the faces of the {brood_combs} brood combs on record; --brood gives cells"
            ));
            brood_in(face * (2.0 * brood_combs as f64 * BROOD_OF_FACE))
        });
        let bees = told.bees.unwrap_or_else(|| {
            let peopled = combs.iter().filter(|bar| is_peopled(bar)).count();
            let bees = bees_on(face * (2.0 * peopled as f64 * COVERED));
            self.assume(format!(
                "{bees:.0} bees, as if they covered {:.0} % of {peopled} combs; --bees says better",
                COVERED * 100.0
            ));
            bees
        });
        let due = advice::reserve::reserve_due(hive, None, None, scales.ordinary_comb());
        let account = stores_account(combs.iter().copied(), scales, due);
        if !account.not_looked_at.is_empty() && told.honey.is_none() {
            self.assume(format!(
                "{} combs that nobody looked at hold nothing; --honey gives kilograms",
                account.not_looked_at.len()
            ));
        }
        let unripe_kg = account.unripe_when_ripe.best();
        let honey_kg = told.honey.map_or(account.capped.best(), Mass::kg);
        Ok(Colony {
            bees,
            brood_cells,
            honey_kg,
            unripe_kg: if told.honey.is_some() {
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
        })
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
pub(super) fn bees_held(hive: &Hive) -> f64 {
    let face: Area = Outline::of(&hive.body).face_area();
    bees_on(face * (2.0 * hive.row.bar_count() as f64))
}

/// The day to which stores must last unless told: the next first of September south of the equator,
/// the next first of April north of it, at least two months ahead. Common practice, no source.
pub(super) fn spring(from: Date, latitude: f64) -> Date {
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
pub(super) fn means(climate: Option<Climate>, latitude: f64) -> YearOfMonths {
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
