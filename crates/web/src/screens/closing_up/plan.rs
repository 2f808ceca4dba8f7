//! The plan of one end, step by step.

use std::sync::Arc;

use advice::closing_plan::{AtHand, ClosingPlan, closing_plan};
use advice::closing_up::Outcome;
use advice::stores::Scales;
use comb::{Length, Tell as _};
use hive::entry::End;
use leptos::ev::SubmitEvent;
use leptos::html::Input;
use leptos::prelude::*;
use live::closing::Arrangement;
use paper::{ClosingGoal, PictureOptions, svg};

use super::own::OwnOrder;
use super::shims;
use crate::browser::{clock, storage};
use crate::journal::use_journal;
use crate::parts::changing;
use crate::parts::go::Go;
use crate::parts::picture::{Draw, Picture};
use crate::preferences::Units;
use crate::room::{Command, Part, Room};
use crate::route::Route;
use crate::texts;
use crate::texts::closing_up as words;

/// One end as it is to be closed.
#[derive(Debug, Clone, PartialEq)]
struct Planned {
    plan: ClosingPlan,
    arrangement: Option<Arrangement>,
    goal: Option<ClosingGoal>,
}

/// What there is to do.
#[derive(Debug, Clone, PartialEq)]
enum Next {
    /// An end is to be closed.
    End(Box<Planned>),
    /// Nothing was moved.
    Nothing,
    /// These ends are recorded as closed, and no other is open.
    Recorded(Vec<End>),
    /// No plan can be made; why.
    Failed(String),
}

/// Plans the end that was opened last and is not closed yet.
fn next(room: Room, at_hand: &AtHand) -> Next {
    let yard = use_journal().yard.get_untracked();
    let next = room.with(|live| {
        let hive = live.hive();
        let visit = hive.open_visit()?;
        let open = |end: &&End| !live.closed_ends().contains(end);
        let mut ends: Vec<End> = visit.ends.iter().rev().filter(open).copied().collect();
        ends.dedup();
        let others = yard.hives().filter(|other| other.id != hive.id);
        let scales = Scales::of(hive, others.chain([hive]));
        for end in ends {
            match closing_plan(hive, visit, end, &scales, at_hand) {
                Ok(Some(plan)) => {
                    let arrangement = Arrangement::of(&plan, hive);
                    let goal = arrangement.as_ref().and_then(|goal| {
                        let beyond = Some(goal.beyond);
                        let zone = clock::time_zone();
                        ClosingGoal::of(hive, goal.end, beyond, &goal.row, &goal.lifted, &zone)
                    });
                    return Some(Next::End(Box::new(Planned {
                        plan,
                        arrangement,
                        goal,
                    })));
                }
                Ok(None) => {}
                Err(why) => return Some(Next::Failed(why.to_string())),
            }
        }
        let closed = live.closed_ends();
        Some(if closed.is_empty() {
            Next::Nothing
        } else {
            Next::Recorded(closed)
        })
    });
    next.flatten().unwrap_or(Next::Nothing)
}

/// The steps, one at a time.
#[component]
pub fn Steps(
    /// The work.
    room: Room,
) -> impl IntoView {
    let told = RwSignal::new(shims::kept());
    let next = Memo::new(move |_| {
        let shims = told.get();
        next(
            room,
            &AtHand {
                shims,
                follower: None,
            },
        )
    });
    let doubts = Memo::new(move |_| {
        room.shown.with(|shown| {
            let shown = shown.as_ref();
            let all = shown.map(|shown| shown.refused.iter().chain(&shown.doubts));
            all.into_iter().flatten().cloned().collect::<Vec<_>>()
        })
    });
    let mind = changing::view(move || {
        let doubts = doubts.get();
        (!doubts.is_empty()).then(|| {
            let lines = doubts.into_iter().map(|doubt| view! { <li>{doubt}</li> });
            view! {
                <section class="notice calm-list">
                    <h2>{words::BEFORE}</h2>
                    <ul>{lines.collect_view()}</ul>
                </section>
            }
        })
    });
    let own = RwSignal::new(false);
    let planned = move || next.with(|next| matches!(next, Next::End(_)));
    let content = changing::view(move || match next.get() {
        Next::End(planned) => {
            if own.get() {
                return view! { <OwnOrder room end=planned.plan.end edge=planned.plan.edge own /> }
                    .into_any();
            }
            view! { <OneEnd room planned=*planned own /> }.into_any()
        }
        Next::Nothing => view! {
            <p>{words::NOTHING_MOVED}</p>
            <LastWord room name=words::AS_IT_STANDS />
        }
        .into_any(),
        Next::Recorded(ends) => {
            let told = words::recorded(&ends);
            room.read_after_answer(told.clone());
            view! {
                <p class="step" id="recorded" role="status">{told}</p>
                <LastWord room name=words::LID_ON />
            }
            .into_any()
        }
        Next::Failed(why) => view! {
            <p class="notice" role="alert">{words::no_plan(&why)}</p>
            <LastWord room name=words::AS_IT_STANDS />
        }
        .into_any(),
    });
    view! {
        <div class="visit-live closing">
            {mind}
            <crate::screens::visit::phrases::LastHeard room />
            <crate::screens::visit::phrases::Answer room />
            {content}
            // nothing is planned any more where nothing is to be closed
            <Show when=planned><Shims told /></Show>
            <crate::screens::visit::phrases::Field room />
            <crate::screens::visit::listen::Voicing room />
            <Go to=Route::Visit(Some(room.hive)) class="button plain">{words::TO_VISIT}</Go>
        </div>
    }
}

