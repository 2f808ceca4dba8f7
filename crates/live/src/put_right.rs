//! A phrase that was misheard is put right where it stands: everything after it is understood anew.
//!
//! The step that puts it right stands behind the others, so that taking it back brings the former words.

use jiff::Timestamp;

use crate::session::{Live, Session};
use crate::step::{Did, Step};

/// How a phrase is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Taken<'a> {
    AsHeard,
    Instead(&'a str),
    LeftOut,
}

impl Taken<'_> {
    /// How the step at this place is taken: the last word on it counts.
    pub(crate) fn of(steps: &[Step], nth: usize) -> Taken<'_> {
        let last = steps.iter().rev().find_map(|step| match &step.did {
            Did::PutRight { nth: at, words } if *at == nth => Some(words),
            _ => None,
        });
        match last {
            None => Taken::AsHeard,
            Some(None) => Taken::LeftOut,
            Some(Some(words)) => Taken::Instead(words),
        }
    }
}

impl Session {
    /// The words that count of the step at this place, and whether they are others than were heard;
    /// `None` when it is no phrase, or left out.
    pub fn words(&self, nth: usize) -> Option<(&str, bool)> {
        let Did::Said(heard) = &self.steps.get(nth)?.did else {
            return None;
        };
        match Taken::of(&self.steps, nth) {
            Taken::AsHeard => Some((heard, false)),
            Taken::Instead(words) => Some((words, words != heard)),
            Taken::LeftOut => None,
        }
    }

    /// Whether the phrase at this place is left out.
    pub fn is_left_out(&self, nth: usize) -> bool {
        Taken::of(&self.steps, nth) == Taken::LeftOut
    }
}

impl Live {
    /// Puts the phrase at this place right; without words, or with blank ones, it is left out. False when
    /// there is no phrase, or these words count already: then nothing changes. [`Live::undo`] takes it back
    /// like any other step.
    pub fn put_right(&mut self, at: Timestamp, nth: usize, words: Option<&str>) -> bool {
        let words = words.map(str::trim).filter(|words| !words.is_empty());
        let steps = &self.session().steps;
        let is_phrase = matches!(steps.get(nth), Some(step) if matches!(step.did, Did::Said(_)));
        if !is_phrase || self.session().words(nth).map(|(words, _)| words) == words {
            return false;
        }
        self.step(Step {
            at,
            did: Did::PutRight {
                nth,
                words: words.map(str::to_owned),
            },
        });
        true
    }
}
