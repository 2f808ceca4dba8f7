//! What must be minded with a treatment or a sign, in sentences.

use hive::Hive;
use hive::health::Treated;
use hive::sign::{Certainty, Sign};
use hive::treatment::Treatment;

use crate::condition::{Handling, condition};
use crate::substance::{Substance, group, substances};

/// Said with every treatment.
pub const LABEL_DECIDES: &str = "The product's label and your local law decide on dose, season, brood, honey and protection. This \
     program reckons no dose.";

/// Said with every acid. Source: health.md 7 of the reference, practice and seen as marked there.
pub const ACIDS: &str = "Acids burn skin, eyes and lungs, worst as mist or vapour. Add acid to water, never water to \
     acid; have water ready and rinse for 15 to 20 minutes; stay upwind; store locked and labelled, \
     never in food containers.";

/// Said with every sign that may bring a site to a standstill.
/// Source: health.md 4 of the reference (SI 2006/342 arts 3 to 8 and club guidance seen, rest
/// practice).
pub const STOP: &str = "Stop and close the hive. Move nothing off the site: no bees, combs, honey, wax or tools. \
     Narrow the entrance against robbing, clean hands and tools, report, and post no sample before \
     you are asked. Your local authority decides.";

/// Said with every other sign.
pub const ASK: &str = "A sign is not a diagnosis. Whether it must be reported where you are, your local authority says.";

/// What must be minded when this is given to this hive, the gravest first. `before` are the hive's
/// earlier treatments, in order.
pub fn of_treatment(given: &Treatment, before: &[Treated]) -> Vec<String> {
    let named = substances_of(given);
    let mut mind = Vec::new();
    mind.extend(same_group_again(given, before));
    for substance in &named {
        mind.push(format!(
            "{} ({}): {}.",
            capital(substance.name),
            substance.route,
            substance.protection
        ));
    }
    if named.iter().any(|s| s.group == "organic acid") || says_acid(given) {
        mind.push(ACIDS.to_owned());
    }
    let words: Vec<String> = named.iter().map(|s| conditions_words(s)).collect();
    mind.extend(words);
    if named.is_empty() {
        mind.push(
            "The active substance is not among those looked up: protection and air stand on the label."
                .to_owned(),
        );
    }
    if given.withholding.is_none() {
        mind.push(
            "How long the label withholds honey was not copied in: until it is, every comb of this \
             hive is marked \"read the label first\"."
                .to_owned(),
        );
    }
    mind.push(LABEL_DECIDES.to_owned());
    mind
}

fn conditions_words(substance: &Substance) -> String {
    format!(
        "{}, as read elsewhere. Air, degrees C: {}. Brood: {}. {}. In a long hive: {}.",
        capital(substance.name),
        substance.air,
        substance.brood,
        capital(substance.harm),
        substance.top_bar
    )
}

fn says_acid(given: &Treatment) -> bool {
    let acid = |words: &str| words.to_lowercase().contains("acid");
    acid(&given.product) || given.active.as_deref().is_some_and(acid)
}

/// The substances that a treatment names, by its active substance or else its product's name.
pub fn substances_of(given: &Treatment) -> Vec<&'static Substance> {
    let how = format!(
        "{} {}",
        given.how.as_deref().unwrap_or_default(),
        given.product
    );
    let of = given.active.as_deref().unwrap_or(&given.product);
    substances(of, Some(&how))
}

fn group_of(given: &Treatment) -> Option<&'static str> {
    group(given.active.as_deref().unwrap_or(&given.product))
}

/// A word of warning when the course before was of the same chemical group.
/// Source: health.md 3 of the reference: warn on two successive courses of one group.
pub fn same_group_again(given: &Treatment, before: &[Treated]) -> Option<String> {
    let last = before.iter().rfind(|t| t.given.on <= given.on)?;
    let (now, then) = (group_of(given), group_of(&last.given));
    let same_product = given
        .product
        .trim()
        .eq_ignore_ascii_case(last.given.product.trim());
    match (now, then) {
        (Some(now), Some(then)) if now == then => Some(format!(
            "The course before, {} on {}, was of the same chemical group ({now}). Mites that \
             withstand one of a group withstand all of it: change the group, unless the label or \
             your adviser says otherwise.",
            last.given.product, last.given.on
        )),
        (None, None) if same_product => Some(format!(
            "{} was given last time too, on {}. Where mites withstand a product it no longer helps: \
             change the chemical group, unless the label or your adviser says otherwise.",
            last.given.product, last.given.on
        )),
        _ => None,
    }
}

/// What must be minded after this sign, the gravest first.
pub fn of_sign(sign: &Sign) -> Vec<String> {
    if sign.certainty == Certainty::NotFound {
        return vec![
            "That none was found clears nothing that was seen before; clear a sign by name when it no \
             longer stands."
                .to_owned(),
        ];
    }
    let named = condition(&sign.condition);
    let stop = match (named.map(|condition| condition.handling), sign.notifiable) {
        (_, Some(notifiable)) => notifiable,
        (Some(Handling::Standstill), None) => true,
        _ => false,
    };
    let mut mind = vec![if stop {
        STOP.to_owned()
    } else {
        ASK.to_owned()
    }];
    if let Some(condition) = named {
        mind.push(format!("{}: {}.", capital(condition.name), condition.signs));
        mind.push(format!("As read elsewhere: {}.", condition.must));
    } else {
        mind.push(
            "It is not among the diseases and pests looked up, which says nothing of the law."
                .to_owned(),
        );
    }
    mind
}

/// True while a sign stands that brings the site to a standstill.
pub fn stop_is_on(hive: &Hive) -> bool {
    crate::withheld::withholdings(hive).iter().any(|withheld| {
        withheld.cause == crate::withheld::Cause::Disease
            && withheld.until == crate::withheld::Until::Open
    })
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
