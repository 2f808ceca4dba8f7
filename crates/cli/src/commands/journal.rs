//! `combwright journal`: the record itself.

use std::io::{IsTerminal, Write};
use std::path::{Path, PathBuf};

use hive::undo::Scope;
use hive::yard::Standing;
use hive::{Entry, Known, What, Yard};
use serde_json::json;
use store::{Joined, Progress};

use super::Context;
use super::taking_back::{self, Way};
use crate::args::{JournalArgs, JournalCommand};
use crate::failure::Failure;
use crate::journal::{Open, Saying, file_in, hive_named};
use crate::out;

/// Runs one of the journal's commands.
pub(crate) async fn journal(context: &Context, args: JournalArgs) -> Result<(), Failure> {
    match args.command {
        JournalCommand::List { hive, last } => list(context, hive.as_deref(), last).await,
        JournalCommand::Undo { hive, count } => undo(context, &hive, count, Way::Undo).await,
        JournalCommand::Redo { hive, count } => undo(context, &hive, count, Way::Redo).await,
        JournalCommand::Correct { entry, what } => correct(context, &entry, &what).await,
        JournalCommand::Note { hive, text } => note(context, &hive, text).await,
        JournalCommand::Export { file, rescue } => export(context, &file, rescue).await,
        JournalCommand::Import { file } => import(context, &file).await,
        JournalCommand::Verify => verify(context).await,
        JournalCommand::Merge { other } => merge(context, other).await,
    }
}

async fn list(context: &Context, hive: Option<&str>, last: usize) -> Result<(), Failure> {
    let yard = context.yard().await?;
    let wanted = hive
        .map(|name| hive_named(&yard, name).map(|h| h.id))
        .transpose()?;
    let entries: Vec<&Entry> = yard
        .acts()
        .iter()
        .map(hive::yard::Act::entry)
        .chain(
            yard.journal()
                .map(AsRef::as_ref)
                .filter(|e| changes_another(e)),
        )
        .filter(|entry| wanted.is_none() || entry.hive == wanted)
        .collect();
    let mut entries = entries;
    entries.sort_by_key(|entry| (entry.recorded, entry.device, entry.seq));
    entries.dedup_by_key(|entry| entry.id);
    let entries = &entries[entries.len().saturating_sub(last)..];
    if context.json {
        return out::json(&entries);
    }
    if entries.is_empty() {
        out::line("Nothing is recorded yet.");
        return Ok(());
    }
    let mut before: Option<&Entry> = None;
    for entry in entries {
        // words that gave several entries are printed once
        let again = before.is_some_and(|b| b.said == entry.said && b.visit == entry.visit);
        tell(context, &yard, entry, again);
        before = Some(entry);
    }
    Ok(())
}

fn changes_another(entry: &Entry) -> bool {
    matches!(
        entry.what.known(),
        Some(Known::Undone { .. } | Known::Corrected { .. })
    )
}

fn tell(context: &Context, yard: &Yard, entry: &Entry, again: bool) {
    let id = entry.id.to_string();
    let short = &id[id.len() - 6..];
    let zone = jiff::tz::TimeZone::get(&entry.zone).unwrap_or(jiff::tz::TimeZone::UTC);
    let at = entry
        .at
        .to_zoned_datetime(zone)
        .strftime("%Y-%m-%d %H:%M")
        .to_string();
    let hive = entry
        .hive
        .and_then(|id| yard.hive(id))
        .map_or_else(|| "the yard".to_owned(), |hive| hive.name.clone());
    let standing = match yard.standing(entry.id) {
        Some(Standing::Undone) => " (taken back)",
        Some(Standing::Corrected) => " (corrected)",
        _ => "",
    };
    let said = entry
        .said
        .as_ref()
        .filter(|_| !again)
        .map(|s| format!(", said: \"{s}\""))
        .unwrap_or_default();
    let words = format!("{hive}: {}{standing}{said}", describe(context, yard, entry));
    out::folded(&format!("{short}  {at}  "), &words);
}

