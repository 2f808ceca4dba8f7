//! What a recogniser makes of the trade's words, put right where the words around allow it.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::concept::Concept as C;
use crate::lexicon::LEXICON;
use crate::numbers;
use crate::token::{Token, words_of};
use comb::order::InOrder as _;

/// What must stand around a word before it is taken for a slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Guard {
    /// No condition.
    Always,
    /// A number follows.
    Number,
    /// A number stands before.
    NumberBefore,
    /// A share, a face, a whole word of extent or honey stands beside it.
    Part,
    /// An ordinal, a bar number or an adjective of combs stands before it, no motion after it.
    Comb,
    /// The word for brood follows.
    Brood,
    /// "cell" or "cells" follows, or "queen" stands before.
    Cells,
    /// A word for what combs hold stands before, with or without "and".
    Content,
    /// "wall" or "side" stands within five words after.
    Wall,
    /// Mites are spoken of: a number before, or "bees" after.
    Mites,
    /// A bar or an ordinal stands before, or a word of what combs hold beside it.
    Hold,
    /// A face or "honey" stands beside.
    Capped,
    /// The phrase ends with it, or what a comb is follows; no "the" or "that" stands before.
    Told,
    /// It begins the phrase; a number follows, and then what a comb is.
    Opens,
    /// It begins the phrase; what a comb is follows, and no verdict.
    First,
    /// It begins the phrase; a number follows, and then nothing or what a comb is.
    Called,
    /// It begins the phrase.
    Start,
    /// It is the phrase.
    Whole,
    /// A face's word stands before, and something is capped in the phrase.
    Face,
    /// A number must stand there: a unit follows, or "point" stands before.
    Figure,
    /// "bar twenty" or "twenty" alone stands before, and nothing else follows than what a comb is.
    Tens,
}

struct Slip {
    heard: Vec<String>,
    meant: Vec<String>,
    guard: Guard,
}

struct Slips {
    by_first: BTreeMap<String, Vec<Slip>>,
}

static SLIPS: LazyLock<Slips> = LazyLock::new(|| {
    let mut by_first: BTreeMap<String, Vec<Slip>> = BTreeMap::new();
    for line in include_str!("../lexicon/slips.txt").lines() {
        if let Some(slip) = read(line) {
            by_first
                .entry(slip.heard[0].clone())
                .or_default()
                .push(slip);
        }
    }
    for list in by_first.values_mut() {
        list.order_by_key(|s| std::cmp::Reverse(s.heard.len()));
    }
    Slips { by_first }
});

fn read(line: &str) -> Option<Slip> {
    let line = line.trim();
    if line.starts_with('#') {
        return None;
    }
    let (heard, rest) = line.split_once("->")?;
    let (meant, guard) = rest.rsplit_once(':')?;
    let guard = match guard.trim() {
        "always" => Guard::Always,
        "number" => Guard::Number,
        "number_before" => Guard::NumberBefore,
        "part" => Guard::Part,
        "comb" => Guard::Comb,
        "brood" => Guard::Brood,
        "cells" => Guard::Cells,
        "content" => Guard::Content,
        "wall" => Guard::Wall,
        "mites" => Guard::Mites,
        "capped" => Guard::Capped,
        "hold" => Guard::Hold,
        "told" => Guard::Told,
        "opens" => Guard::Opens,
        "first" => Guard::First,
        "called" => Guard::Called,
        "start" => Guard::Start,
        "whole" => Guard::Whole,
        "face" => Guard::Face,
        "figure" => Guard::Figure,
        "tens" => Guard::Tens,
        _ => return None,
    };
    let heard: Vec<_> = words_of(heard).collect();
    let meant: Vec<_> = words_of(meant).collect();
    (!heard.is_empty() && !meant.is_empty()).then_some(Slip {
        heard,
        meant,
        guard,
    })
}

