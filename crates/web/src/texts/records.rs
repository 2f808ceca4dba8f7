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
    format!("{count} kept entries cannot be read. Save all entries to a file: it holds them too.")
}
