//! The record's tables: what happened in the days asked for, once, with who wrote it down.

mod common;

use common::{bar, capped, comb, ironbark};
use hive::entry::{End, Hanging};
use hive::{Known, Yard};
use jiff::civil::date;
use jiff::tz::{Offset, TimeZone};
use paper::records::{Cell, Days, Table, tables};

fn zone(name: &str) -> TimeZone {
    assert_eq!(name, "+10:00", "the zone in which the entry was written");
    TimeZone::fixed(Offset::constant(10))
}

fn told(days: Days) -> Vec<Table> {
    let mut teller = common::Teller::new("Banksia", comb::Body::default());
    teller.add(14, Hanging::Comb).add(15, Hanging::Comb);
    teller.arrange(vec![common::in_row(14), common::in_row(15)]);
    // 23:30 on the 13th in UTC is the 14th where the keeper stands
    teller.on("2026-11-13T23:30:00Z").open(End::Right);
    teller.see(14, comb(capped(100.0), capped(90.0)));
    teller.cut(14);
    teller.tell(Known::MiteWash {
        mites: 3,
        bees: 300,
    });
    teller.close();
    teller.on("2026-11-20T01:00:00Z").open(End::Right);
    teller.see(15, comb(capped(0.0), capped(10.0)));
    teller.close();
    tables(&Yard::fold(teller.entries), days, &zone)
}

fn table<'a>(tables: &'a [Table], slug: &str) -> &'a Table {
    tables.iter().find(|table| table.slug == slug).expect(slug)
}

#[test]
fn a_day_is_counted_where_the_keeper_stood() {
    let first = told(Days {
        from: date(2026, 11, 14),
        to: date(2026, 11, 14),
    });
    let harvest = &table(&first, "harvest").rows;
    assert_eq!(harvest.len(), 1);
    assert_eq!(harvest[0][0], Cell::Day(date(2026, 11, 14)));
    assert_eq!(harvest[0][1], Cell::Text("Banksia".to_owned()));
    assert_eq!(harvest[0][2].words(), "14");
    assert_eq!(harvest[0][5], Cell::Text("keeper".to_owned()));
    assert_eq!(table(&first, "visits").rows.len(), 1);
    assert_eq!(table(&first, "combs").rows.len(), 1);
    // 3 in 300 is 1.0 in a hundred
    assert_eq!(table(&first, "mites").rows[0][5].words(), "1.0");
}

#[test]
fn days_outside_are_left_out() {
    let none = told(Days {
        from: date(2026, 11, 15),
        to: date(2026, 11, 19),
    });
    assert!(none.iter().all(|table| table.rows.is_empty()), "{none:?}");
}

#[test]
fn every_row_has_a_cell_for_every_head() {
    let yard = Yard::fold(ironbark().entries);
    let days = Days {
        from: date(2020, 1, 1),
        to: date(2030, 1, 1),
    };
    for table in tables(&yard, days, &zone) {
        for row in &table.rows {
            assert_eq!(row.len(), table.heads.len(), "{}", table.name);
        }
    }
    let _ = bar(1);
}
