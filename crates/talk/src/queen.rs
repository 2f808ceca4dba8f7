//! The queen.

use crate::act::Act;
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::visit::Comb;

impl Ear<'_> {
    /// Hears the queen seen and queen cells counted; gives the marks it did not use.
    pub(crate) fn queen(&mut self, marks: &[Mark]) -> Vec<Mark> {
        self.cells(marks);
        self.seen(marks);
        // "not a cell capped" is of honey
        let stored = marks
            .iter()
            .any(|m| matches!(m.concept, C::Capped | C::Uncapped | C::Honey | C::Share));
        let cells = marks
            .iter()
            .any(|m| m.concept == C::QueenCell || m.concept == C::Cells && !stored);
        let mut kept: Vec<Mark> = Vec::with_capacity(marks.len());
        for (i, m) in marks.iter().enumerate() {
            let bar = self.bar_of_cells(marks, i);
            let count = matches!(m.concept, C::Num | C::Not | C::Capped)
                && cells
                && !bar
                && marks[i + 1..]
                    .iter()
                    .find(|n| !matches!(n.concept, C::Num | C::Capped | C::Word | C::Empty))
                    .is_some_and(|n| matches!(n.concept, C::QueenCell | C::Cups | C::Cells));
            let own = matches!(
                m.concept,
                C::QueenCell | C::Cups | C::Queen | C::She | C::NotSeen | C::Cells
            ) || m.concept == C::See && !self.said(m, "here");
            let of_cups = matches!(m.concept, C::Empty)
                && marks.iter().any(|n| {
                    matches!(n.concept, C::Cups | C::QueenCell)
                        && n.to + 9 >= m.from
                        && m.to + 3 >= n.from
                });
            let cell = m.concept == C::Ord
                && !matches!(marks.get(i + 1).map(|n| n.concept), Some(C::Comb | C::Bar))
                && marks[i + 1..]
                    .iter()
                    .take(2)
                    .any(|n| matches!(n.concept, C::Cups | C::QueenCell));
            if cell {
                continue;
            }
            if own {
                kept.push(Mark {
                    concept: C::Stop,
                    ..*m
                });
            } else if !count && !of_cups {
                kept.push(*m);
            }
        }
        kept
    }

    /// "bar twelve has a queen cell", "nine one queen cell": the number of a bar, and not how many cells.
    pub(crate) fn bar_of_cells(&self, marks: &[Mark], i: usize) -> bool {
        let m = &marks[i];
        let named = i > 0
            && match marks[i - 1].concept {
                C::Bar | C::Number => true,
                // "first comb two queen cells": the comb has its name
                C::Comb => i < 2 || !matches!(marks[i - 2].concept, C::Ord | C::Next | C::First),
                _ => false,
            }
            && marks[i - 1].to + 1 >= m.from;
        let alone = i == 0
            && marks
                .get(1)
                .is_some_and(|n| n.concept == C::Num && n.from == m.to)
            && self.beside(m);
        m.concept == C::Num && (named || alone)
    }

    fn seen(&mut self, marks: &[Mark]) {
        if let Some(not) = marks.iter().find(|m| matches!(m.concept, C::NotSeen)) {
            // "the queen", a pause, "I didn't see her"
            if matches!(self.state.last_acts.as_slice(), [(None, Act::QueenSeen)])
                && self.state.queen_named
            {
                self.note("queen only named", Act::QueenNotSeen, None, &[*not]);
            }
            return;
        }
        let denied = |m: &Mark| {
            // "you said you saw her"
            self.word(m.from.wrapping_sub(1)) == "you"
                || (m.from.saturating_sub(4)..m.from)
                    .any(|i| matches!(self.word(i), "not" | "n't" | "never" | "ain't" | "without"))
        };
        if self.something_came_free() {
            return;
        }
        if let Some(m) = marks.iter().find(|m| m.concept == C::She && !denied(m)) {
            self.note("queen seen", Act::QueenSeen, None, &[*m]);
            return;
        }
        let Some(at) = marks.iter().position(|m| m.concept == C::Queen) else {
            return;
        };
        // "is the old lady on here": asked
        let asked = matches!(
            self.word(marks[at].from.wrapping_sub(1)),
            "is" | "where" | "was"
        ) && !matches!(
            self.word(marks[at].from.wrapping_sub(2)),
            "that" | "this" | "it" | "there" | "here" | "she"
        ) || self.word(marks[at].from.wrapping_sub(1)) == "the"
            && matches!(self.word(marks[at].from.wrapping_sub(2)), "is" | "where")
            && !matches!(
                self.word(marks[at].from.wrapping_sub(3)),
                "that" | "this" | "it" | "there" | "here" | "she"
            );
        if asked || self.where_she_lives(&marks[at]) {
            return;
        }
        if self.she_is_lost(&marks[at]) {
            return;
        }
        let clause_from = marks[..at]
            .iter()
            .rposition(|m| m.concept == C::Stop)
            .map_or(0, |i| i + 1);
        let clause_to = marks[at..]
            .iter()
            .position(|m| m.concept == C::Stop)
            .map_or(marks.len(), |i| at + i);
        let clause = &marks[clause_from..clause_to];
        // "no brood yet and the queen"
        let the = marks[at]
            .from
            .saturating_sub(usize::from(self.word(marks[at].from) != "the"));
        let listed = the > 0
            && self.word(the) == "the"
            && self.word(the - 1) == "and"
            && marks[..at].iter().any(|m| m.concept.is_held())
            && !marks.iter().any(|m| m.concept == C::See);
        // "look there, no, there"
        let elsewhere =
            |m: &Mark| m.from > marks[at].to && self.word(m.from - 1) == self.word(m.to);
        let no = clause.iter().any(|m| {
            let said_before = listed && m.to <= marks[at].from;
            // "the big one with no paint"
            let with = self.word(m.from.wrapping_sub(1)) == "with" && m.from > marks[at].to;
            // "there's the queen, thank goodness you're not in the jar"
            let spoken_to = m.from > marks[at].to
                && matches!(
                    (
                        self.word(m.from.wrapping_sub(2)),
                        self.word(m.from.wrapping_sub(1))
                    ),
                    ("you", "'re" | "are")
                );
            // "no cells and there's the queen"
            let of_cells = m.to <= marks[at].from
                && marks.iter().any(|n| {
                    n.from == m.to && matches!(n.concept, C::Cells | C::Cups | C::QueenCell)
                });
            m.concept == C::Not && !elsewhere(m) && !said_before && !with && !spoken_to && !of_cells
                || m.concept == C::Share && m.value < 0.01
        });
        // "queen: not seen"
        let no = no
            || self.word(marks[at].to) == ":"
                && matches!(
                    self.word(marks[at].to + 1),
                    "not" | "no" | "none" | "nil" | "unseen"
                );
        let i_see = (marks[at].to..marks[at].to + 4)
            .any(|i| matches!(self.word(i), "see" | "saw") && self.word(i - 1) == "i");
        let seen = i_see
            || self.i_see_her(&marks[at])
            || self.that_is(&marks[at])
            || self.listed_too(marks, at)
            || clause.iter().any(|m| m.concept == C::See)
            || (marks[at].to..marks[at].to + 2)
                .any(|i| matches!(self.word(i), "is" | "'s" | "on" | "here"))
            || clause.len() == 1;
        if seen && !no {
            self.state.queen_named = marks.len() == 1 && !self.state.visit.queen_seen;
            self.note("queen seen", Act::QueenSeen, None, &[marks[at]]);
        }
    }

    /// "the queen is gone", "queen missing".
    fn she_is_lost(&self, queen: &Mark) -> bool {
        (queen.to..queen.to + 4).any(|i| {
            matches!(
                self.word(i),
                "gone" | "missing" | "lost" | "dead" | "nowhere" | "absent" | "died"
            )
        })
    }

    /// "I can see the queen", "we've spotted the queen".
    fn i_see_her(&self, queen: &Mark) -> bool {
        let before = |far: usize| queen.from.saturating_sub(far)..queen.from;
        let sees = before(3).any(|i| {
            matches!(
                self.word(i),
                "see" | "saw" | "spot" | "spotted" | "spy" | "found" | "seen"
            )
        });
        let who = before(6).any(|i| matches!(self.word(i), "i" | "we"));
        let not = before(7).any(|i| {
            matches!(
                self.word(i),
                "not"
                    | "n't"
                    | "never"
                    | "no"
                    | "if"
                    | "did"
                    | "until"
                    | "when"
                    | "unless"
                    | "hope"
            )
        });
        sees && who && !not
    }

    /// "there she goes": the board that was stuck, or the comb, of which nothing else is told.
    fn something_came_free(&self) -> bool {
        let there = self.word(0) == "there" && self.tokens.len() == 3;
        let board = self.state.visit.combs.is_empty()
            && matches!(self.word(2), "goes" | "comes" | "blows" | "is");
        let stuck = |c: &Comb| c.attached == Some(true) && c.holds.is_empty() && c.this.is_none();
        let comb = matches!(self.word(2), "goes" | "comes")
            && !self.state.hunting
            && self.comb().is_some_and(stuck);
        there && (board || comb)
    }

    /// "the house of the mother".
    fn where_she_lives(&self, queen: &Mark) -> bool {
        let mut of = queen.from;
        while of > 0 && matches!(self.word(of - 1), "the" | "a" | "old") {
            of -= 1;
        }
        self.word(of.wrapping_sub(1)) == "of"
            && matches!(
                self.word(of.wrapping_sub(2)),
                "house" | "home" | "room" | "place" | "chamber" | "part"
            )
    }

    /// "that's the queen", "it's herself".
    fn that_is(&self, queen: &Mark) -> bool {
        let the = ["the", "our", "my", "your", "their"].contains(&self.word(queen.from))
            || queen.from > 0
                && ["the", "our", "my", "your", "their"].contains(&self.word(queen.from - 1))
            || self.said(queen, "herself");
        let start = if matches!(self.word(queen.from), "the" | "our" | "my" | "herself") {
            queen.from
        } else {
            queen.from.saturating_sub(1)
        };
        the && start > 1
            && matches!(self.word(start - 1), "'s" | "is" | "be")
            && matches!(
                self.word(start - 2),
                "that" | "this" | "it" | "will" | "must" | "there" | "here" | "'ll"
            )
    }

    /// "eggs in it and the queen": she stands among what the comb holds.
    fn listed_too(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let start = m
            .from
            .saturating_sub(usize::from(self.word(m.from) != "the"));
        let joined = start > 0
            && matches!(self.word(start - 1), "and" | "plus" | "with")
            && self.word(start) == "the"
            || matches!(self.word(m.from.wrapping_sub(1)), "plus" | "and")
                && m.to == self.tokens.len()
            || start > 0 && self.word(start) == "the" && self.tokens[start - 1].is_stop();
        joined
            && marks[..at].iter().any(|m| {
                matches!(
                    m.concept,
                    C::Eggs | C::Brood | C::SealedBrood | C::Pollen | C::NewComb
                )
            })
    }
}
