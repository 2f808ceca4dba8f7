//! The command line as it is typed.

use std::path::PathBuf;

use clap::builder::FalseyValueParser;
use clap::error::ErrorKind;
use clap::parser::ValueSource;
use clap::{Args, CommandFactory, FromArgMatches, Parser, Subcommand, ValueEnum, ValueHint};
use comb::ToldIn;

/// Listens while you talk through a top-bar hive, keeps the count of combs, says what may be taken
/// and what must stay, and how the bars go back.
#[derive(Debug, Parser)]
#[command(
    name = "combwright",
    version,
    max_term_width = 80,
    after_help = "Without a command it starts the app on this machine and opens it in the browser.\n\
                  Look around first:  combwright tour    a walk through the invented yard Wattle Bend\n\
                  Exit codes:  0 done, 1 what was given cannot be taken, 2 wrong usage,\n\
                  \x20            3 the journal cannot be read or written, 4 a check found something\n\n\
                  Opening hives can hurt: stings, fire, heat, lifting, knives. Follow local law,\n\
                  product labels and the advice of licensed practice; this program defers to them."
)]
pub(crate) struct Cli {
    /// Folder that holds the journal [default: where this system keeps a person's data]
    #[arg(long, global = true, env = "COMBWRIGHT_DATA", value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub(crate) data: Option<PathBuf>,
    /// Print JSON instead of text
    #[arg(long, global = true)]
    pub(crate) json: bool,
    /// Units of the text: metric, or us for inches, pounds, gallons and Fahrenheit. A bare number that you type,
    /// JSON, tables, the record book and the honey house stay metric
    #[arg(
        long,
        global = true,
        env = "COMBWRIGHT_UNITS",
        value_name = "UNITS",
        default_value = "metric"
    )]
    pub(crate) units: Units,
    /// Your name in the record [default: COMBWRIGHT_BY, else the name of this login]
    #[arg(long, global = true, value_name = "NAME")]
    pub(crate) by: Option<String>,
    /// How the app is started, without a command
    #[command(flatten)]
    pub(crate) start: Start,
    /// What to do instead of starting the app
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

/// In which units text is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// Millimetres, kilograms, litres, degrees Celsius
    Metric,
    /// Inches, pounds, US gallons, degrees Fahrenheit
    Us,
}

impl From<Units> for ToldIn {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => Self::Metric,
            Units::Us => Self::Us,
        }
    }
}

/// Starting the app.
#[derive(Debug, Args)]
#[command(next_help_heading = "Starting the app (no command)")]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a switch of its own, as typed"
)]
pub(crate) struct Start {
    /// Port of the app on this machine [default: 8427, another for each --data]; phones come in one
    /// above it
    #[arg(long, value_name = "PORT")]
    pub(crate) port: Option<u16>,
    /// Let phones of the local network in: by HTTPS, each paired with a code shown here
    #[arg(long)]
    pub(crate) lan: bool,
    /// A further name or address under which phones reach this machine
    #[arg(long, value_name = "NAME", requires = "lan")]
    pub(crate) lan_name: Vec<String>,
    /// Begin a journal that is empty with the invented yard Wattle Bend, without asking
    #[arg(long, env = "COMBWRIGHT_DEMO", hide_env = true, value_parser = FalseyValueParser::new())]
    pub(crate) demo: bool,
    /// Leave a journal that is empty as it is, without asking
    #[arg(long)]
    pub(crate) no_demo: bool,
    /// Do not open the browser
    #[arg(long)]
    pub(crate) no_browser: bool,
}

impl Cli {
    /// The command line, read; one that makes no sense ends the program with its usage.
    pub(crate) fn read() -> Self {
        let matches = negatives_are_values(Self::command()).get_matches();
        let started = ["port", "lan", "lan_name", "demo", "no_demo", "no_browser"]
            .into_iter()
            .find(|name| matches.value_source(name) == Some(ValueSource::CommandLine));
        if let (Some(option), Some(command)) = (started, matches.subcommand_name()) {
            let option = option.replace('_', "-");
            let words =
                format!("--{option} is for starting the app and cannot go with `{command}`");
            Self::command()
                .error(ErrorKind::ArgumentConflict, words)
                .exit();
        }
        Self::from_arg_matches(&matches).unwrap_or_else(|why| why.exit())
    }
}

