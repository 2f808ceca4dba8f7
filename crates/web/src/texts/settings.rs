//! The settings screen.

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
/// Exchange at once.
pub const EXCHANGE: &str = "Exchange now";
/// Version line.
pub fn version(version: &str) -> String {
    format!("Combwright {version}")
}

/// Heading of units.
pub const UNITS: &str = "Units";
/// The choice of them.
pub const UNITS_ASK: &str = "Measures are typed and shown in";
/// The choices, in the order of `preferences::Units::ALL`.
pub const UNITS_CHOICES: [&str; 2] = ["Millimetres and kilograms", "Inches and pounds"];
/// Heading of the voice.
pub const VOICE: &str = "Voice at the visit";
/// Spoken answers.
pub const SPOKEN: &str = "Answers are spoken";
/// Sounds.
pub const SOUNDS: &str = "Short sounds confirm what was understood";
/// Recording.
pub const RECORDED: &str = "The visit's sound is kept on this device, to hear a lost word again";
/// The English listened for and spoken.
pub const ENGLISH: &str = "The English you speak";
/// By their tags, in the order of `preferences::ENGLISH`.
pub const ENGLISH_NAMES: [&str; 8] = [
    "Australia",
    "Canada",
    "India",
    "Ireland",
    "New Zealand",
    "South Africa",
    "United Kingdom",
    "United States",
];
/// Where speech goes.
pub const VOICE_HINT: &str = "Some browsers send speech to a service to be understood. Where that is not wanted, use the keyboard's own dictation key or tap.";
/// Heading of places.
pub const PLACES: &str = "Apiaries";
/// None yet.
pub const NO_PLACES: &str =
    "No apiary is told yet. A place's winter sets how many combs must stay.";
/// A new one.
pub const NEW_PLACE: &str = "New apiary";
/// Saves it.
pub const KEEP_PLACE: &str = "Keep this apiary";
/// Heading of what must stay.
pub const RULES: &str = "What must stay, and when a comb is ripe";
/// For which hive.
pub const FOR_HIVE: &str = "For";
/// All living hives.
pub const ALL_HIVES: &str = "All living hives";
/// No hive yet.
pub const NO_HIVES: &str = "Set up a hive first; then what must stay in it is settled here.";
/// The reserve.
pub const RESERVE: &str = "What must stay";
/// By the rule of thumb.
pub const BY_THUMB: &str = "The rule of thumb for its winter";
/// In combs.
pub const IN_COMBS: &str = "Full combs";
/// By mass.
pub const BY_MASS: &str = "Honey";
/// How much.
pub const HOW_MUCH: &str = "How much";
/// Ripeness.
pub const RIPE: &str =
    "A comb counts as ripe when its honey is capped, both sides taken together, to";
/// The choices: two thirds to three quarters.
pub const RIPE_CHOICES: [(&str, f64); 3] = [
    ("two thirds", 2.0 / 3.0),
    ("70 per cent", 0.70),
    ("three quarters", 0.75),
];
/// Saves the rules.
pub const KEEP_RULES: &str = "Keep these rules";
/// What is settled now.
pub fn rules_now(reserve: &str, ripe: &str) -> String {
    format!("Now: {reserve} must stay; ripe from {ripe} capped.")
}
/// Different per hive.
pub const RULES_DIFFER: &str = "The hives differ; keeping these rules makes them alike.";
/// Nothing was changed.
pub const RULES_SAME: &str = "They are settled so already.";
/// A figure is wrong.
pub const NO_FIGURE: &str = "Give a number above 0.";
/// Heading of the trips.
pub const TRIPS: &str = "Returns";
/// How many combs make a trip worth it.
pub const WORTH: &str = "Ripe combs that make a trip worth it";
/// Out of range.
pub fn worth_range(most: usize) -> String {
    format!("A whole number from 1 to {most}.")
}
/// How nectar comes in.
pub const NECTAR: &str = "Nectar comes in";
/// The choices.
pub const NECTAR_CHOICES: [&str; 3] = ["well", "thinly", "hardly"];
