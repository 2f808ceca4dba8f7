//! Queen cells: counted comb by comb, added up, taken back.

use crate::act::Act;
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;

/// Nobody finds more on one comb.
const MOST: f64 = 60.0;

impl Ear<'_> {
    /// Hears queen cells counted.
    pub(crate) fn cells(&mut self, marks: &[Mark]) {
        // the number of a bar counts no cells
        let marks: Vec<Mark> = (0..marks.len())
            .filter(|&i| !self.bar_of_cells(marks, i))
            .map(|i| marks[i])
            .collect();
        let marks = &marks[..];
        // "two queen cells?"
        if self.tokens.last().is_some_and(|t| t.is("?")) && marks.len() < 4 {
            return;
        }
        if let Some(words) = self.none_found(marks) {
            self.note("no queen cells", Act::QueenCells(0), None, &words);
            return;
        }
        if let Some(another) = self.another_cell(marks) {
            self.set_cells("another queen cell", self.cells_so_far() + 1, &[another]);
            return;
        }
        if self.no_cell_after_all(marks)
            || self.recounted(marks)
            || self.only_a_cup(marks)
            || self.counted_up(marks)
        {
            return;
        }
        let Some(at) = marks
            .iter()
            .position(|m| m.concept == C::QueenCell)
            .or_else(|| (0..marks.len()).find(|&i| self.plain_cell(marks, i)))
        else {
            self.cells_total(marks);
            return;
        };
        let from = marks[..at]
            .iter()
            .rposition(|m| m.concept == C::Stop)
            .map_or(0, |i| i + 1);
        let none = marks[from..at]
            .iter()
            .any(|m| m.concept == C::Not || m.concept == C::Share && m.value < 0.01);
        let sought = (marks[at].from.saturating_sub(4)..marks[at].from).any(|i| {
            matches!(
                self.word(i),
                "looking" | "checking" | "check" | "look" | "hunting" | "searching"
            )
        });
        if self.dry(marks, at) || none || sought || self.told_of_before(&marks[from..at]) {
            return;
        }
        let here = self.before_noun(&marks[from..at], &marks[at]) + self.after_noun(marks, at);
        let mut before = self.cells_so_far();
        let on_this_comb = here > 1 && here == self.cells_here();
        if self.said_again(marks, here) && on_this_comb {
            before = self.state.cells_before;
        } else if self.said_again(marks, here) || self.correcting && here > 0 {
            before = before.saturating_sub(self.state.cells_added);
        }
        let told =
            total_said(marks, at, before + here).or_else(|| self.whole_count(marks, from, at));
        let after = &marks[at + 1..];
        let corrected = marks[at..]
            .windows(2)
            .find(|w| w[0].concept == C::Not && w[1].concept == C::Num && w[0].to == w[1].from)
            .map(|w| before + w[1].value as u32);
        let stated = after
            .iter()
            .find(|m| !matches!(m.concept, C::Stop | C::Word))
            .filter(|m| here == 0 && m.concept == C::Num && plain(m))
            .map(|m| m.value as u32);
        // "three queen cells, no, the top one's just a cup, so two"
        let cup =
            after.iter().any(|m| m.concept == C::Cups) && after.iter().any(|m| m.concept == C::Not);
        let but_cups = after
            .windows(2)
            .find(|w| cup && w[0].concept == C::But && w[1].concept == C::Num && plain(&w[1]))
            .map(|w| before + w[1].value as u32);
        let corrected = corrected.or(but_cups);
        let all = corrected.or(told).or(stated).unwrap_or(before + here);
        if here > 0 || told.is_some() || stated.is_some() {
            self.set_cells("queen cells", all, &marks[from..=at]);
            if here > 0 {
                self.state.cells_added = here.min(all);
            }
        }
    }

    /// "no queen cells": looked for and not found, which is more than not told. Where some were counted
    /// at this visit it is said of another comb.
    fn none_found(&self, marks: &[Mark]) -> Option<Vec<Mark>> {
        let supposed = |i: usize| matches!(self.word(i), "if" | "when" | "unless" | "hope");
        let at = marks.iter().enumerate().position(|(i, mark)| {
            // "no queen" is heard first
            let split = mark.concept == C::Cells
                && i > 0
                && marks[i - 1].concept == C::NotSeen
                && marks[i - 1].to == mark.from
                && self.said(&marks[i - 1], "no");
            let whole = mark.concept == C::QueenCell
                && matches!(self.word(mark.from.wrapping_sub(1)), "no" | "zero");
            // "queen cells none"
            let behind = mark.concept == C::QueenCell
                && matches!(self.word(mark.to), "none" | "nil" | "zero" | "nought")
                && mark.to + 1 == self.tokens.len();
            split || whole || behind
        })?;
        let from = at.saturating_sub(1);
        (self.cells_so_far() == 0 && !(0..marks[at].from).any(supposed))
            .then(|| marks[from..=at].to_vec())
    }

    /// "no, it's a lump of drone brood, not a queen cell": what was counted last is none.
    fn no_cell_after_all(&mut self, marks: &[Mark]) -> bool {
        let denied = marks.windows(2).any(|w| {
            w[0].concept == C::Not && w[1].concept == C::QueenCell && w[0].to == w[1].from
        });
        let last = &self.state.last_acts;
        let counted = last
            .iter()
            .any(|(_, act)| matches!(act, Act::QueenCells(n) if *n > 0));
        if !denied || !counted || !self.correcting {
            return false;
        }
        let left = self
            .cells_so_far()
            .saturating_sub(self.state.cells_added.max(1));
        self.set_cells("no queen cell after all", left, marks);
        true
    }

    /// "the one with the two cells": counted when they were found.
    fn told_of_before(&self, before: &[Mark]) -> bool {
        before.last().is_some_and(|m| {
            // "its" is heard as "it's"
            let with_its = self.word(m.from.wrapping_sub(1)) == "'s"
                && self.word(m.from.wrapping_sub(3)) == "with";
            m.concept == C::Num
                && (with_its
                    || matches!(
                        self.word(m.from.wrapping_sub(1)),
                        "the" | "those" | "his" | "her" | "their"
                    ))
        })
    }

    /// "two, two queen cells", or the same count once more with nothing else: said again of the
    /// cells just counted.
    fn said_again(&self, marks: &[Mark], here: u32) -> bool {
        let numbers: Vec<&Mark> = marks.iter().filter(|m| m.concept == C::Num).collect();
        let twice = matches!(numbers[..], [a, b, ..] if a.value.total_cmp(&b.value).is_eq()
            && b.from <= a.to + 1 && !self.between(a, b, &["and"]));
        let echo = (here == self.state.cells_added || here > 1 && here == self.cells_here())
            && marks.iter().all(|m| {
                matches!(
                    m.concept,
                    C::Num
                        | C::QueenCell
                        | C::Cells
                        | C::Stop
                        | C::Word
                        | C::Leave
                        | C::That
                        | C::But
                )
            })
            && !self
                .tokens
                .iter()
                .any(|t| matches!(&*t.text, "more" | "another" | "and"));
        self.state.fact == Fact::QueenCells && here > 0 && (twice || echo)
    }

    /// Cells counted so far.
    fn cells_so_far(&self) -> u32 {
        self.state.visit.queen_cells.unwrap_or(0)
    }

    fn set_cells(&mut self, rule: &'static str, all: u32, words: &[Mark]) {
        if all != self.cells_so_far() {
            // "so that makes five", and so they did: what was counted last stays so
            self.state.cells_added = all.saturating_sub(self.cells_so_far());
        }
        self.note(rule, Act::QueenCells(all), None, words);
        self.state.fact = Fact::QueenCells;
    }

    /// "a cell", "two cells": of the queen where nothing is stored in them.
    fn plain_cell(&self, marks: &[Mark], i: usize) -> bool {
        let m = &marks[i];
        let number = |k: usize| {
            i.checked_sub(k)
                .is_some_and(|k| marks[k].concept == C::Num && marks[k].value < 30.0)
        };
        // "eggs, one to a cell"
        let apart = i > 0 && self.between(&marks[i - 1], m, &["to", "per", "in"]);
        let counted = number(1) && !apart
            || number(2)
                && matches!(
                    self.word(m.from - 1),
                    "more"
                        | "extra"
                        | "new"
                        | "further"
                        | "proper"
                        | "long"
                        | "good"
                        | "real"
                        | "big"
                        | "fat"
                        | "nice"
                        | "other"
                )
            || m.from > 0
                && matches!(self.word(m.from - 1), "a" | "another")
                && !matches!(self.word(m.from.wrapping_sub(2)), "to" | "per" | "in")
                && !matches!(self.word(m.to), "of" | "or" | "in" | "to")
            || self.pair_of(m).is_some();
        let nest = marks
            .iter()
            .any(|n| matches!(n.concept, C::Brood | C::SealedBrood | C::Drone))
            && !(i > 0 && marks[i - 1].concept == C::Not);
        let stored = marks.iter().any(|n| {
            if nest && matches!(n.concept, C::Capped | C::Uncapped | C::Eggs | C::Pollen) {
                return false;
            }
            matches!(
                n.concept,
                C::Capped | C::Uncapped | C::Eggs | C::Honey | C::Share | C::Pollen
            )
        });
        let with_lids = m.to + 4 >= self.tokens.len().min(m.to + 4)
            && (m.to..m.to + 5).any(|k| matches!(self.word(k), "lids" | "lid" | "jelly"));
        m.concept == C::Cells && counted && (!stored || with_lids)
    }

    /// "cells one two three on this side".
    fn counted_up(&mut self, marks: &[Mark]) -> bool {
        let run = |from: usize| {
            marks[from..]
                .iter()
                .take_while(|n| n.concept == C::Num)
                .count()
        };
        let Some(at) = (0..marks.len()).find(|&i| marks[i].concept == C::Cells && run(i + 1) >= 2)
        else {
            return false;
        };
        let n = run(at + 1);
        let last = marks[at + n].value as u32;
        self.set_cells(
            "queen cells counted",
            self.cells_so_far() + last,
            &marks[at..=at + n],
        );
        true
    }

    /// "a pair of", "a couple of", "half a dozen".
    fn pair_of(&self, m: &Mark) -> Option<u32> {
        let back = |k: usize| m.from.checked_sub(k).map_or("", |i| self.word(i));
        let near = (1..=4).find_map(|k| match back(k) {
            "couple" | "pair" | "brace" => Some(2),
            "dozen" if (k + 1..=k + 2).any(|j| back(j) == "half") => Some(6),
            "dozen" => Some(12),
            "few" => Some(3),
            _ => None,
        });
        near.filter(|_| !(1..=3).any(|k| matches!(back(k), "," | "." | "and")))
    }

    /// "three", "two capped and two open", "a": how many the words before the noun count.
    fn before_noun(&self, before: &[Mark], noun: &Mark) -> u32 {
        if let Some(n) = self.pair_of(noun) {
            return n;
        }
        let mut sum = 0;
        let mut reach = noun.from;
        for m in before.iter().rev() {
            match m.concept {
                C::Num if plain(m) && m.to + 3 >= reach => {
                    let counts = before
                        .iter()
                        .filter(|n| n.concept == C::Num && n.to == m.from)
                        .count();
                    sum += m.value as u32;
                    reach = m.from;
                    if counts > 0 {
                        // "one two three": the last is the count
                        break;
                    }
                }
                C::Capped | C::Open | C::Uncapped | C::And | C::Word | C::More => {}
                _ => break,
            }
        }
        if sum > 0 {
            return sum;
        }
        let back = |k: usize| noun.from.checked_sub(k).map_or("", |i| self.word(i));
        let first = self.word(noun.from);
        let single = matches!(first, "a" | "an")
            || (1..=3).any(|k| matches!(back(k), "a" | "another" | "one" | "an"))
            || self.word(noun.to.saturating_sub(1)).ends_with("cell");
        u32::from(single)
    }

    /// "... and one open one", "... and three round the back", "... and there's another".
    fn after_noun(&self, marks: &[Mark], at: usize) -> u32 {
        let mut sum = 0;
        for i in at + 1..marks.len() {
            let m = &marks[i];
            let joined = marks[i - 1].concept == C::And
                || matches!(self.word(m.from.saturating_sub(1)), "and" | "plus");
            let next = marks.get(i + 1).map(|n| n.concept);
            let bare = match next {
                Some(C::Word) => !matches!(self.word(m.to), "of" | "bars" | "days" | "weeks"),
                Some(c) => matches!(
                    c,
                    C::Capped
                        | C::Open
                        | C::Uncapped
                        | C::This
                        | C::Other
                        | C::Stop
                        | C::Cells
                        | C::But
                ),
                None => true,
            };
            if m.concept == C::Num && plain(m) && joined && bare {
                sum += m.value as u32;
            }
            if matches!(m.concept, C::Stop) && m.value > 0.5 {
                break;
            }
        }
        let end = marks.last().map_or(0, |m| m.to);
        // "and one on the side", which elsewhere is a comb set aside
        sum += marks[at + 1..]
            .iter()
            .filter(|m| m.concept == C::AsideRef && self.word(m.from) == "one")
            .count() as u32;
        let another = (marks[at].to..end)
            .filter(|&k| {
                self.word(k) == "another"
                    && !numbered(self.word(k + 1))
                    && self.word(k + 1) != "comb"
                    && self.word(k + 1) != "bar"
            })
            .count() as u32;
        sum + another
    }

    /// "in all three queen cells", "that's nine queen cells".
    fn whole_count(&self, marks: &[Mark], from: usize, at: usize) -> Option<u32> {
        let told = marks[..at].iter().any(|m| {
            m.concept == C::Total
                && (self.said(m, "total") || self.said(m, "altogether") || self.said(m, "all"))
        });
        let number = marks[from..at]
            .iter()
            .rev()
            .find(|m| m.concept == C::Num && plain(m))?;
        let thats = number.from > 1
            && matches!(self.word(number.from - 1), "'s" | "makes" | "make" | "is")
            && matches!(self.word(number.from - 2), "that" | "now" | "it")
            || number.from > 0 && matches!(self.word(number.from - 1), "makes" | "make");
        let n = number.value as u32;
        // "five queen cells altogether", "so that's one queen cell"
        let so = |i: usize| self.word(i) == "so" || marks.iter().any(|m| m.concept == C::Total);
        let all = marks[at..].iter().any(|m| m.concept == C::Total) && n >= self.cells_so_far();
        let again = (0..number.from).any(so) && n == self.cells_so_far();
        // "five queen cells", when there are five on several combs
        let several = self.cells_so_far() > self.state.cells_added
            && n == self.cells_so_far()
            && marks.len() <= 2
            && self.state.fact != Fact::Bar;
        if all || again || several {
            return Some(n);
        }
        (told || thats && self.state.fact == Fact::QueenCells && n > self.cells_so_far())
            .then_some(n)
    }

    /// "one queen cell but it is empty so it does not count".
    fn dry(&self, marks: &[Mark], at: usize) -> bool {
        let from = marks[at].to;
        let uncounted = (from..self.tokens.len()).any(|i| {
            matches!(self.word(i), "count" | "counting")
                && (from..i).any(|k| matches!(self.word(k), "not" | "n't"))
        });
        let cup = marks[at..]
            .iter()
            .any(|m| m.concept == C::Cups && m.from <= from + 8)
            && (from..from + 8).any(|i| matches!(self.word(i), "only" | "just" | "but"));
        uncounted || cup || marks[at..].iter().take(4).any(|m| m.concept == C::Empty)
    }

    /// "so four altogether", "one of those three was only a cup": cells counted over again.
    fn recounted(&mut self, marks: &[Mark]) -> bool {
        let before = self.cells_so_far();
        let cells = marks
            .iter()
            .any(|m| matches!(m.concept, C::QueenCell | C::Cups | C::Cells));
        // "that's three then"
        if let [that, n] = marks
            && that.concept == C::That
            && n.concept == C::Num
            && plain(n)
            && self.word(n.from.wrapping_sub(1)) == "'s"
            && self.cells_spoken_of()
        {
            self.set_cells("that many cells", n.value as u32, marks);
            return true;
        }
        if before == 0 || !cells {
            return false;
        }
        let all = marks.iter().find_map(|m| {
            let told = m.concept == C::Num
                && plain(m)
                && (matches!(self.word(m.to), "altogether" | "total")
                    || matches!(self.word(m.to), "cell" | "cells")
                        && (matches!(self.word(m.to + 1), "altogether" | "total")
                            || self.word(m.to + 1) == "in"
                                && matches!(self.word(m.to + 2), "all" | "total"))
                    || matches!(self.word(m.to), "in" | "all")
                        && matches!(self.word(m.to + 1), "all" | "total" | "told"));
            told.then_some((m.value as u32, *m))
        });
        if let Some((all, m)) = all {
            self.set_cells("queen cells counted again", all, &[m]);
            return true;
        }
        // the whole count said once more
        let named = marks
            .iter()
            .any(|m| matches!(m.concept, C::Bar | C::Ord | C::Next | C::See | C::More));
        let settled = self.comb().is_some_and(|c| c.decision.is_some());
        let same = marks.windows(2).any(|w| {
            w[0].concept == C::Num && w[0].value as u32 == before && w[1].concept == C::QueenCell
        });
        if same && settled && !named && before > 1 {
            return true;
        }
        // "so three cells", of those just told
        if let [so, n, cells] = marks
            && so.concept == C::But
            && n.concept == C::Num
            && plain(n)
            && matches!(cells.concept, C::Cells | C::QueenCell)
            && self.state.fact == Fact::QueenCells
        {
            self.set_cells("so many cells", n.value as u32, marks);
            return true;
        }
        let one_of = marks.iter().any(|m| {
            m.concept == C::Num
                && self.word(m.from) == "one"
                && self.word(m.to) == "of"
                && matches!(
                    self.word(m.to + 1),
                    "those" | "them" | "these" | "em" | "the"
                )
        });
        let cup = marks.iter().any(|m| m.concept == C::Cups);
        if one_of && cup {
            self.set_cells("one was a cup", before - 1, marks);
            return true;
        }
        false
    }

    /// "I beg its pardon, that is a cup": the last one counted was none.
    fn only_a_cup(&mut self, marks: &[Mark]) -> bool {
        let cup = marks.iter().any(|m| m.concept == C::Cups)
            && !marks.iter().any(|m| m.concept == C::QueenCell);
        // "nah, that's just a cup"
        let denied = self.state.cells_added == 1
            && matches!(self.word(0), "no" | "nah" | "naw" | "nope" | "oh" | "wait")
            && self.tokens.iter().any(|t| t.is("just") || t.is("only"));
        if !(cup && (self.correcting || denied) && self.cells_spoken_of()) {
            return false;
        }
        let left = marks
            .windows(2)
            .find(|w| w[0].concept == C::But && w[1].concept == C::Num && plain(&w[1]))
            .map(|w| w[1].value as u32);
        let one = self.state.cells_added > 1
            && marks
                .iter()
                .any(|m| m.concept == C::Num && (m.value - 1.0).abs() < 0.1);
        let all = match left {
            // "that end one's just a cup, so two on here"
            Some(left) if left < self.state.cells_added => self.state.cells_before + left,
            // "that one's just a cup", of several
            None if one => self.cells_so_far().saturating_sub(1),
            _ => self.cells_so_far().saturating_sub(self.state.cells_added),
        };
        self.set_cells("only a cup", all, marks);
        true
    }

    /// "so four queen cells and one comb of honey out": the visit summed up.
    pub(crate) fn cells_and_combs(&mut self, marks: &[Mark]) -> bool {
        let sums = marks
            .first()
            .is_some_and(|m| matches!(m.concept, C::But | C::Total) && m.from == 0);
        let of = |kind: fn(C) -> bool| {
            marks
                .windows(2)
                .find(|w| w[0].concept == C::Num && plain(&w[0]) && kind(w[1].concept))
                .map(|w| w[0])
        };
        let cells = of(|c| matches!(c, C::QueenCell | C::Cells));
        let combs = of(|c| c == C::Comb);
        let (Some(cells), Some(combs)) = (cells.filter(|_| sums), combs) else {
            return false;
        };
        if combs.value as usize != self.state.visit.taken() {
            return false;
        }
        self.set_cells("queen cells summed up", cells.value as u32, &[cells]);
        true
    }

    /// "so that's five total", "with four so that's seven", after cells were spoken of.
    fn cells_total(&mut self, marks: &[Mark]) {
        let before = self.cells_so_far();
        if before == 0 {
            return;
        }
        // the sum proves itself: three before, and four here, "so that's seven"
        let other = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Kg
                    | C::Pound
                    | C::Mm
                    | C::Litre
                    | C::Mites
                    | C::Bees
                    | C::Degrees
                    | C::Take
                    | C::Capped
                    | C::Share
            )
        });
        if let Some((all, word)) = proved(marks, before).filter(|_| !other) {
            self.set_cells("queen cells added up", all, &[word]);
            return;
        }
        if !self.cells_spoken_of() {
            return;
        }
        let number = marks.iter().rev().find(|m| m.concept == C::Num && plain(m));
        let total = marks.iter().any(|m| m.concept == C::Total);
        let only = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::Num
                    | C::Total
                    | C::Stop
                    | C::But
                    | C::That
                    | C::Correct
                    | C::Then
                    | C::And
                    | C::Word
                    | C::Filler
                    | C::QueenCell
                    | C::Cups
                    | C::Empty
                    | C::See
                    | C::Here
            )
        });
        let Some(m) = number.filter(|_| only) else {
            return;
        };
        let n = m.value as u32;
        if total {
            self.set_cells("queen cells in all", n, &[*m]);
        } else if self.correcting {
            let base = before.saturating_sub(self.state.cells_added);
            self.set_cells("queen cells corrected", base + n, &[*m]);
        }
    }
}

