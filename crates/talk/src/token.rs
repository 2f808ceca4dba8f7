//! Words of a phrase, with the place in the text that each came from.

use std::borrow::Cow;
use std::ops::Range;

/// One word, number or mark of punctuation.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Token<'a> {
    /// In lower case; a recogniser's slip already put right.
    pub(crate) text: Cow<'a, str>,
    /// Bytes of the phrase.
    pub(crate) span: Range<usize>,
}

impl Token<'_> {
    pub(crate) fn is(&self, word: &str) -> bool {
        self.text == word
    }

    pub(crate) fn is_stop(&self) -> bool {
        matches!(&*self.text, "." | "," | ";" | ":" | "!" | "?")
    }
}

/// Splits a phrase into words. `lower` must be the phrase in lower case, byte for byte.
pub(crate) fn tokens(lower: &str) -> Vec<Token<'_>> {
    let mut all = Vec::new();
    let mut chars = lower.char_indices().peekable();
    while let Some((start, c)) = chars.next() {
        if c.is_ascii_digit() {
            let mut end = start + 1;
            while let Some(&(at, d)) = chars.peek() {
                let inside = d.is_ascii_digit()
                    || (matches!(d, '.' | ':' | '/')
                        && lower[at + 1..].starts_with(|n: char| n.is_ascii_digit()))
                    || d == ',' && thousands(&lower[at + 1..]);
                if !inside {
                    break;
                }
                chars.next();
                end = at + d.len_utf8();
            }
            all.push(Token {
                text: Cow::Borrowed(&lower[start..end]),
                span: start..end,
            });
        } else if c.is_alphabetic() || is_apostrophe(c) {
            let mut end = start + c.len_utf8();
            while let Some(&(at, d)) = chars.peek() {
                if !(d.is_alphabetic() || is_apostrophe(d)) {
                    break;
                }
                chars.next();
                end = at + d.len_utf8();
            }
            push_word(&lower[start..end], start, &mut all);
        } else if c == '-' && runs_on(lower, start) {
            all.push(Token {
                text: Cow::Borrowed("to"),
                span: start..start + 1,
            });
        } else if c == '-' && lower[..start].ends_with(' ') && lower[start + 1..].starts_with(' ') {
            all.push(Token {
                text: Cow::Borrowed(","),
                span: start..start + 1,
            });
        } else if let Some(word) = sign(c) {
            all.push(Token {
                text: Cow::Borrowed(word),
                span: start..start + c.len_utf8(),
            });
        }
    }
    all
}

/// "1,900": three digits and no more.
fn thousands(rest: &str) -> bool {
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    digits == 3
}

/// "4-7": a hyphen between two figures.
fn runs_on(lower: &str, at: usize) -> bool {
    let figure = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    figure(lower[..at].chars().next_back()) && figure(lower[at + 1..].chars().next())
}

/// The same splitting, words only; for the lexicon.
pub(crate) fn words_of(text: &str) -> impl Iterator<Item = String> {
    tokens(text)
        .into_iter()
        .map(|t| t.text.into_owned())
        .collect::<Vec<_>>()
        .into_iter()
}

fn is_apostrophe(c: char) -> bool {
    matches!(c, '\'' | '\u{2019}')
}

fn sign(c: char) -> Option<&'static str> {
    Some(match c {
        '.' | '\u{2026}' => ".",
        ',' | '\u{2013}' | '\u{2014}' => ",",
        ';' => ";",
        ':' => ":",
        '!' => "!",
        '?' => "?",
        '%' => "percent",
        '°' => "degrees",
        '#' => "number",
        '½' => "half",
        '¼' => "quarter",
        '¾' => "3/4",
        '⅓' => "1/3",
        '⅔' => "2/3",
        _ => return None,
    })
}