/// Puts slips right, in place.
pub(crate) fn repair<'a>(tokens: &[Token<'a>]) -> Vec<Token<'a>> {
    let mut out: Vec<Token<'a>> = Vec::with_capacity(tokens.len());
    let mut at = 0;
    while at < tokens.len() {
        let found = SLIPS.by_first.get(&*tokens[at].text).and_then(|list| {
            list.iter()
                .find(|s| fits(s, tokens, at) && allowed(s.guard, &out, tokens, at, s.heard.len()))
        });
        let Some(slip) = found else {
            out.push(near(tokens, at));
            at += 1;
            continue;
        };
        let span = tokens[at].span.start..tokens[at + slip.heard.len() - 1].span.end;
        for word in &slip.meant {
            out.push(Token {
                text: Cow::Borrowed(word.as_str()),
                span: span.clone(),
            });
        }
        at += slip.heard.len();
    }
    one_further_in(&mut out);
    out
}

/// "sixth one in, two thirds": counted from the end, and no "one in two".
fn one_further_in(tokens: &mut Vec<Token<'_>>) {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let counted = |i: usize| numbers::ordinal(word(i)).is_some() || word(i) == "next";
    let place = |i: usize| {
        matches!(
            word(i),
            "the"
                | "a"
                | "this"
                | "that"
                | "there"
                | "here"
                | "it"
                | "between"
                | "my"
                | "with"
                | "on"
                | ""
        )
    };
    let at = (0..tokens.len()).find(|&i| {
        counted(i)
            && matches!(word(i + 1), "one" | "comb" | "bar")
            && word(i + 2) == "in"
            && !place(i + 3)
    });
    if let Some(at) = at {
        tokens.remove(at + 2);
    }
}

fn fits(slip: &Slip, tokens: &[Token<'_>], at: usize) -> bool {
    slip.heard
        .iter()
        .enumerate()
        .all(|(i, w)| tokens.get(at + i).is_some_and(|t| t.is(w)))
}

fn skip_small(word: &str) -> bool {
    LEXICON.is_filler(LEXICON.id(word))
}

fn before<'b, 'a>(out: &'b [Token<'a>]) -> Option<&'b Token<'a>> {
    out.iter().rev().find(|t| !skip_small(&t.text))
}

fn after<'b, 'a>(tokens: &'b [Token<'a>], at: usize) -> Option<&'b Token<'a>> {
    tokens[at..].iter().find(|t| !skip_small(&t.text))
}

fn concept(word: &str) -> Option<C> {
    LEXICON.longest(&[LEXICON.id(word)]).map(|(_, m)| m.concept)
}

