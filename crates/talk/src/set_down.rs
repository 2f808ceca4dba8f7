//! A comb put down to be decided on later: "stand him over by the ditch", "hang it on the spare stand".

use crate::concept::Concept as C;
use crate::lexicon::LEXICON;
use crate::says::Says;
use crate::token::Token;
use crate::verbs::NO_REST;

/// Verbs of putting that put nothing down.
const HOLDS_ON: [&str; 19] = [
    "get",
    "have",
    "having",
    "give",
    "gave",
    "giving",
    "take",
    "taking",
    "let",
    "return",
    "returning",
    "returned",
    "send",
    "sent",
    "bring",
    "drop",
    "dropped",
    "pass",
    "passed",
];

/// Words for a place that need no article.
const RESTS: [&str; 4] = ["chair", "stand", "rack", "stool"];

impl Says<'_> {
    /// `at` is the verb; `object` the place after "it" or "that one", if one was said.
    pub(crate) fn set_down(&self, at: usize, object: Option<usize>) -> Option<(usize, C)> {
        let i = object.unwrap_or(at + 1);
        let let_hang =
            self.is(at, &["let"]) && self.is(i, &["hang", "sit", "stand", "rest", "wait"]);
        let i = if let_hang { i + 1 } else { self.skip_manner(i) };
        let still = HOLDS_ON.contains(&self.word(at));
        if still && !let_hang || object.is_none() && !self.is(i, &["on", "aside", "by", "against"])
        {
            return None;
        }
        if self.is(i, &["aside", "by", "apart"])
            && self.tokens.get(i + 1).is_none_or(|t| !t.is("the"))
        {
            return Some((i + 1, C::Aside));
        }
        let ends = |i: usize| self.tokens.get(i).is_none_or(Token::is_stop);
        let stands = self.is(
            at,
            &[
                "prop", "propped", "propping", "park", "parked", "lean", "leaned", "leant",
                "leaning", "stand", "stood",
            ],
        );
        if stands && object.is_some() && (self.is(i, &["there", "up"]) && ends(i + 1) || ends(i)) {
            return Some((i, C::Aside));
        }
        self.place(i)
    }

    /// "over by the ditch", "on the spare stand".
    pub(crate) fn place(&self, at: usize) -> Option<(usize, C)> {
        const PLACES: [&str; 11] = [
            "alongside",
            "on",
            "onto",
            "by",
            "against",
            "beside",
            "near",
            "over",
            "in",
            "under",
            "at",
        ];
        let mut i = at;
        while self.is(
            i,
            &["over", "up", "down", "out", "off", "there", "here", "back"],
        ) && (self.is(i + 1, &PLACES) || self.is(i + 1, &["there"]))
        {
            i += 1;
        }
        // "hang that beside it"
        if self.is(i, &["beside", "by", "alongside"])
            && self.is(i + 1, &["it", "him", "her", "them", "that"])
        {
            return Some((i + 2, C::Aside));
        }
        let article = self.is(
            i + 1,
            &[
                "the", "my", "a", "that", "this", "his", "her", "our", "one", "spare",
            ],
        );
        if !self.is(i, &PLACES) || !article && !self.is(i + 1, &RESTS) {
            return None;
        }
        let mut last = i + 1;
        if article {
            last += 1;
            let kind = self.is(
                last,
                &[
                    "wee", "little", "spare", "frame", "old", "upturned", "other", "hive", "side",
                    "empty", "wooden", "garden", "comb",
                ],
            );
            if kind && self.tokens.get(last + 1).is_some_and(|t| !t.is_stop()) {
                last += 1;
            }
        }
        let noun = self.word(last);
        let rests = !noun.is_empty()
            && !NO_REST.contains(&noun)
            && (!container(noun) || self.is(i, &["by", "against", "beside", "near", "under"]))
            && noun.chars().all(char::is_alphabetic);
        // "on the cart for now"
        let for_now = (self.is(last + 1, &["for"]) && self.is(last + 2, &["now", "the", "a"])
            || self.is(last + 1, &["with", "beside"]) && self.is(last + 2, &["the", "it", "that"]))
            && (!NO_REST.contains(&noun) || noun == "wall");
        (rests || for_now || self.is(i, &["on"]) && noun == "side").then_some((last + 1, C::Aside))
    }
}

/// A word for what combs are carried away in.
fn container(word: &str) -> bool {
    LEXICON
        .longest(&[LEXICON.id(word)])
        .is_some_and(|(_, m)| matches!(m.concept, C::Container | C::SplitBox))
}
