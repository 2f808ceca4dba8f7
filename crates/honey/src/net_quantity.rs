//! Net quantity: how far a jar may fall short, and whether a sample of weighed jars passes.

use comb::Mass;
use serde::Serialize;

use crate::bound::Bound;
use crate::{HoneyError, Region};

const EU_NOMINAL: Bound = Bound {
    quantity: "nominal quantity",
    low: 5.0,
    high: 10_000.0,
    unit: "g",
    advice: "the average system covers 5 g to 10 kg in the EU",
};
const UK_NOMINAL: Bound = Bound {
    quantity: "nominal quantity",
    low: 5.0,
    high: 25_000.0,
    unit: "g",
    advice: "the average system covers 5 g to 25 kg in the UK",
};
const US_LABELLED: Bound = Bound {
    quantity: "labelled weight",
    low: 1.0,
    high: 2_630.0,
    unit: "g",
    advice: "the table known here ends at 2630 g; ask your authority",
};

/// How a row gives its tolerance.
#[derive(Clone, Copy)]
enum Tolerance {
    /// Hundredths of a per cent of the nominal quantity.
    PerTenThousand(u64),
    /// Milligrams.
    Milligrams(u64),
}
use Tolerance::{Milligrams, PerTenThousand};

/// Upper end in grams, inclusive, and tolerance. At a shared limit both neighbours agree.
/// Source: Directive 76/211/EEC Annex I 2.4; UK packaged goods guidance; same figures as OIML
/// R 87; status seen. From 10 kg up UK and OIML only.
const AVERAGE_SYSTEM: [(u64, Tolerance); 9] = [
    (50, PerTenThousand(900)),
    (100, Milligrams(4_500)),
    (200, PerTenThousand(450)),
    (300, Milligrams(9_000)),
    (500, PerTenThousand(300)),
    (1_000, Milligrams(15_000)),
    (10_000, PerTenThousand(150)),
    (15_000, Milligrams(150_000)),
    (25_000, PerTenThousand(100)),
];

/// Upper end in grams, inclusive, and maximum allowable variation.
/// Source: NIST Handbook 133 Appendix A, Table 2-5; status MEMORY: check before use.
const US_MAV: [(u64, Tolerance); 23] = [
    (36, PerTenThousand(1_000)),
    (54, Milligrams(3_600)),
    (81, Milligrams(5_400)),
    (117, Milligrams(7_200)),
    (154, Milligrams(9_000)),
    (208, Milligrams(10_800)),
    (263, Milligrams(12_700)),
    (317, Milligrams(14_500)),
    (381, Milligrams(16_300)),
    (426, Milligrams(18_100)),
    (489, Milligrams(19_900)),
    (571, Milligrams(21_700)),
    (635, Milligrams(23_500)),
    (698, Milligrams(25_400)),
    (771, Milligrams(27_200)),
    (852, Milligrams(29_000)),
    (970, Milligrams(31_700)),
    (1_125, Milligrams(35_300)),
    (1_250, Milligrams(39_000)),
    (1_450, Milligrams(42_600)),
    (1_760, Milligrams(49_000)),
    (2_130, Milligrams(54_000)),
    (2_630, Milligrams(63_000)),
];

/// Tolerable negative error of one package (US: maximum allowable variation) of this nominal
/// quantity. EU, UK and Codex (OIML R 87): percentages are rounded UP to the next 0.1 g. Range
/// 5 g to 10 kg (EU, Codex), to 25 kg (UK, Australia and New Zealand by R 87; memory), 1 to
/// 2630 g (US; the whole table is from memory). Sources: the tables in this file.
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside the region's range.
///
/// ```
/// use comb::Mass;
/// use honey::{Region, net_quantity::tolerable_error};
/// let tne = tolerable_error(Region::Uk, Mass::grams(340.0))?;
/// assert!((tne.to_grams() - 10.2).abs() < 1e-9);
/// # Ok::<(), honey::HoneyError>(())
/// ```
pub fn tolerable_error(region: Region, nominal: Mass) -> Result<Mass, HoneyError> {
    Ok(grams_of(tolerance_mg(region, nominal)?))
}

/// Whole milligrams keep 340 g x 3 % at 10.2 g and not a hair above it, which would round up.
fn tolerance_mg(region: Region, nominal: Mass) -> Result<u64, HoneyError> {
    let (bound, rows): (_, &[(u64, Tolerance)]) = match region {
        Region::Us => (&US_LABELLED, &US_MAV),
        Region::Eu | Region::Codex => (&EU_NOMINAL, &AVERAGE_SYSTEM),
        Region::Uk | Region::Australia | Region::NewZealand => (&UK_NOMINAL, &AVERAGE_SYSTEM),
    };
    bound.check(nominal.to_grams())?;
    let mg = milligrams(nominal);
    let row = rows.iter().find(|row| mg <= row.0 * 1000);
    Ok(match row.map_or(rows[rows.len() - 1].1, |row| row.1) {
        Milligrams(mg) => mg,
        PerTenThousand(share) if region == Region::Us => mg * share / 10_000,
        PerTenThousand(share) => (mg * share).div_ceil(10_000 * 100) * 100,
    })
}

