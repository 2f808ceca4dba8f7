//! What a feed means for the honey that is taken after it.
//!
//! Honey is made of nectar or of what insects leave on plants (Codex Stan 12-1981, 2.1); what bees
//! store of syrup is not.

use hive::Hive;
use jiff::{Span, Timestamp};

use crate::opening::{Caution, Weight};
use crate::returning::Ahead;

/// For so long after a feed combs are told apart. Common practice, no source.
pub const FED_DAYS: i64 = 90;

/// A word on the last feed, while it is recent; no more than a word, since nobody knows which comb holds
/// it.
pub fn feed_caution(hive: &Hive, ahead: &Ahead) -> Option<Caution> {
    let given = hive.feeds.iter().filter(|fed| fed.when.at <= ahead.now);
    let last = given.max_by_key(|fed| fed.when.at)?;
    let days = days_between(last.when.at, ahead.now);
    if days > FED_DAYS {
        return None;
    }
    let day = ahead
        .today
        .checked_sub(Span::new().try_days(days).ok()?)
        .ok()?;
    let text = format!(
        "fed {} on {day}: comb filled since then may hold feed, which is not honey",
        last.food
    );
    Some(Caution::plain(Weight::Caution, text))
}

fn days_between(from: Timestamp, to: Timestamp) -> i64 {
    (to.as_second() - from.as_second()) / 86_400
}
