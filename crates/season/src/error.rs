//! What can be wrong with a place, a weather file, a colony or a question put to the model.

use jiff::civil::Date;
use thiserror::Error;

/// One variant a cause, with the value and its bound.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SeasonError {
    /// A comb that this yard's ripening filter never met.
    #[error("comb {0} is not known here; add it before reading it")]
    UnknownComb(usize),
    /// A spread of a reading that is not a usable number.
    #[error("the error of a reading lies between 0.01 and 0.5 (1 and 50 points), this one is {0}")]
    ReadingSpread(f64),
    /// A ripeness rule outside what keepers use.
    #[error("{rule} lies between {low} and {high}, this one is {value}")]
    Rule {
        /// Which rule, in words.
        rule: &'static str,
        /// Lowest value allowed.
        low: f64,
        /// Highest value allowed.
        high: f64,
        /// The value given.
        value: f64,
    },
    /// A weather file without rows.
    #[error("the weather file holds no days; it needs a header line and one line a day")]
    WeatherEmpty,
    /// A column that is missing or states no unit.
    #[error("weather column {column} {what}")]
    WeatherColumn {
        /// The column.
        column: String,
        /// What is wrong with it.
        what: &'static str,
    },
    /// A field that is not what its column says.
    #[error("weather file, line {line}, column {column}: {text:?} cannot be read")]
    WeatherField {
        /// Line, counted from 1.
        line: usize,
        /// The column.
        column: String,
        /// What stands there, its beginning.
        text: String,
    },
    /// A Celsius column that holds Fahrenheit.
    #[error(
        "tmax_c looks like Fahrenheit: {days} of {of} days are over 50, the highest is {highest}; \
         name the columns tmin_f and tmax_f if it is"
    )]
    LooksFahrenheit {
        /// Days over 50.
        days: usize,
        /// Days with a value.
        of: usize,
        /// The highest value.
        highest: f64,
    },
    /// A month without usable days.
    #[error(
        "month {0} has fewer than ten days with temperature and rain; the year cannot be put together"
    )]
    MonthMissing(u8),
    /// Too few years to draw from.
    #[error(
        "only {0} years can be drawn from on some day of the year; three are needed \
         (give monthly means with spread instead)"
    )]
    TooFewYears(usize),
    /// Monthly means that cannot be.
    #[error("month {month} {what}")]
    MonthMeans {
        /// Month, 1 to 12.
        month: usize,
        /// What is wrong.
        what: &'static str,
    },
    /// A forecast file that cannot be used.
    #[error("the forecast cannot be used: {0}")]
    Forecast(String),
    /// Latitude outside its range.
    #[error("latitude lies between -90 (south) and 90 (north) degrees, this one is {0}")]
    Latitude(f64),
    /// Altitude outside its range.
    #[error("a yard lies between -430 and 6000 m, this one at {0} m")]
    Altitude(f64),
    /// A forage strength outside its range.
    #[error("forage strength of month {month} lies between 0 and 5, this one is {strength}")]
    Forage {
        /// Month, 1 to 12.
        month: usize,
        /// The value given.
        strength: f64,
    },
    /// A colony of no bees.
    #[error(
        "this hive has no bees; there is nothing to keep alive (close it against robbers and moths)"
    )]
    NoBees,
    /// A number of bees that no colony has.
    #[error("{bees} bees cannot be; a colony has from some thousand to {most}")]
    Bees {
        /// The number given.
        bees: f64,
        /// The most that is believed.
        most: f64,
    },
    /// A number of brood cells that cannot be.
    #[error("{0} brood cells cannot be; a large nest has some 30 000")]
    Brood(f64),
    /// Stores that cannot be.
    #[error("stores of {0} kg cannot be")]
    Stores(f64),
    /// A body without room, or one that cannot be.
    #[error("a body has room for 0.5 to 500 kg of honey, this one for {0}")]
    Room(f64),
    /// More stores than the body holds.
    #[error(
        "{stores:.1} kg of stores do not fit a body that has room for {room:.1} kg; check combs and measures"
    )]
    StoresBeyondRoom {
        /// Stores given, kg.
        stores: f64,
        /// Room of the body, kg.
        room: f64,
    },
    /// No laying queen.
    #[error(
        "without a laying queen no stores carry this colony; see to the queen first \
         (give brood or a queen, or unite), then ask again"
    )]
    Queenless,
    /// A span that is too long or empty.
    #[error("the model looks 1 to {most} days ahead, not {days}")]
    Span {
        /// Days asked for.
        days: usize,
        /// Most days.
        most: usize,
    },
    /// A number of runs that is none or too many.
    #[error("runs lie between 1 and {most}, not {runs}")]
    Runs {
        /// Runs asked for.
        runs: usize,
        /// Most runs.
        most: usize,
    },
    /// The end is not after the beginning.
    #[error("{until} is not after {from}")]
    Dates {
        /// The first day.
        from: Date,
        /// The last day.
        until: Date,
    },
    /// A probability outside what can be answered.
    #[error("the chance of living lies between 50 and 99.9 %, this one is {} %", percent(*.0))]
    Sure(f64),
    /// A weighing that cannot speak of consumption.
    #[error(
        "a loss of {lost:.1} kg against {modelled:.1} kg in the model is too far off to learn from; \
         was honey taken, fed or gathered between the weighings?"
    )]
    Weighing {
        /// Loss on the scale, kg.
        lost: f64,
        /// What the model gives, kg.
        modelled: f64,
    },
    /// A comb's mass that cannot be.
    #[error("a full comb weighs 0.2 to 10 kg, this one {0}")]
    CombMass(f64),
    /// More honey to take than there is.
    #[error("{take:.1} kg cannot be taken; there are {there:.1} kg of capped honey")]
    TakeTooMuch {
        /// What was to be taken, kg.
        take: f64,
        /// Capped honey, kg.
        there: f64,
    },
    /// A date beyond the calendar.
    #[error("these dates run past the end of the calendar")]
    Calendar,
}

/// A share in per cent, without the dust of the division.
fn percent(share: f64) -> f64 {
    (share * 1e5).round() / 1e3
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chance_is_told_in_per_cent_as_it_was_asked() {
        for (share, told) in [(150.0 / 100.0, "is 150 %"), (0.95 / 100.0, "is 0.95 %")] {
            let words = SeasonError::Sure(share).to_string();
            assert!(words.ends_with(told), "{words}");
        }
    }
}
