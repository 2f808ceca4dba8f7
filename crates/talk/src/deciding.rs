//! Decisions said in many words, by classes of words: "ease him gently back down", "off it comes",
//! "there's no need to shift that one", "stand it over by the gate".
//!
//! What is said in fixed words stands in the lexicon; here stand the shapes, so that any verb of
//! putting goes with any word for back. Common usage, no source.

use crate::concept::Concept as C;
use crate::says::Says;
use crate::token::Token;
use crate::verbs::{GOES, PRONOUNS, PUTS, TAKES, TAKES_OFF, starts};

/// The longest decision that begins at `at`: how many words, and what it says.
pub(crate) fn deciding(tokens: &[Token<'_>], at: usize) -> Option<(usize, C)> {
    if !tokens.get(at).is_some_and(|t| starts(&t.text)) {
        return None;
    }
    let says = Says { tokens };
    let shapes = [
        says.putting(at),
        says.going(at),
        says.away_first(at),
        says.letting(at),
        says.staying(at),
        says.refusing(at),
        says.taking(at),
        says.is_off(at),
        says.it_goes(at),
        says.not_enough(at),
        says.wanting(at),
    ];
    shapes
        .into_iter()
        .flatten()
        .max_by_key(|&(end, _)| end)
        .map(|(end, c)| (end - at, c))
}

impl Says<'_> {
    /// "pop it back in", "I'll stand him over by the ditch".
    fn putting(&self, at: usize) -> Option<(usize, C)> {
        if !PUTS.contains(&self.word(at)) {
            return None;
        }
        let object = self.object(at + 1);
        let i = object.unwrap_or(at + 1);
        if let Some(end) = self.back(i)
            && (object.is_some() || self.is(i, &["back"]))
        {
            return (!self.is(at, &["get", "have", "let"]) || object.is_some())
                .then_some((end, C::Leave));
        }
        if object.is_none() && self.is(at, &["hang", "hanging", "get", "going"]) {
            return None;
        }
        self.set_down(at, object)
    }

    /// "it goes straight back", "that one comes home with me", "gone across".
    fn going(&self, at: usize) -> Option<(usize, C)> {
        if !GOES.contains(&self.word(at)) {
            return None;
        }
        let copula = self.is(at, &["'s", "is", "are", "was"]);
        let mut i = at + 1;
        if copula
            && self.is(
                i,
                &["going", "coming", "gone", "staying", "heading", "away"],
            )
        {
            i += usize::from(!self.is(i, &["away", "staying"]));
        }
        let i = self.skip_manner(i);
        if self.is(i, &["back"]) && !(copula && i == at + 1) {
            return self.back(i).map(|end| (end, C::Leave));
        }
        if self.is(i, &["in", "down", "home"]) && self.is(i + 1, &["again"]) {
            return Some((i + 2, C::Leave));
        }
        let moves = !copula || i > at + 1;
        if !moves {
            return None;
        }
        if self.is(i, &["across", "over"]) && (self.closes(i + 1) || self.is(i + 1, &["to", "as"]))
        {
            return Some((i + 1, C::Take));
        }
        if self.is(i, &["with"]) && self.is(i + 1, &["me", "us"]) {
            return Some((i + 2, C::Take));
        }
        let come = self.is(at, &["come", "comes", "coming", "gets", "go", "goes"])
            || self.is(at + 1, &["coming", "going"]);
        // "going on the stool for now"
        if self.is(at, &["go", "goes", "going"])
            && self.is(i, &["on", "by", "against", "beside"])
            && !self.is(i + 2, &["left", "right", "back", "end"])
            && let Some(found) = self.place(i)
        {
            return Some(found);
        }
        if come && self.is(i, &["off", "out", "away"]) && self.closes(i + 1) && i > at {
            return Some((i + 1, C::Take));
        }
        None
    }

    /// "back it goes", "down with it", "home you go", "off it comes", "across it goes".
    fn away_first(&self, at: usize) -> Option<(usize, C)> {
        let leave = self.is(at, &["back", "in", "down", "home"]);
        let take = self.is(at, &["off", "out", "away", "across", "over"]);
        if !leave && !take {
            return None;
        }
        let mut i = at + 1;
        while self.is(i, &["in", "down", "home", "again"]) && leave {
            i += 1;
        }
        let i = self.skip_manner(i);
        let what = if leave { C::Leave } else { C::Take };
        if self.is(i, &["with"]) {
            // "out with ten and eleven"
            if crate::numbers::is_number_word(self.word(i + 1)) && i == at + 1 {
                return Some((i + 1, what));
            }
            let end = self.object(i + 1)?;
            return self.closes(end).then_some((end, what));
        }
        if !PRONOUNS.contains(&self.word(i)) && !self.is(i, &["we"]) {
            return None;
        }
        let mut j = i + 1;
        if self.is(j, &["one", "lot", "two"]) {
            j += 1;
        }
        if self.is(j, &["'s", "is", "can", "will", "'ll", "must"]) {
            j += 1;
        }
        // "down it went": it fell
        if self.is(at, &["down"]) && self.is(j, &["went", "came"]) {
            return None;
        }
        self.is(
            j,
            &[
                "go", "goes", "going", "gone", "comes", "come", "coming", "went", "came",
            ],
        )
        .then_some((j + 1, what))
    }

    /// "let him be", "leaving it where it is", "let it continue".
    fn letting(&self, at: usize) -> Option<(usize, C)> {
        if !self.is(
            at,
            &[
                "let", "letting", "lets", "leave", "leaves", "leaving", "leavin", "left",
            ],
        ) {
            return None;
        }
        let left = self.is(at, &["leave", "leaves", "leaving", "leavin", "left"]);
        // "this I let"
        if self.is(at, &["let"]) && self.is(at.wrapping_sub(1), &["i", "we"]) && self.closes(at + 1)
        {
            return Some((at + 1, C::Leave));
        }
        let object = self.object(at + 1).or_else(|| {
            // "let stay", "leave well alone"
            self.is(
                at + 1,
                &["stay", "hang", "be", "alone", "well", "continue", "rest"],
            )
            .then_some(at + 1)
        });
        let mut i = object?;
        if left {
            while self.is(
                i,
                &[
                    "be", "alone", "there", "in", "here", "hanging", "where", "it", "is", "was",
                    "as", "well", "to", "them",
                ],
            ) && !self.tokens.get(i).is_none_or(Token::is_stop)
            {
                i += 1;
            }
            return Some((i.max(object?), C::Leave));
        }
        if self.is(
            i,
            &[
                "be", "stay", "hang", "sit", "rest", "continue", "grow", "finish", "ripen", "bide",
                "stop", "carry", "keep", "have", "wait", "live", "cap", "cure", "dry", "fill",
                "build", "work", "settle", "get", "alone",
            ],
        ) {
            i += 1;
            return Some((i, C::Leave));
        }
        (self.tokens.get(i).is_none_or(Token::is_stop) || self.is(i, &["for", "and"]))
            .then_some((i, C::Leave))
    }

    /// "it sits", "he'll stop at home", "that one can wait", "it rests".
    fn staying(&self, at: usize) -> Option<(usize, C)> {
        // "right where you're sitting": a helper
        if self.is(at, &["you"]) && self.is(at.wrapping_sub(1), &["where"]) {
            return None;
        }
        let mut i = self.subject(at)?;
        let modal = self.is(
            i,
            &[
                "can", "may", "should", "must", "will", "shall", "'ll", "better", "might", "just",
                "is", "'s", "are", "'re",
            ],
        );
        if modal {
            i += 1;
            if self.is(i, &["as", "just", "have", "to", "well", "better", "best"]) {
                i += 1;
            }
            i = self.skip_manner(i);
        }
        let plain = self.is(
            i,
            &[
                "stay",
                "stays",
                "staying",
                "remain",
                "remains",
                "remaining",
                "bide",
                "bides",
                "biding",
            ],
        );
        let still = plain
            || self.is(
                i,
                &[
                    "sits", "sit", "sitting", "rests", "rest", "resting", "stops", "stop",
                    "stopping", "waits", "wait", "waiting", "lives", "keeps", "keep", "hang",
                    "hangs",
                ],
            ) && (self.closes(i + 1)
                || self.is(
                    i + 1,
                    &["put", "on", "where", "at", "in", "a", "another", "one"],
                ));
        if !still {
            return None;
        }
        i += 1;
        while self.is(
            i,
            &[
                "put", "there", "here", "where", "it", "is", "was", "at", "home", "in", "put",
            ],
        ) && self.tokens.get(i).is_some_and(|t| !t.is_stop())
        {
            i += 1;
        }
        Some((i, C::Leave))
    }

    /// "it", "that one", "them two", "the lot of them" before a verb.
    fn subject(&self, at: usize) -> Option<usize> {
        match self.word(at) {
            // "the pair of them", "both of those"
            "pair" | "two" | "both" | "lot" | "three" | "all"
                if self.is(at + 1, &["of"])
                    && self.is(at + 2, &["them", "those", "these", "em"]) =>
            {
                Some(at + 3)
            }
            "it" | "he" | "she" | "they" | "you" => Some(at + 1),
            "this" | "that" | "these" | "those" | "them" => {
                let more = self.is(
                    at + 1,
                    &[
                        "one", "two", "ones", "lot", "fella", "lad", "comb", "bar", "pair", "three",
                    ],
                );
                Some(if more { at + 2 } else { at + 1 })
            }
            _ => None,
        }
    }

    /// "I do not disturb it", "no need to shift that", "cannot take", "hands off".
    fn refusing(&self, at: usize) -> Option<(usize, C)> {
        let mut i = at;
        match self.word(i) {
            "no" if self.is(i + 1, &["need", "call", "point", "sense", "reason", "use"]) => {
                // "they've no need of it"
                if self.is(at.wrapping_sub(1), &["'ve", "have"]) {
                    return None;
                }
                i += 2;
                if self.is(i, &["of"]) {
                    return self.object(i + 1).map(|end| (end, C::Leave));
                }
                // "no point robbing it"
                if self.is(i, &["to", "in"]) {
                    i += 1;
                } else if !self.word(i).ends_with("ing") {
                    return None;
                }
            }
            "not" | "n't" | "never" | "nae" => {
                i += 1;
                while self.is(
                    i,
                    &[
                        "going", "gonna", "to", "about", "be", "gon", "na", "even", "want",
                        "wanting", "fixing", "ever", "need",
                    ],
                ) {
                    i += 1;
                }
            }
            _ => return None,
        }
        if !self.is(
            i,
            &[
                "take",
                "taking",
                "touch",
                "touching",
                "disturb",
                "disturbing",
                "shift",
                "shifting",
                "move",
                "moving",
                "bother",
                "bothering",
                "rob",
                "robbing",
                "harvest",
                "harvesting",
                "remove",
                "removing",
                "pull",
                "pulling",
                "break",
                "lift",
                "lifting",
                "cutting",
                "having",
                "mess",
            ],
        ) {
            return None;
        }
        let verb = i;
        // "did not lift it" is no decision
        let lifted = self.is(
            verb,
            &[
                "lift", "lifting", "break", "move", "moving", "having", "cutting",
            ],
        );
        if lifted && !self.is(at, &["no"]) && !self.is(verb, &["having", "cutting", "moving"]) {
            return None;
        }
        i += 1;
        if self.is(i, &["with"]) {
            i += 1;
        }
        if let Some(end) = self.object(i) {
            return Some((end, C::Leave));
        }
        let sure = self.is(
            verb,
            &[
                "take",
                "taking",
                "touch",
                "touching",
                "disturb",
                "disturbing",
                "harvest",
                "rob",
            ],
        );
        (sure && self.tokens.get(i).is_none_or(Token::is_stop)).then_some((i, C::Leave))
    }

    /// "I carry it away", "saw him off", "have this one off".
    fn taking(&self, at: usize) -> Option<(usize, C)> {
        let sure = TAKES.contains(&self.word(at));
        let with_off = sure || TAKES_OFF.contains(&self.word(at));
        if !with_off {
            return None;
        }
        let i = self.object(at + 1)?;
        let j = self.skip_manner(i);
        let away = self.is(j, &["off", "out", "away", "home", "across", "over"])
            && self.is(
                j.wrapping_sub(0),
                &["off", "out", "away", "home", "across", "over"],
            );
        let put = self.is(at, &["put", "hang", "slip", "set", "move", "moving", "get"]);
        let off_bar =
            self.is(j, &["off"]) && (self.is(j + 2, &["bar"]) || self.is(j + 3, &["bar"]));
        if off_bar && !self.is(at, &["knock", "get", "have"]) {
            return Some((j + 1, C::Take));
        }
        if away && !self.is(j + 1, &["the", "of", "there", "by", "on", "wall", "for"]) {
            if put && !self.is(j, &["across", "over", "out", "away"]) {
                return None;
            }
            if put && self.is(j, &["over", "out"]) && !self.closes(j + 1) {
                return None;
            }
            return Some((j + 1, C::Take));
        }
        if self.is(j, &["with"]) && self.is(j + 1, &["me", "us"]) {
            return Some((j + 2, C::Take));
        }
        let spoils = self.is(
            j,
            &[
                "free", "loose", "clear", "from", "along", "back", "easy", "straight", "apart",
                "as", "up", "off", "out", "down", "in", "aside", "by", "for",
            ],
        );
        (sure && !spoils).then_some((i, C::Take))
    }

    /// "that one can go back", "it'll come off", "that comes".
    fn it_goes(&self, at: usize) -> Option<(usize, C)> {
        let mut i = self.skip_manner(self.subject(at)?);
        if self.is(
            i,
            &[
                "can", "may", "could", "should", "must", "will", "'ll", "might", "has", "better",
                "shall",
            ],
        ) {
            i += 1;
            if self.is(i, &["to", "as", "just"]) {
                i += 1;
            }
            if self.is(i, &["well"]) {
                i += 1;
            }
            i = self.skip_manner(i);
        }
        let mut go = i;
        if self.is(i, &["'s", "is"]) && self.is(i + 1, &["going", "coming"]) {
            go = i + 1;
        }
        if let Some(found) = self.going(go).filter(|_| !self.is(go, &["'s", "is"])) {
            return Some(found);
        }
        let comes = self.is(go, &["comes", "come", "coming"])
            && (self.tokens.get(go + 1).is_none_or(Token::is_stop)
                || self.is(go + 1, &["too", "then", "also"]));
        (comes && !self.is(at, &["they", "you", "there"])).then_some((go + 1, C::Take))
    }

    /// "I want eight", "we want the second".
    fn wanting(&self, at: usize) -> Option<(usize, C)> {
        let keeper = self.is(at.wrapping_sub(1), &["i", "we", "'ll", "do"]);
        let numbered = |i: usize| {
            crate::numbers::is_number_word(self.word(i))
                && !self.is(
                    i + 1,
                    &["more", "of", "or", "litres", "litre", "pounds", "kilos"],
                )
        };
        let named = numbered(at + 1)
            || self.is(at + 1, &["bar", "comb", "number"]) && numbered(at + 2)
            || self.is(at + 1, &["the", "that"])
                && crate::numbers::ordinal(self.word(at + 2)).is_some();
        let list = named
            && self.tokens[at + 1..].iter().all(|t| {
                t.is_stop()
                    || crate::numbers::is_number_word(&t.text)
                    || crate::numbers::ordinal(&t.text).is_some()
                    || matches!(
                        &*t.text,
                        "and" | "to" | "the" | "bar" | "bars" | "comb" | "combs" | "number"
                    )
            });
        if self.is(at, &["keep", "keeping"]) && list {
            return Some((at + 1, C::Leave));
        }
        // "no to the seventh", "yes to the eighth"
        if self.is(at, &["no", "yes"])
            && self.is(at + 1, &["to"])
            && self.is(at + 2, &["the"])
            && crate::numbers::ordinal(self.word(at + 3)).is_some()
        {
            let yes = self.is(at, &["yes"]);
            return Some((at + 2, if yes { C::Take } else { C::Leave }));
        }
        // "cut the third"
        let third = self.is(at + 1, &["the"])
            && crate::numbers::ordinal(self.word(at + 2)).is_some()
            && !self.is(at.wrapping_sub(1), &["the", "a", "one", "two"]);
        if self.is(at, &["cut", "having"]) && third {
            return Some((at + 1, C::Take));
        }
        // "keep the next as well", "keep this one, the fifth"
        let next = self.is(at + 1, &["the"]) && self.is(at + 2, &["next"]) || third;
        if self.is(at, &["keep"]) && next && !self.is(at.wrapping_sub(1), &["i", "to", "they"]) {
            return Some((at + 1, C::Leave));
        }
        (self.is(at, &["want", "fancy"]) && keeper && named).then_some((at + 1, C::Take))
    }

    /// "too much open to take", "not dry enough", "don't think I'll take that".
    fn not_enough(&self, at: usize) -> Option<(usize, C)> {
        let verb = ["take", "cut", "harvest", "have", "pull", "rob"];
        if self.is(at, &["too"]) {
            let to = (at + 2..at + 6).find(|&i| self.is(i, &["to"]) && self.is(i + 1, &verb))?;
            return Some((to + 2, C::Leave));
        }
        if !self.is(at, &["not", "n't", "never", "nae", "dunno"]) {
            return None;
        }
        if self.is(
            at + 1,
            &[
                "capped", "ripe", "dry", "ready", "full", "sealed", "thick", "heavy", "nearly",
                "quite",
            ],
        ) && (self.is(at + 2, &["enough"]) || self.is(at + 2, &["ripe", "ready", "dry"]))
        {
            let end = if self.is(at + 3, &["to"]) && self.is(at + 4, &verb) {
                at + 5
            } else {
                at + 3
            };
            return Some((end, C::Leave));
        }
        if !self.is(
            at + 1,
            &["think", "reckon", "believe", "fancy", "feel", "going"],
        ) {
            return None;
        }
        let mut i = at + 2;
        while self.is(
            i,
            &[
                "i", "we", "'ll", "'d", "'m", "'re", "should", "can", "will", "am", "are", "to",
                "it", "'s", "worth", "like", "anywhere", "near",
            ],
        ) && i < at + 8
        {
            i += 1;
        }
        if self.is(i - 1, &["near"]) {
            return self.object(i).map(|end| (end, C::Leave));
        }
        if !self.is(
            i,
            &[
                "take",
                "taking",
                "cut",
                "cutting",
                "harvest",
                "harvesting",
                "have",
                "having",
                "touch",
            ],
        ) {
            return None;
        }
        Some((self.object(i + 1).unwrap_or(i + 1), C::Leave))
    }

    /// "that's off", "he's away in the pail".
    fn is_off(&self, at: usize) -> Option<(usize, C)> {
        let i = self.subject(at)?;
        if self.is(at, &["they", "you", "them"]) || !self.is(i, &["'s", "is"]) {
            return None;
        }
        let i = self.skip_manner(i + 1);
        let ends = self.tokens.get(i + 1).is_none_or(Token::is_stop)
            || self.is(i + 1, &["and", "then", "so"]);
        (self.is(i, &["off", "out"]) && ends
            || self.is(i, &["away"]) && self.is(i + 1, &["in", "to", "into"]))
        .then_some((i + 1, C::Take))
    }
}
