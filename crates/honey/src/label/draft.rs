//! A label's lines, checked against its region: what is there, what is missing.

use comb::{Area, Length, Mass, Share};
use jiff::civil::Date;
use serde::Serialize;

use super::fields::{Duty, Field, FieldRule, rules};
use super::lettering::{net_quantity_height, x_height};
use super::words::{self, NetWords};
use crate::HoneyError;
use crate::lots::{Filling, Lot};
use crate::region::Region;

/// What is known for a label; `None` is left out of it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Given {
    /// The name; see [`words::names`].
    pub name: Option<String>,
    /// Net quantity of one jar.
    pub net: Option<Mass>,
    /// Name and address of the business.
    pub business: Option<String>,
    /// Countries of harvest with their shares by mass; empty when not known.
    pub countries: Vec<(String, Share)>,
    /// Lot mark.
    pub mark: Option<String>,
    /// Best before.
    pub best_before: Option<Date>,
    /// How to keep it.
    pub storage: Option<String>,
    /// Nutrition panel, ready made.
    pub nutrition: Option<String>,
    /// The infants' caution in other words; without them the program's own are printed.
    pub infant_caution: Option<String>,
}

impl Given {
    /// What the journal knows about a filling. Name and business come from the settings.
    pub fn of(filling: &Filling, lot: &Lot) -> Self {
        Self {
            net: Some(filling.net()),
            countries: lot.countries(),
            mark: Some(filling.mark.clone()),
            best_before: Some(filling.best_before),
            ..Self::default()
        }
    }
}

/// One line of a label.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Line {
    /// Which particular.
    pub field: Field,
    /// Its words.
    pub text: String,
    /// Least height of the letters named by the lettering rule; `None` when no rule is known
    /// here for this region.
    #[serde(rename = "least_height_mm")]
    pub least_height: Option<Length>,
}

/// A label's lines and what its region says about them.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabelDraft {
    /// The lines there are, in order.
    pub lines: Vec<Line>,
    /// Mandatory particulars that are not there. Do not print for sale while there are any.
    pub missing: Vec<FieldRule>,
    /// Particulars that are not there and may be needed: read the note.
    pub look_at: Vec<FieldRule>,
    /// The quantity to weigh jars against.
    pub net: Option<NetWords>,
}

/// The lines of a label for a region. `panel` is the principal display panel, or the largest face.
///
/// # Errors
/// [`HoneyError::OutOfRange`] for the net quantity, [`HoneyError::OriginShares`],
/// [`HoneyError::NotPositive`] for the panel.
pub fn draft(region: Region, given: &Given, panel: Area) -> Result<LabelDraft, HoneyError> {
    HoneyError::positive("panel", "dm2", panel.to_dm2())?;
    let net = given
        .net
        .map(|net| words::net_quantity(region, net))
        .transpose()?;
    let small = x_height(region, panel).ok().map(|rule| rule.height);
    let large = given
        .net
        .and_then(|net| net_quantity_height(region, net, panel).ok());
    let mut out = LabelDraft {
        lines: Vec::new(),
        missing: Vec::new(),
        look_at: Vec::new(),
        net: net.clone(),
    };
    for rule in rules(region) {
        match text(region, given, net.as_ref(), rule.field)? {
            Some(text) => out.lines.push(Line {
                field: rule.field,
                text,
                least_height: match rule.field {
                    Field::NetQuantity => large.map(|rule| rule.height),
                    _ => small,
                },
            }),
            None if rule.duty == Duty::Mandatory => out.missing.push(rule),
            None if rule.duty == Duty::Conditional => out.look_at.push(rule),
            None => {}
        }
    }
    Ok(out)
}

fn text(
    region: Region,
    given: &Given,
    net: Option<&NetWords>,
    field: Field,
) -> Result<Option<String>, HoneyError> {
    let said = |text: &Option<String>| text.clone().filter(|text| !text.trim().is_empty());
    Ok(match field {
        Field::Name => said(&given.name),
        Field::NetQuantity => net.map(|net| net.text.clone()),
        Field::Business => said(&given.business),
        Field::Origin if given.countries.is_empty() => None,
        Field::Origin => Some(words::origin(region, &given.countries)?),
        Field::Lot => said(&given.mark).map(|mark| words::lot_mark(&mark)),
        Field::BestBefore => given.best_before.map(words::best_before),
        Field::Storage => said(&given.storage),
        Field::Nutrition => said(&given.nutrition),
        Field::Ingredients => None,
        Field::InfantCaution => {
            said(&given.infant_caution).or_else(|| Some(words::INFANT_CAUTION.to_owned()))
        }
    })
}
