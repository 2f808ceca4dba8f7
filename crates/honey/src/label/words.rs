//! The words of a label.

use comb::{Mass, Share};
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use crate::lots::event::Method;
use crate::region::Region;
use crate::{HoneyError, bound::Bound};

/// The caution for infants. FDA, CDC and the American Academy of Pediatrics advise no honey under
/// 12 months; heating does not remove the danger (seen). Own words.
pub const INFANT_CAUTION: &str = "Do not give honey to infants under 12 months.";

/// Set next to the name of baker's honey. Source: Directive 2001/110/EC Annex I; status seen.
pub const BAKERS_WORDS: &str = "intended for cooking only";

/// Grams in an avoirdupois ounce, exact.
const GRAMS_PER_OUNCE: f64 = 28.349_523_125;

const NET: Bound = Bound {
    quantity: "net quantity",
    low: 5.0,
    high: 25_000.0,
    unit: "g",
    advice: "labels are made for 5 g to 25 kg",
};

/// Names under which honey of this making may be sold, the plainest first. Comb may not be sold as
/// plain "honey". Source: Directive 2001/110/EC Annex I; status seen; that draining without
/// squeezing is "drained" is our reading, not law.
pub const fn names(method: Method) -> &'static [&'static str] {
    match method {
        Method::Drained => &["Honey", "Drained honey"],
        Method::Pressed => &["Honey", "Pressed honey"],
        Method::Extracted => &["Honey", "Extracted honey"],
        Method::Comb => &["Comb honey"],
    }
}

/// A declared net quantity.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NetWords {
    /// As it stands on the label.
    pub text: String,
    /// The largest mass that the words promise: rounding to ounces or grams may promise a little
    /// more than was meant. Weigh the jars against this one.
    pub promised_kg: Mass,
}

/// The net quantity in words: metric, or for the US ounces (from 16 on pounds and ounces) and
/// grams, as "NET WT 12 OZ (340 g)". Range 5 g to 25 kg. Source: US form from trytruli.com (seen),
/// pounds from memory; metric forms common practice, no source.
///
/// # Errors
/// [`HoneyError::OutOfRange`].
///
/// ```
/// use comb::Mass;
/// use honey::{Region, label::words::net_quantity};
/// let net = net_quantity(Region::Us, Mass::grams(340.0))?;
/// assert_eq!(net.text, "NET WT 12 OZ (340 g)");
/// assert!(net.promised_kg.to_grams() > 340.1); // 12 oz are 340.19 g
/// # Ok::<(), honey::HoneyError>(())
/// ```
pub fn net_quantity(region: Region, nominal: Mass) -> Result<NetWords, HoneyError> {
    let grams = NET.check(nominal.to_grams())?;
    let (metric, metric_grams) = metric(grams);
    if region != Region::Us {
        return Ok(NetWords {
            text: metric,
            promised_kg: Mass::grams(metric_grams),
        });
    }
    let ounces = libm::round(grams / GRAMS_PER_OUNCE * 10.0) / 10.0;
    Ok(NetWords {
        text: format!("NET WT {} ({metric})", customary(ounces)),
        promised_kg: Mass::grams(metric_grams.max(ounces * GRAMS_PER_OUNCE)),
    })
}

/// Whole grams below a kilogram, else kilograms with no more decimals than needed.
fn metric(grams: f64) -> (String, f64) {
    let whole = libm::round(grams);
    if whole < 1000.0 {
        (format!("{whole} g"), whole)
    } else {
        (format!("{} kg", whole / 1000.0), whole)
    }
}

fn customary(ounces: f64) -> String {
    let tenths = libm::round(ounces * 10.0) as u64;
    let (pounds, rest) = (tenths / 160, tenths % 160);
    let rest_words = format!("{} OZ", rest as f64 / 10.0);
    match (pounds, rest) {
        (0, _) => rest_words,
        (_, 0) => format!("{pounds} LB"),
        _ => format!("{pounds} LB {rest_words}"),
    }
}

