//! Recording a heard visit: drafts become entries, all of them or none.

use hive::entry::End;
use hive::{Hive, Known, Yard};
use jiff::{Span, ZonedDateTime};
use serde::Serialize;
use talk::record::{RecordError, Recording, Transcript, record};

use super::words;
use crate::args::{Hear, Side};
use crate::commands::Context;
use crate::commands::advise::{self, Choices, advice_on};
use crate::failure::Failure;
use crate::journal::{Open, Saying, Writer, hive_named};
use crate::out;
use crate::surroundings::fresh_id;

/// What recording a visit did.
#[derive(Debug, Serialize)]
struct Done<'a> {
    hive: &'a str,
    recorded: bool,
    entries: Vec<String>,
    doubts: Vec<String>,
    advice: advice::advise::Advice,
}

/// Records a heard visit into a hive and tells what comes of it.
pub(crate) async fn into_hive(
    context: &Context,
    args: &Hear,
    name: &str,
    transcript: &Transcript,
) -> Result<(), Failure> {
    let when = context.instant(args.on.as_deref())?;
    let end = args.end.map(|side| match side {
        Side::Left => End::Left,
        Side::Right => End::Right,
    });
    let open = if args.dry_run {
        let copy = Open::nowhere().await?;
        copy.take_all(&Open::to_read(&context.folder).await?)
            .await?;
        copy
    } else {
        Open::to_write(&context.folder).await?
    };
    let (yard, recording) =
        record_visit(&open, name, transcript, &when, end, &context.writer).await?;
    let hive = hive_named(&yard, name)?;
    let advice = advice_on(&yard, hive, &when, &Choices::default())?;
    let entries: Vec<String> = recording
        .drafts
        .iter()
        .map(|d| words::words(&yard, &d.known.clone().into()))
        .collect();
    if context.json {
        let (hive, recorded) = (hive.name.as_str(), !args.dry_run);
        return out::json(&Done {
            hive,
            recorded,
            entries,
            doubts: recording.doubts,
            advice,
        });
    }
    let verb = if args.dry_run {
        "Would record for"
    } else {
        "Recorded for"
    };
    out::line(out::strong(&format!(
        "{verb} {}, {}:",
        hive.name,
        when.date()
    )));
    for entry in &entries {
        out::folded("  ", entry);
    }
    for doubt in &recording.doubts {
        out::folded("? ", doubt);
    }
    if !args.dry_run {
        out::line(format!(
            "`combwright journal undo {}` takes the last thing back.",
            quoted(&hive.name)
        ));
    }
    out::line("");
    advise::print(&advice);
    Ok(())
}

fn quoted(name: &str) -> String {
    if name.contains(' ') {
        format!("\"{name}\"")
    } else {
        name.to_owned()
    }
}

/// Records a visit, all or nothing; gives the yard afterwards and what was recorded.
pub(crate) async fn record_visit(
    open: &Open,
    name: &str,
    transcript: &Transcript,
    when: &ZonedDateTime,
    end: Option<End>,
    writer: &Writer,
) -> Result<(Yard, Recording), Failure> {
    let yard = open.yard().await?;
    let hive = hive_named(&yard, name)?;
    let mut recording =
        record(transcript, hive, end, when.timestamp()).map_err(|why| refused(&why, hive))?;
    note_advice(hive, &mut recording);
    let visit = fresh_id();
    let sayings = recording
        .drafts
        .iter()
        .map(|draft| {
            let opens = matches!(draft.known, Known::VisitOpened { .. });
            Ok(Saying {
                hive: Some(hive.id),
                visit: Some(visit),
                // one instant a phrase, so that an undo takes back what was said in one breath
                at: before(when, recording.phrases.saturating_sub(draft.phrase + 1))?,
                id: opens.then_some(visit),
                said: draft.said.clone(),
                what: draft.known.clone(),
            })
        })
        .collect::<Result<Vec<_>, Failure>>()?;
    let yard = open.record(sayings, writer).await?;
    Ok((yard, recording))
}

/// The last phrase was said at `when`, the others in their order just before.
fn before(when: &ZonedDateTime, phrases: usize) -> Result<jiff::Timestamp, Failure> {
    let phrases = i64::try_from(phrases).unwrap_or(i64::MAX);
    Span::new()
        .try_milliseconds(phrases)
        .and_then(|span| when.timestamp().checked_sub(span))
        .map_err(|why| Failure::input(format!("the visit lies outside all calendars: {why}")))
}

/// What the rules say of each comb beside the keeper's word, by what this visit saw of it.
fn note_advice(hive: &Hive, recording: &mut Recording) {
    let rule = advice::ripe::RipeRule::with_mean(hive.ripeness);
    let seen: Vec<(hive::BarId, comb::Contents)> = recording
        .drafts
        .iter()
        .filter_map(|draft| match &draft.known {
            Known::CombSeen { bar, contents } => Some((*bar, contents.clone())),
            _ => None,
        })
        .collect();
    for draft in &mut recording.drafts {
        if let Known::Decided { bar, advised, .. } = &mut draft.known {
            let contents = seen.iter().find(|(which, _)| which == bar);
            *advised = contents.map(|(_, c)| advice::ripe::verdict(c, rule).to_string());
        }
    }
}

fn refused(why: &RecordError, hive: &Hive) -> Failure {
    let failure = Failure::input(format!("{why}; nothing was recorded"));
    match why {
        RecordError::NoSuchBar { .. } => failure.help(format!(
            "If the number was misheard, mend it in the text. `combwright show {}` draws the hive.",
            quoted(&hive.name)
        )),
        RecordError::TooManyCombs { .. } => failure.help(
            "Say the bars' numbers, or begin the hive with all its bars: `combwright yard new`.",
        ),
        RecordError::EndNotSaid { .. } => {
            failure.help("Say --end left or --end right, as you stand at the hive.")
        }
        _ => failure,
    }
}
