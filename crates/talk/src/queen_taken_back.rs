//! A queen that was none: "there she is", a pause, "no it isn't, it's a drone".

use crate::act::Act;
use crate::ear::Ear;

/// Words of a denial that denies nothing else. Common usage, no source.
const DENIES: [&str; 22] = [
    "no", "nope", "nah", "oh", "it", "that", "she", "'s", "is", "was", "were", "n't", "not", "her",
    "wait", "sorry", "the", "queen", "after", "all", "a", "ai",
];

/// What is taken for a queen.
const BEES: [&str; 3] = ["drone", "worker", "bee"];

impl Ear<'_> {
    /// Hears it right after she was seen, before the phrase is cut where it turns to somebody.
    pub(crate) fn no_queen_after_all(&mut self) -> bool {
        if !self.state.queen_just_seen {
            return false;
        }
        let len = self.tokens.len();
        let is = |i: usize, words: &[&str]| words.contains(&self.word(i));
        let not = (0..len).find(|&i| is(i, &["not", "n't"]));
        let her = (0..len).any(|i| is(i, &["it", "that", "she", "her"]));
        let only = (0..len).all(|i| is(i, &DENIES));
        // "no it's a drone": a bee, and neither brood nor comb
        let bee = (1..len).find(|&i| {
            is(i, &BEES)
                && (i.saturating_sub(3)..i).any(|k| is(k, &["a", "another"]))
                && !is(i + 1, &["brood", "comb", "cell", "cells", "patch"])
        });
        let begins = is(0, &["no", "nope", "nah", "not", "sorry", "wait", "oh"])
            || not.is_some_and(|at| at < 4);
        let taken = her && (only && not.is_some() || begins && bee.is_some());
        if taken {
            self.note("no queen after all", Act::QueenNotSeen, None, &[]);
        }
        taken
    }
}