/// Ends the visit, by tap or by voice.
#[component]
fn LastWord(
    /// The work.
    room: Room,
    /// On the button.
    name: &'static str,
) -> impl IntoView {
    Effect::new(move |before: Option<u32>| {
        let (command, nth) = room.command.get();
        let new = before.is_some_and(|before| before != nth);
        if new && command == Some(Command::Done) {
            room.over();
        }
        nth
    });
    view! {
        <div class="bottom-bar three">
            <crate::screens::visit::listen::Listen room />
            <button type="button" id="undo" class="plain" on:click=move |_| room.undo()>{texts::visit::UNDO}</button>
            <button type="button" id="close-as-it-stands" class="do" on:click=move |_| room.over()>
                <b>{name}</b> <span>{words::DONE_MORE}</span>
            </button>
        </div>
    }
}

/// Shims at hand.
#[component]
fn Shims(
    /// As told.
    told: RwSignal<Vec<Length>>,
) -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>().get_untracked();
    let field = NodeRef::<Input>::new();
    let wrong = RwSignal::new(String::new());
    let change = move |event: SubmitEvent| {
        event.prevent_default();
        let Some(input) = field.get() else { return };
        let value = input.value();
        match shims::typed(&value, units) {
            Err(word) => wrong.set(words::no_shim(word, units)),
            Ok(shims) => {
                wrong.set(String::new());
                shims::keep(&shims);
                told.set(shims);
            }
        }
    };
    let invalid = changing::value(move || {
        if wrong.with(String::is_empty) {
            "false"
        } else {
            "true"
        }
    });
    view! {
        <form class="line" on:submit=change>
            <label for="shims">{words::shims(units)}</label>
            <input id="shims" node_ref=field autocomplete="off"
                aria-invalid=invalid aria-describedby="shims-wrong"
                placeholder=words::shims_example(units) prop:value=move || told.with(|told| shims::shown(told, units)) />
            <button type="submit" class="plain">{words::PLAN_ANEW}</button>
            <p class="wrong line-told" id="shims-wrong" role="alert">{move || wrong.get()}</p>
        </form>
    }
}

/// How far one end has come, kept on this device so that a reload goes on there.
fn progress_name(room: Room, end: End) -> String {
    let visit = room.with(|live| live.session().visit.to_string());
    format!("closing-{}-{end:?}", visit.unwrap_or_default())
}

/// So many steps are ticked, for undo.
fn tick(room: Room, count: usize) {
    if let Part::Closing { ticked } = room.part.get_untracked()
        && ticked != count
    {
        room.part.set(Part::Closing { ticked: count });
    }
}

/// One end.
#[component]
fn OneEnd(
    /// The work.
    room: Room,
    /// The plan.
    planned: Planned,
    /// Whether the keeper closes in an order of his own.
    own: RwSignal<bool>,
) -> impl IntoView {
    let Planned {
        plan,
        arrangement,
        goal,
    } = planned;
    let end = plan.end;
    let told_in = expect_context::<RwSignal<Units>>()
        .get_untracked()
        .told_in();
    let steps: Arc<[String]> = plan
        .to_do()
        .iter()
        .flat_map(|answer| &answer.steps)
        .map(|step| step.told(told_in).to_string())
        .collect();
    let why = match &plan.outcome {
        Outcome::Impossible { impossible } => {
            Some(words::impossible(&impossible.told(told_in).to_string()))
        }
        Outcome::Closed(_) => None,
    };
    let picture = goal.map(|goal| {
        let draw: Draw =
            Arc::new(move |options: &PictureOptions| svg::closing_goal(&goal, options));
        let options = PictureOptions {
            least_bar_px: 0,
            with_heading: false,
            with_legend: false,
            ..PictureOptions::default()
        };
        view! { <Picture id="closing-goal" draw options /> }
    });
    let assumed = plan
        .assumed
        .iter()
        .map(|what| view! { <li>{words::assumed(&what.told(told_in).to_string())}</li> })
        .collect_view();
    let body = arrangement.map(|arrangement| view! { <Ticking room end steps arrangement /> });
    view! {
        <section aria-labelledby="closing-end">
            <h2 id="closing-end">{words::end(end)}</h2>
            <p>{words::from_bar(plan.edge)}</p>
            {body}
            {picture}
            {why.map(|why| view! { <p class="notice" role="alert">{why}</p> })}
            <button type="button" id="otherwise" class="wide plain" on:click=move |_| own.set(true)>{words::OTHERWISE}</button>
            <ul class="quiet">{assumed}</ul>
        </section>
    }
}

