//! What is withheld, and why.

use honey::lots::Until;
use house::withheld::AS_RECORDED;
use leptos::prelude::*;

use super::desk::Desk;
use crate::browser::clock;
use crate::texts::honey_house as words;

/// The section.
pub(super) fn withheld(desk: Desk) -> AnyView {
    let today = clock::today();
    let list = move || {
        let lines: Vec<AnyView> = desk.seen.with(|seen| {
            // what is over is in the records, and no longer withholds anything
            let over = |until| matches!(until, Until::Through(last) if last < today);
            let mut all: Vec<_> = seen
                .withheld
                .iter()
                .filter(|one| !over(one.until))
                .collect();
            all.sort_by_key(|one| std::cmp::Reverse(one.from));
            let lines = all.into_iter();
            lines
                .map(|one| view! { <li>{words::withholding(one)}</li> }.into_any())
                .collect()
        });
        if lines.is_empty() {
            view! { <p>{words::NOTHING_WITHHELD}</p> }.into_any()
        } else {
            view! { <ul class="against">{lines}</ul> }.into_any()
        }
    };
    view! {
        <section id="withheld" aria-labelledby="withheld-head">
            <h2 id="withheld-head">{words::WITHHELD}</h2>
            {list}
            <p class="hint">{words::WITHHELD_HINT} " " {AS_RECORDED}</p>
        </section>
    }
    .into_any()
}
