//! What an entry is about, as the keeper looks for it.

use hive::yard::Standing;
use hive::{Entry, Known, Yard};

/// A subject to filter by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Subject {
    Everything,
    Visits,
    Combs,
    Bars,
    Queens,
    Health,
    Notes,
    Hives,
    Changed,
}

impl Subject {
    /// All of them, in the order of `texts::records::SUBJECTS`.
    pub(super) const ALL: [Self; 9] = [
        Self::Everything,
        Self::Visits,
        Self::Combs,
        Self::Bars,
        Self::Queens,
        Self::Health,
        Self::Notes,
        Self::Hives,
        Self::Changed,
    ];

    /// Its key in the form.
    pub(super) const fn key(self) -> &'static str {
        match self {
            Self::Everything => "everything",
            Self::Visits => "visits",
            Self::Combs => "combs",
            Self::Bars => "bars",
            Self::Queens => "queens",
            Self::Health => "health",
            Self::Notes => "notes",
            Self::Hives => "hives",
            Self::Changed => "changed",
        }
    }

    /// By its key; everything where there is none such.
    pub(super) fn of(key: &str) -> Self {
        Self::ALL
            .into_iter()
            .find(|subject| subject.key() == key)
            .unwrap_or(Self::Everything)
    }

    /// Whether an entry is about it. An undo or a correction is about what it is aimed at, too.
    pub(super) fn has(self, yard: &Yard, entry: &Entry) -> bool {
        match self {
            Self::Everything => true,
            Self::Changed => {
                changes(entry).is_some()
                    || yard
                        .standing(entry.id)
                        .is_some_and(|standing| standing != Standing::Stands)
            }
            _ => {
                let mut about = entry;
                // a chain of corrections ends at what was said first
                for _ in 0..16 {
                    match changes(about).and_then(|target| yard.entry(target)) {
                        Some(target) => about = target,
                        None => break,
                    }
                }
                self.names(about)
            }
        }
    }

    fn names(self, entry: &Entry) -> bool {
        let Some(known) = entry.what.known() else {
            return false;
        };
        let subject = match known {
            Known::VisitOpened { .. }
            | Known::EndOpened { .. }
            | Known::VisitClosed {}
            | Known::ClosingSaid { .. }
            | Known::TakenCounted { .. } => Self::Visits,
            Known::CombSeen { .. } | Known::Decided { .. } | Known::Matched { .. } => Self::Combs,
            Known::CombTaken { .. }
            | Known::SetAside { .. }
            | Known::PutBack { .. }
            | Known::BarAdded { .. }
            | Known::BarMoved { .. }
            | Known::BarTurned { .. }
            | Known::BarHangs { .. }
            | Known::BarRemoved { .. }
            | Known::Arranged { .. }
            | Known::EndArranged { .. }
            | Known::HoneyHouse { .. } => Self::Bars,
            Known::QueenSeen { .. } | Known::QueenCells { .. } => Self::Queens,
            Known::MiteWash { .. }
            | Known::Fed { .. }
            | Known::WeatherNoted { .. }
            | Known::TreatmentBegun(_)
            | Known::TreatmentEnded(_)
            | Known::SignSeen(_)
            | Known::SignReported(_)
            | Known::SignCleared(_)
            | Known::MedicineBought(_)
            | Known::MedicineDisposed(_) => Self::Health,
            Known::Note { .. } => Self::Notes,
            Known::Apiary { .. }
            | Known::HiveStarted { .. }
            | Known::HiveRenamed { .. }
            | Known::HiveMoved { .. }
            | Known::HiveEnded { .. }
            | Known::BodyMeasured { .. }
            | Known::ReserveSet { .. }
            | Known::RipenessSet { .. }
            | Known::SplitTo { .. } => Self::Hives,
            Known::Corrected { .. } | Known::Undone { .. } => Self::Changed,
        };
        subject == self
    }
}

/// The entry that an undo or a correction is aimed at.
fn changes(entry: &Entry) -> Option<hive::EntryId> {
    match entry.what.known()? {
        Known::Undone { target } | Known::Corrected { target, .. } => Some(*target),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_subject_reads_back_from_its_key() {
        for subject in Subject::ALL {
            assert_eq!(Subject::of(subject.key()), subject);
        }
        assert_eq!(Subject::of("nothing"), Subject::Everything);
        assert_eq!(crate::texts::records::SUBJECTS.len(), Subject::ALL.len());
    }
}