fn concept_at(tokens: &[Token<'_>], at: usize) -> Option<C> {
    let ids: Vec<_> = tokens[at.min(tokens.len())..]
        .iter()
        .take(6)
        .map(|t| LEXICON.id(&t.text))
        .collect();
    LEXICON.longest(&ids).map(|(_, m)| m.concept)
}

const PART_WORDS: [&str; 36] = [
    "all",
    "half",
    "fully",
    "mostly",
    "nearly",
    "quarter",
    "quarters",
    "third",
    "thirds",
    "most",
    "almost",
    "completely",
    "solid",
    "none",
    "nothing",
    "not",
    "both",
    "either",
    "wall",
    "right",
    "percent",
    "totally",
    "honey",
    "top",
    "front",
    "back",
    "over",
    "entirely",
    "partly",
    "is",
    "cells",
    "cell",
    "side",
    "sides",
    "full",
    "well",
];

const CONTENT: [&str; 19] = [
    "brood", "honey", "nectar", "pollen", "eggs", "larvae", "drone", "bread", "grubs", "open",
    "sealed", "some", "capped", "young", "and", "stores", "got", "with", "few",
];

#[expect(
    clippy::too_many_lines,
    reason = "one arm a guard, each read by itself"
)]
fn allowed(guard: Guard, out: &[Token<'_>], tokens: &[Token<'_>], at: usize, len: usize) -> bool {
    let prev = before(out);
    let prev_is = |words: &[&str]| prev.is_some_and(|t| words.contains(&&*t.text));
    let next = after(tokens, (at + len).min(tokens.len()));
    let next_is = |words: &[&str]| next.is_some_and(|t| words.contains(&&*t.text));
    match guard {
        Guard::Always => true,
        // "near 100 far 95": the face
        Guard::Number
            if tokens[at].is("far")
                && (tokens[..at].iter().any(|t| t.is("near") || t.is("front"))
                    // "and the far one": the face
                    || at > 0 && tokens[at - 1].is("the") && next_is(&["one"])
                    || next.is_some_and(|t| {
                        t.text.parse::<f64>().is_ok_and(|n| n > 40.0) || tens_of_percent(&t.text)
                    })) =>
        {
            false
        }
        Guard::Number => next.is_some_and(|t| numbers::is_number_word(&t.text)) && out.len() < 8,
        Guard::NumberBefore => prev
            .is_some_and(|t| numbers::is_number_word(&t.text) || t.is("half") || t.is("quarter")),
        Guard::Part => {
            if prev_is(&[
                "i", "we", "they", "she", "he", "have", "'ve", "been", "being", "'d", "could",
                "may", "to",
            ]) {
                return false;
            }
            prev_is(&PART_WORDS)
                || prev.is_some_and(|t| {
                    concept(&t.text) == Some(C::Num)
                        || t.is("brood")
                        || t.is("sealed")
                        || t.is("worker")
                })
                || next_is(&[
                    "all", "half", "both", "about", "mostly", "nearly", "fully", "this", "a",
                    "two", "three", "right", "front", "on", "the", "either", "brood", "over",
                    "across", "honey", "most", "almost", "corner", "wall", "top", "cells", "cell",
                    "sixty", "seventy", "eighty", "ninety",
                ]) && !next_is(&["it"])
                    && (out.len() < 3
                        || next.is_some_and(|t| !t.is("the") && !t.is("a") && !t.is("on")))
        }
        Guard::Comb => {
            let open = prev.is_some_and(|t| numbers::ordinal(&t.text).is_some())
                && next.is_some_and(|t| state_word(&t.text))
                || prev_is(&[
                    "new", "white", "cross", "brood", "drone", "old", "empty", "drawn", "honey",
                    "full", "fresh", "black",
                ])
                || number_then_bar(out)
                || prev.is_some_and(|t| numbers::ordinal(&t.text).is_some_and(|n| n > 1.0))
                    && tokens[at].is("come")
                    && !next_is(&["back", "to", "on", "in", "home", "out", "along"])
                || next_is(&["has", "is", "'s"])
                    && prev_is(&[
                        "next", "last", "second", "third", "fourth", "fifth", "sixth", "first",
                    ])
                    && !tokens[at].is("time");
            // "third time": nobody says that of anything else between two combs
            let whole = tokens[..at].iter().filter(|t| !skip_small(&t.text)).count() == 1;
            let alone = next.is_none()
                && (whole || !tokens[at].is("time") && !tokens[at].is("times"))
                && prev.is_some_and(|t| numbers::ordinal(&t.text).is_some());
            // "the next time", and nothing else
            let next_one = tokens[at].is("time")
                && next.is_none()
                && prev_is(&["next"])
                && tokens[..at].iter().all(|t| {
                    skip_small(&t.text)
                        || matches!(
                            &*t.text,
                            "next" | "then" | "now" | "and" | "so" | "on" | "to"
                        )
                });
            (open || alone || next_one)
                && !next_is(&[
                    "back", "home", "along", "off", "out", "in", "too", "with", "away", "over",
                    "next", "on",
                ])
        }
        Guard::Brood => next_is(&["brood", "brude", "brewed", "brute", "brew", "broad"]),
        Guard::Cells => {
            next_is(&["cell", "cells", "sell", "sells"]) || prev_is(&["queen", "swarm", "quean"])
        }
        Guard::Content => {
            prev_is(&CONTENT) && !next_is(&["it", "that", "this", "one", "them", "of"])
        }
        Guard::Wall => tokens[at..]
            .iter()
            .take(8)
            .any(|t| t.is("wall") || t.is("walls") || t.is("side") || t.is("sides")),
        Guard::Mites => {
            prev.is_some_and(|t| numbers::is_number_word(&t.text))
                || tokens[at..].iter().take(6).any(|t| t.is("bees"))
        }
        Guard::Hold => {
            number_then_bar(out)
                || prev.is_some_and(|t| numbers::ordinal(&t.text).is_some())
                || prev_is(&["got", "has"]) && next_is(&["on", "in", "and", "with", "at", "up"])
                || prev_is(&["and", "with"])
                    && tokens[..at].iter().any(|t| {
                        matches!(&*t.text, "pollen" | "honey" | "nectar" | "eggs" | "stores")
                    })
                || prev_is(&[
                    "sealed", "open", "capped", "closed", "worker", "drone", "just", "lidded",
                    "honey", "pollen", "comb", "'s", "is", "some", "one", "more", "no", "wasn't",
                ]) && next_is(&[
                    "and",
                    "with",
                    "on",
                    "both",
                    "in",
                    "under",
                    "underneath",
                    "at",
                    "down",
                    "again",
                    "here",
                    "leave",
                    "so",
                    "wall",
                    "all",
                    "this",
                ])
                || prev_is(&["sealed", "open", "capped", "closed", "worker", "lidded"])
                || out.is_empty()
                    && !tokens[at].is("bread")
                    && next_is(&[
                        "in", "and", "both", "wall", "on", "covered", "capped", "sealed",
                    ])
                    && tokens.len() > 2
                || !tokens[at].is("bread")
                    && (prev_is(&["small", "little", "more", "patchy", "spotty", "solid"])
                        || next_is(&["covered", "capped", "sealed", "closed", "lidded", "nest"])
                        || next.is_none()
                            && prev_is(&["and", "with"])
                            && tokens[..at]
                                .iter()
                                .any(|t| state_word(&t.text) || t.is("comb")))
        }
        Guard::Capped => {
            matches!(
                concept_at(tokens, at + len),
                Some(C::This | C::Other | C::Both | C::Honey | C::Share)
            )
        }
        // "take that bar too", "the bar to leave"
        Guard::Told => {
            !prev_is(&[
                "the", "that", "this", "a", "another", "each", "every", "other", "one",
            ]) && ends_or_tells(tokens, at + len)
        }
        Guard::Figure => figure(out, tokens, at + len),
        // "bar twenty too", not "leave bar twenty too"
        Guard::Tens => {
            let [rest @ .., tens] = out else {
                return false;
            };
            let opens = match rest {
                [] => true,
                [before @ .., bar] => {
                    (bar.is("bar") || bar.is("number"))
                        && before.iter().all(|t| skip_small(&t.text))
                }
            };
            opens && numbers::is_tens(&tens.text) && ends_or_tells(tokens, at + len)
        }
        Guard::Opens | Guard::Called => {
            let number = tokens[at + len..]
                .iter()
                .take_while(|t| numbers::is_number_word(&t.text))
                .count();
            let then = after(tokens, (at + len + number).min(tokens.len()));
            out.iter().all(|t| skip_small(&t.text))
                && number > 0
                && then.map_or(matches!(guard, Guard::Called), |t| tells(&t.text))
        }
        Guard::Start => out.iter().all(|t| skip_small(&t.text)) && !next_is(&["and"]),
        Guard::Whole => out.is_empty() && next.is_none(),
        // "to capped both sides take": a bar's number
        Guard::First => {
            out.iter().all(|t| skip_small(&t.text))
                && next.is_some_and(|t| tells(&t.text))
                && (!next_is(&[
                    "leave", "leaving", "take", "taking", "is", "has", "'s", "no",
                ])
                    // "ate is brood": nothing else begins so
                    || tokens[at].is("ate") && next_is(&["is", "has", "'s"]))
                && tokens.len() > 2
        }
        Guard::Face => {
            prev_is(&[
                "this", "that", "other", "both", "far", "near", "front", "back", "each", "either",
                "one",
            ]) && tokens.iter().any(|t| {
                matches!(
                    &*t.text,
                    "half"
                        | "third"
                        | "thirds"
                        | "quarter"
                        | "quarters"
                        | "all"
                        | "fully"
                        | "mostly"
                        | "capped"
                        | "kept"
                        | "cap"
                )
            })
        }
    }
}

