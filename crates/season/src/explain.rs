//! Why the figures are what they are, in sentences. All of this crate's longer English stands here.

use comb::{Mass, ToldIn};

use crate::report::{Report, RestsOn};
use crate::thumb::Winter;

/// The sentences of a report, the weightiest first.
pub(crate) fn words(report: &Report, rests_on: RestsOn, told_in: ToldIn) -> Vec<String> {
    let mut words = Vec::new();
    words.extend(beside_the_thumb(report, told_in));
    words.push(beside_the_handbook(report, told_in));
    if report.reserve.beyond_help > 0.01 {
        words.push(format!(
            "In {:.0} % of the runs no stores help: the colony dwindles. {}",
            report.reserve.beyond_help * 100.0,
            if rests_on.bees < 8000.0 {
                "It is small for its season; uniting may serve it better than feeding."
            } else {
                "Bees, queen or forage decide there, not honey."
            }
        ));
    }
    if rests_on.bees < 8000.0 {
        words.push(
            "Small clusters eat more a bee than this model has it (about a third more under 5000 \
             bees); leave more."
                .to_owned(),
        );
    }
    words.push(match rests_on.calibration.weighings {
        0 => {
            "No weights of your own yet: weigh the hive before and after the lean months, and the \
              model takes its consumption from them."
                .to_owned()
        }
        count => format!(
            "Consumption is set to {:.2} times the published figures by {count} of your own \
             weighings.",
            rests_on.calibration.factor
        ),
    });
    words
}

/// Why the model and the rule of thumb differ, when they do.
fn beside_the_thumb(report: &Report, told_in: ToldIn) -> Option<String> {
    let Some(combs) = report.combs else {
        return Some(format!(
            "The rule of thumb says {}; the model finds no amount of stores in this body that \
             carries the colony surely enough.",
            range(report.thumb.combs)
        ));
    };
    let (low, high) = report.thumb.combs;
    let said = range(report.thumb.combs);
    let full = report.full_comb.kg.to_kg();
    let told = told_in.mass_words(report.full_comb.kg);
    if combs.combs > high + 0.5 {
        let why = if full < 2.0 {
            format!("a full comb of this hive holds only {told}")
        } else {
            "it counts the poorest years of this place, this colony's size and the days until the \
             date you chose"
                .to_owned()
        };
        Some(format!(
            "The model asks for {:.1} combs where the rule of thumb says {said}: {why}. Leave the \
             larger until your own weights say otherwise.",
            combs.combs
        ))
    } else if combs.combs < low - 0.5 {
        let heavy = if full > 2.6 {
            format!(" Your combs are heavy, too ({told}).")
        } else {
            String::new()
        };
        let winter = match report.thumb.winter {
            Winter::Mild | Winter::None => "forage on flying days pays for part of it",
            Winter::Cold | Winter::Real => "a clustered colony burns little",
        };
        Some(format!(
            "The model asks for {:.1} combs where the rule of thumb says {said}: {winter}, if the \
             forage calendar is right.{heavy} The rule of thumb is a margin against what the model \
             does not know; think twice before taking its combs.",
            combs.combs
        ))
    } else {
        None
    }
}

fn range((low, high): (f64, f64)) -> String {
    if (high - low).abs() < 0.01 {
        format!("{low:.0}")
    } else {
        format!("{low:.0} to {high:.0}")
    }
}

/// The gap between bottom-up consumption and the handbooks, never hidden.
fn beside_the_handbook(report: &Report, told_in: ToldIn) -> String {
    let (low, high) = report.handbook.kg;
    let (low, high) = (Mass::kg(low), Mass::kg(high));
    let eaten = report.without_income_kg;
    let (sign, figure) = (told_in.mass_sign(), |mass: Mass| told_in.mass(mass));
    let needed = report.reserve.needed_kg.unwrap_or(Mass::kg(f64::INFINITY));
    let under = figure(low - needed);
    let beside = if needed < low && under < 0.5 {
        "The model and the handbooks agree.".to_owned()
    } else if needed < low && eaten >= low {
        format!(
            "The model needs {under:.0} {sign} less than they advise because, by the forage calendar, flying \
             days pay for the rest; where that forage is in doubt, leave what the handbooks say."
        )
    } else if needed < low {
        format!(
            "That is {under:.0} {sign} under the handbooks: their figure also covers autumn and spring \
             without income, larger brood, flight, weight that is not honey, and safety. The model \
             is not raised to meet it."
        )
    } else if figure(needed - high) >= 0.5 {
        format!(
            "That is {:.0} {sign} over the handbooks: a long span, a large colony, or poor forage.",
            figure(needed - high)
        )
    } else {
        "That lies within the handbooks' range.".to_owned()
    };
    format!(
        "Without any income this colony would eat {:.0} {sign} over the span by published \
         consumption; handbooks advise {:.0} to {:.0} {sign} a winter ({}). {}",
        figure(eaten),
        figure(low),
        figure(high),
        report.handbook.source,
        if needed.to_kg().is_finite() {
            beside
        } else {
            String::new()
        }
    )
}
