//! The apiary screen.

use comb::Temperature;

use super::days;
use crate::preferences::Units;

/// Nothing there yet.
pub const EMPTY: [&str; 2] = [
    "No hive yet",
    "Set up the first one: its body drawn to scale, its bars, where it stands. Then open a visit and \
     talk.",
];
/// Leads to the form.
pub const NEW_HIVE: &str = "New hive";
/// Another way to begin.
pub const OR_IMPORT: &str = "Take in a journal from a file";
/// Heading of hives that stand in no apiary.
pub const NO_APIARY: &str = "In no apiary";
/// Heading of the days ahead.
pub const DAYS: &str = "Days to open hives";
/// Opens the explanation.
pub const DAYS_HEAD: &str = "Which days suit";
/// How to use them.
pub const DAYS_HINT: &str = "Tap the days that the forecast you trust calls mild, dry and still. They stay \
    on this device, and returns are moved into them.";
/// The next good window.
pub fn next_good(day: Option<jiff::civil::Date>, today: jiff::civil::Date) -> String {
    match day {
        Some(day) if day == today => "Next good day: today.".to_owned(),
        Some(day) => format!("Next good day: {}.", days::day(day)),
        None => "No day is marked yet.".to_owned(),
    }
}
/// The limits by which a day is good.
pub fn limits([open, brood, cut]: [Temperature; 3], units: Units) -> String {
    let [open, brood, cut] = [open, brood, cut].map(|limit| units.temperature_words(limit));
    format!(
        "Open from {open}, lift brood combs from {brood}, cut and shake no comb from {cut}. On a declared fire-danger day ask the local authority before you light a smoker."
    )
}
/// Combs and stores in one line.
pub fn stores(combs: usize, there: &str, needed: &str) -> String {
    let combs = if combs == 1 {
        "1 comb".to_owned()
    } else {
        format!("{combs} combs")
    };
    format!("{combs}. Stores {there}, {needed} must stay.")
}
/// When the hive was visited.
pub fn visited(days: Option<i32>) -> String {
    days.map_or_else(
        || "Not visited yet.".to_owned(),
        |days| format!("Visited {}.", days::ago(days)),
    )
}
/// When nothing presses.
pub const NOTHING: &str =
    "Nothing presses. At the next visit: food, space, brood, queen or eggs, mites.";
/// The same in a list.
pub const NOTHING_SHORT: &str = "nothing presses";
/// Opens the list of many hives.
pub fn glance(hives: usize) -> String {
    format!("All {hives} hives at a glance, the most pressing first")
}
/// Opens the visit.
pub const OPEN_VISIT: &str = "Open the visit";
/// Goes on with an open visit.
pub const GO_ON: &str = "Go on with the visit";
/// Leads to the hive's own screen.
pub const LOOK: &str = "Its record";
/// What to carry.
pub const CARRY: &str = "What to carry";
/// Advice failed.
pub fn no_advice(why: &str) -> String {
    format!("No advice on this hive: {why}. Arrange its bars anew at the next visit.")
}
/// Faults of the fold.
pub fn faults(count: usize) -> String {
    if count == 1 {
        "1 entry could not be applied; Records shows it.".to_owned()
    } else {
        format!("{count} entries could not be applied; Records shows them.")
    }
}
/// The safety lines.
pub const SAFETY: &str = "Before you go";