/// The lot mark: an "L" before it, unless it begins with one.
pub fn lot_mark(mark: &str) -> String {
    let mark = mark.trim();
    if mark.starts_with(['L', 'l']) {
        mark.to_owned()
    } else {
        format!("L {mark}")
    }
}

/// The usual best-before: two years from when the OLDEST honey in the jar was made. Source: two
/// years from packing is usual (seen, UK trade pages: 2 to 5); counted from the making, so that
/// blending does not make honey younger (ours). `None` past the calendar's end.
pub fn usual_best_before(oldest: Date) -> Option<Date> {
    oldest.checked_add(2.years()).ok()
}

/// "Best before 14 Mar 2028": day, month and year, right everywhere and good enough as a lot mark
/// in the EU and the UK.
pub fn best_before(date: Date) -> String {
    format!("Best before {}", date.strftime("%-d %b %Y"))
}

/// The shortest wording the EU and the UK allow: over 18 months from packing the year, over 3 to
/// 18 months month and year ("best before end ..."), under that the day and month. A shorter form
/// is only used when it promises nothing more, which is when the date is the last of that year or
/// month. Source: Regulation (EU) 1169/2011 Annex X, memory. With such a date a lot mark is needed.
///
/// # Errors
/// [`HoneyError::NoRule`] elsewhere.
pub fn shortest_best_before(
    region: Region,
    packed: Date,
    date: Date,
) -> Result<String, HoneyError> {
    if !matches!(region, Region::Eu | Region::Uk) {
        return Err(HoneyError::NoRule {
            what: "a shorter best-before",
            region,
        });
    }
    let later = |months: i32| packed.checked_add(months.months()).unwrap_or(Date::MAX);
    let month_ends = date == date.last_of_month();
    Ok(if date > later(18) && date == date.last_of_year() {
        format!("Best before end {}", date.year())
    } else if date > later(3) && month_ends {
        format!("Best before end {}", date.strftime("%b %Y"))
    } else {
        best_before(date)
    })
}

/// How far the shares may be from a whole before they are refused.
const WHOLE: f64 = 1e-6;

/// The country or countries of origin, with shares in whole per cent where the EU asks for them
/// (more than one country, from 14 June 2026; a tolerance of 5 % a share is allowed).
/// Shares by mass, in any order; they make one together. Source: Directive (EU) 2024/1438 and
/// national rules as in [`super::fields`]; status seen. For Australia the mark of the information
/// standard must be added; these are only its countries.
///
/// # Errors
/// [`HoneyError::OriginShares`] when the shares do not make a whole.
pub fn origin(region: Region, countries: &[(String, Share)]) -> Result<String, HoneyError> {
    let total: f64 = countries.iter().map(|(_, share)| share.get()).sum();
    if (total - 1.0).abs() > WHOLE {
        return Err(HoneyError::OriginShares(total * 100.0));
    }
    let mut sorted = countries.to_vec();
    sorted.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    let percents = whole_percents(&sorted);
    let with_shares = region == Region::Eu && sorted.len() > 1;
    let words: Vec<String> = sorted
        .iter()
        .zip(percents)
        .map(|((country, _), percent)| {
            if with_shares {
                format!("{country} {percent} %")
            } else {
                country.clone()
            }
        })
        .collect();
    Ok(words.join(", "))
}

/// Whole per cent that add up to 100: rounded down, what is left given to the largest remainders.
fn whole_percents(shares: &[(String, Share)]) -> Vec<u32> {
    let exact = |share: Share| share.to_percent() + 1e-9;
    let mut percents: Vec<u32> = shares.iter().map(|(_, s)| exact(*s) as u32).collect();
    let mut order: Vec<usize> = (0..shares.len()).collect();
    let rest = |at: usize| exact(shares[at].1) - libm::floor(exact(shares[at].1));
    order.sort_by(|&a, &b| rest(b).total_cmp(&rest(a)));
    let missing = 100_u32.saturating_sub(percents.iter().sum());
    for &at in order.iter().take(missing as usize) {
        percents[at] += 1;
    }
    percents
}
