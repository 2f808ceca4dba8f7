//! Closing up.

use crate::preferences::Units;

/// Said when the looking ends.
pub const BEGINS: &str = "Closing up.";
/// Nothing was said or done yet.
pub const NOTHING_TO_CLOSE: &str = "Nothing to close yet. Which end do you open?";
/// In the field for a phrase.
pub const PHRASE_EXAMPLE: &str = "done, back, again, undo";
/// A phrase that is no word for the closing and says nothing about the hive.
pub const NO_WORD: &str = "not understood; say done, back, again or undo";
/// A ticked step taken back.
pub fn unticked(nth: usize, step: &str) -> String {
    format!("Taken back: step {nth} is to do again. {step}")
}
/// An end closed in an order.
pub const fn order_of(end: hive::entry::End) -> &'static str {
    match end {
        hive::entry::End::Left => "the left end as closed",
        hive::entry::End::Right => "the right end as closed",
    }
}
/// The end of the visit.
pub const END_OF_VISIT: &str = "the end of the visit";
/// What to mind before closing.
pub const BEFORE: &str = "Before you close";
/// Heading of the step to be done.
pub fn step(nth: usize, of: usize) -> String {
    format!("Step {nth} of {of}")
}
/// Done, on to the next.
pub const DONE: &str = "Done";
/// Under it.
pub const DONE_MORE: &str = "or say \"done\"";
/// One step back.
pub const BACK: &str = "Back";
/// Say it again.
pub const AGAIN: &str = "Again";
/// An end, in words.
pub const fn end(end: hive::entry::End) -> &'static str {
    match end {
        hive::entry::End::Left => "Closing the left end",
        hive::entry::End::Right => "Closing the right end",
    }
}
/// From which bar outward.
pub fn from_bar(bar: u32) -> String {
    format!("From bar {bar} outward; nothing further in is moved.")
}
/// All steps done.
pub const ALL_DONE: &str = "All steps are done. The follower board is in?";
/// Records the end as closed.
pub const CLOSED_SO: &str = "Closed like this";
/// The keeper closes in another order.
pub const OTHERWISE: &str = "I close it differently";
/// Over the keeper's own order.
pub const OWN_ORDER: &str = "Your order, from the nest outward";
/// Moves a piece inward.
pub fn inward(piece: &str) -> String {
    format!("{piece}: one place toward the nest")
}
/// Moves a piece outward.
pub fn outward(piece: &str) -> String {
    format!("{piece}: one place away from the nest")
}
/// What speaks against the keeper's own order.
pub fn mind(caution: &str) -> String {
    format!("Mind: {caution}.")
}
/// Records the keeper's own order.
pub const KEEP_ORDER: &str = "Closed in this order";
/// Back to the plan.
pub const TO_PLAN: &str = "Back to the plan";
/// A bar in the keeper's own order.
pub fn bar(number: u32, hangs: &str) -> String {
    format!("bar {number} ({hangs})")
}
/// What hangs.
pub const COMB: &str = "comb";
/// What hangs.
pub const CUT: &str = "cut";
/// What hangs.
pub const EMPTY: &str = "empty";
/// The follower board.
pub const FOLLOWER: &str = "follower board";
/// A shim.
pub fn shim(width: &str) -> String {
    format!("shim {width}")
}
/// Why it does not close.
pub fn impossible(why: &str) -> String {
    format!("No order closes it with what is at hand: {why}.")
}
/// Field of shims at hand.
pub const fn shims(units: Units) -> &'static str {
    match units {
        Units::Metric => "Shims at hand, mm",
        Units::Inches => "Shims at hand, inches",
    }
}
/// In the field.
pub const fn shims_example(units: Units) -> &'static str {
    match units {
        Units::Metric => "3 5 8 10",
        Units::Inches => "1/8 3/16 1/4 3/8",
    }
}
/// A word in the field that is no shim.
pub fn no_shim(word: &str, units: Units) -> String {
    let write = match units {
        Units::Metric => "whole millimetres from 1 to 200, as 3 5 8",
        Units::Inches => "inches from 1/16 to 7 3/4, as 1/8 1/4 0.5",
    };
    format!("\"{word}\" is no shim: write {write}. The plan stays.")
}
/// Its button.
pub const PLAN_ANEW: &str = "Plan again";
/// What was assumed.
pub fn assumed(what: &str) -> String {
    format!("Assumed: {what}.")
}
/// Ends the visit without an order of bars.
pub const AS_IT_STANDS: &str = "Close as it stands";
/// Nothing was moved.
pub const NOTHING_MOVED: &str =
    "Nothing to set in order here: put the follower board back and close the lid.";
/// Every end that was opened is recorded as closed.
pub fn recorded(ends: &[hive::entry::End]) -> String {
    let which = match ends {
        [hive::entry::End::Left] => "the left end is",
        [hive::entry::End::Right] => "the right end is",
        _ => "both ends are",
    };
    format!("Recorded: {which} closed. Close the lid, then say \"done\".")
}
/// Ends the visit after that.
pub const LID_ON: &str = "The lid is on";
/// Back to the combs.
pub const TO_VISIT: &str = "Back to the combs";
/// After the closing.
pub const CLOSED: &str = "Closed and recorded.";
/// Takes the end of the visit back.
pub const OPEN_AGAIN: &str = "Undo: not closed yet";
/// Heading of the return.
pub const RETURN: &str = "Come back";
/// Without a day.
pub const NO_DAY: &str = "No day is proposed.";
/// Saves the day.
pub const CALENDAR: &str = "Save to the calendar";
/// What is due, in the calendar.
pub fn due(hive: &str) -> String {
    format!("{hive}: come back for honey")
}
/// After saving.
pub const SAVED: &str = "Saved as a calendar file.";
/// A plan that cannot be asked.
pub fn no_plan(why: &str) -> String {
    format!("No plan can be made: {why}.")
}
/// Leads to the hive that combs went to.
pub fn to_hive(name: Option<&str>) -> String {
    name.map_or_else(|| "To that hive".to_owned(), |name| format!("To {name}"))
}
/// Leads to where the combs wait.
pub const TO_HONEY_HOUSE: &str = "The combs taken wait in the honey house";