/// "-2" is a number wherever a number can stand: what it may be is checked by what it is for, which then says
/// what it should have been. Without this it would be taken for an option that is not there.
fn negatives_are_values(command: clap::Command) -> clap::Command {
    let takes_value = |arg: &clap::Arg| arg.get_action().takes_values();
    command
        .mut_args(|arg| {
            let takes = takes_value(&arg) && !arg.is_allow_hyphen_values_set();
            if takes {
                arg.allow_negative_numbers(true)
            } else {
                arg
            }
        })
        .mut_subcommands(negatives_are_values)
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Understand spoken notes: print what was heard, or record it
    Hear(Hear),
    /// What may be taken, what must stay, how to close up, when to come back
    Advise(Advise),
    /// Draw a hive as it stands, or as it stood on a day
    Show(Show),
    /// How much must stay for this colony in this place, and how the year may go
    Season(SeasonArgs),
    /// Hives and what each needs next; begin a hive, name an apiary, settle a reserve
    Yard(YardArgs),
    /// The record: list, undo, export, import, verify, merge
    Journal(JournalArgs),
    /// Treatments, signs of disease, medicines, and which honey is withheld
    Health(crate::health_args::HealthArgs),
    /// The honey house: moisture, blending, lots, jars, and which comb is in which jar
    Honey(crate::honey_args::HoneyArgs),
    /// Papers: jar labels, hive card, record book, season sheet, tables, calendar
    Paper(crate::paper_args::PaperArgs),
    /// Walk through a spoken visit on the invented yard Wattle Bend; changes nothing of yours
    Tour(Tour),
    /// Print completions for a shell
    Completions {
        /// Which shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page, or write one page per command into a folder
    Man {
        /// Folder for the pages; without it the main page is printed
        #[arg(value_hint = ValueHint::DirPath)]
        folder: Option<PathBuf>,
    },
}

/// Understand spoken notes.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  combwright hear visit.txt                 what was understood\n  \
                        combwright hear visit.txt --into Banksia  record it as a visit of today\n  \
                        combwright hear - --into Banksia          read from standard input"
)]
pub(crate) struct Hear {
    /// Text with one line per pause; - reads standard input
    #[arg(value_hint = ValueHint::FilePath)]
    pub(crate) file: PathBuf,
    /// Record it as a visit to this hive
    #[arg(long, value_name = "HIVE", conflicts_with = "summary")]
    pub(crate) into: Option<String>,
    /// When the visit was, as 2026-11-14 or 2026-11-14T10:30 [default: now]
    #[arg(long, value_name = "WHEN", requires = "into")]
    pub(crate) on: Option<String>,
    /// The end that was opened, where it was not said
    #[arg(long, value_enum, requires = "into")]
    pub(crate) end: Option<Side>,
    /// The hive that combs "for the split" go to, with their bees and their record
    #[arg(long, value_name = "HIVE", requires = "into")]
    pub(crate) split_to: Option<String>,
    /// Check and show everything, record nothing
    #[arg(long, requires = "into")]
    pub(crate) dry_run: bool,
    /// Record it even where the words name another hive, or were recorded already
    #[arg(long, requires = "into")]
    pub(crate) anyway: bool,
    /// Print the fields of a careful listener's notes as JSON
    #[arg(long)]
    pub(crate) summary: bool,
}

/// The walk.
#[derive(Debug, Args)]
pub(crate) struct Tour {
    /// Print everything without waiting for the Enter key
    #[arg(long)]
    pub(crate) no_pause: bool,
    /// The last day of Wattle Bend's season is a few days before this one [default: now]
    #[arg(long, value_name = "WHEN")]
    pub(crate) on: Option<String>,
}

/// An end, as you stand at the hive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Side {
    /// The left end
    Left,
    /// The right end
    Right,
}

/// Advice on a hive.
#[derive(Debug, Args)]
pub(crate) struct Advise {
    /// The hive
    #[arg(required_unless_present = "closing")]
    pub(crate) hive: Option<String>,
    /// Solve a closing-up problem from a file instead (- reads standard input)
    #[arg(long, value_name = "PROBLEM.json", conflicts_with = "hive", value_hint = ValueHint::FilePath)]
    pub(crate) closing: Option<PathBuf>,
    /// Advice as of this day [default: now]
    #[arg(long, value_name = "WHEN")]
    pub(crate) on: Option<String>,
    /// Shims at hand beside those in the hive, widths in mm, or 3/16in
    #[arg(long, value_parser = millimetres, value_name = "MM,MM", value_delimiter = ',')]
    pub(crate) shims: Vec<f64>,
    /// Width of the follower board in mm [default: as recorded, else 19]
    #[arg(long, value_parser = millimetres, value_name = "MM")]
    pub(crate) follower: Option<f64>,
    /// Ripe combs that make a trip worth it
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = whole::<usize>)]
    pub(crate) worth: usize,
    /// How nectar comes in
    #[arg(long, value_enum, default_value_t = Flow::Good)]
    pub(crate) flow: Flow,
    /// Greatest lawful water content in per cent, where a refractometer was used [default: 20]
    #[arg(long, value_name = "PERCENT")]
    pub(crate) legal_moisture: Option<f64>,
}

