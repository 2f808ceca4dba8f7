//! The record book has a place, filled, for every field that the duties on health ask for.
//!
//! `tests/reference/record-duties.csv` holds the duties as they were compiled, each with the place
//! where it holds, its instrument, source and status. Each field is matched to a column below; a
//! word of the duty that is matched to none fails.

mod common;

use csv::ReaderBuilder;
use hive::pen::{Stamp, Subject};
use hive::sign::{Certainty, Report, Sign};
use hive::treatment::{Disposal, LabelPeriod, Purchase, Treatment, TreatmentEnd};
use hive::{EntryId, Known, Yard};
use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use paper::records::{Cell, Days, Table, tables};
use serde_json::Map;
use uuid::Uuid;

const DUTIES: &str = include_str!("reference/record-duties.csv");

/// The duty's field, as it begins; its parts, each with the table and the column that hold it.
type Matched = (
    &'static str,
    &'static [(&'static str, &'static str, &'static str)],
);

const MATCHED: &[Matched] = &[
    (
        "medicine bought:",
        &[
            ("product", "medicines", "product"),
            ("batch", "medicines", "batch"),
            ("date", "medicines", "bought"),
            ("quantity", "medicines", "quantity"),
            ("withdrawal period", "medicines", "label on honey"),
            (
                "supplier name and address",
                "medicines",
                "supplier and address",
            ),
            ("proof of purchase", "medicines", "proof"),
        ],
    ),
    (
        "medicine used:",
        &[
            ("product", "treatments", "product"),
            ("date", "treatments", "given"),
            ("quantity", "treatments", "quantity"),
            ("withdrawal period", "withholding", "label on honey"),
            ("animals treated", "treatments", "hive"),
        ],
    ),
    (
        "medicine disposed of:",
        &[
            ("date", "disposals", "day"),
            ("quantity", "disposals", "quantity"),
            ("how and where", "disposals", "how and where"),
        ],
    ),
    (
        "first use date,",
        &[
            ("first use date", "treatments", "given"),
            ("product", "treatments", "product"),
            ("quantity", "treatments", "quantity"),
            ("supplier", "treatments", "supplier, prescriber"),
            ("animals treated", "treatments", "hive"),
            ("prescriber", "treatments", "supplier, prescriber"),
            (
                "withdrawal period (even zero)",
                "withholding",
                "label on honey",
            ),
            ("duration", "withholding", "came out"),
        ],
    ),
    (
        "inspection dates and observations,",
        &[
            ("inspection dates and observations", "visits", "day"),
            // not held in a column of its own: the combs' table tells what was seen on each
            ("hive strength", "", ""),
            ("pests found", "diseases", "disease or pest"),
            ("detection method", "diseases", "seen, how looked for"),
        ],
    ),
    (
        "actions taken against pests and diseases",
        &[(
            "actions taken against pests and diseases",
            "treatments",
            "how, against what",
        )],
    ),
    (
        "honey tests for AFB:",
        &[
            ("sampling method", "diseases", "seen, how looked for"),
            ("dates", "diseases", "day"),
            ("body", "diseases", "seen, how looked for"),
            ("result", "diseases", "how sure"),
        ],
    ),
    (
        "varroa presence notice:",
        &[
            ("place", "diseases", "hive"),
            ("date", "diseases", "reported"),
        ],
    ),
];

