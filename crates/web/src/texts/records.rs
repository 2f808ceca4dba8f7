//! The records screen.

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
/// How many of them are listed.
pub fn found(found: usize, all: usize) -> String {
    format!("{found} of {}", count(all))
}
/// Heading of the list.
pub const LATEST: &str = "Latest first";
/// Filter by hive.
pub const OF_HIVE: &str = "Hive";
/// Filter by subject.
pub const OF_SUBJECT: &str = "About";
/// No filter.
pub const ALL_HIVES: &str = "All hives and the yard";
/// Matters of the yard.
pub const THE_YARD: &str = "The yard";
/// Subjects, see `screens::records::subject::Subject::ALL`.
pub const SUBJECTS: [&str; 9] = [
    "Everything",
    "Visits",
    "Combs seen and decided",
    "Combs taken, bars moved",
    "Queens",
    "Mites, feeds, weather",
    "Notes",
    "Hives and places",
    "Taken back or corrected",
];
/// Nothing passes the filter.
pub const NONE_FOUND: &str = "Nothing of that kind is in the journal.";
/// More of the list.
pub const MORE: &str = "Show more";
/// The words it came from.
pub fn said(words: &str) -> String {
    format!("\u{201c}{words}\u{201d}")
}
/// It was taken back.
pub const TAKEN_BACK: &str = "Taken back";
/// It was corrected.
pub const CORRECTED: &str = "Corrected";
/// More of it was told, or told otherwise, while the visit went on.
pub const TOLD_ANEW: &str = "Told anew at the hive";
/// An entry by which that was written down.
pub fn told_anew(told: &str) -> String {
    format!("told anew: {told}")
}
/// What it said before, and the words that that came from.
pub fn before(words: &str, from: Option<&str>) -> String {
    let from = from.map(|from| format!(" {}", said(from)));
    format!("Written as: {words}{}", from.unwrap_or_default())
}
/// It was matched to another bar since.
pub fn first_put_to(bar: u32) -> String {
    format!("First taken for bar {bar}")
}
/// A correction by which an entry went to another bar, and what it says now.
pub fn put_to_another(from: u32, to: u32, told: &str) -> String {
    format!("the comb taken for bar {from} is bar {to}; now {told}")
}
/// Opens the choices on an entry.
pub const CHANGE: &str = "Correct or take back";
/// How.
pub const CHANGE_HINT: &str =
    "Tap an entry to correct it or take it back. Nothing is ever overwritten.";
/// Of a day, a hive, a person: what stands above their entries.
pub fn heading(day: &str, hive: Option<&str>, by: &str) -> String {
    format!("{day}, {}, by {by}", hive.unwrap_or(THE_YARD))
}
/// Takes an entry back.
pub const TAKE_BACK: &str = "Take it back";
/// Lets an entry stand again.
pub const STAND_AGAIN: &str = "Let it stand again";
/// Saves a correction.
pub const CORRECT: &str = "Save the correction";
/// When the kind has no form.
pub const NO_FORM: &str = "An entry of this kind is taken back and said anew.";
/// Nothing was changed.
pub const SAME: &str = "That is what it says already.";
/// Takes the last act back.
pub const UNDO: &str = "Take back the last act";
/// Nothing to take back.
pub const UNDO_OF: &str = "Choose a hive above to take back its last act.";
/// What was taken back.
pub fn undone(words: &str) -> String {
    format!("Taken back: {words}.")
}
/// Heading of faults.
pub fn faults(count: usize) -> String {
    if count == 1 {
        "1 entry could not be taken quite as written".to_owned()
    } else {
        format!("{count} entries could not be taken quite as written")
    }
}
/// What faults are.
pub const FAULTS_HINT: &str =
    "They are kept. A correction, or an entry that is still to come, may mend them.";

/// A field of a correction.
pub mod field {
    use crate::preferences::Units;

