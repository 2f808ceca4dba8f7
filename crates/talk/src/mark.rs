//! A phrase as a row of marks: what each run of words stands for.

use crate::concept::Concept;
use crate::deciding::deciding;
use crate::end_bar::end_and_bar;
use crate::lexicon::{LEXICON, WordId};
use crate::numbers::{self, Said};
use crate::patterns::patterns;
use crate::together::together;
use crate::token::Token;

/// A run of words and the concept that it stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Mark {
    pub(crate) concept: Concept,
    /// Of a number, a share, a ratio; else 0.
    pub(crate) value: f64,
    /// First word, and the one after the last.
    pub(crate) from: usize,
    pub(crate) to: usize,
    /// The lexicon's phrase, if it was one.
    pub(crate) phrase: Option<u32>,
}

impl Mark {
    /// Words that stand for the concept and carry no figure.
    pub(crate) const fn of_words(concept: Concept, from: usize, to: usize) -> Self {
        Self {
            concept,
            value: 0.0,
            from,
            to,
            phrase: None,
        }
    }
}

/// The marks of a phrase, little words left out.
pub(crate) fn marks(tokens: &[Token<'_>]) -> Vec<Mark> {
    let ids: Vec<WordId> = tokens.iter().map(|t| LEXICON.id(&t.text)).collect();
    let mut all = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let (len, mark) = mark_at(tokens, &ids, at);
        if let Some(mark) = mark {
            all.push(mark);
        }
        at += len.max(1);
    }
    let all = end_and_bar(tokens, &all);
    patterns(tokens, together(tokens, &all))
}