/// One entry in a few words.
fn describe(context: &Context, yard: &Yard, entry: &Entry) -> String {
    paper::told::what(yard, &entry.what, context.manner())
}

async fn undo(context: &Context, hive: &str, count: usize, way: Way) -> Result<(), Failure> {
    let yard = context.yard().await?;
    let hive = hive_named(&yard, hive)?;
    let (_, told) = taking_back::take_back(context, Scope::Hive(hive.id), count, way).await?;
    if context.json {
        return out::json(&json!({ "hive": hive.name, "entries": told }));
    }
    taking_back::tell(way, &told);
    Ok(())
}

async fn correct(context: &Context, entry: &str, what: &str) -> Result<(), Failure> {
    let open = Open::to_write(&context.folder).await?;
    let yard = open.yard().await?;
    let wanted = entry.to_ascii_lowercase();
    let found: Vec<&Entry> = yard
        .journal()
        .map(AsRef::as_ref)
        .filter(|e| e.id.to_string().ends_with(&wanted))
        .collect();
    let target = match found.as_slice() {
        [one] => *one,
        [] => {
            return Err(Failure::input(format!("no entry's id ends in \"{entry}\""))
                .help("`combwright journal list` shows the ends of the ids."));
        }
        many => {
            return Err(
                Failure::input(format!("{} entries end in \"{entry}\"", many.len()))
                    .help("Give more of the id; --json shows it whole."),
            );
        }
    };
    let what: What = serde_json::from_str(what).map_err(|why| {
        Failure::input(format!("the correction is no entry: {why}"))
            .help("Copy \"what\" from `combwright journal list --json` and change it.")
    })?;
    if what.known().is_none() {
        return Err(Failure::input(format!(
            "the correction cannot be read as a \"{}\"",
            what.kind()
        ))
        .help("Copy \"what\" from `combwright journal list --json` and change it."));
    }
    let now = context.now().timestamp();
    let saying = Saying {
        hive: target.hive,
        visit: target.visit,
        at: now,
        id: None,
        said: None,
        what: Known::Corrected {
            target: target.id,
            what,
        },
    };
    let before = describe(context, &yard, target);
    let yard = open.record(vec![saying], &context.writer).await?;
    let after = yard
        .acts()
        .iter()
        .find(|act| act.entry().id == target.id)
        .map_or_else(String::new, |act| {
            paper::told::what(&yard, act.what(), context.manner())
        });
    if context.json {
        return out::json(&json!({ "entry": target.id, "before": before, "after": after }));
    }
    out::folded("Before: ", &before);
    out::folded("Now:    ", &after);
    Ok(())
}

async fn note(context: &Context, hive: &str, text: String) -> Result<(), Failure> {
    let open = Open::to_write(&context.folder).await?;
    let yard = open.yard().await?;
    let hive = hive_named(&yard, hive)?;
    let text = text.trim().to_owned();
    if text.is_empty() {
        return Err(Failure::input("a note needs words").help(format!(
            "combwright journal note {} \"robbers at the entrance\"",
            hive.name
        )));
    }
    let now = context.now().timestamp();
    open.record(
        vec![Saying::of_hive(hive.id, now, Known::Note { text })],
        &context.writer,
    )
    .await?;
    if context.json {
        return out::json(&json!({ "hive": hive.name, "noted": true }));
    }
    out::line(format!("Noted for {}.", hive.name));
    Ok(())
}

/// Tells how far a long run is, on a terminal only.
fn progress(verb: &'static str) -> impl FnMut(Progress) + Send {
    let terminal = std::io::stderr().is_terminal();
    let mut last = std::time::Instant::now();
    move |progress: Progress| {
        if terminal && last.elapsed().as_millis() > 200 {
            last = std::time::Instant::now();
            let _ = write!(std::io::stderr(), "\r{verb} {} entries ", progress.entries);
        }
    }
}

