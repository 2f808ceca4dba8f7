//! Hand's breadths, of a keeper who says how many of them a comb is deep: "these hang four hands deep",
//! and then "two hands capped this face".

use std::borrow::Cow;

use crate::token::Token;

/// No comb is deeper, and one that is as shallow as a hand is not measured by it.
const DEEP: std::ops::RangeInclusive<f64> = 2.0..=8.0;

/// How many hands deep the combs are said to hang, if this phrase says so.
pub(crate) fn hands_deep(tokens: &[Token<'_>]) -> Option<f64> {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let at = (1..tokens.len()).find(|&i| {
        word(i) == "hands" && matches!(word(i + 1), "deep" | "long" | "high" | "tall" | "down")
    })?;
    let of_them_all = (0..at).any(|i| matches!(word(i), "combs" | "mine"));
    let hang = (0..at).any(|i| matches!(word(i), "hang" | "are" | "run" | "come" | "go" | "'re"));
    let deep = small(word(at - 1))?;
    (of_them_all && hang && DEEP.contains(&deep)).then_some(deep)
}

/// The phrase with its hand's breadths told as parts of a comb so deep, where a face or its caps are
/// spoken of; elsewhere they tell how long a comb is.
pub(crate) fn as_parts(tokens: Vec<Token<'_>>, deep: f64) -> Vec<Token<'_>> {
    let of_a_face = tokens.iter().any(|t| {
        matches!(
            &*t.text,
            "face"
                | "side"
                | "back"
                | "front"
                | "other"
                | "both"
                | "faces"
                | "sides"
                | "capped"
                | "sealed"
                | "closed"
                | "caps"
                | "kept"
        )
    });
    if !of_a_face {
        return tokens;
    }
    let mut out = Vec::with_capacity(tokens.len());
    let mut at = 0;
    while at < tokens.len() {
        if let Some((used, hands)) = breadths(&tokens, at).filter(|(_, hands)| *hands <= deep) {
            let text = if hands < deep {
                format!("{hands}/{deep}")
            } else {
                "all".to_owned()
            };
            let span = tokens[at].span.start..tokens[at + used - 1].span.end;
            out.push(Token {
                text: Cow::Owned(text),
                span,
            });
            at += used;
        } else {
            out.push(tokens[at].clone());
            at += 1;
        }
    }
    out
}

/// "two hands", "a hand's breadth", "a hand and a half", "all four hands": how many words, and hands.
fn breadths(tokens: &[Token<'_>], from: usize) -> Option<(usize, f64)> {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let at = from + usize::from(word(from) == "all");
    let mut count = match word(at) {
        "a" => 1.0,
        "half" if word(at + 1) == "a" && word(at + 2) == "hand" => {
            return Some((at + 3 - from, 0.5));
        }
        other => small(other)?,
    };
    let mut to = at + 1;
    if word(to) == "and" && word(to + 1) == "a" && word(to + 2) == "half" {
        count += 0.5;
        to += 3;
    }
    if !matches!(word(to), "hand" | "hands") || word(to + 1) == "side" {
        return None;
    }
    to += 1;
    if word(to) == "'s" {
        to += 1;
    }
    if matches!(word(to), "breadth" | "breadths" | "width" | "widths") {
        to += 1;
    }
    if word(to) == "and" && word(to + 1) == "a" && word(to + 2) == "half" {
        count += 0.5;
        to += 3;
    }
    // "one hand down the other face": no comb built so far
    if word(to) == "down" && matches!(word(to + 1), "the" | "this" | "that" | "on" | "my") {
        to += 1;
    }
    Some((to - from, count))
}

fn small(word: &str) -> Option<f64> {
    const WORDS: [&str; 8] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight",
    ];
    let at = WORDS.iter().position(|w| *w == word)?;
    u32::try_from(at + 1).ok().map(f64::from)
}
