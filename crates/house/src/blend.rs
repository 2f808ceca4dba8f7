//! Lots brought to a moisture.

use std::collections::BTreeMap;

use comb::Mass;
use honey::blend::{PourPlan, Vessel, batch};
use honey::lots::event::{Drawn, LotsBlended};
use honey::lots::{House, LotEvent, LotId};
use honey::{HoneyError, Moisture};

use crate::error::HouseError;
use crate::lot::named;
use crate::record::{Batch, Standing};

/// The lots as vessels to blend.
///
/// # Errors
/// [`HouseError::NeverRead`] of a lot without a moisture; [`HoneyError::Unknown`].
pub fn vessels_of(house: &House, lots: &[String]) -> Result<Vec<Vessel>, HouseError> {
    lots.iter()
        .map(|name| {
            let lot = house.lot(&LotId::from(name.as_str()))?;
            let moisture_pct = lot
                .moisture_pct
                .ok_or_else(|| HouseError::NeverRead { lot: name.clone() })?;
            Ok(Vessel {
                name: name.clone(),
                mass_kg: lot.mass(),
                moisture_pct,
            })
        })
        .collect()
}

/// One batch of these lots, at the ceiling or under it, as a new lot.
///
/// # Errors
/// [`HoneyError::LotLoop`], [`HoneyError::BlendTooWet`], [`HoneyError::BlendTooLittle`],
/// [`HouseError::NeverRead`].
pub fn batch_into(
    standing: &Standing<'_>,
    lots: &[String],
    mass: Mass,
    ceiling: Moisture,
    into: &LotId,
) -> Result<LotEvent, HouseError> {
    not_of_itself(lots, into)?;
    let (portions, _) = batch(&vessels_of(standing.house, lots)?, mass, ceiling)?;
    let from = portions.into_iter().filter(|p| p.mass_kg > Mass::ZERO);
    Ok(LotEvent::LotsBlended(LotsBlended {
        lot: into.clone(),
        on: standing.on,
        from: from
            .map(|p| Drawn {
                lot: LotId::from(p.from),
                mass_kg: p.mass_kg,
            })
            .collect(),
        loss_kg: Mass::ZERO,
    }))
}

/// What a plan of pours makes of the lots: what is poured into becomes a new lot, since a blend
/// always takes a new name; what is only poured from stays the lot that it is, with less in it. One
/// new lot bears the name given, several bear it with a number.
///
/// # Errors
/// [`HouseError::NothingToPour`], [`HouseError::Unnamed`], [`HoneyError::LotLoop`].
pub fn poured(
    standing: &Standing<'_>,
    vessels: &[Vessel],
    plan: &PourPlan,
    target: Moisture,
    into: &str,
) -> Result<Batch, HouseError> {
    let into = named("lot", into)?;
    let names: Vec<String> = vessels.iter().map(|vessel| vessel.name.clone()).collect();
    not_of_itself(&names, &LotId::from(into.as_str()))?;
    let mut filled: Vec<&str> = Vec::new();
    let mut gone: BTreeMap<&str, Mass> = BTreeMap::new();
    let mut poured = Vec::with_capacity(plan.pours.len());
    for pour in &plan.pours {
        let mass = to_milligrams(pour.mass_kg);
        let from = gone.entry(&pour.from).or_default();
        *from = *from + mass;
        poured.push((pour, mass));
        if !filled.contains(&pour.into.as_str()) {
            filled.push(&pour.into);
        }
    }
    if filled.is_empty() {
        return Err(HouseError::NothingToPour { target });
    }
    let several = filled.len() > 1;
    let events = filled.iter().enumerate().map(|(nth, vessel)| {
        let stays = vessels.iter().find(|v| v.name == *vessel);
        let left = gone.get(vessel).copied().unwrap_or_default();
        let stays = stays.map_or(Mass::ZERO, |v| to_milligrams(v.mass_kg - left));
        let added = poured.iter().filter(|(pour, _)| pour.into == *vessel);
        let added = added.map(|(pour, mass)| (pour.from.as_str(), *mass));
        let from = std::iter::once((*vessel, stays)).chain(added);
        LotEvent::LotsBlended(LotsBlended {
            lot: LotId::from(if several {
                format!("{into}-{}", nth + 1)
            } else {
                into.clone()
            }),
            on: standing.on,
            from: from
                .filter(|(_, mass)| *mass > Mass::ZERO)
                .map(|(lot, mass_kg)| Drawn {
                    lot: LotId::from(lot),
                    mass_kg,
                })
                .collect(),
            loss_kg: Mass::ZERO,
        })
    });
    Ok(Batch {
        events: events.collect(),
        notes: Vec::new(),
    })
}

fn not_of_itself(lots: &[String], into: &LotId) -> Result<(), HoneyError> {
    if lots.iter().any(|lot| lot == into.as_str()) {
        return Err(HoneyError::LotLoop {
            lot: into.clone(),
            path: vec![into.clone(), into.clone()],
        });
    }
    Ok(())
}

/// Lots are kept in whole milligrams; a part that is rounded must leave a whole rest.
fn to_milligrams(mass: Mass) -> Mass {
    Mass::kg(libm::round(mass.to_kg() * 1e6) / 1e6)
}
