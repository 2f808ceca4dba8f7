//! An offer that came to nothing: "shall I give them that one", "I'll let them have that". What is
//! scratched after it is the offer, and not what was told of the comb before.

use crate::ear::State;
use crate::token::Token;

/// What an offer begins with. Common usage, no source.
const OFFERS: [&[&str]; 14] = [
    &["i", "'ll"],
    &["i", "will"],
    &["we", "'ll"],
    &["shall", "i"],
    &["shall", "we"],
    &["should", "i"],
    &["should", "we"],
    &["i", "could"],
    &["we", "could"],
    &["i", "might"],
    &["we", "might"],
    &["want", "me", "to"],
    &["let", "me"],
    &["let", "'s"],
];

/// What may stand before it.
const BEFORE: [&str; 12] = [
    "so", "well", "maybe", "and", "or", "okay", "then", "right", "perhaps", "do", "you", "now",
];

impl State {
    /// Whether a phrase was an offer and nothing was understood of it.
    pub(crate) fn hears_an_offer(&mut self, tokens: &[Token<'_>], came: bool) {
        let from = tokens
            .iter()
            .take_while(|t| BEFORE.contains(&&*t.text))
            .count();
        let begins = |offer: &&[&str]| {
            let words = tokens[from..].iter().take(offer.len());
            words.map(|t| &*t.text).eq(offer.iter().copied())
        };
        self.offered = !came && OFFERS.iter().any(begins);
    }
}
