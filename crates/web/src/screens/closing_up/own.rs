//! The keeper's own order: pieces moved toward the nest until the list is what stands in the hive.

use advice::own_order::order_thought_of;
use hive::Hive;
use hive::entry::{End, Hanging, Piece};
use leptos::prelude::*;
use live::closing::Arrangement;

use crate::parts::changing;
use crate::preferences::Units;
use crate::room::Room;
use crate::texts::closing_up as words;

/// The order as the keeper has it.
#[component]
pub fn OwnOrder(
    /// The work.
    room: Room,
    /// Which end.
    end: End,
    /// Number of the last bar that is not moved.
    edge: u32,
    /// Set to false to go back to the plan.
    own: RwSignal<bool>,
) -> impl IntoView {
    let start = room.with(|live| pieces_outward(live.hive(), end, edge));
    let start = StoredValue::new(start.unwrap_or_default());
    let pieces = RwSignal::new(start.get_value());
    let units = expect_context::<RwSignal<Units>>().get_untracked();
    let name = move |piece: &Piece| {
        room.with(|live| named(live.hive(), piece, units))
            .unwrap_or_default()
    };
    let list = changing::view(move || {
        let pieces_now = pieces.get();
        let all = pieces_now.len();
        let rows = pieces_now.into_iter().enumerate().map(|(at, piece)| {
            let name = name(&piece);
            let up = move |_| pieces.update(|pieces| pieces.swap(at, at - 1));
            let down = move |_| pieces.update(|pieces| pieces.swap(at, at + 1));
            let last = at + 1 == all;
            view! {
                <li class="own-piece">
                    <span>{name.clone()}</span>
                    <button type="button" class="plain" aria-label=words::inward(&name) disabled=at == 0 on:click=up>"\u{2191}"</button>
                    <button type="button" class="plain" aria-label=words::outward(&name) disabled=last on:click=down>"\u{2193}"</button>
                </li>
            }
        });
        rows.collect_view()
    });
    // what hangs there anyhow is no order of the keeper's
    let against = move |pieces: &Vec<Piece>| {
        let moved = start.with_value(|start| start != pieces);
        let cautions = moved.then(|| cautions_of(room, end, pieces));
        cautions.unwrap_or_default()
    };
    let cautions = changing::view(move || {
        let cautions = pieces.with(|pieces| against(pieces));
        let told = |words: String| view! { <p class="wrong mind">{words}</p> };
        cautions.into_iter().map(told).collect_view()
    });
    let keep = move |_| {
        let done = room.with(|live| {
            let beyond = live.hive().bar_numbered(edge).ok()?.id;
            Some(Arrangement {
                end,
                beyond,
                row: pieces.get_untracked(),
                lifted: Vec::new(),
            })
        });
        if let Some(Some(done)) = done {
            own.set(false);
            let cautions = against(&done.row);
            room.arranged(&done);
            if !cautions.is_empty() {
                room.mind(cautions.join(" "), false);
            }
        }
    };
    view! {
        <section aria-labelledby="own-order">
            <h2 id="own-order">{words::OWN_ORDER}</h2>
            <ol class="own">{list}</ol>
            <div class="stack" id="own-cautions" role="alert">{cautions}</div>
            <button type="button" id="keep-order" class="wide" on:click=keep>{words::KEEP_ORDER}</button>
            <button type="button" class="wide plain" on:click=move |_| own.set(false)>{words::TO_PLAN}</button>
        </section>
    }
}

/// What stands beyond the edge now, from the nest outward. Combs that came from another hive and have no
/// place yet stand where the outermost comb does, to be moved from there.
fn pieces_outward(hive: &Hive, end: End, edge: u32) -> Vec<Piece> {
    let pieces = hive.row.pieces();
    let is_edge = |piece: &Piece| {
        piece
            .bar()
            .and_then(|bar| hive.bar(bar))
            .is_some_and(|bar| bar.number == edge)
    };
    let at = pieces.iter().position(is_edge).unwrap_or(0);
    let mut outward: Vec<Piece> = match end {
        End::Left => pieces[..at].iter().rev().cloned().collect(),
        End::Right => pieces[(at + 1).min(pieces.len())..].to_vec(),
    };
    outward.retain(|piece| {
        piece
            .bar()
            .is_none_or(|bar| hive.bar(bar).is_some_and(|bar| bar.lies.at_hand()))
    });
    let wait = hive.loose_bars().into_iter().filter(|bar| bar.has_comb());
    let wait: Vec<Piece> = wait.map(|bar| Piece::Bar { bar: bar.id }).collect();
    let follower = |piece: &Piece| matches!(piece, Piece::Follower { .. });
    let outermost = outward.iter().position(follower).unwrap_or(outward.len());
    outward.splice(outermost..outermost, wait);
    outward
}

/// What speaks against an order, a sentence each.
fn cautions_of(room: Room, end: End, row: &[Piece]) -> Vec<String> {
    let cautions = room.with(|live| {
        let hive = live.hive();
        let visit = hive.open_visit()?;
        Some(order_thought_of(hive, visit, end, row))
    });
    let cautions = cautions.flatten().unwrap_or_default().into_iter();
    cautions.map(|caution| words::mind(&caution.text)).collect()
}

fn named(hive: &Hive, piece: &Piece, units: Units) -> String {
    match piece {
        Piece::Bar { bar } => hive.bar(*bar).map_or_else(String::new, |bar| {
            let hangs = match bar.hanging {
                Hanging::Comb => words::COMB,
                Hanging::Strip => words::CUT,
                Hanging::Nothing => words::EMPTY,
            };
            words::bar(bar.number, hangs)
        }),
        Piece::Follower { .. } => words::FOLLOWER.to_owned(),
        Piece::Shim { width_mm } => words::shim(&units.length_words(*width_mm)),
    }
}
