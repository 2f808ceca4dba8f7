//! How long papers take: `cargo run --release -p paper --features pdf --example papers_speed`.
//!
//! Prints the best of several runs, warm, of a sheet of 24 labels and of a record book of ten years
//! (a hundred visits a year, ten combs seen at each). A figure to write down, never a test.

#![expect(clippy::print_stdout, reason = "it reports to whoever runs it")]

#[path = "../tests/common/mod.rs"]
mod common;

use std::time::{Duration, Instant};

use common::Teller;
use hive::Yard;
use hive::entry::{End, Hanging};
use jiff::civil::date;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use paper::PictureOptions;
use paper::pdf::label::{LabelLine, sheets};
use paper::pdf::{About, Column, Flow, Grid, Label, Paper, Print, Printing, Role, Typeface, write};
use paper::records::{Cell, Days, tables};

fn main() -> Result<(), paper::pdf::PaperError> {
    let labels = best(20, labels)?;
    report("sheet of 24 labels", labels);
    let yard = ten_years();
    let (time, pages) = best(5, || book(&yard))?;
    report("ten-year record book", (time, pages));
    let per_page = time / u32::try_from(pages).unwrap_or(1);
    println!("{:<28} {per_page:>10.2?} a page", "");
    report("hive card", best(20, card)?);
    Ok(())
}

type Timed = Result<(Duration, usize), paper::pdf::PaperError>;

fn best(runs: u32, mut work: impl FnMut() -> Timed) -> Timed {
    let mut fastest = work()?;
    for _ in 1..runs {
        fastest = fastest.min(work()?);
    }
    Ok(fastest)
}

fn report(what: &str, (time, pages): (Duration, usize)) {
    println!("{what:<28} {time:>10.2?}, {pages} pages");
}

fn labels() -> Timed {
    let line = |role, text: &str| LabelLine {
        role,
        text: text.to_owned(),
        least: Some(comb::Length::mm(1.2)),
    };
    let label = Label {
        lines: vec![
            line(Role::Name, "Honey"),
            line(Role::Net, "340 g"),
            line(Role::Particular, "Wattle Bend Honey, 1 Creek Road"),
            line(Role::Particular, "Produce of Australia"),
            line(Role::Particular, "L 26-1"),
            line(Role::Particular, "Best before 25 Nov 2028"),
            line(
                Role::Particular,
                "Do not give honey to infants under 12 months.",
            ),
        ],
        code: Some("https://wattle-bend.example/jar/26-1".to_owned()),
    };
    let start = Instant::now();
    let face = Typeface::shipped()?;
    let pages = sheets(&label, 24, &Printing::on(Grid::read("a4-24")?), &face)?;
    let bytes = write(&pages, &About::titled("Labels"), &face)?;
    assert!(bytes.len() > 1000);
    Ok((start.elapsed(), pages.len()))
}

fn ten_years() -> Yard {
    let mut teller = Teller::new("Banksia", comb::Body::default());
    for number in 1..=30 {
        teller.add(number, Hanging::Comb);
    }
    teller.arrange((1..=30).map(common::in_row).collect());
    let mut day: Timestamp = "2026-07-02T00:00:00Z".parse().expect("an instant");
    for visit in 0..1000_u32 {
        teller.on(&day.to_string()).open(End::Right);
        for comb in 0..10 {
            let number = (visit * 7 + comb) % 30 + 1;
            let share = f64::from((visit + comb) % 11) * 10.0;
            teller.see(
                number,
                common::comb(common::capped(share), common::capped(100.0 - share)),
            );
        }
        teller.close();
        day += SignedDuration::from_hours(87);
    }
    Yard::fold(teller.entries)
}

fn book(yard: &Yard) -> Timed {
    let days = Days {
        from: date(2026, 1, 1),
        to: date(2040, 1, 1),
    };
    let start = Instant::now();
    let face = Typeface::shipped()?;
    let mut flow = Flow::new(Print::small(Paper::A4), "Record book", &face);
    for table in tables(yard, days, &|_| TimeZone::UTC) {
        flow.heading(table.name);
        let columns: Vec<Column> = table
            .heads
            .iter()
            .map(|head| Column::words(head.name, head.share))
            .collect();
        let rows = table.rows.iter();
        flow.table(
            &columns,
            rows.map(|row| row.iter().map(Cell::words).collect::<Vec<_>>()),
        );
    }
    let pages = flow.finish();
    let bytes = write(&pages, &About::titled("Record book"), &face)?;
    assert!(bytes.len() > 1000);
    Ok((start.elapsed(), pages.len()))
}

fn card() -> Timed {
    let hive = common::ironbark().hive();
    let start = Instant::now();
    let face = Typeface::shipped()?;
    let section = paper::HiveSection::of(&hive, &TimeZone::UTC);
    let mut flow = Flow::new(Print::large(Paper::A4), "card", &face);
    flow.picture(
        paper::svg::hive(&section, &PictureOptions::default()),
        110.0,
    )?;
    let pages = flow.finish();
    write(&pages, &About::titled("card"), &face)?;
    Ok((start.elapsed(), pages.len()))
}