/// "the full one", "that one": no number.
fn pronoun_one(tokens: &[Token<'_>], at: usize) -> bool {
    tokens[at].is("one") && at > 0 && {
        let before = &*tokens[at - 1].text;
        matches!(
            before,
            "the"
                | "that"
                | "this"
                | "each"
                | "every"
                | "any"
                | "which"
                | "other"
                | "new"
                | "full"
                | "empty"
                | "cut"
                | "light"
                | "thick"
                | "heavy"
                | "big"
                | "small"
                | "good"
                | "nice"
                | "lovely"
                | "old"
                | "no"
                | "another"
                | "wee"
                | "little"
                | "proper"
                | "capped"
                | "beautiful"
                | "easy"
                | "bad"
                | "ripe"
                | "same"
                | "right"
                | "far"
                | "near"
        )
    }
}

/// "stop | there's the bell": the last word belongs to what follows.
fn begins_anew(tokens: &[Token<'_>], at: usize, end: usize) -> bool {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    // "that's the right end": no "that's right"
    let the_right = end > at + 2
        && word(end - 1) == "right"
        && word(end - 2) == "the"
        && matches!(word(end), "end" | "side" | "hand" | "wall");
    // "five eighths is the back": a face, not "is back"
    the_right
        || end > at + 2
            && tokens[end - 1].is("back")
            && tokens[end - 2].is("the")
            && matches!(&*tokens[end - 3].text, "is" | "'s")
        || end > 1
            && tokens[end - 1].is("there")
            && !tokens[end - 2].is("out")
            && tokens
                .get(end)
                .is_some_and(|t| matches!(&*t.text, "'s" | "is" | "are" | "was" | "'re"))
}

/// What is not about this hive, or is a fixed saying, is so whatever decision its words spell.
fn outranks(concept: Concept) -> bool {
    matches!(
        concept,
        Concept::If
            | Concept::Would
            | Concept::Future
            | Concept::Past
            | Concept::Elsewhere
            | Concept::People
            | Concept::Advice
            | Concept::Idiom
            | Concept::Lost
            | Concept::All
            | Concept::Undo
            | Concept::Correct
            | Concept::AsideRef
            | Concept::Previous
    )
}

/// The lexicon's own decisions stand where they are as long.
fn settles(concept: Concept) -> bool {
    matches!(concept, Concept::Take | Concept::Leave | Concept::Aside)
}

/// "no one point four": a number, and no "no one".
fn no_before_a_number(tokens: &[Token<'_>], at: usize) -> bool {
    tokens[at].is("no")
        && tokens.get(at + 1).is_some_and(|t| t.is("one"))
        && tokens.get(at + 2).is_some_and(|t| t.is("point"))
}

/// "comb one | half sealed".
fn one_before_a_part(tokens: &[Token<'_>], at: usize) -> bool {
    let named = tokens[at].is("one")
        && at > 0
        && matches!(&*tokens[at - 1].text, "comb" | "bar" | "number");
    let part = tokens
        .get(at + 1)
        .is_some_and(|t| matches!(&*t.text, "half" | "third" | "quarter"));
    named && part
}

/// "bar three | hundred percent": no hive has hundreds of bars.
fn bar_before_a_hundred(tokens: &[Token<'_>], at: usize) -> Option<f64> {
    let bar = at > 0 && matches!(&*tokens[at - 1].text, "bar" | "number" | "comb");
    let hundred = tokens.get(at + 1).is_some_and(|t| t.is("hundred"));
    match numbers::number(&tokens[..=at], at) {
        Some((_, Said::Cardinal(value))) if bar && hundred => Some(value),
        _ => None,
    }
}

fn mark_at(tokens: &[Token<'_>], ids: &[WordId], at: usize) -> (usize, Option<Mark>) {
    let make = |concept, value, len, phrase| Mark {
        concept,
        value,
        from: at,
        to: at + len,
        phrase,
    };
    if tokens[at].is_stop() {
        // a sentence ends more than a clause does
        let sentence = matches!(&*tokens[at].text, "." | "!" | "?");
        return (
            1,
            Some(make(Concept::Stop, f64::from(u8::from(sentence)), 1, None)),
        );
    }
    // "no. 12"
    let numbered = matches!(&*tokens[at].text, "no" | "nr" | "nos")
        && tokens.get(at + 1).is_some_and(|t| t.is("."))
        && tokens
            .get(at + 2)
            .is_some_and(|t| t.text.starts_with(|c: char| c.is_ascii_digit()));
    if numbered {
        return (2, Some(make(Concept::Number, 0.0, 2, None)));
    }
    let inch = tokens[at].is("in")
        && at > 0
        && tokens[at - 1]
            .text
            .starts_with(|c: char| c.is_ascii_digit())
        && tokens
            .get(at + 1)
            .is_none_or(|t| t.is_stop() || t.is("thick"));
    if inch {
        return (1, Some(make(Concept::Inch, 0.0, 1, None)));
    }
    if no_before_a_number(tokens, at) {
        return (1, Some(make(Concept::Not, 1.0, 1, None)));
    }
    let end = ids.len().min(at + 24);
    let phrase = LEXICON.longest(&ids[at..end]).and_then(|(n, m)| {
        // "the same, only | there's eggs": a shorter phrase stands
        if begins_anew(tokens, at, at + n) {
            LEXICON.longest(&ids[at..at + n - 1])
        } else {
            Some((n, m))
        }
    });
    if let Some((len, concept)) = deciding(tokens, at)
        && phrase.is_none_or(|(n, m)| {
            n < len
                || n == len && !outranks(m.concept) && m.concept != concept && !settles(m.concept)
        })
        && !phrase
            .is_some_and(|(n, m)| outranks(m.concept) && (m.concept != Concept::Idiom || n >= len))
    {
        return (len, Some(make(concept, 0.0, len, None)));
    }
    if one_before_a_part(tokens, at) {
        return (1, Some(make(Concept::Num, 1.0, 1, None)));
    }
    if let Some(bar) = bar_before_a_hundred(tokens, at) {
        return (1, Some(make(Concept::Num, bar, 1, None)));
    }
    let number =
        numbers::number(tokens, at).filter(|&(len, _)| len > 1 || !pronoun_one(tokens, at));
    if let Some((len, meaning)) = phrase
        && number.is_none_or(|(n, said)| n < len || n == len && !matches!(said, Said::Ratio(_)))
    {
        let bare_no = meaning.concept == Concept::Not && len == 1 && tokens[at].is("no");
        let value = if bare_no { 1.0 } else { meaning.value };
        // "off", "in": little words elsewhere, a verdict where they stand alone
        let alone = len == 1
            && meaning.concept == Concept::Ignored
            && (at == 0 || tokens[at - 1].is_stop())
            && tokens.get(at + 1).is_none_or(Token::is_stop);
        let concept = if alone {
            Concept::Word
        } else {
            meaning.concept
        };
        let mark = make(concept, value, len, Some(meaning.phrase));
        return (
            len,
            (concept != Concept::Ignored && concept != Concept::Idiom).then_some(mark),
        );
    }
    if let Some((len, said)) = number {
        let (concept, value) = match said {
            Said::Cardinal(v) => (Concept::Num, v),
            Said::Ordinal(v) => (Concept::Ord, v),
            Said::Part(v) => (Concept::Share, v),
            Said::Ratio(v) => (Concept::Ratio, v),
        };
        return (len, Some(make(concept, value, len, None)));
    }
    if LEXICON.is_filler(ids[at]) || pronoun_one(tokens, at) {
        return (1, None);
    }
    (1, Some(make(Concept::Word, 0.0, 1, None)))
}
