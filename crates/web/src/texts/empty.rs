//! Empty states: what is missing and what comes next.

/// Apiary without hives.
pub const APIARY: [&str; 2] = [
    "No hive yet",
    "Once a hive is in the journal it stands here with what it needs next.",
];
/// A choice of hives where there is none.
pub const NO_HIVE: [&str; 2] = [
    "No hive yet",
    "Set up the first one, then open a visit and talk. It works without a network.",
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
/// A part of the app that could not be fetched.
pub const NOT_FETCHED: [&str; 2] = [
    "This part of the app is not here",
    "It could not be fetched. What was kept is safe, and visits go on without it. Try again when there is a network.",
];
/// Leads back.
pub const TO_APIARY: &str = "To the apiary";
