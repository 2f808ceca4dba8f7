//! The next comb announced and not named: "moving on", "what's next", "and behind it now". What is told
//! then is told of a new comb.

use crate::ear::{Ear, State};
use crate::mark::Mark;
use crate::token::Token;
use crate::visit::Comb;

/// Little words that stand about such a phrase.
const LITTLE: [&str; 22] = [
    "okay", "right", "alright", "alrighty", "righto", "so", "and", "now", "then", "well", "let",
    "'s", "us", "go", "um", "uh", "oh", "just", "we", "'re", "in", "along",
];

impl State {
    /// Keeps whether the phrase goes on to the next comb and says nothing of it.
    pub(crate) fn hears_the_next(&mut self, tokens: &[Token<'_>]) {
        let words: Vec<&str> = tokens
            .iter()
            .map(|t| &*t.text)
            .filter(|word| !LITTLE.contains(word))
            .collect();
        let told = matches!(
            words.as_slice(),
            ["moving" | "move" | "moved" | "movin" | "onwards" | "onward"]
                | ["moving" | "move" | "movin" | "carrying", "on" | "in"]
                | ["what", "next"]
                | [
                    "what",
                    "this" | "here",
                    "one" | "un" | "fella" | "fellow" | "lad"
                ]
                | ["behind", "it" | "that" | "this" | "him"]
                | ["one", "further" | "deeper" | "more"]
        );
        let settled = |c: &Comb| c.decision.is_some();
        let newest = self.hand.last().map(|c| c + 1) == Some(self.visit.combs.len());
        let in_hand = self.hand.last().and_then(|&c| self.visit.combs.get(c));
        if told && newest && !self.closing && !self.washing && in_hand.is_some_and(settled) {
            self.next_due = true;
        }
    }
}

impl Ear<'_> {
    /// Meets the comb that was spoken of, where one is told of now.
    pub(crate) fn meets_the_next(&mut self, marks: &[Mark]) -> bool {
        let newest = self.state.hand.last().map(|c| c + 1) == Some(self.state.visit.combs.len());
        if !self.state.next_due || !newest || self.correcting {
            return false;
        }
        self.meet("the next was spoken of", &[None], marks);
        true
    }
}
