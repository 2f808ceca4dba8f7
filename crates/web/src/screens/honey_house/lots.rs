//! Lots: what they hold, whether it keeps and is lawful, and everything that is done with them.

use std::sync::Arc;

use comb::Mass;
use honey::fermentation::Keeping;
use honey::lots::event::{
    FermentationSeen, LotFiltered, LotLost, LotReceived, LotReweighed, MoistureRead,
};
use honey::lots::{Caution, Lot, LotEvent, LotId};
use honey::{Moisture, Region};
use house::jars::{Fill, fill};
use house::lot::named;
use house::reading::{Judged, Scale, reading};
use leptos::prelude::*;

use super::ask::{Ask, Form, Kind, Wrong, ask};
use super::desk::{Desk, Doing, Make, Seen};
use super::{day, next_lot};
use crate::parts::go::Go;
use crate::preferences::Units;
use crate::route::{LotName, Route};
use crate::texts::honey_house as words;

/// The section.
pub(super) fn lots(desk: Desk) -> AnyView {
    let cards = move || {
        let units = desk.units();
        let cards: Vec<AnyView> = desk.seen.with(|seen| {
            let lots = seen.kept.house.lots().iter();
            let full = lots.filter(|lot| lot.mass() > Mass::ZERO);
            full.map(|lot| card(desk, seen, lot, units)).collect()
        });
        if cards.is_empty() {
            view! { <p class="hint">{words::NO_LOTS}</p> }.into_any()
        } else {
            cards.into_any()
        }
    };
    view! {
        <section id="lots" aria-labelledby="lots-head">
            <h2 id="lots-head" tabindex="-1">{words::LOTS}</h2>
            {cards}
            {receive(desk)}
        </section>
    }
    .into_any()
}

fn card(desk: Desk, seen: &Seen, lot: &Lot, units: Units) -> AnyView {
    let name = lot.lot.to_string();
    let region = seen.kept.house.seller().region;
    let page = Route::Lot(LotName::of(&name));
    let buttons = [
        (Doing::Read, "read", words::READ),
        (Doing::Fill, "fill", words::FILL),
        (Doing::More, "more", words::MORE),
    ];
    let buttons = buttons.map(|(doing, id, words)| opens(desk, doing, &name, id, words));
    let form = opened(desk, name.clone(), |desk, doing, name| match doing {
        Doing::Read => Some(read_form(desk, name)),
        Doing::Fill => Some(fill_form(desk, name)),
        Doing::More => Some(more_form(desk, name)),
        _ => None,
    });
    let (id, head) = (format!("lot-{name}"), words::lot(&name));
    view! {
        <article class="jar-card" id=id>
            <div class="card-head">
                <h3><Go to=page>{head}</Go></h3>
                <p class="figure">{units.weighed(lot.mass())}</p>
            </div>
            {state(lot.moisture_pct, region)}
            {cautions(seen, lot, region)}
            <div class="acts in-three">{buttons.into_iter().collect_view()}</div>
            {form}
        </article>
    }
    .into_any()
}

/// A button that opens a form, or closes it.
pub(super) fn opens(
    desk: Desk,
    doing: Doing,
    of: &str,
    id: &'static str,
    words: &'static str,
) -> AnyView {
    let key = (doing, of.to_owned());
    let mine = key.clone();
    let is_open = move || desk.open.with(|open| open.as_ref() == Some(&mine));
    let expanded = {
        let is_open = is_open.clone();
        move || if is_open() { "true" } else { "false" }
    };
    let toggle = move |_| {
        let now = (!is_open()).then(|| key.clone());
        desk.open.set(now);
    };
    view! {
        <button type="button" class="quiet-button" id=format!("{id}-{of}") aria-expanded=expanded on:click=toggle>
            {words}
        </button>
    }
    .into_any()
}

/// The form that is open at a lot or a filling.
pub(super) fn opened(
    desk: Desk,
    of: String,
    form: impl Fn(Desk, Doing, &str) -> Option<AnyView> + Send + 'static,
) -> AnyView {
    let shown = move || {
        let doing = desk.open.with(|open| {
            let here = open.as_ref().filter(|(_, at)| *at == of);
            here.map(|(doing, _)| *doing)
        })?;
        let form = form(desk, doing, &of)?;
        Some(view! { <div class="opened">{form}</div> })
    };
    view! { {shown} }.into_any()
}

