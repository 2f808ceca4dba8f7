//! `combwright honey` as it is typed.

use clap::{ArgGroup, Args, Subcommand, ValueEnum};
use comb::{Mass, Volume};
use honey::lots::event;
use jiff::civil::Date;

use crate::args::whole;

/// The honey house.
#[derive(Debug, Args)]
#[command(
    args_conflicts_with_subcommands = true,
    after_help = "Example, from comb to jar and back:\n  \
        combwright honey seller --region uk --country Wales --business \"A. Keeper, 1 Lane, Town\"\n  \
        combwright honey pail white --from Banksia --kg 4.2kg\n  \
        combwright honey lot 26-1 --pails white --honey 3.3kg\n  \
        combwright honey reading 26-1 --index 1.4900 --celsius 26\n  \
        combwright honey jars 26-1 --net 340g --count 9\n  \
        combwright honey trace bar Banksia 14\n\n\
        Masses take a unit: 340g, 4.2kg, 12oz, 2lb. Law differs and changes: ask your authority."
)]
pub(crate) struct HoneyArgs {
    /// What to do; without it, what stands in the honey house
    #[command(subcommand)]
    pub(crate) command: Option<HoneyCommand>,
}

/// What can be done in the honey house.
#[derive(Debug, Subcommand)]
pub(crate) enum HoneyCommand {
    /// Water from a refractometer, and whether it keeps and is lawful; records nothing
    Moisture {
        #[command(flatten)]
        reading: ReadingArgs,
        /// Where it is sold
        #[arg(long, value_enum)]
        region: Option<Market>,
    },
    /// Bring lots or vessels to a moisture with the least pouring, or mix one batch
    Blend(BlendArgs),
    /// Sugar and water for a syrup
    Syrup(SyrupArgs),
    /// Net weights of jars against the packers' rules
    Weights {
        /// What the label says
        #[arg(long, value_parser = net)]
        net: Mass,
        /// Net weight of each jar weighed, grams
        #[arg(required = true, value_name = "GRAMS")]
        grams: Vec<f64>,
        /// Where it is sold
        #[arg(long, value_enum)]
        region: Option<Market>,
    },
    /// Combs go into a pail: those taken that are in none yet
    Pail(PailArgs),
    /// Pails become a lot of honey
    Lot(LotArgs),
    /// Honey comes from somebody else
    Receive {
        /// The new lot
        lot: String,
        /// From whom
        #[arg(long)]
        from: String,
        /// Their lot mark
        #[arg(long)]
        their_lot: String,
        /// How much
        #[arg(long, value_parser = mass)]
        kg: Mass,
        /// Country of harvest
        #[arg(long)]
        country: String,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// A moisture read of a lot
    Reading {
        /// The lot
        lot: String,
        #[command(flatten)]
        reading: ReadingArgs,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// A lot goes through a strainer
    Filter {
        /// The lot
        lot: String,
        /// Openings, micrometres
        #[arg(long, value_name = "MICROMETRES", value_parser = whole::<u32>)]
        mesh: u32,
        /// What stayed in it
        #[arg(long, value_parser = mass)]
        loss: Option<Mass>,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// Honey of a lot is lost, eaten or dried
    Loss {
        /// The lot
        lot: String,
        /// How much
        #[arg(value_parser = mass)]
        mass: Mass,
        /// Why
        #[arg(long, value_enum)]
        why: WhyLost,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// A lot is weighed again
    Weigh {
        /// The lot
        lot: String,
        /// What it weighs
        #[arg(value_parser = mass)]
        mass: Mass,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// A lot is seen to ferment
    Ferments {
        /// The lot
        lot: String,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// Fill jars from a lot
    Jars(JarsArgs),
    /// Jars leave: sold, given, eaten, broken
    Out {
        /// The filling, as `combwright honey` lists it
        fill: String,
        /// How many
        #[arg(value_parser = whole::<u32>)]
        count: u32,
        /// How
        #[arg(long, value_enum, default_value_t = HowGone::Sold)]
        how: HowGone,
        /// To whom, for a recall
        #[arg(long)]
        to: Option<String>,
        /// Taken for all of them, such as 54.00
        #[arg(long, requires = "currency")]
        money: Option<String>,
        /// Its currency, such as AUD
        #[arg(long)]
        currency: Option<String>,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// Jars come back
    Back {
        /// The filling
        fill: String,
        /// How many
        #[arg(value_parser = whole::<u32>)]
        count: u32,
        /// On which day [default: today]
        #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
        on: Option<Date>,
    },
    /// Jars by size: filled, here, gone, money taken
    Stock,
    /// Which jars hold a comb, which combs are in a jar
    Trace {
        /// What to follow
        #[command(subcommand)]
        of: Trace,
    },
    /// Who sells and where: what every label repeats
    Seller(SellerArgs),
    /// Take back the last things recorded in the honey house
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

/// A reading; one scale.
#[derive(Debug, Args)]
#[command(group = ArgGroup::new("scale").required(true).args(["index", "brix", "water", "lab"]))]
pub(crate) struct ReadingArgs {
    /// Refractive index as read
    #[arg(long)]
    pub(crate) index: Option<f64>,
    /// Degrees Brix on a sucrose scale as read
    #[arg(long)]
    pub(crate) brix: Option<f64>,
    /// Per cent of water on a honey scale as read
    #[arg(long, value_name = "PERCENT")]
    pub(crate) water: Option<f64>,
    /// Per cent of water as a laboratory reports it
    #[arg(long, value_name = "PERCENT")]
    pub(crate) lab: Option<f64>,
    /// Temperature of prism and honey; without it the instrument has corrected by itself (ATC)
    #[arg(long, allow_negative_numbers = true, conflicts_with_all = ["water", "lab"])]
    pub(crate) celsius: Option<f64>,
}

/// Blending.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  combwright honey blend 26-1 26-2 --target 18\n  \
        combwright honey blend --vessel tank=10kg@19.4 --vessel drum=20kg@16.8 --target 18\n  \
        combwright honey blend 26-1 26-2 --target 18 --batch 12kg --into 26-3   records it"
)]
pub(crate) struct BlendArgs {
    /// Lots of the honey house, with moisture read
    pub(crate) lots: Vec<String>,
    /// A vessel that is no lot, as NAME=MASS@PERCENT
    #[arg(long, value_parser = vessel)]
    pub(crate) vessel: Vec<honey::blend::Vessel>,
    /// Water not to be exceeded, per cent
    #[arg(long, value_name = "PERCENT")]
    pub(crate) target: f64,
    /// Mix one batch of this mass instead of bringing all to the target
    #[arg(long, value_parser = mass)]
    pub(crate) batch: Option<Mass>,
    /// Record the batch as this new lot
    #[arg(
        long,
        value_name = "LOT",
        requires = "batch",
        conflicts_with = "vessel"
    )]
    pub(crate) into: Option<String>,
    /// On which day [default: today]
    #[arg(long, value_parser = crate::args::day, value_name = "DAY", requires = "into")]
    pub(crate) on: Option<Date>,
}

/// Syrup.
#[derive(Debug, Args)]
#[command(
    group = ArgGroup::new("amount").required(true).args(["litres", "sugar"]),
    after_help = "Examples:\n  combwright honey syrup 2:1 --litres 4\n  \
                  combwright honey syrup 1:1 --sugar 2kg\n\nParts are by weight."
)]
pub(crate) struct SyrupArgs {
    /// Sugar to water by weight, such as 2:1
    #[arg(value_parser = parts)]
    pub(crate) parts: (f64, f64),
    /// Litres of syrup wanted
    #[arg(long, value_parser = litres)]
    pub(crate) litres: Option<Volume>,
    /// Sugar there is
    #[arg(long, value_parser = mass)]
    pub(crate) sugar: Option<Mass>,
    /// Will it drop crystals at this temperature?
    #[arg(long, default_value_t = 10.0, allow_negative_numbers = true)]
    pub(crate) celsius: f64,
}

/// A pail.
#[derive(Debug, Args)]
pub(crate) struct PailArgs {
    /// A name for this fill of the pail
    pub(crate) pail: String,
    /// Only combs of this hive
    #[arg(long, value_name = "HIVE")]
    pub(crate) from: Option<String>,
    /// Only these bars of it
    #[arg(long, value_delimiter = ',', requires = "from", value_parser = whole::<u32>)]
    pub(crate) bars: Vec<u32>,
    /// Only combs taken on this day
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) taken: Option<Date>,
    /// Weight of the comb in it, without the pail
    #[arg(long, value_parser = mass)]
    pub(crate) kg: Option<Mass>,
    /// On which day [default: today]
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) on: Option<Date>,
}

