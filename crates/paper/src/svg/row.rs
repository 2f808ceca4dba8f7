//! One strip of the row: body, bars, combs, boards, marks and numbers.

use comb::Length;

use super::element::Element;
use super::marks;
use super::palette::Ink;
use super::row_comb::{RowComb, draw_bar};
use super::sheet::{Anchor, Sheet, text_width};
use super::strip::{Side, Strip};
use crate::section::{Drawn, DrawnBar, HiveSection};
use crate::words;

/// Where and how large a strip is drawn, CSS px.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RowPlan {
    /// The inside of the strip's left end.
    pub(crate) x: f64,
    /// The upper edge, marks and numbers included.
    pub(crate) y: f64,
    /// CSS px in one mm, along the row and down.
    pub(crate) scale: f64,
    /// Room for marks above the numbers.
    pub(crate) with_marks: bool,
    /// Places below the floor, where numbers are not places.
    pub(crate) with_places: bool,
}

/// Drawn thickness of a bar, mm. Source: practice; a body's record does not say it.
const BAR_HEIGHT_MM: f64 = 19.0;

/// Width of an end wall in the picture.
pub(crate) fn wall_width(sheet: &Sheet<'_>) -> f64 {
    (sheet.width() / 120.0).clamp(4.0, 9.0)
}

/// Where the parts of a row stand from above.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RowHeights {
    pub(crate) mark: f64,
    pub(crate) number: f64,
    pub(crate) bar_top: f64,
    pub(crate) hang: f64,
    pub(crate) floor: f64,
    pub(crate) place: f64,
    pub(crate) end: f64,
}

impl RowPlan {
    pub(crate) fn heights(&self, sheet: &Sheet<'_>, section: &HiveSection) -> RowHeights {
        let size = sheet.text_size();
        let mark_room = if self.with_marks {
            2.0 * self.mark_radius(sheet, section) + 5.0
        } else {
            0.0
        };
        let number = self.y + mark_room + size;
        let bar_top = number + size * 0.35;
        let hang = bar_top + (BAR_HEIGHT_MM * self.scale).clamp(4.0, 18.0);
        let floor = hang + section.body.depth().to_mm() * self.scale;
        let place = floor + sheet.print() * 5.0 + size;
        RowHeights {
            mark: self.y + mark_room / 2.0,
            number,
            bar_top,
            hang,
            floor,
            place,
            end: if self.with_places {
                place + size * 0.3
            } else {
                floor + 5.0 * sheet.print()
            },
        }
    }

    pub(crate) fn mark_radius(&self, sheet: &Sheet<'_>, section: &HiveSection) -> f64 {
        let bar = section.body.bar_width().to_mm() * self.scale;
        (bar * 0.36).clamp(3.2, 9.0 * sheet.print())
    }

    fn at(&self, strip: &Strip<'_>, along: Length) -> f64 {
        self.x + (along - strip.from).to_mm() * self.scale
    }
}

/// Draws one strip; gives the height of its lower edge.
pub(crate) fn draw(
    sheet: &mut Sheet<'_>,
    section: &HiveSection,
    strip: &Strip<'_>,
    plan: RowPlan,
) -> RowHeights {
    let heights = plan.heights(sheet, section);
    draw_body(sheet, strip, plan, heights);
    let comb = RowComb::new(section, plan.scale);
    for (at, piece) in &strip.pieces {
        let x = plan.at(strip, *at);
        let width = piece.width().to_mm() * plan.scale;
        match piece {
            Drawn::Bar(bar) => {
                draw_bar_group(sheet, bar, (x, width), (&comb, plan, heights), section);
            }
            Drawn::Follower { .. } => {
                board(
                    sheet,
                    (x, width),
                    (heights.bar_top, heights.floor),
                    words::FOLLOWER,
                );
            }
            Drawn::Shim { .. } => {
                board(
                    sheet,
                    (x, width),
                    (heights.bar_top, heights.hang),
                    words::SHIM,
                );
            }
        }
    }
    draw_numbers(sheet, strip, plan, heights);
    heights
}

