//! Treatments, signs and medicines as the journal leaves them.

use serde::Serialize;

use crate::hive::{Hive, When};
use crate::id::EntryId;
use crate::sign::{Certainty, Clearing, Report, Sign};
use crate::treatment::{Disposal, Purchase, Treatment, TreatmentEnd};

/// A treatment of a hive.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Treated {
    /// When it was written down that it began.
    #[serde(flatten)]
    pub when: When,
    /// What was given.
    pub given: Treatment,
    /// How it ended; `None` while it is on, or when the end was not said.
    pub ended: Option<TreatmentEnd>,
}

/// A sign in a hive.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SignOnRecord {
    /// When it was written down.
    #[serde(flatten)]
    pub when: When,
    /// What was seen.
    pub sign: Sign,
    /// Reports of it, in order.
    pub reports: Vec<Report>,
    /// Why it no longer stands; `None` while it does.
    pub cleared: Option<Clearing>,
}

/// A medicine that was bought.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Purchased {
    /// When it was written down.
    #[serde(flatten)]
    pub when: When,
    /// What.
    pub bought: Purchase,
}

/// A medicine that was disposed of.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Disposed {
    /// When it was written down.
    #[serde(flatten)]
    pub when: When,
    /// What.
    pub disposed: Disposal,
}

impl Treated {
    /// True until its end is said.
    pub const fn is_on(&self) -> bool {
        self.ended.is_none()
    }
}

impl SignOnRecord {
    /// True for what was seen and is not cleared.
    pub fn stands(&self) -> bool {
        self.cleared.is_none() && self.sign.certainty != Certainty::NotFound
    }
}

impl Hive {
    /// A treatment by the entry that began it.
    pub fn treatment(&self, id: EntryId) -> Option<&Treated> {
        self.treatments.iter().find(|t| t.when.entry == id)
    }

    /// A sign by its entry.
    pub fn sign(&self, id: EntryId) -> Option<&SignOnRecord> {
        self.signs.iter().find(|sign| sign.when.entry == id)
    }

    /// Treatments whose end was not said, in order.
    pub fn treatments_on(&self) -> impl Iterator<Item = &Treated> {
        self.treatments.iter().filter(|treated| treated.is_on())
    }

    /// Signs that were seen and not cleared, in order.
    pub fn signs_standing(&self) -> impl Iterator<Item = &SignOnRecord> {
        self.signs.iter().filter(|sign| sign.stands())
    }
}
