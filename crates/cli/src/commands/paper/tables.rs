//! `combwright paper tables`: the record for a sheet program or any other.

use std::path::Path;

use honey::lots::House;
use house::{Kept, words};
use paper::records::{Cell, Days, Head, Table};
use rust_xlsxwriter::{ExcelDateTime, Format, Workbook, XlsxError};
use serde_json::json;

use super::{Context, all_tables, days};
use crate::failure::Failure;
use crate::out;
use crate::paper_args::DaysArgs;
use crate::surroundings::local_day;

const fn head(name: &'static str, share: f64, figures: bool) -> Head {
    Head {
        name,
        share,
        figures,
    }
}

const LOTS: &[Head] = &[
    head("lot", 1.0, false),
    head("made", 1.2, false),
    head("from", 3.0, false),
    head("kg now", 0.8, true),
    head("water %", 0.8, true),
];
const JARS: &[Head] = &[
    head("filling", 1.0, false),
    head("filled", 1.2, false),
    head("lot", 1.0, false),
    head("lot mark", 1.0, false),
    head("best before", 1.2, false),
    head("g each", 0.7, true),
    head("filled jars", 0.8, true),
    head("here", 0.6, true),
    head("handed to", 2.0, false),
];

/// Lots and jars as tables.
pub(super) fn honey_tables(house: &House, days: Days) -> Vec<Table> {
    let lots = house.lots().iter().filter(|lot| days.has(lot.on));
    let lot_rows = lots.map(|lot| {
        let combs = house.combs_in_lot(&lot.lot);
        let from = combs.map_or_else(
            |_| String::new(),
            |found| {
                let combs = found
                    .combs
                    .iter()
                    .map(|comb| (comb.taken.hive.as_str(), comb.taken.bar.clone()));
                words::combs(combs)
            },
        );
        vec![
            Cell::Text(lot.lot.to_string()),
            Cell::Day(lot.on),
            Cell::Text(from),
            Cell::Figure(lot.mass().to_kg(), 2),
            lot.moisture_pct
                .map_or(Cell::Unknown, |m| Cell::Figure(m.to_tenths(), 1)),
        ]
    });
    let fills = house.fillings().iter().filter(|fill| days.has(fill.on));
    let jar_rows = fills.map(|fill| {
        let to: Vec<String> = fill
            .handed_to
            .iter()
            .map(|(to, count)| format!("{count} {to}"))
            .collect();
        vec![
            Cell::Text(fill.fill.to_string()),
            Cell::Day(fill.on),
            Cell::Text(fill.lot.to_string()),
            Cell::Text(fill.mark.clone()),
            Cell::Day(fill.best_before),
            Cell::Figure(fill.net().to_grams(), 0),
            Cell::Figure(f64::from(fill.count), 0),
            Cell::Figure(f64::from(fill.in_stock), 0),
            Cell::Text(to.join(", ")),
        ]
    });
    vec![
        Table {
            name: "Lots of honey",
            slug: "lots",
            empty: "No lot was made.",
            heads: LOTS,
            rows: lot_rows.collect(),
        },
        Table {
            name: "Jars",
            slug: "jars",
            empty: "No jar was filled.",
            heads: JARS,
            rows: jar_rows.collect(),
        },
    ]
}

/// Runs the command.
pub(super) async fn tables(context: &Context, args: &DaysArgs, file: &Path) -> Result<(), Failure> {
    let book = is_book(file)?;
    let yard = context.yard().await?;
    let days = days(context, &yard, args)?;
    let mut tables = all_tables(&yard, days);
    tables.extend(honey_tables(&Kept::of(&yard, &local_day).house, days));
    let rows: usize = tables.iter().map(|table| table.rows.len()).sum();
    if book {
        let bytes = workbook(&tables).map_err(|why| Failure::input(why.to_string()))?;
        crate::commands::write_whole(file, &bytes)?;
    } else {
        folder(&tables, file)?;
    }
    if context.json {
        return out::json(&json!({ "file": file, "tables": tables.len(), "rows": rows }));
    }
    out::folded(
        "",
        &format!(
            "{} tables with {rows} rows written to {}.",
            tables.len(),
            file.display()
        ),
    );
    Ok(())
}

