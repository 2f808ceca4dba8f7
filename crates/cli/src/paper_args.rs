//! `combwright paper` as it is typed.

use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum, ValueHint};

use crate::args::whole;
use crate::honey_args::Market;

/// Papers.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
        combwright paper label 26-1/1 --grid a4-24 --out labels.pdf\n  \
        combwright paper label 26-1/1 --grid a4-24 --test-print --out test.pdf\n  \
        combwright paper card Banksia --out card.pdf\n  \
        combwright paper book --from 2026-01-01 --out record.pdf\n  \
        combwright paper tables --out record.xlsx\n  \
        combwright paper calendar --out due.ics\n  \
        combwright paper feed --new\n\nPrint labels at full size (100 %), never \"fit to page\".")]
pub(crate) struct PaperArgs {
    /// Which paper
    #[command(subcommand)]
    pub(crate) command: PaperCommand,
}

/// The papers.
#[derive(Debug, Subcommand)]
pub(crate) enum PaperCommand {
    /// Labels for jars that were filled, on sheets
    Label(LabelArgs),
    /// A card for the next visit to a hive, in large print
    Card {
        /// The hive
        hive: String,
        #[command(flatten)]
        to: Output,
    },
    /// The record book for an inspector
    Book {
        #[command(flatten)]
        days: DaysArgs,
        #[command(flatten)]
        to: Output,
    },
    /// What the hives gave: combs, honey, jars
    Season {
        #[command(flatten)]
        days: DaysArgs,
        #[command(flatten)]
        to: Output,
    },
    /// The record as tables: FILE.xlsx, or a folder of CSV files
    Tables {
        #[command(flatten)]
        days: DaysArgs,
        /// FILE.xlsx, or a folder for CSV files
        #[arg(long, value_name = "FILE.xlsx|FOLDER", value_hint = ValueHint::AnyPath)]
        out: PathBuf,
    },
    /// What is due, as a feed that calendar programs read: its address
    Feed {
        /// Make an address with a key for other machines and phones; the one before ends
        #[arg(long, conflicts_with = "off")]
        new: bool,
        /// Take the address back
        #[arg(long)]
        off: bool,
    },
    /// What is due, as a calendar file (RFC 5545)
    Calendar {
        /// File to write; - prints it
        #[arg(long, value_name = "FILE.ics", value_hint = ValueHint::FilePath)]
        out: PathBuf,
    },
    /// The sheets of labels known by name
    Grids,
}

/// Where a PDF goes.
#[derive(Debug, Args)]
pub(crate) struct Output {
    /// File to write
    #[arg(long, value_name = "FILE.pdf", value_hint = ValueHint::FilePath)]
    pub(crate) out: PathBuf,
    /// Sheet of paper
    #[arg(long, value_enum, default_value_t = Sheet::A4)]
    pub(crate) paper: Sheet,
}

/// Sheets of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Sheet {
    /// 210 by 297 mm
    A4,
    /// 8.5 by 11 in
    Letter,
}

impl From<Sheet> for paper::pdf::Paper {
    fn from(sheet: Sheet) -> Self {
        match sheet {
            Sheet::A4 => Self::A4,
            Sheet::Letter => Self::LETTER,
        }
    }
}

/// Days from and to.
#[derive(Debug, Args)]
pub(crate) struct DaysArgs {
    /// First day [default: the journal's first]
    #[arg(long, value_name = "DAY")]
    pub(crate) from: Option<String>,
    /// Last day [default: today]
    #[arg(long, value_name = "DAY")]
    pub(crate) to: Option<String>,
}

/// Labels.
#[derive(Debug, Args)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a switch of its own on the command line"
)]
pub(crate) struct LabelArgs {
    /// The filling, as `combwright honey` lists it
    pub(crate) fill: String,
    /// The sheet: a name from `combwright paper grids`, or its measures in mm as
    /// COLUMNSxROWS:WIDTHxHEIGHT@LEFT,TOP+ACROSS,DOWN
    #[arg(long, default_value = "a4-24")]
    pub(crate) grid: String,
    /// How many labels [default: the jars in stock]
    #[arg(long, value_parser = whole::<usize>)]
    pub(crate) count: Option<usize>,
    /// First label still on the first sheet
    #[arg(long, default_value_t = 1, value_parser = whole::<usize>)]
    pub(crate) start: usize,
    /// Corner marks to cut along
    #[arg(long)]
    pub(crate) cut_marks: bool,
    /// One sheet with frames and a 100 mm line, for plain paper
    #[arg(long)]
    pub(crate) test_print: bool,
    /// Name of the food [default: by how the honey was got]
    #[arg(long)]
    pub(crate) name: Option<String>,
    /// Largest face of the jar, cm2, on which the least letters depend
    #[arg(long, value_name = "CM2", default_value_t = 100.0)]
    pub(crate) face: f64,
    /// Where it is sold [default: as told by `combwright honey seller`]
    #[arg(long, value_enum)]
    pub(crate) region: Option<Market>,
    /// Leave the code out
    #[arg(long)]
    pub(crate) no_code: bool,
    /// Print although mandatory particulars are missing; not for sale
    #[arg(long)]
    pub(crate) anyway: bool,
    /// File to write
    #[arg(long, value_name = "FILE.pdf", value_hint = ValueHint::FilePath)]
    pub(crate) out: PathBuf,
}
