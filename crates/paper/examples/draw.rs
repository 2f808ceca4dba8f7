//! Draws made-up hives of Wattle Bend: `cargo run -p paper --example draw -- OUT_DIR`.

use std::error::Error;
use std::path::Path;

use hive::entry::{End, Piece};
use jiff::civil::date;
use jiff::tz::{Offset, TimeZone};
use paper::{ClosingGoal, HiveSection, Life, Mark, PictureOptions, TextOptions, Theme, svg, text};

#[path = "../tests/common/mod.rs"]
mod common;
use common::{banksia, bar, follower, in_row, ironbark, shim};

fn main() -> Result<(), Box<dyn Error>> {
    let out = std::env::args().nth(1).ok_or("say where: -- OUT_DIR")?;
    let out = Path::new(&out);
    std::fs::create_dir_all(out)?;
    let zone = TimeZone::fixed(Offset::constant(10));
    let iron = marked_ironbark(&zone);
    let bank = HiveSection::of(&banksia().hive(), &zone).dated(date(2026, 8, 20));
    let mut pictures = of_hives(&iron, &bank);
    pictures.extend(of_combs(&iron));
    let goal = closing(&zone).ok_or("bar 14 is in the row")?;
    let life = Life::of(&banksia().hive().bars[&bar(3)], &zone);
    pictures.extend([
        ("closing", svg::closing_goal(&goal, &wide(760))),
        ("closing-phone", svg::closing_goal(&goal, &wide(390))),
        ("life", svg::life_strip(&life, &bank.body, &wide(760))),
    ]);
    for (name, picture) in pictures {
        std::fs::write(out.join(format!("{name}.svg")), picture)?;
    }
    std::fs::write(out.join("page.css"), svg::page_css())?;
    for (name, drawing) in in_text(&iron, &bank) {
        std::fs::write(out.join(format!("{name}.txt")), drawing.to_string())?;
    }
    Ok(())
}

fn marked_ironbark(zone: &TimeZone) -> HiveSection {
    let marks = [
        (20, Mark::Ripening),
        (18, Mark::Take),
        (16, Mark::Take),
        (15, Mark::Take),
        (14, Mark::LookAgain),
        (13, Mark::Stays),
        (12, Mark::Stays),
    ];
    HiveSection::of(&ironbark().hive(), zone)
        .dated(date(2026, 9, 12))
        .with_marks(marks.map(|(number, mark)| (bar(number), mark)))
}

fn wide(width_px: u32) -> PictureOptions {
    PictureOptions {
        width_px,
        ..PictureOptions::default()
    }
}

fn of_hives(iron: &HiveSection, bank: &HiveSection) -> Vec<(&'static str, String)> {
    let desk = PictureOptions {
        highlight: Some(bar(14)),
        ..wide(1280)
    };
    let phone = PictureOptions {
        width_px: 390,
        ..desk.clone()
    };
    let strip = PictureOptions {
        least_bar_px: 0,
        with_legend: false,
        with_heading: false,
        ..phone.clone()
    };
    let themed = |theme| PictureOptions {
        theme,
        ..desk.clone()
    };
    let large = PictureOptions {
        large_print: true,
        ..desk.clone()
    };
    vec![
        ("ironbark", svg::hive(iron, &desk)),
        ("ironbark-phone", svg::hive(iron, &phone)),
        ("ironbark-strip", svg::hive(iron, &strip)),
        ("ironbark-dark", svg::hive(iron, &themed(Theme::Dark))),
        ("ironbark-page", svg::hive(iron, &themed(Theme::Page))),
        ("ironbark-large", svg::hive(iron, &large)),
        ("banksia", svg::hive(bank, &wide(1280))),
    ]
}

fn of_combs(iron: &HiveSection) -> Vec<(&'static str, String)> {
    let dark = PictureOptions {
        theme: Theme::Dark,
        ..wide(760)
    };
    let combs = [
        ("comb-6", 6, wide(760)),
        ("comb-9-phone", 9, wide(390)),
        ("comb-13", 13, wide(760)),
        ("comb-14-dark", 14, dark),
        ("comb-17", 17, wide(760)),
        ("comb-18", 18, wide(760)),
        ("comb-20", 20, wide(760)),
    ];
    combs
        .into_iter()
        .filter_map(|(name, number, options)| {
            Some((name, svg::comb_large(iron, bar(number), &options)?))
        })
        .collect()
}

/// Banksia's left end: bar 2 goes out beyond the empty bar 9.
fn closing(zone: &TimeZone) -> Option<ClosingGoal> {
    let mut outward: Vec<Piece> = [1, 9, 2, 3].map(in_row).to_vec();
    outward.push(follower());
    outward.extend((15..=24).rev().map(in_row));
    outward.push(shim(8.0));
    let hive = banksia().hive();
    ClosingGoal::of(&hive, End::Left, Some(bar(14)), &outward, &[bar(2)], zone)
}

fn in_text(iron: &HiveSection, bank: &HiveSection) -> [(&'static str, paper::TextDrawing); 5] {
    let ascii = TextOptions {
        ascii: true,
        ..TextOptions::default()
    };
    let narrow = TextOptions {
        columns: 44,
        ..TextOptions::default()
    };
    [
        ("ironbark", text::hive(iron, TextOptions::default())),
        ("ironbark-ascii", text::hive(iron, ascii)),
        ("ironbark-narrow", text::hive(iron, narrow)),
        (
            "ironbark-table",
            text::bar_table(iron, TextOptions::default()),
        ),
        ("banksia", text::hive(bank, TextOptions::default())),
    ]
}
