//! What may be taken: ripe combs, outermost first, as long as what stays covers the reserve.

use std::collections::BTreeSet;
use std::fmt;

use health::withheld::{self, Weight, Withheld};
use hive::entry::{Decision, End};
use hive::{Bar, BarId, Hive, Visit};
use jiff::civil::Date;
use serde::Serialize;

use crate::ripe::{self, RipeRule, Verdict, verdict};
use crate::stores::{StoresAccount, covers};

/// What the rules say of one comb, and what the keeper said.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CombAdvice {
    /// The bar.
    pub bar: BarId,
    /// Its number.
    pub number: u32,
    /// Ripe or not, by the comb alone.
    pub ripeness: Verdict,
    /// Whether it may be taken, stores counted.
    pub taking: Taking,
    /// The keeper's word in this visit, which always wins.
    pub decision: Option<Decision>,
    /// Bends or runs across its neighbours: cut it free with care, or leave it.
    pub crossed: bool,
    /// Both words in one sentence.
    pub reason: String,
}

/// Whether a comb may be taken, stores counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Taking {
    /// It may be taken.
    MayBeTaken,
    /// Ripe, but the reserve needs it.
    NeededForReserve,
    /// Ripe, but brood hangs between it and every end that it could be reached from now.
    BehindBrood,
    /// Ripe, and the keeper leaves it.
    LeftByKeeper,
    /// Look again before deciding.
    LookFirst,
    /// Ripe, but nothing may be taken now: a treatment's label withholds it, or a disease is
    /// suspected.
    Withheld,
    /// It stays.
    Stays,
}

/// The order in which combs are offered: from the opened end inward; with no end opened, from both
/// ends in turn, the outermost first.
pub fn outermost_first<'a>(hive: &'a Hive, ends: &[End]) -> Vec<&'a Bar> {
    let order: Vec<&Bar> = match ends {
        [] => {
            let (left, right) = (hive.bars_from(End::Left), hive.bars_from(End::Right));
            left.into_iter()
                .zip(right)
                .flat_map(|(l, r)| [l, r])
                .collect()
        }
        ends => ends.iter().flat_map(|end| hive.bars_from(*end)).collect(),
    };
    let mut met = BTreeSet::new();
    order
        .into_iter()
        .filter(|bar| bar.has_comb() && met.insert(bar.id))
        .collect()
}

/// Combs that are reached without lifting brood: those outside the first comb known to carry brood, from
/// each opened end, or from both with none opened. Combs are lifted from the end toward the nest, and the
/// nest is left as it stands (DESIGN 4.3), so what lies beyond it is reached from the other end.
fn outside_the_nest(hive: &Hive, ends: &[End]) -> BTreeSet<BarId> {
    let ends = if ends.is_empty() {
        &[End::Left, End::Right]
    } else {
        ends
    };
    let outside = |end: &End| {
        let from_end = hive.bars_from(*end).into_iter();
        from_end.take_while(|bar| !bar.has_comb() || !bar.known_contents().has_brood())
    };
    ends.iter().flat_map(outside).map(|bar| bar.id).collect()
}

/// Advice on every comb, in the order of [`outermost_first`].
///
/// `account` holds all combs that stand now; what the keeper has decided to take is counted as
/// gone before anything more is offered. `withheld` is what withholds the hive's honey, `today` the
/// day for which is asked.
pub fn advise_combs(
    hive: &Hive,
    ends: &[End],
    rule: RipeRule,
    account: &StoresAccount,
    (withheld, today): (&[Withheld], Date),
) -> Vec<CombAdvice> {
    let combs = outermost_first(hive, ends);
    let carried = |bar: &Bar| {
        account
            .each
            .iter()
            .find(|c| c.bar == bar.id)
            .map_or(0.0, |stores| stores.combs)
    };
    let decided = combs
        .iter()
        .filter(|bar| bar.decision == Some(Decision::Take));
    let mut beyond = account.beyond_combs - decided.map(|bar| carried(bar)).sum::<f64>();
    // outermost first: once one ripe comb must stay, none further in is offered instead
    let mut first_kept: Option<u32> = None;
    let outside = outside_the_nest(hive, ends);
    // what was lifted in this visit is in reach, however the keeper came to it
    let in_reach = |bar: &Bar| {
        let met = |visit: &Visit| visit.met.contains(&bar.id);
        outside.contains(&bar.id) || hive.open_visit().is_some_and(met)
    };
    let latest = hive.visits.last();
    let decided_lately =
        |bar: &Bar| latest.is_some_and(|visit| visit.decisions.contains_key(&bar.id));
    let opened = match ends {
        [end] => Some(*end),
        _ => None,
    };
    combs
        .into_iter()
        .map(|bar| {
            let known = bar.known_contents();
            let ripeness = verdict(&known, rule);
            let mut kept_for = None;
            let held = withheld::gravest(withheld, bar, today);
            let blocked = matches!(held, Some((Weight::Blocks, _)));
            let taking = match (ripeness, bar.decision) {
                (v, Some(Decision::Leave)) if v.is_ripe() => Taking::LeftByKeeper,
                (v, _) if v.is_ripe() && blocked => Taking::Withheld,
                (v, Some(Decision::Take)) if v.is_ripe() => Taking::MayBeTaken,
                (v, _) if v.is_ripe() && !in_reach(bar) => Taking::BehindBrood,
                (v, _) if v.is_ripe() => {
                    let left = beyond - carried(bar);
                    kept_for = if covers(left) {
                        first_kept.map(KeptFor::Turn)
                    } else {
                        Some(KeptFor::Reserve(left + account.reserve.combs))
                    };
                    if kept_for.is_some() {
                        first_kept = first_kept.or(Some(bar.number));
                        Taking::NeededForReserve
                    } else {
                        beyond = left;
                        Taking::MayBeTaken
                    }
                }
                (
                    Verdict::LookAtOtherSide { .. }
                    | Verdict::CappingNotSaid
                    | Verdict::HoldingsNotSaid
                    | Verdict::NotLookedAt,
                    _,
                ) => Taking::LookFirst,
                _ => Taking::Stays,
            };
            let crossed = ripe::is_crossed(&known);
            let words = Words {
                ripeness,
                taking,
                decision: bar.decision,
                earlier: !decided_lately(bar),
                crossed,
                kept_for,
                opened,
                held: held.map(|(_, withheld)| withheld.brief.as_str()),
            };
            let reason = words.reason(account.reserve.combs);
            let (bar, number, decision) = (bar.id, bar.number, bar.decision);
            CombAdvice {
                bar,
                number,
                ripeness,
                taking,
                decision,
                crossed,
                reason,
            }
        })
        .collect()
}

