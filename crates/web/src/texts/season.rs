//! The season screen.

use advice::on_record::Assumed;
use jiff::civil::Date;
use season::feed::LastFeed;
use season::outlook::LastTake;

use super::days;

/// The screen's name.
pub const TITLE: &str = "Season";
/// What it answers.
pub const LEAD: &str = "How much must stay for this colony in this place, and how the year may go: a daily \
    budget of bees, brood and stores, run over many years of weather.";
/// Which hive.
pub const HIVE: &str = "Hive";
/// No hive yet.
pub const EMPTY: [&str; 2] = [
    "No hive yet",
    "The season is reckoned for a colony; set up a hive first.",
];
/// Where it stands is not told.
pub const NO_PLACE: [&str; 2] = [
    "Where this hive stands is not told",
    "The season needs its apiary's latitude and longitude.",
];
/// Leads to the place.
pub const TELL_PLACE: &str = "Tell the place in Settings";
/// Weather field.
pub const WEATHER: &str = "Daily weather of the place, a CSV with date, tmin_c, tmax_c, rain_mm";
/// Weather that is kept.
pub fn weather_kept(days: usize, first: Date, last: Date) -> String {
    format!("{days} days of weather are kept on this device, {first} to {last}.")
}
/// Weather that is not there.
pub const WEATHER_MADE_UP: &str = "No weather of this place is kept here, so invented monthly means for this \
    kind of winter stand in. Give the place's own before you rely on any figure.";
