//! What is weighed, measured, counted and fed, told by taps: set with two buttons, then noted as one step.

use comb::Mass;
use leptos::prelude::*;
use talk::Tap;
use talk::act::Act;

use crate::preferences::Units;
use crate::room::Room;
use crate::texts::visit as words;

/// Everything that a keeper may measure, folded away until it is wanted.
#[component]
pub fn Measures(
    /// The work.
    room: Room,
) -> impl IntoView {
    view! {
        <details class="measures">
            <summary>{words::MEASURES}</summary>
            <Weight room />
            <Air room />
            <Cells room />
            <Wash room />
            <Feed room />
        </details>
    }
}

/// A figure set in steps, and its bounds in steps.
#[derive(Clone, Copy)]
struct Dial {
    at: RwSignal<i32>,
    least: i32,
    most: i32,
    by: i32,
}

impl Dial {
    fn new(at: i32, by: i32, (least, most): (i32, i32)) -> Self {
        Self {
            at: RwSignal::new(at),
            least,
            most,
            by,
        }
    }

    fn turn(self, sign: i32) {
        self.at
            .update(|at| *at = (*at + sign * self.by).clamp(self.least, self.most));
    }
}

/// The two buttons of a figure, with the figure between them.
fn dial(name: &'static str, dial: Dial, told: fn(i32, Units) -> String) -> AnyView {
    let units = expect_context::<RwSignal<Units>>();
    let told = Signal::derive(move || told(dial.at.get(), units.get()));
    view! {
        <div class="dial" role="group" aria-label=name>
            <span class="dial-name">{name}</span>
            <button type="button" class="plain" aria-label=words::turn_down(name) on:click=move |_| dial.turn(-1)>
                "\u{2212}"
            </button>
            <output>{told}</output>
            <button type="button" class="plain" aria-label=words::turn_up(name) on:click=move |_| dial.turn(1)>
                "+"
            </button>
        </div>
    }
    .into_any()
}

/// What is set goes into the visit with this.
fn note(
    room: Room,
    id: &'static str,
    what: &'static str,
    act: impl Fn() -> Act + Send + 'static,
) -> AnyView {
    view! {
        <button type="button" class="do" id=id on:click=move |_| room.tap(Tap::Tell(act()))>
            <b>{words::NOTE_IT}</b> <span>{what}</span>
        </button>
    }
    .into_any()
}

/// Grams in a step of the weight; a spring balance over an open hive shows no more.
const GRAMS: i32 = 100;

#[component]
fn Weight(room: Room) -> impl IntoView {
    let weight = Dial::new(2000, GRAMS, (GRAMS, 8000));
    let told = |grams, units: Units| units.mass_words(Mass::grams(f64::from(grams)));
    let comb = super::part(room, |shown| shown.in_hand.is_some());
    let content = move || {
        if comb.get() == Some(true) {
            let weighs = move || Act::Weighs(f64::from(weight.at.get_untracked()) / 1000.0);
            view! {
                <div class="measure">
                    {dial(words::WEIGHT, weight, told)}
                    {note(room, "note-weight", words::OF_COMB_IN_HAND, weighs)}
                </div>
            }
            .into_any()
        } else {
            view! { <p class="hint">{words::WEIGHT_NEEDS_COMB}</p> }.into_any()
        }
    };
    view! { {content} }
}

#[component]
fn Air(room: Room) -> impl IntoView {
    let air = Dial::new(20, 1, (-10, 45));
    let warm = move || Act::Temperature(f64::from(air.at.get_untracked()));
    view! {
        <div class="measure">
            {dial(words::AIR, air, |celsius, units| words::temperature(celsius, units == Units::Inches))}
            {note(room, "note-air", words::AIR, warm)}
        </div>
    }
}

#[component]
fn Cells(room: Room) -> impl IntoView {
    let cells = Dial::new(1, 1, (1, 60));
    let seen = move || Act::QueenCells(cells.at.get_untracked().unsigned_abs());
    view! {
        <div class="measure">
            {dial(words::QUEEN_CELLS, cells, |count, _| count.to_string())}
            {note(room, "note-cells", words::QUEEN_CELLS, seen)}
        </div>
    }
}

#[component]
fn Wash(room: Room) -> impl IntoView {
    let mites = Dial::new(0, 1, (0, 200));
    // half a cup, the usual sample
    let bees = Dial::new(300, 50, (50, 600));
    let washed = move || Act::Mites {
        count: Some(mites.at.get_untracked().unsigned_abs()),
        bees: Some(bees.at.get_untracked().unsigned_abs()),
    };
    view! {
        <div class="measure">
            {dial(words::MITES, mites, |count, _| count.to_string())}
            {dial(words::BEES, bees, |count, _| count.to_string())}
            {note(room, "note-wash", words::WASH, washed)}
        </div>
    }
}

#[component]
fn Feed(room: Room) -> impl IntoView {
    let kind = RwSignal::new(0_usize);
    // tenths of a litre
    let litres = Dial::new(10, 5, (5, 100));
    let chips = words::FEEDS.map(|(nth, name, _)| {
        let pressed = move || if kind.get() == nth { "true" } else { "false" };
        view! { <button type="button" class="chip" aria-pressed=pressed on:click=move |_| kind.set(nth)>{name}</button> }
    });
    let is_syrup = move || {
        words::FEEDS
            .iter()
            .any(|(nth, _, syrup)| *nth == kind.get() && *syrup)
    };
    let amount = move || {
        is_syrup().then(|| {
            dial(words::LITRES, litres, |tenths, _| {
                words::litres(f64::from(tenths) / 10.0)
            })
        })
    };
    let fed = move || {
        let (_, name, syrup) = words::FEEDS[kind.get_untracked()];
        Act::Fed {
            litres: syrup.then(|| f64::from(litres.at.get_untracked()) / 10.0),
            kg: None,
            kind: Some(name.to_owned()),
        }
    };
    view! {
        <div class="measure">
            <div class="holds" role="group" aria-label=words::FED>{chips.into_iter().collect_view()}</div>
            {amount}
            {note(room, "note-feed", words::FED, fed)}
        </div>
    }
}
