//! Whether these words were recorded already: a file given twice would take the same combs twice.

use std::collections::BTreeSet;

use hive::{Hive, Visit, Yard};
use jiff::{SignedDuration, ZonedDateTime};
use talk::record::Recording;

/// After this the same words are another visit that went as the one before (our own choice).
const WEEK: SignedDuration = SignedDuration::from_hours(7 * 24);

/// The same where no comb was met: a feed is told in the same words day after day.
const HOUR: SignedDuration = SignedDuration::from_hours(1);

/// When the same words were recorded for this hive, for a visit shortly before or after this one. A visit that
/// was taken back does not count; one of which a little was, does.
pub(super) fn recorded_already(
    recording: &Recording,
    yard: &Yard,
    hive: &Hive,
    when: &ZonedDateTime,
) -> Option<ZonedDateTime> {
    let drafts = recording.drafts.iter();
    let said: BTreeSet<&str> = drafts.filter_map(|draft| draft.said.as_deref()).collect();
    let same = |visit: &&Visit| {
        let short = if visit.met.is_empty() { HOUR } else { WEEK };
        let apart = when.timestamp().duration_since(visit.opened).abs();
        let entries = visit.entries.iter().filter_map(|id| yard.entry(*id));
        let before: BTreeSet<&str> = entries.filter_map(|e| e.said.as_deref()).collect();
        let most = !before.is_empty() && before.len() * 4 >= said.len() * 3;
        apart <= short && most && before.is_subset(&said)
    };
    let visit = hive.visits.iter().rev().find(same)?;
    let recorded = yard.entry(visit.id)?.recorded;
    Some(recorded.to_zoned_datetime(when.time_zone().clone()))
}