/// Nothing comes after, or "bar four then", or what is told of a comb that was just named.
fn ends_or_tells(tokens: &[Token<'_>], at: usize) -> bool {
    after(tokens, at).is_none_or(|t| tells(&t.text) || t.is("then") && at + 1 == tokens.len())
}

/// "too kilos", "about for pounds", "one point ate": where a number is left out without it.
fn figure(out: &[Token<'_>], tokens: &[Token<'_>], to: usize) -> bool {
    let unit = matches!(
        concept_at(tokens, to),
        Some(
            C::Kg
                | C::Gram
                | C::Pound
                | C::Ounce
                | C::Mm
                | C::Cm
                | C::Inch
                | C::Litre
                | C::Ml
                | C::Gallon
                | C::Quart
                | C::Pint
                | C::Degrees
        )
    );
    let word = |back: usize| {
        let at = out.len().checked_sub(back);
        at.map_or("", |i| &*out[i].text)
    };
    match word(1) {
        "point" => {
            let of_unit = tokens.get(to).is_some_and(|t| t.is("of"));
            unit || of_unit || numbers::is_number_word(word(2))
        }
        "about" | "around" | "roughly" | "nearly" | "says" | "say" | "weighs" | "exactly" | "" => {
            unit
        }
        "it" => unit && matches!(word(2), "make" | "call"),
        tens => unit && (numbers::is_tens(tens) || skip_small(tens) && out.len() == 1),
    }
}

/// The word begins what is told of a comb that was just named.
fn tells(word: &str) -> bool {
    state_word(word) && !matches!(word, "new" | "full" | "light" | "heavy" | "straight")
        || matches!(
            word,
            "both"
                | "fully"
                | "nothing"
                | "no"
                | "unripe"
                | "eggs"
                | "larvae"
                | "leave"
                | "leaving"
                | "take"
                | "taking"
                | "sealed"
        )
}

/// No bar has such a number.
fn tens_of_percent(word: &str) -> bool {
    matches!(
        word,
        "fifty" | "sixty" | "seventy" | "eighty" | "ninety" | "hundred"
    )
}

fn state_word(word: &str) -> bool {
    matches!(
        word,
        "is" | "has"
            | "'s"
            | "full"
            | "capped"
            | "half"
            | "all"
            | "honey"
            | "brood"
            | "pollen"
            | "empty"
            | "new"
            | "nectar"
            | "stuck"
            | "straight"
            | "bent"
            | "caped"
            | "brude"
            | "brewed"
            | "fully"
            | "nearly"
            | "mostly"
            | "cat"
            | "kept"
            | "light"
            | "heavy"
    )
}

/// "bar twenty two": the words before end in a number that follows "bar".
fn number_then_bar(out: &[Token<'_>]) -> bool {
    let mut seen = false;
    for t in out.iter().rev().take(5) {
        if numbers::is_number_word(&t.text) {
            seen = true;
        } else {
            return seen && (t.is("bar") || t.is("number"));
        }
    }
    false
}

/// Trade words that a word unknown to the lexicon may stand for, when it sounds the same.
const SOUNDS: [&str; 22] = [
    "comb",
    "combs",
    "brood",
    "capped",
    "uncapped",
    "nectar",
    "pollen",
    "larvae",
    "honey",
    "queen",
    "follower",
    "sealed",
    "drone",
    "kilo",
    "kilos",
    "millimetres",
    "fahrenheit",
    "syrup",
    "fondant",
    "empty",
    "attached",
    "straight",
];

struct Sound {
    word: &'static str,
    code: String,
}

static CODES: LazyLock<Vec<Sound>> = LazyLock::new(|| {
    SOUNDS
        .iter()
        .map(|&word| Sound {
            word,
            code: code(word),
        })
        .collect()
});

fn code(word: &str) -> String {
    use rphonetic::{DoubleMetaphone, Encoder};
    DoubleMetaphone::new(Some(8)).encode(word)
}

/// A word that is in no phrase, but sounds like a trade word and is spelt much like it.
fn near<'a>(tokens: &[Token<'a>], at: usize) -> Token<'a> {
    let token = &tokens[at];
    let word = &*token.text;
    if word.len() < 4
        || word.len() > 14
        || !word.bytes().all(|b| b.is_ascii_lowercase())
        || LEXICON.id(word) != crate::lexicon::UNKNOWN
        || numbers::is_number_word(word)
        || COMMON.contains(&word)
    {
        return token.clone();
    }
    // "nothin", "touchin": the g is not said
    if word.len() >= 5 && word.ends_with("in") {
        let whole = format!("{word}g");
        if LEXICON.id(&whole) != crate::lexicon::UNKNOWN {
            return Token {
                text: Cow::Owned(whole),
                span: token.span.clone(),
            };
        }
    }
    // "dishpan", "breadbin": what kind of vessel it is
    if let Some(vessel) = VESSELS
        .iter()
        .find(|v| word.ends_with(**v) && word.len() >= v.len() + 3)
    {
        return Token {
            text: Cow::Borrowed(vessel),
            span: token.span.clone(),
        };
    }
    let first = word.as_bytes()[0];
    let close = |s: &&Sound| {
        (s.word.as_bytes()[0] == first
            || matches!(
                (s.word.as_bytes()[0], first),
                (b'c', b'k') | (b'f', b'p') | (b's', b'c')
            ))
            && strsim::jaro_winkler(s.word, word) >= if s.word == "capped" { 0.75 } else { 0.84 }
    };
    let Some(sound) = CODES.iter().filter(close).find(|s| s.code == code(word)) else {
        return token.clone();
    };
    Token {
        text: Cow::Borrowed(sound.word),
        span: token.span.clone(),
    }
}

