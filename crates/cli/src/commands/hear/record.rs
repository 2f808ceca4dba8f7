//! Recording a heard visit: drafts become entries, all of them or none.

use hive::entry::End;
use hive::numbers::ranges;
use hive::{Hive, HiveId, Known, Yard};
use jiff::{Span, ZonedDateTime};
use live::advised::{note_advice, to_the_split};
use live::bare::doubt_comb_on_bare_bars;
use paper::told;
use serde::Serialize;
use talk::record::{RecordError, Recording, Transcript, record};

use crate::args::{Hear, Side};
use crate::commands::Context;
use crate::commands::advise::{self, Choices, advice_on};
use crate::ended::living_named;
use crate::failure::Failure;
use crate::journal::{Desk, Open, Saying, Writer};
use crate::out::{self, quoted};
use crate::surroundings::fresh_id;

use super::again::recorded_already;
use super::another_hive::named_instead;

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
    (text, transcript): (&str, &Transcript),
) -> Result<(), Failure> {
    let when = not_to_come(context, args.on.as_deref())?;
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
    let (yard, (id, recording)) = open
        .write(|desk| {
            let living = |name| living_named(desk.yard(), name, when.timestamp(), when.time_zone());
            let into = living(name)?;
            let hive = into.id;
            let split_to = match &args.split_to {
                Some(name) => Some(living(name)?.id),
                None => None,
            };
            let heard = Heard {
                transcript,
                when: &when,
                end,
                split_to,
                until: Until::Closed,
            };
            let mistakes = mistakes(desk.yard(), into, text, &heard);
            if let (false, Some(mistake)) = (args.dry_run || args.anyway, mistakes.first()) {
                return Err(mistake.refused());
            }
            let mut recording = record_visit(desk, hive, &heard, &context.writer)?;
            let mistakes = mistakes.into_iter().map(|mistake| mistake.doubt);
            recording.doubts.splice(0..0, mistakes);
            Ok((hive, recording))
        })
        .await?;
    let hive = yard
        .hive(id)
        .ok_or_else(|| Failure::input("the hive is gone"))?;
    let advice = advice_on(&yard, hive, &when, &Choices::usual(context))?;
    let entries: Vec<String> = recording
        .drafts
        .iter()
        .map(|d| told::what(&yard, &d.known.clone().into(), context.manner()))
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
    advise::print(&advice, advise::standing(hive), context.told_in);
    Ok(())
}

/// When the visit was; what is still to come cannot be recorded.
fn not_to_come(context: &Context, on: Option<&str>) -> Result<ZonedDateTime, Failure> {
    let (when, now) = (context.instant(on)?, context.now());
    if when.timestamp() > now.timestamp() {
        let told = format!("a visit on {} is still to come", when.date());
        return Err(Failure::input(format!("{told}; today is {}", now.date()))
            .help("Leave --on away for a visit of now, or name a day that has been."));
    }
    Ok(when)
}

/// A slip of the command line that would put a visit where it does not belong: refused, or told as a doubt
/// where nothing is recorded or where the keeper wants it anyway.
struct Mistake {
    what: String,
    help: String,
    doubt: String,
}

impl Mistake {
    fn refused(&self) -> Failure {
        Failure::input(format!("{}; nothing was recorded", self.what)).help(self.help.clone())
    }
}

fn mistakes(yard: &Yard, into: &Hive, text: &str, heard: &Heard<'_>) -> Vec<Mistake> {
    let mut mistakes = Vec::new();
    if let Some(other) = named_instead(text, yard, into.id) {
        let what = format!("the words begin with {}, not {}", other.name, into.name);
        mistakes.push(Mistake {
            help: format!(
                "--into {} records them for {}; --anyway records them for {} nevertheless.",
                quoted(&other.name),
                other.name,
                into.name
            ),
            doubt: format!("{what}: is this the right hive?"),
            what,
        });
    }
    let recording = record(heard.transcript, into, heard.end, heard.when.timestamp());
    let before = recording
        .ok()
        .and_then(|recording| recorded_already(&recording, yard, into, heard.when));
    if let Some(before) = before {
        let what = format!(
            "the same words were recorded for {} already, on {}",
            into.name,
            before.strftime("%Y-%m-%d at %H:%M")
        );
        mistakes.push(Mistake {
            help: format!(
                "`combwright journal list {}` shows what stands; --anyway records them once more.",
                quoted(&into.name)
            ),
            doubt: format!("{what}: are they told twice?"),
            what,
        });
    }
    mistakes
}

