//! How a hive stands, in words.

use hive::health::{SignOnRecord, Treated};
use hive::sign::Certainty;
use hive::treatment::LabelPeriod;
use hive::{Hive, Yard};
use jiff::civil::Date;

use crate::due::{Due, due};
use crate::withheld::{Weight, Withheld, binding, from_others, withholdings};

/// What is told of one hive.
#[derive(Debug, Clone)]
pub struct Standing<'a> {
    /// The hive.
    pub hive: &'a Hive,
    /// Treatments.
    pub treatments: Vec<&'a Treated>,
    /// Signs.
    pub signs: Vec<&'a SignOnRecord>,
    /// What withholds its honey today, gravest first.
    pub withheld: Vec<(Weight, Withheld)>,
    /// What falls due, by day.
    pub due: Vec<Due>,
}

impl<'a> Standing<'a> {
    /// How a hive stands: treatments on and signs that stand; with `all` what is over as well.
    pub fn of(yard: &Yard, hive: &'a Hive, today: Date, all: bool) -> Self {
        let mut withheld = withholdings(hive);
        withheld.extend(from_others(hive, yard.hives()));
        let treatments = hive.treatments.iter();
        let signs = hive.signs.iter();
        let binding = binding(&withheld, today).into_iter();
        Self {
            hive,
            treatments: treatments.filter(|t| all || t.is_on()).collect(),
            signs: signs.filter(|s| all || s.stands()).collect(),
            withheld: binding.map(|(weight, w)| (weight, w.clone())).collect(),
            due: due(hive, today),
        }
    }

    /// A lead and words a line; empty when there is nothing to tell.
    pub fn lines(&self, yard: &Yard, today: Date) -> Vec<(String, String)> {
        let line = |lead: &str, words: String| (lead.to_owned(), words);
        let treatments = self.treatments.iter();
        let signs = self.signs.iter();
        let withheld = self.withheld.iter().map(|(weight, withheld)| {
            let lead = match weight {
                Weight::Blocks => "Take no honey",
                Weight::Warns => "Find out first",
            };
            line(lead, withheld.what.clone())
        });
        let due = self.due.iter().map(|due| {
            let late = if due.day < today { " (overdue)" } else { "" };
            (due.day.to_string(), format!("{}{late}", due.words))
        });
        treatments
            .map(|treated| line("Treatment", treatment(treated)))
            .chain(signs.map(|seen| line("Sign", sign(yard, self.hive, seen))))
            .chain(withheld)
            .chain(due)
            .collect()
    }
}

/// A treatment in one line.
pub fn treatment(treated: &Treated) -> String {
    let given = &treated.given;
    let active = given.active.as_ref().map(|active| format!(" ({active})"));
    let rest = [
        Some(match &treated.ended {
            Some(end) => format!("{} to {}", given.on, end.on),
            None => format!("on since {}", given.on),
        }),
        given.quantity.clone(),
        given.batch.as_ref().map(|batch| format!("batch {batch}")),
        Some(label_period(given.withholding)),
    ];
    let rest: Vec<String> = rest.into_iter().flatten().collect();
    let active = active.unwrap_or_default();
    format!("{}{active}, {}", given.product, rest.join("; "))
}

/// A sign in one line.
pub fn sign(yard: &Yard, hive: &Hive, seen: &SignOnRecord) -> String {
    let sign = &seen.sign;
    let number = sign.bar.and_then(|bar| {
        let here = hive.bar(bar).map(|bar| bar.number);
        here.or_else(|| Some(yard.hive_of_bar(bar)?.bar(bar)?.number))
    });
    let parts = [
        number.map(|number| format!("on bar {number}")),
        sign.seen.clone(),
        seen.reports
            .last()
            .map(|report| format!("reported to {} on {}", report.to, report.on)),
        seen.cleared
            .as_ref()
            .map(|cleared| format!("cleared on {}: {}", cleared.on, cleared.why)),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    let rest = if parts.is_empty() {
        String::new()
    } else {
        format!(", {}", parts.join("; "))
    };
    format!(
        "{} {} on {}{rest}",
        sign.condition,
        certainty(sign.certainty),
        sign.on
    )
}

/// What a label says of honey; not copied in is said.
pub fn label_period(label: Option<LabelPeriod>) -> String {
    match label {
        None => "how long its label withholds honey is not known".to_owned(),
        Some(LabelPeriod::Nil) => "no honey withheld by its label".to_owned(),
        Some(LabelPeriod::Days { days }) => {
            format!("honey withheld while on and {days} days after")
        }
        Some(LabelPeriod::Through { day }) => format!("honey withheld through {day}"),
        Some(LabelPeriod::HoneyOnIsLost { days: 0 }) => {
            "honey on during it must not be taken".to_owned()
        }
        Some(LabelPeriod::HoneyOnIsLost { days }) => {
            format!("honey on during it or {days} days after must not be taken")
        }
    }
}

/// How sure a sign is.
pub const fn certainty(certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Suspected => "suspected",
        Certainty::Confirmed => "found",
        Certainty::NotFound => "looked for, none found",
    }
}