/// Words that end the name of a vessel.
const VESSELS: [&str; 11] = [
    "bucket", "basket", "barrow", "crate", "tray", "pail", "pan", "tub", "box", "pot", "bin",
];

/// Ordinary words that sound like ours.
const COMMON: [&str; 24] = [
    "broad", "bread", "bride", "bright", "brought", "breed", "combat", "comic", "common",
    "country", "drain", "drawn", "dream", "drive", "followed", "follows", "honest", "hence",
    "kill", "kind", "polite", "polish", "strayed", "street",
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::token::tokens;

    fn put_right(text: &str) -> String {
        let all = repair(&tokens(text));
        all.iter()
            .map(|t| t.text.to_string())
            .collect::<Vec<_>>()
            .join(" ")
    }

    #[test]
    fn slips_are_put_right_where_the_words_around_allow() {
        assert_eq!(
            put_right("bar twenty two time is new"),
            "bar twenty two comb is new"
        );
        assert_eq!(put_right("both sides all cat"), "both sides all capped");
        assert_eq!(
            put_right("bah four all kept front"),
            "bar four all capped front"
        );
        assert_eq!(
            put_right("fourth come that 's brewed"),
            "fourth comb that 's brood"
        );
        assert_eq!(put_right("some neck tar"), "some nectar");
        assert_eq!(put_right("follow a board 's out"), "follower board 's out");
    }

    #[test]
    fn ordinary_words_stay() {
        for text in [
            "next time i come",
            "i kept going",
            "the cat sat here",
            "we have come to the end",
        ] {
            assert_eq!(put_right(text), text);
        }
    }
}
