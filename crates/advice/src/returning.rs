//! When to come back: the day that first makes the trip worth it.
//!
//! Per comb the probability of being ripe by day comes from the filter of `season::ripening`, fed with
//! the looks at every comb of this hive, combs already taken included (they tell how fast this hive
//! caps). The day proposed is the first on which at least the wanted number of combs is ripe as likely
//! as not.

use std::collections::BTreeMap;

use comb::order::InOrder as _;
use comb::{Contents, Share};
use health::withheld::{Until, Weight, Withheld};
use hive::{BarId, Hive, Look};
use jiff::civil::Date;
use jiff::{SignedDuration, Span, Timestamp};
use season::ripening::{
    CombKey, Flow, Looked, Outlook, REMEMBERED_DAYS, Reading, RipeRule as RipeningRule, Ripening,
};
use serde::Serialize;

use crate::ripe::RipeRule;
use crate::stores::SLACK_COMBS;
use crate::taking::{CombAdvice, Taking};

/// Combs that make a trip worth it, unless the keeper set another number. Common practice, no source.
pub const WORTH_THE_TRIP: usize = 2;
/// Days looked ahead; beyond six weeks a forecast of ripening says nothing. Ours.
pub const HORIZON_DAYS: usize = 42;
/// Honey that is ripe within so many days is shown apart in the account.
pub const SOON_DAYS: usize = 14;
/// As likely as not.
const SURE: f64 = 0.5;

/// What the coming days look like, as far as it is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Ahead {
    /// Today where the hive stands.
    pub today: Date,
    /// Now.
    pub now: Timestamp,
    /// How nectar comes in.
    pub flow: Flow,
    /// Combs that make a trip worth it.
    pub wanted: usize,
    /// Days that suit for opening, when a forecast is known; empty is "no forecast".
    pub suitable_days: Vec<Date>,
}

/// One comb's ripening.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CombAhead {
    /// The bar.
    pub bar: BarId,
    /// Its number.
    pub number: u32,
    /// Probability of being ripe in 7, 14, 21 and 28 days.
    pub ripe_in_weeks: [Share; 4],
    /// The day from which it is ripe as likely as not; `None` beyond the horizon.
    pub likely_from: Option<Date>,
}

/// The proposed return.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Return {
    /// Combs that are ripening, outermost first.
    pub combs: Vec<CombAhead>,
    /// How many combs make the trip worth it here.
    pub wanted: usize,
    /// The day proposed, inside weather that suits when a forecast is known.
    pub day: Option<Date>,
    /// As likely as not before weather is counted.
    pub ready_from: Option<Date>,
    /// Four times in five it is ready no earlier and no later than this.
    pub band: [Option<Date>; 2],
    /// The rate of capping rests on this many looks; older ones are forgotten by now.
    pub looks: usize,
    /// How many full combs today's stores leave beyond the reserve, at most as many as ripen.
    pub spare: usize,
    /// In one sentence.
    pub reason: String,
}

/// How the combs of a hive ripen from now on, by what it has shown.
#[derive(Debug, Clone)]
pub struct Ripens {
    outlook: Outlook,
    combs: BTreeMap<BarId, CombKey>,
    looks: usize,
}

/// Days that a comb just judged is left in peace, whatever the odds of its being ripe already.
/// Common practice, no source.
pub const LEFT_IN_PEACE_DAYS: i64 = 3;

/// What bounds a return beside ripeness.
#[derive(Debug, Clone, Copy)]
pub struct Bounds<'a> {
    /// When the last visit began.
    pub looked: Option<Timestamp>,
    /// What withholds the hive's honey.
    pub withheld: &'a [Withheld],
    /// Stores beyond the reserve, in full combs.
    pub beyond_combs: f64,
}

