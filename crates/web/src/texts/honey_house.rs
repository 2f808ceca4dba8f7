//! The honey house and the page of a lot.

use comb::Mass;
use hive::entry::Harvest;
use honey::fermentation::Keeping;
use honey::lots::event::{Gone, Loss, Method};
use honey::lots::{Cause, Caution, Until, Withholding};
use honey::region::CHECK_WITH_AUTHORITY;
use honey::{HoneyError, Region};
use house::HouseError;
use house::reading::Judged;
use jiff::civil::Date;

use super::days;
use crate::preferences::Units;

/// The screen's name.
pub const TITLE: &str = "Honey house";
/// The name of a lot's page.
pub const LOT_TITLE: &str = "Lot";
/// What it does.
pub const LEAD: &str =
    "From the comb to the jar, and back again. What is written here can always be taken back.";
/// Nothing was ever taken.
pub const EMPTY: [&str; 2] = [
    "No comb has been taken yet",
    "Combs that a visit takes out of a hive wait here for their pail.",
];
/// Leads to a visit.
pub const TO_A_VISIT: &str = "Open a visit";

/// Takes back what was just written.
pub const TAKE_BACK: &str = "Take it back";
/// Lets it stand again.
pub const STAND_AGAIN: &str = "Let it stand again";
/// What was written.
pub fn kept(words: &str) -> String {
    format!("Kept: {words}.")
}
/// What was taken back.
pub fn taken_back(words: &str) -> String {
    format!("Taken back: {words}.")
}
/// What stands again.
pub fn stands_again(words: &str) -> String {
    format!("It stands again: {words}.")
}

/// Above entries that could not be.
pub fn refused(count: usize) -> String {
    if count == 1 {
        "1 entry of the honey house cannot be as it stands. It is kept; take it back, or what stands in its way:"
            .to_owned()
    } else {
        format!(
            "{count} entries of the honey house cannot be as they stand. They are kept; take them back, or what \
             stands in their way:"
        )
    }
}

/// The stations of the way.
pub const WAY: &str = "The way of the honey";
/// Combs that wait.
pub fn combs_wait(count: usize) -> String {
    one_or_many(count, "comb waits", "combs wait")
}
/// Pails that wait.
pub fn pails_wait(count: usize) -> String {
    one_or_many(count, "pail waits", "pails wait")
}
/// Honey in lots.
pub fn in_lots(count: usize) -> String {
    one_or_many(count, "in 1 lot", &format!("in {count} lots"))
}
/// Jars here.
pub fn jars_here(count: u32) -> String {
    one_or_many(count as usize, "jar here", "jars here")
}

fn one_or_many(count: usize, one: &str, many: &str) -> String {
    if count == 1 { one } else { many }.to_owned()
}

/// Heading of combs.
pub const COMBS: &str = "Combs into a pail";
/// None waits.
pub const NO_COMBS: &str = "No comb waits. What a visit takes out of a hive comes here by itself.";
/// Taken on a day.
pub fn taken_on(day: Date) -> String {
    format!("{} {}", days::short(day), day.year())
}
/// One comb.
pub fn comb(hive: &str, bar: &str) -> String {
    format!("{hive} {bar}")
}
/// When it was taken, and how, where that matters.
pub fn came(day: Date, how: Harvest) -> String {
    let how = match how {
        Harvest::Cut => "",
        Harvest::Whole => ", on its bar",
        Harvest::Broken => ", broke",
    };
    format!("{}{how}", days::short(day))
}
/// All of them.
pub const ALL_COMBS: &str = "All that wait";
/// How to go on.
pub const CHOOSE_COMBS: &str = "Tap the combs that went into the pail.";
/// Name of a pail.
pub const PAIL_NAME: &str = "Name of the pail";
/// Its weight.
pub const COMB_MASS: &str = "Weight of the comb in it";
/// Without the pail.
pub const COMB_MASS_HINT: &str = "Without the pail. Leave it empty if it was not weighed.";
/// The day.
pub const DAY: &str = "On";
/// Fills the pail.
pub const FILL_PAIL: &str = "Into the pail";

