//! `combwright paper book`: the record book an inspector asks for.

use hive::Yard;
use house::Kept;
use paper::pdf::{Column, Flow, Print, Typeface};
use paper::records::{Days, Table};
use sha2::{Digest, Sha256};

use super::tables::honey_tables;
use super::{Context, all_tables, day_words, days, save};
use crate::failure::Failure;
use crate::journal::Open;
use crate::paper_args::{DaysArgs, Output};
use crate::surroundings::local_day;

/// Runs the command.
pub(super) async fn book(context: &Context, args: &DaysArgs, to: &Output) -> Result<(), Failure> {
    let open = Open::to_read(&context.folder).await?;
    let yard = open.yard().await?;
    let days = days(context, &yard, args)?;
    let mut export = Vec::new();
    let entries = open.store().export(&mut export, |_| ()).await?;
    let hash = hex(&Sha256::digest(&export));
    let face = Typeface::shipped()?;
    let title = format!("Record book, {} to {}", days.from, days.to);
    let foot = format!("{title}; journal {}", &hash[..16]);
    let mut flow = Flow::new(Print::small(to.paper.into()), foot, &face);
    flow.title(
        "Record book",
        &format!("{} to {}", day_words(days.from), day_words(days.to)),
    );
    front(&mut flow, context, &yard, (entries, &hash));
    for table in all_tables(&yard, days) {
        section(&mut flow, &table);
    }
    let kept = Kept::of(&yard, &local_day);
    for table in honey_tables(&kept.house, days) {
        section(&mut flow, &table);
    }
    faults(&mut flow, &yard, &kept);
    save(context, &flow.finish(), &title, &face, &to.out)
}

/// Who keeps what where, and how to prove it.
fn front(flow: &mut Flow<'_>, context: &Context, yard: &Yard, (entries, hash): (u64, &str)) {
    let mut keepers: Vec<&str> = yard
        .acts()
        .iter()
        .map(|act| act.entry().by.as_str())
        .collect();
    keepers.sort_unstable();
    keepers.dedup();
    flow.pair("Written down by", &keepers.join(", "));
    for apiary in yard.apiaries() {
        let hives: Vec<&str> = yard
            .living_hives()
            .into_iter()
            .filter(|hive| hive.apiary == Some(apiary.id))
            .map(|hive| hive.name.as_str())
            .collect();
        let place = apiary.place.map_or_else(String::new, |place| {
            format!(" at {:.4}, {:.4} degrees", place.latitude, place.longitude)
        });
        let words = format!(
            "{}{place}: {} hives now ({})",
            apiary.name,
            hives.len(),
            hives.join(", ")
        );
        flow.pair("Apiary", &words);
    }
    let alone: Vec<&str> = yard
        .living_hives()
        .into_iter()
        .filter(|hive| hive.apiary.is_none())
        .map(|hive| hive.name.as_str())
        .collect();
    if !alone.is_empty() {
        flow.pair("In no apiary", &alone.join(", "));
    }
    flow.pair(
        "Registration",
        "________________________  (number, where the law asks for one)",
    );
    flow.pair(
        "Printed",
        &context.now().strftime("%-d %B %Y, %H:%M %Z").to_string(),
    );
    flow.pair(
        "Journal",
        &format!(
            "{entries} entries, append-only: nothing is edited, a correction is a further entry. \
             SHA-256 of the export (combwright journal export): {}",
            spaced(hash)
        ),
    );
    flow.gap(0.4);
    flow.small(
        "Records are kept here without end; the duties that were looked up ask for three to five \
         years. Which records your law asks for, your local authority says.",
    );
}

fn section(flow: &mut Flow<'_>, table: &Table) {
    flow.heading(table.name);
    if table.rows.is_empty() {
        flow.paragraph(table.empty);
        return;
    }
    let columns: Vec<Column> = table
        .heads
        .iter()
        .map(|head| {
            if head.figures {
                Column::figures(head.name, head.share)
            } else {
                Column::words(head.name, head.share)
            }
        })
        .collect();
    let rows = table.rows.iter().map(|row| {
        row.iter()
            .map(paper::records::Cell::words)
            .collect::<Vec<_>>()
    });
    flow.table(&columns, rows);
}

fn faults(flow: &mut Flow<'_>, yard: &Yard, kept: &Kept) {
    let faults: Vec<String> = yard
        .faults()
        .filter_map(|fault| {
            let entry = yard.entry(fault.entry)?;
            Some(format!("{}: {}", entry.at.strftime("%Y-%m-%d"), fault.why))
        })
        .chain(kept.refused.iter().cloned())
        .collect();
    if faults.is_empty() {
        return;
    }
    flow.heading("Entries that could not be applied as written");
    for words in faults {
        flow.paragraph(&words);
    }
}

fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write;
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// In groups of eight, so that it can be compared by eye.
fn spaced(hash: &str) -> String {
    let groups: Vec<&str> = (0..hash.len())
        .step_by(8)
        .filter_map(|at| hash.get(at..(at + 8).min(hash.len())))
        .collect();
    groups.join(" ")
}

/// The days as they stand in a title.
pub(super) fn span_words(days: Days) -> String {
    format!("{} to {}", day_words(days.from), day_words(days.to))
}