fn told() -> Vec<Table> {
    let mut teller = common::ironbark();
    let given = teller.tell(Known::TreatmentBegun(Treatment {
        active: Some("amitraz".into()),
        batch: Some("B-17".into()),
        quantity: Some("2 strips".into()),
        how: Some("hung between the brood combs".into()),
        against: Some("varroa".into()),
        planned_removal: Some(date(2026, 12, 24)),
        withholding: Some(LabelPeriod::HoneyOnIsLost { days: 14 }),
        supplier: Some("A. Seller, 1 High Street, Anytown".into()),
        prescriber: Some("B. Vet".into()),
        ..Treatment::new(date(2026, 11, 12), "Acme Strips")
    }));
    teller.tell(Known::TreatmentEnded(TreatmentEnd {
        treatment: given,
        on: date(2026, 12, 24),
        left: Some("both strips".into()),
        more: Map::new(),
    }));
    let sign = teller.tell(Known::SignSeen(Sign {
        method: Some("ropiness test by the keeper".into()),
        ..Sign::new(
            date(2026, 11, 12),
            "American foulbrood",
            Certainty::Suspected,
        )
    }));
    teller.tell(Known::SignReported(Report {
        sign,
        on: date(2026, 11, 12),
        to: "the bee inspector".into(),
        answer: Some("case 4711".into()),
        more: Map::new(),
    }));
    let mut entries = teller.entries;
    let last = entries.last().expect("some").clone();
    let mut pen = hive::Pen::new(last.device, last.seq + 1, "keeper", "+10:00");
    let mut of_yard = |n: u128, what: Known| {
        let stamp = Stamp::now(EntryId(Uuid::from_u128(90_000 + n)), last.at);
        entries.push(pen.write(stamp, Subject::YARD, what.into()));
    };
    of_yard(
        1,
        Known::MedicineBought(Purchase {
            on: date(2026, 11, 10),
            product: "Acme Strips".into(),
            active: Some("amitraz".into()),
            batch: Some("B-17".into()),
            quantity: Some("10 strips".into()),
            withholding: Some(LabelPeriod::HoneyOnIsLost { days: 14 }),
            supplier: Some("A. Seller, 1 High Street, Anytown".into()),
            expires: Some(date(2028, 6, 30)),
            proof: Some("invoice 12".into()),
            more: Map::new(),
        }),
    );
    of_yard(
        2,
        Known::MedicineDisposed(Disposal {
            on: date(2027, 2, 1),
            product: "Acme Strips".into(),
            batch: Some("B-17".into()),
            quantity: Some("8 strips".into()),
            how: "taken back to the seller".into(),
            more: Map::new(),
        }),
    );
    let yard = Yard::fold(entries);
    assert_eq!(yard.faults().count(), 0);
    tables(&yard, whole(), &|_| TimeZone::UTC)
}

fn whole() -> Days {
    Days {
        from: Date::constant(2020, 1, 1),
        to: Date::constant(2030, 1, 1),
    }
}

fn table<'a>(tables: &'a [Table], slug: &str) -> &'a Table {
    tables.iter().find(|table| table.slug == slug).expect(slug)
}

#[test]
fn every_part_of_every_duty_on_health_has_a_filled_column() {
    let tables = told();
    let mut reader = ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(DUTIES.as_bytes());
    let fields: Vec<String> = reader
        .records()
        .map(|row| row.expect("a row").get(0).expect("a field").to_owned())
        .collect();
    for (begins, parts) in MATCHED {
        let field = fields.iter().find(|field| field.starts_with(begins));
        let mut rest = field.expect(begins).clone();
        for (part, slug, column) in *parts {
            assert!(rest.contains(part), "{begins} does not ask for {part}");
            rest = rest.replacen(part, "", 1);
            if slug.is_empty() {
                continue;
            }
            let table = table(&tables, slug);
            let at = table.heads.iter().position(|head| head.name == *column);
            let at = at.unwrap_or_else(|| panic!("{slug} has no column {column}"));
            let row = table.rows.last().expect(slug);
            assert_ne!(row[at], Cell::Unknown, "{slug}, {column}");
        }
        let subject = begins.strip_suffix(':').unwrap_or_default();
        let rest = rest.replacen(subject, "", 1);
        let left: String = rest.chars().filter(|c| c.is_alphanumeric()).collect();
        assert_eq!(left, "", "{begins} asks for more");
    }
}

#[test]
fn a_treatment_that_lasts_into_the_days_is_among_them() {
    let tables = |from, to| {
        let mut teller = common::ironbark();
        teller.tell(Known::TreatmentBegun(Treatment::new(
            date(2026, 11, 12),
            "Acme Strips",
        )));
        let yard = Yard::fold(teller.entries);
        paper::records::tables(&yard, Days { from, to }, &|_| TimeZone::UTC)
    };
    let rows = |from, to| table(&tables(from, to), "treatments").rows.len();
    assert_eq!(rows(date(2026, 11, 1), date(2026, 11, 11)), 0);
    assert_eq!(rows(date(2026, 11, 12), date(2026, 11, 12)), 1);
    // nobody said that it ended
    assert_eq!(rows(date(2027, 5, 1), date(2027, 6, 1)), 1);
}

#[test]
fn a_label_not_copied_in_is_told_as_unknown_never_as_none() {
    assert_ne!(
        health::told::label_period(None),
        health::told::label_period(Some(LabelPeriod::Nil))
    );
    assert!(health::told::label_period(None).contains("not known"));
}