impl Bounds<'_> {
    /// The first day from this one on for which nothing of these speaks; none while honey is withheld
    /// without an end.
    fn from(&self, day: Date, ahead: &Ahead) -> Option<Date> {
        let rested = self.looked.and_then(|looked| {
            let since = i64::from(whole_days(looked, ahead.now));
            later(ahead.today, LEFT_IN_PEACE_DAYS - since)
        });
        let mut day = rested.map_or(day, |rested| rested.max(day));
        // each round goes past the end of one withholding
        for _ in 0..=self.withheld.len() {
            let mut blocks = self
                .withheld
                .iter()
                .filter(|withheld| withheld.on(day) == Some(Weight::Blocks));
            let Some(block) = blocks.next() else {
                return Some(day);
            };
            let Until::Through { day: last } = block.until else {
                return None;
            };
            day = later(last, 1)?;
        }
        Some(day)
    }

    fn spare(&self, ripening: usize) -> usize {
        // a comb is full a little before its last tenth, as everywhere
        let whole = libm::floor(self.beyond_combs + SLACK_COMBS);
        if whole > 0.0 {
            ripening.min(whole as usize)
        } else {
            0
        }
    }
}

/// Proposes when to come back for the combs that are ripening now.
pub fn propose_return(
    advice: &[CombAdvice],
    ripens: &Ripens,
    ahead: &Ahead,
    bounds: Bounds<'_>,
) -> Return {
    let waiting: Vec<&CombAdvice> = advice.iter().filter(|c| waits(c)).collect();
    let keys: Vec<CombKey> = waiting
        .iter()
        .filter_map(|c| ripens.combs.get(&c.bar).copied())
        .collect();
    let combs: Vec<CombAhead> = waiting
        .iter()
        .filter_map(|comb| {
            let key = ripens.combs.get(&comb.bar)?;
            let forecast = ripens.outlook.ripe_by(*key).ok()?;
            let weeks = [7, 14, 21, 28].map(|days| Share::clamped(forecast.on_day(days)));
            let likely_from = forecast
                .days_until(SURE)
                .and_then(|days| later(ahead.today, libm::ceil(days) as i64));
            Some(CombAhead {
                bar: comb.bar,
                number: comb.number,
                ripe_in_weeks: weeks,
                likely_from,
            })
        })
        .collect();
    let wanted = ahead.wanted.max(1).min(keys.len().max(1));
    let day_with = |sure: f64| {
        let days = ripens.outlook.first_day_with(wanted, &keys, sure).ok()??;
        later(ahead.today, i64::try_from(days).ok()?)
    };
    let ready_from = if keys.is_empty() {
        None
    } else {
        day_with(SURE)
    };
    let band = if keys.is_empty() {
        [None, None]
    } else {
        [day_with(0.1), day_with(0.9)]
    };
    let from = ready_from.and_then(|day| bounds.from(day, ahead));
    let day = from.map(|day| suitable(day, &ahead.suitable_days));
    let spare = bounds.spare(combs.len());
    let told = Told {
        combs: combs.len(),
        wanted,
        ready_from,
        from,
        day,
        spare,
    };
    let reason = told.reason(ahead);
    Return {
        combs,
        wanted,
        day,
        ready_from,
        band,
        looks: ripens.looks,
        spare,
        reason,
    }
}

/// Share of each bar's unripe honey that will be ripe within two weeks, by probability.
pub fn ripe_soon(ripens: &Ripens) -> BTreeMap<BarId, Share> {
    let soon = |key: &CombKey| {
        let forecast = ripens.outlook.ripe_by(*key).ok()?;
        Some(Share::clamped(forecast.on_day(SOON_DAYS)))
    };
    ripens
        .combs
        .iter()
        .filter_map(|(bar, key)| Some((*bar, soon(key)?)))
        .collect()
}

/// A comb that a later visit may find ripe: unripe now, or not surely known.
fn waits(comb: &CombAdvice) -> bool {
    comb.ripeness.is_ripening() || (comb.taking == Taking::LookFirst && has_reading(comb))
}

fn has_reading(comb: &CombAdvice) -> bool {
    matches!(comb.ripeness, crate::ripe::Verdict::LookAtOtherSide { .. })
}

fn later(day: Date, days: i64) -> Option<Date> {
    day.checked_add(Span::new().try_days(days).ok()?).ok()
}

fn suitable(day: Date, days: &[Date]) -> Date {
    days.iter()
        .copied()
        .filter(|d| *d >= day)
        .min()
        .unwrap_or(day)
}

/// One look as the filter takes it.
struct Glance {
    at: Timestamp,
    bar: BarId,
    /// Which of the combs that the bar has carried.
    comb: u32,
    readings: Vec<Reading>,
    /// Of the comb that hangs there now.
    hangs: bool,
}

