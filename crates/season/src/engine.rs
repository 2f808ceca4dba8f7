//! The daily step of a colony, eight runs side by side.
//!
//! Equations: recruitment and brood survival as in [`crate::khoury::y2013`], taken in steps of a
//! day; consumption as in [`crate::consumption`]. Extensions (ours, each figure in
//! [`crate::figures`]):
//!
//! 1. brood ages day by day (3 + 6 + 12) where Khoury has one pool with a rate;
//! 2. laying has a season, and survival also asks for pollen;
//! 3. recruitment, income and foragers' deaths go with flying weather;
//! 4. hive bees die at a small rate too; bees that emerge out of season are winter bees, which live
//!    long and return to summer work as laying returns;
//! 5. consumption follows temperature, size and brood where Khoury has a fixed ration;
//! 6. nectar ripens before it is honey, and stores end at the body's room;
//! 7. a colony ends when it starves or dwindles.
//!
//! With the extensions held still the step settles on Khoury's plateau (a test below).
//! Runs stand side by side in vectors of eight; only operations that IEEE 754 fixes to the last bit
//! are used (no fused multiply-add, no transcendental function), so every target, with or without
//! vector instructions, gives the same bits.

use wide::{f32x8, i32x8};

use crate::figures as fig;

/// Runs side by side.
pub const LANES: usize = 8;
/// One figure of each run.
pub type Lane = f32x8;

const WORKER_DAYS: usize = fig::WORKER_DAYS.value as usize;
const EGG_DAYS: usize = fig::EGG_DAYS.value as usize;
const SEALED_AFTER: usize = EGG_DAYS + fig::LARVA_DAYS.value as usize;

const V: Lane = f32x8::splat(fig::KHOURY_V.value as f32);
const B2: Lane = f32x8::splat((fig::KHOURY_B.value * fig::KHOURY_B.value) as f32);
const A_MIN: Lane = f32x8::splat(fig::KHOURY_A_MIN.value as f32);
const A_MAX: Lane = f32x8::splat(fig::KHOURY_A_MAX.value as f32);
const SIGMA: Lane = f32x8::splat(fig::KHOURY_SIGMA.value as f32);
const POLLEN_HALF: Lane = f32x8::splat(fig::POLLEN_HALF.value as f32);
const POLLEN_FULL_INVERSE: Lane = f32x8::splat((1.0 / fig::POLLEN_FULL.value) as f32);
const PER_LARVA_DAY: Lane = f32x8::splat((1.0 / fig::LARVA_DAYS.value) as f32);
const HONEY_KG: Lane = f32x8::splat((fig::HONEY_PER_BEE.value * 0.001) as f32);
const POLLEN_KG: Lane = f32x8::splat((fig::POLLEN_PER_BEE.value * 0.001) as f32);
const BROOD_WARMS_INVERSE: Lane = f32x8::splat((1.0 / fig::BROOD_WARMS.value) as f32);
const CORE: Lane = f32x8::splat(fig::CORE_BROODLESS.value as f32);
const CORE_RISE: Lane = f32x8::splat((fig::CORE_BROOD.value - fig::CORE_BROODLESS.value) as f32);
const RIPENS: Lane = f32x8::splat(fig::RIPENS.value as f32);
const IDLE: Lane = f32x8::splat(fig::IDLE_DEATH.value as f32);
const WINTER_DEATH: Lane = f32x8::splat(fig::WINTER_DEATH.value as f32);
const WINTER_FLIGHT: Lane = f32x8::splat(fig::WINTER_FLIGHT_DEATH.value as f32);
const RECRUIT_FULL_INVERSE: Lane = f32x8::splat((1.0 / fig::RECRUIT_FULL.value) as f32);
const SMALLEST: Lane = f32x8::splat(fig::SMALLEST.value as f32);
/// Keeps an empty colony's shares from being nothing over nothing.
const TINY: Lane = f32x8::splat(1e-6);
const STARVE_DAYS: Lane = f32x8::splat(fig::STARVE_DAYS.value as f32);

/// What differs between runs and does not change within one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Traits {
    /// Most eggs a day; 0 without a queen.
    pub laying: Lane,
    /// Factor on consumption.
    pub eats: Lane,
    /// Factor on nectar.
    pub forages: Lane,
    /// Death of a forager on a full flying day.
    pub forager_death: Lane,
    /// Death of a hive bee, a day.
    pub hive_death: Lane,
    /// Stores that the body has room for, kg.
    pub room: Lane,
    /// Honey for heat, kg a day per `N^0.521` and kelvin.
    pub heating: Lane,
}

/// Eight colonies on one day.
#[derive(Debug, Clone, PartialEq)]
pub struct Colonies {
    laid: [Lane; WORKER_DAYS],
    slot: usize,
    /// Eggs.
    pub eggs: Lane,
    /// Open larvae.
    pub larvae: Lane,
    /// Capped brood.
    pub capped: Lane,
    /// Hive bees that can be recruited, H.
    pub hive: Lane,
    /// Foragers, F.
    pub foragers: Lane,
    /// Winter bees.
    pub winter: Lane,
    /// Ripe honey, kg.
    pub honey: Lane,
    /// Unripe honey, as the honey it will be, kg.
    pub unripe: Lane,
    /// Pollen, kg.
    pub pollen: Lane,
    /// Least honey and unripe honey so far, kg.
    pub least: Lane,
    /// Food missed in a row, kg.
    missed: Lane,
    /// 1 while the colony lives.
    pub alive: Lane,
    /// Days lived so far.
    pub lived: Lane,
}

