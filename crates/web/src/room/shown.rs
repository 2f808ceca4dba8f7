//! What the screens show of a visit, computed once a step.

use advice::advise::Running;
use advice::taking::Taking;
use hive::entry::End;
use hive::{BarId, Hive, HiveId, Yard};
use jiff::tz::TimeZone;
use live::concern::{Concern, concerns};
use live::{Did, Live, Step, Told, marks};
use paper::HiveSection;
use talk::act::{Decision, Fill, Hold};
use talk::understood::understood;

use crate::preferences::Units;
use crate::texts;

/// Phrases shown, the latest first.
const PHRASES: usize = 30;

/// A visit as it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// The hive's name.
    pub name: String,
    /// The hive's section with what is advised.
    pub section: HiveSection,
    /// Verdicts, count, stores.
    pub advice: Running,
    /// Ends opened, in their order.
    pub ends: Vec<End>,
    /// The comb in hand.
    pub in_hand: Option<InHand>,
    /// Combs carried away on their bars.
    pub carried: Carried,
    /// The bar in hand.
    pub highlight: Option<BarId>,
    /// The number of the bar that is met next.
    pub next: Option<u32>,
    /// What was heard and understood, the latest first.
    pub phrases: Vec<Phrase>,
    /// Whether anything can be taken back.
    pub can_undo: bool,
    /// Whether anything was said or done yet.
    pub begun: bool,
    /// The visit is over.
    pub over: bool,
    /// What is worth a question before the hive is closed.
    pub doubts: Vec<String>,
    /// What stands against what was taken.
    pub concerns: Vec<Concern>,
    /// Why what was said since cannot be recorded, and what to say.
    pub refused: Option<String>,
}

/// Combs carried away on their bars.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Carried {
    /// The numbers that they had in this hive, in the order met.
    pub bars: Vec<u32>,
    /// The hive that they go to; `None` is no hive of this yard.
    pub to: Option<HiveId>,
    /// Its name.
    pub name: Option<String>,
}

/// The comb in hand.
#[derive(Debug, Clone, PartialEq)]
pub struct InHand {
    /// In the order met.
    pub nth: usize,
    /// Its bar's number, where it can be told.
    pub number: Option<u32>,
    /// Capped share of the face that looks at the keeper.
    pub this: Option<f64>,
    /// Of the far face.
    pub other: Option<f64>,
    /// A capped share that was said without a side.
    pub loose: Option<f64>,
    /// What it holds.
    pub holds: Vec<Hold>,
    /// How full.
    pub fill: Option<Fill>,
    /// The keeper's word.
    pub decision: Option<Decision>,
    /// Taken on its bar.
    pub whole: bool,
    /// Leaned somewhere.
    pub aside: bool,
    /// Kilograms.
    pub kg: Option<f64>,
    /// Straight.
    pub straight: Option<bool>,
    /// What the rules say, in a sentence.
    pub verdict: Option<String>,
    /// Whether it may be taken.
    pub taking: Option<Taking>,
}

/// One step, as it is listed.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Phrase {
    /// Its place among all steps.
    pub nth: usize,
    /// When, milliseconds since the epoch.
    pub at_ms: i64,
    /// The words heard, or those that they were put right with; `None` for a tap.
    pub heard: Option<String>,
    /// It was said or typed, and can be put right.
    pub spoken: bool,
    /// The words that were heard first, where they were put right.
    pub was: Option<String>,
    /// It was left out afterwards.
    pub left_out: bool,
    /// A question to the program.
    pub asked: bool,
    /// What was understood; empty when nothing about the hive.
    pub understood: String,
}

impl Shown {
    pub(super) fn of(
        live: &Live,
        advice: Running,
        yard: &Yard,
        zone: &TimeZone,
        units: Units,
    ) -> Self {
        let hive = live.hive();
        let section = HiveSection::of(hive, zone).with_marks(marks::marks(hive, &advice.combs));
        let ends: Vec<End> = hive
            .open_visit()
            .map(|visit| visit.ends.clone())
            .unwrap_or_default();
        Self {
            name: hive.name.clone(),
            section,
            in_hand: in_hand(live, &advice),
            carried: carried(live, yard),
            highlight: live.in_hand(),
            next: ends.last().and_then(|end| next(live, *end)),
            ends,
            phrases: phrases(live, yard, units),
            can_undo: live.can_undo(),
            begun: live.told().any(|(_, told)| told.changed),
            over: live.session().is_over(),
            doubts: live.doubts().to_vec(),
            concerns: concerns(live, &advice.count),
            refused: stands_unrecorded(live),
            advice,
        }
    }
}

/// What is said here and will not be in the journal, and why.
fn stands_unrecorded(live: &Live) -> Option<String> {
    let refused = live.refused().and_then(texts::visit::stands_unrecorded);
    refused.or_else(|| {
        let bars = live.bars_of_others().into_iter();
        let bars: Vec<u32> = bars
            .filter_map(|bar| live.before().bar(bar).map(|bar| bar.number))
            .collect();
        (!bars.is_empty()).then(|| texts::visit::told_elsewhere(&bars))
    })
}

