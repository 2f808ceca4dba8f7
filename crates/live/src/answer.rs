//! Advice in one short sentence, as it is told at the hive.

use advice::advise::{Advice, Running};
use advice::count::Count;
use advice::stores::StoresAccount;
use advice::taking::Combs;
use comb::Measures;
use talk::Visit;

/// What advice offers, for the answer to a keeper's question.
#[derive(Debug, Clone, Copy)]
pub struct Offer<'a> {
    may_take: &'a [u32],
    stores: &'a StoresAccount,
    measures: Measures,
}

impl<'a> From<&'a Advice> for Offer<'a> {
    fn from(advice: &'a Advice) -> Self {
        Self {
            may_take: &advice.may_take,
            stores: &advice.stores,
            measures: Measures::METRIC,
        }
    }
}

impl<'a> From<&'a Running> for Offer<'a> {
    fn from(advice: &'a Running) -> Self {
        Self {
            may_take: &advice.may_take,
            stores: &advice.stores,
            measures: Measures::METRIC,
        }
    }
}

impl Offer<'_> {
    /// The same, told in other units.
    #[must_use]
    pub const fn in_measures(self, measures: Measures) -> Self {
        Self { measures, ..self }
    }
}

impl talk::Advice for Offer<'_> {
    fn measures(&self) -> Measures {
        self.measures
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
