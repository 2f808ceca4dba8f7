//! `combwright health` as it is typed.

use clap::{Args, Subcommand, ValueEnum};
use comb::Temperature;
use hive::treatment::LabelPeriod;
use jiff::civil::Date;

use crate::args::whole;

/// Health.
#[derive(Debug, Args)]
#[command(
    args_conflicts_with_subcommands = true,
    after_help = "Examples:\n  \
        combwright health treat Banksia \"Acme Strips\" --active amitraz --batch B-17 \\\n      \
            --quantity \"2 strips\" --out-by 2026-12-24 --withhold lost+14\n  \
        combwright health end Banksia --left \"both strips, whole\"\n  \
        combwright health sign Ironbark chalkbrood --bar 9\n  \
        combwright health sign Ironbark \"American foulbrood\" --bar 4 --method \"ropiness test\"\n  \
        combwright health report Ironbark --to \"the bee inspector\"\n\n\
        --withhold copies what the label says of honey:\n  \
        nil         none is withheld\n  \
        14          while it is on and 14 days after\n  \
        2026-12-24  through that day\n  \
        lost        honey on during it must not be taken\n  \
        lost+14     nor honey of the 14 days after\n\
        Left away, it is not known, and that is never taken for \"none\".\n\n\
        The product's label and local law decide; no dose is reckoned here.\n\
        A sign is not a diagnosis: on suspicion move no combs, report; your local\n\
        authority decides."
)]
pub(crate) struct HealthArgs {
    /// What to do; without it, how all hives stand
    #[command(subcommand)]
    pub(crate) command: Option<HealthCommand>,
}

/// What can be recorded.
#[derive(Debug, Subcommand)]
pub(crate) enum HealthCommand {
    /// Treatments, signs and honey withheld, of all hives or one
    List {
        /// The hive
        hive: Option<String>,
        /// What is over and cleared as well
        #[arg(long)]
        all: bool,
    },
    /// A medicine or another treatment is given to a hive
    Treat(TreatArgs),
    /// A treatment is over: strips out, course given
    End {
        /// The hive
        hive: String,
        /// Which, where several are on
        #[arg(long)]
        product: Option<String>,
        /// What was left over or found, in your words
        #[arg(long)]
        left: Option<String>,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// Copy in what the label says of honey, for a treatment that is recorded already
    Label {
        /// The hive
        hive: String,
        /// Which [default: the latest]
        #[arg(long)]
        product: Option<String>,
        /// What the label says of honey, see below `combwright health --help`
        #[arg(long, value_name = "LABEL", value_parser = label)]
        withhold: LabelPeriod,
    },
    /// A sign of a disease or pest is seen, or looked for and not found
    Sign(SignArgs),
    /// What you found out of the law where you are, for a sign that is recorded already
    Law {
        /// The hive
        hive: String,
        /// Which, where several stand
        #[arg(long)]
        condition: Option<String>,
        /// Whether a report is asked for
        #[arg(long, value_enum)]
        notifiable: YesNo,
    },
    /// A sign was reported
    Report {
        /// The hive
        hive: String,
        /// Which, where several stand
        #[arg(long)]
        condition: Option<String>,
        /// To whom
        #[arg(long)]
        to: String,
        /// Their reference, or what they said
        #[arg(long)]
        answer: Option<String>,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// A sign no longer stands
    Clear {
        /// The hive
        hive: String,
        /// Which, where several stand
        #[arg(long)]
        condition: Option<String>,
        /// Why: "the laboratory found none", "the inspector lifted the order"
        #[arg(long)]
        why: String,
        /// From which day on [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// A medicine was bought
    Buy(BuyArgs),
    /// A medicine was disposed of
    Dispose {
        /// The product, as on its label
        product: String,
        /// How and where: "taken back to the seller"
        #[arg(long)]
        how: String,
        /// The batch on the packet
        #[arg(long)]
        batch: Option<String>,
        /// How much, in your words
        #[arg(long)]
        quantity: Option<String>,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// Diseases and pests: how they show and what was read of the law
    Conditions,
    /// Take back the last things recorded here; the entries stay
    Undo {
        /// How many
        #[arg(default_value_t = 1, value_parser = whole::<usize>)]
        count: usize,
    },
    /// Bring back what the last undos took away
    Redo {
        /// How many
        #[arg(default_value_t = 1, value_parser = whole::<usize>)]
        count: usize,
    },
}

/// A treatment.
#[derive(Debug, Args)]
pub(crate) struct TreatArgs {
    /// The hive
    pub(crate) hive: String,
    /// The product, as on its label; or what was done, where there is none
    pub(crate) product: String,
    /// The active substance, as on the label
    #[arg(long, value_name = "NAME")]
    pub(crate) active: Option<String>,
    /// The batch on the packet
    #[arg(long)]
    pub(crate) batch: Option<String>,
    /// How much, in your words; the label says how much it may be
    #[arg(long, value_name = "WORDS")]
    pub(crate) quantity: Option<String>,
    /// How it was given
    #[arg(long, value_name = "WORDS")]
    pub(crate) how: Option<String>,
    /// What it is against
    #[arg(long, value_name = "WHAT")]
    pub(crate) against: Option<String>,
    /// What the label says of honey: nil, DAYS, DAY, lost, lost+DAYS
    #[arg(long, value_name = "LABEL", value_parser = label)]
    pub(crate) withhold: Option<LabelPeriod>,
    /// The day on which it is to come out
    #[arg(long, value_parser = crate::args::day, value_name = "DAY", conflicts_with = "once")]
    pub(crate) out_by: Option<Date>,
    /// Nothing stays in the hive: it is over on the same day
    #[arg(long)]
    pub(crate) once: bool,
    /// Who sold it, with the address
    #[arg(long, value_name = "WHO")]
    pub(crate) supplier: Option<String>,
    /// The day on which it was bought
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) bought: Option<Date>,
    /// Who prescribed it
    #[arg(long, value_name = "WHO")]
    pub(crate) prescriber: Option<String>,
    /// Air expected while it is on, degrees C, as 12..26
    #[arg(long, value_name = "FROM..TO", value_parser = air, allow_hyphen_values = true)]
    pub(crate) air: Option<(Temperature, Temperature)>,
    /// Whether honey for harvest was in the hive
    #[arg(long, value_enum)]
    pub(crate) honey_on: Option<YesNo>,
    /// Whether there was capped brood
    #[arg(long, value_enum)]
    pub(crate) capped_brood: Option<YesNo>,
    /// On which day [default: today]
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) on: Option<Date>,
}

/// A sign.
#[derive(Debug, Args)]
pub(crate) struct SignArgs {
    /// The hive
    pub(crate) hive: String,
    /// The disease or pest, or your words for what it might be
    pub(crate) condition: String,
    /// On which bar
    #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>)]
    pub(crate) bar: Option<u32>,
    /// What was seen, in your words
    #[arg(long, value_name = "WORDS")]
    pub(crate) seen: Option<String>,
    /// How it was looked for
    #[arg(long, value_name = "WORDS")]
    pub(crate) method: Option<String>,
    /// A laboratory or an inspector says so, or it cannot be mistaken
    #[arg(long, conflicts_with = "not_found")]
    pub(crate) confirmed: bool,
    /// Looked for, and none found
    #[arg(long)]
    pub(crate) not_found: bool,
    /// Whether the law where you are asks for a report, as you found out
    #[arg(long, value_enum)]
    pub(crate) notifiable: Option<YesNo>,
    /// On which day [default: today]
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) on: Option<Date>,
}

/// A purchase.
#[derive(Debug, Args)]
pub(crate) struct BuyArgs {
    /// The product, as on its label
    pub(crate) product: String,
    /// The active substance, as on the label
    #[arg(long, value_name = "NAME")]
    pub(crate) active: Option<String>,
    /// The batch on the packet
    #[arg(long)]
    pub(crate) batch: Option<String>,
    /// How much, in your words
    #[arg(long, value_name = "WORDS")]
    pub(crate) quantity: Option<String>,
    /// What the label says of honey: nil, DAYS, DAY, lost, lost+DAYS
    #[arg(long, value_name = "LABEL", value_parser = label)]
    pub(crate) withhold: Option<LabelPeriod>,
    /// Who sold it, with the address
    #[arg(long, value_name = "WHO")]
    pub(crate) supplier: Option<String>,
    /// Use by this day
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) expires: Option<Date>,
    /// Where the proof of purchase is
    #[arg(long, value_name = "WORDS")]
    pub(crate) proof: Option<String>,
    /// On which day [default: today]
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) on: Option<Date>,
}

