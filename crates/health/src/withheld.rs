//! Which honey of a hive is withheld, from when to when, and why.
//!
//! Rules: while a treatment is on, and after it as long as the label says, nothing is taken; where the
//! label's words were not copied in, that is said, and never taken for "none". Where a disease is
//! suspected or found that somewhere brings a site to a standstill, nothing is moved until it is
//! cleared, or until the keeper has found out that it need not be reported there.

use std::collections::BTreeMap;

use hive::health::{SignOnRecord, Treated};
use hive::sign::{Certainty, Sign};
use hive::treatment::LabelPeriod;
use hive::{Bar, EntryId, Hive, HiveId};
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde::Serialize;

use crate::condition::{Handling, condition};

/// Why honey is withheld.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Cause {
    /// A disease or pest is suspected or found: nothing is moved.
    Disease,
    /// A treatment: the product's label decides.
    Treatment,
}

/// Until when.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case", tag = "until")]
pub enum Until {
    /// The last day on which nothing may be taken.
    Through {
        /// That day.
        day: Date,
    },
    /// It goes on: the strips are in, the sign stands.
    Open,
    /// Nobody copied in how long.
    NotKnown {
        /// Combs begun after this day are not meant; `None` is all combs.
        hung_by: Option<Date>,
    },
    /// What hung there by this day may never be taken; combs begun since may.
    Lost {
        /// That day.
        hung_by: Date,
    },
}

/// How it binds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// Nothing may be taken.
    Blocks,
    /// Find out first.
    Warns,
}

/// One withholding of one hive.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Withheld {
    /// Why.
    pub cause: Cause,
    /// The entry of the treatment or of the sign.
    pub entry: EntryId,
    /// First day.
    pub from: Date,
    /// Last day.
    #[serde(flatten)]
    pub until: Until,
    /// The reason in a clause, with its rule: "withheld while Acme Strips is in the hive (its label)".
    pub what: String,
    /// The same in a few words, to stand beside each comb: "withheld while Acme Strips is in".
    pub brief: String,
}

impl Withheld {
    /// How it binds for the hive on a day; `None` outside its time. What only some combs are lost
    /// to warns.
    pub fn on(&self, day: Date) -> Option<Weight> {
        if day < self.from {
            return None;
        }
        match self.until {
            Until::Through { day: last } if day > last => None,
            Until::Through { .. } | Until::Open => Some(Weight::Blocks),
            Until::NotKnown { .. } | Until::Lost { .. } => Some(Weight::Warns),
        }
    }

    /// How it binds on a day for the comb on one bar.
    pub fn on_comb(&self, bar: &Bar, day: Date) -> Option<Weight> {
        let weight = self.on(day)?;
        match self.until {
            Until::NotKnown {
                hung_by: Some(last),
            }
            | Until::Lost { hung_by: last }
                if begun_after(bar, last) =>
            {
                None
            }
            Until::Lost { .. } => Some(Weight::Blocks),
            _ => Some(weight),
        }
    }
}

/// True when the comb on the bar is known to have been begun after a day.
fn begun_after(bar: &Bar, day: Date) -> bool {
    let drawn = bar.drawn.is_some_and(|drawn| drawn > day);
    // an instant's day differs by one at most from zone to zone
    let bare = bar
        .bare_at
        .and_then(|at| at.to_zoned_datetime(TimeZone::UTC).date().yesterday().ok())
        .is_some_and(|bare| bare >= day);
    drawn || bare
}

/// The gravest of these for the comb of one bar on a day.
pub fn gravest<'a>(
    withheld: &'a [Withheld],
    bar: &Bar,
    day: Date,
) -> Option<(Weight, &'a Withheld)> {
    let binding = withheld
        .iter()
        .filter_map(|w| Some((w.on_comb(bar, day)?, w)));
    binding.min_by_key(|(weight, w)| (*weight, w.cause))
}

/// Everything that withholds honey of this hive by its own record, ended ones included; ask each
/// for a day with [`Withheld::on`].
pub fn withholdings(hive: &Hive) -> Vec<Withheld> {
    let treatments = hive.treatments.iter().flat_map(of_treatment);
    let signs = hive.signs.iter().filter_map(of_sign);
    signs.chain(treatments).collect()
}

/// What of these binds on a day, gravest first.
pub fn binding(withheld: &[Withheld], day: Date) -> Vec<(Weight, &Withheld)> {
    let found = withheld.iter();
    let mut found: Vec<_> = found.filter_map(|w| Some((w.on(day)?, w))).collect();
    found.sort_by_key(|(weight, withheld)| (*weight, withheld.cause, withheld.from));
    found
}

/// What other hives of the yard pass on to this one: combs that hung in a treated hive, and a
/// suspicion on the same site.
pub fn from_others<'a>(hive: &Hive, hives: impl IntoIterator<Item = &'a Hive>) -> Vec<Withheld> {
    let others = hives.into_iter().filter(|other| other.id != hive.id);
    others
        .flat_map(|other| {
            let own = withholdings(other).into_iter();
            own.filter_map(move |withheld| passed_on(other, hive, &withheld))
        })
        .collect()
}