/// Weather that cannot be read.
pub fn weather_wrong(why: &str) -> String {
    format!("This weather cannot be used: {why}. Nothing was changed.")
}
/// No room for it.
pub const WEATHER_NOT_KEPT: &str = "There is no room to keep this weather on this device.";
/// How sure.
pub const SURE: &str = "It must live in so many of a hundred years";
/// How many combs are taken now.
pub const TAKE: &str = "Full combs taken now";
/// The button.
pub const RECKON: &str = "Reckon the season";
/// While it runs.
pub const RECKONING: &str = "Reckoning some hundred years of weather ..";
/// A figure is wrong.
pub const WRONG_FIGURE: &str = "Give years from 50 to 99 and combs from 0 to 40.";
/// Heading of the answer.
pub const ANSWER: &str = "What must stay";
/// To live from .. to .. .
pub fn span(from: Date, until: Date, sure: f64) -> String {
    format!(
        "To live from {} to {} in {sure:.0} of 100 years.",
        days::day_and_year(from),
        days::day_and_year(until)
    )
}
/// Rows of the answer.
pub const NEEDED: &str = "Stores needed";
/// No amount is enough.
pub const NO_AMOUNT: &str = "No amount of stores in this body carries it surely enough.";
/// Mass and combs.
pub fn needed(mass: &str, combs: f64, low: f64, high: f64) -> String {
    format!("{mass}, {combs:.1} full combs of this hive ({low:.1} to {high:.1})")
}
/// The rule of thumb.
pub const THUMB: &str = "Rule of thumb";
/// Its figures.
pub fn thumb(low: f64, high: f64) -> String {
    let combs = if (low - high).abs() < 0.01 {
        format!("{low:.0}")
    } else {
        format!("{low:.0} to {high:.0}")
    };
    format!("{combs} full combs (common practice, no source)")
}
/// With what is there.
pub const NOW: &str = "With what is there now";
/// Share of years.
pub fn lives(share: f64) -> String {
    format!("it lives in {:.0} of 100 years", share * 100.0)
}
/// Feed.
pub const FEED: &str = "Short by";
/// How to feed.
pub fn feed(short: &str, sugar: &str, syrup_l: f64, last: &LastFeed) -> String {
    let last = match last {
        LastFeed::AnyDay => "on any day".to_owned(),
        LastFeed::On(day) => format!("not after {}", days::day_and_year(*day)),
        LastFeed::TooLate => "but it is too cold for syrup already".to_owned(),
    };
    format!("{short}: feed {sugar} of sugar ({syrup_l:.1} l of 2:1 syrup), {last}")
}
/// What can be taken today.
pub const SPARE: &str = "Can be spared now";
/// Mass and full combs; less than a comb is none.
pub fn spare(mass: &str, combs: f64) -> String {
    if combs < 1.0 {
        "no comb: the larger of both must stay".to_owned()
    } else {
        format!("{mass} ({combs:.1} full combs): the larger of both stays")
    }
}
/// When honey can be spared later on: another figure than what can be spared now.
pub const TAKING: &str = "Taking through the year";
/// What could be spared now is wanted later.
pub fn wanted_later(until: jiff::civil::Date) -> String {
    format!(
        "What could be spared now is wanted after {}, to which the stores needed are reckoned: take it only if you mean to feed then.",
        days::day_and_year(until)
    )
}
/// In words.
pub fn last_take(last: &LastTake, mass: impl Fn(comb::Mass) -> String) -> String {
    let since = |from: &Option<jiff::civil::Date>| {
        from.map_or_else(String::new, |from| {
            format!(" from {} on", days::day_and_year(from))
        })
    };
    match last {
        LastTake::Nothing => "No comb can be spared within this outlook.".to_owned(),
        LastTake::NoLimit { from: None } => {
            "A comb can be spared throughout this outlook.".to_owned()
        }
        LastTake::NoLimit { from } => format!("A comb can be spared{}.", since(from)),
        LastTake::On {
            from,
            date,
            could_take_kg,
        } => format!(
            "A comb can be spared{}. Stop after {}; on that day {} could still be spared.",
            since(from),
            days::day_and_year(*date),
            mass(*could_take_kg)
        ),
    }
}
/// Pictures' headings.
pub const STORES_AHEAD: &str = "Stores over the coming year";
/// Bees.
pub const BEES_AHEAD: &str = "Bees over the coming year";
/// Drivers.
pub const DRIVERS: &str = "What the answer hangs on";
/// Forage.
pub const FORAGE: &str = "The forage calendar behind it";
/// A driver in words, for those who do not see the picture.
pub const DRIVER_HEADS: [&str; 3] = ["What", "Stores needed at its low", "and at its high"];
/// Over a picture that is wider than the screen.
pub const SLIDES: &str = "Wider than the screen: slide it sideways to see the rest.";
/// Swarm.
pub const SWARM: &str = "Swarming and splits";
/// Pressure.
pub fn pressure(from: Date, to: Date, reasons: &str) -> String {
    format!(
        "Swarm pressure is high from about {} to {}: {reasons}. Look for queen cells.",
        days::day(from),
        days::day(to)
    )
}
/// A split.
pub fn split(from: Date, until: Date, opens: &str, closes: &str) -> String {
    format!(
        "A split can be made from about {} to {} (before: {opens}; after: {closes}).",
        days::day(from),
        days::day(until)
    )
}
/// Nothing of it.
pub const NO_SWARM: &str =
    "No week of high swarm pressure and no window for a split in this outlook.";
/// What was assumed.
pub const ASSUMED: &str = "Assumed, since nobody said";
/// In words.
pub fn assumed(assumed: &Assumed) -> String {
    match assumed {
        Assumed::BroodOnHalf { combs } => {
            format!("Brood on half of the faces of the {combs} brood combs on record.")
        }
        Assumed::BeesCover {
            bees,
            percent,
            combs,
        } => format!("{bees:.0} bees, as if they covered {percent:.0} % of {combs} combs."),
        Assumed::NotLookedAt { combs } => {
            format!("{combs} combs that nobody looked at hold nothing.")
        }
    }
}
/// The calendar is a guess.
pub const FORAGE_GUESSED: &str = "The forage calendar is a first guess for this kind of place.";
/// The height is not told.
pub const OWN_HEIGHT: &str = "The weather was measured at the yard's own height.";
/// The button that saves the figures.
pub const SAVE: &str = "Save all figures as a file (JSON)";
/// The file's name.
pub fn file_name(hive: &str, from: Date) -> String {
    let hive = hive.to_lowercase().replace(char::is_whitespace, "-");
    format!("season-{hive}-{from}.json")
}
/// What to know of these figures.
pub const MIND: &str = "Mind";
