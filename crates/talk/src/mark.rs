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
    joined(tokens, all)
}

/// Marks that mean something only together: "stuck" and a wall, "into" and a bucket.
fn joined(tokens: &[Token<'_>], marks: Vec<Mark>) -> Vec<Mark> {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let mut out: Vec<Mark> = Vec::with_capacity(marks.len());
    let mut i = 0;
    while i < marks.len() {
        let m = marks[i];
        let wall = marks[i + 1..].iter().take(3).position(|w| w.concept == Concept::Wall)
            .map(|k| i + 1 + k)
            .filter(|&k| marks[k].from <= m.to + 6 && marks[i + 1..k].iter().all(|b| matches!(b.concept, Concept::That | Concept::Both | Concept::Left | Concept::Right | Concept::Num | Concept::Word | Concept::This | Concept::Other | Concept::Share | Concept::Free | Concept::Holding | Concept::Stuck | Concept::End)));
        match m.concept {
            Concept::Stuck | Concept::Holding | Concept::Free => {
                let yes = m.concept != Concept::Free;
                if let Some(k) = wall {
                    let neither = marks[i + 1..k].iter().any(|b| (b.from..b.to).any(|t| word(t) == "neither" || word(t) == "no"));
                    let nothing = yes && (m.to..marks[k].from).any(|t| matches!(word(t), "nothing" | "neither" | "no"));
                    let concept = if yes && !neither && !nothing { Concept::AttachedYes } else { Concept::AttachedNo };
                    out.push(Mark { concept, to: marks[k].to, ..m });
                    i = k + 1;
                    continue;
                }
                let beside_straight = m.concept == Concept::Free
                    && word(m.to - 1) != "off"
                    && word(m.to - 1) != "away"
                    && out.last().is_some_and(|b| b.concept == Concept::StraightYes || b.concept == Concept::And && out.len() > 1 && out[out.len() - 2].concept == Concept::StraightYes);
                match m.concept {
                    Concept::Free if beside_straight => out.push(Mark { concept: Concept::AttachedNo, ..m }),
                    Concept::Stuck => {
                        let nearby = (m.to..(m.to + 4).min(tokens.len())).any(|t| matches!(word(t), "propolis" | "board" | "lid" | "roof" | "glove" | "gloves" | "back" | "veil" | "boot"));
                        let board = (m.from.saturating_sub(4)..m.from).any(|t| matches!(word(t), "board" | "lid" | "roof" | "follower" | "shirt" | "glove" | "it's all"));
                        if !nearby && !board {
                            out.push(Mark { concept: Concept::AttachedYes, ..m });
                        }
                    }
                    Concept::Holding if m.to == m.from + 1 && matches!(word(m.from), "on" | "to" | "onto" | "against") => {}
                    Concept::Holding
                        if matches!(word(m.to - 1), "joined" | "joins" | "joining" | "runs" | "fused")
                            && marks[i + 1..].iter().take(2).any(|n| n.from <= m.to + 3 && matches!(n.concept, Concept::Bar | Concept::Ord | Concept::Next)) =>
                    {
                        out.push(Mark { concept: Concept::StraightNo, ..m });
                    }
                    _ => out.push(Mark { concept: Concept::Word, ..m }),
                }
            }
            Concept::Wall => {}
            Concept::Share
                if m.value > 0.0
                    && m.value < 0.2
                    && marks[i + 1..].iter().find(|n| n.concept != Concept::Word).is_some_and(|n| {
                        n.concept == Concept::NewComb && n.from <= m.to + 4
                    }) =>
            {
                out.push(Mark { concept: Concept::FillLight, ..m });
            }
            Concept::Small => {
                let comb = marks[i + 1..].iter().take(2).any(|n| matches!(n.concept, Concept::NewComb | Concept::Comb) && n.from <= m.to + 2);
                let said_so = m.to == m.from + 1
                    && m.from > 0
                    && matches!(word(m.from - 1), "is" | "'s" | "also")
                    && marks.get(i + 1).is_none_or(|n| !matches!(n.concept, Concept::Honey | Concept::Pollen | Concept::Word | Concept::Brood | Concept::Eggs));
                let concept = if comb || said_so { Concept::FillLight } else { Concept::Word };
                out.push(Mark { concept, ..m });
            }
            Concept::Container | Concept::SplitBox => {
                let there = (m.from.saturating_sub(6)..m.from).any(|t| matches!(word(t), "are" | "were" | "was" | "already" | "got" | "bees"));
                let into = !there && (m.from.saturating_sub(4)..m.from).any(|t| matches!(word(t), "in" | "into" | "to" | "for" | "onto"));
                let only = marks.len() == 1 || marks.iter().all(|n| matches!(n.concept, Concept::Container | Concept::But | Concept::Stop));
                let plain = m.to == m.from + 1;
                let me = plain && matches!(word(m.from), "me" | "us" | "home");
                let close = m.from.checked_sub(1).is_some_and(|t| word(t) == "for");
                if me && close || !me && into || only && !me && m.concept == Concept::Container {
                    out.push(Mark { concept: Concept::Take, ..m });
                } else if !me {
                    out.push(Mark { concept: Concept::Word, ..m });
                }
            }
            _ => out.push(m),
        }
        i += 1;
    }
    out
}

/// "the full one", "that one": no number.
fn pronoun_one(tokens: &[Token<'_>], at: usize) -> bool {
    tokens[at].is("one") && at > 0 && {
        let before = &*tokens[at - 1].text;
        matches!(before, "the" | "that" | "this" | "each" | "every" | "any" | "which" | "other" | "new" | "full" | "empty" | "cut" | "light" | "heavy" | "big" | "small" | "good" | "nice" | "lovely" | "old" | "no" | "another" | "wee" | "little" | "proper" | "capped" | "beautiful" | "easy" | "bad" | "ripe" | "same" | "right" | "far" | "near")
    }
}

fn mark_at(tokens: &[Token<'_>], ids: &[WordId], at: usize) -> (usize, Option<Mark>) {
    let make = |concept, value, len, phrase| Mark { concept, value, from: at, to: at + len, phrase };
    if tokens[at].is_stop() {
        return (1, Some(make(Concept::Stop, 0.0, 1, None)));
    }
    let inch = tokens[at].is("in")
        && at > 0
        && tokens[at - 1].text.starts_with(|c: char| c.is_ascii_digit())
        && tokens.get(at + 1).is_none_or(|t| t.is_stop() || t.is("thick"));
    if inch {
        return (1, Some(make(Concept::Inch, 0.0, 1, None)));
    }
    let end = ids.len().min(at + 24);
    let phrase = LEXICON.longest(&ids[at..end]);
    let number = numbers::number(tokens, at).filter(|&(len, _)| len > 1 || !pronoun_one(tokens, at));
    if let Some((len, meaning)) = phrase
        && number.is_none_or(|(n, said)| n < len || n == len && !matches!(said, Said::Ratio(_)))
    {
        let bare_no = meaning.concept == Concept::Not && len == 1 && tokens[at].is("no");
        let value = if bare_no { 1.0 } else { meaning.value };
        let mark = make(meaning.concept, value, len, Some(meaning.phrase));
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
    if LEXICON.is_filler(ids[at]) || pronoun_one(tokens, at) {
        return (1, None);
    }
    (1, Some(make(Concept::Word, 0.0, 1, None)))
}