/// Looks in the order of time: those of the time that the filter remembers, and before it the last
/// ones at each comb that still hangs.
fn glances(hive: &Hive, now: Timestamp) -> Vec<Glance> {
    let remembered = now - SignedDuration::from_hours(24 * i64::from(REMEMBERED_DAYS));
    let mut glances = Vec::new();
    for bar in hive.bars.values() {
        let of_now = |look: &Look| look.comb == bar.comb && bar.has_comb();
        let looks = || bar.looks.iter().filter(|look| look.at <= now);
        let last = looks()
            .filter(|look| of_now(look))
            .map(|look| look.at)
            .max();
        for look in looks() {
            if look.at < remembered && !(of_now(look) && Some(look.at) == last) {
                continue;
            }
            let readings = readings(&look.contents_after(bar.turns));
            if !readings.is_empty() {
                glances.push(Glance {
                    at: look.at,
                    bar: bar.id,
                    comb: look.comb,
                    readings,
                    hangs: of_now(look),
                });
            }
        }
    }
    glances.order_by_key(|glance| (glance.at, glance.bar, glance.comb));
    glances
}

/// Passes a hive's looks through the filter, and looks ahead.
pub fn ripens(hive: &Hive, rule: RipeRule, ahead: &Ahead) -> Ripens {
    let ripening_rule = RipeningRule::new(rule.mean_capped).unwrap_or_default();
    let mut ripening = Ripening::new(ripening_rule);
    let mut combs = BTreeMap::new();
    let mut looks = 0;
    let mut keys: BTreeMap<(BarId, u32), CombKey> = BTreeMap::new();
    let mut reached: Option<Timestamp> = None;
    for glance in glances(hive, ahead.now) {
        let days = reached.map_or(0, |before| whole_days(before, glance.at));
        ripening.pass(days, ahead.flow);
        // what is left of a day is kept for the next look
        if days > 0 || reached.is_none() {
            reached = Some(glance.at);
        }
        let key = *keys
            .entry((glance.bar, glance.comb))
            .or_insert_with(|| ripening.add_comb());
        for reading in glance.readings {
            looks += usize::from(ripening.read(key, reading).is_ok());
        }
        if glance.hangs {
            combs.insert(glance.bar, key);
        }
    }
    let days = reached.map_or(0, |before| whole_days(before, ahead.now));
    ripening.pass(days, ahead.flow);
    let hanging: Vec<CombKey> = combs.values().copied().collect();
    let outlook = ripening.outlook(&hanging, &[ahead.flow], HORIZON_DAYS);
    Ripens {
        outlook: outlook.unwrap_or_default(),
        combs,
        looks,
    }
}

fn whole_days(from: Timestamp, to: Timestamp) -> u32 {
    let seconds = to.as_second() - from.as_second();
    u32::try_from(seconds / 86_400).unwrap_or(0)
}

/// What a look says of capping. The ends of the scale are judged more closely than its middle, as in
/// `season::ripening::Word`.
fn readings(contents: &Contents) -> Vec<Reading> {
    if contents.has_brood() {
        // the honey arch over brood ripens to another rule
        return Vec::new();
    }
    let faces = [
        (Looked::Left, &contents.left),
        (Looked::Right, &contents.right),
    ];
    faces
        .into_iter()
        .filter_map(|(looked, face)| {
            let capped = face.capped_share()?;
            let at_an_end = capped.get() <= 0.02 || capped.get() >= 0.98;
            Reading::new(looked, capped, if at_an_end { 0.06 } else { 0.1 }).ok()
        })
        .collect()
}

pub(crate) fn ripening_words(wanted: usize, combs: usize) -> String {
    if combs == 1 {
        "the comb ripening is".to_owned()
    } else if wanted == combs {
        format!("the {combs} combs ripening are")
    } else {
        format!("{wanted} of the {combs} combs ripening are")
    }
}

/// What the sentence is made of.
struct Told {
    combs: usize,
    wanted: usize,
    ready_from: Option<Date>,
    /// The same within the bounds.
    from: Option<Date>,
    day: Option<Date>,
    spare: usize,
}