fn draw_body(sheet: &mut Sheet<'_>, strip: &Strip<'_>, plan: RowPlan, heights: RowHeights) {
    let (from, to) = (plan.x, plan.at(strip, strip.to));
    let wall = wall_width(sheet);
    let under = 5.0 * sheet.print().min(1.2);
    let rect = |x: f64, y: f64, w: f64, h: f64| {
        Element::new("rect")
            .num("x", x)
            .num("y", y)
            .num("width", w)
            .num("height", h)
    };
    let (wood, line) = (sheet.ink(Ink::Wood), sheet.ink(Ink::WoodLine));
    let cavity = rect(from, heights.hang, to - from, heights.floor - heights.hang);
    sheet.document.leaf(
        &cavity
            .set("fill", sheet.ink(Ink::Cavity))
            .set("data-part", "cavity"),
    );
    let (floor_from, floor_to) = (
        if strip.left == Side::GoesOn {
            from
        } else {
            from - wall
        },
        if strip.right == Side::GoesOn {
            to
        } else {
            to + wall
        },
    );
    let floor = rect(floor_from, heights.floor, floor_to - floor_from, under);
    sheet.document.leaf(
        &floor
            .set("fill", &wood)
            .set("stroke", &line)
            .num("stroke-width", 0.8),
    );
    for (side, x) in [(strip.left, from - wall), (strip.right, to)] {
        let standing = rect(x, heights.bar_top, wall, heights.floor - heights.bar_top);
        let standing = standing.set("stroke", &line).num("stroke-width", 0.8);
        match side {
            Side::Wall => sheet.document.leaf(&standing.set("fill", &wood)),
            Side::Open => {
                let open = standing.set("fill", "none").set("stroke-dasharray", "3 3");
                sheet.document.leaf(&open);
            }
            Side::GoesOn => {
                let torn = if x < from { from } else { to };
                tear(sheet, torn, heights);
            }
        }
    }
}

/// A wavy line where the hive goes on.
fn tear(sheet: &mut Sheet<'_>, x: f64, heights: RowHeights) {
    let mut points = Vec::new();
    let (from, to) = (heights.bar_top - 3.0, heights.floor + 6.0);
    let steps = (((to - from) / 7.0) as usize).max(2);
    for i in 0..=steps {
        let y = from + (to - from) * i as f64 / steps as f64;
        points.push((x + if i % 2 == 0 { -1.8 } else { 1.8 }, y));
    }
    let path = Element::new("path").set("d", super::element::open_path(&points));
    let ink = sheet.ink(Ink::Quiet);
    sheet.document.leaf(
        &path
            .set("fill", "none")
            .set("stroke", ink)
            .num("stroke-width", 1.0),
    );
}

fn board(sheet: &mut Sheet<'_>, (x, width): (f64, f64), (top, bottom): (f64, f64), name: &str) {
    let (wood, line) = (sheet.ink(Ink::Wood), sheet.ink(Ink::WoodLine));
    let group = Element::new("g").set("role", "img").set("aria-label", name);
    let group = group.set(
        "data-piece",
        if name == words::SHIM {
            "shim"
        } else {
            "follower"
        },
    );
    sheet.document.open(&group);
    sheet.document.leaf(
        &Element::new("rect")
            .num("x", x)
            .num("y", top)
            .num("width", width)
            .num("height", bottom - top)
            .set("fill", wood)
            .set("stroke", &line)
            .num("stroke-width", 0.9),
    );
    if width > 6.0 {
        // the grain, upright: a board, not a bar
        let grain = super::element::open_path(&[
            (x + width / 2.0, top + 4.0),
            (x + width / 2.0, bottom - 4.0),
        ]);
        let path = Element::new("path").set("d", grain).set("stroke", line);
        sheet
            .document
            .leaf(&path.num("stroke-width", 0.6).set("fill", "none"));
    }
    sheet.document.close();
}

