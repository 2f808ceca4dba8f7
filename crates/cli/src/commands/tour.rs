//! `combwright tour`: a walk through the main job on Wattle Bend, kept nowhere.

use std::io::{BufRead, IsTerminal, Write};

use advice::advise::Advice;
use advice::opening::SAFETY_LINES;
use hive::{HiveId, Yard};
use jiff::ZonedDateTime;
use live::answer::{Offer, count_words};
use paper::TextOptions;
use serde::Serialize;
use talk::record::Transcript;
use talk::understood::understood;
use talk::{Act, Listener};

use super::Context;
use super::advise::{self, Choices, advice_on};
use super::hear::{Heard, Until, record_visit};
use super::show;
use super::yard::overview_of;
use crate::args::Tour;
use crate::failure::Failure;
use crate::journal::{Desk, Open, hive_named};
use crate::out;
use crate::surroundings::fresh_device;

/// The hive that is visited.
const HIVE: &str = "Banksia";

/// What is said at it today, up to the closing.
const SPOKEN: [&str; 12] = [
    "banksia again right end twenty three degrees",
    "board's out",
    "bar fifteen three quarters capped this side",
    "hang on um two thirds on the back",
    "what may I take",
    "take it then one point eight kilos",
    "bar fourteen nearly all capped no wait make that half this side",
    "half the other side so that one stays",
    "bar sixteen all capped both sides leave that",
    "bar seventeen all capped both sides that's theirs leave it",
    "how many so far",
    "one in the bucket",
];

/// What is said while closing.
const CLOSING: &str = "from the nest full cut full follower";

/// One phrase and what came of it.
#[derive(Debug, Serialize)]
struct Phrase {
    said: &'static str,
    understood: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    answer: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    count: Option<String>,
}

/// The walk as it is printed for programs.
#[derive(Debug, Serialize)]
struct Walk {
    phrases: Vec<Phrase>,
    advice: Advice,
    closing: Phrase,
    entries: usize,
}

/// Runs the command.
pub(crate) async fn tour(context: &Context, args: Tour) -> Result<(), Failure> {
    let today = context.instant(args.on.as_deref())?;
    let open = Open::nowhere().await?;
    let yard = crate::demo::bring(&open, &today).await?;
    let id = hive_named(&yard, HIVE)?.id;
    let mut visit = Live::new(context, &yard, id, &today);
    let pause = Pause::when(&args, context);

    if !context.json {
        opening(&yard, &today)?;
        pause.here();
        out::line(out::strong(&format!(
            "2. A visit to {HIVE} today, phrase by phrase"
        )));
        out::folded(
            "",
            "What you say, as your phone hears it, and what is understood:",
        );
        out::line("");
    }
    let mut phrases = Vec::new();
    for said in SPOKEN {
        let phrase = visit.hear(said)?;
        if !context.json {
            phrase.print();
        }
        phrases.push(phrase);
    }
    let advice = visit.advice()?;
    if !context.json {
        pause.here();
        out::line(out::strong("3. What to do, before the hive is closed"));
        out::line("");
        advise::print(&advice, advise::Open::Now, context.told_in);
        pause.here();
        out::line(out::strong("4. Closed, and recorded"));
        out::line("");
    }
    let closing = visit.hear(CLOSING)?;
    let entries = visit.entries;
    let (yard, ()) = open
        .write(|desk| {
            let heard = visit.heard(Until::Closed);
            record_visit(desk, id, &heard, &context.writer).map(|_| ())
        })
        .await?;
    if context.json {
        return out::json(&Walk {
            phrases,
            advice,
            closing,
            entries,
        });
    }
    closing.print();
    out::line("");
    let hive = hive_named(&yard, HIVE)?;
    let section = show::section(&yard, hive, &today, &Choices::default())?;
    let options = TextOptions {
        told_in: context.told_in,
        ..TextOptions::default()
    };
    show::print(&paper::text::hive(&section, options));
    ending();
    Ok(())
}

fn opening(yard: &Yard, today: &ZonedDateTime) -> Result<(), Failure> {
    out::line(out::strong("Wattle Bend: a walk through one visit"));
    out::folded(
        "",
        "Five invented hives and a season of spoken visits to them. Nothing of yours is read, and \
         nothing of this is kept.",
    );
    out::line("");
    out::line(out::strong("1. The yard, and what each hive needs next"));
    out::line("");
    overview_of(yard, today, &Choices::default())
}

