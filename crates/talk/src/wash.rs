//! Mites in a wash, counted aloud or told.

use crate::act::Act;
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;

/// Bees in half a cup. Source: common practice, no source.
const HALF_CUP: u32 = 300;

impl Ear<'_> {
    /// Hears a mite count; true if the phrase was counting and nothing else.
    pub(crate) fn wash(&mut self, marks: &[Mark]) -> bool {
        if marks
            .iter()
            .any(|m| matches!(m.concept, C::Wash | C::Mites))
        {
            let counted = |i: usize| {
                marks[i].concept == C::Mites && (i > 0 && marks[i - 1].concept == C::Num)
            };
            self.state.washing = self.state.washing
                || (0..marks.len()).any(counted)
                || marks.iter().any(|m| self.is_wash(m));
        }
        if !self.state.washing {
            return false;
        }
        if marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Bar | C::Ord | C::Next | C::QueenCell | C::Capped
            )
        }) {
            return false;
        }
        self.sample(marks);
        let counting = self.run(marks);
        let told = self.told(marks);
        counting || told
    }

    fn is_wash(&self, m: &Mark) -> bool {
        m.concept == C::Wash
            && ![
                "count", "them", "roll", "counting", "jar", "sieve", "mesh", "soap",
            ]
            .iter()
            .any(|w| self.word(m.from) == *w && m.to == m.from + 1)
    }

    fn sample(&mut self, marks: &[Mark]) {
        for (i, m) in marks.iter().enumerate() {
            let bees = match m.concept {
                C::HalfCup => HALF_CUP,
                C::Num
                    if m.value >= 50.0
                        && m.value <= 1000.0
                        && (next(marks, i + 1, C::Bees)
                            || self.of(m)
                            || self.state.visit.bees.is_some()) =>
                {
                    m.value as u32
                }
                _ => continue,
            };
            self.note(
                "bees in the sample",
                Act::Mites {
                    count: None,
                    bees: Some(bees),
                },
                None,
                &[*m],
            );
        }
    }

    fn of(&self, m: &Mark) -> bool {
        m.from > 0
            && matches!(
                self.word(m.from - 1),
                "of" | "outta" | "over" | "in" | "per" | "the" | "from"
            )
    }

    /// "one two three four": numbers in a row.
    fn run(&mut self, marks: &[Mark]) -> bool {
        let numbers: Vec<&Mark> = marks
            .iter()
            .filter(|m| m.concept == C::Num && m.value < 50.0 && m.value.fract() == 0.0)
            .collect();
        let others = marks
            .iter()
            .filter(|m| {
                !matches!(
                    m.concept,
                    C::Num
                        | C::Stop
                        | C::But
                        | C::Here
                        | C::Word
                        | C::Wash
                        | C::Total
                        | C::Then
                        | C::Correct
                )
            })
            .count();
        let (Some(first), Some(last)) = (numbers.first(), numbers.last()) else {
            return false;
        };
        let (first, last) = (first.value as u32, last.value as u32);
        let runs = numbers
            .windows(2)
            .all(|w| w[1].value >= w[0].value && w[1].value - w[0].value <= 2.0);
        let goes_on = first == self.state.counted + 1 || first == self.state.counted && first > 0;
        if others > 0
            || !runs
            || !(numbers.len() > 1 && (first <= 2 || goes_on) || numbers.len() == 1 && goes_on)
        {
            return false;
        }
        self.state.counted = last;
        self.note(
            "counted aloud",
            Act::Mites {
                count: Some(last),
                bees: None,
            },
            None,
            marks,
        );
        self.state.fact = Fact::Mites;
        true
    }

    /// "seven mites outta three hundred".
    fn told(&mut self, marks: &[Mark]) -> bool {
        let mites = marks.iter().position(|m| m.concept == C::Mites);
        let count = marks.iter().enumerate().find(|&(i, m)| {
            m.concept == C::Num
                && m.value < 200.0
                && m.value.fract() == 0.0
                && !next(marks, i + 1, C::Bees)
                && !self.of(m)
                && !matches!(
                    self.word(m.to),
                    "percent" | "per" | "minutes" | "minute" | "seconds" | "times" | "days"
                )
                && (next(marks, i + 1, C::Mites)
                    || mites.is_some_and(|at| at < i)
                    || matches!(
                        self.word(m.to),
                        "out"
                            | "outta"
                            | "of"
                            | "in"
                            | "from"
                            | "altogether"
                            | "all"
                            | "per"
                            | "over"
                    )
                    || i > 0 && matches!(marks[i - 1].concept, C::Total | C::Wash)
                    || self.correcting && self.state.fact == Fact::Mites)
        });
        let none = marks.iter().enumerate().any(|(i, m)| {
            (m.concept == C::Not || m.concept == C::Share && m.value < 0.01)
                && next(marks, i + 1, C::Mites)
        });
        let count = match count {
            Some((_, m)) => m.value as u32,
            None if none => 0,
            None => return false,
        };
        self.note(
            "mites told",
            Act::Mites {
                count: Some(count),
                bees: None,
            },
            None,
            marks,
        );
        self.state.counted = count;
        self.state.fact = Fact::Mites;
        true
    }
}

fn next(marks: &[Mark], at: usize, concept: C) -> bool {
    marks.get(at).is_some_and(|m| m.concept == concept)
}
