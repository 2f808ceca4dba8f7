//! The screen of one hive.

use hive::Lies;
use jiff::civil::Date;

use super::days;

/// No hive chosen.
pub const CHOOSE: &str = "Which hive?";
/// Hives that have ended.
pub const ENDED: &str = "Ended";
/// The journal has no such hive.
pub const GONE: [&str; 2] = [
    "This hive is not on this device",
    "Exchange with the server, or take in its journal from a file.",
];
/// Heading of the section through time.
pub const SECTION: &str = "The hive on";
/// The slider.
pub const SLIDER: &str = "Day";
/// Jumps to the day before on which something happened.
pub const EARLIER: &str = "Earlier";
/// Jumps to the day after on which something happened.
pub const LATER: &str = "Later";
/// Back to now.
pub const NOW: &str = "Now";
/// Under the slider.
pub const SLIDER_HINT: &str = "Slide through time; the buttons go from one day with a record to the next. \
    Later corrections count.";
/// Before the hive began.
pub fn began(day: Date) -> String {
    format!("Begun {}.", days::day_and_year(day))
}
/// The combs' buttons.
pub const COMBS: &str = "One comb's life";
/// How.
pub const COMBS_HINT: &str = "Tap a comb in the picture, or its number here.";
/// A bar's button for those who hear the page.
pub fn bar(number: u32) -> String {
    format!("Bar {number}")
}
/// Heading of a life.
pub fn life(number: u32, lies: Lies) -> String {
    format!("Bar {number} {}", lies.words())
}
/// Its history.
pub const HISTORY: &str = "What happened to it";
/// A place in the row.
pub fn place(place: u32) -> String {
    format!("place {place}")
}
/// What advice says of it.
pub const ADVICE: &str = "Now";
/// Closes a life.
pub const CLOSE: &str = "Close";
/// Stores.
pub const STORES: &str = "Stores and reserve today";
/// Under it while the picture shows another day.
pub fn of_today(today: &str) -> String {
    format!("As of today, {today}, not of the day in the picture.")
}
/// Nothing was looked at.
pub const UNKNOWN: &str = "No comb was looked at yet, so nothing counts toward the reserve.";
/// Verdicts on the account.
pub const COVERED: &str = "The reserve is covered.";
/// Likely.
pub const LIKELY: &str =
    "The reserve is likely covered; the low end of the judged weights is under it.";
/// Combs that nobody looked at may cover it.
pub fn not_known(unseen: &str, least: &str, most: &str) -> String {
    format!(
        "Not known whether the reserve is covered: {unseen} not looked at. At least {least}, at most {most}."
    )
}
/// Likely short.
pub const LIKELY_SHORT: &str =
    "The reserve is likely NOT covered; only the high end of the judged weights reaches it.";