    /// A bar's number.
    pub const BAR: &str = "Bar";
    /// Text.
    pub const TEXT: &str = "Text";
    /// A name.
    pub const NAME: &str = "Name";
    /// Why.
    pub const WHY: &str = "Why";
    /// A count.
    pub const COUNT: &str = "How many";
    /// Mites.
    pub const MITES: &str = "Mites";
    /// Bees.
    pub const BEES: &str = "Bees in the sample";
    /// Food.
    pub const FOOD: &str = "Food";
    /// Litres.
    pub const LITRES: &str = "Litres";
    /// Mass.
    pub const MASS: &str = "Mass";
    /// Temperature.
    pub const fn temperature(units: Units) -> &'static str {
        match units {
            Units::Metric => "Degrees C",
            Units::Inches => "Degrees F",
        }
    }
    /// Weather.
    pub const WEATHER: &str = "Sky, wind, rain";
    /// A decision.
    pub const DECISION: &str = "Decided";
    /// A harvest.
    pub const HARVEST: &str = "What became of it";
    /// Capped share of the honey, one face.
    pub const LEFT_CAPPED: &str = "Left-facing side, honey capped, per cent";
    /// The other.
    pub const RIGHT_CAPPED: &str = "Right-facing side, honey capped, per cent";
    /// Whether the comb holds something.
    pub fn holds(what: &str) -> String {
        // "unripe" by itself names nothing
        let of = if what == "unripe" { " honey" } else { "" };
        format!("Holds {what}{of}")
    }
    /// Words are missing.
    pub fn needs_words(field: &str) -> String {
        format!("{field}: some words are needed.")
    }
    /// No whole number.
    pub fn no_count(field: &str) -> String {
        format!("{field}: a whole number, 0 or more, is needed.")
    }
    /// No figure.
    pub fn no_figure(field: &str) -> String {
        format!("{field}: a number, 0 or more. Empty means not said.")
    }
    /// No number at all.
    pub fn no_number(field: &str) -> String {
        format!("{field}: this is no number. Empty means not said.")
    }
    /// No share.
    pub fn no_share(field: &str) -> String {
        format!("{field}: from 0 to 100. Empty means not said.")
    }
    /// No such bar.
    pub fn no_bar(there: &str) -> String {
        if there.is_empty() {
            format!("{BAR}: this hive has no such bar.")
        } else {
            format!("{BAR}: this hive has the bars {there}.")
        }
    }
    /// A share of a face that was said.
    pub fn share(left: bool, what: &str) -> String {
        let side = if left { "Left" } else { "Right" };
        format!("{side}-facing side, {what}, per cent")
    }
}

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
/// While it reads.
pub const READING: &str = "Reading the file ..";
/// When nothing is in the file.
pub const IMPORT_EMPTY: &str = "Nothing was taken in: the file is empty.";
/// When lines cannot be read.
pub fn import_line(line: usize, why: &str) -> String {
    format!("Nothing was taken in. Line {line}: {why}.")
}
/// Rows that the browser gave back unreadable.
pub fn damaged(count: usize) -> String {
    format!("{count} kept entries cannot be read. Save all entries to a file: it holds them too.")
}
/// Heading and button of the proof.
pub const VERIFY: &str = "Prove every entry";
/// What it does.
pub const VERIFY_HINT: &str = "Each entry carries a hash over its text and the entry before it. This \
    computes all of them again on this device.";
/// While it runs.
pub const VERIFYING: &str = "Computing ..";
/// All well.
pub fn sound(records: usize, devices: usize) -> String {
    let devices = if devices == 1 {
        "1 device".to_owned()
    } else {
        format!("{devices} devices")
    };
    format!(
        "{} of {devices} proved: each is as it was written.",
        count(records)
    )
}
/// Something is not right.
pub fn unsound(changed: usize, gaps: usize, forks: usize) -> String {
    let mut parts = Vec::new();
    if changed > 0 {
        parts.push(format!(
            "{changed} changed after they were written: take in a sound copy from a file or the server"
        ));
    }
    if gaps > 0 {
        parts.push(format!(
            "{gaps} missing between others: they come with the next exchange or a file of that device"
        ));
    }
    if forks > 0 {
        parts.push(format!(
            "{forks} numbers written twice by one device (a copied profile): both are kept"
        ));
    }
    format!("{}.", parts.join("; "))
}
