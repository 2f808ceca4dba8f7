//! Stores and brood spoken of the colony as a whole, or of where in the hive they are: "they're light
//! on stores", "we open the left, that's where the honey is". No comb is told so.

use crate::ear::Ear;
use crate::mark::Mark;

/// How a colony stands with its stores, before "on", "of" or "for". Common usage, no source.
const STANDS: [&str; 10] = [
    "light", "short", "low", "heavy", "poor", "thin", "lean", "rich", "flush", "down",
];

/// Who is short of stores. Common usage, no source.
const COLONY: [&str; 8] = [
    "they", "colony", "hive", "bees", "girls", "lot", "lass", "nest",
];

const STORES: [&str; 8] = [
    "stores",
    "store",
    "honey",
    "food",
    "provisions",
    "grub",
    "reserves",
    "supplies",
];

impl Ear<'_> {
    /// "they're a bit light on stores": neither a share nor honey of the comb in hand.
    pub(crate) fn colony_short_of(&self, m: &Mark) -> bool {
        let told = |i: usize| {
            STANDS.contains(&self.word(i))
                && matches!(self.word(i + 1), "on" | "of" | "for" | "in")
                && (i + 2..i + 5).any(|k| STORES.contains(&self.word(k)))
        };
        let Some(stands) = (0..self.tokens.len()).find(|&i| told(i)) else {
            return false;
        };
        let from = stands.saturating_sub(6);
        let subject = (from..stands).find(|&i| {
            COLONY.contains(&self.word(i))
                && matches!(
                    self.word(i + 1),
                    "'re" | "are" | "is" | "'s" | "feel" | "feels" | "look" | "looks"
                )
        });
        subject.is_some_and(|subject| m.from >= subject && m.from < stands + 5)
    }

    /// "the left end, that's where the honey is", said before any comb of that end was met.
    pub(crate) fn where_it_is(&self, m: &Mark) -> bool {
        let mut the = m.from;
        while matches!(
            self.word(the.wrapping_sub(1)),
            "the" | "all" | "their" | "my" | "our" | "most" | "of"
        ) {
            the -= 1;
        }
        let kept = matches!(self.word(the.wrapping_sub(1)), "keep" | "put" | "store")
            && matches!(self.word(the.wrapping_sub(2)), "they" | "bees");
        let place = if kept { the - 2 } else { the };
        self.state.visit.combs.len() == self.state.end_start
            && self.word(place.wrapping_sub(1)) == "where"
    }
}