/// The step at hand, and its buttons.
#[component]
fn Ticking(
    /// The work.
    room: Room,
    /// Which end.
    end: End,
    /// What is to be done.
    steps: Arc<[String]>,
    /// What it comes to.
    arrangement: Arrangement,
) -> impl IntoView {
    let name = progress_name(room, end);
    let all = steps.len();
    // another plan has other steps: they begin anew
    let mark = format!("{:x} ", fingerprint(&steps));
    let kept = storage::get(&name).and_then(|kept| kept.strip_prefix(&mark)?.parse().ok());
    let at = RwSignal::new(kept.unwrap_or(0_usize).min(all));
    Effect::new(move |_| tick(room, at.get()));
    on_cleanup(move || tick(room, 0));
    let words_at = {
        let steps = Arc::clone(&steps);
        move |at: usize| {
            steps
                .get(at)
                .cloned()
                .unwrap_or_else(|| words::ALL_DONE.to_owned())
        }
    };
    let say = {
        let words_at = words_at.clone();
        move || room.read_aloud(words_at(at.get_untracked()))
    };
    let come = move |to: usize| {
        at.set(to.min(all));
        storage::set(&name, &format!("{mark}{}", to.min(all)));
    };
    let go = {
        let (come, say) = (come.clone(), say.clone());
        move |to: usize| {
            come(to);
            say();
        }
    };
    let untick = {
        let words_at = words_at.clone();
        move || {
            let Some(to) = at.get_untracked().checked_sub(1) else {
                return;
            };
            come(to);
            room.tell(words::unticked(to + 1, &words_at(to)), false);
        }
    };
    let done = {
        let go = go.clone();
        move || {
            if at.get_untracked() < all {
                go(at.get_untracked() + 1);
            } else {
                room.arranged(&arrangement);
            }
        }
    };
    let back = move || go(at.get_untracked().saturating_sub(1));
    let act = {
        let (done, back, say) = (done.clone(), back.clone(), say.clone());
        move |command: Command| match command {
            Command::Done => done(),
            Command::Back => back(),
            Command::Again | Command::CloseUp => say(),
            Command::Undo => untick(),
            _ => {}
        }
    };
    Effect::new(move |before: Option<u32>| {
        let (command, nth) = room.command.get();
        if let (Some(command), true) = (command, before.is_some_and(|before| before != nth)) {
            act(command);
        }
        nth
    });
    // the first one, too
    room.read_after_answer(words_at(at.get_untracked()));
    let head = changing::value(move || {
        if at.get() < all {
            words::step(at.get() + 1, all)
        } else {
            String::new()
        }
    });
    let done_word = changing::value(move || {
        if at.get() < all {
            words::DONE
        } else {
            words::CLOSED_SO
        }
    });
    view! {
        <div class="step" id="step">
            <p class="step-head">{head}</p>
            <p class="step-words" role="status">{move || words_at(at.get())}</p>
        </div>
        <div class="bottom-bar four">
            <crate::screens::visit::listen::Listen room />
            <button type="button" id="step-back" class="plain" disabled=move || at.get() == 0 on:click=move |_| back()>{words::BACK}</button>
            <button type="button" id="step-again" class="plain" on:click=move |_| say()>{words::AGAIN}</button>
            <button type="button" id="step-done" class="do" on:click=move |_| done()>
                <b>{done_word}</b> <span>{words::DONE_MORE}</span>
            </button>
        </div>
    }
}

/// Tells one list of steps from another (FNV-1a, 64 bit).
fn fingerprint(steps: &[String]) -> u64 {
    let bytes = steps.iter().flat_map(|step| step.bytes().chain([0]));
    bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    })
}
