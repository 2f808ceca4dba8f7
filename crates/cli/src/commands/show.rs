//! `combwright show`: the hive drawn, or the life of one bar.

use std::io::IsTerminal;
use std::path::Path;

use health::told::Standing;
use hive::{Hive, Yard};
use jiff::ZonedDateTime;
use jiff::tz::TimeZone;
use live::marks::marks;
use paper::kind::Kind;
use paper::text::Tone;
use paper::told;
use paper::{HiveSection, PictureOptions, TextDrawing, TextOptions};

use super::Context;
use super::advise::{Choices, advice_on};
use crate::args::Show;
use crate::ended;
use crate::failure::Failure;
use crate::journal::hive_named;
use crate::out;

/// Runs the command.
pub(crate) async fn show(context: &Context, args: Show) -> Result<(), Failure> {
    let on = context.instant(args.on.as_deref())?;
    let now = context.yard().await?;
    let yard = if args.on.is_some() {
        now.as_of(on.timestamp())
    } else {
        now.clone()
    };
    let hive = hive_named(&yard, &args.hive).map_err(|failure| {
        // it may have begun after the day asked for
        match now.hive_named(&args.hive) {
            Ok(later) => Failure::input(format!(
                "{} began on {}, after the day asked for",
                later.name,
                later
                    .started
                    .to_zoned_datetime(on.time_zone().clone())
                    .date()
            )),
            Err(_) => failure,
        }
    })?;
    if let Some(number) = args.bar {
        return life(context, &yard, hive, number, &on);
    }
    let section = section(&yard, hive, &on, &Choices::usual(context))?;
    if let Some(file) = &args.svg {
        return svg(context, &section, file);
    }
    if context.json {
        return out::json(hive);
    }
    let options = TextOptions {
        ascii: args.ascii,
        told_in: context.told_in,
        ..TextOptions::default()
    };
    if let Some(ended) = ended::words(hive, on.time_zone()) {
        out::line(out::strong(&format!("{} {ended}", hive.name)));
    }
    print(&paper::text::hive(&section, options));
    if args.table {
        out::line("");
        print(&paper::text::bar_table(&section, options));
    }
    let health = Standing::of(&yard, hive, on.date(), false).lines(&yard, on.date());
    if !health.is_empty() {
        out::line("");
    }
    for (lead, words) in health {
        out::folded(&format!("{lead}: "), &words);
    }
    Ok(())
}

/// The hive's section on a day, with what advice says of each comb.
pub(crate) fn section(
    yard: &Yard,
    hive: &Hive,
    on: &ZonedDateTime,
    choices: &Choices,
) -> Result<HiveSection, Failure> {
    if !hive.is_living() {
        // nothing is to be done with its combs any more
        return Ok(HiveSection::of(hive, on.time_zone()).dated(on.date()));
    }
    let advice = advice_on(yard, hive, on, choices)?;
    Ok(HiveSection::of(hive, on.time_zone())
        .dated(on.date())
        .with_marks(marks(hive, &advice.combs)))
}

fn svg(context: &Context, section: &HiveSection, file: &Path) -> Result<(), Failure> {
    let options = PictureOptions {
        told_in: context.told_in,
        ..PictureOptions::default()
    };
    let picture = paper::svg::hive(section, &options);
    if file == Path::new("-") {
        out::line(picture.trim_end());
        return Ok(());
    }
    super::write_whole(file, picture.as_bytes())?;
    if context.json {
        return out::json(&serde_json::json!({ "file": file, "bytes": picture.len() }));
    }
    out::line(format!("Picture written to {}.", file.display()));
    Ok(())
}

/// Prints drawn text, coloured on a terminal.
pub(crate) fn print(drawing: &TextDrawing) {
    if !out::in_colour(std::io::stdout().is_terminal()) {
        for line in drawing.plain_lines() {
            out::line(line);
        }
        return;
    }
    for line in &drawing.lines {
        let coloured: String = line
            .iter()
            .map(|span| match colour(span.tone) {
                Some(code) => format!("\u{1b}[{code}m{}\u{1b}[0m", span.text),
                None => span.text.clone(),
            })
            .collect();
        out::line(coloured);
    }
}

/// SGR codes of the sixteen colours that every terminal has; glyphs carry the meaning without them.
fn colour(tone: Tone) -> Option<&'static str> {
    Some(match tone {
        Tone::Plain => return None,
        Tone::Quiet => "2",
        Tone::Wood => "33",
        Tone::Warn => "31",
        Tone::Strong | Tone::Mark(_) => "1",
        Tone::Comb(kind) => match kind {
            Kind::CappedHoney => "93",
            Kind::Unripe => "36",
            Kind::Pollen => "91",
            _ => "37",
        },
    })
}

/// The life of one bar: every look and everything that happened to it.
fn life(
    context: &Context,
    yard: &Yard,
    hive: &Hive,
    number: u32,
    on: &ZonedDateTime,
) -> Result<(), Failure> {
    let bar = hive.bar_numbered(number)?;
    if context.json {
        return out::json(bar);
    }
    out::line(out::strong(&format!(
        "{}, bar {number}: {}",
        hive.name,
        bar.lies.words()
    )));
    for event in &bar.history {
        let day = day(event.at, on.time_zone());
        let place = event
            .place
            .map_or_else(String::new, |place| format!(" (place {place})"));
        let words = told::happened(yard, event.hive, hive.id, &event.what, context.told_in);
        out::folded(&format!("  {day}  "), &format!("{words}{place}"));
    }
    Ok(())
}

fn day(at: jiff::Timestamp, zone: &TimeZone) -> String {
    at.to_zoned_datetime(zone.clone()).date().to_string()
}