/// Why a ripe comb stays as stores.
#[derive(Clone, Copy)]
enum KeptFor {
    /// So many full combs would be left without it, less than the reserve.
    Reserve(f64),
    /// What would be left covers the reserve, but this bar comes first and must stay.
    Turn(u32),
}

/// What the reason is made of.
struct Words<'a> {
    ripeness: Verdict,
    taking: Taking,
    decision: Option<Decision>,
    /// The decision is of a visit before the latest.
    earlier: bool,
    crossed: bool,
    kept_for: Option<KeptFor>,
    /// The end that is open, when one is.
    opened: Option<End>,
    /// What withholds it, or must be found out first.
    held: Option<&'a str>,
}

impl Words<'_> {
    fn reason(&self, reserve_combs: f64) -> String {
        let taken = self.decision == Some(Decision::Take);
        let stores = match self.taking {
            Taking::NeededForReserve => match self.kept_for {
                Some(KeptFor::Turn(first)) => {
                    format!("; stays, bar {first} comes before it and must stay for the reserve")
                }
                Some(KeptFor::Reserve(left)) => format!(
                    "; stays, {} would be left of the reserve of {}",
                    Combs(left.max(0.0)),
                    Combs(reserve_combs)
                ),
                None => "; stays for the reserve".to_owned(),
            },
            Taking::BehindBrood => match self.opened {
                Some(End::Left) => {
                    "; stays now, brood hangs before it: reach it from the right end"
                }
                Some(End::Right) => {
                    "; stays now, brood hangs before it: reach it from the left end"
                }
                None => "; stays, brood hangs on both sides of it",
            }
            .to_owned(),
            Taking::LeftByKeeper if self.earlier => "; you left it last time".to_owned(),
            Taking::LeftByKeeper => "; you leave it".to_owned(),
            Taking::MayBeTaken if taken => "; you take it".to_owned(),
            Taking::MayBeTaken => "; may be taken".to_owned(),
            Taking::LookFirst | Taking::Stays | Taking::Withheld if taken => {
                "; you take it all the same".to_owned()
            }
            Taking::LookFirst | Taking::Stays | Taking::Withheld => String::new(),
        };
        // of a comb that stays anyway it would only be in the way
        let offered = self.ripeness.is_ripe() && self.taking != Taking::LeftByKeeper;
        let held = match self.held {
            Some(held) if offered || taken => format!("; {held}"),
            _ => String::new(),
        };
        let crossed = if self.crossed {
            "; crossed, cut it free with care or leave it"
        } else {
            ""
        };
        format!("{}{held}{stores}{crossed}", self.ripeness)
    }
}

/// A count of full combs as it is said: "5 combs", "4.5 combs", "1 comb".
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Combs(pub f64);

impl fmt::Display for Combs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let tenths = (self.0 * 10.0).round() / 10.0;
        if (tenths - 1.0).abs() < 0.05 {
            return f.write_str("1 comb");
        }
        if (tenths - tenths.round()).abs() < 0.05 {
            // "-0" is no count of combs
            write!(f, "{:.0} combs", tenths.round() + 0.0)
        } else {
            write!(f, "{tenths:.1} combs")
        }
    }
}

impl CombAdvice {
    /// True when anything is known of this comb.
    pub fn is_known(&self) -> bool {
        self.ripeness != Verdict::NotLookedAt
    }
}
