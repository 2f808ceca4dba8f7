//! Every constant of the season model, once: value, unit, range, standing and source.
//!
//! `Standing` says how far to trust a figure; a figure marked fit was set so that something agrees
//! and is no independent check of it. "ref" in a source is the project's reference folder.

use serde::Serialize;

/// How far a figure can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Read in a source that was opened.
    Seen,
    /// Known from the named work, which could not be opened.
    Memory,
    /// Common practice, no source.
    Practice,
    /// Worked out from other figures.
    Computed,
    /// Set here so that something else agrees.
    Fit,
    /// Our own assumption.
    Ours,
}

/// One constant of the model.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Figure {
    /// What it is, in words.
    pub what: &'static str,
    /// The value used.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// The lowest value that would be defended.
    pub low: f64,
    /// The highest.
    pub high: f64,
    /// How far to trust it.
    pub standing: Standing,
    /// Where it comes from.
    pub source: &'static str,
}

macro_rules! figures {
    ($($id:ident = $value:expr, $unit:literal, $low:expr, $high:expr, $standing:ident, $what:literal, $source:literal;)*) => {
        $(
            #[doc = concat!($what, ", ", $unit, ". ", $source, ".")]
            pub const $id: Figure = Figure {
                what: $what, value: $value, unit: $unit, low: $low, high: $high,
                standing: Standing::$standing, source: $source,
            };
        )*
        /// The whole table, in reading order.
        pub const ALL: &[Figure] = &[$($id),*];
    };
}

