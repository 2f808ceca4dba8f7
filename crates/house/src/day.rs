//! On which day something happened.

use jiff::Timestamp;
use jiff::civil::Date;

/// The day of an instant in the zone that an entry names. Which zones there are is a matter of the
/// machine, so whoever knows them hands this in.
pub type DayOf<'a> = &'a dyn Fn(Timestamp, &str) -> Date;