/// Moisture, whether it keeps, whether it is lawful.
pub(super) fn state(moisture: Option<Moisture>, region: Option<Region>) -> AnyView {
    let Some(moisture) = moisture else {
        return view! { <p class="water">{words::moisture(None)}</p> }.into_any();
    };
    let judged = Judged::of(moisture, region);
    let class = if judged.keeping >= Keeping::Doubtful {
        "keeps may-not"
    } else {
        "keeps"
    };
    let legal = if judged.within_limit() == Some(false) {
        "legal over"
    } else {
        "legal"
    };
    view! {
        <p class="water"><b>{words::moisture(Some(moisture))}</b></p>
        <p class=class>{words::keeping(judged.keeping)}</p>
        <p class=legal>{words::lawful(&judged, region)}</p>
    }
    .into_any()
}

/// What else speaks against filling jars of it.
pub(super) fn cautions(seen: &Seen, lot: &Lot, region: Option<Region>) -> AnyView {
    let general = honey::limits::Kind::General;
    // without a region no limit is asked, and what is withheld is told all the same
    let region = region.unwrap_or(Region::Codex);
    let all = seen
        .kept
        .house
        .cautions(&lot.lot, region, general, &seen.withheld);
    let all = all.unwrap_or_default().into_iter();
    // what the moisture means stands above already
    let told = all.filter(|c| matches!(c, Caution::Fermenting { .. } | Caution::Withheld { .. }));
    let lines: Vec<AnyView> = told
        .map(|caution| view! { <li>{words::caution(&caution)}</li> }.into_any())
        .collect();
    if lines.is_empty() {
        return ().into_any();
    }
    view! { <ul class="against">{lines}</ul> }.into_any()
}

fn read_form(desk: Desk, lot: &str) -> AnyView {
    let units = desk.units();
    let scales = words::SCALES.map(|(key, words)| (key.to_owned(), words.to_owned()));
    let scale = ask("scale", words::SCALE, Kind::OneOf(scales.into()), "water");
    let figure =
        ask("figure", words::FIGURE, Kind::Figure(""), "").hint(words::FIGURE_HINT.to_owned());
    let warmth = Kind::Figure(units.temperature_sign());
    let warmth = ask("warmth", words::WARMTH, warmth, "").hint(words::WARMTH_HINT.to_owned());
    let (scale_now, figure_now, warmth_now) = (scale.value(), figure.value(), warmth.value());
    // what was typed, before it is kept
    let means = move || {
        let at = warmth_now.with(|typed| units.temperature(typed));
        let figure = figure_now.with(|typed| comb::typed::number(typed))?;
        let scale = scale_now.with(|key| scale_of(key));
        let moisture = reading(scale, figure, at).ok()?.moisture().ok()?;
        let region = desk.seen.with(|seen| seen.kept.house.seller().region);
        Some(view! {
            <p>{words::means(&moisture.to_string())}</p>
            {state(Some(moisture), region)}
        })
    };
    let form = Form::opened(vec![scale, figure, warmth, day()], units);
    let lot = LotId::from(lot);
    let make: Make = Arc::new(move |form, standing| {
        let figure = form.figure("figure")?;
        let at = form.temperature("warmth")?;
        let reading = reading(scale_of(&form.text("scale")), figure, at);
        Ok(LotEvent::MoistureRead(MoistureRead {
            lot: lot.clone(),
            on: standing.on,
            reading: reading?,
        })
        .into())
    });
    let view = form.view(("keep-reading", words::KEEP_READING), move |form| {
        desk.record(form, &make);
    });
    view! { {view} <div class="means" id="means">{means}</div> }.into_any()
}

fn scale_of(key: &str) -> Scale {
    match key {
        "index" => Scale::Index,
        "brix" => Scale::Brix,
        "laboratory" => Scale::Laboratory,
        _ => Scale::Water,
    }
}