async fn export(context: &Context, file: &Path, rescue: bool) -> Result<(), Failure> {
    let open = Open::to_read(&context.folder).await?;
    if rescue {
        let rescued = open.store().rescue_file(file, progress("written")).await?;
        let left_out = rescued.left_out.len();
        if context.json {
            return out::json(&json!({ "entries": rescued.entries, "left_out": rescued.left_out }));
        }
        out::line(format!(
            "{} sound entries written to {}, {left_out} left out.",
            rescued.entries,
            file.display()
        ));
        return Ok(());
    }
    if file == Path::new("-") {
        open.store().export(tokio::io::stdout(), |_| ()).await?;
        return Ok(());
    }
    let entries = open.store().export_file(file, progress("written")).await?;
    if context.json {
        return out::json(&json!({ "entries": entries, "file": file }));
    }
    out::line(format!("{entries} entries written to {}.", file.display()));
    Ok(())
}

async fn import(context: &Context, file: &Path) -> Result<(), Failure> {
    let open = Open::to_write(&context.folder).await?;
    let joined = if file == Path::new("-") {
        let reader = tokio::io::BufReader::new(tokio::io::stdin());
        open.store().import(reader, |_| ()).await?
    } else {
        open.store().import_file(file, progress("read")).await?
    };
    tell_joined(context, &joined)
}

async fn merge(context: &Context, other: PathBuf) -> Result<(), Failure> {
    let open = Open::to_write(&context.folder).await?;
    let other = if other.is_dir() {
        file_in(&other)
    } else {
        other
    };
    let joined = open.store().merge(&other, progress("read")).await?;
    tell_joined(context, &joined)
}

fn tell_joined(context: &Context, joined: &Joined) -> Result<(), Failure> {
    let gaps: Vec<String> = joined.gaps.iter().map(gap_words).collect();
    let forks: Vec<String> = joined.forks.iter().map(fork_words).collect();
    if context.json {
        return out::json(&json!({
            "read": joined.read,
            "new": joined.new,
            "known": joined.known,
            "mended": joined.mended,
            "gaps": gaps,
            "forks": forks,
            "gave_up_device": joined.gave_up,
        }));
    }
    out::line(format!(
        "{} entries read: {} new, {} known already.",
        joined.read, joined.new, joined.known
    ));
    if joined.mended > 0 {
        out::line(format!(
            "{} damaged entries were mended from it.",
            joined.mended
        ));
    }
    if joined.gave_up.is_some() {
        out::folded(
            "Note: ",
            "this file was a copy of that one; from now on it writes under a name of its own.",
        );
    }
    for words in gaps {
        out::folded("Missing: ", &words);
    }
    for words in forks {
        out::folded("Note: ", &words);
    }
    Ok(())
}

fn gap_words(gap: &store::Gap) -> String {
    format!(
        "what device {} wrote before its entry {} is not here yet; merge that device's journal",
        gap.device, gap.before
    )
}

fn fork_words(fork: &store::Fork) -> String {
    format!(
        "two files wrote as device {} from entry {} on; both are kept and count",
        fork.device, fork.seq
    )
}

async fn verify(context: &Context) -> Result<(), Failure> {
    let open = Open::to_read(&context.folder).await?;
    let found = open.store().verify().await?;
    if context.json {
        let faults: Vec<String> = found.faults.iter().map(ToString::to_string).collect();
        out::json(&json!({
            "sound": found.is_sound(),
            "entries": found.entries,
            "faults": faults,
            "structure": found.structure,
        }))?;
    } else if found.is_sound() {
        out::line(format!(
            "{} entries, every one is there and as it was recorded.",
            found.entries
        ));
    } else {
        for fault in &found.faults {
            out::folded("- ", &fault.to_string());
        }
        for fault in &found.structure {
            out::folded("- ", fault);
        }
    }
    if found.is_sound() {
        return Ok(());
    }
    Err(Failure::found("the journal is damaged").help(
        "Keep a copy of the file. `combwright journal export FILE --rescue` writes what is sound; a merge \
         with another device's journal brings back the rest.",
    ))
}
