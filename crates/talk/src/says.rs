//! The parts that decisions are made of: what stands for the comb, how it is done, where it goes back to.

use crate::token::Token;
use crate::verbs::{MANNER, PRONOUNS};

/// The words of a phrase, for the shapes of decisions.
pub(crate) struct Says<'a> {
    pub(crate) tokens: &'a [Token<'a>],
}

impl Says<'_> {
    pub(crate) fn word(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", |t| &*t.text)
    }

    pub(crate) fn is(&self, at: usize, words: &[&str]) -> bool {
        words.contains(&self.word(at))
    }

    pub(crate) fn skip_manner(&self, mut at: usize) -> usize {
        while MANNER.contains(&self.word(at)) {
            at += 1;
        }
        at
    }

    /// "it", "that one", "them both", "the comb": the place after it.
    pub(crate) fn object(&self, at: usize) -> Option<usize> {
        let mut i = at;
        // "the two of them", "both of those"
        let few = i + usize::from(self.is(i, &["the"]));
        if self.is(few, &["two", "both", "pair"])
            && self.is(few + 1, &["of"])
            && self.is(few + 2, &["them", "those", "these", "em"])
        {
            return Some(few + 3);
        }
        match self.word(i) {
            "this" | "that" | "these" | "those" => {
                i += 1;
                if self.is(
                    i,
                    &[
                        "one", "comb", "bar", "fella", "lad", "lot", "ones", "thing", "two",
                        "pair", "three", "beauty", "fellow",
                    ],
                ) {
                    i += 1;
                }
            }
            "the" if self.is(i + 1, &["comb", "bar", "lot", "pair", "whole", "thing"]) => {
                i += 2;
                if self.is(i, &["lot", "thing", "comb"]) {
                    i += 1;
                }
            }
            "am" if self.is(
                at.wrapping_sub(1),
                &["leave", "take", "cut", "carry", "put", "let", "pull"],
            ) =>
            {
                i += 1;
            }
            w if PRONOUNS.contains(&w) && !matches!(w, "he" | "she" | "they") => i += 1,
            _ => return None,
        }
        Some(i)
    }

    /// The clause ends here, or goes on with nothing that changes what was said.
    pub(crate) fn closes(&self, at: usize) -> bool {
        self.tokens.get(at).is_none_or(Token::is_stop)
            || self.is(
                at,
                &[
                    "and",
                    "but",
                    "so",
                    "then",
                    "too",
                    "also",
                    "now",
                    "for",
                    "please",
                    "there",
                    "here",
                    "again",
                    "with",
                    "cause",
                    "because",
                    "till",
                    "until",
                    "it",
                    "i",
                    "we",
                    "she",
                    "he",
                    "they",
                    "thanks",
                    "dear",
                    "girls",
                    "ladies",
                    "love",
                    "mate",
                    "eh",
                    "yes",
                    "no",
                    "that",
                    "as",
                    "of",
                    "next",
                    "well",
                    "untouched",
                    "yet",
                    "ok",
                    "okay",
                    "anyway",
                    "today",
                    "if",
                    "though",
                ],
            )
    }

    /// "back down in there", "home again", "where it was", "in its place".
    pub(crate) fn back(&self, at: usize) -> Option<usize> {
        let mut i = self.skip_manner(at);
        // "put that comb on back"
        if self.is(i, &["on"]) && self.is(i + 1, &["back"]) {
            i += 1;
        }
        match self.word(i) {
            "back" => {
                i += 1;
                if self.is(i, &["to"]) && !self.is(i + 1, &["bed", "place", "its", "them", "his"])
                    || self.is(
                        i,
                        &["for", "and", "from", "at", "of", "side", "face", "tomorrow"],
                    ) && !self.is(i + 1, &["them", "bees"])
                {
                    return (!self.is(i, &["to", "side", "face", "of"])).then_some(i);
                }
                while self.is(
                    i,
                    &[
                        "in", "down", "home", "again", "up", "inside", "there", "into", "place",
                        "where", "was", "were", "came", "hung", "belongs", "as", "way", "to",
                        "bed", "on", "its", "the", "box", "hive", "slot", "spot", "lives", "his",
                        "her", "their",
                    ],
                ) || self.is(i, &["it", "he", "she", "they"])
                    && self.is(i.wrapping_sub(1), &["where", "as", "way"])
                {
                    i += 1;
                }
                if self.is(i, &["out", "off"]) && self.is(i - 1, &["came"])
                    || self.is(i, &["come", "comes"]) && self.is(i - 1, &["it", "he", "she"])
                {
                    i += 1 + usize::from(self.is(i + 1, &["out", "off", "from"]));
                }
                // "the" of the words that follow is not ours
                while self.is(i - 1, &["the", "to", "into", "on"]) {
                    i -= 1;
                }
                Some(i)
            }
            "home" | "in" | "down" | "inside" | "up" => {
                let first = i;
                i += 1;
                if self.is(i, &["again"]) {
                    return Some(i + 1);
                }
                if self.is(first, &["in"]) && self.is(i, &["its", "his", "her", "their", "place"]) {
                    let i = i + 1;
                    return if self.is(i, &["place", "slot", "spot", "bed", "gap", "home"]) {
                        Some(i + 1)
                    } else {
                        self.is(i - 1, &["place"]).then_some(i)
                    };
                }
                let home = self.is(first, &["home", "in", "inside"]) && self.closes(i)
                    || self.is(first, &["down"]) && self.tokens.get(i).is_none_or(Token::is_stop);
                (home && !self.is(i, &["with", "here", "there"])).then_some(i)
            }
            "where" if self.is(i + 1, &["it", "he", "she", "they", "that", "this"]) => self
                .is(
                    i + 2,
                    &[
                        "was", "were", "came", "belongs", "lives", "hung", "is", "'s", "sat",
                        "hangs",
                    ],
                )
                .then(|| {
                    if self.is(i + 3, &["from"]) {
                        i + 4
                    } else {
                        i + 3
                    }
                }),
            "as" if self.is(i + 1, &["it", "they", "found"]) => {
                (self.is(i + 1, &["found"])).then_some(i + 2).or_else(|| {
                    self.is(i + 2, &["was", "were", "hung", "is", "came"])
                        .then_some(i + 3)
                })
            }
            _ => None,
        }
    }
}