fn milligrams(mass: Mass) -> u64 {
    libm::round(mass.to_kg() * 1e6) as u64
}

fn grams_of(mg: u64) -> Mass {
    Mass::kg(mg as f64 / 1e6)
}

/// What a sample says about a batch of jars.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SampleVerdict {
    /// The three rules are kept by the jars weighed.
    Passes,
    /// One jar is below T1: more than the allowed share of so small a sample. Weigh at least
    /// this many to tell.
    WeighMore {
        /// Jars to weigh in all.
        at_least: usize,
    },
    /// The batch must not go out like this.
    Fails,
}

/// The packers' rules applied to weighed jars.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SampleTest {
    /// What the label says.
    pub nominal_kg: Mass,
    /// Jars weighed.
    pub jars: usize,
    /// Their mean net weight.
    pub mean_kg: Mass,
    /// Nominal less one tolerable error.
    pub t1_kg: Mass,
    /// Nominal less two.
    pub t2_kg: Mass,
    /// Jars under nominal, however little (for the minimum system: none may be).
    pub below_nominal: usize,
    /// Jars below T1 ("non-standard": at most about one in forty).
    pub below_t1: usize,
    /// Jars below T2 ("inadequate": none).
    pub below_t2: usize,
    /// By the average system.
    pub average_system: SampleVerdict,
    /// By the minimum system, which suits a keeper who weighs every jar.
    pub minimum_system: SampleVerdict,
}

/// One jar in forty may fall below T1. Source: packers' rules, UK packaged goods guidance: at
/// most about 2.5 %; status seen.
const JARS_PER_NON_STANDARD: usize = 40;

/// Test net weights (gross less the tare of that jar) of jars from one batch.
///
/// Average system, three packers' rules: mean at least nominal; at most about 2.5 % below T1; none
/// below T2. It speaks of the jars weighed: a sample's mean has its own error, so fill a little
/// over. An inspector's reference test is another one and is not done here. US: the average at
/// least labelled and none short by more than the variation. Source: Directive 76/211/EEC, UK
/// packaged goods guidance, NIST FAQ; status seen.
///
/// # Errors
/// [`HoneyError::OutOfRange`] as [`tolerable_error`]; [`HoneyError::NotPositive`] for an empty
/// sample or a jar that weighs nothing.
pub fn sample_test(region: Region, nominal: Mass, net: &[Mass]) -> Result<SampleTest, HoneyError> {
    let tolerance = tolerance_mg(region, nominal)?;
    HoneyError::positive("number of jars weighed", "", net.len() as f64)?;
    for jar in net {
        HoneyError::positive("net weight of a jar", "kg", jar.to_kg())?;
    }
    let weights: Vec<u64> = net.iter().map(|jar| milligrams(*jar)).collect();
    let promised = milligrams(nominal);
    let below = |limit: u64| weights.iter().filter(|mg| **mg < limit).count();
    let t1 = promised.saturating_sub(tolerance);
    // one variation is the whole allowance in the US
    let t2 = if region == Region::Us {
        t1
    } else {
        promised.saturating_sub(2 * tolerance)
    };
    let total: u64 = weights.iter().sum();
    let jars = weights.len();
    let mean_ok = total >= promised * jars as u64;
    let counts = (below(promised), below(t1), below(t2));
    Ok(SampleTest {
        nominal_kg: nominal,
        jars,
        mean_kg: Mass::kg(total as f64 / jars as f64 / 1e6),
        t1_kg: grams_of(t1),
        t2_kg: grams_of(t2),
        below_nominal: counts.0,
        below_t1: counts.1,
        below_t2: counts.2,
        average_system: average(mean_ok, jars, counts.1, counts.2),
        minimum_system: if counts.0 == 0 {
            SampleVerdict::Passes
        } else {
            SampleVerdict::Fails
        },
    })
}

fn average(mean_ok: bool, jars: usize, below_t1: usize, below_t2: usize) -> SampleVerdict {
    if !mean_ok || below_t2 > 0 {
        SampleVerdict::Fails
    } else if below_t1 <= jars / JARS_PER_NON_STANDARD {
        SampleVerdict::Passes
    } else if below_t1 == 1 && jars < JARS_PER_NON_STANDARD {
        SampleVerdict::WeighMore {
            at_least: JARS_PER_NON_STANDARD,
        }
    } else {
        SampleVerdict::Fails
    }
}
