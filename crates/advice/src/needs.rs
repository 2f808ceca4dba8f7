//! What a hive needs next, and why.

use health::due::{DueKind, due};
use hive::numbers::ranges;
use hive::{Hive, HiveId, Yard};
use jiff::civil::Date;
use jiff::{Timestamp, ZonedDateTime};
use serde::Serialize;

use crate::advise::Advice;
use crate::returning::ripening_words;
use crate::stores::{Standing, StoresAccount};
use crate::taking::Combs;

/// One hive in the overview of a yard.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Needs {
    /// Which hive.
    pub hive: HiveId,
    /// Its name.
    pub name: String,
    /// Its apiary's name.
    pub apiary: Option<String>,
    /// The day of the latest visit.
    pub last_visit: Option<Date>,
    /// Days since then.
    pub days_since_visit: Option<i32>,
    /// Bars in the row.
    pub bars: usize,
    /// Those that bear a comb.
    pub combs: usize,
    /// Numbers of the bars that may be taken, outermost first.
    pub may_take: Vec<u32>,
    /// Stores that were looked at, in full combs.
    pub stores_combs: f64,
    /// Combs that nobody has looked at; what they hold is not known and not counted.
    pub not_looked_at: usize,
    /// What must stay, in full combs.
    pub reserve_combs: f64,
    /// The return proposed.
    pub return_on: Option<Date>,
    /// What it needs next, the most pressing first, each in a sentence.
    pub next: Vec<String>,
}

/// One thing that a hive needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Need {
    /// What kind of thing.
    pub kind: NeedKind,
    /// The day for it; `None` where it waits for no day.
    pub day: Option<Date>,
    /// What, and why, in a sentence without capital and full stop.
    pub words: String,
}

/// Kinds of need.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NeedKind {
    /// A visit was broken off.
    FinishVisit,
    /// A sign of disease stands, a treatment comes out.
    Health,
    /// Nobody looked into it yet.
    FirstVisit,
    /// Stores under the reserve.
    Stores,
    /// Queen cells were seen.
    Queen,
    /// Combs may be taken.
    Take,
    /// Combs ripen.
    ComeBack,
    /// A mite wash, or what follows from it.
    Mites,
}

/// A hive in the overview, with the advice on it; days are counted where `on` is.
pub fn needs(yard: &Yard, hive: &Hive, advice: &Advice, on: &ZonedDateTime) -> Needs {
    let zone = on.time_zone();
    let last_visit = hive
        .last_visit()
        .map(|v| v.opened.to_zoned_datetime(zone.clone()).date());
    Needs {
        hive: hive.id,
        name: hive.name.clone(),
        apiary: hive
            .apiary
            .and_then(|a| yard.apiary(a))
            .map(|a| a.name.clone()),
        days_since_visit: last_visit.map(|day| (on.date() - day).get_days()),
        last_visit,
        bars: hive.row.bar_count(),
        combs: hive.bars_in_row().filter(|bar| bar.has_comb()).count(),
        stores_combs: advice.stores.combs,
        not_looked_at: advice.stores.not_looked_at.len(),
        reserve_combs: advice.stores.reserve.combs,
        return_on: advice.return_visit.day,
        next: next_words(hive, advice, on),
        may_take: advice.may_take.clone(),
    }
}

/// Days for which queen cells and a mite wash say something of the colony as it is: a new queen lays
/// within five weeks, and mites are washed again after a month or two. Common practice, no source.
const STALE_DAYS: i32 = 42;

/// A queen cell is capped about so many days after the egg was laid, and a swarm leaves about then.
/// From memory.
const CAPPED_AFTER_DAYS: i32 = 8;

/// What a hive needs next, the most pressing first, each in a sentence; days as 2026-11-14.
pub fn next_words(hive: &Hive, advice: &Advice, on: &ZonedDateTime) -> Vec<String> {
    let needs = next(hive, advice, on, &|day| day.to_string());
    needs.into_iter().map(|need| need.words).collect()
}