/// Whether one workbook is asked for; otherwise a folder is. The ending of another kind of file is
/// neither.
fn is_book(file: &Path) -> Result<bool, Failure> {
    let ending = file.extension().and_then(|end| end.to_str()).unwrap_or("");
    if ending.eq_ignore_ascii_case("xlsx") {
        return Ok(true);
    }
    // "record.2026" may well be a folder
    let of_a_file = ending.chars().any(|c| c.is_ascii_alphabetic());
    if !of_a_file || file.is_dir() {
        return Ok(false);
    }
    Err(Failure::input(format!(
        "tables are not written as .{ending}: {}",
        file.display()
    ))
    .help("Write FILE.xlsx, or the name of a folder for CSV files: --out record"))
}

fn workbook(tables: &[Table]) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let strong = Format::new().set_bold();
    let date = Format::new().set_num_format("yyyy-mm-dd");
    for table in tables {
        let sheet = book.add_worksheet().set_name(table.slug)?;
        for (column, head) in (0_u16..).zip(table.heads) {
            sheet.write_string_with_format(0, column, head.name, &strong)?;
            sheet.set_column_width(column, (head.share * 11.0).max(8.0))?;
        }
        sheet.set_freeze_panes(1, 0)?;
        for (row, cells) in (1_u32..).zip(&table.rows) {
            for (column, cell) in (0_u16..).zip(cells) {
                match cell {
                    // as text, never as a formula
                    Cell::Text(text) => {
                        sheet.write_string(row, column, text)?;
                    }
                    Cell::Figure(value, _) => {
                        sheet.write_number(row, column, *value)?;
                    }
                    Cell::Day(day) => {
                        let [year, month, of_month] = [
                            u16::try_from(day.year()).unwrap_or(1900),
                            u16::try_from(day.month()).unwrap_or(1),
                            u16::try_from(day.day()).unwrap_or(1),
                        ];
                        let month = u8::try_from(month).unwrap_or(1);
                        let of_month = u8::try_from(of_month).unwrap_or(1);
                        let value = ExcelDateTime::from_ymd(year, month, of_month)?;
                        sheet.write_datetime_with_format(row, column, &value, &date)?;
                    }
                    Cell::Unknown => {}
                }
            }
        }
    }
    book.save_to_buffer()
}

fn folder(tables: &[Table], folder: &Path) -> Result<(), Failure> {
    let cannot = |why: std::io::Error| {
        Failure::input(format!("{} cannot be written: {why}", folder.display()))
            .help("Name a file that ends in .xlsx, or a folder for CSV files.")
    };
    std::fs::create_dir_all(folder).map_err(cannot)?;
    for table in tables {
        let mut writer = csv::Writer::from_writer(Vec::new());
        let broken = |why: csv::Error| Failure::input(why.to_string());
        let heads = table.heads.iter().map(|head| head.name);
        writer.write_record(heads).map_err(broken)?;
        for row in &table.rows {
            writer
                .write_record(row.iter().map(csv_cell))
                .map_err(broken)?;
        }
        let bytes = writer
            .into_inner()
            .map_err(|why| Failure::input(why.to_string()))?;
        let file = folder.join(format!("{}.csv", table.slug));
        crate::commands::write_whole(&file, &bytes)?;
    }
    Ok(())
}

/// A note that begins like a formula would be run by a sheet program: an apostrophe keeps it text.
fn csv_cell(cell: &Cell) -> String {
    let words = cell.words();
    match cell {
        Cell::Text(text) if text.starts_with(['=', '+', '-', '@']) => format!("'{words}"),
        _ => words,
    }
}
