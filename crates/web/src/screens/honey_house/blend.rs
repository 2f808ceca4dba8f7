//! Lots brought to a moisture, with the least honey moved.

use std::collections::BTreeSet;
use std::sync::Arc;

use comb::Mass;
use honey::Moisture;
use honey::blend::{PourPlan, bring_to_target};
use honey::lots::{House, Lot};
use house::Standing;
use house::blend::{poured, vessels_of};
use leptos::prelude::*;

use super::ask::{Form, Kind, Wrong, ask};
use super::desk::{Desk, Make};
use super::tile::tile;
use super::{day, next_lot};
use crate::preferences::Units;
use crate::texts::honey_house as words;

type Chosen = RwSignal<BTreeSet<String>>;

/// Lots that can be blended: with honey, and a moisture that was read.
fn blendable(house: &House) -> impl Iterator<Item = &Lot> {
    let lots = house.lots().iter();
    lots.filter(|lot| lot.mass() > Mass::ZERO && lot.moisture_pct.is_some())
}

/// The section.
pub(super) fn blend(desk: Desk) -> AnyView {
    let chosen: Chosen = RwSignal::new(BTreeSet::new());
    let next = Memo::new(move |_| {
        desk.seen.with(|seen| {
            let house = &seen.kept.house;
            let of_chosen = |lot: &&Lot| chosen.with(|chosen| chosen.contains(lot.lot.as_str()));
            let two = blendable(house).filter(of_chosen).nth(1).is_some();
            two.then(|| next_lot(house))
        })
    });
    let list = move || {
        let units = desk.units();
        let tiles: Vec<AnyView> = desk.seen.with(|seen| {
            let lots = blendable(&seen.kept.house);
            lots.map(|lot| one(lot, units, chosen)).collect()
        });
        if tiles.len() < 2 {
            return view! { <p class="hint">{words::BLEND_FEW}</p> }.into_any();
        }
        view! {
            <p class="hint">{words::BLEND_HINT} " " {words::BLEND_CHOOSE}</p>
            <div class="tiles wide-tiles" role="group" aria-labelledby="blend-head">{tiles}</div>
        }
        .into_any()
    };
    let target = move || next.get().map(|name| form(desk, name, chosen));
    view! {
        <section id="blend" aria-labelledby="blend-head">
            <h2 id="blend-head">{words::BLEND}</h2>
            {list}
            {target}
        </section>
    }
    .into_any()
}

fn one(lot: &Lot, units: Units, chosen: Chosen) -> AnyView {
    let name = lot.lot.to_string();
    let holds = format!(
        "{}, {}",
        units.weighed(lot.mass()),
        words::moisture(lot.moisture_pct)
    );
    let words = words::lot(&name);
    tile("blend", name, words, holds, chosen)
}

fn form(desk: Desk, name: String, chosen: Chosen) -> AnyView {
    let units = desk.units();
    let form = Form::of(
        vec![
            ask("target", words::TARGET, Kind::Figure("%"), "18.0"),
            ask("into", words::INTO, Kind::Text, name),
            day(),
        ],
        units,
    );
    let planned = RwSignal::new(None::<PourPlan>);
    // one that was used up meanwhile is chosen no more
    let names = move |house: &House| -> Vec<String> {
        let lots = blendable(house).map(|lot| lot.lot.to_string());
        chosen.with_untracked(|chosen| lots.filter(|lot| chosen.contains(lot)).collect())
    };
    let work_out = {
        let form = form.clone();
        move || -> Result<PourPlan, Wrong> {
            let target = Moisture::percent(form.figure("target")?)?;
            desk.seen.with_untracked(|seen| {
                let house = &seen.kept.house;
                let vessels = vessels_of(house, &names(house))?;
                let plan = bring_to_target(&vessels, target)?;
                if plan.pours.is_empty() {
                    return Err(house::HouseError::NothingToPour { target }.into());
                }
                Ok(plan)
            })
        }
    };
    let make: Make = Arc::new(move |form: &Form, standing: &Standing<'_>| {
        let target = Moisture::percent(form.figure("target")?)?;
        let vessels = vessels_of(standing.house, &names(standing.house))?;
        let plan = bring_to_target(&vessels, target)?;
        Ok(poured(
            standing,
            &vessels,
            &plan,
            target,
            &form.text("into"),
        )?)
    });
    // another choice of lots is another plan
    Effect::new(move |_| {
        chosen.track();
        planned.set(None);
    });
    let keep = form.clone();
    let plan = move || {
        let plan = planned.get()?;
        let (keep, make) = (keep.clone(), Arc::clone(&make));
        let poured = move |_| desk.record(&keep, &make);
        Some(view! {
            <div class="plan" id="plan" tabindex="-1">
                {pours(&plan, units)}
                <button type="button" id="poured" on:click=poured>{words::POURED}</button>
            </div>
        })
    };
    let view = form.view(("work-out", words::WORK_OUT), move |form| {
        form.clear();
        match work_out() {
            Ok(plan) => planned.set(Some(plan)),
            Err(wrong) => {
                planned.set(None);
                form.show(wrong);
            }
        }
    });
    view! { {view} {plan} }.into_any()
}

fn pours(plan: &PourPlan, units: Units) -> AnyView {
    let steps = plan.pours.iter().map(|pour| {
        let mass = units.weighed(pour.mass_kg);
        view! { <li>{words::pour(&mass, &pour.from, &pour.into)}</li> }.into_any()
    });
    let steps: Vec<AnyView> = steps.collect();
    let after = plan
        .after
        .iter()
        .filter(|vessel| vessel.mass_kg > Mass::ZERO);
    let after: Vec<AnyView> = after
        .map(|vessel| {
            let mass = units.weighed(vessel.mass_kg);
            let words = words::after(&vessel.name, &mass, &vessel.moisture_pct.to_string());
            view! { <li>{words}</li> }.into_any()
        })
        .collect();
    view! {
        <ol>{steps}</ol>
        <ul>{after}</ul>
        <p>{words::moved(&units.weighed(plan.moved_kg))}</p>
    }
    .into_any()
}
