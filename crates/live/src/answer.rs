//! Advice in one short sentence, as it is told at the hive.

use advice::advise::{Advice, Running};
use advice::count::Count;
use advice::stores::StoresAccount;
use advice::taking::Combs;
use comb::ToldIn;
use talk::Visit;

/// What advice offers, for the answer to a keeper's question.
#[derive(Debug, Clone, Copy)]
pub struct Offer<'a> {
    may_take: &'a [u32],
    stores: &'a StoresAccount,
    told_in: ToldIn,
}

impl<'a> From<&'a Advice> for Offer<'a> {
    fn from(advice: &'a Advice) -> Self {
        Self {
            may_take: &advice.may_take,
            stores: &advice.stores,
            told_in: ToldIn::Metric,
        }
    }
}

impl<'a> From<&'a Running> for Offer<'a> {
    fn from(advice: &'a Running) -> Self {
        Self {
            may_take: &advice.may_take,
            stores: &advice.stores,
            told_in: ToldIn::Metric,
        }
    }
}

impl Offer<'_> {
    /// The same, told in other units.
    #[must_use]
    pub const fn told_in(self, told_in: ToldIn) -> Self {
        Self { told_in, ..self }
    }
}

impl talk::Advice for Offer<'_> {
    fn told_in(&self) -> ToldIn {
        self.told_in
    }

    fn may_take(&self, _: &Visit) -> Option<String> {
        let stay = format!(
            "stores are {} and {} must stay",
            Combs(self.stores.combs),
            tenths(self.stores.reserve.combs)
        );
        Some(match self.may_take {
            [] => format!("Nothing yet: {stay}."),
            [bar] => format!("Bar {bar}: {stay}."),
            bars => {
                let bars: Vec<String> = bars.iter().map(ToString::to_string).collect();
                format!("Bars {}: {stay}.", bars.join(", "))
            }
        })
    }
}

/// The running count in one line, as it is heard at the hive.
pub fn count_words(count: &Count) -> String {
    let unseen = match count.not_looked_at {
        0 => String::new(),
        unseen => format!(", {unseen} not looked at"),
    };
    format!(
        "{} taken, {} ripening, {} with brood; {} of {} stay{unseen}",
        count.taken,
        count.ripening,
        count.brood,
        tenths(count.stores_combs),
        Combs(count.reserve_combs)
    )
}

/// "5", "4.5": a figure as it is said.
pub fn tenths(figure: f64) -> String {
    let tenths = (figure * 10.0).round() / 10.0;
    if tenths.fract().abs() < 0.05 {
        format!("{tenths:.0}")
    } else {
        format!("{tenths:.1}")
    }
}