/// Heading of pails.
pub const PAILS: &str = "Pails into a lot";
/// None waits.
pub const NO_PAILS: &str = "No pail waits to be emptied.";
/// A pail in words.
pub fn pail(name: &str, mass: Option<&str>) -> String {
    mass.map_or_else(
        || format!("Pail {name}, not weighed"),
        |mass| format!("Pail {name}, {mass} of comb"),
    )
}
/// How to go on.
pub const CHOOSE_PAILS: &str = "Tap the pails that were emptied.";
/// Name of a lot.
pub const LOT_NAME: &str = "Name of the lot";
/// How it was got.
pub const METHOD: &str = "How the honey was got";
/// The ways.
pub const METHODS: [(&str, Method, &str); 4] = [
    ("drained", Method::Drained, "Crushed and strained"),
    ("pressed", Method::Pressed, "Pressed"),
    ("extracted", Method::Extracted, "Spun"),
    ("comb", Method::Comb, "Packed as comb"),
];
/// Honey that came out.
pub const HONEY_MASS: &str = "Honey";
/// What is usual.
pub fn expected(comb: &str, low: &str, likely: &str, high: &str) -> String {
    format!("From {comb} of comb about {likely} is usual ({low} to {high}).")
}
/// Wax.
pub const WAX: &str = "Wax, if weighed";
/// Loss.
pub const LOSS: &str = "Loss, if weighed";
/// Country of harvest.
pub const COUNTRY: &str = "Country of harvest";
/// As it stands on a label.
pub const COUNTRY_HINT: &str = "As it shall stand on the label.";
/// Makes the lot.
pub const MAKE_LOT: &str = "Make the lot";

/// Heading of lots.
pub const LOTS: &str = "Lots";
/// No lot.
pub const NO_LOTS: &str = "No lot holds honey.";
/// A lot's name.
pub fn lot(name: &str) -> String {
    format!("Lot {name}")
}
/// Its moisture.
pub fn moisture(moisture: Option<honey::Moisture>) -> String {
    moisture.map_or_else(
        || "Its moisture was not read yet.".to_owned(),
        |moisture| format!("{moisture} water"),
    )
}
/// Whether it keeps.
pub const fn keeping(keeping: Keeping) -> &'static str {
    match keeping {
        Keeping::Safe => "It keeps.",
        Keeping::NormallySafe => "It normally keeps; sealed and cool is better.",
        Keeping::Doubtful => "It may not keep: sell or eat it within months, or blend it down.",
        Keeping::UseSoon => {
            "It will probably ferment: use it soon, keep it below 11 \u{b0}C, or blend it down before it starts."
        }
    }
}
/// Whether it is lawful.
pub fn lawful(judged: &Judged, region: Option<Region>) -> String {
    let (Some(region), limit) = (region, judged.limit) else {
        return "Where it is sold is not told, so no legal limit is asked.".to_owned();
    };
    let Some(limit) = limit else {
        return format!(
            "{region}: no general limit of moisture is known here; {CHECK_WITH_AUTHORITY}."
        );
    };
    let verdict = if judged.within_limit() == Some(true) {
        "within"
    } else {
        "over"
    };
    format!(
        "{region}: {verdict} the limit of {} % ({}; {CHECK_WITH_AUTHORITY}).",
        limit.value, limit.instrument
    )
}
/// What speaks against filling jars of it.
pub fn caution(caution: &Caution) -> String {
    match caution {
        Caution::Fermenting { since } => format!(
            "It ferments since {}: not to be sold as honey; blending does not cure that.",
            days::day_and_year(*since)
        ),
        other => super::sentence(&days::spelled(&house::words::caution(other))),
    }
}
/// Strained.
pub fn strained(mesh_um: u32) -> String {
    format!("Strained through {mesh_um} micrometres")
}
/// Leads to the lot's page.
pub const TRACE_LOT: &str = "Where from, where to";
/// Opens the reading.
pub const READ: &str = "Read moisture";
/// Opens the filling.
pub const FILL: &str = "Fill jars";
/// Opens the rest.
pub const MORE: &str = "More";

/// What the instrument shows.
pub const SCALE: &str = "What is read";
/// Scales.
pub const SCALES: [(&str, &str); 4] = [
    ("water", "Water, %"),
    ("index", "Refractive index"),
    ("brix", "Brix"),
    ("laboratory", "Laboratory, %"),
];
/// The figure.
pub const FIGURE: &str = "It reads";
/// How figures look.
pub const FIGURE_HINT: &str =
    "Water as 17.8, index as 1.4920, Brix as 80.5. Granulated honey is melted and cooled first.";