/// Words whose apostrophe the recogniser left out, and short forms split in two.
const SPLIT: [(&str, &str, &str); 36] = [
    ("thatn", "that", "one"),
    ("thisn", "this", "one"),
    ("othern", "other", "one"),
    ("tis", "it", "'s"),
    ("twas", "it", "was"),
    ("thats", "that", "'s"),
    ("theres", "there", "'s"),
    ("heres", "here", "'s"),
    ("whats", "what", "'s"),
    ("ive", "i", "'ve"),
    ("im", "i", "'m"),
    ("dont", "do", "n't"),
    ("didnt", "did", "n't"),
    ("doesnt", "does", "n't"),
    ("isnt", "is", "n't"),
    ("arent", "are", "n't"),
    ("wont", "wo", "n't"),
    ("cant", "ca", "n't"),
    ("cannot", "ca", "n't"),
    ("couldnt", "could", "n't"),
    ("wouldnt", "would", "n't"),
    ("shouldnt", "should", "n't"),
    ("havent", "have", "n't"),
    ("hasnt", "has", "n't"),
    ("wasnt", "was", "n't"),
    ("werent", "were", "n't"),
    ("theyre", "they", "'re"),
    ("theyve", "they", "'ve"),
    ("theyll", "they", "'ll"),
    ("youre", "you", "'re"),
    ("shes", "she", "'s"),
    ("hes", "he", "'s"),
    ("lets", "let", "'s"),
    ("itll", "it", "'ll"),
    ("thatll", "that", "'ll"),
    ("weve", "we", "'ve"),
];

fn push_word<'a>(word: &'a str, start: usize, all: &mut Vec<Token<'a>>) {
    let mut push = |text: Cow<'a, str>, from: usize, to: usize| {
        if !text.is_empty() {
            all.push(Token {
                text,
                span: start + from..start + to,
            });
        }
    };
    let n = word.len();
    let Some(at) = word.rfind(is_apostrophe) else {
        if word == "its" {
            push(Cow::Borrowed("it"), 0, 2);
            push(Cow::Borrowed("'s"), 2, n);
        } else if let Some(&(_, a, b)) = SPLIT.iter().find(|(w, ..)| *w == word) {
            push(Cow::Borrowed(a), 0, n);
            push(Cow::Borrowed(b), n, n);
        } else {
            push(Cow::Borrowed(word), 0, n);
        }
        return;
    };
    let (head, tail) = word.split_at(at);
    let tail = tail.trim_start_matches(is_apostrophe);
    match tail {
        "s" | "ll" | "m" | "re" | "ve" | "d" => {
            let short = match tail {
                "s" => "'s",
                "ll" => "'ll",
                "m" => "'m",
                "re" => "'re",
                "ve" => "'ve",
                _ => "'d",
            };
            push(Cow::Borrowed(head), 0, at);
            push(Cow::Borrowed(short), at, n);
        }
        // "that'n", "the other'n": that one
        "n" if head.len() >= 3 => {
            push(Cow::Borrowed(head), 0, at);
            push(Cow::Borrowed("one"), at, n);
        }
        "t" if head.ends_with('n') => {
            push(Cow::Borrowed(&head[..head.len() - 1]), 0, at - 1);
            push(Cow::Borrowed("n't"), at - 1, n);
        }
        _ => {
            let plain: String = word.chars().filter(|&c| !is_apostrophe(c)).collect();
            push(Cow::Owned(plain), 0, n);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn split(text: &str) -> String {
        words_of(text).collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn short_forms_are_split_whatever_the_apostrophe() {
        assert_eq!(
            split("that's didn’t dont i'll"),
            "that 's did n't do n't i 'll"
        );
    }

    #[test]
    fn numbers_keep_their_point_and_lose_their_unit() {
        assert_eq!(
            split("2.4kg, 3/4 at 21°c. 1:1 50%"),
            "2.4 kg , 3/4 at 21 degrees c . 1:1 50 percent"
        );
    }

    #[test]
    fn spans_lie_in_the_text() {
        for t in tokens("it's ½ capped – don’t") {
            assert!(t.span.end <= "it's ½ capped – don’t".len());
        }
    }
}
