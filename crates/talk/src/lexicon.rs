//! The lexicon files, read once: phrases in a tree of words, each leading to a concept.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::concept::Concept;
use crate::token::words_of;

/// The number that stands for a word; words the lexicon does not have share [`UNKNOWN`].
pub(crate) type WordId = u32;

/// Any word that stands in no phrase.
pub(crate) const UNKNOWN: WordId = u32::MAX;

/// A phrase's meaning: its concept, the value of its section, and the line it came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Meaning {
    pub(crate) concept: Concept,
    pub(crate) value: f64,
    pub(crate) phrase: u32,
}

#[derive(Debug, Default)]
struct Node {
    /// By word, in order.
    next: Vec<(WordId, u32)>,
    meaning: Option<Meaning>,
    /// The word that leads here is a filler.
    ends_in_filler: bool,
}

/// All phrases.
#[derive(Debug)]
pub(crate) struct Lexicon {
    ids: HashMap<String, WordId>,
    fillers: Vec<bool>,
    nodes: Vec<Node>,
    phrases: Vec<String>,
}

const FILES: [&str; 6] = [
    include_str!("../lexicon/around.txt"),
    include_str!("../lexicon/shares.txt"),
    include_str!("../lexicon/holds.txt"),
    include_str!("../lexicon/verdicts.txt"),
    include_str!("../lexicon/doing.txt"),
    include_str!("../lexicon/visit.txt"),
];

/// The lexicon that is built in. A constant in all but name: read from text that is part of the
/// program, the same for every listener.
pub(crate) static LEXICON: LazyLock<Lexicon> = LazyLock::new(|| Lexicon::read(&FILES));

impl Lexicon {
    fn read(files: &[&str]) -> Self {
        let mut lexicon = Self {
            ids: HashMap::new(),
            fillers: Vec::new(),
            nodes: vec![Node::default()],
            phrases: Vec::new(),
        };
        for file in files {
            lexicon.read_file(file);
        }
        lexicon
    }

    fn read_file(&mut self, file: &str) {
        let mut section = None;
        for line in file.lines().map(str::trim) {
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            if let Some(found) = heading(line) {
                section = Some(found);
                continue;
            }
            let Some((concept, value)) = section else {
                continue;
            };
            for phrase in line.split(',') {
                for words in alternatives(phrase) {
                    self.add(concept, value, &words);
                }
            }
        }
    }

    fn add(&mut self, concept: Concept, value: f64, words: &str) {
        let mut node = 0;
        for word in words_of(words) {
            if word == "the" {
                if concept == Concept::Filler {
                    let id = self.intern(&word);
                    self.fillers[id as usize] = true;
                }
                continue;
            }
            let id = self.intern(&word);
            if concept == Concept::Filler {
                self.fillers[id as usize] = true;
            }
            node = self.child(node, id);
        }
        if node == 0 || concept == Concept::Filler {
            return;
        }
        // the first section that has a phrase keeps it: what is not about the hive comes first
        if self.nodes[node].meaning.is_some() {
            return;
        }
        let phrase = self.phrases.len() as u32;
        self.phrases.push(format!("{} <- {words}", concept.name()));
        self.nodes[node].meaning = Some(Meaning {
            concept,
            value,
            phrase,
        });
    }

    fn intern(&mut self, word: &str) -> WordId {
        if let Some(&id) = self.ids.get(word) {
            return id;
        }
        let id = self.fillers.len() as WordId;
        self.ids.insert(word.to_owned(), id);
        self.fillers.push(false);
        id
    }

    fn child(&mut self, node: usize, id: WordId) -> usize {
        let place = match self.nodes[node].next.binary_search_by_key(&id, |&(w, _)| w) {
            Ok(at) => return self.nodes[node].next[at].1 as usize,
            Err(place) => place,
        };
        let next = self.nodes.len();
        let ends_in_filler = self.is_filler(id);
        self.nodes.push(Node {
            ends_in_filler,
            ..Node::default()
        });
        self.nodes[node].next.insert(place, (id, next as u32));
        next
    }

    /// The number of a word.
    pub(crate) fn id(&self, word: &str) -> WordId {
        self.ids.get(word).copied().unwrap_or(UNKNOWN)
    }

    /// Whether a word may stand inside any phrase.
    pub(crate) fn is_filler(&self, id: WordId) -> bool {
        self.fillers.get(id as usize).copied().unwrap_or(false)
    }