/// Temperature of prism and honey.
pub const WARMTH: &str = "Temperature of prism and honey";
/// When to give it.
pub const WARMTH_HINT: &str =
    "For index and Brix. Leave it empty if the instrument corrects by itself (ATC).";
/// Writes the reading.
pub const KEEP_READING: &str = "Keep the reading";
/// What was typed would mean.
pub fn means(moisture: &str) -> String {
    format!("That is {moisture} water.")
}

/// Net quantity.
pub const NET: &str = "Each jar holds";
/// How many.
pub const COUNT: &str = "Jars";
/// How many a lot fills.
pub fn fills(count: u32, jar: &str) -> String {
    if count == 0 {
        format!("It does not fill one jar of {jar}.")
    } else {
        format!("It fills up to {count} jars of {jar}.")
    }
}
/// The mark.
pub const MARK: &str = "Lot mark on the label";
/// Best before.
pub const BEST_BEFORE: &str = "Best before";
/// How it is found.
pub const BEST_BEFORE_HINT: &str =
    "Two years from its oldest honey is usual (common practice, no source).";
/// Fill although.
pub const ANYWAY: &str = "Fill them although something speaks against it; that is written beside";
/// Writes the filling.
pub const KEEP_JARS: &str = "Jars are filled";

/// What else happened.
pub const WHAT: &str = "What happened";
/// The choices.
pub const HAPPENED: [(&str, &str); 8] = [
    ("strained", "Strained"),
    ("weighed", "Weighed again"),
    ("skimmed", "Froth and wax taken off"),
    ("spilt", "Spilt, or left in the vessel"),
    ("sample", "Given for a test"),
    ("eaten", "Eaten, or given from the tank"),
    ("water", "Dried: water went"),
    ("ferments", "Seen to ferment"),
];
/// Which loss a key means.
pub fn loss(key: &str) -> Option<Loss> {
    Some(match key {
        "skimmed" => Loss::Skimmed,
        "spilt" => Loss::Spilt,
        "sample" => Loss::Sample,
        "eaten" => Loss::Eaten,
        "water" => Loss::Water,
        _ => return None,
    })
}
/// A loss in words.
pub const fn lost(why: Loss) -> &'static str {
    match why {
        Loss::Skimmed => "froth and wax",
        Loss::Spilt => "spilt or left in vessels",
        Loss::Sample => "for tests",
        Loss::Eaten => "eaten or given",
        Loss::Discarded => "thrown away",
        Loss::Water => "water, by drying",
    }
}
/// Mass.
pub const MASS: &str = "How much";
/// What the mass is.
pub const MASS_HINT: &str = "What is gone; weighed again: what is there. Nothing for fermenting.";
/// Openings.
pub const MESH: &str = "Openings of the strainer";
/// Their unit.
pub const MICROMETRES: &str = "\u{b5}m";
/// Writes it.
pub const KEEP_IT: &str = "Keep it";

/// Heading of a lot from others.
pub const RECEIVE: &str = "Honey from somebody else";
/// From whom.
pub const FROM: &str = "From whom";
/// Their mark.
pub const THEIR_LOT: &str = "Their lot mark";
/// Writes it.
pub const KEEP_RECEIVED: &str = "It is here";

/// Heading of blending.
pub const BLEND: &str = "Blend to a moisture";
/// What it does.
pub const BLEND_HINT: &str = "Brings the chosen lots to the target or under it and moves the least honey. Weigh; do not \
    measure by volume. Honey that has begun to ferment is not cured by blending.";
/// Too few.
pub const BLEND_FEW: &str = "Two lots with a moisture read are needed to blend.";
/// The target.
pub const TARGET: &str = "Water, at most";
/// The new name.
pub const INTO: &str = "Name of the blend";
/// Works it out.
pub const WORK_OUT: &str = "Work it out";
/// How to go on.
pub const BLEND_CHOOSE: &str = "Tap two lots or more.";
/// One pour.
pub fn pour(mass: &str, from: &str, into: &str) -> String {
    format!("Pour {mass} from {from} into {into}, stir.")
}
/// What then stands there.
pub fn after(name: &str, mass: &str, moisture: &str) -> String {
    format!("{name}: {mass} at {moisture}")
}
/// In all.
pub fn moved(mass: &str) -> String {
    format!("{mass} is moved. Read the moisture again when it is stirred.")
}
/// Writes it.
pub const POURED: &str = "It is poured: keep it";

