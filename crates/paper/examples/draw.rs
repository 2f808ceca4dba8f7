//! Draws made-up hives of Wattle Bend: `cargo run -p paper --example draw -- OUT_DIR`.

use std::error::Error;
use std::path::Path;

use comb::Length;
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
    let marks = [
        (20, Mark::Ripening),
        (18, Mark::Take),
        (16, Mark::Take),
        (15, Mark::Take),
        (14, Mark::LookAgain),
        (13, Mark::Stays),
        (12, Mark::Stays),
    ];
    let iron = HiveSection::of(&ironbark().hive(), &zone)
        .dated(date(2026, 9, 12))
        .with_marks(marks.map(|(number, mark)| (bar(number), mark)));
    let bank = HiveSection::of(&banksia().hive(), &zone).dated(date(2026, 8, 20));
    let goal = closing(&zone).ok_or("the edge is in the row")?;
    let life = Life::of(&banksia().hive().bars[&bar(3)], &zone);

    let desk = PictureOptions {
        width_px: 1280,
        highlight: Some(bar(14)),
        ..PictureOptions::default()
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
    let dark = PictureOptions {
        theme: Theme::Dark,
        ..desk.clone()
    };
    let large = PictureOptions {
        large_print: true,
        ..desk.clone()
    };
    let half = PictureOptions {
        width_px: 760,
        ..desk.clone()
    };
    let page = PictureOptions {
        theme: Theme::Page,
        ..desk.clone()
    };
    let pictures = [
        ("ironbark", svg::hive(&iron, &desk)),
        ("ironbark-phone", svg::hive(&iron, &phone)),
        ("ironbark-strip", svg::hive(&iron, &strip)),
        ("ironbark-dark", svg::hive(&iron, &dark)),
        ("ironbark-large", svg::hive(&iron, &large)),
        ("ironbark-page", svg::hive(&iron, &page)),
        ("banksia", svg::hive(&bank, &desk)),
        (
            "comb-13",
            svg::comb_large(&iron, bar(13), &half).unwrap_or_default(),
        ),
        (
            "comb-18",
            svg::comb_large(&iron, bar(18), &half).unwrap_or_default(),
        ),
        (
            "comb-9-phone",
            svg::comb_large(&iron, bar(9), &phone).unwrap_or_default(),
        ),
        (
            "comb-14-dark",
            svg::comb_large(
                &iron,
                bar(14),
                &PictureOptions {
                    theme: Theme::Dark,
                    ..half.clone()
                },
            )
            .unwrap_or_default(),
        ),
        ("closing", svg::closing_goal(&goal, &half)),
        ("closing-phone", svg::closing_goal(&goal, &phone)),
        ("life", svg::life_strip(&life, &bank.body, &half)),
    ];
    for (name, picture) in pictures {
        std::fs::write(out.join(format!("{name}.svg")), picture)?;
    }
    std::fs::write(out.join("page.css"), svg::page_css())?;
    let ascii = TextOptions {
        ascii: true,
        ..TextOptions::default()
    };
    let texts = [
        ("ironbark", text::hive(&iron, TextOptions::default())),
        ("ironbark-ascii", text::hive(&iron, ascii)),
        (
            "ironbark-table",
            text::bar_table(&iron, TextOptions::default()),
        ),
        ("banksia", text::hive(&bank, TextOptions::default())),
    ];
    for (name, drawing) in texts {
        std::fs::write(out.join(format!("{name}.txt")), drawing.to_string())?;
    }
    Ok(())
}

/// Banksia's left end: 2 and 1 change places, the empty bar goes between them.
fn closing(zone: &TimeZone) -> Option<ClosingGoal> {
    let outward: Vec<Piece> = vec![
        in_row(1),
        in_row(9),
        in_row(2),
        in_row(3),
        follower(),
        shim(8.0),
    ];
    let goal = ClosingGoal::of(
        &banksia().hive(),
        End::Left,
        Some(bar(14)),
        &outward,
        &[bar(2)],
        zone,
    )?;
    debug_assert!(goal.goal.free_length() > Length::ZERO);
    Some(goal)
}
