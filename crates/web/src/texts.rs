//! Every English word that the app shows, in one place.

use crate::journal::{JournalError, Link, Why};
use crate::route::Route;

/// The name on the tab and in the bar.
pub const APP: &str = "Combwright";
/// For those who hear the page.
pub const SKIP_TO_CONTENT: &str = "Skip to the content";
/// The navigation's name.
pub const NAVIGATION: &str = "Screens";
/// While the journal is opened.
pub const OPENING: &str = "Opening the journal ..";

/// A screen's name.
pub const fn screen(route: Route) -> &'static str {
    match route {
        Route::Apiary => "Apiary",
        Route::Visit(_) => "Visit",
        Route::ClosingUp(_) => "Closing up",
        Route::Hive(_) => "Hive",
        Route::Records => "Records",
        Route::Settings => "Settings",
        Route::Unknown => "Nothing here",
    }
}

/// Empty states: what is missing and what comes next.
pub mod empty {
    /// Apiary without hives.
    pub const APIARY: [&str; 2] = [
        "No hive yet",
        "Once a hive is in the journal it stands here with what it needs next.",
    ];
    /// Visit without a hive.
    pub const VISIT: [&str; 2] = [
        "No visit is open",
        "Choose a hive to open one. It works without a network.",
    ];
    /// Closing up without a visit.
    pub const CLOSING_UP: [&str; 2] = [
        "Nothing to close",
        "When an end is open, the steps to close it stand here.",
    ];
    /// Hive without a choice.
    pub const HIVE: [&str; 2] = [
        "No hive chosen",
        "Choose one to see its section, its combs and their lives.",
    ];
    /// Records without entries.
    pub const RECORDS: [&str; 2] = [
        "The journal is empty",
        "Everything that happens at a hive becomes an entry here.",
    ];
    /// An address that leads nowhere.
    pub const UNKNOWN: [&str; 2] = ["Nothing here", "This address leads to no screen."];
    /// Leads back.
    pub const TO_APIARY: &str = "To the apiary";
}

/// The records screen.
pub mod records {
    /// Field for a note of the yard.
    pub const NOTE: &str = "Note for the yard";
    /// Its button.
    pub const WRITE: &str = "Write it down";
    /// Said when an entry is durable.
    pub const KEPT: &str = "Kept on this device.";
    /// How many entries there are.
    pub fn count(entries: usize) -> String {
        match entries {
            1 => "1 entry".to_owned(),
            many => format!("{many} entries"),
        }
    }
    /// Heading of the list.
    pub const LATEST: &str = "Latest first";
    /// Heading of import and export.
    pub const CARRY: &str = "Carry the journal";
    /// Export button.
    pub const EXPORT: &str = "Save all entries to a file";
    /// Import field.
    pub const IMPORT: &str = "Take in entries from a file";
    /// After an import.
    pub fn imported(new: usize, known: usize) -> String {
        format!("{new} new, {known} known already.")
    }
    /// When lines cannot be read.
    pub fn import_line(line: usize, why: &str) -> String {
        format!("Nothing was taken in. Line {line}: {why}.")
    }
    /// Rows that the browser gave back unreadable.
    pub fn damaged(count: usize) -> String {
        format!(
            "{count} kept entries cannot be read. Save all entries to a file: it holds them too."
        )
    }
}

/// The settings screen.
pub mod settings {
    /// Heading of looks.
    pub const LOOKS: &str = "Looks";
    /// Light or dark.
    pub const LIGHT: &str = "Light";
    /// The choices, in the order of `preferences::Light::ALL`.
    pub const LIGHT_CHOICES: [&str; 3] = ["As the device", "Light paper", "Dark paper"];
    /// Large print switch.
    pub const LARGE_PRINT: &str = "Large print";
    /// Heading of this device.
    pub const DEVICE: &str = "This device";
    /// Field for who writes.
    pub const BY: &str = "Who writes here";
    /// Button of that field.
    pub const KEEP: &str = "Keep";
    /// Whether the browser promised to keep the storage.
    pub const PERSISTED: &str = "The browser has promised to keep the journal here.";
    /// If it has not.
    pub const NOT_PERSISTED: &str = "The browser may clear the journal when room gets short. \
        Put the app on the home screen, or exchange with the server often.";
    /// Heading of the server.
    pub const SERVER: &str = "Server";
    /// Field for the code.
    pub const CODE: &str = "Code from the server's screen";
    /// Its button.
    pub const PAIR: &str = "Pair this device";
    /// Exchange at once.
    pub const EXCHANGE: &str = "Exchange now";
    /// Version line.
    pub fn version(version: &str) -> String {
        format!("Combwright {version}")
    }
}

/// Where the entries are, in a few words for the bar.
pub fn link(link: &Link, waiting: usize) -> String {
    match link {
        Link::Unknown => "Kept on this device".to_owned(),
        Link::Busy => "Exchanging ..".to_owned(),
        Link::WithServer => "With the server".to_owned(),
        Link::HereOnly(_) if waiting == 0 => "Kept here, server not reached".to_owned(),
        Link::HereOnly(_) => format!("On this device only: {waiting}"),
    }
}

/// Why entries are on this device only, in a sentence.
pub fn why(why: &Why) -> String {
    match why {
        Why::NotReached => {
            "The server is not reached. Everything is kept here and goes over when it is back."
                .to_owned()
        }
        Why::Unpaired => {
            "This device is not paired with the server. Everything is kept here.".to_owned()
        }
        Why::Refused(words) => format!("The server refused: {words}. Everything is kept here."),
        Why::Storage(words) => words.clone(),
    }
}

/// What went wrong with the journal, and what to do.
pub fn journal_error(error: &JournalError) -> String {
    match error {
        JournalError::NotOpen => {
            "The journal is not open yet; nothing was written. Try again.".to_owned()
        }
        JournalError::Unavailable(_) => "This browser gives no place to keep the journal (a private \
            window, or storage is switched off). Nothing can be kept here: open the app in a normal window."
            .to_owned(),
        JournalError::Full => "There is no more room on this device. This entry was NOT kept. Free some \
            room (photos, other sites), then try again; what was kept before is safe and can be saved to a file."
            .to_owned(),
        JournalError::Newer => "The journal on this device was written by a newer version of the app. \
            Close all its tabs and open it again.".to_owned(),
        JournalError::Closed => "The browser closed the journal. This entry was NOT kept. Reload the page; \
            what was kept before is safe.".to_owned(),
        JournalError::Refused(why) => format!("Not written down: {why}."),
        JournalError::Record(why) => format!("Not written down: {why}."),
        JournalError::Line { line, why } => records::import_line(*line, &why.to_string()),
        JournalError::Conflict { id } => {
            format!("Another entry is here already as {id}. Nothing was taken in.")
        }
        JournalError::Browser(words) => {
            format!("The browser could not keep it ({words}). It was NOT kept; try again.")
        }
    }
}

/// A newer version of the app is ready.
pub const UPDATE_READY: &str = "A newer version is ready.";
/// Its button.
pub const UPDATE: &str = "Start it";
/// Pairing failed.
pub const WRONG_CODE: &str = "That is not the code. Compare it with the server's screen.";
/// Pairing worked.
pub const PAIRED: &str = "Paired.";
