//! What falls due: strips to be taken out, honey that may be taken again, reports still to be made.

use hive::Hive;
use hive::health::SignOnRecord;
use jiff::civil::Date;

use crate::condition::{Handling, condition};
use crate::withheld::{Cause, Until, Withheld, withholdings};

/// One thing that falls due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Due {
    /// What kind of thing.
    pub kind: DueKind,
    /// The entry that it follows from.
    pub entry: hive::EntryId,
    /// The day.
    pub day: Date,
    /// What, in a clause without the hive's name.
    pub words: String,
}

/// Kinds of due things.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DueKind {
    /// A sign that must or may have to be reported.
    Report,
    /// A treatment comes out.
    Removal,
    /// The last day on which honey is withheld is over.
    HoneyFree,
}

/// What falls due in a hive, by day. Things of the past are among them while nobody did them.
pub fn due(hive: &Hive, today: Date) -> Vec<Due> {
    let mut due: Vec<Due> = hive
        .signs_standing()
        .filter(|sign| sign.reports.is_empty() && may_need_report(sign))
        .map(|sign| Due {
            kind: DueKind::Report,
            entry: sign.when.entry,
            day: sign.sign.on,
            words: format!("{}: ask your local authority, report", sign.sign.condition),
        })
        .collect();
    due.extend(hive.treatments_on().filter_map(|treated| {
        let day = treated.given.planned_removal?;
        Some(Due {
            kind: DueKind::Removal,
            entry: treated.when.entry,
            day,
            words: format!("take {} out", treated.given.product),
        })
    }));
    let free = withholdings(hive).into_iter().filter_map(|withheld| {
        let Withheld {
            cause: Cause::Treatment,
            until: Until::Through { day: last },
            entry,
            ..
        } = withheld
        else {
            return None;
        };
        let product = &hive.treatment(entry)?.given.product;
        let day = last.tomorrow().ok()?;
        (day >= today).then(|| Due {
            kind: DueKind::HoneyFree,
            entry,
            day,
            words: format!("honey is no longer withheld after {product}"),
        })
    });
    due.extend(free);
    due.sort_by_key(|due| (due.day, due.kind));
    due
}

/// Whether a sign must be reported, or may have to be: the keeper has not found out that it need
/// not.
pub fn may_need_report(sign: &SignOnRecord) -> bool {
    let handling = condition(&sign.sign.condition).map(|condition| condition.handling);
    match sign.sign.notifiable {
        Some(notifiable) => notifiable,
        None => handling != Some(Handling::Tend),
    }
}
