//! What the patterns and signs mean, only those that occur; the scale; what is not known.

use std::collections::BTreeSet;

use comb::{Length, ToldIn};
use hive::entry::Hanging;

use super::element::{Element, closed_path, number, open_path};
use super::marks;
use super::palette::Ink;
use super::pattern;
use super::row_comb::{SMALL, kinds};
use super::sheet::{Anchor, Sheet, text_width};
use crate::section::{Drawn, DrawnBar, HiveSection};
use crate::{Kind, Mark, words};

/// One entry of a legend.
#[derive(Debug, Clone, Copy)]
enum Entry {
    Halves,
    Kind(Kind),
    UnsureEdge,
    Strip,
    NoComb,
    Follower,
    Shim,
    Attached,
    Crossed,
    Mark(Mark),
}

/// Draws the legend of these hives from `y` down; gives its lower edge.
pub(crate) fn draw(sheet: &mut Sheet<'_>, sections: &[&HiveSection], y: f64) -> f64 {
    let entries = entries(sections);
    let size = sheet.text_size();
    let (left, right) = (sheet.margin(), sheet.width() - sheet.margin());
    let row = size * 1.75;
    let (mut x, mut y) = (left, y + row * 0.75);
    for entry in entries {
        let text = text_of(entry);
        let wide = size * 2.3 + text_width(text, size);
        if x > left && x + wide > right {
            (x, y) = (left, y + row);
        }
        swatch(sheet, entry, (x, y), size);
        let room = right - left - size * 2.0;
        if text_width(text, size) > room {
            // a phone is narrower than the longest words
            let top = y + size * 0.34 - size * 1.35;
            let end = sheet.paragraph((x + size * 2.0, top), room, size, Ink::Text, text);
            (x, y) = (right, end - size * 0.34);
            continue;
        }
        sheet.label(
            (x + size * 2.0, y + size * 0.34),
            Anchor::Start,
            size,
            Ink::Text,
            text,
        );
        x += wide + size * 0.9;
    }
    y + row * 0.5
}

/// Only what occurs.
fn entries(sections: &[&HiveSection]) -> Vec<Entry> {
    let bars: Vec<&DrawnBar> = sections.iter().flat_map(|section| section.bars()).collect();
    let mut entries = Vec::new();
    let faces: Vec<_> = bars
        .iter()
        .filter_map(|bar| bar.faces())
        .flatten()
        .collect();
    if !faces.is_empty() {
        entries.push(Entry::Halves);
    }
    let all: BTreeSet<Kind> = sections.iter().flat_map(|section| kinds(section)).collect();
    entries.extend(all.into_iter().map(Entry::Kind));
    if faces
        .iter()
        .any(|face| face.bands.len() > 1 && face.bands.iter().any(|b| !b.judged))
    {
        entries.push(Entry::UnsureEdge);
    }
    for (hanging, entry) in [
        (Hanging::Strip, Entry::Strip),
        (Hanging::Nothing, Entry::NoComb),
    ] {
        if bars.iter().any(|bar| bar.hanging == hanging) {
            entries.push(entry);
        }
    }
    let has = |test: fn(&Drawn) -> bool| {
        let mut pieces = sections.iter().flat_map(|section| &section.pieces);
        pieces.any(test)
    };
    if has(|piece| matches!(piece, Drawn::Follower { .. })) {
        entries.push(Entry::Follower);
    }
    if has(|piece| matches!(piece, Drawn::Shim { .. })) {
        entries.push(Entry::Shim);
    }
    if bars.iter().any(|bar| bar.is_attached()) {
        entries.push(Entry::Attached);
    }
    if bars.iter().any(|bar| bar.is_crossed()) {
        entries.push(Entry::Crossed);
    }
    let marked: BTreeSet<Mark> = bars.iter().filter_map(|bar| bar.mark).collect();
    entries.extend(marked.into_iter().map(Entry::Mark));
    entries
}

const fn text_of(entry: Entry) -> &'static str {
    match entry {
        Entry::Halves => words::HALVES,
        Entry::Kind(kind) => words::kind(kind),
        Entry::UnsureEdge => words::UNSURE_EDGE,
        Entry::Strip => words::STRIP,
        Entry::NoComb => words::NOTHING,
        Entry::Follower => words::FOLLOWER,
        Entry::Shim => words::SHIM,
        Entry::Attached => words::ATTACHED,
        Entry::Crossed => words::CROSSED,
        Entry::Mark(mark) => words::mark(mark),
    }
}

