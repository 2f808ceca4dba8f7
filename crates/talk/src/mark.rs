//! A phrase as a row of marks: what each run of words stands for.

use crate::concept::Concept;
use crate::lexicon::{LEXICON, WordId};
use crate::numbers::{self, Said};
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
    all
}

fn mark_at(tokens: &[Token<'_>], ids: &[WordId], at: usize) -> (usize, Option<Mark>) {
    let make = |concept, value, len, phrase| Mark { concept, value, from: at, to: at + len, phrase };
    if tokens[at].is_stop() {
        return (1, Some(make(Concept::Stop, 0.0, 1, None)));
    }
    let end = ids.len().min(at + 24);
    let phrase = LEXICON.longest(&ids[at..end]);
    let number = numbers::number(tokens, at);
    if let Some((len, meaning)) = phrase
        && number.is_none_or(|(n, said)| n < len || n == len && !matches!(said, Said::Ratio(_)))
    {
        let mark = make(meaning.concept, meaning.value, len, Some(meaning.phrase));
        return (len, (meaning.concept != Concept::Ignored && meaning.concept != Concept::Idiom).then_some(mark));
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
    if LEXICON.is_filler(ids[at]) {
        return (1, None);
    }
    (1, Some(make(Concept::Word, 0.0, 1, None)))
}