/// Heading of jars.
pub const JARS: &str = "Jars";
/// None.
pub const NO_JARS: &str = "No jar was filled yet.";
/// Heads of the ledger.
pub const LEDGER: [&str; 5] = ["Size", "Filled", "Here", "Gone", "Money taken"];
/// A filling.
pub fn filling(count: u32, jar: &str, day: Date) -> String {
    let jars = if count == 1 { "jar" } else { "jars" };
    format!(
        "{count} {jars} of {jar}, filled {}",
        days::day_and_year(day)
    )
}
/// Its mark and date.
pub fn marked(mark: &str, best_before: Date) -> String {
    format!(
        "Lot mark {mark}, best before {}",
        days::day_and_year(best_before)
    )
}
/// How many are here.
pub fn of_them_here(here: u32, others: u32) -> String {
    format!("{here} here, {others} with others")
}
/// Past its date.
pub const PAST: &str = "Its date is past.";
/// Opens.
pub const OUT: &str = "Jars leave";
/// Opens.
pub const BACK: &str = "Jars come back";
/// How they left.
pub const HOW: &str = "How";
/// The ways.
pub const GONE: [(&str, Gone, &str); 5] = [
    ("sold", Gone::Sold, "Sold"),
    ("given", Gone::Given, "Given away"),
    ("eaten", Gone::Eaten, "Eaten at home"),
    ("broken", Gone::Broken, "Broken"),
    ("destroyed", Gone::Destroyed, "Destroyed, as after a recall"),
];
/// To whom.
pub const TO: &str = "To whom";
/// Why.
pub const TO_HINT: &str = "So that they can be called back.";
/// Money.
pub const MONEY: &str = "Money taken for all of them";
/// Currency.
pub const CURRENCY: &str = "Currency";
/// Three letters.
pub const CURRENCY_HINT: &str = "Three letters, such as AUD.";
/// Writes it.
pub const KEEP_OUT: &str = "They are gone";
/// Writes it.
pub const KEEP_BACK: &str = "They are back";
/// Labels.
pub const LABELS: &str =
    "Labels are printed at the desk: combwright paper label, with the name of the filling.";
/// All gone.
pub fn sold_out(count: usize) -> String {
    if count == 1 {
        "1 filling of which no jar is left".to_owned()
    } else {
        format!("{count} fillings of which no jar is left")
    }
}

/// Heading of tracing.
pub const TRACE: &str = "Follow the honey";
/// Forward.
pub const WHICH_JARS: &str = "Which jars hold honey of a comb?";
/// A hive.
pub const OF_HIVE: &str = "Hive";
/// A bar.
pub const OF_BAR: &str = "Bar";
/// Asks.
pub const FIND_JARS: &str = "Find the jars";
/// Back.
pub const WHICH_COMBS: &str = "Which combs are in a jar?";
/// The mark.
pub const JAR_MARK: &str = "Lot mark on the jar, or a lot";
/// Asks.
pub const FIND_COMBS: &str = "Find the combs";
/// No mark.
pub const NO_MARK: &str = "Write what stands on the label.";
/// In pails only.
pub const IN_NO_LOT: &str = "It is in a pail and in no lot yet.";
/// No jars.
pub const IN_NO_JAR: &str = "No jars were filled from it.";
/// By way of.
pub fn by_way(count: usize) -> String {
    one_or_many(count, "By way of lot", "By way of lots")
}
/// Lots that it went into.
pub fn went_into(count: usize) -> String {
    one_or_many(
        count,
        "Some of it went into lot",
        "Some of it went into lots",
    )
}
/// To call back.
pub fn call_back(others: u32, here: u32) -> String {
    if others == 0 {
        format!("All {here} are here; none is with others.")
    } else {
        format!("If it must be called back: {others} are with others, {here} are here.")
    }
}
/// To whom.
pub fn went_to(count: u32, to: &str) -> String {
    format!("{count} to {to}")
}

