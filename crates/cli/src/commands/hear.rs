//! `combwright hear`: spoken notes understood, and recorded.

mod again;
mod another_hive;
mod record;
mod words;

pub(crate) use record::{Heard, Until, record_visit};

use comb::ToldIn;
use talk::record::Transcript;
use talk::{Summary, Visit};

use super::Context;
use crate::args::Hear;
use crate::failure::Failure;
use crate::out;

/// Runs the command.
pub(crate) async fn hear(context: &Context, args: Hear) -> Result<(), Failure> {
    let text = super::text_of(&args.file)?;
    if text.trim().is_empty() {
        return Err(Failure::input(format!("{} is empty", args.file.display()))
            .help("Give text with one line per pause of speech."));
    }
    let transcript = Transcript::of(&text);
    if args.summary {
        return out::json(&Summary::from(transcript.visit()));
    }
    match &args.into {
        Some(hive) => record::into_hive(context, &args, hive, (&text, &transcript)).await,
        None => tell(context, &transcript),
    }
}

/// Prints what was understood, recording nothing.
fn tell(context: &Context, transcript: &Transcript) -> Result<(), Failure> {
    let visit = transcript.visit();
    if context.json {
        return out::json(&Summary::from(visit));
    }
    if transcript.is_empty() {
        out::line("Nothing about a hive was understood in these words.");
        return Ok(());
    }
    for line in heard_lines(visit, context.told_in) {
        out::folded(&line.0, &line.1);
    }
    for note in transcript.notes() {
        out::folded("Note: ", note);
    }
    out::line("");
    out::line("Nothing is recorded; --into HIVE records it.");
    Ok(())
}

fn heard_lines(visit: &Visit, told_in: ToldIn) -> Vec<(String, String)> {
    let mut lines = Vec::new();
    let mut before = None;
    for (index, comb) in visit.combs.iter().enumerate() {
        if before != Some(comb.end) {
            let end = visit.ends.get(comb.end).copied().flatten();
            let named = match end {
                Some(talk::act::End::Left) => "Left end",
                Some(talk::act::End::Right) => "Right end",
                None => "An end not named",
            };
            lines.push((String::new(), named.to_owned()));
            before = Some(comb.end);
        }
        let name = comb
            .bar
            .map_or_else(|| format!("comb {}", index + 1), |bar| format!("bar {bar}"));
        lines.push((format!("  {name:<8} "), words::comb_words(comb, told_in)));
    }
    lines.extend(
        words::visit_words(visit, told_in)
            .into_iter()
            .map(|words| (String::new(), words)),
    );
    lines
}
