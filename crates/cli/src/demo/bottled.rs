//! What was done in the honey house, as entries.

use comb::{Mass, Temperature};
use hive::EntryId;
use honey::lots::event::{JarsOut, LotFiltered, Method, MoistureRead, Seller};
use honey::lots::{FillId, LotEvent, LotId, PailId};
use house::jars::{Fill, fill};
use house::lot::{Made, lot};
use house::money::money;
use house::pail::{Which, pail};
use house::reading::{Scale, reading};
use house::taking::waiting;
use house::{Batch, HouseError, Standing, plan};

use super::form::{Step, Stepped};
use crate::failure::Failure;
use crate::journal::{Desk, Saying, Writer};
use crate::surroundings::local_day;

/// Lays a step on the desk, thought through as a keeper's own is.
pub(super) fn tell(desk: &mut Desk, step: &Stepped, writer: &Writer) -> Result<(), Failure> {
    let planned = plan(
        desk.yard(),
        &writer.now,
        None,
        &local_day,
        &mut |standing| batch(standing, &step.doing),
    )?;
    for what in planned.says {
        desk.say(Saying::of_yard(planned.at, what), writer)?;
    }
    Ok(())
}

fn batch(standing: &Standing<'_>, step: &Step) -> Result<Batch, Failure> {
    let on = standing.on;
    let event = match step {
        Step::Seller {
            region,
            business,
            country,
            storage,
        } => LotEvent::SellerTold(Seller {
            region: Some(region.parse().map_err(HouseError::Honey)?),
            business: Some(business.clone()),
            country: Some(country.clone()),
            storage: Some(storage.clone()),
            ..Seller::default()
        }),
        Step::Pail {
            pail: name,
            combs,
            kg,
        } => {
            let combs = these(standing, combs)?;
            pail(standing, name, &Which::These(combs), Some(Mass::kg(*kg)))?
        }
        Step::Lot {
            lot: name,
            pails,
            honey_kg,
            wax_kg,
        } => lot(
            standing,
            Made {
                lot: name.clone(),
                pails: pails
                    .iter()
                    .map(|pail| PailId::from(pail.as_str()))
                    .collect(),
                method: Method::Drained,
                honey: Mass::kg(*honey_kg),
                wax: Some(Mass::kg(*wax_kg)),
                loss: None,
                country: None,
            },
        )?,
        Step::Filter {
            lot,
            mesh_um,
            loss_kg,
        } => LotEvent::LotFiltered(LotFiltered {
            lot: LotId::from(lot.as_str()),
            on,
            mesh_um: *mesh_um,
            loss_kg: Mass::kg(*loss_kg),
        }),
        Step::Reading {
            lot,
            index,
            celsius,
        } => LotEvent::MoistureRead(MoistureRead {
            lot: LotId::from(lot.as_str()),
            on,
            reading: reading(Scale::Index, *index, Some(Temperature::celsius(*celsius)))?,
        }),
        Step::Jars { lot, net_g, count } => {
            let asked = Fill {
                lot: LotId::from(lot.as_str()),
                net: Mass::grams(*net_g),
                count: *count,
                drawn: None,
                mark: None,
                best_before: None,
                fill: None,
                region: None,
                anyway: false,
            };
            return Ok(fill(standing, asked)?.0);
        }
        Step::Out {
            fill,
            count,
            how,
            to,
            money: sum,
            currency,
        } => LotEvent::JarsOut(JarsOut {
            fill: FillId::from(fill.as_str()),
            on,
            count: *count,
            how: *how,
            to: to.clone(),
            taken: sum
                .as_ref()
                .zip(currency.as_ref())
                .map(|(sum, currency)| money(sum, currency))
                .transpose()?,
        }),
    };
    Ok(event.into())
}

/// The combs that wait, by hive and bar.
fn these(standing: &Standing<'_>, told: &[String]) -> Result<Vec<EntryId>, Failure> {
    let there = waiting(standing.yard, standing.house, &local_day);
    let one = |told: &String| {
        let named = there
            .iter()
            .find(|taking| format!("{} {}", taking.hive, taking.bar) == *told);
        let named = named.map(|taking| taking.comb);
        named.ok_or_else(|| Failure::input(format!("no comb {told} waits")))
    };
    told.iter().map(one).collect()
}
