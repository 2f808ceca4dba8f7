//! The sound of visits.

/// Records visits.
pub const RECORD: &str = "Record the sound while listening (stays on this device)";
/// While it is recorded.
pub const RUNNING: &str = "The sound is being recorded.";
/// Plays what was said there.
pub fn hear(phrase: &str) -> String {
    format!("Hear again: {phrase}")
}
/// Heading of what is kept.
pub const KEPT: &str = "Sound kept on this device";
/// The sound of one visit.
pub fn of_visit(when: &str, minutes: f64, megabytes: f64) -> String {
    format!("{when}: {minutes:.0} min, {megabytes:.1} MB")
}
/// Deletes the sound of a visit.
pub const DELETE: &str = "Delete";
/// For those who hear the page.
pub fn delete(when: &str) -> String {
    format!("Delete the sound of {when}")
}
/// Recording did not begin.
pub fn not_recorded(why: &str) -> String {
    format!("The sound is not recorded: {why}. Words are heard all the same.")
}
/// Recognising and recording do not go together here.
pub const ONE_AT_A_TIME: &str = "This device gives the microphone to one at a time, so the sound is no longer recorded while it listens. Tick it to try again.";
/// A piece could not be kept.
pub fn not_kept(why: &str) -> String {
    format!(
        "The sound could not be kept ({why}); recording has stopped. The record is not touched by it."
    )
}
/// A piece could not be played.
pub fn not_played(why: &str) -> String {
    format!("It cannot be played: {why}.")
}
/// The sound could not be deleted.
pub fn not_deleted(why: &str) -> String {
    format!("It could not be deleted: {why}. Try again.")
}
