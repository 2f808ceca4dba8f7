//! The bar beside the last one, or the comb behind it, called by its number alone while the talk
//! goes on: "twenty, now this is better", "seventeen is honey", "four's joined to the wall".

use crate::concept::Concept;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;
use crate::opening::{Named, UNITS, whole};
use crate::visit::Comb;

/// What may stand before the number that begins a phrase. Common usage, no source.
const BEFORE: [&str; 18] = [
    "um", "uh", "er", "erm", "and", "then", "right", "now", "okay", "ok", "well", "next", "oh",
    "ah", ",", "on", "to", "righto",
];

/// What follows a number that counts something. Common usage, no source.
const COUNTED: [&str; 34] = [
    "of",
    "more",
    "or",
    "and",
    "at",
    "in",
    "on",
    "side",
    "sides",
    "with",
    "combs",
    "ones",
    "bars",
    "thing",
    "things",
    "for",
    "each",
    "that",
    "face",
    "to",
    "out",
    "off",
    "left",
    "gone",
    "point",
    "percent",
    "per",
    "times",
    "past",
    "altogether",
    "between",
    "plus",
    "times",
    "again",
];

/// Words that end in s and are no things counted. Common usage, no source.
const VERBS: [&str; 36] = [
    "is", "was", "has", "does", "goes", "stays", "comes", "looks", "hangs", "weighs", "feels",
    "seems", "needs", "wants", "holds", "carries", "starts", "gets", "sits", "runs", "bends",
    "leans", "reads", "says", "yes", "always", "this", "less", "joins", "sticks", "hooks",
    "curves", "crosses", "drips", "'s", "gives",
];

/// What follows the number of a comb, and no number of things. Common usage, no source.
const GOES_ON: [&str; 18] = [
    "'s", "is", "has", "was", "i", "we", "now", "well", "here", "comes", "looks", "hangs", "feels",
    "weighs", "oh", "this", "it", "they",
];

impl Ear<'_> {
    /// "one", a phrase by itself when an end was opened: the first bar.
    pub(crate) fn begins_with_one(&self, marks: &[Mark]) -> Option<(usize, Named)> {
        let one = self.tokens.len() == 1 && matches!(marks, [m] if whole(m) == Some(1));
        let opened = !self.state.visit.ends.is_empty() && self.state.visit.combs.is_empty();
        (one && opened && !self.state.washing).then(|| (1, Named::Bars(vec![1])))
    }

    /// The bar that the talk goes on to.
    pub(crate) fn next_bar(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let n = whole(marks.get(at)?)?;
        let next = self.goes_on_to(marks, at)
            && !self.one_as_pronoun(&marks[at])
            && !self.adds_up_cells(&marks[at]);
        next.then(|| (1, Named::Bars(vec![n])))
    }

    /// "twenty now this is better": the next bar, whatever is said after its number.
    pub(crate) fn goes_on_to(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let told = self
            .comb()
            .is_some_and(|c| c.described() || c.decision.is_some());
        // "six has gone into seven": of the comb in hand
        let runs = (m.to..self.tokens.len()).any(|i| matches!(self.word(i), "into" | "onto"))
            && marks[at + 1..].iter().any(|o| whole(o).is_some());
        told && !runs
            && !self.busy_counting(m)
            && self.begins_with(m)
            && self.beside(m)
            && !self.a_count(marks, at)
    }

    /// "four", "four's joined to the wall", where the combs before were called the second and the
    /// third; "six goes across" of one that was met.
    pub(crate) fn counts_on(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let m = marks.get(at)?;
        let n = whole(m).filter(|&n| n > 2)? as usize;
        let combs = &self.state.visit.combs[self.state.end_start..];
        let by_order = combs.len() > 1 && combs.iter().all(|c| c.bar.is_none());
        let begins = self.begins_with(m) || self.word(0) == "so" && m.from == 1;
        if !by_order || self.busy_counting(m) || !begins || self.a_count(marks, at) {
            return None;
        }
        let named = Some((1, Named::Ordinal(n)));
        let after = self.word(m.to);
        if n <= combs.len() {
            let settles = marks[at + 1..]
                .iter()
                .take(2)
                .any(|v| v.concept.is_verdict());
            let one = matches!(after, "goes" | "stays" | "comes" | "can" | "is" | "'s");
            return named.filter(|_| settles && one);
        }
        let cells = self.state.fact == Fact::QueenCells;
        let settled = self.comb().is_some_and(|c| c.decision.is_some());
        let told = self.comb().is_some_and(Comb::described);
        let alone = after.is_empty() && settled;
        let next = n == combs.len() + 1 && self.state.by_order && !cells;
        named.filter(|_| next && (alone || told && GOES_ON.contains(&after)))
    }

    /// Mites are counted, or the row of closing is told.
    fn busy_counting(&self, m: &Mark) -> bool {
        self.state.washing && !(self.state.wash_told && self.beside(m))
            || self.state.closing
            || self.state.summing
    }

    /// "honey in the top corners", "honey along the top": where on the comb it is, and no number of them.
    pub(crate) fn in_its_place(&self, honey: &Mark) -> bool {
        // "twenty, bees starting here"
        let bees = honey.concept == Concept::Bees
            && matches!(
                self.word(honey.to),
                "start" | "starting" | "begin" | "beginning" | "here" | "from" | "now"
            );
        if bees {
            return true;
        }
        let leads = matches!(
            self.word(honey.to),
            "in" | "on" | "at" | "along" | "up" | "across" | "above" | "over" | "round" | "around"
        );
        honey.concept == Concept::Honey
            && leads
            && (honey.to..honey.to + 4).any(|i| {
                matches!(
                    self.word(i),
                    "top"
                        | "corner"
                        | "corners"
                        | "edge"
                        | "edges"
                        | "shoulder"
                        | "shoulders"
                        | "crown"
                        | "above"
                        | "brood"
                        | "outside"
                        | "sides"
                        | "bottom"
                )
            })
    }

    fn begins_with(&self, m: &Mark) -> bool {
        (0..m.from).all(|i| BEFORE.contains(&self.word(i)))
    }

    /// "nine jars", "three of them", "five I think": how many of something.
    fn a_count(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let after = self.word(m.to);
        let unit = marks
            .get(at + 1)
            .is_some_and(|u| UNITS.contains(&u.concept) && u.from == m.to && !self.in_its_place(u));
        let begin = marks.get(at + 1).is_some_and(|u| self.in_its_place(u));
        let things = after.len() > 3 && after.ends_with('s') && !VERBS.contains(&after) && !begin;
        let guess = (m.to..self.tokens.len()).all(|i| {
            matches!(
                self.word(i),
                "i" | "think"
                    | "reckon"
                    | "suppose"
                    | "guess"
                    | "make"
                    | "it"
                    | "maybe"
                    | "is"
                    | "there"
                    | "say"
            )
        });
        // "six that's got bread in it"
        let that_is = after == "that"
            && matches!(self.word(m.to + 1), "'s" | "is" | "has")
            && matches!(
                self.word(m.to + 2),
                "got" | "a" | "full" | "all" | "just" | "been" | "pollen"
            );
        let counted = COUNTED.contains(&after) && !that_is;
        unit || things || counted || guess && !after.is_empty()
    }
}
