//! Active substances against varroa: their chemical group, and how people protect themselves.
//!
//! No dose and no course stands here, on purpose. Source: treatments.csv of the reference, status
//! of each row as given there; every row is guidance only, the product's label and local law decide.

/// One substance, given in one way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Substance {
    /// Its name.
    pub name: &'static str,
    /// Other words for it, in small letters.
    pub words: &'static [&'static str],
    /// The way it is given.
    pub route: &'static str,
    /// Words that tell the way, in small letters; none where there is one way only.
    pub route_words: &'static [&'static str],
    /// Its chemical group: mites that withstand one of a group withstand all of it.
    pub group: &'static str,
    /// Air for it, degrees C.
    pub air: &'static str,
    /// What it asks of the brood.
    pub brood: &'static str,
    /// Protection.
    pub protection: &'static str,
    /// What harm it may do, or how it must alternate.
    pub harm: &'static str,
    /// What a horizontal top-bar hive asks.
    pub top_bar: &'static str,
}

/// Every substance that the reference has.
pub const SUBSTANCES: &[Substance] = &[
    Substance {
        name: "oxalic acid",
        words: &["oxalic"],
        route: "dribble",
        route_words: &["dribbl", "trickl", "drip"],
        group: "organic acid",
        air: "above about 3; bees clustered or loosely clustered",
        brood: "no capped brood (does not pass cappings)",
        protection: "acid-proof gloves, goggles, long sleeves",
        harm: "repeat dribbles harm bees and open brood",
        top_bar: "dribble each occupied gap between combs; count seams, not boxes",
    },
    Substance {
        name: "oxalic acid",
        words: &["oxalic"],
        route: "sublimation",
        route_words: &["sublim", "vapo", "fume"],
        group: "organic acid",
        air: "above about 3",
        brood: "best with no capped brood",
        protection: "AU permit: coverall, half-face respirator with particulate and acid gas filters, \
                     eye protection, chemical gloves",
        harm: "corrosive mist; keep everyone upwind",
        top_bar: "dose is set per box: scale by label only; close gaps; floor or end-wall entry",
    },
    Substance {
        name: "formic acid",
        words: &["formic"],
        route: "pad or strip",
        route_words: &[],
        group: "organic acid",
        air: "10 to 29.5 on the day of fitting; 33 or more in first 3 days means bee, brood and queen \
              loss",
        brood: "kills mites under cappings; brood allowed",
        protection: "acid-resistant gloves, goggles, respirator; corrosive vapour",
        harm: "queen loss and brood loss when hot; ventilate",
        top_bar: "lay above or beside brood with open entrance; long hive spreads vapour unevenly",
    },
    Substance {
        name: "thymol",
        words: &["thymol", "thyme oil"],
        route: "gel, wafer or tray",
        route_words: &[],
        group: "essential oil",
        air: "15 to 40; AU permit: not if the maximum is below 15 or the colony is inactive",
        brood: "brood allowed; partial effect under cappings",
        protection: "gloves",
        harm: "may stop laying for a time",
        top_bar: "no head-room above bars: needs a tray on the floor or an emptied bar slot; untested",
    },
    Substance {
        name: "hop beta acids",
        words: &["hop beta", "hop acid", "beta acid"],
        route: "strip",
        route_words: &[],
        group: "hop resin",
        air: "10 or more (effect falls when cold)",
        brood: "best broodless; contact only",
        protection: "gloves, eye protection",
        harm: "weak with much brood",
        top_bar: "hang between brood combs",
    },
    Substance {
        name: "amitraz",
        words: &["amitraz"],
        route: "strip",
        route_words: &[],
        group: "formamidine",
        air: "flight weather; brood-nest bees must touch strips",
        brood: "brood allowed",
        protection: "gloves",
        harm: "resistance reported in several countries; do not use twice running",
        top_bar: "strips hang between brood combs so both faces touch bees",
    },
    Substance {
        name: "tau-fluvalinate",
        words: &["fluvalinate"],
        route: "strip",
        route_words: &[],
        group: "pyrethroid",
        air: "above 10",
        brood: "brood allowed",
        protection: "gloves",
        harm: "widespread resistance; test before relying",
        top_bar: "as amitraz",
    },
    Substance {
        name: "flumethrin",
        words: &["flumethrin"],
        route: "strip",
        route_words: &[],
        group: "pyrethroid",
        air: "above 10",
        brood: "brood allowed",
        protection: "gloves",
        harm: "shares resistance with tau-fluvalinate: same group",
        top_bar: "as amitraz",
    },
];

/// Substances that these words name; of several ways, those that `how` tells, or all when it tells
/// none. Empty when the reference does not have it.
pub fn substances(words: &str, how: Option<&str>) -> Vec<&'static Substance> {
    let words = words.to_lowercase();
    let named: Vec<&Substance> = SUBSTANCES
        .iter()
        .filter(|substance| substance.words.iter().any(|word| words.contains(word)))
        .collect();
    let how = how.map(str::to_lowercase).unwrap_or_default();
    let told: Vec<&Substance> = named
        .iter()
        .copied()
        .filter(|substance| substance.route_words.iter().any(|word| how.contains(word)))
        .collect();
    if told.is_empty() { named } else { told }
}

/// The chemical group of what these words name.
pub fn group(words: &str) -> Option<&'static str> {
    substances(words, None).first().map(|found| found.group)
}

/// Names of all substances, each once.
pub fn names() -> Vec<&'static str> {
    let mut names: Vec<&str> = SUBSTANCES.iter().map(|substance| substance.name).collect();
    names.dedup();
    names
}