/// The start of eight runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Start {
    /// Adult bees of each run.
    pub bees: Lane,
    /// Share of them that are winter bees.
    pub winter_share: f32,
    /// Share of the others that forage.
    pub forager_share: f32,
    /// Eggs, larvae and capped brood.
    pub brood: [f32; 3],
    /// Ripe honey, kg.
    pub honey: Lane,
    /// Unripe honey, kg.
    pub unripe: f32,
    /// Pollen, kg.
    pub pollen: f32,
}

impl Colonies {
    /// Eight colonies as they stand; brood of each stage is spread evenly over its days.
    pub fn new(start: &Start) -> Self {
        let mut laid = [Lane::ZERO; WORKER_DAYS];
        let [eggs, larvae, capped] = start.brood;
        for (age, cohort) in laid.iter_mut().rev().enumerate() {
            *cohort = Lane::splat(if age < EGG_DAYS {
                eggs / EGG_DAYS as f32
            } else if age < SEALED_AFTER {
                larvae / (SEALED_AFTER - EGG_DAYS) as f32
            } else {
                capped / (WORKER_DAYS - SEALED_AFTER) as f32
            });
        }
        let share = |of: f32| start.bees * Lane::splat(of);
        let summer = 1.0 - start.winter_share;
        let unripe = Lane::splat(start.unripe);
        Self {
            laid,
            slot: 0,
            eggs: Lane::splat(eggs),
            larvae: Lane::splat(larvae),
            capped: Lane::splat(capped),
            hive: share(summer * (1.0 - start.forager_share)),
            foragers: share(summer * start.forager_share),
            winter: share(start.winter_share),
            honey: start.honey,
            unripe,
            pollen: Lane::splat(start.pollen),
            least: start.honey + unripe,
            missed: Lane::ZERO,
            alive: Lane::ONE,
            lived: Lane::ZERO,
        }
    }

    /// Adult bees.
    pub fn bees(&self) -> Lane {
        self.hive + self.foragers + self.winter
    }
    /// Eggs, larvae and capped brood.
    pub fn brood(&self) -> Lane {
        self.eggs + self.larvae + self.capped
    }
    /// Honey and unripe honey, kg.
    pub fn stores(&self) -> Lane {
        self.honey + self.unripe
    }
    /// Whether no run lives any more.
    pub fn all_gone(&self) -> bool {
        self.alive.to_array().iter().all(|&alive| alive < 0.5)
    }

    /// One day, each run under its own weather.
    #[inline]
    pub fn day(&mut self, traits: &Traits, weather: &Weather) {
        let (hive, foragers, winter) = (self.hive, self.foragers, self.winter);
        let bees = hive + foragers + winter;
        let food = self.honey + self.unripe;
        let fed = food * food / (food * food + B2);

        let emerged = self.rear_brood(traits, weather, hive + winter, fed);
        let reared = self.larvae * PER_LARVA_DAY;
        self.turn_over_bees(traits, weather, bees, fed, emerged);

        // stores: what comes in, what is eaten (open nectar first), what ripens
        let room = at_least_0(traits.room - food);
        let nectar = (foragers * weather.nectar * traits.forages).fast_min(room);
        let warmed = (self.brood() * BROOD_WARMS_INVERSE).fast_min(Lane::ONE);
        let colder = at_least_0(CORE + CORE_RISE * warmed - weather.air);
        let heating = traits.heating * power_521(bees) * colder;
        let living = bees * weather.rest;
        let need = traits.eats * (living.fast_max(heating) + HONEY_KG * reared);
        let open = self.unripe + nectar;
        let eaten = need.fast_min(self.honey + open);
        let of_open = eaten.fast_min(open);
        let left_open = open - of_open;
        let ripened = left_open * RIPENS;
        self.unripe = left_open - ripened;
        self.honey = at_least_0(self.honey + ripened - (eaten - of_open));
        self.least = self.least.fast_min(self.honey + self.unripe);

        // pollen: the less there is, the more of the foragers bring it
        let wanting = at_least_0(Lane::ONE - self.pollen * POLLEN_FULL_INVERSE);
        let brought = foragers * weather.pollen * wanting;
        self.pollen = at_least_0(self.pollen + brought - POLLEN_KG * reared);

        // life and death
        let short = need - eaten;
        self.missed = short
            .simd_gt(Lane::ZERO)
            .select(self.missed + short, Lane::ZERO);
        let ends = self.missed.simd_gt(STARVE_DAYS * need) | bees.simd_lt(SMALLEST);
        self.alive = ends.select(Lane::ZERO, self.alive);
        self.lived += self.alive;
    }