/// Yes or no.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum YesNo {
    /// Yes
    Yes,
    /// No
    No,
}

impl From<YesNo> for bool {
    fn from(word: YesNo) -> Self {
        word == YesNo::Yes
    }
}

/// What a label says of honey.
fn label(text: &str) -> Result<LabelPeriod, String> {
    let wrong = || {
        "not told of honey so\n  Write nil, 14 (days after it is over), 2026-12-24 (the last day),\n  \
         lost, or lost+14."
            .to_owned()
    };
    let days = |text: &str| text.trim().parse::<u16>().map_err(|_| wrong());
    let words = text.trim().to_lowercase();
    match words.as_str() {
        "nil" | "none" => Ok(LabelPeriod::Nil),
        "lost" => Ok(LabelPeriod::HoneyOnIsLost { days: 0 }),
        words => {
            if let Some(after) = words.strip_prefix("lost+") {
                return days(after).map(|days| LabelPeriod::HoneyOnIsLost { days });
            }
            if let Ok(day) = words.parse::<Date>() {
                return Ok(LabelPeriod::Through { day });
            }
            days(words).map(|days| LabelPeriod::Days { days })
        }
    }
}

/// "12..26".
fn air(text: &str) -> Result<(Temperature, Temperature), String> {
    let degrees = |text: &str| text.trim().parse::<f64>().ok().map(Temperature::celsius);
    text.split_once("..")
        .and_then(|(from, to)| degrees(from).zip(degrees(to)))
        .filter(|(from, to)| from <= to)
        .ok_or_else(|| "write 12..26, in degrees C".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_is_read_as_it_is_copied_in_and_never_guessed() {
        assert_eq!(label("nil"), Ok(LabelPeriod::Nil));
        assert_eq!(label("14"), Ok(LabelPeriod::Days { days: 14 }));
        let day = Date::constant(2026, 12, 24);
        assert_eq!(label("2026-12-24"), Ok(LabelPeriod::Through { day }));
        assert_eq!(label("lost"), Ok(LabelPeriod::HoneyOnIsLost { days: 0 }));
        assert_eq!(
            label("Lost+14"),
            Ok(LabelPeriod::HoneyOnIsLost { days: 14 })
        );
        for wrong in ["", "soon", "-3", "1.5", "2026-13-01", "lost+", "lost-3"] {
            assert!(label(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_span_of_air_goes_upward() {
        assert!(air("12..26").is_ok());
        assert!(air("-5..26.5").is_ok());
        for wrong in ["26..12", "12", "a..b"] {
            assert!(air(wrong).is_err(), "{wrong}");
        }
    }
}
