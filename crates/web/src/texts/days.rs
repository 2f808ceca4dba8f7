//! Days and instants, as they are written.

use jiff::Timestamp;
use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;

const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// "Tue".
pub fn weekday(day: Date) -> &'static str {
    match day.weekday() {
        Weekday::Monday => "Mon",
        Weekday::Tuesday => "Tue",
        Weekday::Wednesday => "Wed",
        Weekday::Thursday => "Thu",
        Weekday::Friday => "Fri",
        Weekday::Saturday => "Sat",
        Weekday::Sunday => "Sun",
    }
}

/// "1 Dec".
pub fn short(day: Date) -> String {
    format!("{} {}", day.day(), month(day))
}

/// "Tue 1 Dec".
pub fn day(day: Date) -> String {
    format!("{} {}", weekday(day), short(day))
}

/// "Tue 1 Dec 2026".
pub fn day_and_year(day: Date) -> String {
    format!("{} {}", self::day(day), day.year())
}

/// "Tue 1 Dec 2026, 14:05".
pub fn instant(at: Timestamp, zone: &TimeZone) -> String {
    let local = zone.to_datetime(at);
    let (hour, minute) = (local.hour(), local.minute());
    format!("{}, {hour:02}:{minute:02}", day_and_year(local.date()))
}

/// "14:05".
pub fn time(at: Timestamp, zone: &TimeZone) -> String {
    let local = zone.to_datetime(at);
    format!("{:02}:{:02}", local.hour(), local.minute())
}

/// "today", "yesterday", "4 days ago".
pub fn ago(days: i32) -> String {
    match days {
        0 => "today".to_owned(),
        1 => "yesterday".to_owned(),
        days => format!("{days} days ago"),
    }
}

/// A sentence with every day that stands in it as 2026-12-01 written out.
pub fn spelled(sentence: &str) -> String {
    let mut out = String::with_capacity(sentence.len());
    let mut rest = sentence;
    while let Some(at) = rest.find(|letter: char| letter.is_ascii_digit()) {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let digits = rest
            .find(|letter: char| !letter.is_ascii_digit() && letter != '-')
            .unwrap_or(rest.len());
        let figure = &rest[..digits];
        match figure.parse::<Date>() {
            Ok(date) if figure.len() == 10 => out.push_str(&day_and_year(date)),
            _ => out.push_str(figure),
        }
        rest = &rest[digits..];
    }
    out.push_str(rest);
    out
}

fn month(day: Date) -> &'static str {
    MONTHS[day.month().clamp(1, 12) as usize - 1]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_written_with_its_weekday() {
        // 1 December 2026 is a Tuesday (any calendar)
        let date = Date::new(2026, 12, 1).expect("a day");
        assert_eq!(day_and_year(date), "Tue 1 Dec 2026");
        assert_eq!(
            spelled("2 of the 5 combs are likely ripe from 2026-12-01; 2026-13-01 is none"),
            "2 of the 5 combs are likely ripe from Tue 1 Dec 2026; 2026-13-01 is none"
        );
        let at = "2026-12-01T03:05:00Z".parse().expect("an instant");
        assert_eq!(instant(at, &TimeZone::UTC), "Tue 1 Dec 2026, 03:05");
    }
}