    /// Lays, ages the brood by a day; gives the bees that emerge. Khoury's survival S acts at laying.
    #[inline]
    fn rear_brood(&mut self, traits: &Traits, weather: &Weather, nurses: Lane, fed: Lane) -> Lane {
        let at = |days: usize| (self.slot + WORKER_DAYS - days) % WORKER_DAYS;
        let (hatched, sealed) = (self.laid[at(EGG_DAYS)], self.laid[at(SEALED_AFTER)]);
        let emerged = self.laid[self.slot];
        // nurses / (nurses + v) and the same for pollen, in one division
        let halves = (nurses + V) * (self.pollen + POLLEN_HALF);
        let cared = nurses * self.pollen / halves;
        let laid = traits.laying * weather.season * fed * cared;
        self.laid[self.slot] = laid;
        self.slot = (self.slot + 1) % WORKER_DAYS;
        self.eggs = at_least_0(self.eggs + laid - hatched);
        self.larvae = at_least_0(self.larvae + hatched - sealed);
        self.capped = at_least_0(self.capped + sealed - emerged);
        emerged
    }

    /// Births, recruitment (Khoury's R, as far as the day lets bees fly) and deaths of adults.
    #[inline]
    fn turn_over_bees(
        &mut self,
        traits: &Traits,
        weather: &Weather,
        bees: Lane,
        fed: Lane,
        emerged: Lane,
    ) {
        let (hive, foragers, winter) = (self.hive, self.foragers, self.winter);
        let share = foragers / (bees + TINY);
        let pull = A_MIN + A_MAX * (Lane::ONE - fed) - SIGMA * share;
        let out = (weather.flight * RECRUIT_FULL_INVERSE).fast_min(Lane::ONE);
        let recruits = (pull * out * hive).fast_max(-foragers);
        let to_winter = emerged * weather.wintering;
        let returning = winter * weather.returning;
        let deaths = (IDLE + traits.forager_death * weather.flight).fast_min(Lane::ONE);
        let died_winter = winter * (WINTER_DEATH + WINTER_FLIGHT * weather.flight);
        let stayed = hive - hive * traits.hive_death;
        self.hive = self.alive * at_least_0(stayed + emerged - to_winter + returning - recruits);
        self.foragers = self.alive * at_least_0(foragers + recruits - foragers * deaths);
        self.winter = self.alive * at_least_0(winter + to_winter - returning - died_winter);
    }
}

/// The day's weather of eight runs, one vector a quantity; quantities as in
/// [`crate::drivers::DayRow`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weather {
    rest: Lane,
    air: Lane,
    flight: Lane,
    nectar: Lane,
    pollen: Lane,
    season: Lane,
    wintering: Lane,
    returning: Lane,
}

impl Weather {
    /// From each run's packed row ([`crate::drivers::DayRow::pack`]).
    #[inline]
    pub fn of(rows: [Lane; LANES]) -> Self {
        let [
            rest,
            air,
            flight,
            nectar,
            pollen,
            season,
            wintering,
            returning,
        ] = Lane::transpose(rows);
        Self {
            rest,
            air,
            flight,
            nectar,
            pollen,
            season,
            wintering,
            returning,
        }
    }
}

#[inline]
fn at_least_0(a: Lane) -> Lane {
    a.fast_max(Lane::ZERO)
}

/// `n^0.521` as `sqrt(n) * n^0.021`; the small power from the exponent bits and two short
/// polynomials, within 0.02 % for 0 to 200 000 bees.
#[inline]
fn power_521(n: Lane) -> Lane {
    const SMALL_POWER: f32 = (fig::CLUSTER_POWER.value - 0.5) as f32;
    let bits: i32x8 = bytemuck::cast(n);
    let whole: i32x8 = bits >> 23;
    let exponent = (whole - i32x8::splat(127)).round_float();
    let fraction = (bits & i32x8::splat(0x007f_ffff)) | i32x8::splat(0x3f80_0000);
    let x = bytemuck::cast::<i32x8, Lane>(fraction) - Lane::ONE;
    // log2(1 + x) within 0.008 on 0..1
    let log2 = exponent + x * (Lane::ONE + Lane::splat(0.343) * (Lane::ONE - x));
    // e^y for y up to 0.3, within a millionth
    let y = log2 * Lane::splat(SMALL_POWER * std::f32::consts::LN_2);
    let cubic = Lane::splat(1.0 / 6.0) + y * Lane::splat(1.0 / 24.0);
    let small = Lane::ONE + y * (Lane::ONE + y * (Lane::HALF + y * cubic));
    n.sqrt() * small
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_quick_power_is_the_power() {
        let bees = [1.0, 777.0, 1000.0, 4400.0, 8192.0, 12_345.0, 40_000.0, 2e5];
        for (n, quick) in bees.into_iter().zip(power_521(Lane::new(bees)).to_array()) {
            let exact = libm::pow(f64::from(n), fig::CLUSTER_POWER.value);
            let off = f64::from(quick) / exact - 1.0;
            assert!(off.abs() < 2e-4, "{n}: {off}");
        }
        assert!(power_521(Lane::ZERO).to_array()[0].abs() < 1e-6);
    }
}
