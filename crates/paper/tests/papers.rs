//! Papers, opened by programs that are not ours: a PDF reader (lopdf), a QR reader (rqrr), a
//! calendar reader (icalendar), and poppler where it is installed.
#![cfg(feature = "pdf")]

mod common;

use std::io::Write;
use std::process::{Command, Stdio};

use comb::Length;
use jiff::civil::date;
use paper::calendar::{Due, calendar};
use paper::pdf::label::{LabelLine, set, sheets};
use paper::pdf::page::Mark;
use paper::pdf::{
    About, Bars, Column, Flow, Grid, Label, Page, Paper, PaperError, Print, Printing, Role, SHEETS,
    Typeface, Weight, write,
};
use paper::{HiveSection, PictureOptions};

const PAGE: &str = "https://wattle-bend.example/jar/26-1";

fn face() -> Typeface {
    Typeface::shipped().expect("the shipped typeface")
}

fn line(role: Role, text: &str, least_mm: Option<f64>) -> LabelLine {
    LabelLine {
        role,
        text: text.to_owned(),
        least: least_mm.map(Length::mm),
    }
}

/// A label as the UK asks for it: a 340 g jar takes 4 mm figures and a small x of 1.2 mm.
/// Source: reference notes, section 10 (seen).
fn jar() -> Label {
    let small = Some(1.2);
    Label {
        lines: vec![
            line(Role::Name, "Honey", small),
            line(Role::Net, "340 g", Some(4.0)),
            line(
                Role::Particular,
                "Wattle Bend Honey, 1 Creek Road, Wattle Bend",
                small,
            ),
            line(Role::Particular, "Produce of Wales", small),
            line(Role::Particular, "L 26-1", small),
            line(Role::Particular, "Best before 25 Nov 2028", small),
            line(
                Role::Particular,
                "Do not give honey to infants under 12 months.",
                small,
            ),
        ],
        code: Some(PAGE.to_owned()),
    }
}

/// Text of every page by lopdf.
fn text_by_lopdf(pdf: &[u8]) -> String {
    let document = lopdf::Document::load_mem(pdf).expect("lopdf opens it");
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    document.extract_text(&pages).expect("lopdf reads its text")
}

