//! All advice on one hive together: what a keeper asks for at the hive and at the desk.

use comb::Share;
use health::withheld::{Withheld, binding, withholdings};
use hive::entry::{Climate, End};
use hive::{Hive, HiveId, Visit, Yard};
use jiff::civil::Date;
use serde::Serialize;

use crate::AdviceError;
use crate::closing_plan::{AtHand, ClosingPlan, closing_plan};
use crate::count::Count;
use crate::fed::feed_caution;
use crate::opening::{Caution, Weight, weather_cautions};
use crate::own_order::order_cautions;
use crate::reserve::{ModelReserve, reserve_due};
use crate::returning::{Ahead, Bounds, Return, Ripens, propose_return, ripe_soon, ripens};
use crate::ripe::RipeRule;
use crate::stores::{Scales, StoresAccount, stores_account};
use crate::taking::{CombAdvice, Taking, advise_combs};

/// What advice needs to know beside the journal.
#[derive(Debug, Clone, PartialEq)]
pub struct Surroundings {
    /// Today, the flow, what makes a trip worth it, days that suit.
    pub ahead: Ahead,
    /// The winter of the hive's place, when told.
    pub climate: Option<Climate>,
    /// What the season model says must stay, when the weather of the place is known.
    pub season_model: Option<ModelReserve>,
    /// Water up to which a refractometer overrides the caps, when it is not the general limit.
    pub legal_moisture: Option<Share>,
    /// Shims and board at hand.
    pub at_hand: AtHand,
    /// What other hives pass on to this one, see [`health::withheld::from_others`]; what its own
    /// record withholds is found there.
    pub withheld_by_others: Vec<Withheld>,
}

impl Surroundings {
    /// What withholds the hive's honey, by its own record and by what others pass on.
    fn withheld(&self, hive: &Hive) -> Vec<Withheld> {
        let others = self.withheld_by_others.iter().cloned();
        withholdings(hive).into_iter().chain(others).collect()
    }
}

/// The winter of a hive's place, when told.
pub fn climate_of(yard: &Yard, hive: &Hive) -> Option<Climate> {
    hive.apiary
        .and_then(|apiary| yard.apiary(apiary))
        .and_then(|apiary| apiary.climate)
}

/// All advice on one hive.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Advice {
    /// Which hive.
    pub hive: HiveId,
    /// Its name.
    pub name: String,
    /// The rule by which combs count as ripe.
    pub rule: RipeRule,
    /// Comb by comb, outermost first.
    pub combs: Vec<CombAdvice>,
    /// Numbers of the bars that may be taken, outermost first.
    pub may_take: Vec<u32>,
    /// The running count.
    pub count: Count,
    /// Stores against the reserve.
    pub stores: StoresAccount,
    /// Honey that is open now and likely ripe within two weeks, kg.
    pub ripe_within_two_weeks_kg: f64,
    /// How to close each end that is open.
    pub closing: Vec<ClosingPlan>,
    /// When to come back.
    pub return_visit: Return,
    /// Weather and other cautions.
    pub cautions: Vec<Caution>,
}

/// The part of the advice that is asked for at every phrase: cheap, with nothing of the closing-up and
/// the return in it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Running {
    /// The rule by which combs count as ripe.
    pub rule: RipeRule,
    /// Comb by comb, outermost first.
    pub combs: Vec<CombAdvice>,
    /// Numbers of the bars that may be taken, outermost first.
    pub may_take: Vec<u32>,
    /// The running count.
    pub count: Count,
    /// Stores against the reserve.
    pub stores: StoresAccount,
    /// Weather and other cautions.
    pub cautions: Vec<Caution>,
}