fn ending() {
    out::line("");
    out::line(out::strong("Next"));
    for (command, what) in [
        ("combwright yard demo", "keep Wattle Bend, to try things on"),
        (
            "combwright yard new NAME --bars 30",
            "begin a hive of your own",
        ),
        (
            "combwright hear visit.txt --into NAME",
            "record a visit you spoke",
        ),
        (
            "combwright show NAME --svg hive.svg",
            "the hive as a picture",
        ),
        ("combwright help", "everything else"),
    ] {
        out::line(format!("  {command:<40}{what}"));
    }
    out::line("");
    for line in SAFETY_LINES {
        let (name, rest) = line.split_once(": ").unwrap_or(("Mind", line));
        out::folded(&format!("{name}: "), rest);
    }
    out::folded(
        "",
        "Local law, product labels and licensed practice come before anything said here.",
    );
}

/// A visit while it is being spoken.
struct Live<'a> {
    context: &'a Context,
    before: &'a Yard,
    hive: HiveId,
    when: &'a ZonedDateTime,
    transcript: Transcript,
    listener: Listener,
    /// Entries that the visit comes to so far.
    entries: usize,
    /// The running count as it was told last.
    counted: String,
}

impl<'a> Live<'a> {
    fn new(context: &'a Context, before: &'a Yard, hive: HiveId, when: &'a ZonedDateTime) -> Self {
        let numbers = before.hive(hive).map(hive::Hive::numbers);
        Self {
            context,
            before,
            hive,
            when,
            transcript: Transcript::default(),
            listener: Listener::with_bars(numbers.unwrap_or_default()),
            entries: 0,
            counted: String::new(),
        }
    }

    fn heard(&self, until: Until) -> Heard<'_> {
        Heard {
            transcript: &self.transcript,
            when: self.when,
            end: None,
            split_to: None,
            until,
        }
    }

    fn hear(&mut self, said: &'static str) -> Result<Phrase, Failure> {
        self.transcript.hear(said);
        let heard = self.listener.hear(said);
        let understood = understood(&heard, self.context.told_in);
        let decided = heard
            .acts
            .iter()
            .any(|noted| matches!(noted.act, Act::Decided(Some(_))));
        let count = if decided {
            Some(count_words(&self.advice()?.count))
        } else {
            None
        };
        // said again only when it is another
        let count = count.filter(|count| self.counted != *count);
        if let Some(count) = &count {
            self.counted.clone_from(count);
        }
        let answer = match heard.question {
            Some(question) => {
                let advice = self.advice()?;
                Some(self.listener.answer(
                    question,
                    &Offer::from(&advice).told_in(self.context.told_in),
                ))
            }
            None => heard.ask,
        };
        Ok(Phrase {
            said,
            understood,
            answer,
            count,
        })
    }

    /// Advice on the hive as it stands open, with what was said so far.
    fn advice(&mut self) -> Result<Advice, Failure> {
        let device = fresh_device();
        let mut desk = Desk::over(self.before.clone(), device, 1);
        let heard = self.heard(Until::Now);
        let recording = record_visit(&mut desk, self.hive, &heard, &self.context.writer)?;
        self.entries = recording.drafts.len();
        let hive = desk
            .yard()
            .hive(self.hive)
            .ok_or_else(|| Failure::input("the hive is gone"))?;
        advice_on(desk.yard(), hive, self.when, &Choices::default())
    }
}

impl Phrase {
    fn print(&self) {
        out::folded("  \" ", self.said);
        if !self.understood.is_empty() {
            out::folded("      ", &format!("{}.", self.understood.join(", ")));
        }
        if let Some(answer) = &self.answer {
            out::folded("    > ", answer);
        }
        if let Some(count) = &self.count {
            out::folded("    = ", &format!("{count}."));
        }
    }
}

/// Whether to wait for the reader between the parts.
struct Pause(bool);

impl Pause {
    /// Only for a person who reads on a terminal.
    fn when(args: &Tour, context: &Context) -> Self {
        let person = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
        Self(person && !args.no_pause && !context.json)
    }

    fn here(&self) {
        out::line("");
        if !self.0 {
            return;
        }
        let mut page = std::io::stdout().lock();
        let _ = write!(page, "Enter goes on ");
        let _ = page.flush();
        let _ = std::io::stdin().lock().read_line(&mut String::new());
        let _ = writeln!(page);
    }
}
