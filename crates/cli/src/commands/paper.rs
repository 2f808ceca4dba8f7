//! `combwright paper`: labels, cards, the record book, tables, the calendar.

mod book;
mod card;
pub(crate) mod due;
mod feed;
mod label;
mod season;
mod tables;

use std::path::Path;

use hive::Yard;
use jiff::civil::Date;
use paper::pdf::{About, Page, PaperError, Typeface, write};
use paper::records::Days;
use serde_json::json;

use super::Context;
use crate::failure::Failure;
use crate::out;
use crate::paper_args::{DaysArgs, PaperArgs, PaperCommand};
use crate::surroundings::{local_day, zone_of};

impl From<PaperError> for Failure {
    fn from(why: PaperError) -> Self {
        Self::input(why.to_string())
    }
}

/// Runs one of the paper commands.
pub(crate) async fn paper(context: &Context, args: PaperArgs) -> Result<(), Failure> {
    match args.command {
        PaperCommand::Label(args) => label::label(context, args).await,
        PaperCommand::Card { hive, to } => card::card(context, &hive, &to).await,
        PaperCommand::Book { days, to } => book::book(context, &days, &to).await,
        PaperCommand::Season { days, to } => season::season(context, &days, &to).await,
        PaperCommand::Tables { days, out } => tables::tables(context, &days, &out).await,
        PaperCommand::Calendar { out } => due::calendar(context, &out).await,
        PaperCommand::Feed { new, off } => feed::feed(context, new, off),
        PaperCommand::Grids => grids(context),
    }
}

/// The days asked for; without a first day the journal's first.
fn days(context: &Context, yard: &Yard, args: &DaysArgs) -> Result<Days, Failure> {
    let day = |told: &Option<String>| -> Result<Option<Date>, Failure> {
        let at = told.as_deref().map(|text| context.instant(Some(text)));
        Ok(at.transpose()?.map(|at| at.date()))
    };
    let to = day(&args.to)?.unwrap_or_else(|| context.now().date());
    let first = yard
        .acts()
        .iter()
        .map(|act| local_day(act.entry().at, &act.entry().zone))
        .min();
    let from = day(&args.from)?.or(first).unwrap_or(to);
    if from > to {
        return Err(Failure::input(format!("{from} is after {to}"))
            .help("--from is the first day, --to the last."));
    }
    Ok(Days { from, to })
}

/// A day as a person reads it.
fn day_words(day: Date) -> String {
    day.strftime("%-d %B %Y").to_string()
}

/// All tables of the record, hives and honey house.
fn all_tables(yard: &Yard, days: Days) -> Vec<paper::records::Table> {
    paper::records::tables(yard, days, &zone_of)
}

/// Writes pages and says so.
fn save(
    context: &Context,
    pages: &[Page],
    title: &str,
    face: &Typeface,
    file: &Path,
) -> Result<(), Failure> {
    let bytes = write(pages, &About::titled(title), face)?;
    super::write_whole(file, &bytes)?;
    if context.json {
        return out::json(&json!({ "file": file, "pages": pages.len(), "bytes": bytes.len() }));
    }
    let pages = if pages.len() == 1 {
        "1 page".to_owned()
    } else {
        format!("{} pages", pages.len())
    };
    out::folded(
        "",
        &format!("{title}: {pages} written to {}.", file.display()),
    );
    Ok(())
}

fn grids(context: &Context) -> Result<(), Failure> {
    if context.json {
        let all: Vec<_> = paper::pdf::SHEETS
            .iter()
            .map(|(name, grid)| {
                json!({
                    "name": name,
                    "columns": grid.columns,
                    "rows": grid.rows,
                    "label_mm": grid.label,
                    "first_mm": grid.first,
                    "pitch_mm": grid.pitch,
                })
            })
            .collect();
        return out::json(&all);
    }
    out::line("name       labels  each, mm       first at       next after");
    for (name, grid) in paper::pdf::SHEETS {
        out::line(format!(
            "{name:<10} {:>2} x {:<2} {:>5.1} x {:<5.1}  {:>5.1}, {:<5.1}  {:>6.2}, {:.2}",
            grid.columns,
            grid.rows,
            grid.label.0,
            grid.label.1,
            grid.first.0,
            grid.first.1,
            grid.pitch.0,
            grid.pitch.1
        ));
    }
    out::folded("Other sheets: ", paper::pdf::grid::FORM);
    Ok(())
}
