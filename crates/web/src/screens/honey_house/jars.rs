//! Jars: how many of each size are here, and each filling with its mark, its date and who had some.

use std::sync::Arc;

use honey::lots::event::{Gone, JarsBack, JarsOut};
use honey::lots::{FillId, Filling, LotEvent, SizeLine};
use house::money::money;
use leptos::prelude::*;

use super::ask::{Form, Kind, ask, choices};
use super::day;
use super::desk::{Desk, Doing, Make};
use super::lots::{opened, opens};
use crate::browser::clock;
use crate::parts::go::Go;
use crate::preferences::Units;
use crate::route::{LotName, Route};
use crate::texts::honey_house as words;

/// The section.
pub(super) fn jars(desk: Desk) -> AnyView {
    let content = move || {
        let units = desk.units();
        desk.seen.with(|seen| {
            let house = &seen.kept.house;
            if house.fillings().is_empty() {
                return view! { <p class="hint">{words::NO_JARS}</p> }.into_any();
            }
            let (here, gone): (Vec<&Filling>, Vec<&Filling>) =
                house.fillings().iter().partition(|fill| fill.in_stock > 0);
            let here: Vec<AnyView> = here
                .into_iter()
                .map(|fill| card(desk, fill, units))
                .collect();
            let gone: Vec<AnyView> = gone
                .into_iter()
                .map(|fill| card(desk, fill, units))
                .collect();
            let sold_out = (!gone.is_empty()).then(|| {
                view! { <details><summary>{words::sold_out(gone.len())}</summary>{gone}</details> }
            });
            view! {
                {ledger(&house.stock(), units)}
                {here}
                {sold_out}
                <p class="hint">{words::LABELS}</p>
            }
            .into_any()
        })
    };
    view! {
        <section id="jars" aria-labelledby="jars-head">
            <h2 id="jars-head" tabindex="-1">{words::JARS}</h2>
            {content}
        </section>
    }
    .into_any()
}

fn ledger(lines: &[SizeLine], units: Units) -> AnyView {
    let heads = words::LEDGER.map(|head| view! { <th scope="col">{head}</th> });
    let rows = lines.iter().map(|line| {
        let gone: u32 = line.gone.values().sum();
        let taken: Vec<String> = line
            .taken
            .iter()
            .map(|(currency, minor)| format!("{}.{:02} {currency}", minor / 100, minor % 100))
            .collect();
        view! {
            <tr>
                <th scope="row">{units.jar_words(line.net_kg)}</th>
                <td>{line.filled}</td>
                <td>{line.in_stock}</td>
                <td>{gone}</td>
                <td>{taken.join(", ")}</td>
            </tr>
        }
        .into_any()
    });
    let rows: Vec<AnyView> = rows.collect();
    view! {
        <table class="ledger" id="ledger">
            <thead><tr>{heads.into_iter().collect_view()}</tr></thead>
            <tbody>{rows}</tbody>
        </table>
    }
    .into_any()
}

fn card(desk: Desk, fill: &Filling, units: Units) -> AnyView {
    let name = fill.fill.to_string();
    let page = Route::Lot(LotName::of(&fill.mark));
    let past = (fill.in_stock > 0 && fill.best_before < clock::today())
        .then(|| view! { <p class="wrong">{words::PAST}</p> });
    let out = (fill.in_stock > 0).then(|| opens(desk, Doing::Out, &name, "out", words::OUT));
    let back =
        (fill.with_others() > 0).then(|| opens(desk, Doing::Back, &name, "back", words::BACK));
    let form = opened(desk, name.clone(), |desk, doing, name| match doing {
        Doing::Out => Some(out_form(desk, name)),
        Doing::Back => Some(back_form(desk, name)),
        _ => None,
    });
    let id = format!("fill-{name}");
    view! {
        <article class="jar-card" id=id>
            <div class="card-head">
                <h3><Go to=page>{name}</Go></h3>
                <p class="figure">{words::of_them_here(fill.in_stock, fill.with_others())}</p>
            </div>
            <p>{words::filling(fill.count, &units.jar_words(fill.net()), fill.on)}</p>
            <p>{words::marked(&fill.mark, fill.best_before)}</p>
            {past}
            <div class="acts in-two">{out} {back}</div>
            {form}
        </article>
    }
    .into_any()
}

fn out_form(desk: Desk, name: &str) -> AnyView {
    // the currency that was used last
    let currency = desk.seen.with_untracked(|seen| {
        let fills = seen.kept.house.fillings().iter().rev();
        let mut taken = fills.flat_map(|fill| fill.taken.iter().rev());
        taken.next().map(|money| money.currency.clone())
    });
    let form = Form::opened(
        vec![
            ask("count", words::COUNT, Kind::Count, ""),
            ask("how", words::HOW, Kind::List(choices(&words::GONE)), "sold"),
            ask("to", words::TO, Kind::Text, "").hint(words::TO_HINT.to_owned()),
            ask("money", words::MONEY, Kind::Figure(""), ""),
            ask(
                "currency",
                words::CURRENCY,
                Kind::Text,
                currency.unwrap_or_default(),
            )
            .hint(words::CURRENCY_HINT.to_owned()),
            day(),
        ],
        desk.units(),
    );
    let fill = FillId::from(name);
    let make: Make = Arc::new(move |form, standing| {
        let key = form.text("how");
        let how = words::GONE.iter().find(|(known, ..)| *known == key);
        let sum = form.told("money").map(|sum| sum.replace(',', "."));
        let taken = sum
            .map(|sum| money(&sum, &form.text("currency")))
            .transpose()?;
        Ok(LotEvent::JarsOut(JarsOut {
            fill: fill.clone(),
            on: standing.on,
            count: form.count("count")?,
            how: how.map_or(Gone::Sold, |(_, how, _)| *how),
            to: form.told("to"),
            taken,
        })
        .into())
    });
    form.view(("keep-out", words::KEEP_OUT), move |form| {
        desk.record(form, &make);
    })
}

fn back_form(desk: Desk, name: &str) -> AnyView {
    let form = Form::opened(
        vec![ask("count", words::COUNT, Kind::Count, ""), day()],
        desk.units(),
    );
    let fill = FillId::from(name);
    let make: Make = Arc::new(move |form, standing| {
        Ok(LotEvent::JarsBack(JarsBack {
            fill: fill.clone(),
            on: standing.on,
            count: form.count("count")?,
        })
        .into())
    });
    form.view(("keep-back", words::KEEP_BACK), move |form| {
        desk.record(form, &make);
    })
}