    /// The longest phrase that begins with the first of these words: how many words it covers.
    pub(crate) fn longest(&self, ids: &[WordId]) -> Option<(usize, Meaning)> {
        if ids.first().is_none_or(|&id| id == UNKNOWN) {
            return None;
        }
        let mut best = None;
        self.walk(ids, 0, 0, &mut best);
        best
    }

    fn walk(&self, ids: &[WordId], at: usize, node: usize, best: &mut Option<(usize, Meaning)>) {
        // a filler may stand inside a phrase, not at its end
        let ends_here = at
            .checked_sub(1)
            .and_then(|i| ids.get(i))
            .is_some_and(|&i| !self.is_filler(i) || self.filler_inside(node));
        if let Some(meaning) = self.nodes[node].meaning
            && ends_here
            && best.is_none_or(|(covered, _)| covered < at)
        {
            *best = Some((at, meaning));
        }
        // a phrase has at most a dozen words; twice that with fillers between them
        let Some(&id) = ids.get(at).filter(|_| at < 24) else {
            return;
        };
        if let Some(next) = self.step(node, id) {
            self.walk(ids, at + 1, next, best);
        }
        if at > 0 && self.is_filler(id) {
            self.walk(ids, at + 1, node, best);
        }
    }

    /// The node that a word leads to.
    fn step(&self, node: usize, id: WordId) -> Option<usize> {
        let next = &self.nodes[node].next;
        let at = next.binary_search_by_key(&id, |&(w, _)| w).ok()?;
        Some(next[at].1 as usize)
    }

    /// Whether the phrase that ends at this node ends in a word that is a filler elsewhere.
    fn filler_inside(&self, node: usize) -> bool {
        self.nodes[node].ends_in_filler
    }

    /// The phrase of a meaning as it stands in the lexicon.
    pub(crate) fn phrase(&self, number: u32) -> &str {
        self.phrases.get(number as usize).map_or("", String::as_str)
    }
}

/// `[share 0.5]` or `[fill full]`: concept and value.
fn heading(line: &str) -> Option<(Concept, f64)> {
    let inner = line.strip_prefix('[')?.strip_suffix(']')?;
    if let Some(concept) = Concept::named(&inner.replace(' ', "_")) {
        return Some((concept, 0.0));
    }
    let (name, value) = inner.split_once(' ')?;
    Some((Concept::named(name)?, value.parse().ok()?))
}

/// All wordings of a phrase with `(a|b)` and `[x]`.
fn alternatives(phrase: &str) -> Vec<String> {
    let open = phrase.find(['(', '[']);
    let Some(open) = open else {
        return vec![phrase.to_owned()];
    };
    let optional = phrase.as_bytes()[open] == b'[';
    let Some(close) = matching(phrase, open) else {
        return vec![phrase.to_owned()];
    };
    let (before, inner, after) = (
        &phrase[..open],
        &phrase[open + 1..close],
        &phrase[close + 1..],
    );
    let mut choices: Vec<String> = choices(inner)
        .into_iter()
        .flat_map(|c| alternatives(&c))
        .collect();
    if optional {
        choices.push(String::new());
    }
    let tails = alternatives(after);
    let mut all = Vec::with_capacity(choices.len() * tails.len());
    for choice in &choices {
        for tail in &tails {
            all.push(format!("{before} {choice} {tail}"));
        }
    }
    all
}

fn matching(text: &str, open: usize) -> Option<usize> {
    let mut depth = 0_usize;
    for (at, c) in text.char_indices().skip_while(|&(at, _)| at < open) {
        match c {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth == 0 {
            return Some(at);
        }
    }
    None
}

fn choices(inner: &str) -> Vec<String> {
    let mut depth = 0_usize;
    let mut all = vec![String::new()];
    for c in inner.chars() {
        match c {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if c == '|' && depth == 0 {
            all.push(String::new());
        } else if let Some(last) = all.last_mut() {
            last.push(c);
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_wording_is_written_out() {
        let all = alternatives("(a|b) [c] d");
        let all: Vec<_> = all
            .iter()
            .map(|w| words_of(w).collect::<Vec<_>>().join(" "))
            .collect();
        assert_eq!(all, ["a c d", "a d", "b c d", "b d"]);
    }

    #[test]
    fn the_lexicon_stays_small() {
        assert!(
            LEXICON.nodes.len() < 40_000,
            "{} nodes",
            LEXICON.nodes.len()
        );
    }

    #[test]
    fn every_section_is_known() {
        for file in FILES {
            for line in file
                .lines()
                .filter(|l| l.starts_with('[') && l.ends_with(']'))
            {
                assert!(heading(line).is_some() || line.contains("] "), "{line}");
            }
        }
    }
}
