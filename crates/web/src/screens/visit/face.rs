//! One face of the comb in hand: its capped share set by tapping or dragging over eighths.

use comb::Outline;
use leptos::ev::{KeyboardEvent, PointerEvent};
use leptos::html::Div;
use leptos::prelude::*;
use talk::Tap;
use talk::act::{Act, Side};

use crate::parts::changing;
use crate::room::Room;
use crate::texts::visit as words;

/// Steps of the share: an eighth is what an eye tells apart over an open hive.
const STEPS: u32 = 8;

/// One face.
#[component]
pub fn Face(
    /// The work.
    room: Room,
    /// Which face.
    side: Side,
) -> impl IntoView {
    let share = super::part(room, move |shown| {
        shown.in_hand.as_ref().and_then(|comb| match side {
            Side::This => comb.this,
            Side::Other => comb.other,
        })
    });
    let body = super::part(room, |shown| shown.section.body);
    // measured anew for another body only, not at each phrase
    let outline = Memo::new(move |_| Some(FaceShape::of(&Outline::of(&body.get()?))));
    // the share under the finger, before it is let go
    let dragged = RwSignal::new(None::<u32>);
    let told = move || share.get().flatten();
    let now = move || {
        dragged
            .get()
            .map(|n| f64::from(n) / f64::from(STEPS))
            .or_else(told)
    };
    let place = NodeRef::<Div>::new();
    let tell = move |eighths: u32| {
        let share = f64::from(eighths.min(STEPS)) / f64::from(STEPS);
        room.tap(Tap::Tell(Act::Capped(side, share)));
    };
    let step = move |by: i32| {
        let at = now().map_or(0, |share| (share * f64::from(STEPS)).round() as i32);
        let to = (at + by).clamp(0, STEPS.cast_signed());
        tell(to.cast_unsigned());
    };
    let under = move |event: &PointerEvent| -> Option<u32> {
        let rect = place.get_untracked()?.get_bounding_client_rect();
        let full = outline.get_untracked()?;
        let down = (f64::from(event.client_y()) - rect.top()) / rect.height();
        Some(full.eighths_above(down))
    };
    let down = move |event: PointerEvent| {
        event.prevent_default();
        if let Some(place) = place.get_untracked() {
            // a finger that slides off still sets the share
            let _ = place.set_pointer_capture(event.pointer_id());
            let _ = place.focus();
        }
        dragged.set(under(&event));
    };
    let moved = move |event: PointerEvent| {
        if dragged.get_untracked().is_some() {
            dragged.set(under(&event));
        }
    };
    let up = move |_: PointerEvent| {
        if let Some(eighths) = dragged.get_untracked() {
            dragged.set(None);
            tell(eighths);
        }
    };
    let key = move |event: KeyboardEvent| {
        let handled = match event.key().as_str() {
            "ArrowUp" | "ArrowRight" => Some(1),
            "ArrowDown" | "ArrowLeft" => Some(-1),
            "End" => Some(STEPS.cast_signed()),
            "Home" => Some(-STEPS.cast_signed()),
            _ => None,
        };
        if let Some(by) = handled {
            event.prevent_default();
            step(by);
        }
    };
    let (name, id) = match side {
        Side::This => (words::THIS_SIDE, "this-side"),
        Side::Other => (words::OTHER_SIDE, "other-side"),
    };
    let picture = changing::view(move || outline.get().map(|shape| shape.picture(id, now())));
    let value =
        changing::value(move || now().map_or(0, |share| (share * f64::from(STEPS)).round() as u32));
    view! {
        <div class="face">
            <p class="face-name">{name}</p>
            <div class="face-slider" id=id node_ref=place role="slider" tabindex="0"
                aria-label=words::capped_share(name) aria-orientation="vertical"
                aria-valuemin="0" aria-valuemax=STEPS aria-valuenow=value
                aria-valuetext=move || words::share(now())
                on:pointerdown=down on:pointermove=moved on:pointerup=up
                on:pointercancel=move |_| dragged.set(None) on:keydown=key>
                {picture}
            </div>
            <p class="face-share">{move || words::share(now())}</p>
            <div class="face-steps">
                <button type="button" class="plain" aria-label=words::less(name) on:click=move |_| step(-1)>"\u{2212}"</button>
                <button type="button" class="plain" aria-label=words::more(name) on:click=move |_| step(1)>"+"</button>
            </div>
        </div>
    }
}

/// The drawn comb's true outline in a box 100 wide, and the depths that cut off each eighth of it.
#[derive(Debug, Clone, PartialEq)]
struct FaceShape {
    path: String,
    height: f64,
    /// Depth under which one eighth, two eighths .. lie above; the last is the lowest point.
    cuts: Vec<f64>,
}

/// Points along one side.
const POINTS: u32 = 64;

