//! The bars and follower boards.

use hive::entry::End;
use leptos::prelude::*;

use super::draft::{Draft, Faults, Told};
use crate::parts::field::{Choice, Field, Switch};
use crate::preferences::Units;
use crate::texts::new_hive as words;

/// The fields.
#[component]
pub(super) fn BarFields(
    /// What is typed.
    draft: Draft,
    /// What it comes to.
    read: Memo<Result<Told, Faults>>,
    /// What is wrong with a field, by its id.
    fault: Callback<&'static str, Signal<Option<String>>>,
) -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>();
    let sign = Signal::derive(move || units.get().length_sign().to_owned());
    let fit = Signal::derive(move || {
        read.with(|read| match read {
            Ok(told) => words::fit(told.founding.bars_that_fit()),
            Err(_) => String::new(),
        })
    });
    let ends = vec![
        ("left".to_owned(), words::end(End::Left).to_owned()),
        ("right".to_owned(), words::end(End::Right).to_owned()),
    ];
    let numbered = move || draft.numbered.get();
    let number = move |id: &'static str, label: &'static str, value: RwSignal<String>| {
        view! { <Field id label value fault=fault.run(id) inputmode="numeric" /> }
    };
    view! {
        <section>
            <h2>{words::FOLLOWERS}</h2>
            <div class="pairs">
                <Switch id="left-board" label=words::end(End::Left) on=draft.left_board
                    turn=Callback::new(move |on| draft.left_board.set(on)) />
                <Switch id="right-board" label=words::end(End::Right) on=draft.right_board
                    turn=Callback::new(move |on| draft.right_board.set(on)) />
            </div>
            <Field id="board" label=words::FOLLOWER value=draft.board unit=sign fault=fault.run("board")
                inputmode="decimal" />
            <h2>{words::BARS}</h2>
            <Field id="count" label=words::COUNT value=draft.count hint=fit fault=fault.run("count")
                inputmode="numeric" />
            <Switch id="numbered" label=words::NUMBERED on=draft.numbered
                turn=Callback::new(move |on| draft.numbered.set(on)) />
            <p class="hint">{words::NUMBERED_HINT}</p>
            <Show when=numbered>
                {number("first", words::FIRST, draft.first)}
                <Choice name="count-from" legend=words::COUNT_FROM of=ends.clone() chosen=draft.count_from />
            </Show>
            <div class="pairs">
                {number("combs-from", words::COMBS_FROM, draft.combs_from)}
                {number("combs-to", words::COMBS_TO, draft.combs_to)}
            </div>
            <p class="hint">{words::COMBS_HINT}</p>
        </section>
    }
}