/// A lot.
#[derive(Debug, Args)]
pub(crate) struct LotArgs {
    /// Its name
    pub(crate) lot: String,
    /// Pails emptied into it
    #[arg(long, value_delimiter = ',', required = true)]
    pub(crate) pails: Vec<String>,
    /// Honey in it
    #[arg(long, value_parser = mass)]
    pub(crate) honey: Mass,
    /// Wax, if weighed
    #[arg(long, value_parser = mass)]
    pub(crate) wax: Option<Mass>,
    /// Loss, if weighed
    #[arg(long, value_parser = mass)]
    pub(crate) loss: Option<Mass>,
    /// How the honey was got
    #[arg(long, value_enum, default_value_t = How::Drained)]
    pub(crate) method: How,
    /// Country of harvest [default: as told by `combwright honey seller`]
    #[arg(long)]
    pub(crate) country: Option<String>,
    /// On which day [default: today]
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) on: Option<Date>,
}

/// Jars.
#[derive(Debug, Args)]
pub(crate) struct JarsArgs {
    /// The lot
    pub(crate) lot: String,
    /// Net quantity of one, with its unit
    #[arg(long, value_parser = net)]
    pub(crate) net: Mass,
    /// How many
    #[arg(long, value_parser = whole::<u32>)]
    pub(crate) count: u32,
    /// Honey drawn for all of them [default: what the labels promise]
    #[arg(long, value_parser = mass)]
    pub(crate) drawn: Option<Mass>,
    /// Lot mark on the label [default: the lot's name]
    #[arg(long)]
    pub(crate) mark: Option<String>,
    /// Best before [default: two years from the oldest honey in it]
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) best_before: Option<Date>,
    /// Name of this filling [default: the lot's name and a number]
    #[arg(long)]
    pub(crate) fill: Option<String>,
    /// Where it is sold [default: as told by `combwright honey seller`]
    #[arg(long, value_enum)]
    pub(crate) region: Option<Market>,
    /// Fill although something speaks against it; that is recorded beside
    #[arg(long)]
    pub(crate) anyway: bool,
    /// On which day [default: today]
    #[arg(long, value_parser = crate::args::day, value_name = "DAY")]
    pub(crate) on: Option<Date>,
}