/// Runs a poppler program on a PDF; `None` where poppler is not installed.
fn poppler(program: &str, args: &[&str], pdf: &[u8]) -> Option<Vec<u8>> {
    let child = Command::new(program)
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn();
    let Ok(mut child) = child else {
        eprintln!("{program} is not installed: this part is not checked");
        return None;
    };
    let mut stdin = child.stdin.take().expect("piped");
    let bytes = pdf.to_vec();
    let feeder = std::thread::spawn(move || stdin.write_all(&bytes));
    let out = child.wait_with_output().expect("it runs");
    feeder.join().expect("fed").expect("fed whole");
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    assert!(
        out.stderr.is_empty(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    Some(out.stdout)
}

/// Words in order, however the reader broke its lines.
fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn labels_pdf(count: usize) -> (Vec<Page>, Vec<u8>) {
    let grid = Grid::read("a4-14").expect("known");
    let face = face();
    let pages = sheets(&jar(), count, &Printing::on(grid), &face).expect("it fits");
    let pdf = write(&pages, &About::titled("Labels"), &face).expect("written");
    (pages, pdf)
}

#[test]
fn two_readers_find_every_word_of_a_label() {
    let (pages, pdf) = labels_pdf(15);
    assert_eq!(
        pages.len(),
        2,
        "fourteen on the first sheet, one on the next"
    );
    let mut readers = vec![("lopdf", text_by_lopdf(&pdf))];
    if let Some(out) = poppler("pdftotext", &["-", "-"], &pdf) {
        readers.push(("poppler", String::from_utf8(out).expect("UTF-8")));
    }
    for (reader, text) in readers {
        let text = words(&text);
        for part in [
            "Honey",
            "340 g",
            "Produce of Wales",
            "L 26-1",
            "Best before 25 Nov 2028",
            "1 Creek Road",
        ] {
            assert_eq!(
                text.matches(part).count(),
                15 * jar_says(part),
                "{reader}: {part}"
            );
        }
    }
}

/// How often a label says a part: the business's name has "Honey" in it too.
fn jar_says(part: &str) -> usize {
    jar()
        .lines
        .iter()
        .map(|line| line.text.matches(part).count())
        .sum()
}

#[test]
fn letters_are_as_high_as_the_rule_says_or_a_reader_would_see_it() {
    let face = face();
    for (name, grid) in SHEETS {
        let Ok(done) = set(&jar(), grid.label, 2.5, &face) else {
            assert!(
                grid.label.0 < 70.1,
                "a label of {:?} mm holds these words ({name})",
                grid.label
            );
            continue;
        };
        assert!(done.x_height >= 1.2 - 1e-9, "{name}: {}", done.x_height);
        let figures = done.figure_height.expect("a quantity");
        assert!(figures >= 4.0 - 1e-9, "{name}: {figures}");
        for mark in &done.marks {
            if let Mark::Text { text, size, .. } = mark {
                // Open Sans, OS/2 table: x-height 1096, capitals 1462 of 2048
                let (x, capitals) = (size * 1096.0 / 2048.0, size * 1462.0 / 2048.0);
                assert!(
                    x >= 1.2 - 0.01,
                    "{name}: \"{text}\" has a small x of {x} mm"
                );
                if text == "340 g" {
                    assert!(capitals >= 4.0 - 0.01, "{name}: figures of {capitals} mm");
                }
            }
        }
    }
}

#[test]
fn nothing_leaves_its_label() {
    let face = face();
    for (name, grid) in SHEETS {
        let printing = Printing {
            cut_marks: true,
            ..Printing::on(grid)
        };
        let Ok(pages) = sheets(&jar(), grid.labels(), &printing, &face) else {
            continue;
        };
        assert_eq!(pages.len(), 1, "{name}");
        assert_eq!(pages[0].runs_over(&face), None, "{name}");
        let done = set(&jar(), grid.label, printing.edge, &face).expect("set before");
        for mark in &done.marks {
            match mark {
                Mark::Text {
                    x,
                    y,
                    size,
                    weight,
                    text,
                    ..
                } => {
                    let right = x + face.width(text, *size, *weight);
                    assert!(*x >= 2.4 && right <= grid.label.0 - 2.4, "{name}: {text}");
                    assert!(*y <= grid.label.1 - 2.4, "{name}: {text}");
                }
                Mark::Cells { at, cell, runs } => {
                    let cells = runs.iter().map(|run| run.0 + run.2).max().unwrap_or(0);
                    let right = at.0 + f64::from(cells) * cell;
                    assert!(right <= grid.label.0 - 2.4, "{name}: the code");
                    assert!(*cell >= 0.33, "{name}: cells of {cell} mm");
                }
                other => panic!("{name}: {other:?}"),
            }
        }
    }
}

/// Reads the first code in a grey picture.
fn decode(width: usize, height: usize, grey: impl Fn(usize, usize) -> u8) -> Vec<String> {
    let mut picture = rqrr::PreparedImage::prepare_from_greyscale(width, height, grey);
    let grids = picture.detect_grids();
    grids
        .iter()
        .map(|grid| grid.decode().expect("it decodes").1)
        .collect()
}

#[test]
fn the_code_leads_to_the_jars_page() {
    let done = set(&jar(), (99.1, 38.1), 2.5, &face()).expect("it fits");
    let code = done.marks.iter().find_map(|mark| match mark {
        Mark::Cells { at, cell, runs } => Some((at, cell, runs)),
        _ => None,
    });
    let (_, _, runs) = code.expect("a code");
    // five pixels a cell, four cells of light all round
    let side = usize::from(runs.iter().map(|run| run.0 + run.2).max().expect("cells"));
    let mut cells = vec![false; side * side];
    for &(column, row, length) in runs {
        for at in column..column + length {
            cells[usize::from(row) * side + usize::from(at)] = true;
        }
    }
    let pixels = (side + 8) * 5;
    let read = decode(pixels, pixels, |x, y| {
        let (column, row) = ((x / 5).wrapping_sub(4), (y / 5).wrapping_sub(4));
        let dark = column < side && row < side && cells[row * side + column];
        if dark { 0 } else { 255 }
    });
    assert_eq!(read, [PAGE]);
}

#[test]
fn the_printed_code_reads_off_the_page() {
    let (_, pdf) = labels_pdf(14);
    let Some(pgm) = poppler("pdftoppm", &["-gray", "-r", "300", "-"], &pdf) else {
        return;
    };
    let (width, height, pixels) = pgm_of(&pgm);
    let read = decode(width, height, |x, y| pixels[y * width + x]);
    assert_eq!(read, vec![PAGE; 14]);
}

/// A binary PGM (netpbm): "P5", width, height, 255, then a byte a pixel.
fn pgm_of(bytes: &[u8]) -> (usize, usize, &[u8]) {
    let mut at = 0;
    let mut fields = Vec::new();
    while fields.len() < 4 {
        let end = bytes[at..]
            .iter()
            .position(u8::is_ascii_whitespace)
            .expect("a header")
            + at;
        fields.push(String::from_utf8_lossy(&bytes[at..end]).into_owned());
        at = end + 1;
    }
    assert_eq!((fields[0].as_str(), fields[3].as_str()), ("P5", "255"));
    let number = |at: usize| fields[at].parse().expect("a number");
    (number(1), number(2), &bytes[at..])
}

#[test]
fn words_that_do_not_fit_are_refused_and_say_by_how_much() {
    let face = face();
    let mut long = jar();
    long.lines[2].text = "A very long address that goes on and on ".repeat(12);
    let full = set(&long, (70.0, 37.0), 2.5, &face);
    assert!(
        matches!(full, Err(PaperError::LabelFull { needs_mm, room_mm }) if needs_mm > room_mm),
        "{full:?}"
    );
    let mut wide = jar();
    wide.lines[2].text = "W".repeat(60);
    let refused = set(&wide, (99.1, 67.7), 2.5, &face);
    assert!(
        matches!(refused, Err(PaperError::WordTooWide { .. })),
        "{refused:?}"
    );
    let mut foreign = jar();
    foreign.lines[0].text = "蜂蜜".to_owned();
    let refused = set(&foreign, (99.1, 67.7), 2.5, &face);
    assert!(
        matches!(refused, Err(PaperError::NoLetter { letter: '蜂', .. })),
        "{refused:?}"
    );
    let mut dense = jar();
    dense.code = Some(format!(
        "https://wattle-bend.example/{}",
        "long/".repeat(90)
    ));
    let refused = set(&dense, (70.0, 37.0), 2.5, &face);
    assert!(
        matches!(refused, Err(PaperError::CodeTooDense { .. })),
        "{refused:?}"
    );
    let printing = Printing {
        start: 25,
        ..Printing::on(Grid::read("a4-24").expect("known"))
    };
    let refused = sheets(&jar(), 1, &printing, &face);
    assert!(
        matches!(
            refused,
            Err(PaperError::Start {
                labels: 24,
                start: 25
            })
        ),
        "{refused:?}"
    );
}

/// A book of many rows: every row is there once, on a page, under its head.
#[test]
fn a_long_table_is_whole_and_says_its_head_on_every_page() {
    let face = face();
    let mut flow = Flow::new(Print::small(Paper::A4), "foot", &face);
    flow.title("Record book", "ten years");
    flow.heading("Visits");
    let columns = [
        Column::words("day", 1.0),
        Column::words("what was seen", 3.0),
        Column::figures("combs", 0.6),
    ];
    let long = "a comb bent at its foot and fast to the wall on the left ".repeat(3);
    let rows: Vec<Vec<String>> = (1..=400)
        .map(|n| vec![format!("row-{n:03}"), long.clone(), n.to_string()])
        .collect();
    flow.table(&columns, &rows);
    let pages = flow.finish();
    assert!(pages.len() > 10);
    for page in &pages {
        assert_eq!(page.runs_over(&face), None);
        assert!(page.texts().any(|text| text == "what was seen"));
    }
    let all: Vec<&str> = pages.iter().flat_map(Page::texts).collect();
    for n in 1..=400 {
        let name = format!("row-{n:03}");
        assert_eq!(
            all.iter().filter(|text| **text == name).count(),
            1,
            "{name}"
        );
    }
    let pdf = write(&pages, &About::titled("Record book"), &face).expect("written");
    let opened = lopdf::Document::load_mem(&pdf).expect("lopdf opens it");
    assert_eq!(opened.get_pages().len(), pages.len());
    if let Some(info) = poppler("pdfinfo", &["-"], &pdf) {
        let info = String::from_utf8(info).expect("UTF-8");
        assert!(info.contains("Record book"), "{info}");
        assert!(info.contains("A4"), "{info}");
    }
}

/// Names are as long as the keeper likes: nothing of the title or the foot runs off the page or over its neighbour.
#[test]
fn a_long_name_stays_on_the_page() {
    let face = face();
    let name =
        "the hive by the old apple tree behind the second shed of the lower orchard ".repeat(2);
    let foot = format!("{name}, card of 28 November 2026");
    let mut flow = Flow::new(Print::large(Paper::A4), foot, &face);
    flow.title(
        &name,
        "Home yard of the lower orchard by the creek, 28 November 2026",
    );
    flow.paragraph("text");
    let pages = flow.finish();
    assert_eq!(pages[0].runs_over(&face), None);
    let texts: Vec<&str> = pages[0].texts().collect();
    let title: Vec<&str> = texts
        .iter()
        .copied()
        .take_while(|t| !t.contains("Home yard"))
        .collect();
    assert_eq!(title.join(" "), name.trim());
    let foot = texts
        .iter()
        .find(|text| text.contains('\u{2026}'))
        .expect("a shortened foot");
    assert!(
        foot.starts_with("the hive by") && foot.ends_with("28 November 2026"),
        "{foot}"
    );
}

#[test]
fn a_row_higher_than_a_page_goes_on_over_pages() {
    let face = face();
    let mut flow = Flow::new(Print::large(Paper::A4), "foot", &face);
    let endless = "word ".repeat(6000);
    flow.table(&[Column::words("note", 1.0)], [[endless.as_str()]]);
    let pages = flow.finish();
    let words: usize = pages
        .iter()
        .flat_map(Page::texts)
        .map(|text| text.matches("word").count())
        .sum();
    assert_eq!(words, 6000);
    assert!(pages.iter().all(|page| page.runs_over(&face).is_none()));
}

#[test]
fn every_picture_of_a_hive_goes_onto_paper() {
    let face = face();
    for (name, section) in sections() {
        let mut flow = Flow::new(Print::large(Paper::LETTER), "foot", &face);
        flow.title(name, "");
        let svg = paper::svg::hive(&section, &PictureOptions::default());
        flow.picture(svg, 120.0).expect(name);
        flow.bars(
            &Bars {
                unit: "combs".to_owned(),
                bars: vec![("Jan".to_owned(), 0.0), ("Feb".to_owned(), 7.0)],
                decimals: 0,
            },
            40.0,
        );
        let pdf = write(&flow.finish(), &About::titled(name), &face).expect(name);
        assert!(text_by_lopdf(&pdf).contains("combs"), "{name}");
        if let Some(pgm) = poppler("pdftoppm", &["-gray", "-r", "50", "-"], &pdf) {
            let (_, _, pixels) = pgm_of(&pgm);
            // in grey the picture still has its lights and darks
            let dark = pixels.iter().filter(|p| **p < 90).count();
            let middle = pixels.iter().filter(|p| (90..230).contains(*p)).count();
            assert!(
                dark > 200 && middle > 1000,
                "{name}: {dark} dark, {middle} grey"
            );
        }
    }
}

#[test]
fn the_same_pages_give_the_same_bytes() {
    assert_eq!(labels_pdf(24).1, labels_pdf(24).1);
}

#[test]
fn the_typeface_measures_as_its_tables_say() {
    let face = face();
    // hmtx of Open Sans: every figure 1171 of 2048 units (read with fontTools)
    let eight = face.width("00000000", 2048.0, Weight::Regular);
    assert!((eight - 8.0 * 1171.0).abs() < 1.0, "{eight}");
    assert!((face.x_height(2048.0) - 1096.0).abs() < 1.0);
    assert!((face.figure_height(2048.0) - 1462.0).abs() < 1.0);
}

fn due(n: u32, summary: &str, description: &str) -> Due {
    Due {
        uid: format!("wash-{n}@combwright"),
        day: date(2026, 12, 31),
        summary: summary.to_owned(),
        description: description.to_owned(),
        location: Some("Wattle Bend, by the creek".to_owned()),
    }
}

/// RFC 5545 by the icalendar crate: folded, escaped, and read back as it was given.
#[test]
fn another_program_reads_the_calendar() {
    let long =
        "Bring water; two pails, a knife\\cloth and — naïve as it sounds — patience. ".repeat(4);
    let long = long.trim_end();
    let things = [
        due(1, "Banksia: come back, for honey; gently", long),
        due(2, "Ironbark", ""),
    ];
    let stamp = "2026-11-25T09:00:00Z".parse().expect("an instant");
    let text = calendar("Combwright", &things, stamp);
    for line in text.split("\r\n") {
        assert!(line.len() <= 75, "{} octets: {line}", line.len());
        assert!(!line.contains('\n'));
    }
    let unfolded = icalendar::parser::unfold(&text);
    let read = icalendar::parser::read_calendar(&unfolded).expect("it is sound");
    assert_eq!(read.components.len(), 2);
    let value = |event: &icalendar::parser::Component<'_>, name: &str| {
        let property = event.properties.iter().find(|p| p.name == name);
        property
            .map(|p| p.val.as_str().to_owned())
            .unwrap_or_default()
    };
    let unescaped = |text: String| {
        text.replace("\\n", "\n")
            .replace("\\,", ",")
            .replace("\\;", ";")
            .replace("\\\\", "\\")
    };
    let first = &read.components[0];
    assert_eq!(unescaped(value(first, "SUMMARY")), things[0].summary);
    assert_eq!(unescaped(value(first, "DESCRIPTION")), long);
    assert_eq!(value(first, "UID"), "wash-1@combwright");
    assert_eq!(value(first, "DTSTART"), "20261231");
    assert_eq!(value(first, "DTEND"), "20270101");
    assert_eq!(value(first, "DTSTAMP"), "20261125T090000Z");
    assert_eq!(first.components.len(), 1, "an alarm");
}

fn sections() -> Vec<(&'static str, HiveSection)> {
    [
        ("ironbark", common::ironbark()),
        ("banksia", common::banksia()),
    ]
    .into_iter()
    .map(|(name, teller)| {
        (
            name,
            HiveSection::of(&teller.hive(), &jiff::tz::TimeZone::UTC),
        )
    })
    .collect()
}