fn swatch(sheet: &mut Sheet<'_>, entry: Entry, (x, y): (f64, f64), size: f64) {
    let (w, h) = (size * 1.6, size * 1.15);
    let line = sheet.ink(Ink::Line);
    let rect = Element::new("rect").num("x", x).num("y", y - h / 2.0);
    let rect = rect
        .num("width", w)
        .num("height", h)
        .set("stroke", &line)
        .num("stroke-width", 0.9);
    let middle = (x + w / 2.0, y);
    match entry {
        Entry::Kind(kind) => sheet
            .document
            .leaf(&rect.set("fill", pattern::fill(sheet, SMALL, kind))),
        Entry::Halves => halves(sheet, middle, size),
        Entry::UnsureEdge => {
            let edge = Element::new("path").set("d", open_path(&[(x, y), (x + w, y)]));
            let edge = edge.set("stroke", line).num("stroke-width", 1.2);
            sheet.document.leaf(&edge.set("stroke-dasharray", "3 2.4"));
        }
        Entry::Strip | Entry::NoComb => {
            let rect = Element::new("rect")
                .num("x", x)
                .num("y", y - h / 2.0)
                .num("width", w);
            let rect = rect
                .num("height", h * 0.5)
                .set("fill", sheet.ink(Ink::WoodLight));
            let rect = rect
                .set("stroke", sheet.ink(Ink::WoodLine))
                .num("stroke-width", 0.9);
            sheet.document.leaf(&rect);
            if matches!(entry, Entry::Strip) {
                let points = [
                    (x + w * 0.12, y),
                    (x + w * 0.88, y),
                    (x + w * 0.75, y + h * 0.4),
                    (x + w * 0.5, y + h * 0.25),
                    (x + w * 0.3, y + h * 0.45),
                ];
                let path = Element::new("path").set("d", closed_path(&points));
                let path = path.set("fill", pattern::fill(sheet, SMALL, Kind::Empty));
                sheet
                    .document
                    .leaf(&path.set("stroke", line).num("stroke-width", 0.9));
            }
        }
        Entry::Follower | Entry::Shim => {
            let (wide, high) = match entry {
                Entry::Follower => (w * 0.36, h * 1.2),
                _ => (w * 0.16, h * 0.5),
            };
            let rect = Element::new("rect")
                .num("x", x + (w - wide) / 2.0)
                .num("y", y - high / 2.0);
            let rect = rect
                .num("width", wide)
                .num("height", high)
                .set("fill", sheet.ink(Ink::Wood));
            let rect = rect
                .set("stroke", sheet.ink(Ink::WoodLine))
                .num("stroke-width", 0.9);
            sheet.document.leaf(&rect);
        }
        Entry::Attached => {
            let wedge = [
                (x + w * 0.35, y - h * 0.4),
                (x + w * 0.7, y),
                (x + w * 0.35, y + h * 0.4),
            ];
            sheet.document.leaf(
                &Element::new("path")
                    .set("d", closed_path(&wedge))
                    .set("fill", line),
            );
        }
        Entry::Crossed => {
            let stroke = [(x + w * 0.3, y - h * 0.5), (x + w * 0.7, y + h * 0.5)];
            let path = Element::new("path")
                .set("d", open_path(&stroke))
                .set("stroke", line);
            sheet
                .document
                .leaf(&path.num("stroke-width", 2.2).set("stroke-linecap", "round"));
        }
        Entry::Mark(mark) => marks::draw(sheet, mark, middle, size * 0.52),
    }
}

/// A small comb, its left half dark: which half is which side.
fn halves(sheet: &mut Sheet<'_>, (x, y): (f64, f64), size: f64) {
    let (w, h) = (size * 0.55, size * 0.65);
    let (ink, paper) = (sheet.ink(Ink::Quiet), sheet.ink(Ink::Paper));
    for (sign, fill) in [(-1.0, &ink), (1.0, &paper)] {
        let path = format!(
            "M{x} {t}L{o} {t}L{i} {m}Q{i} {b} {x} {b}Z",
            x = number(x),
            t = number(y - h),
            o = number(x + sign * w),
            i = number(x + sign * w * 0.6),
            m = number(y + h * 0.4),
            b = number(y + h)
        );
        let path = Element::new("path").set("d", path).set("fill", fill);
        sheet
            .document
            .leaf(&path.set("stroke", &ink).num("stroke-width", 0.9));
    }
}

/// A bar of a round length, its right end at `x`.
pub(crate) fn scale_bar(sheet: &mut Sheet<'_>, (x, y): (f64, f64), scale: f64) {
    let told_in = sheet.options.told_in;
    let length = match told_in {
        ToldIn::Metric => Length::mm(100.0),
        ToldIn::Us => Length::inches(4.0),
    };
    let long = length.to_mm() * scale;
    let size = sheet.text_size() * 0.85;
    let path = [
        (x - long, y - 3.0),
        (x - long, y + 3.0),
        (x - long, y),
        (x, y),
        (x, y - 3.0),
        (x, y + 3.0),
    ];
    let path = Element::new("path")
        .set("d", open_path(&path))
        .set("fill", "none");
    let ink = sheet.ink(Ink::Quiet);
    sheet
        .document
        .leaf(&path.set("stroke", ink).num("stroke-width", 1.0));
    sheet.label(
        (x - long - 5.0, y + size * 0.34),
        Anchor::End,
        size,
        Ink::Quiet,
        &told_in.length_words(length),
    );
}