/// What labels repeat.
#[derive(Debug, Args)]
pub(crate) struct SellerArgs {
    /// Where the honey is sold
    #[arg(long, value_enum)]
    pub(crate) region: Option<Market>,
    /// Name and address
    #[arg(long)]
    pub(crate) business: Option<String>,
    /// Country of harvest of own honey
    #[arg(long)]
    pub(crate) country: Option<String>,
    /// How to keep the honey
    #[arg(long)]
    pub(crate) storage: Option<String>,
    /// Nutrition panel, ready made
    #[arg(long)]
    pub(crate) nutrition: Option<String>,
    /// Page to which a label's code leads; the lot mark is added. Your server's own address with
    /// /lot/ behind it is the lot's page in the app
    #[arg(long, value_name = "ADDRESS")]
    pub(crate) trace_page: Option<String>,
}

/// What to follow.
#[derive(Debug, Subcommand)]
pub(crate) enum Trace {
    /// Jars with honey of a bar
    Bar {
        /// Its hive
        hive: String,
        /// Its number
        #[arg(value_parser = whole::<u32>)]
        number: u32,
    },
    /// Combs in the jars that carry a lot mark
    Jar {
        /// The mark, with or without the L before it
        mark: String,
    },
    /// Combs in a lot and jars filled from it
    Lot {
        /// The lot
        lot: String,
    },
}

/// A market with rules of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Market {
    /// The world's food code, where nothing nearer is known
    Codex,
    /// European Union
    Eu,
    /// United Kingdom
    Uk,
    /// United States
    Us,
    /// Australia
    #[value(alias = "australia")]
    Au,
    /// New Zealand
    #[value(alias = "new-zealand")]
    Nz,
}

impl From<Market> for honey::Region {
    fn from(market: Market) -> Self {
        match market {
            Market::Codex => Self::Codex,
            Market::Eu => Self::Eu,
            Market::Uk => Self::Uk,
            Market::Us => Self::Us,
            Market::Au => Self::Australia,
            Market::Nz => Self::NewZealand,
        }
    }
}

