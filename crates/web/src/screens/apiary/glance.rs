//! Many hives in a few lines: the most pressing first, each with the first thing it needs.

use advice::needs::NeedKind;
use comb::order::InOrder as _;
use hive::HiveId;
use leptos::prelude::*;

use super::CardOf;
use crate::parts::go::Go;
use crate::route::Route;
use crate::texts::apiary as words;

/// So many hives are seen in their cards.
const FEW: usize = 6;

/// One hive's line.
struct Line {
    hive: HiveId,
    name: String,
    /// The first thing needed; `None` when nothing presses.
    first: Option<(NeedKind, String)>,
}

/// The list; nothing where the hives are few.
pub(super) fn glance(cards: &[CardOf]) -> Option<impl IntoView + use<>> {
    if cards.len() <= FEW {
        return None;
    }
    let mut lines: Vec<Line> = cards.iter().map(line).collect();
    lines.order_by_key(|line| (line.first.is_none(), line.first.as_ref().map(|need| need.0)));
    let rows = lines.into_iter().map(|line| {
        let needed = line
            .first
            .map_or_else(|| words::NOTHING_SHORT.to_owned(), |need| need.1);
        view! {
            <li>
                <Go to=Route::Hive(Some(line.hive)) class="row">
                    <b>{line.name}</b> <span class="hint">{crate::texts::sentence(&needed)}</span>
                </Go>
            </li>
        }
    });
    Some(view! {
        <details class="glance" id="glance">
            <summary>{words::glance(cards.len())}</summary>
            <ul class="rows">{rows.collect_view()}</ul>
        </details>
    })
}

fn line(card: &CardOf) -> Line {
    match card {
        Ok(card) => Line {
            hive: card.needs.hive,
            name: card.needs.name.clone(),
            first: card
                .next
                .iter()
                .map(|need| (need.kind, need.words.clone()))
                .min_by_key(|need| need.0),
        },
        Err((name, hive, why)) => Line {
            hive: *hive,
            name: name.clone(),
            first: Some((NeedKind::FinishVisit, words::no_advice(&why.to_string()))),
        },
    }
}