impl Told {
    fn reason(&self, ahead: &Ahead) -> String {
        let Self {
            combs,
            wanted,
            spare,
            ..
        } = *self;
        if combs == 0 {
            return "no comb with known capping is ripening: no return for honey to plan"
                .to_owned();
        }
        let combs_word = |n: usize| {
            if n == 1 {
                "1 comb".to_owned()
            } else {
                format!("{n} combs")
            }
        };
        let Some(ready) = self.ready_from else {
            return format!(
                "{} ripening, but {} are not likely ripe within {HORIZON_DAYS} days",
                combs_word(combs),
                combs_word(wanted)
            );
        };
        let these = if combs == 1 { "it" } else { "them" };
        let ripe = format!("{} likely ripe from {ready}", ripening_words(wanted, combs));
        let Some(from) = self.from else {
            return format!("{ripe}, but honey is withheld and no day is known on which that ends");
        };
        let waits = if from > ready && from > ahead.today {
            format!("; not before {from}")
        } else {
            String::new()
        };
        let weather = match self.day {
            _ if ahead.suitable_days.is_empty() => {
                "; no forecast is known, choose a mild still day from then on".to_owned()
            }
            Some(day) if day > from => format!("; the first day that suits is {day}"),
            _ => String::new(),
        };
        let needed = match spare {
            0 => format!("; by today's stores the reserve needs {these}"),
            spare if spare < wanted => {
                format!("; by today's stores {} may go", combs_word(spare))
            }
            _ => String::new(),
        };
        format!("{ripe}{waits}{weather}{needed}")
    }
}

#[cfg(test)]
mod tests {
    use health::withheld::Cause;
    use hive::EntryId;
    use jiff::civil::date;
    use uuid::Uuid;

    use super::*;

    fn withheld(until: Until) -> Withheld {
        Withheld {
            cause: Cause::Treatment,
            entry: EntryId(Uuid::from_u128(1)),
            from: date(2026, 11, 1),
            until,
            what: "withheld".to_owned(),
            brief: "withheld".to_owned(),
        }
    }

    fn ahead() -> Ahead {
        Ahead {
            today: date(2026, 11, 28),
            now: "2026-11-28T02:00:00Z".parse().expect("an instant"),
            flow: Flow::Thin,
            wanted: 2,
            suitable_days: Vec::new(),
        }
    }

    fn from(looked: Option<&str>, withheld: &[Withheld]) -> Option<Date> {
        let bounds = Bounds {
            looked: looked.map(|at| at.parse().expect("an instant")),
            withheld,
            beyond_combs: 1.0,
        };
        bounds.from(date(2026, 12, 2), &ahead())
    }

    #[test]
    fn nobody_comes_back_for_honey_that_is_withheld() {
        let day = date(2026, 12, 12);
        assert_eq!(from(None, &[]), Some(date(2026, 12, 2)));
        let through = withheld(Until::Through { day });
        assert_eq!(
            from(None, std::slice::from_ref(&through)),
            Some(date(2026, 12, 13))
        );
        let before = withheld(Until::Through {
            day: date(2026, 12, 1),
        });
        assert_eq!(from(None, &[before]), Some(date(2026, 12, 2)));
        let later = withheld(Until::Through {
            day: date(2026, 12, 20),
        });
        assert_eq!(from(None, &[through, later]), Some(date(2026, 12, 21)));
        assert_eq!(from(None, &[withheld(Until::Open)]), None);
    }

    #[test]
    fn a_comb_just_judged_is_left_in_peace() {
        let looked = from(Some("2026-11-28T01:00:00Z"), &[]);
        assert_eq!(looked, Some(date(2026, 12, 2)), "it is later anyway");
        let bounds = Bounds {
            looked: Some("2026-11-28T01:00:00Z".parse().expect("an instant")),
            withheld: &[],
            beyond_combs: 1.0,
        };
        let today = bounds.from(date(2026, 11, 28), &ahead());
        assert_eq!(today, Some(date(2026, 12, 1)));
    }

    #[test]
    fn what_may_go_is_what_the_reserve_leaves() {
        let spare = |beyond_combs| {
            let bounds = Bounds {
                looked: None,
                withheld: &[],
                beyond_combs,
            };
            bounds.spare(3)
        };
        assert_eq!([-2.9, 0.3, 0.96, 2.2, 9.0].map(spare), [0, 0, 1, 2, 3]);
    }
}
