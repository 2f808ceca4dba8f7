//! What can be wrong with an entry before it is recorded.

use std::fmt;

use comb::CombError;
use jiff::Timestamp;
use jiff::civil::Date;
use thiserror::Error;

/// One variant a cause, with the value and what would be right.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum HiveError {
    /// Not JSON at all.
    #[error("not JSON, line {line}, column {column}: {why}")]
    NotJson {
        /// Line from 1.
        line: usize,
        /// Column from 1.
        column: usize,
        /// The reader's words.
        why: String,
    },
    /// JSON, but not an entry that this version can read.
    #[error("malformed entry: {part}: {why}")]
    Malformed {
        /// The part that cannot be read.
        part: String,
        /// What is wrong with it.
        why: String,
    },
    /// A measure, share or body out of range.
    #[error(transparent)]
    Comb(#[from] CombError),
    /// A value that cannot be.
    #[error("{field} must be {bound}, this one is {value}")]
    Value {
        /// Which field.
        field: &'static str,
        /// What it must be, in words.
        bound: &'static str,
        /// As given.
        value: String,
    },
    /// No hive of that name or id.
    #[error("there is no hive {name}{}", suggestion(near, known))]
    NoSuchHive {
        /// As asked for.
        name: String,
        /// Names that sound or look alike, nearest first.
        near: Vec<String>,
        /// All names of living hives.
        known: Vec<String>,
    },
    /// No apiary of that name or id.
    #[error("there is no apiary {name}{}", suggestion(near, known))]
    NoSuchApiary {
        /// As asked for.
        name: String,
        /// Names that look alike, nearest first.
        near: Vec<String>,
        /// All names.
        known: Vec<String>,
    },
    /// The entry needs a hive and names none.
    #[error("{kind} needs a hive, and none is named")]
    NoHive {
        /// The entry's kind.
        kind: String,
    },
    /// A living hive of that name is there already.
    #[error("there is a hive named {name} already; names are unique among living hives")]
    NameTaken {
        /// The name.
        name: String,
    },
    /// A hive, bar or entry is made anew under an id that is in use.
    #[error("the {thing} {id} is in the journal already")]
    IdTaken {
        /// What was to be made.
        thing: &'static str,
        /// Its id.
        id: String,
    },
    /// The hive has no such bar.
    #[error("{hive} has no bar {bar}; there are {}", Ranges(numbers))]
    NoSuchBar {
        /// The hive's name.
        hive: String,
        /// The number asked for, or the id.
        bar: String,
        /// Numbers that are there, rising.
        numbers: Vec<u32>,
    },
    /// A number that another bar of the hive bears.
    #[error("{hive} has a bar {number} already; the next free number is {free}")]
    NumberTaken {
        /// The hive's name.
        hive: String,
        /// The number.
        number: u32,
        /// The lowest number above all in use.
        free: u32,
    },
    /// The bar is there, but not where the entry needs it.
    #[error("bar {number} of {hive} {lies}, so it cannot be {wanted}")]
    BarElsewhere {
        /// The hive's name.
        hive: String,
        /// The bar's number.
        number: u32,
        /// Where it lies, e.g. "was carried away".
        lies: &'static str,
        /// What was to be done with it, e.g. "put back".
        wanted: &'static str,
    },
    /// Bars and follower boards longer than the body, or no bar at all.
    #[error(
        "{bars} bars of {bar_mm:.0} mm and the follower boards need {needed_mm:.0} mm, the body has \
         {length_mm:.0}"
    )]
    BarsDoNotFit {
        /// How many bars.
        bars: u32,
        /// Width of one.
        bar_mm: f64,
        /// What they need with the boards.
        needed_mm: f64,
        /// Inside length of the body.
        length_mm: f64,
        /// How many would fit.
        fit: u32,
    },
    /// A row that names a bar twice.
    #[error("bar {number} of {hive} stands in the row twice")]
    BarTwice {
        /// The hive's name.
        hive: String,
        /// The bar's number.
        number: u32,
    },
    /// A row that is longer than the cavity.
    #[error(
        "this row is {row_mm:.0} mm long, the cavity of {hive} only {cavity_mm:.0} mm: {over_mm:.0} mm too much",
        over_mm = .row_mm - .cavity_mm
    )]
    RowTooLong {
        /// The hive's name.
        hive: String,
        /// Sum of the widths.
        row_mm: f64,
        /// Inside length of the body.
        cavity_mm: f64,
    },
    /// The entry belongs to a visit that is not in the journal, or is one of another hive.
    #[error("the visit {id} is not a visit of {hive}")]
    NoSuchVisit {
        /// The visit's id.
        id: String,
        /// The hive's name.
        hive: String,
    },
    /// The entry belongs to a visit and names none.
    #[error("{kind} belongs to a visit: open one first")]
    NoVisit {
        /// The entry's kind.
        kind: String,
    },
    /// A treatment or a sign that the hive does not have.
    #[error("{hive} has no {what} {id}")]
    NoSuchRecord {
        /// "treatment" or "sign".
        what: &'static str,
        /// The hive's name.
        hive: String,
        /// The id asked for.
        id: String,
    },
    /// A treatment or a sign that is over is ended once more.
    #[error(
        "this {what} of {hive} was over on {since} already; if that is wrong, correct that entry"
    )]
    OverAlready {
        /// "treatment" or "sign".
        what: &'static str,
        /// The hive's name.
        hive: String,
        /// The day on which it ended.
        since: Date,
    },
    /// Dated after now.
    #[error("dated {at}, which is still to come (it is {now})")]
    InTheFuture {
        /// The entry's instant.
        at: Timestamp,
        /// Now, as passed in.
        now: Timestamp,
    },
    /// A visit dated before the last one, or an entry before its hive or visit began.
    #[error("dated {at}, before {what} ({since})")]
    TooEarly {
        /// The entry's instant.
        at: Timestamp,
        /// What it cannot come before, e.g. "the last visit to Ironbark".
        what: String,
        /// The instant of that.
        since: Timestamp,
    },
    /// This device's clock stands before its own last entry.
    #[error(
        "this device's clock says {recorded}, but its last entry was written at {last}: set the clock right"
    )]
    ClockWentBack {
        /// The new entry's instant of writing.
        recorded: Timestamp,
        /// That of the device's last entry.
        last: Timestamp,
    },
    /// The running number is not the device's next.
    #[error("the device's next entry is number {expected}, this one is {seq}")]
    Sequence {
        /// As given.
        seq: u64,
        /// As it must be.
        expected: u64,
    },
    /// The entry to correct or take back is not in the journal.
    #[error("the entry {id} that this would {verb} is not in the journal")]
    NoSuchEntry {
        /// The target.
        id: String,
        /// "correct" or "take back".
        verb: &'static str,
    },
    /// The entry was taken back before.
    #[error("the entry {id} is taken back already")]
    AlreadyUndone {
        /// The target.
        id: String,
    },
    /// Undoing and correcting are not corrected but taken back.
    #[error("{kind} cannot be corrected into {into}: take it back and say it anew")]
    NotCorrectable {
        /// The kind of the entry to correct.
        kind: String,
        /// The kind it should become.
        into: String,
    },
    /// There is nothing that could be taken back.
    #[error("there is nothing to take back")]
    NothingToUndo,
}

