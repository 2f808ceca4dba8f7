//! Pails become a lot of honey.

use comb::Mass;
use honey::HoneyError;
use honey::lots::event::{LotMade, Method};
use honey::lots::{House, LotEvent, LotId, LotOrigin, PailId};
use honey::yields::{Batch, Yield, strained_honey};

use crate::error::HouseError;
use crate::record::Standing;

/// What came out of the pails.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// The new lot's name.
    pub lot: String,
    /// Pails emptied into it.
    pub pails: Vec<PailId>,
    /// How the honey was got.
    pub method: Method,
    /// Honey in it.
    pub honey: Mass,
    /// Wax, if it was weighed.
    pub wax: Option<Mass>,
    /// Loss, if it was weighed.
    pub loss: Option<Mass>,
    /// Country of harvest; where none is given, the one that was told once for all.
    pub country: Option<String>,
}

/// The lot.
///
/// # Errors
/// [`HouseError::NoCountry`], [`HouseError::Unnamed`].
pub fn lot(standing: &Standing<'_>, made: Made) -> Result<LotEvent, HouseError> {
    let told = standing.house.seller().country.clone();
    let country = made.country.or(told).ok_or(HouseError::NoCountry)?;
    Ok(LotEvent::LotMade(LotMade {
        lot: LotId::from(named("lot", &made.lot)?),
        on: standing.on,
        pails: made.pails,
        method: made.method,
        honey_kg: made.honey,
        wax_kg: made.wax,
        loss_kg: made.loss,
        country,
    }))
}

/// A name that is one.
///
/// # Errors
/// [`HouseError::Unnamed`].
pub fn named(what: &'static str, name: &str) -> Result<String, HouseError> {
    if name.trim().is_empty() {
        return Err(HouseError::Unnamed { what });
    }
    Ok(name.to_owned())
}

/// Strained honey to be expected as a share of weighed comb, from the house's own drained lots.
///
/// # Errors
/// [`HoneyError`] when a lot gave more than its comb weighed, which the house does not take.
pub fn expected(house: &House) -> Result<Yield, HoneyError> {
    let drained = house.lots().iter().filter(|lot| {
        let origin = &lot.origin;
        matches!(origin, LotOrigin::Made { method } if *method == Method::Drained)
    });
    let batches: Vec<Batch> = drained
        .filter_map(|lot| {
            let pails = house.pails().iter();
            let of_lot = pails.filter(|pail| pail.lot.as_ref() == Some(&lot.lot));
            let comb: Option<Vec<Mass>> = of_lot.map(honey::lots::Pail::comb_mass).collect();
            Some(Batch {
                comb_kg: comb?.into_iter().sum(),
                honey_kg: lot.made(),
                wax_kg: None,
            })
        })
        .collect();
    strained_honey(&batches)
}