fn fill_form(desk: Desk, lot: &str) -> AnyView {
    let units = desk.units();
    let name = LotId::from(lot);
    let (mass, best_before) = desk.seen.with_untracked(|seen| {
        let lot = seen.kept.house.lot(&name).ok();
        let mass = lot.map_or(Mass::ZERO, Lot::mass);
        let usual = lot.and_then(|lot| honey::label::words::usual_best_before(lot.oldest));
        (mass, usual.map_or_else(String::new, |day| day.to_string()))
    });
    let usual = match units {
        Units::Metric => "500",
        Units::Inches => "12",
    };
    let net = ask("net", words::NET, Kind::Figure(units.jar_sign()), usual);
    let typed = net.value();
    let most = Signal::derive(move || {
        let jar = typed.with(|typed| units.jar(typed));
        let jar = jar.filter(|jar| *jar > Mass::ZERO);
        jar.map_or_else(String::new, |jar| {
            words::fills((mass / jar + 1e-9) as u32, &units.jar_words(jar))
        })
    });
    let form = Form::opened(
        vec![
            net,
            ask("count", words::COUNT, Kind::Count, "").hint(most),
            ask("mark", words::MARK, Kind::Text, lot),
            ask("best-before", words::BEST_BEFORE, Kind::Day, best_before),
            day(),
            ask("anyway", words::ANYWAY, Kind::Switch, ""),
        ],
        units,
    );
    let make: Make = Arc::new(move |form, standing| {
        let asked = Fill {
            lot: name.clone(),
            net: form.jar("net")?,
            count: form.count("count")?,
            drawn: None,
            mark: form.told("mark"),
            best_before: form.day("best-before")?,
            fill: None,
            region: None,
            anyway: form.is_on("anyway"),
        };
        Ok(fill(standing, asked)?.0)
    });
    let view = form.view(("keep-jars", words::KEEP_JARS), move |form| {
        desk.record(form, &make);
    });
    view! {
        {view}
        <p class="hint">{words::BEST_BEFORE_HINT} " " {house::withheld::AS_RECORDED}</p>
    }
    .into_any()
}

fn more_form(desk: Desk, lot: &str) -> AnyView {
    let units = desk.units();
    let happened = words::HAPPENED.map(|(key, words)| (key.to_owned(), words.to_owned()));
    let what = ask("what", words::WHAT, Kind::List(happened.into()), "strained");
    let form = Form::opened(
        vec![
            what,
            ask("mass", words::MASS, Kind::Figure(units.mass_sign()), "")
                .hint(words::MASS_HINT.to_owned()),
            ask("mesh", words::MESH, Kind::Figure(words::MICROMETRES), ""),
            day(),
        ],
        units,
    );
    let lot = LotId::from(lot);
    let make: Make = Arc::new(move |form, standing| {
        let (lot, on, key) = (lot.clone(), standing.on, form.text("what"));
        let event = match key.as_str() {
            "strained" => LotEvent::LotFiltered(LotFiltered {
                lot,
                on,
                mesh_um: form.count("mesh")?,
                loss_kg: form.mass("mass")?.unwrap_or_default(),
            }),
            "weighed" => LotEvent::LotReweighed(LotReweighed {
                lot,
                on,
                mass_kg: form.needed_mass("mass")?,
            }),
            "ferments" => LotEvent::FermentationSeen(FermentationSeen { lot, on }),
            key => LotEvent::LotLost(LotLost {
                lot,
                on,
                mass_kg: form.needed_mass("mass")?,
                why: words::loss(key).ok_or_else(|| Wrong::Words(words::WHAT.to_owned()))?,
            }),
        };
        Ok(event.into())
    });
    form.view(("keep-it", words::KEEP_IT), move |form| {
        desk.record(form, &make);
    })
}

/// Honey that comes from somebody else.
pub(super) fn receive(desk: Desk) -> AnyView {
    let next = Memo::new(move |_| {
        desk.seen.with(|seen| {
            let house = &seen.kept.house;
            (next_lot(house), house.seller().country.clone())
        })
    });
    let form = move || {
        let (name, country) = next.get();
        receive_form(desk, name, country.unwrap_or_default())
    };
    view! { <details><summary>{words::RECEIVE}</summary>{form}</details> }.into_any()
}

fn receive_form(desk: Desk, name: String, country: String) -> AnyView {
    let units = desk.units();
    let text = |id, label| -> Ask { ask(id, label, Kind::Text, "") };
    let form = Form::of(
        vec![
            ask("received-lot", words::LOT_NAME, Kind::Text, name),
            text("received-from", words::FROM),
            text("their-lot", words::THEIR_LOT),
            ask(
                "received-mass",
                words::HONEY_MASS,
                Kind::Figure(units.mass_sign()),
                "",
            ),
            ask("received-country", words::COUNTRY, Kind::Text, country),
            day(),
        ],
        units,
    );
    let make: Make = Arc::new(move |form, standing| {
        let country = form.told("received-country");
        Ok(LotEvent::LotReceived(LotReceived {
            lot: LotId::from(named("lot", &form.text("received-lot"))?),
            on: standing.on,
            from: form.text("received-from"),
            their_lot: form.text("their-lot"),
            mass_kg: form.needed_mass("received-mass")?,
            country: country.ok_or(house::HouseError::NoCountry)?,
        })
        .into())
    });
    form.view(("keep-received", words::KEEP_RECEIVED), move |form| {
        desk.record(form, &make);
    })
}
