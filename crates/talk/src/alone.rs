//! A verdict of one word: "sits", "stet", "off", "crate", "left." after a comb was described.

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::describes;

/// Said alone of the comb in hand: it stays. Common usage, no source.
const STAYS: [&str; 43] = [
    "stairs",
    "leaf",
    "retain",
    "retains",
    "remain",
    "sits",
    "sit",
    "stet",
    "rests",
    "rest",
    "left",
    "in",
    "down",
    "home",
    "keep",
    "keeps",
    "keeping",
    "kept",
    "keeper",
    "untouched",
    "undisturbed",
    "reinserted",
    "rehung",
    "rehang",
    "unharvested",
    "retained",
    "hangs",
    "hang",
    "waits",
    "wait",
    "stands",
    "lives",
    "refitted",
    "resettled",
    "return",
    "reinsert",
    "replace",
    "restored",
    "restore",
    "leaving",
    "saved",
    "reserve",
    "reserved",
];

/// Said alone of the comb in hand: it is taken. Common usage, no source.
const TAKEN: [&str; 55] = [
    "pull",
    "goes",
    "going",
    "taker",
    "remove",
    "off",
    "out",
    "mine",
    "gone",
    "cut",
    "cropped",
    "pulled",
    "picked",
    "harvested",
    "taken",
    "across",
    "over",
    "trash",
    "away",
    "robbed",
    "bin",
    "burn",
    "burnt",
    "burned",
    "binned",
    "trashed",
    "removed",
    "yank",
    "yanked",
    "nabbed",
    "grabbed",
    "mines",
    "collected",
    "crop",
    "lifted",
    "compost",
    "rendered",
    "sliced",
    "lopped",
    "slice",
    "cutting",
    "collect",
    "chopped",
    "snipped",
    "bagged",
    "boxed",
    "bucketed",
    "sawn",
    "detached",
    "claimed",
    "pinched",
    "nicked",
    "extract",
    "take",
    "crated",
];

impl Ear<'_> {
    /// Turns a word that stands alone in its clause into the decision that it is.
    pub(crate) fn alone(&self, marks: &[Mark]) -> Vec<Mark> {
        let mut out = marks.to_vec();
        let busy = self.state.closing || self.state.washing;
        let in_hand = self
            .comb()
            .is_some_and(|c| c.described() || c.decision.is_some() || c.aside);
        let mut from = 0;
        while from < marks.len() {
            let to = marks[from..]
                .iter()
                .position(|m| m.concept == C::Stop)
                .map_or(marks.len(), |n| from + n);
            let told = in_hand || marks[..from].iter().any(|m| describes(m.concept));
            if told
                && !busy
                && let Some((at, concept)) = self.one_word(marks, from, to)
            {
                out[at].concept = concept;
            }
            // "that's the willow hive done", when it is shut: no caps
            let shut = !self.state.visit.closing.is_empty()
                && self.comb().is_some_and(|c| c.decision.is_some());
            for m in &mut out[from..to] {
                if shut && m.concept == C::Capped && self.word(m.from) == "done" {
                    m.concept = C::Word;
                }
            }
            // "third comb back, and closed up"
            if let Some(at) = self.named_back(marks, from, to) {
                out[at].concept = C::Leave;
            }
            // "second comb brood left"
            if let Some(last) = marks[from..to].last()
                && !busy
                && last.concept == C::Left
                && last.to == last.from + 1
                && last.from > 0
                && !matches!(
                    self.word(last.from - 1),
                    "the"
                        | "on"
                        | "to"
                        | "at"
                        | "from"
                        | "by"
                        | "in"
                        | "and"
                        | "is"
                        | "my"
                        | "their"
                )
                && marks[from..to - 1].iter().any(|m| describes(m.concept))
                && !marks[from..to - 1]
                    .iter()
                    .any(|m| matches!(m.concept, C::Num if self.word(m.to) == "left"))
            {
                out[to - 1].concept = C::Leave;
            }
            from = to + 1;
        }
        out
    }

    /// The word "back" after a comb that was met before, and nothing else in the clause.
    fn named_back(&self, marks: &[Mark], from: usize, to: usize) -> Option<usize> {
        let (last, name) = marks[from..to].split_last()?;
        let back = last.concept == C::Other
            && last.to == last.from + 1
            && self.word(last.from) == "back"
            && !marks
                .iter()
                .any(|m| matches!(m.concept, C::Share | C::Uncapped));
        let known = name.iter().any(|m| match m.concept {
            C::Ord => m.value as usize <= self.here(),
            C::Num => crate::opening::whole(m).is_some_and(|n| self.bar_index(n).is_some()),
            _ => false,
        });
        let only = name.iter().all(|m| {
            matches!(
                m.concept,
                C::Ord | C::Num | C::Comb | C::Bar | C::But | C::Then | C::And
            )
        });
        (back && known && only).then(|| to - 1)
    }

    fn one_word(&self, marks: &[Mark], from: usize, to: usize) -> Option<(usize, C)> {
        // "I left the lid on for that one": more than a word
        let words = marks[from..to].last()?.to - marks[from].from;
        if words > 5 && to == marks.len() {
            return None;
        }
        let mut found = None;
        for (at, m) in marks.iter().enumerate().take(to).skip(from) {
            let little = matches!(
                m.concept,
                C::But | C::Then | C::And | C::Here | C::That | C::Total | C::BothOf | C::Previous
            ) || m.concept == C::Word
                && matches!(
                    self.word(m.from),
                    "too"
                        | "again"
                        | "also"
                        | "please"
                        | "now"
                        | "as"
                        | "then"
                        | "there"
                        | "yup"
                        | "same"
                        | "place"
                );
            if little {
                continue;
            }
            if found.is_some() || m.to != m.from + 1 {
                return None;
            }
            found = Some(at);
        }
        let at = found?;
        let m = &marks[at];
        let word = self.word(m.from);
        if matches!(m.concept, C::Leave | C::Take | C::Aside) {
            return None;
        }
        if STAYS.contains(&word) {
            return Some((at, C::Leave));
        }
        // "she's gone": the queen
        let of_her = word == "gone"
            && m.from > 1
            && ["she", "they", "he", "her"]
                .iter()
                .any(|w| (m.from - 2..m.from).any(|i| self.word(i) == *w));
        // "cutting now": the work begins, on combs that are settled
        let begins = word == "cutting" && self.comb().is_some_and(|c| c.decision.is_some());
        if TAKEN.contains(&word) && !of_her && !begins {
            return Some((at, C::Take));
        }
        None
    }
}