fn draw_bar_group(
    sheet: &mut Sheet<'_>,
    bar: &DrawnBar,
    (x, width): (f64, f64),
    (comb, plan, heights): (&RowComb, RowPlan, RowHeights),
    section: &HiveSection,
) {
    let said = words::bar(bar, sheet.options.told_in);
    sheet.document.open(
        &Element::new("g")
            .set("role", "img")
            .set("aria-label", &said)
            .set("data-piece", "bar")
            .set("data-bar", bar.id.to_string()),
    );
    sheet.document.text(&Element::new("title"), &said);
    draw_bar(sheet, bar, (x, width), (heights.bar_top, heights.hang));
    comb.draw(sheet, bar, (x + width / 2.0, heights.hang));
    if let Some(mark) = bar.mark
        && plan.with_marks
    {
        let radius = plan.mark_radius(sheet, section).min(width * 0.46).max(2.6);
        marks::draw(sheet, mark, (x + width / 2.0, heights.mark), radius);
    }
    if sheet.options.highlight == Some(bar.id) {
        highlight(sheet, (x, width), plan, heights);
    }
    sheet.document.close();
}

fn highlight(sheet: &mut Sheet<'_>, (x, width): (f64, f64), plan: RowPlan, heights: RowHeights) {
    let ink = sheet.ink(Ink::Highlight);
    let stroke = 2.2 * sheet.print();
    let top = plan.y - 1.0;
    sheet.document.leaf(
        &Element::new("rect")
            .num("x", x - stroke / 2.0)
            .num("y", top)
            .num("width", width + stroke)
            .num("height", heights.floor - top)
            .num("rx", 3.0)
            .set("fill", "none")
            .set("stroke", ink)
            .num("stroke-width", stroke),
    );
}

/// Numbers on the bars, all where they fit, else every fifth; the highlighted one always.
fn draw_numbers(sheet: &mut Sheet<'_>, strip: &Strip<'_>, plan: RowPlan, heights: RowHeights) {
    let size = sheet.text_size();
    let narrowest = strip.bars().map(|(_, bar)| bar.width.to_mm() * plan.scale);
    let narrowest = narrowest.fold(f64::INFINITY, f64::min);
    let widest = |text: fn(&DrawnBar) -> u32| {
        let widths = strip
            .bars()
            .map(|(_, bar)| text_width(&text(bar).to_string(), 1.0));
        widths.fold(0.0, f64::max)
    };
    let hand = strip
        .bars()
        .find(|(_, bar)| sheet.options.highlight == Some(bar.id));
    let hand = hand.map(|(_, bar)| bar.place);
    for (text, y, ink, shown) in [
        (
            (|bar| bar.number) as fn(&DrawnBar) -> u32,
            heights.number,
            Ink::Text,
            true,
        ),
        (|bar| bar.place, heights.place, Ink::Quiet, plan.with_places),
    ] {
        if !shown {
            continue;
        }
        let fits = narrowest / (widest(text) + 0.25);
        let least = 9.0 * sheet.print();
        let (size, step) = if fits >= least {
            (size.min(fits), 1)
        } else {
            (size.min(11.0 * sheet.print()), 5)
        };
        for (at, bar) in strip.bars() {
            let in_hand = sheet.options.highlight == Some(bar.id);
            let beside_hand = hand.is_some_and(|hand| hand.abs_diff(bar.place) <= 2);
            let by_step = step == 1 || ((bar.place % step == 0 || bar.place == 1) && !beside_hand);
            if !(in_hand || by_step) {
                continue;
            }
            let x = plan.at(strip, at + bar.width / 2.0);
            let number = text(bar).to_string();
            if in_hand {
                sheet.strong((x, y), Anchor::Middle, size, Ink::Highlight, &number);
            } else {
                sheet.label((x, y), Anchor::Middle, size, ink, &number);
            }
        }
    }
}