/// How nectar comes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Flow {
    /// Bees build and cap
    Good,
    /// A little comes in
    Thin,
    /// Nothing comes in
    Dearth,
}

/// Draw a hive.
#[derive(Debug, Args)]
pub(crate) struct Show {
    /// The hive
    pub(crate) hive: String,
    /// As it stood on this day
    #[arg(long, value_name = "WHEN")]
    pub(crate) on: Option<String>,
    /// Write the picture to this file as SVG, to scale (- prints it)
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(crate) svg: Option<PathBuf>,
    /// A line per comb below the drawing
    #[arg(long)]
    pub(crate) table: bool,
    /// The life of one bar
    #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>)]
    pub(crate) bar: Option<u32>,
    /// Plain ASCII, for old terminals
    #[arg(long)]
    pub(crate) ascii: bool,
}

/// Hives and apiaries.
#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true)]
pub(crate) struct YardArgs {
    /// What to do; without it, list the hives
    #[command(subcommand)]
    pub(crate) command: Option<YardCommand>,
}

/// What can be done in the yard.
#[derive(Debug, Subcommand)]
pub(crate) enum YardCommand {
    /// Begin a hive
    New(NewHive),
    /// Name an apiary and its winter, or tell them anew
    Apiary {
        /// Its name
        name: String,
        /// Its winter
        #[arg(long, value_enum)]
        winter: Option<Winter>,
        /// Degrees north, south negative
        #[arg(long, allow_negative_numbers = true, requires = "longitude")]
        latitude: Option<f64>,
        /// Degrees east, west negative
        #[arg(long, allow_negative_numbers = true, requires = "latitude")]
        longitude: Option<f64>,
        /// Metres above the sea
        #[arg(long, allow_negative_numbers = true)]
        altitude: Option<f64>,
        /// Daily weather of the place, CSV with columns date, tmin_c, tmax_c, rain_mm; kept beside
        /// the journal, so that advice can ask the season model
        #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
        weather: Option<PathBuf>,
    },
    /// Settle what must stay in a hive
    Reserve {
        /// The hive
        hive: String,
        /// Full honey combs
        #[arg(long, conflicts_with = "kg")]
        combs: Option<f64>,
        /// Kilograms of honey
        #[arg(long)]
        kg: Option<f64>,
        /// Back to the rule of thumb of the place
        #[arg(long, conflicts_with_all = ["combs", "kg"])]
        default: bool,
    },
    /// Settle the capped share from which combs of a hive count as ripe, from 67 to 75 per cent
    Ripe {
        /// The hive
        hive: String,
        /// Per cent
        percent: f64,
    },
    /// Give a hive another name
    Rename {
        /// The hive
        hive: String,
        /// Its new name
        name: String,
    },
    /// Record that a colony is gone
    End {
        /// The hive
        hive: String,
        /// Why
        why: String,
    },
    /// Bring the invented yard Wattle Bend into the journal, to try things on
    Demo {
        /// The last day of its season is a few days before this one [default: now]
        #[arg(long, value_name = "WHEN")]
        on: Option<String>,
    },
}

