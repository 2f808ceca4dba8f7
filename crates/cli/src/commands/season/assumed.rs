//! What the season model needs and nobody said: assumed in the open, each in a sentence.

use advice::AdviceError;
use advice::on_record::{Assumed, Told, colony_on_record};
use advice::stores::Scales;
use hive::Hive;
use season::Colony;

use crate::args::SeasonArgs;
use crate::failure::Failure;

/// What was assumed, in sentences.
#[derive(Debug, Default)]
pub(super) struct Known {
    words: Vec<String>,
}

/// What the keeper told of the colony on the command line.
pub(super) const fn told(args: &SeasonArgs) -> Told {
    Told {
        bees: args.bees,
        brood: args.brood,
        honey_kg: args.honey,
        queenless: args.queenless,
    }
}

impl Known {
    /// Notes one assumption.
    pub(super) fn assume(&mut self, words: impl Into<String>) {
        self.words.push(words.into());
    }

    /// All of them.
    pub(super) fn words(&self) -> &[String] {
        &self.words
    }

    /// The colony as the record has it; what is told on the command line goes before.
    pub(super) fn colony(
        &mut self,
        hive: &Hive,
        scales: &Scales,
        told: &Told,
    ) -> Result<Colony, Failure> {
        let (colony, assumed) = colony_on_record(hive, scales, told).map_err(|why| {
            let nothing = matches!(why, AdviceError::NoCombs { .. });
            let failure = Failure::from(why);
            if nothing {
                failure.help("Record a visit first, or give --bees, --brood and --honey.")
            } else {
                failure
            }
        })?;
        self.words.extend(assumed.into_iter().map(words));
        Ok(colony)
    }
}

fn words(assumed: Assumed) -> String {
    match assumed {
        Assumed::BroodOnHalf { combs } => format!(
            "brood on half of the faces of the {combs} brood combs on record; --brood gives cells"
        ),
        Assumed::BeesCover {
            bees,
            percent,
            combs,
        } => format!(
            "{bees:.0} bees, as if they covered {percent:.0} % of {combs} combs; --bees says better"
        ),
        Assumed::NotLookedAt { combs } => {
            format!("{combs} combs that nobody looked at hold nothing; --honey gives kilograms")
        }
    }
}