/// Heading of what is withheld.
pub const WITHHELD: &str = "What is withheld, and why";
/// What to know of it.
pub const WITHHELD_HINT: &str =
    "How long stores of a feed stay in the combs is not known: look before you take.";
/// Nothing.
pub const NOTHING_WITHHELD: &str = "Nothing on record speaks against the honey of any hive.";
/// One of them.
pub fn withholding(it: &Withholding) -> String {
    let until = match it.until {
        // the reason names the day, of a treatment
        Until::Through(_) if it.cause == Cause::Treatment => String::new(),
        Until::Through(last) => format!(", until {}", days::day_and_year(last)),
        Until::Open => ", still going on".to_owned(),
        Until::NotKnown if it.cause == Cause::Feed => String::new(),
        Until::NotKnown => ", for how long is not known".to_owned(),
    };
    let more = match it.cause {
        Cause::Feed => "",
        Cause::Treatment => " The product's label decides.",
        Cause::Disease => " Move no comb; report to your authority.",
    };
    format!(
        "{}{until}.{more}",
        super::sentence(&days::spelled(&it.what)).trim_end_matches('.')
    )
}

/// Heading of what labels repeat.
pub const SELLER: &str = "What every label repeats";
/// Opens the form.
pub const CHANGE_SELLER: &str = "Tell or change it";
/// Nothing told yet.
pub const NOTHING_TOLD_YET: &str = "Nothing is told yet. Where honey is sold decides what may be filled and what a label must say.";
/// Region.
pub const REGION: &str = "Where it is sold";
/// None told.
pub const NO_REGION: &str = "Not told";
/// Keys of the regions.
pub const REGIONS: [(&str, Region, &str); 6] = [
    ("eu", Region::Eu, "European Union"),
    ("uk", Region::Uk, "United Kingdom"),
    ("us", Region::Us, "United States"),
    ("australia", Region::Australia, "Australia"),
    ("new_zealand", Region::NewZealand, "New Zealand"),
    ("codex", Region::Codex, "Elsewhere: the world's food code"),
];
/// Business.
pub const BUSINESS: &str = "Name and address";
/// Storage.
pub const STORAGE: &str = "How to keep it";
/// Nutrition.
pub const NUTRITION: &str = "Nutrition panel, ready made";
/// Trace page.
pub const TRACE_PAGE: &str = "Page to which the code on a label leads";
/// What it is.
pub fn trace_page_hint(here: &str) -> String {
    format!(
        "The lot mark is added to it. With your server's own address it is the page of the lot: {here}"
    )
}
/// Writes it.
pub const KEEP_SELLER: &str = "Keep it for all labels";
/// Nothing was told.
pub const NOTHING_TOLD: &str = "Nothing was changed.";

/// Heading of mistakes.
pub const MISTAKES: &str = "Written last";
/// What to do.
pub const MISTAKES_HINT: &str = "Nothing is ever erased: what is taken back stays in the journal and counts no more. Older entries \
    stand in Records.";
/// Nothing.
pub const NOTHING_WRITTEN: &str = "Nothing was written in the honey house yet.";
/// State.
pub const IS_TAKEN_BACK: &str = "Taken back";

/// No such lot.
pub fn no_such_lot(name: &str) -> [String; 2] {
    [
        format!("No lot and no jar bears {name}"),
        "Look at the mark on the label again. On a device that is new the journal must come from the server first."
            .to_owned(),
    ]
}
/// Leads back.
pub const TO_HONEY_HOUSE: &str = "To the honey house";
/// Heading.
pub const ITS_COMBS: &str = "Combs in it";
/// None.
pub const NO_OWN_COMBS: &str = "No comb of this yard is in it.";
/// Heading.
pub const ITS_JARS: &str = "Jars filled from it";
/// Heading.
pub const ITS_LIFE: &str = "What it is";
/// Names of facts.
pub const HOLDS: &str = "Holds";
/// Came to be.
pub const MADE: &str = "Came to be";
/// Origin words.
pub fn method(method: Method) -> &'static str {
    METHODS
        .iter()
        .find(|(_, known, _)| *known == method)
        .map_or("", |(_, _, words)| words)
}
/// Received.
pub fn received(from: &str, their_lot: &str) -> String {
    format!("Came from {from}, their lot {their_lot}")
}
/// Blended.
pub const BLENDED: &str = "Blended";
/// Moisture.
pub const WATER: &str = "Water";
/// Read on.
pub fn read_on(moisture: &str, day: Date) -> String {
    format!("{moisture} on {}", days::day_and_year(day))
}
/// Readings.
pub const READINGS: &str = "Readings";
/// Strainers.
pub const STRAINERS: &str = "Strained";
/// Losses.
pub const LOSSES: &str = "Lost of it";
/// Country.
pub const FROM_COUNTRY: &str = "Harvested in";