/// What may be taken and how the count stands. `scales` are those of the hive.
pub fn running(hive: &Hive, scales: &Scales, around: &Surroundings) -> Running {
    let mut rule = RipeRule::with_mean(hive.ripeness);
    if let Some(limit) = around.legal_moisture {
        rule.legal_moisture = limit;
    }
    let visit = hive.last_visit();
    // between visits the ends that were open last are closed: offer from both ends
    let ends: &[End] = hive.open_visit().map_or(&[], |v| &v.ends);
    let reserve = reserve_due(
        hive,
        around.climate,
        around.season_model,
        scales.ordinary_comb(),
    );
    let standing = hive.bars_in_row().filter(|bar| bar.has_comb());
    let stores = stores_account(standing, scales, reserve);
    let withheld = around.withheld(hive);
    let today = around.ahead.today;
    let combs = advise_combs(hive, ends, rule, &stores, (&withheld, today));
    let count = Count::of(hive, visit, &combs, &stores);
    Running {
        rule,
        may_take: may_take(&combs),
        cautions: health_cautions(&withheld, today)
            .chain(weather_cautions(
                visit.and_then(|v| v.weather.temperature_c),
            ))
            .chain(feed_caution(hive, &around.ahead))
            .chain(visit.into_iter().flat_map(|v| order_cautions(hive, v)))
            .collect(),
        combs,
        count,
        stores,
    }
}

/// Advises on a hive; `yard` lends the combs that were judged in the hand.
///
/// # Errors
/// [`AdviceError`] when the row on record makes no closing-up problem that can be asked.
pub fn advise<'a>(
    hive: &Hive,
    yard: impl IntoIterator<Item = &'a Hive>,
    around: &Surroundings,
) -> Result<Advice, AdviceError> {
    let scales = Scales::of(hive, yard);
    let Running {
        rule,
        combs,
        may_take,
        count,
        stores,
        cautions,
    } = running(hive, &scales, around);
    let ripens = ripens(hive, rule, &around.ahead);
    let withheld = around.withheld(hive);
    let bounds = Bounds {
        looked: hive.last_visit().map(|visit| visit.opened),
        withheld: &withheld,
        beyond_combs: stores.beyond_combs,
    };
    let return_visit = propose_return(&combs, &ripens, &around.ahead, bounds);
    Ok(Advice {
        hive: hive.id,
        name: hive.name.clone(),
        rule,
        may_take,
        ripe_within_two_weeks_kg: ripe_within_two_weeks(&stores, &ripens),
        closing: closing(hive, hive.last_visit(), &scales, around)?,
        cautions,
        combs,
        count,
        stores,
        return_visit,
    })
}

/// What withholds the hive's honey today.
fn health_cautions(withheld: &[Withheld], today: Date) -> impl Iterator<Item = Caution> + '_ {
    binding(withheld, today)
        .into_iter()
        .map(|(weight, withheld)| {
            let weight = match weight {
                health::withheld::Weight::Blocks => Weight::Stop,
                health::withheld::Weight::Warns => Weight::Caution,
            };
            Caution::plain(weight, withheld.what.clone())
        })
}

fn may_take(combs: &[CombAdvice]) -> Vec<u32> {
    combs
        .iter()
        .filter(|c| c.taking == Taking::MayBeTaken)
        .map(|c| c.number)
        .collect()
}

fn ripe_within_two_weeks(stores: &StoresAccount, ripens: &Ripens) -> f64 {
    let soon = ripe_soon(ripens);
    let ripens = |comb: &crate::stores::CombStores| {
        let share = soon.get(&comb.bar).copied().unwrap_or(Share::ZERO);
        (comb.honey.unripe_when_ripe.best() * share).to_kg()
    };
    // the sum of nothing is -0.0, and would be read as "-0 kg"
    stores.each.iter().map(ripens).sum::<f64>() + 0.0
}

fn closing(
    hive: &Hive,
    visit: Option<&Visit>,
    scales: &Scales,
    around: &Surroundings,
) -> Result<Vec<ClosingPlan>, AdviceError> {
    let Some(visit) = visit else {
        return Ok(Vec::new());
    };
    let mut ends = visit.ends.clone();
    ends.dedup();
    let plan = |end: End| closing_plan(hive, visit, end, scales, &around.at_hand).transpose();
    ends.into_iter().filter_map(plan).collect()
}
