//! The commands, one a file.

pub(crate) mod advise;
pub(crate) mod health;
pub(crate) mod hear;
pub(crate) mod honey;
pub(crate) mod journal;
pub(crate) mod manual;
pub(crate) mod paper;
pub(crate) mod season;
pub(crate) mod show;
pub(crate) mod start;
pub(crate) mod taking_back;
pub(crate) mod tour;
pub(crate) mod yard;

use std::io::Read;
use std::path::{Path, PathBuf};

use ::paper::told::Manner;
use comb::ToldIn;
use hive::Yard;
use jiff::ZonedDateTime;

use crate::args::Cli;
use crate::failure::Failure;
use crate::journal::{Open, Writer};
use crate::surroundings;

/// What every command needs to know.
pub(crate) struct Context {
    /// Folder of the journal.
    pub(crate) folder: PathBuf,
    /// Print JSON.
    pub(crate) json: bool,
    /// The units of the text.
    pub(crate) told_in: ToldIn,
    /// Who writes, and when.
    pub(crate) writer: Writer,
}

impl Context {
    /// From the command line and this machine.
    pub(crate) fn new(cli: &Cli) -> Result<Self, Failure> {
        Ok(Self {
            folder: surroundings::data_folder(cli.data.clone())?,
            json: cli.json,
            told_in: cli.units.into(),
            writer: Writer {
                by: cli.by.clone().unwrap_or_else(surroundings::person),
                now: surroundings::now(),
            },
        })
    }

    /// Now.
    pub(crate) const fn now(&self) -> &ZonedDateTime {
        &self.writer.now
    }

    /// How the journal's entries are told.
    pub(crate) const fn manner(&self) -> Manner<'static> {
        Manner {
            honey_house: &::honey::lots::told::event,
            told_in: self.told_in,
        }
    }

    /// The instant told, else now.
    pub(crate) fn instant(&self, told: Option<&str>) -> Result<ZonedDateTime, Failure> {
        match told {
            Some(text) => surroundings::instant(text, self.now().time_zone()),
            None => Ok(self.now().clone()),
        }
    }

    /// The yard as the journal gives it now, read only.
    pub(crate) async fn yard(&self) -> Result<Yard, Failure> {
        Open::to_read(&self.folder).await?.yard().await
    }
}

/// The largest text taken: twice an hour of talk is under a megabyte, so this is never reached by
/// speech, and 50 MB of chatter still goes through.
const LARGEST_TEXT: u64 = 256 * 1024 * 1024;

/// The text of a file, or of standard input for `-`.
pub(crate) fn text_of(file: &Path) -> Result<String, Failure> {
    let name = if file == Path::new("-") {
        "standard input".into()
    } else {
        file.display().to_string()
    };
    let cannot = |why: std::io::Error| {
        Failure::input(format!("{name} cannot be read: {why}"))
            .help("Name a text file, or - to read standard input.")
    };
    let mut bytes = Vec::new();
    if file == Path::new("-") {
        std::io::stdin()
            .lock()
            .take(LARGEST_TEXT + 1)
            .read_to_end(&mut bytes)
            .map_err(cannot)?;
    } else {
        let opened = std::fs::File::open(file).map_err(cannot)?;
        opened
            .take(LARGEST_TEXT + 1)
            .read_to_end(&mut bytes)
            .map_err(cannot)?;
    }
    if bytes.len() as u64 > LARGEST_TEXT {
        return Err(Failure::input(format!("{name} is larger than 256 MB"))
            .help("Spoken notes are short: look whether this is the right file."));
    }
    if bytes.contains(&0) {
        return Err(
            Failure::input(format!("{name} is not text, it holds zero bytes"))
                .help("A recording must be turned into text first: use your phone's dictation."),
        );
    }
    String::from_utf8(bytes).map_err(|why| {
        let at = why.utf8_error().valid_up_to();
        Failure::input(format!(
            "{name} is not UTF-8 text, byte {} is wrong",
            at + 1
        ))
        .help("Save it as UTF-8 text; a recording must be turned into text first.")
    })
}

/// Writes a file whole or not at all: beside its place first, then into it.
pub(crate) fn write_whole(file: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let cannot = |why: std::io::Error| {
        Failure::input(format!("{} cannot be written: {why}", file.display()))
            .help("Name a file in a folder that you may write to.")
    };
    let mut beside = file.as_os_str().to_owned();
    beside.push(format!(".{}.part", std::process::id()));
    let beside = PathBuf::from(beside);
    let written = std::fs::write(&beside, bytes).and_then(|()| std::fs::rename(&beside, file));
    if written.is_err() {
        let _ = std::fs::remove_file(&beside);
    }
    written.map_err(cannot)
}
