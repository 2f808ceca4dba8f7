//! The hive's long section as a picture.

use super::PictureOptions;
use super::element::{Element, closed_path};
use super::legend;
use super::palette::Ink;
use super::pattern;
use super::row::{self, RowPlan, wall_width};
use super::row_comb::{SMALL, tile};
use super::sheet::{Anchor, SERIF, Sheet, text_width};
use super::strip::{Side, Strip};
use crate::section::HiveSection;
use crate::{Kind, text, words};

/// The hive's section, to scale along the row and down: bars in their places, each comb as a section
/// through its midrib with the true depth and taper, its left half what its left-facing side holds.
///
/// Groups carry `data-piece` (`bar`, `follower`, `shim`) and bars `data-bar`, their identity, so
/// that a page can tell what was tapped.
pub fn hive(section: &HiveSection, options: &PictureOptions) -> String {
    let mut sheet = Sheet::new(options);
    let whole = Strip::whole(section);
    let (strips, scale) = strips(&sheet, section, whole);
    let pattern_size = tile(&sheet, section, scale);
    pattern::define(&mut sheet, SMALL, pattern_size, &Kind::ALL);
    let mut y = heading(&mut sheet, section);
    let plan = RowPlan {
        x: sheet.margin() + wall_width(&sheet),
        y,
        scale,
        with_marks: section.bars().any(|bar| bar.mark.is_some()),
        with_places: section.numbers_differ_from_places(),
    };
    for strip in &strips {
        let plan = RowPlan { y, ..plan };
        let heights = row::draw(&mut sheet, section, strip, plan);
        y = below(
            &mut sheet,
            section,
            (strip, plan),
            heights.floor,
            heights.end,
        );
        y += sheet.text_size() * 0.6;
    }
    if options.with_legend {
        let longest = strips.iter().map(|strip| strip.length().to_mm());
        let right = plan.x + longest.fold(0.0, f64::max) * scale;
        y = footer(&mut sheet, section, (scale, right), y);
    }
    let height = y + sheet.margin() * 0.6;
    let picture = sheet.take_document();
    let title = title(section);
    sheet.framed(
        height,
        &title,
        &words::description(section, options.told_in),
        picture,
    )
}

pub(crate) fn title(section: &HiveSection) -> String {
    let name = words::name(section);
    let day = section.date.map(|day| format!(", {}", words::date(day)));
    format!("{name}{}", day.unwrap_or_default())
}

/// A nursery body of five bars is not drawn larger than this, CSS px in one mm.
const LARGEST_SCALE: f64 = 1.3;

/// As few strips as keep bars as wide as asked, and the scale that makes the longest one fit.
fn strips<'a>(sheet: &Sheet<'_>, section: &HiveSection, whole: Strip<'a>) -> (Vec<Strip<'a>>, f64) {
    let room = sheet.width() - 2.0 * (sheet.margin() + wall_width(sheet));
    let bar = section.body.bar_width();
    let least = f64::from(sheet.options.least_bar_px);
    let most = whole.pieces.len().clamp(1, 6);
    let wanted = (1..=most).find(|n| {
        let scale = room / (whole.length().to_mm() / *n as f64);
        bar.to_mm() * scale >= least
    });
    let strips = whole.broken(wanted.unwrap_or(most));
    let longest = strips.iter().map(|strip| strip.length().to_mm());
    let scale = room / longest.fold(1.0, f64::max);
    (strips, scale.min(LARGEST_SCALE * sheet.print()))
}

/// Name and day; gives the height below.
pub(crate) fn heading(sheet: &mut Sheet<'_>, section: &HiveSection) -> f64 {
    let margin = sheet.margin();
    if !sheet.options.with_heading {
        return margin * 0.5;
    }
    let size = sheet.text_size();
    let large = size * 1.75;
    let room = sheet.width() - 2.0 * margin;
    let letters = (room / (large * super::sheet::LETTER)) as usize;
    let name = text::cut(&words::name(section), letters.max(6));
    let mut y = margin * 0.5 + large;
    let label = sheet.label_element((margin, y), Anchor::Start, large, Ink::Text);
    sheet.document.text(&label.set("font-family", SERIF), &name);
    let beside = words::subtitle(section);
    let after = margin + text_width(&name, large) + size;
    if after + text_width(&beside, size) <= sheet.width() - margin {
        sheet.label(
            (sheet.width() - margin, y),
            Anchor::End,
            size,
            Ink::Quiet,
            &beside,
        );
    } else {
        y = sheet.paragraph((margin, y + size * 0.2), room, size, Ink::Quiet, &beside);
    }
    y + size * 0.9
}

/// The entrance and words at opened ends, under the floor.
fn below(
    sheet: &mut Sheet<'_>,
    section: &HiveSection,
    (strip, plan): (&Strip<'_>, RowPlan),
    floor: f64,
    end: f64,
) -> f64 {
    let size = sheet.text_size() * 0.9;
    let y = end + size * 1.1;
    let mut lowest = end;
    let at = section.body.entrance_from_left();
    let right = plan.x + strip.length().to_mm() * plan.scale;
    if at >= strip.from && (at < strip.to || (at <= strip.to && strip.right != Side::GoesOn)) {
        let x = plan.x + (at - strip.from).to_mm() * plan.scale;
        // places stand between the floor and the mark
        let base = if plan.with_places {
            end
        } else {
            floor + 5.0 * sheet.print().min(1.2)
        };
        let arrow = [
            (x, base + 1.0),
            (x - 4.5, base + 8.0),
            (x + 4.5, base + 8.0),
        ];
        let ink = sheet.ink(Ink::Text);
        sheet.document.leaf(
            &Element::new("path")
                .set("d", closed_path(&arrow))
                .set("fill", ink),
        );
        let half = text_width(words::ENTRANCE, size) / 2.0;
        let x = x.clamp(plan.x + half, (right - half).max(plan.x + half));
        let y = y.max(base + 8.0 + size);
        sheet.label((x, y), Anchor::Middle, size, Ink::Quiet, words::ENTRANCE);
        lowest = lowest.max(y + size * 0.3);
    }
    for (side, x, anchor) in [
        (strip.left, plan.x - wall_width(sheet), Anchor::Start),
        (strip.right, right + wall_width(sheet), Anchor::End),
    ] {
        if side == Side::Open {
            let y = y.max(floor + 13.0 + size);
            sheet.label((x, y), anchor, size, Ink::Quiet, words::OPEN);
            lowest = lowest.max(y + size * 0.3);
        }
    }
    lowest
}

/// Scale, legend, what does not fit and what is not known.
fn footer(sheet: &mut Sheet<'_>, section: &HiveSection, (scale, right): (f64, f64), y: f64) -> f64 {
    let (margin, size) = (sheet.margin(), sheet.text_size());
    legend::scale_bar(sheet, (right, y + size * 0.2), scale);
    let mut y = legend::draw(sheet, &[section], y + size * 0.4);
    let remarks = [
        words::not_looked_at(section),
        words::gap(section.free_length(), sheet.options.told_in),
    ];
    let room = sheet.width() - 2.0 * margin;
    for remark in remarks.into_iter().flatten() {
        y = sheet.paragraph((margin, y), room, size, Ink::Quiet, &remark);
    }
    y + size * 0.5
}