impl FaceShape {
    fn of(outline: &Outline) -> Self {
        let depth = outline.depth().to_mm();
        let scale = 100.0 / outline.top_width().to_mm().max(1.0);
        let half = |n: u32| {
            let down = outline.depth() * (f64::from(n) / f64::from(POINTS));
            outline.half_width_at(down).to_mm() * scale
        };
        let halves: Vec<f64> = (0..=POINTS).map(half).collect();
        let step = depth * scale / f64::from(POINTS);
        let mut above = vec![0.0];
        for two in halves.windows(2) {
            above.push(above[above.len() - 1] + f64::midpoint(two[0], two[1]) * step);
        }
        let whole = above[above.len() - 1];
        let cut = |n: u32| {
            let wanted = whole * f64::from(n) / f64::from(STEPS);
            let at = above.partition_point(|area| *area < wanted);
            at as f64 * step
        };
        let point =
            |sign: f64, n: usize| format!("{:.1} {:.1}", 50.0 + sign * halves[n], n as f64 * step);
        let right = (0..halves.len()).map(|n| point(1.0, n));
        let left = (0..halves.len()).rev().map(|n| point(-1.0, n));
        let points: Vec<String> = right.chain(left).collect();
        Self {
            path: format!("M{}Z", points.join("L")),
            height: depth * scale,
            cuts: (1..=STEPS).map(cut).collect(),
        }
    }

    /// Eighths above a height, given as a share of the picture's height; the bar on top is none.
    fn eighths_above(&self, down: f64) -> u32 {
        let whole = self.height + BAR + FOOT;
        let y = down * whole - BAR;
        if y < 0.0 {
            return 0;
        }
        let above = self.cuts.iter().filter(|cut| **cut < y).count() as u32;
        (above + 1).min(STEPS)
    }

    fn depth_of(&self, share: f64) -> f64 {
        let eighths = (share * f64::from(STEPS)).clamp(0.0, f64::from(STEPS));
        let whole = eighths.floor();
        let at = |n: f64| {
            if n < 1.0 {
                0.0
            } else {
                self.cuts[n as usize - 1]
            }
        };
        let next = at((whole + 1.0).min(f64::from(STEPS)));
        at(whole) + (next - at(whole)) * (eighths - whole)
    }

    /// The picture; what it shows stands beside it in words.
    fn picture(&self, id: &str, share: Option<f64>) -> impl IntoView + use<> {
        let clip = format!("{id}-clip");
        let url = format!("url(#{clip})");
        let view_box = format!("0 -{BAR} 100 {:.1}", self.height + BAR + FOOT);
        let capped = share.map(|share| self.depth_of(share));
        let lines = self.cuts[..self.cuts.len() - 1].iter().map(|cut| {
            let y = format!("{cut:.1}");
            view! { <line class="eighth" x1="0" x2="100" y1=y.clone() y2=y /> }
        });
        let caps = capped.map(|depth| {
            // wax drawn over: short level strokes, as in the section
            let lines = (0..)
                .map(|n| f64::from(n) * 7.0 + 4.0)
                .take_while(|y| *y < depth);
            let stroke = |(n, y): (usize, f64)| {
                let shift = if n % 2 == 0 { 0.0 } else { 8.0 };
                (0..6).map(move |at| format!("M{:.0} {y:.1}h7", f64::from(at) * 17.0 + shift))
            };
            let strokes: String = lines.enumerate().flat_map(stroke).collect();
            view! {
                <rect class="capped" x="0" y="0" width="100" height=format!("{depth:.1}") />
                <path class="caps" d=strokes />
            }
        });
        let ground = if share.is_some() { "open" } else { "unsaid" };
        view! {
            <svg viewBox=view_box aria-hidden="true" focusable="false">
                <clipPath id=clip><path d=self.path.clone() /></clipPath>
                <g clip-path=url>
                    <rect class=ground x="0" y="0" width="100" height="200" />
                    {caps}
                    {lines.collect_view()}
                </g>
                <path class="edge" d=self.path.clone() />
                <rect class="wood" x="0" y=format!("-{BAR}") width="100" height=format!("{BAR}") rx="1" />
            </svg>
        }
    }
}

/// Drawn height of the bar, and the room below, in hundredths of the comb's width.
const BAR: f64 = 7.0;
const FOOT: f64 = 2.0;

#[cfg(test)]
mod tests {
    use super::*;
    use comb::{Body, BodyMeasures, Entrance, Length, Section};

    fn shape() -> FaceShape {
        let body = Body::new(BodyMeasures {
            cavity_length_mm: Length::mm(1000.0),
            top_width_mm: Length::mm(430.0),
            bottom_width_mm: Length::mm(200.0),
            depth_mm: Length::mm(300.0),
            section: Section::Sloped,
            entrance: Entrance::LeftEnd,
            bar_width_mm: Length::mm(35.0),
        });
        FaceShape::of(&Outline::of(&body.expect("a body that can be")))
    }

    #[test]
    fn an_eighth_of_a_tapered_comb_is_higher_the_deeper_it_lies() {
        let shape = shape();
        let heights: Vec<f64> = std::iter::once(&0.0)
            .chain(&shape.cuts)
            .zip(&shape.cuts)
            .map(|(from, to)| to - from)
            .collect();
        assert_eq!(heights.len(), 8);
        assert!(heights[7] > heights[0] * 1.3, "{heights:?}");
        assert!((shape.cuts[7] - shape.height).abs() < 1.0);
    }

    #[test]
    fn where_a_finger_falls_is_the_share_above_it() {
        let shape = shape();
        assert_eq!(shape.eighths_above(0.0), 0, "the bar");
        assert_eq!(shape.eighths_above(1.0), 8);
        for n in 1..8 {
            let depth = shape.depth_of(f64::from(n) / 8.0);
            let down = (depth + BAR - 0.5) / (shape.height + BAR + FOOT);
            assert_eq!(shape.eighths_above(down), n, "just above the cut of {n}");
        }
    }
}
