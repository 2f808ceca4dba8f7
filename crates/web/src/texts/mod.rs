//! Every English word that the app shows, in one place.

use exchange::LineFault;

use crate::journal::{JournalError, Link, Why};
use crate::route::Route;

// a file a screen
pub mod apiary;
pub mod closing_up;
pub mod days;
pub mod empty;
pub mod health;
pub mod hive;
pub mod honey_house;
pub mod new_hive;
pub mod pairing;
pub mod records;
pub mod season;
pub mod settings;
pub mod sound;
pub mod visit;
pub mod voice;

/// The name on the tab and in the bar.
pub const APP: &str = "Combwright";
/// For those who hear the page.
pub const SKIP_TO_CONTENT: &str = "Skip to the content";
/// The navigation's name.
pub const NAVIGATION: &str = "Screens";
/// While the journal is opened.
pub const OPENING: &str = "Opening the journal ..";

/// While a part of the app is fetched.
pub const FETCHING: &str = "Fetching this part of the app ..";
/// Fetches it again.
pub const FETCH_AGAIN: &str = "Try again";

/// A screen's name.
pub const fn screen(route: Route) -> &'static str {
    match route {
        Route::Apiary => "Apiary",
        Route::Visit(_) => "Visit",
        Route::ClosingUp(_) => "Closing up",
        Route::Hive(_) => "Hive",
        Route::HoneyHouse => honey_house::TITLE,
        Route::Lot(_) => honey_house::LOT_TITLE,
        Route::NewHive => new_hive::TITLE,
        Route::Season(_) => season::TITLE,
        Route::Records => "Records",
        Route::Settings => "Settings",
        Route::Unknown => "Nothing here",
    }
}

/// Where the entries are, in a few words for the bar.
pub fn link(link: &Link, waiting: usize) -> String {
    match link {
        Link::Unknown => "Kept on this device".to_owned(),
        Link::Busy => "Exchanging ..".to_owned(),
        Link::WithServer => "With the server".to_owned(),
        Link::HereOnly(Why::Another) => "Another journal at the server".to_owned(),
        Link::HereOnly(Why::Unpaired) if waiting == 0 => "Not paired with the server".to_owned(),
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
            "This device is not paired with the server, or no longer. Everything is kept here."
                .to_owned()
        }
        Why::Another => ANOTHER.to_owned(),
        Why::Refused(words) => {
            let words = words.trim_end_matches('.');
            format!("The server refused: {words}. Everything is kept here.")
        }
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
        JournalError::Line {
            why: LineFault::Empty,
            ..
        } => records::IMPORT_EMPTY.to_owned(),
        JournalError::Line { line, why } => records::import_line(*line, &why.to_string()),
        JournalError::Conflict { id } => {
            format!("Another entry is here already as {id}. Nothing was taken in.")
        }
        JournalError::Browser(words) => {
            format!("The browser could not keep it ({words}). It was NOT kept; try again.")
        }
    }
}

pub use paper::told::sentence;

/// The server has another journal than this device.
pub const ANOTHER: &str = "The server at this address keeps another journal than this device. Nothing was \
    sent to it and nothing was taken from it; everything is kept here.";
/// What can be done about it.
pub const ANOTHER_MORE: &str = "Most likely it was started with another data folder. Start it with the folder \
    of this journal, and the exchange goes on by itself. If that folder is lost, or both journals shall be one, \
    join them.";
/// The way to a copy.
pub const ANOTHER_EXPORT: &str = "Save this journal to a file first (Records)";
/// Asks for it.
pub const JOIN: &str = "Join the two journals ..";
/// Before it is done.
pub const JOIN_SURE: &str = "Everything of this device goes to the server, everything of the server comes to \
    this device and to all others that exchange with it. It cannot be undone.";
/// Does it.
pub const JOIN_NOW: &str = "Join them for good";
/// Does it not.
pub const JOIN_NOT: &str = "Keep them apart";

/// A newer version of the app is ready.
pub const UPDATE_READY: &str = "A newer version is ready.";
/// Its button.
pub const UPDATE: &str = "Start it";