impl HiveError {
    pub(crate) fn not_json(why: &serde_json::Error) -> Self {
        Self::NotJson {
            line: why.line(),
            column: why.column(),
            why: why.to_string(),
        }
    }

    pub(crate) fn malformed(part: &str, why: &(impl fmt::Display + ?Sized)) -> Self {
        Self::Malformed {
            part: part.to_owned(),
            why: why.to_string(),
        }
    }
}

fn suggestion(near: &[String], known: &[String]) -> String {
    match (near, known) {
        ([], []) => "; there are none yet".to_owned(),
        ([], known) => format!("; there are {}", known.join(", ")),
        ([one], _) => format!("; did you mean {one}?"),
        (several, _) => format!("; did you mean one of {}?", several.join(", ")),
    }
}

/// Numbers as ranges: "1 to 5, 8, 10 to 12".
struct Ranges<'a>(&'a [u32]);

impl fmt::Display for Ranges<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_empty() {
            return f.write_str("no bars");
        }
        let mut rest = self.0;
        let mut first = true;
        while let Some(&from) = rest.first() {
            let run = (0u32..)
                .zip(rest)
                .take_while(|(step, number)| from + step == **number)
                .count();
            if !first {
                f.write_str(", ")?;
            }
            first = false;
            match run {
                1 => write!(f, "{from}")?,
                2 => write!(f, "{from}, {}", rest[1])?,
                _ => write!(f, "{from} to {}", rest[run - 1])?,
            }
            rest = &rest[run..];
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_that_are_there_are_told_as_ranges() {
        let error = HiveError::NoSuchBar {
            hive: "Ironbark".into(),
            bar: "40".into(),
            numbers: vec![1, 2, 3, 5, 7, 8],
        };
        assert_eq!(
            error.to_string(),
            "Ironbark has no bar 40; there are 1 to 3, 5, 7, 8"
        );
    }

    #[test]
    fn a_near_name_is_suggested() {
        let error = HiveError::NoSuchHive {
            name: "Ironbrak".into(),
            near: vec!["Ironbark".into()],
            known: vec![],
        };
        assert_eq!(
            error.to_string(),
            "there is no hive Ironbrak; did you mean Ironbark?"
        );
    }
}
