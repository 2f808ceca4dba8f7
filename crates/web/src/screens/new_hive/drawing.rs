//! The drawing of a hive that is being set up, to scale.

use comb::{Body, Length, Outline};
use hive::founding::Founding;
use hive::pen::{Stamp, Subject};
use hive::{BarId, DeviceId, EntryId, HiveId, Pen, Yard};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use leptos::prelude::*;
use paper::{HiveSection, PictureOptions};
use uuid::Uuid;

use super::draft::{Draft, Faults, Told};
use crate::parts::section::Section;
use crate::preferences::Units;
use crate::texts::new_hive as words;

/// Cross-section and long section.
#[component]
pub(super) fn Drawing(
    /// What is typed.
    draft: Draft,
    /// What it comes to.
    read: Memo<Result<Told, Faults>>,
) -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>();
    // the last that can be drawn stays while a figure is being typed
    let body = Memo::new(move |last: Option<&Option<Body>>| {
        draft
            .body(units.get(), &mut Faults::new())
            .or_else(|| last.copied().flatten())
    });
    let section = Memo::new(move |last: Option<&Option<HiveSection>>| {
        // a name that is missing or in use is no reason not to draw
        let told = read.with(|read| read.as_ref().ok().map(|told| told.founding.clone()));
        let founding = told.or_else(|| draft.without_name(units.get()));
        founding
            .and_then(|founding| imagined(&founding))
            .or_else(|| last.cloned().flatten())
    });
    let stale = move || draft.body(units.get(), &mut Faults::new()).is_none();
    let options = PictureOptions {
        with_heading: false,
        least_bar_px: 6,
        ..PictureOptions::default()
    };
    let oddities = move || {
        let body = body.get()?;
        let list = body
            .oddities()
            .into_iter()
            .map(|oddity| view! { <li>{oddity.words()}</li> })
            .collect_view();
        Some(view! { <ul class="oddities">{list}</ul> })
    };
    view! {
        <section class="drawing" aria-labelledby="drawing">
            <h2 id="drawing">{words::DRAWING}</h2>
            <CrossSection body=body />
            <p class="measures">{move || body.get().map(|body| units.get().told_in().body_words(&body))}</p>
            <Section id="planned" section=section options />
            <Show when=stale><p class="wrong" role="status">{words::LAST_DRAWING}</p></Show>
            {oddities}
        </section>
    }
}

/// The hive as it would be recorded, so that what is drawn is what is kept.
fn imagined(founding: &Founding) -> Option<HiveSection> {
    let mut made = 0;
    let known = founding
        .entries(|| {
            made += 1;
            BarId(Uuid::from_u128(made))
        })
        .ok()?;
    let hive = HiveId(Uuid::from_u128(1));
    let mut pen = Pen::new(DeviceId(Uuid::nil()), 1, "", "UTC");
    let entries = known.into_iter().zip(1_u128..).map(|(known, n)| {
        let stamp = Stamp::now(EntryId(Uuid::from_u128(n)), Timestamp::UNIX_EPOCH);
        pen.write(stamp, Subject::hive(hive), known.into())
    });
    let yard = Yard::fold(entries.collect::<Vec<_>>());
    yard.hive(hive)
        .map(|hive| HiveSection::of(hive, &TimeZone::UTC))
}

/// Points down each side of a curved outline.
const STEPS: u32 = 16;
/// Room around the body for figures, mm.
const ROOM: f64 = 120.0;
/// How far a bar sticks out at each side, mm.
const EAR: f64 = 25.0;
/// How thick a bar is drawn, mm.
const BAR: f64 = 20.0;

/// The body's cross-section with a full comb in it, measures beside it.
#[component]
pub(super) fn CrossSection(
    /// The body.
    #[prop(into)]
    body: Signal<Option<Body>>,
    /// Without figures.
    #[prop(optional)]
    small: bool,
) -> impl IntoView {
    let units = expect_context::<RwSignal<Units>>();
    let drawn = move || {
        let body = body.get()?;
        let (half, depth) = (body.top_width().to_mm() / 2.0, body.depth().to_mm());
        let outline = Outline::of(&body);
        let wall = sides(depth, |down| body.half_width_at(down).to_mm());
        let comb = sides(outline.depth().to_mm(), |down| {
            outline.half_width_at(down).to_mm()
        });
        let room = if small { 12.0 } else { ROOM };
        let (left, wide) = (-half - EAR - room, 2.0 * (half + EAR + room));
        let high = BAR + depth + if small { 12.0 } else { 50.0 };
        let viewbox = format!("{left:.0} {:.0} {wide:.0} {:.0}", -BAR - 30.0, high + 30.0);
        let figures = (!small).then(|| figures(&body, units.get()));
        let words = format!(
            "{}, {}",
            units.get().told_in().body_words(&body),
            words::DRAWING
        );
        Some(view! {
            <svg class=if small { "cross small" } else { "cross" } viewBox=viewbox role="img"
                aria-label=words aria-hidden=small.then_some("true")>
                <path class="cross-wall" d=wall />
                <path class="cross-comb" d=comb />
                <rect class="cross-bar" x=-half - EAR y=-BAR width=2.0 * (half + EAR) height=BAR />
                {figures}
            </svg>
        })
    };
    view! { {drawn} }
}

/// Down one side and up the other.
fn sides(depth: f64, half_at: impl Fn(Length) -> f64) -> String {
    let down: Vec<(f64, f64)> = (0..=STEPS)
        .map(|step| {
            let y = depth * f64::from(step) / f64::from(STEPS);
            (half_at(Length::mm(y)), y)
        })
        .collect();
    let right = down.iter().map(|(x, y)| format!("{x:.1} {y:.1}"));
    let left = down.iter().rev().map(|(x, y)| format!("{:.1} {y:.1}", -x));
    let points: Vec<String> = right.chain(left).collect();
    format!("M{}Z", points.join("L"))
}

fn figures(body: &Body, units: Units) -> impl IntoView + use<> {
    let (half, depth) = (body.top_width().to_mm() / 2.0, body.depth().to_mm());
    let top = units.length_words(body.top_width());
    let bottom = units.length_words(body.bottom_width());
    let deep = units.length_words(body.depth());
    let floor = body.half_width_at(body.depth()).to_mm();
    let beside = half + EAR + 18.0;
    view! {
        <text class="cross-figure" x="0" y=-BAR - 10.0 text-anchor="middle">{top}</text>
        <text class="cross-figure" x="0" y=depth + 34.0 text-anchor="middle">{bottom}</text>
        <path class="cross-line" d=format!("M{beside:.1} 0v{depth:.1}") />
        <path class="cross-line" d=format!("M{:.1} 0h16M{:.1} {depth:.1}h16", beside - 8.0, beside - 8.0) />
        <path class="cross-line" d=format!("M{:.1} {:.1}h{:.1}", -floor, depth + 8.0, 2.0 * floor) />
        <text class="cross-figure" x=beside + 6.0 y=depth / 2.0>{deep}</text>
    }
}