/// Begin a hive.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  combwright yard new Banksia --length 1100 --top 381 --bottom 127 \
                        --depth 305 --bars 30 --combs 5-18"
)]
pub(crate) struct NewHive {
    /// Its name
    pub(crate) name: String,
    /// Apiary in which it stands
    #[arg(long)]
    pub(crate) apiary: Option<String>,
    /// Inside length of the body, end wall to end wall, mm
    #[arg(long, value_parser = millimetres, value_name = "MM")]
    pub(crate) length: Option<f64>,
    /// Inside width under the bars, mm
    #[arg(long, value_parser = millimetres, value_name = "MM")]
    pub(crate) top: Option<f64>,
    /// Inside width at the floor, mm
    #[arg(long, value_parser = millimetres, value_name = "MM")]
    pub(crate) bottom: Option<f64>,
    /// From the underside of the bars to the floor, mm
    #[arg(long, value_parser = millimetres, value_name = "MM")]
    pub(crate) depth: Option<f64>,
    /// Shape of the body's cross-section
    #[arg(long, value_enum, default_value_t = BodySection::Sloped)]
    pub(crate) section: BodySection,
    /// Width of a bar, mm
    #[arg(long, value_parser = millimetres, value_name = "MM", default_value_t = 35.0)]
    pub(crate) bar_width: f64,
    /// How many bars lie in it [default: as many as fit]
    #[arg(long, value_name = "N", value_parser = whole::<u32>)]
    pub(crate) bars: Option<u32>,
    /// Number painted on the first bar
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = whole::<u32>)]
    pub(crate) first_number: u32,
    /// The end at which numbers begin
    #[arg(long, value_enum, default_value_t = Side::Left)]
    pub(crate) count_from: Side,
    /// Numbers of the bars that carry comb, as a count from the first or a range such as 5-18; without it no comb
    /// hangs
    #[arg(long, value_name = "RANGE")]
    pub(crate) combs: Option<String>,
    /// Follower boards: where they stand
    #[arg(long, value_enum, default_value_t = Followers::Both)]
    pub(crate) followers: Followers,
    /// Width of a follower board, mm
    #[arg(long, value_parser = millimetres, value_name = "MM", default_value_t = 19.0)]
    pub(crate) follower_width: f64,
    /// Numbers are not painted on the bars: combs are recognised by what they hold
    #[arg(long)]
    pub(crate) unmarked: bool,
}

/// Where follower boards stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Followers {
    /// One outside the bars at each end
    Both,
    /// One at the left end
    Left,
    /// One at the right end
    Right,
    /// None
    None,
}

/// Shape of the body.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum BodySection {
    /// Straight sides that lean in
    Sloped,
    /// Upright sides
    Rectangular,
    /// A trough
    Rounded,
}

/// What winter is like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Winter {
    /// A mild coast with winter forage
    MildCoast,
    /// A winter without forage, with frost
    Real,
    /// A hard, long winter
    Hard,
}

/// The record.
#[derive(Debug, Args)]
pub(crate) struct JournalArgs {
    /// What to do
    #[command(subcommand)]
    pub(crate) command: JournalCommand,
}

/// What can be done with the journal.
#[derive(Debug, Subcommand)]
pub(crate) enum JournalCommand {
    /// List entries, the latest last
    List {
        /// Of this hive only
        hive: Option<String>,
        /// How many, counted back from the last
        #[arg(long, short = 'n', value_name = "N", default_value_t = 40, value_parser = whole::<usize>)]
        last: usize,
    },
    /// Take back the last things recorded of a hive; the entries stay, and an undo is one more
    Undo {
        /// The hive
        hive: String,
        /// How many things
        #[arg(default_value_t = 1, value_parser = whole::<usize>)]
        count: usize,
    },
    /// Bring back what the last undos took away
    Redo {
        /// The hive
        hive: String,
        /// How many things
        #[arg(default_value_t = 1, value_parser = whole::<usize>)]
        count: usize,
    },
    /// Say what an entry should have said
    Correct {
        /// The entry's id, or enough of its end to be sure
        entry: String,
        /// What it should have said, as JSON with a "kind", as `journal list --json` shows it
        what: String,
    },
    /// Add a note to a hive
    Note {
        /// The hive
        hive: String,
        /// The words
        text: String,
    },
    /// Write all entries as JSON Lines
    Export {
        /// File to write; - prints them
        #[arg(value_hint = ValueHint::FilePath)]
        file: PathBuf,
        /// Write what is sound of a damaged journal
        #[arg(long)]
        rescue: bool,
    },
    /// Take in entries that were exported; all or nothing
    Import {
        /// File to read; - reads standard input
        #[arg(value_hint = ValueHint::FilePath)]
        file: PathBuf,
    },
    /// Check every entry against its chain of hashes
    Verify,
    /// Take in the journal of another device
    Merge {
        /// Its journal file, or the folder that holds it
        #[arg(value_hint = ValueHint::AnyPath)]
        other: PathBuf,
    },
}