/// A visit to be recorded.
pub(crate) struct Heard<'a> {
    /// What was said.
    pub(crate) transcript: &'a Transcript,
    /// When the last phrase was said.
    pub(crate) when: &'a ZonedDateTime,
    /// The end that was opened, where it was not said.
    pub(crate) end: Option<End>,
    /// The hive to which combs "for the split" go.
    pub(crate) split_to: Option<HiveId>,
    /// Whether the keeper is still at the hive.
    pub(crate) until: Until,
}

/// How far a visit has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Until {
    /// The hive is open, more will be said.
    Now,
    /// The last word was said.
    Closed,
}

/// Lays a visit to a hive on the desk; gives what was understood.
pub(crate) fn record_visit(
    desk: &mut Desk,
    hive: HiveId,
    heard: &Heard<'_>,
    writer: &Writer,
) -> Result<Recording, Failure> {
    let hive = desk
        .yard()
        .hive(hive)
        .ok_or_else(|| Failure::input("the hive is gone"))?;
    let Heard { when, .. } = heard;
    not_before_the_last(hive, when)?;
    let recorded = record(heard.transcript, hive, heard.end, when.timestamp());
    let mut recording = recorded.map_err(|why| refused(&why, hive, heard.transcript.visit()))?;
    if heard.until == Until::Now {
        let closes = |known: &Known| matches!(known, Known::VisitClosed {});
        recording.drafts.retain(|draft| !closes(&draft.known));
    }
    note_advice(hive, &mut recording);
    doubt_comb_on_bare_bars(hive, when.timestamp(), &mut recording);
    if let Some(to) = heard.split_to {
        to_the_split(&mut recording, to);
    }
    let (hive, visit) = (hive.id, fresh_id());
    for draft in &recording.drafts {
        let opens = matches!(draft.known, Known::VisitOpened { .. });
        let saying = Saying {
            hive: Some(hive),
            visit: Some(visit),
            // one instant a phrase, so that an undo takes back what was said in one breath
            at: before(when, recording.phrases.saturating_sub(draft.phrase + 1))?,
            id: opens.then_some(visit),
            said: draft.said.clone(),
            what: draft.known.clone(),
        };
        desk.say(saying, writer)?;
    }
    Ok(recording)
}

/// Visits are told in the order in which they were; the days are said as the keeper counts them.
fn not_before_the_last(hive: &Hive, when: &ZonedDateTime) -> Result<(), Failure> {
    let day = |at: jiff::Timestamp| at.to_zoned_datetime(when.time_zone().clone()).date();
    let early = |what: String, at| {
        Failure::input(format!(
            "a visit on {} is before {what} on {}; nothing was recorded",
            when.date(),
            day(at)
        ))
    };
    if when.timestamp() < hive.started {
        return Err(early(format!("{} began", hive.name), hive.started));
    }
    match hive.last_visit() {
        Some(last) if when.timestamp() < last.opened => {
            let failure = early(format!("the last visit to {}", hive.name), last.opened);
            Err(failure.help(
                "Tell visits in their order. `combwright journal note` adds what was forgotten.",
            ))
        }
        _ => Ok(()),
    }
}

/// The last phrase was said at `when`, the others in their order just before.
fn before(when: &ZonedDateTime, phrases: usize) -> Result<jiff::Timestamp, Failure> {
    let phrases = i64::try_from(phrases).unwrap_or(i64::MAX);
    Span::new()
        .try_milliseconds(phrases)
        .and_then(|span| when.timestamp().checked_sub(span))
        .map_err(|why| Failure::input(format!("the visit lies outside all calendars: {why}")))
}

fn refused(why: &RecordError, hive: &Hive, visit: &talk::Visit) -> Failure {
    // a number that no bar bears says better what is wrong than an end that it could not tell
    let mut said = visit.combs.iter().filter_map(|comb| comb.bar);
    let strange = said.find(|number| hive.bar_numbered(*number).is_err());
    if let (RecordError::EndNotSaid { .. }, Some(number)) = (why, strange) {
        let why = RecordError::NoSuchBar {
            number,
            hive: hive.name.clone(),
            have: ranges(&hive.numbers()),
        };
        return refused(&why, hive, visit);
    }
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
