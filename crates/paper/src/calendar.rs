//! Due things as a calendar file: RFC 5545, one all-day event a thing, with an alarm.
//!
//! Written here and not by a library: the three properties used need folding and escaping only,
//! and the file stays the same to the byte for the same input, in the browser too.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// One thing that is due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Due {
    /// Its name for ever, so that a calendar that reads the feed again moves it and does not
    /// double it.
    pub uid: String,
    /// On which day.
    pub day: Date,
    /// In a few words.
    pub summary: String,
    /// Why, and what to bring.
    pub description: String,
    /// Where.
    pub location: Option<String>,
}

/// Octets in a line without its break (RFC 5545, 3.1).
const LINE: usize = 75;

/// The calendar; `stamp` is when it was written.
pub fn calendar(name: &str, due: &[Due], stamp: Timestamp) -> String {
    let mut out = Lines::default();
    out.put("BEGIN", "VCALENDAR");
    out.put("VERSION", "2.0");
    out.put("PRODID", "-//Combwright//due things//EN");
    out.put("CALSCALE", "GREGORIAN");
    out.put("METHOD", "PUBLISH");
    out.text("X-WR-CALNAME", name);
    let stamp = instant(stamp);
    for due in due {
        out.put("BEGIN", "VEVENT");
        out.text("UID", &due.uid);
        out.put("DTSTAMP", &stamp);
        out.put("DTSTART;VALUE=DATE", &day(due.day));
        // the end of a day is the next one, not counted (RFC 5545, 3.6.1)
        out.put(
            "DTEND;VALUE=DATE",
            &day(due.day.tomorrow().unwrap_or(due.day)),
        );
        out.text("SUMMARY", &due.summary);
        if !due.description.is_empty() {
            out.text("DESCRIPTION", &due.description);
        }
        if let Some(location) = &due.location {
            out.text("LOCATION", location);
        }
        out.put("TRANSP", "TRANSPARENT");
        out.put("BEGIN", "VALARM");
        out.put("ACTION", "DISPLAY");
        out.text("DESCRIPTION", &due.summary);
        // at six in the evening of the day before
        out.put("TRIGGER", "-PT6H");
        out.put("END", "VALARM");
        out.put("END", "VEVENT");
    }
    out.put("END", "VCALENDAR");
    out.0
}

// written out, for the phone's sake: the general formatter of dates weighs more than all that stands here
fn day(day: Date) -> String {
    format!("{:04}{:02}{:02}", day.year(), day.month(), day.day())
}

fn instant(at: Timestamp) -> String {
    let utc = TimeZone::UTC.to_datetime(at);
    let (hour, minute, second) = (utc.hour(), utc.minute(), utc.second());
    format!("{}T{hour:02}{minute:02}{second:02}Z", day(utc.date()))
}

#[derive(Default)]
struct Lines(String);

impl Lines {
    /// Free text: backslash, semicolon, comma and line break are escaped (3.3.11).
    fn text(&mut self, name: &str, value: &str) {
        let mut escaped = String::with_capacity(value.len());
        for c in value.chars() {
            match c {
                '\\' | ';' | ',' => {
                    escaped.push('\\');
                    escaped.push(c);
                }
                '\n' => escaped.push_str("\\n"),
                c if c.is_control() => {}
                c => escaped.push(c),
            }
        }
        self.put(name, &escaped);
    }

    /// One content line, folded between characters (3.1). No break stands beside a blank: readers
    /// that trim lines would swallow it.
    fn put(&mut self, name: &str, value: &str) {
        let line: Vec<char> = name.chars().chain([':']).chain(value.chars()).collect();
        let mut rest = line.as_slice();
        let mut room = LINE;
        loop {
            let mut octets = 0;
            let fits = rest.iter().position(|c| {
                octets += c.len_utf8();
                octets > room
            });
            let Some(most) = fits else {
                self.0.extend(rest);
                self.0.push_str("\r\n");
                return;
            };
            let beside_blank = |at: usize| rest[at] == ' ' || rest[at - 1] == ' ';
            let at = (most.saturating_sub(20).max(1)..=most)
                .rev()
                .find(|at| !beside_blank(*at))
                .unwrap_or(most);
            self.0.extend(&rest[..at]);
            self.0.push_str("\r\n ");
            rest = &rest[at..];
            // the blank that begins a folded line counts
            room = LINE - 1;
        }
    }
}