/// What a hive needs next, the most pressing first; `day_words` writes a day.
pub fn next(
    hive: &Hive,
    advice: &Advice,
    on: &ZonedDateTime,
    day_words: &dyn Fn(Date) -> String,
) -> Vec<Need> {
    let day_of = |at: Timestamp| at.to_zoned_datetime(on.time_zone().clone()).date();
    let days_ago = |at: Timestamp| (on.date() - day_of(at)).get_days();
    let mut next = Vec::new();
    let mut need = |kind, day, words| next.push(Need { kind, day, words });
    if let Some(visit) = hive.open_visit() {
        let words = format!(
            "the visit of {} was not closed: finish it or say that it ended",
            day_words(day_of(visit.opened))
        );
        need(NeedKind::FinishVisit, None, words);
    }
    for words in health_words(hive, on.date(), day_words) {
        need(NeedKind::Health, words.0, words.1);
    }
    if hive.last_visit().is_none() {
        let words = "a first visit: nothing was said of its combs yet".to_owned();
        need(NeedKind::FirstVisit, None, words);
    } else if let Some(words) = stores_words(&advice.stores) {
        need(NeedKind::Stores, None, words);
    }
    let cells = hive.queen_cells.last().filter(|cells| cells.count > 0);
    if let Some(cells) = cells.filter(|cells| days_ago(cells.when.at) <= STALE_DAYS) {
        let meaning = if days_ago(cells.when.at) < CAPPED_AFTER_DAYS {
            "it may be about to swarm or to replace its queen; look again within the week"
        } else {
            "look whether it swarmed or has a new queen; leave it alone on warm middays while a \
             virgin may fly"
        };
        let count = cells.count;
        let cells_word = if count == 1 {
            "queen cell"
        } else {
            "queen cells"
        };
        let day = day_words(day_of(cells.when.at));
        let words = format!("{count} {cells_word} on {day}: {meaning}");
        need(NeedKind::Queen, None, words);
    }
    if !advice.may_take.is_empty() {
        let words = format!("may be taken: bar {}", ranges(&advice.may_take));
        need(NeedKind::Take, None, words);
    }
    if let Some(day) = advice.return_visit.day {
        let of = ripening_words(advice.return_visit.wanted, advice.return_visit.combs.len());
        let but = match advice.return_visit.spare {
            0 => ", but by today's stores the reserve needs it all",
            _ => "",
        };
        let words = if day <= on.date() {
            format!("come back on the next good day: {of} likely ripe{but}")
        } else {
            format!(
                "come back about {}: {of} likely ripe then{but}",
                day_words(day)
            )
        };
        need(NeedKind::ComeBack, Some(day), words);
    }
    if let Some(wash) = hive.washes.last() {
        let rate = f64::from(wash.mites) * 100.0 / f64::from(wash.bees.max(1));
        let days = days_ago(wash.when.at);
        let act = if days > STALE_DAYS {
            "time to wash again".to_owned()
        } else {
            "act by your local threshold and the product label".to_owned()
        };
        let ago = match days {
            0 => "today".to_owned(),
            1 => "yesterday".to_owned(),
            days => format!("{days} days ago"),
        };
        let words = format!(
            "mite wash {ago}: {} in {} bees, {rate:.1} in a hundred; {act}",
            wash.mites, wash.bees
        );
        need(NeedKind::Mites, None, words);
    }
    next
}

/// What stores under the reserve ask for; nothing where they cover it.
fn stores_words(account: &StoresAccount) -> Option<String> {
    match account.standing {
        Standing::Covered | Standing::LikelyCovered => None,
        Standing::NotKnown => Some(format!(
            "stores not known, {} not looked at: take nothing before you have looked there",
            Combs(account.not_looked_at.len() as f64)
        )),
        Standing::LikelyShort | Standing::Short => Some(format!(
            "{} under the reserve: take nothing, and feed before winter if no flow comes",
            Combs(-account.beyond_combs)
        )),
    }
}

/// Signs that stand and treatments that are on, each with its day and in words.
fn health_words(
    hive: &Hive,
    today: Date,
    day_words: &dyn Fn(Date) -> String,
) -> Vec<(Option<Date>, String)> {
    let mut needs: Vec<(Option<Date>, String)> = due(hive, today)
        .into_iter()
        .filter(|due| due.kind != DueKind::HoneyFree)
        .map(|due| match due.kind {
            DueKind::Removal if due.day < today => (
                Some(due.day),
                format!(
                    "{}: it was to come out on {}",
                    due.words,
                    day_words(due.day)
                ),
            ),
            DueKind::Removal => (
                Some(due.day),
                format!("{} on {}", due.words, day_words(due.day)),
            ),
            _ => (None, due.words),
        })
        .collect();
    let no_day = hive
        .treatments_on()
        .filter(|treated| treated.given.planned_removal.is_none());
    needs.extend(no_day.map(|treated| {
        let given = &treated.given;
        let words = format!(
            "{} is on since {}, and no day is set on which it comes out",
            given.product,
            day_words(given.on)
        );
        (None, words)
    }));
    needs
}
