//! Recording something of a colony's health: which hive, which day, which treatment or sign.

use hive::health::{SignOnRecord, Treated};
use hive::{Hive, Yard};
use jiff::Timestamp;
use jiff::civil::Date;

use super::Context;
use crate::failure::Failure;
use crate::journal::hive_named;

/// A day as told, not one to come.
pub(super) fn day(context: &Context, on: Option<Date>) -> Result<Date, Failure> {
    let today = context.now().date();
    let on = on.unwrap_or(today);
    if on > today {
        return Err(Failure::input(format!("{on} is in the future"))
            .help("Record things when they have happened; --out-by takes a day to come."));
    }
    Ok(on)
}

/// The instant of a day: now for today, else its noon.
pub(super) fn instant(context: &Context, on: Date) -> Result<Timestamp, Failure> {
    if on == context.now().date() {
        return Ok(context.now().timestamp());
    }
    on.at(12, 0, 0, 0)
        .to_zoned_datetime(context.now().time_zone().clone())
        .map(|noon| noon.timestamp())
        .map_err(|why| Failure::input(format!("{on}: {why}")))
}

/// The instant of a day, but not before the hive began: what was written down on its first day at
/// noon may be told of a hive that began in the afternoon.
pub(super) fn instant_at(context: &Context, hive: &Hive, on: Date) -> Result<Timestamp, Failure> {
    let at = instant(context, on)?;
    let began = hive
        .started
        .to_zoned_datetime(context.now().time_zone().clone())
        .date();
    if began == on {
        return Ok(at.max(hive.started));
    }
    Ok(at)
}

/// The treatment meant: of those that are on, or of all with the latest first.
pub(super) fn treatment<'a>(
    yard: &'a Yard,
    hive: &str,
    product: Option<&str>,
    on: bool,
) -> Result<(&'a Hive, &'a Treated), Failure> {
    let hive = hive_named(yard, hive)?;
    let wanted = |treated: &&Treated| {
        (!on || treated.is_on()) && product.is_none_or(|p| same_words(p, &treated.given.product))
    };
    let found: Vec<&Treated> = hive.treatments.iter().filter(wanted).collect();
    let several = on && product.is_none() && found.len() > 1;
    match found.last() {
        Some(last) if !several => {
            // of one product given twice, the one that is on longest ends first
            let treated = if on {
                found.first().unwrap_or(last)
            } else {
                last
            };
            Ok((hive, treated))
        }
        Some(_) => Err(Failure::input(format!(
            "{} treatments are on in {}",
            found.len(),
            hive.name
        ))
        .help(format!(
            "Say which: --product \"{}\".",
            names(found.iter().map(|t| t.given.product.as_str()))
        ))),
        None => {
            let of = product.map_or_else(String::new, |product| format!(" with {product}"));
            let state = if on { " is on in" } else { " is recorded for" };
            Err(Failure::input(format!("no treatment{of}{state} {}", hive.name)).help(
                "`combwright health list` shows what is on; `health treat HIVE PRODUCT` records one.",
            ))
        }
    }
}

/// The sign meant, of those that stand.
pub(super) fn sign<'a>(
    yard: &'a Yard,
    hive: &str,
    condition: Option<&str>,
) -> Result<(&'a Hive, &'a SignOnRecord), Failure> {
    let hive = hive_named(yard, hive)?;
    let same = |one: &str, other: &str| {
        let (one_is, other_is) = (
            health::condition::condition(one),
            health::condition::condition(other),
        );
        same_words(one, other) || one_is.is_some() && one_is == other_is
    };
    let found: Vec<&SignOnRecord> = hive
        .signs_standing()
        .filter(|seen| condition.is_none_or(|c| same(c, &seen.sign.condition)))
        .collect();
    match found.as_slice() {
        [one] => Ok((hive, one)),
        [] => Err(
            Failure::input(format!("no such sign stands in {}", hive.name))
                .help("`combwright health list` shows what stands."),
        ),
        [first, ..] if condition.is_some() => Ok((hive, first)),
        many => Err(
            Failure::input(format!("{} signs stand in {}", many.len(), hive.name)).help(format!(
                "Say which: --condition \"{}\".",
                names(many.iter().map(|s| s.sign.condition.as_str()))
            )),
        ),
    }
}

fn same_words(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

fn names<'a>(names: impl Iterator<Item = &'a str>) -> String {
    names.collect::<Vec<_>>().join("\" or \"")
}