fn in_hand(live: &Live, advice: &Running) -> Option<InHand> {
    let nth = live.transcript().in_hand()?;
    let comb = live.visit().combs.get(nth)?;
    // one that went to another hive has the number that it had here
    let bar = live.bars().get(nth).and_then(|bar| live.before().bar(*bar));
    let advised = bar.and_then(|bar| advice.combs.iter().find(|comb| comb.bar == bar.id));
    Some(InHand {
        nth,
        number: bar.map(|bar| bar.number).or(comb.bar),
        this: comb.this,
        other: comb.other,
        loose: comb.loose,
        holds: comb.all_holds(),
        fill: comb.fill,
        decision: comb.decision,
        whole: bar.is_some_and(|bar| live.carried().contains(&bar.id)),
        aside: comb.aside,
        kg: comb.kg,
        straight: comb.straight,
        verdict: advised.map(|comb| comb.reason.clone()),
        taking: advised.map(|comb| comb.taking),
    })
}

fn carried(live: &Live, yard: &Yard) -> Carried {
    let bars = live.carried().iter();
    let to = live.session().carried_to();
    Carried {
        bars: bars
            .filter_map(|bar| live.before().bar(*bar).map(|bar| bar.number))
            .collect(),
        to,
        name: to.and_then(|to| name(yard, to)),
    }
}

fn name(yard: &Yard, hive: HiveId) -> Option<String> {
    yard.hive(hive).map(|hive| hive.name.clone())
}

/// The next bar with comb from this end that was not met, inward of the comb in hand.
fn next(live: &Live, end: End) -> Option<u32> {
    let bars: Vec<_> = with_comb(live.before(), end);
    // while something said cannot be recorded, no comb heard has a bar: there is its number
    let heard = &live.visit().combs;
    let called = live
        .transcript()
        .in_hand()
        .and_then(|nth| heard.get(nth)?.bar);
    let hand = live.in_hand();
    let from = bars
        .iter()
        .position(|(bar, number)| hand.map_or(called == Some(*number), |hand| hand == *bar))
        .map_or(0, |at| at + 1);
    let free = |(bar, number): &&(BarId, u32)| {
        if live.bars().is_empty() {
            heard.iter().all(|comb| comb.bar != Some(*number))
        } else {
            !live.bars().contains(bar)
        }
    };
    bars.iter().skip(from).find(free).map(|(_, number)| *number)
}

fn with_comb(hive: &Hive, end: End) -> Vec<(BarId, u32)> {
    let bars = hive.bars_from(end);
    let first = bars.iter().position(|bar| bar.has_comb()).unwrap_or(0);
    bars[first..]
        .iter()
        .map(|bar| (bar.id, bar.number))
        .collect()
}

/// Where carried combs go by this step, in words.
fn goes(did: &Did, yard: &Yard) -> Option<String> {
    let Did::CarriedTo { to, .. } = did else {
        return None;
    };
    let name = to.and_then(|to| name(yard, to));
    Some(texts::visit::goes_to(name.as_deref()))
}

/// What was understood of a phrase or tap.
pub(super) fn told_words(told: &Told, units: Units) -> String {
    let noted = told.heard.noted.then(|| texts::visit::NOTED.to_owned());
    let all = understood(&told.heard, units.told_in());
    let all: Vec<String> = all.into_iter().chain(noted).collect();
    all.join(", ")
}

/// What a step comes to, in words.
pub(super) fn comes_to(step: &Step, told: &Told, yard: &Yard, units: Units) -> String {
    match &step.did {
        Did::Arranged { end, .. } => texts::closing_up::order_of(*end).to_owned(),
        Did::Over => texts::closing_up::END_OF_VISIT.to_owned(),
        did @ Did::CarriedTo { .. } => goes(did, yard).unwrap_or_default(),
        Did::PutRight { words, .. } => texts::visit::put_right_with(words.as_deref()),
        Did::Said(_) | Did::Tapped(_) => told_words(told, units),
    }
}

fn phrases(live: &Live, yard: &Yard, units: Units) -> Vec<Phrase> {
    let all: Vec<_> = live.told().enumerate().collect();
    let latest = all.into_iter().rev();
    // it stands at the phrase that it puts right
    let latest = latest.filter(|(_, (step, _))| !matches!(step.did, Did::PutRight { .. }));
    latest
        .take(PHRASES)
        .map(|(nth, (step, told))| phrase(live, nth, step, told, yard, units))
        .collect()
}

fn phrase(live: &Live, nth: usize, step: &Step, told: &Told, yard: &Yard, units: Units) -> Phrase {
    let words = live.session().words(nth);
    let first = match &step.did {
        Did::Said(words) => Some(words.clone()),
        Did::CarriedTo { said, .. } => said.clone(),
        Did::Tapped(_) | Did::Arranged { .. } | Did::PutRight { .. } | Did::Over => None,
    };
    let others = words.filter(|(_, others)| *others);
    Phrase {
        nth,
        at_ms: step.at.as_millisecond(),
        heard: words
            .map(|(words, _)| words.to_owned())
            .or_else(|| first.clone()),
        spoken: matches!(step.did, Did::Said(_)),
        was: others.and(first),
        left_out: live.session().is_left_out(nth),
        asked: told.heard.question.is_some(),
        understood: if told.took_back {
            let what = live
                .taken_back_by(nth)
                .map(|(_, was)| told_words(was, units));
            texts::visit::took_back(&what.unwrap_or_default())
        } else {
            comes_to(step, told, yard, units)
        },
    }
}