/// The season at one hive.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  combwright season Banksia --weather daily.csv\n  \
                        combwright season Banksia --take 4 --svg pictures\n\n\
                        The daily file has columns date, tmin_c, tmax_c, rain_mm and, if known, wind.\n\
                        Figures are estimates with their spread; the rule of thumb stands beside them."
)]
pub(crate) struct SeasonArgs {
    /// The hive
    pub(crate) hive: String,
    /// Count from this day [default: today]
    #[arg(long, value_name = "WHEN")]
    pub(crate) on: Option<String>,
    /// The day to which the colony must live [default: the coming spring]
    #[arg(long, value_name = "DAY")]
    pub(crate) until: Option<String>,
    /// In how many of a hundred years it must live
    #[arg(long, value_name = "PERCENT", default_value_t = 95.0)]
    pub(crate) sure: f64,
    /// Daily weather of the place, CSV with named columns
    #[arg(long, value_name = "FILE", conflicts_with = "means", value_hint = ValueHint::FilePath)]
    pub(crate) weather: Option<PathBuf>,
    /// Twelve monthly means instead, JSON
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(crate) means: Option<PathBuf>,
    /// A forecast of the next days, JSON "open-day-forecast/1"
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(crate) forecast: Option<PathBuf>,
    /// Degrees north, south negative [default: the apiary's]
    #[arg(long, allow_negative_numbers = true)]
    pub(crate) latitude: Option<f64>,
    /// Metres above the sea [default: the apiary's]
    #[arg(long, allow_negative_numbers = true)]
    pub(crate) altitude: Option<f64>,
    /// Height at which the weather was measured, metres
    #[arg(long, allow_negative_numbers = true)]
    pub(crate) station_altitude: Option<f64>,
    /// The forage calendar to begin with
    #[arg(long, value_enum)]
    pub(crate) forage: Option<Forage>,
    /// Bees [default: from the combs on record]
    #[arg(long)]
    pub(crate) bees: Option<f64>,
    /// Brood cells [default: from the brood combs on record]
    #[arg(long)]
    pub(crate) brood: Option<f64>,
    /// Honey in kg [default: from the combs on record]
    #[arg(long)]
    pub(crate) honey: Option<f64>,
    /// No queen lays
    #[arg(long)]
    pub(crate) queenless: bool,
    /// The outlook after taking so many full combs now
    #[arg(long, value_name = "COMBS", default_value_t = 0.0)]
    pub(crate) take: f64,
    /// Your own weighings, LOST:MODELLED in kg; may be given again
    #[arg(long, value_name = "LOST:MODELLED")]
    pub(crate) weighed: Vec<String>,
    /// Runs
    #[arg(long, default_value_t = advice::season_model::RUNS, value_parser = whole::<usize>)]
    pub(crate) runs: usize,
    /// Seed of the chance draws; the same seed gives the same answer
    #[arg(long, default_value_t = 1, value_parser = whole::<u64>)]
    pub(crate) seed: u64,
    /// Write the pictures as SVG into this folder
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub(crate) svg: Option<PathBuf>,
}

/// Kinds of forage calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Forage {
    /// Flying weather and some forage all winter
    MildCoast,
    /// One long summer flow, a real winter
    ColdContinental,
    /// Spring and summer flows, a moderate winter
    Temperate,
    /// Forage in a wet winter, none in a dry summer
    DrySummer,
    /// Flows after the rains
    Monsoon,
}

/// A count as it is typed.
pub(crate) fn whole<T: std::str::FromStr>(text: &str) -> Result<T, String> {
    text.trim()
        .parse()
        .map_err(|_| "write a whole number, none under 0, such as 12".to_owned())
}

/// A day as it is typed.
pub(crate) fn day(text: &str) -> Result<jiff::civil::Date, String> {
    text.trim()
        .parse()
        .map_err(|_| "write a day as 2026-11-14".to_owned())
}

/// A length in mm as it is typed: a bare number is millimetres.
fn millimetres(text: &str) -> Result<f64, String> {
    let text = text.trim();
    let split = text
        .find(|c: char| c.is_ascii_alphabetic() || c == '"')
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(split);
    let value = comb::typed::number(number)
        .ok_or_else(|| "no length; write 1100, 1100mm, 43in or 1 3/8in".to_owned())?;
    match unit.trim().to_ascii_lowercase().as_str() {
        "" | "mm" => Ok(value),
        "cm" => Ok(value * 10.0),
        "in" | "\"" => Ok(comb::Length::inches(value).to_mm()),
        _ => Err("the unit is one of mm, cm, in".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_millimetres_unless_they_say_their_unit() {
        for (typed, mm) in [
            ("1100", 1100.0),
            ("35mm", 35.0),
            ("3.5 cm", 35.0),
            ("1in", 25.4),
            ("3/16in", 4.7625),
            ("1 3/8 in", 34.925),
        ] {
            let read = millimetres(typed).expect("a length");
            assert!((read - mm).abs() < 1e-9, "{typed}: {read}");
        }
        for wrong in ["abc", "", "43ft", "mm"] {
            let why = millimetres(wrong).expect_err("no length");
            assert!(why.contains("mm"), "{wrong}: {why}");
        }
    }
}