/// Everything that withholds honey of each hive: its own record and what others pass on.
pub fn of_yard<'a>(hives: impl IntoIterator<Item = &'a Hive>) -> BTreeMap<HiveId, Vec<Withheld>> {
    let hives: Vec<&Hive> = hives.into_iter().collect();
    hives
        .iter()
        .map(|hive| {
            let mut all = withholdings(hive);
            all.extend(from_others(hive, hives.iter().copied()));
            (hive.id, all)
        })
        .collect()
}

/// What a withholding of one hive means for another.
fn passed_on(hive: &Hive, other: &Hive, withheld: &Withheld) -> Option<Withheld> {
    let moved = hive
        .departed
        .iter()
        .filter(|departed| departed.to == other.id)
        .map(|departed| departed.at.to_zoned_datetime(TimeZone::UTC).date())
        .find(|day| withheld.on(*day).is_some());
    if let Some(day) = moved {
        let what = format!("combs came from {} on {day}: {}", hive.name, withheld.what);
        let from = day;
        return Some(Withheld {
            from,
            what,
            ..withheld.clone()
        });
    }
    let same_site = hive.apiary.is_some() && hive.apiary == other.apiary;
    let stands = withheld.cause == Cause::Disease && withheld.until == Until::Open;
    if !(same_site && stands) {
        return None;
    }
    let sign = name_and_certainty(&hive.sign(withheld.entry)?.sign)?;
    Some(Withheld {
        until: Until::NotKnown { hung_by: None },
        what: format!(
            "{sign} in {} on {}, on the same site: nothing leaves the site before your local \
             authority has decided",
            hive.name, withheld.from
        ),
        brief: format!("ask your authority first: {sign} in {}", hive.name),
        ..withheld.clone()
    })
}

fn of_treatment(treated: &Treated) -> Vec<Withheld> {
    let given = &treated.given;
    let product = &given.product;
    let ended = treated.ended.as_ref().map(|end| end.on);
    let one = |until, from, what, brief| Withheld {
        cause: Cause::Treatment,
        entry: treated.when.entry,
        from,
        until,
        what,
        brief,
    };
    let after =
        |days: u16| ended.map(|end| end.checked_add(i32::from(days).days()).unwrap_or(Date::MAX));
    let running = || {
        let what = format!("withheld while {product} is in the hive (its label)");
        let brief = format!("withheld while {product} is in");
        one(Until::Open, given.on, what, brief)
    };
    let through = |day: Date| {
        let what = format!("withheld through {day} after {product} (its label)");
        let brief = format!("withheld through {day} ({product})");
        one(Until::Through { day }, given.on, what, brief)
    };
    match given.withholding {
        Some(LabelPeriod::Nil) => Vec::new(),
        Some(LabelPeriod::Days { days }) => vec![after(days).map_or_else(running, through)],
        Some(LabelPeriod::Through { day }) => vec![through(day)],
        Some(LabelPeriod::HoneyOnIsLost { days }) => match after(days) {
            None => vec![running()],
            Some(day) => {
                let what = format!(
                    "{product} was on until {day}: honey that hung there then is lost for harvest \
                     (its label), only combs begun since may be taken"
                );
                let from = day.tomorrow().unwrap_or(Date::MAX);
                let brief = format!("lost for harvest: it hung there with {product}");
                let lost = one(Until::Lost { hung_by: day }, from, what, brief);
                vec![through(day), lost]
            }
        },
        None => {
            let what = format!(
                "{product} was given on {}, and how long its label withholds honey was not copied \
                 in: read the label first",
                given.on
            );
            let brief = format!("read the label of {product} first");
            let until = Until::NotKnown { hung_by: ended };
            vec![one(until, given.on, what, brief)]
        }
    }
}

/// "American foulbrood suspected"; `None` of what was looked for and not found.
fn name_and_certainty(sign: &Sign) -> Option<String> {
    let sure = match sign.certainty {
        Certainty::Suspected => "suspected",
        Certainty::Confirmed => "found",
        Certainty::NotFound => return None,
    };
    let named = condition(&sign.condition);
    let name = named.map_or(sign.condition.as_str(), |condition| condition.name);
    Some(format!("{name} {sure}"))
}

fn of_sign(on_record: &SignOnRecord) -> Option<Withheld> {
    let sign = &on_record.sign;
    let named = condition(&sign.condition);
    let told = name_and_certainty(sign)?;
    let since = sign.on;
    let stop = format!("{told} on {since}: move no combs, report; your local authority decides");
    let ask = format!(
        "{told} on {since}, and whether it must be reported here is not known: ask your local \
         authority before combs leave"
    );
    let (until, what, brief) = match (named.map(|condition| condition.handling), sign.notifiable) {
        (Some(Handling::Standstill) | None, Some(true)) | (Some(Handling::Standstill), None) => {
            (Until::Open, stop, format!("move no combs: {told}"))
        }
        (None, None) => (
            Until::NotKnown { hung_by: None },
            ask,
            format!("ask your authority first: {told}"),
        ),
        _ => return None,
    };
    let until = match &on_record.cleared {
        // free from the day on which it was cleared
        Some(cleared) => Until::Through {
            day: cleared.on.yesterday().unwrap_or(Date::MIN),
        },
        None => until,
    };
    Some(Withheld {
        cause: Cause::Disease,
        entry: on_record.when.entry,
        from: since,
        until,
        what,
        brief,
    })
}