/// Short.
pub const SHORT: &str = "The reserve is NOT covered.";
/// Rows of the account.
pub const THERE: &str = "Honey there";
/// Of it capped.
pub const CAPPED: &str = "of it capped";
/// Open honey soon ripe.
pub const SOON: &str = "open now, likely ripe in two weeks";
/// What must stay.
pub const RESERVE: &str = "Must stay";
/// The season model's word beside it.
pub const MODEL: &str = "The season model asks for";
/// Its figures, and the rule of thumb beside it.
pub fn model(mass: &str, combs: &str, sure: f64, until: Date, thumb: &str) -> String {
    format!(
        "{mass} ({combs}) to live to {} in {sure:.0} of 100 years of this place's weather; the rule of \
         thumb is {thumb} (common practice, no source)",
        days::day_and_year(until)
    )
}
/// One comb.
pub const ORDINARY: &str = "An ordinary full comb here";
/// Not counted.
pub fn not_looked_at(bars: &str) -> String {
    format!("Not looked at, not counted: bar {bars}.")
}
/// What may be taken.
pub fn may_take(bars: &str) -> String {
    if bars.is_empty() {
        "No comb may be taken now.".to_owned()
    } else {
        format!("May be taken, outermost first: bar {bars}.")
    }
}
/// Each comb's honey.
pub const EACH: &str = "Comb by comb";
/// Heads of that table.
pub const EACH_HEADS: [&str; 3] = ["Bar", "Honey", "Looked at"];
/// A range of masses.
pub fn range(best: &str, low: &str, high: &str) -> String {
    format!("{best} ({low} to {high})")
}
/// The return.
pub const RETURN: &str = "Next return";
/// Puts it into the calendar.
pub const CALENDAR: &str = "Save it for the calendar";
/// The calendar entry.
pub fn come_back(hive: &str) -> String {
    format!("{hive}: come back for honey")
}
/// Visits.
pub const VISITS: &str = "Visits";
/// What tapping one does.
pub const VISITS_HINT: &str = "Tap one to see the hive as it stood that evening.";
/// None.
pub const NO_VISITS: &str = "No visit yet.";
/// One visit in a line.
pub fn visit(seen: usize, taken: usize, by: &str) -> String {
    let combs = |n: usize| {
        if n == 1 {
            "1 comb".to_owned()
        } else {
            format!("{n} combs")
        }
    };
    format!("{} seen, {taken} taken, by {by}", combs(seen))
}
/// A visit that was not closed.
pub const STILL_OPEN: &str = "not closed";
/// Looks at the hive on that day.
pub const SHOW_DAY: &str = "Show that day";
/// Queen, mites, feed.
pub const QUEEN: &str = "Queen, mites, feed";
/// Nothing of it.
pub const NO_QUEEN: &str = "No queen, cell, wash or feed is noted yet.";
/// The queen was seen.
pub fn queen_seen(bar: Option<u32>) -> String {
    match bar {
        Some(bar) => format!("Queen seen on bar {bar}"),
        None => "Queen seen".to_owned(),
    }
}
/// Cells were counted.
pub fn queen_cells(count: u32, bar: Option<u32>) -> String {
    let on = bar.map_or_else(String::new, |bar| format!(" on bar {bar}"));
    match count {
        0 => "Looked for queen cells, found none".to_owned(),
        1 => format!("1 queen cell{on}"),
        count => format!("{count} queen cells{on}"),
    }
}
/// A wash.
pub fn wash(mites: u32, bees: u32) -> String {
    let rate = f64::from(mites) * 100.0 / f64::from(bees.max(1));
    format!("Mite wash: {mites} in {bees} bees, {rate:.1} in a hundred")
}
/// A feed.
pub fn fed(food: &str, litres: Option<f64>, mass: Option<String>) -> String {
    let amount = litres
        .map(|l| format!("{l:.1} l of "))
        .or(mass.map(|m| format!("{m} of ")));
    format!("Fed {}{food}", amount.unwrap_or_default())
}
/// A threshold is a local matter.
pub const HEALTH_HINT: &str = "Thresholds and products: your local authority and the product label decide. \
    Disease suspected: close up, move no comb, report.";
/// Notes.
pub const NOTES: &str = "Notes";
/// Write one.
pub const NOTE: &str = "Note for this hive";
/// Its button.
pub const WRITE: &str = "Write it down";
/// The body.
pub const BODY: &str = "Body and place";
/// Its measures.
pub fn body(name: &str, length: &str, bars: usize) -> String {
    super::sentence(&format!("{name}; {length} long inside, {bars} bars"))
}
/// Where it stands.
pub fn stands(apiary: Option<&str>) -> String {
    apiary.map_or_else(
        || "Its apiary is not told.".to_owned(),
        |apiary| format!("Stands in {apiary}."),
    )
}
/// Changes.
pub const CHANGE: &str = "Rename, move or end this hive";
/// Rename.
pub const NEW_NAME: &str = "Another name";
/// Its button.
pub const RENAME: &str = "Rename";
/// Move.
pub const MOVE_TO: &str = "Stands from now on in";
/// Its button.
pub const MOVE: &str = "Move";
/// End.
pub const WHY: &str = "Why it ends (died, sold, joined)";
/// Its button.
pub const END: &str = "End this hive";
/// It has ended.
pub fn ended(day: Date, why: &str) -> String {
    format!(
        "Ended {}: {why}. Its record is kept.",
        days::day_and_year(day)
    )
}
/// Prints the screen.
pub const PRINT: &str = "Print this page";
/// Leads to the season.
pub const SEASON: &str = "The season ahead";
