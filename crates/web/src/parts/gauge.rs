//! How much is there against how much must stay, drawn as a trough with a notch.

use leptos::prelude::*;

/// Width of the drawing, in its own units.
const WIDTH: f64 = 240.0;

/// A trough filled to what is there, with a notch at what must stay.
#[component]
pub fn Gauge(
    /// What is there.
    there: f64,
    /// What must stay, in the same unit.
    needed: f64,
    /// The same in words.
    #[prop(into)]
    words: String,
) -> impl IntoView {
    let most = (there.max(needed) * 1.15).max(1.0);
    let at = move |amount: f64| (amount / most).clamp(0.0, 1.0) * WIDTH;
    let short = there < needed;
    let class = if short { "gauge short" } else { "gauge" };
    let notch = at(needed);
    view! {
        <svg class=class viewBox="-2 0 244 22" preserveAspectRatio="xMinYMid" role="img" aria-label=words>
            <rect class="gauge-trough" x="0" y="5" width=WIDTH height="12" rx="2" />
            <rect class="gauge-there" x="0" y="5" width=at(there) height="12" rx="2" />
            <path class="gauge-notch" d=format!("M{notch:.1} 0v22") />
        </svg>
    }
}