fn plain(m: &Mark) -> bool {
    m.value.fract() == 0.0 && m.value < MOST
}

fn numbered(word: &str) -> bool {
    crate::numbers::is_number_word(word)
}

/// "... so that's seven" after the noun.
fn total_said(marks: &[Mark], at: usize, sum: u32) -> Option<u32> {
    let after = &marks[at + 1..];
    let number = after
        .iter()
        .rev()
        .find(|m| m.concept == C::Num && plain(m))?;
    let n = number.value as u32;
    let told = marks[at..].iter().any(|m| m.concept == C::Total);
    let so = after
        .iter()
        .take_while(|m| m.from < number.from)
        .any(|m| matches!(m.concept, C::But | C::That));
    (told || so && n == sum).then_some(n)
}

/// A count here and a sum after it that agree with the cells told before.
fn proved(marks: &[Mark], before: u32) -> Option<(u32, Mark)> {
    let numbers: Vec<&Mark> = marks
        .iter()
        .filter(|m| m.concept == C::Num && plain(m))
        .collect();
    let [.., a, b] = numbers.as_slice() else {
        return None;
    };
    let said_so = marks.iter().any(|m| {
        m.from >= a.to && m.to <= b.from && matches!(m.concept, C::But | C::Total | C::That)
    }) || marks.iter().any(|m| m.concept == C::Total);
    (said_so && before + a.value as u32 == b.value as u32).then_some((b.value as u32, **b))
}