/// A figure that cannot be read.
pub fn no_figure(unit: &str) -> String {
    if unit.is_empty() {
        "Write a number.".to_owned()
    } else {
        format!("Write a number, in {unit}.")
    }
}
/// A count that cannot be read.
pub const NO_COUNT: &str = "Write a whole number from 1 on.";
/// A day that cannot be read.
pub const NO_DAY: &str = "Choose a day.";

/// Why something is not written down, and what to do.
pub fn refusal(why: &HouseError, units: Units) -> String {
    let mass = |mass: Mass| units.weighed(mass);
    let words = match why {
        HouseError::InTheFuture { on } => format!(
            "{} is still to come: write things down when they have happened",
            days::day_and_year(*on)
        ),
        HouseError::DoesNotFitLater { why } => format!(
            "it does not fit what was written of later days ({}): take that back first",
            days::spelled(why)
        ),
        HouseError::NoCombWaits { .. } => "these combs do not wait any more".to_owned(),
        HouseError::NoCountry => "say the country of harvest".to_owned(),
        HouseError::NoRegion => {
            "say first where it is sold: below, under \u{201c}What every label repeats\u{201d}"
                .to_owned()
        }
        HouseError::MayNotBeSold { lot, why } => {
            let why: Vec<String> = why.iter().map(caution).collect();
            return format!(
                "Lot {lot} may not be sold as honey. {} Nothing was written down: blend or dry it first, or say \
                 that you fill them all the same.",
                why.join(" ")
            );
        }
        HouseError::NeverRead { lot } => {
            format!("the moisture of lot {lot} was never read: read it first")
        }
        HouseError::NoMoney { .. } => {
            "write money as 54.00 and its currency in three letters".to_owned()
        }
        HouseError::Honey(HoneyError::MoreThanLot { lot, there, asked }) => format!(
            "lot {lot} holds {}, and {} were to be taken",
            mass(*there),
            mass(*asked)
        ),
        HouseError::Honey(HoneyError::Unbalanced { lot, into, out }) => format!(
            "lot {lot}: {} of comb went in, and {} of honey, wax and loss came out: weigh again",
            mass(*into),
            mass(*out)
        ),
        HouseError::Honey(HoneyError::BlendTooWet {
            target,
            reachable,
            more,
        }) => {
            let more = more.as_ref().map_or_else(
                || "find drier honey, or dry it".to_owned(),
                |(more, at)| format!("{} more honey of {at} would do", mass(*more)),
            );
            format!(
                "these lots cannot reach {target}: the best they come to is {reachable}; {more}"
            )
        }
        other => days::spelled(&other.to_string()),
    };
    let sentence = super::sentence(words.trim_end_matches(": nothing is recorded"));
    format!("{sentence} Nothing was written down.")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_refusal_says_that_nothing_was_written() {
        let lot = "26-1".into();
        let why = HouseError::Honey(HoneyError::MoreThanLot {
            lot,
            there: Mass::kg(1.0),
            asked: Mass::kg(2.0),
        });
        assert_eq!(
            refusal(&why, Units::Metric),
            "Lot 26-1 holds 1.00 kg, and 2.00 kg were to be taken. Nothing was written down."
        );
        // 1 kg is 2.2046 lb
        assert!(refusal(&why, Units::Inches).contains("holds 2.20 lb"));
    }

    #[test]
    fn every_choice_has_its_meaning() {
        for (key, _) in HAPPENED {
            let known = matches!(key, "strained" | "weighed" | "ferments") || loss(key).is_some();
            assert!(known, "{key}");
        }
    }
}