figures! {
    // Development (ref development-times.csv)
    EGG_DAYS = 3.0, "day", 3.0, 3.0, Seen, "worker egg", "ref development-times.csv";
    LARVA_DAYS = 6.0, "day", 5.5, 6.0, Seen, "open worker larva", "ref development-times.csv";
    WORKER_DAYS = 21.0, "day", 20.0, 21.0, Seen, "worker, laid to emerged", "ref development-times.csv";
    DRONE_READY_DAYS = 37.0, "day", 36.0, 41.0, Memory, "drone, laid to mature (24 + 13)", "ref development-times.csv";
    QUEEN_EGGS = 1500.0, "egg/day", 1000.0, 2000.0, Seen, "most eggs a queen lays", "ref development-times.csv";

    // Khoury, Barron, Myerscough 2013 (ref colony.md E); the 2011 set stands in its own file
    KHOURY_L = 2000.0, "egg/day", 1000.0, 2000.0, Memory, "laying rate L", "Khoury et al. 2013, PLoS ONE 8:e59084, Table 1";
    KHOURY_PHI = 1.0 / 9.0, "1/day", 0.083, 0.125, Memory, "brood to adult phi", "Khoury et al. 2013, Table 1";
    KHOURY_V = 5000.0, "bee", 2000.0, 8000.0, Memory, "hive bees at which half the brood is reared, v", "Khoury et al. 2013, Table 1";
    KHOURY_SIGMA = 0.75, "1/day", 0.5, 1.0, Memory, "social inhibition sigma", "Khoury et al. 2011 and 2013";
    KHOURY_A_MIN = 0.25, "1/day", 0.2, 0.3, Memory, "recruitment without foragers, food ample", "Khoury et al. 2013, Table 1";
    KHOURY_A_MAX = 0.25, "1/day", 0.2, 0.3, Memory, "extra recruitment without food", "Khoury et al. 2013, Table 1";
    KHOURY_B = 0.5, "kg", 0.25, 1.0, Memory, "food at which half the brood is reared, b", "Khoury et al. 2013, Table 1 (500 g)";
    KHOURY_C = 0.1, "g/day/forager", 0.05, 0.2, Memory, "food brought by a forager, c", "Khoury et al. 2013, Table 1";
    KHOURY_GAMMA_A = 0.007, "g/day/bee", 0.004, 0.011, Memory, "food of an adult", "Khoury et al. 2013, Table 1";
    KHOURY_GAMMA_B = 0.018, "g/day/brood", 0.008, 0.02, Memory, "food of a brood item", "Khoury et al. 2013, Table 1";

    // Consumption (ref colony.md F, winter-consumption.csv)
    CLUSTER_FACTOR = 22.69, "ml O2/g/h", 20.0, 25.0, Seen, "oxygen of a cluster at 2 C, factor", "Southwick 1985, J. Comp. Physiol. B 156:143 (abstract)";
    CLUSTER_POWER = 0.521, "-", 0.48, 0.56, Seen, "oxygen of a cluster, power of its mass", "Southwick 1985: 1 - 0.479; over 1.2 kg of bees extrapolated";
    BEE_MASS = 0.12, "g", 0.1, 0.13, Memory, "mass of a bee", "ref colony.md F (0.12 N)";
    OXYGEN_HEAT = 21.1, "J/ml", 20.9, 21.2, Memory, "heat of burning sugar per oxygen", "ref colony.md F";
    HONEY_HEAT = 12.7, "MJ/kg", 12.5, 13.0, Memory, "heat of honey", "ref colony.md F (304 kcal/100 g)";
    CLUSTER_AT = 2.0, "C", 2.0, 2.0, Seen, "temperature of that measurement", "Southwick 1985";
    CORE_BROODLESS = 21.0, "C", 20.0, 22.0, Seen, "core of a cluster without brood", "ref colony.md F";
    CORE_BROOD = 34.5, "C", 32.0, 36.0, Seen, "core with brood", "ref colony.md F and G";
    BEE_AT_REST = 4.2, "mg/bee/day", 3.5, 4.9, Fit, "honey of a broodless bee at 12 C", "Harbo 1983, 34000 bees; that 12 C was the mean is an assumption";
    BEE_AT_REST_C = 12.0, "C", 10.0, 14.0, Fit, "temperature of that figure", "ref colony.md F";
    BEE_Q10 = 2.5, "per 10 K", 2.0, 3.0, Memory, "rise with temperature", "ref colony.md F (metabolic theory, 0.65 eV)";
    BEE_MOST = 7.0, "mg/bee/day", 5.0, 11.0, Memory, "most honey of an adult", "Khoury et al. 2013 gamma A";
    HONEY_PER_BEE = 0.114, "g", 0.074, 0.162, Memory, "honey to rear a bee", "Rosov 1944: 1.14 kg per 10000 bees";
    POLLEN_PER_BEE = 0.13, "g", 0.1, 0.16, Memory, "pollen to rear a bee", "common handbook figure, 120 to 145 mg";
    BROOD_WARMS = 2000.0, "cell", 500.0, 4000.0, Ours, "brood from which the whole nest is kept at brood heat", "below it the core is taken between the two";
    CONSUMPTION_SPREAD = 0.2, "ln", 0.1, 0.35, Computed, "spread of consumption between colonies", "Norrstrom 2021: 39 +/- 13 g a day, a third; less what size and weather explain";

    // Extensions to Khoury (ours): season, winter bees, flight
    FORAGER_DEATH = 0.15, "1/day", 0.1, 0.24, Memory, "death of a forager on a full flying day", "Khoury et al. 2011 discuss 0.154 from field work";
    HIVE_DEATH = 0.01, "1/day", 0.005, 0.02, Ours, "death of a hive bee", "Khoury leaves it out; without it hive bees would outlive any winter";
    IDLE_DEATH = 0.02, "1/day", 0.01, 0.04, Ours, "death of a forager that cannot fly", "summer worker 28 to 42 days, ref development-times.csv";
    WINTER_DEATH = 0.0035, "1/day", 0.002, 0.007, Fit, "death of a winter bee", "a third lost in 120 days (practice); life 120 to 240 days, ref development-times.csv";
    WINTER_FLIGHT_DEATH = 0.01, "1/day", 0.0, 0.03, Ours, "extra death of a winter bee on a full flying day", "between idle and forager";
    WINTER_RETURN = 0.05, "1/day", 0.03, 0.1, Ours, "winter bees that take up summer work as days grow, in full season", "three weeks";
    LAY_FROM = -3.0, "C", -5.0, 2.0, Fit, "30-day mean temperature at which laying begins", "brood from February where January is -3 C, practice";
    LAY_FULL = 14.0, "C", 10.0, 18.0, Ours, "30-day mean temperature of full laying", "no source";
    LAY_DAY_FROM = 8.5, "h", 8.0, 9.5, Ours, "day length at which laying begins", "brood least near the shortest day, practice";
    LAY_DAY_FULL = 12.5, "h", 12.0, 14.0, Ours, "day length of full laying", "no source";
    LAY_DAY_LEAD = 15.0, "day", 0.0, 30.0, Ours, "days by which laying leads the day length", "spring brood is larger than autumn brood at the same day length, practice";
    WINTER_FROM = 0.9, "-", 0.7, 1.0, Ours, "season factor under which emerging bees begin to be winter bees", "bees that rear little brood live long (Amdam and Omholt 2002, memory, for the idea)";
    WINTER_ALL = 0.35, "-", 0.2, 0.5, Ours, "season factor under which all emerging bees are winter bees", "as above";
    WINTER_COOL = 20.0, "C", 16.0, 22.0, Ours, "recent mean temperature above which no bees become winter bees", "tropical colonies have none (general reference, memory)";
    WINTER_COLD = 12.0, "C", 8.0, 14.0, Ours, "recent mean temperature under which the season alone decides", "as above";
    LAY_DEARTH = 0.4, "-", 0.2, 0.7, Practice, "laying where nothing flowers, against full", "queens lay less in a dearth: common practice; no source for the number";
    HOME_DEARTH = 0.3, "-", 0.1, 0.6, Ours, "flying where nothing flowers, against full", "foragers stay at home in a dearth; no source for the number";
    SMALLEST = 1000.0, "bee", 500.0, 3000.0, Practice, "colony too small to live on", "common practice, no source";
    STARVE_DAYS = 2.0, "day", 1.0, 4.0, Practice, "days' need a colony can miss before it dies", "what bees carry in their honey stomachs; common practice, no source";

    // Flight and income
    FLY_FROM = 10.0, "C", 8.0, 13.0, Seen, "daily highest temperature at which flight begins", "ref colony.md G";
    FLY_FULL = 22.0, "C", 18.0, 25.0, Seen, "daily highest temperature of full flight", "ref colony.md G (best 22 to 25)";
    FLY_HOT = 36.0, "C", 34.0, 40.0, Ours, "daily highest temperature from which foragers carry water instead", "no source";
    FLY_HOT_END = 46.0, "C", 42.0, 50.0, Ours, "daily highest temperature at which no nectar comes in", "no source";
    RAIN_HALVES = 4.0, "mm", 2.0, 10.0, Ours, "daily rain that halves flying", "common practice, no number found";
    WIND_FROM = 4.0, "m/s", 3.0, 6.0, Ours, "daily mean wind from which flight suffers", "common practice, no number found";
    WIND_STOPS = 10.0, "m/s", 7.0, 12.0, Ours, "daily mean wind that stops flight", "common practice, no number found";
    WIND_UNKNOWN = 0.87, "-", 0.79, 0.95, Computed, "factor where the wind is not known", "this same rule over the New York (0.79) and Seattle (0.95) series";
    LONGEST_FLIGHT = 1.25, "-", 1.1, 1.35, Ours, "most flying of a long day against twelve hours", "15 h of daylight";
    RECRUIT_FULL = 0.3, "-", 0.1, 0.5, Ours, "share of a flying day at which recruitment is as in Khoury", "no source";
    POLLEN_LOAD = 0.09, "g/day/forager", 0.05, 0.15, Memory, "pollen brought by a forager at strength 1 when pollen is short", "loads of 15 mg, some ten trips, six foragers in ten at most";
    POLLEN_FULL = 2.0, "kg", 1.0, 3.0, Ours, "pollen store at which foragers bring none", "no source";
    POLLEN_HALF = 0.1, "kg", 0.05, 0.3, Ours, "pollen at which half the brood is reared", "by likeness to Khoury's b";
    RIPENS = 0.1, "1/day", 0.05, 0.2, Seen, "share of the unripe honey that ripens in a day", "deposit to capped 5 to 21 days, ref development-times.csv";
    FORAGE_SPREAD = 0.35, "ln", 0.2, 0.5, Ours, "spread of a year's forage", "no source; flows differ far more than weather";
    FORAGER_DEATH_SPREAD = 0.15, "ln", 0.1, 0.3, Ours, "spread of forager death", "no source";
    QUEEN_SPREAD = 0.12, "ln", 0.05, 0.25, Computed, "spread of laying", "1000 to 2000 is about two spreads to either side of 1500";
    BEES_SPREAD = 0.2, "ln", 0.1, 0.3, Practice, "error of a keeper's count of bees", "estimates by combs covered; common practice, no source";

    // Areas and stores
    BEES_PER_DM2 = 125.0, "bee/dm2 of face", 110.0, 130.0, Memory, "bees on a covered face", "Liebefeld method; ref colony.md D";
    CELLS_PER_DM2 = 400.0, "cell/dm2 of face", 383.0, 427.0, Computed, "worker cells on one face", "ref colony.md B (5.37 mm)";
    BROOD_FILL = 0.86, "-", 0.7, 0.95, Seen, "brood cells in a brood area", "ref colony.md D: 14 + 21 + 51 %";

    // Feed
    SUGAR_IN_HONEY = 0.82, "-", 0.8, 0.83, Computed, "sugar in stores", "18 % water";
    SUGAR_KEPT = 0.82, "-", 0.75, 0.9, Practice, "sugar fed that ends as stores", "work of taking down and inverting; common practice, no source";
    SYRUP_DENSITY = 1.3265, "kg/l", 1.32, 1.33, Computed, "syrup of 2 sugar to 1 water by mass, 20 C", "ref sucrose-density.csv between 65 and 70 Brix";
    FEED_FROM = 12.0, "C", 10.0, 15.0, Practice, "weekly mean of the daily highest at which syrup is still taken down", "common practice, no source";
    FEED_LEAD = 14.0, "day", 7.0, 21.0, Practice, "days to take down and ripen a feed", "common practice, no source";

    // Rule of thumb
    THUMB_MILD = 5.0, "comb", 5.0, 5.0, Practice, "combs that stay on a mild coast with winter forage", "common practice, no source";
    THUMB_WINTER_LOW = 6.0, "comb", 6.0, 6.0, Practice, "combs that stay in a real winter, at least", "common practice, no source";
    THUMB_WINTER_HIGH = 8.0, "comb", 8.0, 8.0, Practice, "combs that stay in a real winter, at most", "common practice, no source";
    REAL_WINTER = 7.0, "C", 5.0, 10.0, Ours, "coldest month's mean under which a winter is a real winter", "about where clusters form tight, ref colony.md G (7 to 8 C)";

    // Swarms and splits
    CROWDED = 1.0, "-", 0.8, 1.2, Ours, "bees over the bees that the combs hold, when crowded", "no source";
    SPLIT_BEES = 16000.0, "bee", 12000.0, 24000.0, Practice, "bees for two colonies of 8000", "common practice, no source";
    SPLIT_WARM = 18.0, "C", 16.0, 20.0, Practice, "mean of the daily highest for mating flights", "common practice, no source";
    SPLIT_BEFORE_DEARTH = 70.0, "day", 56.0, 90.0, Practice, "days a split needs to build up before forage ends", "queen 25 days, brood 21, one round more; common practice, no source";

    // Ripening (season::ripening)
    RIPEN_RATE = 0.29, "logit/day", 0.2, 0.45, Practice, "rate of capping in full flow", "one to two weeks from a tenth (logit -2.2) to two thirds (0.69); common practice, no source";
    RIPEN_RATE_SPREAD = 0.37, "ln", 0.25, 0.5, Ours, "spread of that rate before anything is read", "one to two weeks is then the middle 65 %";
    RIPEN_WANDER = 0.16, "logit/day^0.5", 0.1, 0.25, Ours, "a comb's own wander", "0.5 after ten days, as two neighbours in one hive may differ";
    RIPEN_MEMORY = 45.0, "day", 20.0, 90.0, Ours, "days in which what was learnt of the rate fades by half", "flows differ";
    RIPEN_THIN = 0.6, "-", 0.4, 0.8, Ours, "speed of capping when little comes in", "no source";
    RIPEN_DEARTH = 0.2, "-", 0.0, 0.4, Ours, "speed of capping in a dearth", "that combs then stand still is common practice; the number has no source";
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_lies_in_its_range_and_says_where_it_comes_from() {
        for figure in ALL {
            let Figure {
                what,
                value,
                low,
                high,
                source,
                ..
            } = *figure;
            assert!(
                low <= value && value <= high,
                "{what}: {low} {value} {high}"
            );
            assert!(!source.is_empty() && !what.is_empty());
        }
    }
}
