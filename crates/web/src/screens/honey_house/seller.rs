//! Who sells, and where: what every label repeats.

use std::sync::Arc;

use honey::lots::LotEvent;
use honey::lots::event::Seller;
use leptos::prelude::*;

use super::ask::{Form, Kind, Wrong, ask, choices};
use super::desk::{Desk, Make};
use crate::browser::window;
use crate::texts::honey_house as words;

/// The section.
pub(super) fn seller(desk: Desk) -> AnyView {
    let told = Memo::new(move |_| desk.seen.with(|seen| seen.kept.house.seller().clone()));
    let form = move || form(desk, told.get());
    let now = move || {
        let told = told.get();
        let region = told.region.map(|region| region.name().to_owned());
        let parts: Vec<String> = [region, told.business].into_iter().flatten().collect();
        if parts.is_empty() {
            words::NOTHING_TOLD_YET.to_owned()
        } else {
            parts.join("; ")
        }
    };
    view! {
        <section id="seller" aria-labelledby="seller-head">
            <h2 id="seller-head">{words::SELLER}</h2>
            <p>{now}</p>
            <details><summary>{words::CHANGE_SELLER}</summary>{form}</details>
        </section>
    }
    .into_any()
}

fn form(desk: Desk, told: Seller) -> AnyView {
    let region = words::REGIONS
        .iter()
        .find(|(_, known, _)| Some(*known) == told.region);
    let mut regions = vec![(String::new(), words::NO_REGION.to_owned())];
    regions.extend(choices(&words::REGIONS));
    let text = |id, label, value: &Option<String>| {
        ask(id, label, Kind::Text, value.clone().unwrap_or_default())
    };
    // where this very app comes from
    let here = window().and_then(|window| window.location().origin().ok());
    let here = format!("{}/lot/", here.unwrap_or_default());
    let key = region.map_or("", |(key, ..)| *key);
    let form = Form::of(
        vec![
            ask("region", words::REGION, Kind::List(regions), key),
            text("country", words::COUNTRY, &told.country),
            text("business", words::BUSINESS, &told.business),
            text("storage", words::STORAGE, &told.storage),
            text("nutrition", words::NUTRITION, &told.nutrition),
            text("trace-page", words::TRACE_PAGE, &told.trace_page)
                .hint(words::trace_page_hint(&here)),
        ],
        desk.units(),
    );
    let make: Make = Arc::new(move |form, _| {
        let key = form.text("region");
        let region = words::REGIONS.iter().find(|(known, ..)| *known == key);
        // only what is new is told anew
        let new =
            |id, known: &Option<String>| form.told(id).filter(|text| Some(text) != known.as_ref());
        let seller = Seller {
            region: region
                .map(|(_, region, _)| *region)
                .filter(|new| Some(*new) != told.region),
            business: new("business", &told.business),
            country: new("country", &told.country),
            storage: new("storage", &told.storage),
            nutrition: new("nutrition", &told.nutrition),
            trace_page: new("trace-page", &told.trace_page),
        };
        if seller == Seller::default() {
            return Err(Wrong::Words(words::NOTHING_TOLD.to_owned()));
        }
        Ok(LotEvent::SellerTold(seller).into())
    });
    form.view(("keep-seller", words::KEEP_SELLER), move |form| {
        desk.record(form, &make);
    })
}
