//! Papers as files: opened by programs that are not ours.

use std::path::Path;

use calamine::{Data, Reader, Xlsx};
use sha2::{Digest, Sha256};

use crate::support::Desk;

fn text_of(pdf: &Path) -> String {
    let document = lopdf::Document::load(pdf).expect("lopdf opens it");
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    let text = document.extract_text(&pages).expect("lopdf reads its text");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn path(desk: &Desk, name: &str) -> String {
    desk.path().join(name).to_str().expect("a path").to_owned()
}

#[test]
fn the_record_book_proves_its_journal() {
    let desk = Desk::at_wattle_bend();
    let (book, export) = (path(&desk, "book.pdf"), path(&desk, "all.jsonl"));
    desk.does(&["paper", "book", "--out", &book]);
    desk.does(&["journal", "export", &export]);
    let hash = Sha256::digest(std::fs::read(&export).expect("exported"));
    let text = text_of(Path::new(&book));
    let [a, b, c, d, ..] = hash[..] else {
        panic!("a SHA-256 has 32 bytes")
    };
    let first = format!("{a:02x}{b:02x}{c:02x}{d:02x}");
    assert!(text.contains(&first), "{first} is not in the book");
    for part in [
        "Record book",
        "Visits",
        "Combs taken",
        "Mite counts",
        "Diseases and pests",
        "Treatments given",
        "Example Strips",
        "chalkbrood",
        "Feeds",
        "Hives begun, moved, split, lost",
        "Banksia",
        "Mara",
        "page 1 of",
    ] {
        assert!(text.contains(part), "{part}");
    }
    // nothing in these days: said, not left out
    desk.does(&[
        "paper",
        "book",
        "--from",
        "2001-01-01",
        "--to",
        "2001-12-31",
        "--out",
        &book,
    ]);
    assert!(text_of(Path::new(&book)).contains("No visit in these days."));
    let said = desk.refuses(
        1,
        &[
            "paper",
            "book",
            "--from",
            "2026-01-02",
            "--to",
            "2026-01-01",
            "--out",
            &book,
        ],
    );
    assert!(said.contains("is after"), "{said}");
}

#[test]
fn card_and_season_sheet_name_their_hives() {
    let desk = Desk::at_wattle_bend();
    let file = path(&desk, "card.pdf");
    desk.does(&[
        "paper", "card", "Banksia", "--out", &file, "--paper", "letter",
    ]);
    let text = text_of(Path::new(&file));
    for part in ["Banksia", "What to look for", "What to carry", "Stores"] {
        assert!(text.contains(part), "{part}");
    }
    let season = desk.json(&["paper", "season", "--out", &file]);
    assert!(season["pages"].as_u64().expect("pages") >= 1);
    let text = text_of(Path::new(&file));
    for part in ["Combs taken, by month", "Tea-tree", "What each hive gave"] {
        assert!(text.contains(part), "{part}");
    }
    let said = desk.refuses(1, &["paper", "card", "Nobody", "--out", &file]);
    assert!(said.contains("no hive Nobody"), "{said}");
    let nowhere = path(&desk, "no/such/folder/card.pdf");
    let said = desk.refuses(1, &["paper", "card", "Banksia", "--out", &nowhere]);
    assert!(said.contains("cannot be written"), "{said}");
}

#[test]
fn labels_need_what_the_region_asks_for() {
    // nobody has told there yet who sells, and where
    let desk = Desk::empty();
    let file = path(&desk, "labels.pdf");
    desk.does(&[
        "honey",
        "receive",
        "26-1",
        "--from",
        "the next valley",
        "--their-lot",
        "7",
        "--kg",
        "7kg",
        "--country",
        "Wales",
    ]);
    desk.does(&[
        "honey", "jars", "26-1", "--net", "340g", "--count", "20", "--region", "uk",
    ]);
    let label = ["paper", "label", "26-1/1", "--out", &file];
    let said = desk.refuses(1, &label);
    assert!(said.contains("where this honey is sold"), "{said}");
    desk.does(&["honey", "seller", "--region", "uk"]);
    let said = desk.refuses(1, &label);
    assert!(said.contains("name and address of the business"), "{said}");
    desk.does(&["honey", "seller", "--business", "A. Keeper, 1 Lane, Town"]);
    desk.does(&label);
    let text = text_of(Path::new(&file));
    assert_eq!(
        text.matches("L 26-1").count(),
        20,
        "one for each jar in stock"
    );
    for part in [
        "340 g",
        "Produce of Wales",
        "Best before",
        "infants under 12 months",
    ] {
        assert_eq!(text.matches(part).count(), 20, "{part}");
    }
    let said = desk.refuses(1, &[&label[..], &["--grid", "a4-65"]].concat());
    assert!(said.contains("too small for its words"), "{said}");
    let said = desk.refuses(1, &[&label[..], &["--grid", "a9-1"]].concat());
    assert!(said.contains("is no grid"), "{said}");
    desk.does(&["paper", "grids"]);
}

#[test]
fn another_program_opens_the_workbook_and_the_tables() {
    let desk = Desk::at_wattle_bend();
    desk.does(&["journal", "note", "Banksia", "=1+1 is not a formula"]);
    let (book, folder) = (path(&desk, "record.xlsx"), path(&desk, "tables"));
    desk.does(&["paper", "tables", "--out", &book]);
    desk.does(&["paper", "tables", "--out", &folder]);
    let mut read: Xlsx<_> = calamine::open_workbook(&book).expect("calamine opens it");
    let notes = read.worksheet_range("notes").expect("a sheet of notes");
    let formula = notes
        .rows()
        .flatten()
        .find(|cell| cell.to_string().contains("is not a formula"));
    assert!(matches!(formula, Some(Data::String(_))), "{formula:?}");
    let csv = std::fs::read_to_string(Path::new(&folder).join("notes.csv")).expect("written");
    assert!(csv.contains("'=1+1 is not a formula"), "{csv}");
    let visits = read.worksheet_range("visits").expect("a sheet of visits");
    assert!(
        matches!(visits.get((1, 0)), Some(Data::DateTime(_))),
        "{:?}",
        visits.get((1, 0))
    );
    let csv = std::fs::read_to_string(Path::new(&folder).join("visits.csv")).expect("written");
    assert_eq!(
        csv.lines().count(),
        visits.height(),
        "as many rows here as there"
    );
}

#[test]
fn another_program_reads_what_is_due() {
    let desk = Desk::at_wattle_bend();
    let file = path(&desk, "due.ics");
    desk.does(&["paper", "calendar", "--out", &file]);
    let text = std::fs::read_to_string(&file).expect("written");
    let unfolded = icalendar::parser::unfold(&text);
    let read = icalendar::parser::read_calendar(&unfolded).expect("it is sound");
    let value = |name: &str, at: usize| {
        let event = &read.components[at];
        let property = event.properties.iter().find(|p| p.name == name);
        property
            .map(|p| p.val.as_str().to_owned())
            .unwrap_or_default()
    };
    assert!(!read.components.is_empty());
    let mut uids: Vec<String> = (0..read.components.len())
        .map(|at| value("UID", at))
        .collect();
    assert!(uids.iter().all(|uid| uid.ends_with("@combwright")));
    uids.sort();
    uids.dedup();
    assert_eq!(
        uids.len(),
        read.components.len(),
        "every thing has a name of its own"
    );
}