/// How honey was got.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum How {
    /// Crushed and left to drain
    Drained,
    /// Pressed
    Pressed,
    /// Spun
    Extracted,
    /// Packed as comb
    Comb,
}

impl From<How> for event::Method {
    fn from(how: How) -> Self {
        match how {
            How::Drained => Self::Drained,
            How::Pressed => Self::Pressed,
            How::Extracted => Self::Extracted,
            How::Comb => Self::Comb,
        }
    }
}

/// Why honey is gone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum WhyLost {
    /// Froth and wax taken off
    Skimmed,
    /// Spilt or left in the vessel
    Spilt,
    /// For a test
    Sample,
    /// Eaten or given from the tank
    Eaten,
    /// Thrown away
    Discarded,
    /// Water, by drying
    Water,
}

impl From<WhyLost> for event::Loss {
    fn from(why: WhyLost) -> Self {
        match why {
            WhyLost::Skimmed => Self::Skimmed,
            WhyLost::Spilt => Self::Spilt,
            WhyLost::Sample => Self::Sample,
            WhyLost::Eaten => Self::Eaten,
            WhyLost::Discarded => Self::Discarded,
            WhyLost::Water => Self::Water,
        }
    }
}

/// How jars left.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum HowGone {
    /// Sold
    Sold,
    /// Given away
    Given,
    /// Eaten at home
    Eaten,
    /// Broken
    Broken,
    /// Destroyed, as after a recall
    Destroyed,
}

impl From<HowGone> for event::Gone {
    fn from(how: HowGone) -> Self {
        match how {
            HowGone::Sold => Self::Sold,
            HowGone::Given => Self::Given,
            HowGone::Eaten => Self::Eaten,
            HowGone::Broken => Self::Broken,
            HowGone::Destroyed => Self::Destroyed,
        }
    }
}

/// A mass with its unit; a bare number is kilograms.
pub(crate) fn mass(text: &str) -> Result<Mass, String> {
    read_mass(text, Some("kg"))
}

/// A mass that must say its unit: "340" may be meant as grams.
pub(crate) fn net(text: &str) -> Result<Mass, String> {
    read_mass(text, None)
}

fn read_mass(text: &str, bare: Option<&str>) -> Result<Mass, String> {
    let text = text.trim();
    let split = text
        .find(|c: char| c.is_ascii_alphabetic())
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(split);
    let unit = unit.trim().to_ascii_lowercase();
    let value: f64 = number
        .trim()
        .parse()
        .map_err(|_| "no mass; write 340g or 4.2kg".to_owned())?;
    if !value.is_finite() || value < 0.0 {
        return Err("no mass; write 340g or 4.2kg".to_owned());
    }
    match (unit.as_str(), bare) {
        ("kg", _) | ("", Some("kg")) => Ok(Mass::kg(value)),
        ("g", _) => Ok(Mass::grams(value)),
        ("oz", _) => Ok(Mass::pounds(value / 16.0)),
        ("lb" | "lbs", _) => Ok(Mass::pounds(value)),
        ("", _) => Err(format!("say the unit: {text}g or {text}oz")),
        _ => Err("the unit is one of g, kg, oz, lb".to_owned()),
    }
}

fn litres(text: &str) -> Result<Volume, String> {
    let number = text.trim().trim_end_matches(['l', 'L']);
    let value: f64 = number
        .trim()
        .parse()
        .map_err(|_| "no number of litres".to_owned())?;
    Ok(Volume::litres(value))
}

fn parts(text: &str) -> Result<(f64, f64), String> {
    let read = |part: &str| part.trim().parse::<f64>().ok();
    text.split_once(':')
        .and_then(|(sugar, water)| Some((read(sugar)?, read(water)?)))
        .ok_or_else(|| "write 2:1, sugar to water".to_owned())
}

fn vessel(text: &str) -> Result<honey::blend::Vessel, String> {
    let wrong = || "write tank=10kg@19.4".to_owned();
    let (name, rest) = text.split_once('=').ok_or_else(wrong)?;
    let (amount, percent) = rest.split_once('@').ok_or_else(wrong)?;
    let percent: f64 = percent
        .trim()
        .trim_end_matches('%')
        .parse()
        .map_err(|_| wrong())?;
    Ok(honey::blend::Vessel {
        name: name.trim().to_owned(),
        mass_kg: mass(amount)?,
        moisture_pct: honey::Moisture::percent(percent).map_err(|why| why.to_string())?,
    })
}
