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
            .any(|m| matches!(m.concept, C::Wash | C::Mites | C::HalfCup))
            && !self.no_wash_today(marks)
        {
            let counted = |i: usize| {
                marks[i].concept == C::Mites && (i > 0 && marks[i - 1].concept == C::Num)
            };
            self.state.washing = self.state.washing
                || marks
                    .iter()
                    .any(|m| self.word(m.from).contains('/') && m.value < 0.2)
                || (0..marks.len()).any(counted)
                || marks.iter().any(|m| m.concept == C::Mites)
                    && marks.iter().any(|m| m.concept == C::Bees)
                    && marks.iter().any(|m| m.concept == C::Num && m.value >= 50.0)
                || marks.iter().any(|m| {
                    m.concept == C::HalfCup && (self.said(m, "bees") || self.word(m.to) == "of")
                })
                || marks.iter().any(|m| {
                    m.concept == C::HalfCup
                        && self.tokens.iter().any(|t| {
                            matches!(
                                &*t.text,
                                "shake" | "shook" | "scoop" | "scooped" | "jar" | "sample" | "bees"
                            )
                        })
                })
                || self.shaken_off()
                || self.state.wash_day
                    && marks
                        .iter()
                        .any(|m| matches!(m.concept, C::HalfCup | C::Mites))
                || marks.iter().any(|m| self.is_wash(m));
        }
        let warmth = |m: &Mark| matches!(m.concept, C::Degrees | C::Celsius | C::Fahrenheit);
        if !self.state.washing || marks.iter().any(warmth) || self.tells_how_many_combs(marks) {
            return false;
        }
        // "mite wash off bar 16: 5 in 300"
        let off_bar = marks
            .iter()
            .position(|m| m.concept == C::Stop)
            .filter(|&at| self.word(marks[at].from) == ":")
            .filter(|&at| marks[..at].iter().any(|m| self.is_wash(m)));
        let marks = off_bar.map_or(marks, |at| &marks[at..]);
        if marks.iter().any(|m| {
            matches!(m.concept, C::Bar | C::Ord | C::Next | C::QueenCell)
                || m.concept == C::Capped
                    && !marks
                        .iter()
                        .any(|n| matches!(n.concept, C::Mites | C::Bees))
        }) {
            return false;
        }
        if self.over(marks) {
            return true;
        }
        if self.in_the_hundred(marks) {
            return true;
        }
        self.sample(marks);
        let counting = self.run(marks);
        let told = !counting && (self.makes(marks) || self.told(marks) || self.clean(marks));
        counting || told
    }

    /// "I ain't doing the mite check today", "no wash today": none is begun.
    fn no_wash_today(&self, marks: &[Mark]) -> bool {
        let wash = marks
            .iter()
            .position(|m| matches!(m.concept, C::Wash | C::Mites));
        let Some(wash) = wash else { return false };
        let before = &marks[..wash];
        let denied = before.iter().any(|m| m.concept == C::Not)
            || (0..marks[wash].from).any(|i| matches!(self.word(i), "skip" | "skipping" | "no"));
        let done = marks.iter().any(|m| m.concept == C::Num)
            || self
                .tokens
                .iter()
                .any(|t| matches!(&*t.text, "found" | "fell" | "drop" | "dropped"));
        // "no mites": counted, and none found
        let today = marks.iter().any(|m| m.concept == C::Here)
            || self.tokens.iter().any(|t| {
                matches!(
                    &*t.text,
                    "do" | "doing" | "did" | "bother" | "skip" | "skipping"
                )
            });
        denied && today && !done
    }

    /// "so that's two combs come out three and four": no mites.
    fn tells_how_many_combs(&self, marks: &[Mark]) -> bool {
        let combs = |w: &[Mark]| {
            w[0].concept == C::Num
                && matches!(w[1].concept, C::Comb | C::Bar)
                && w[1].from == w[0].to
                && self.word(w[1].to - 1) != "bar"
        };
        let mites = marks
            .iter()
            .any(|m| matches!(m.concept, C::Mites | C::Bees | C::HalfCup | C::Wash));
        !mites && marks.windows(2).any(combs)
    }

    /// "shook that into the jar".
    fn shaken_off(&self) -> bool {
        let any = |words: &[&str]| self.tokens.iter().any(|t| words.contains(&&*t.text));
        any(&["shook", "shake", "shaken", "knocked", "brushed"])
            && any(&["jar", "sieve", "pot", "cup", "tub"])
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
                            || self.shaken_off()
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

    /// "that's three in the hundred", when the count and its bees are told.
    fn in_the_hundred(&self, marks: &[Mark]) -> bool {
        let rate = marks.iter().any(|m| {
            (m.value - 100.0).abs() < 0.5
                && m.concept == C::Num
                && (matches!(self.word(m.from), "a" | "hundred"))
                && matches!(
                    self.word(m.from.wrapping_sub(1)),
                    "the" | "per" | "every" | "in" | "a"
                )
        });
        let told =
            self.state.visit.mites.is_some() && self.state.visit.bees.is_some_and(|b| b != 100);
        rate && told
            && !marks
                .iter()
                .any(|m| matches!(m.concept, C::Mites | C::HalfCup))
    }

    /// "mites 2/300".
    fn over(&mut self, marks: &[Mark]) -> bool {
        let found = marks.iter().find_map(|m| {
            let (a, b) = self.word(m.from).split_once('/')?;
            let (a, b) = (a.parse::<u32>().ok()?, b.parse::<u32>().ok()?);
            (m.concept == C::Share && (50..=1000).contains(&b)).then_some((a, b, *m))
        });
        let Some((count, bees, m)) = found else {
            return false;
        };
        self.note(
            "mites over bees",
            Act::Mites {
                count: Some(count),
                bees: Some(bees),
            },
            None,
            &[m],
        );
        true
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
                // "four and there's another, five"
                let another = m.concept == C::Next && self.said(m, "another");
                // "ten or more and I'd worry" counts nothing
                let joins = m.concept == C::And
                    && marks.iter().any(|n| n.concept == C::Num && n.from >= m.to);
                !another
                    && !joins
                    && !matches!(
                        m.concept,
                        C::Num
                            | C::Stop
                            | C::See
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
            .all(|w| w[1].value >= w[0].value && w[1].value - w[0].value <= 3.0);
        let counted = self.state.counted;
        let goes_on = first == counted + 1
            || first == counted && first > 0
            || first > counted && first <= counted + 5 && self.state.visit.bees.is_some();
        if others > 0
            || self.state.wash_told && numbers.len() == 1
            || !runs
            || !(numbers.len() > 1 && (first <= 2 || goes_on || numbers.len() > 2)
                || numbers.len() == 1 && goes_on)
        {
            return false;
        }
        self.state.counted = last;
        self.state.wash_told = false;
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

    /// "two more on the mesh so eleven": what the count comes to.
    fn makes(&mut self, marks: &[Mark]) -> bool {
        if self.state.counted == 0 {
            return false;
        }
        let about_else = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Comb | C::Take | C::Leave | C::Honey | C::Brood | C::Kg | C::Litre | C::Degrees
            )
        });
        let last = marks.iter().rev().find(|m| {
            m.concept == C::Num
                && m.value.fract() == 0.0
                && m.value < 200.0
                && m.value >= f64::from(self.state.counted)
                && m.from > 0
                && (matches!(
                    self.word(m.from - 1),
                    "so" | "makes" | "'s" | "mate" | "make" | "is"
                ) || m.from > 1 && matches!(self.word(m.from - 2), "so" | "makes" | "mate"))
        });
        let Some(m) = last.filter(|_| !about_else).copied() else {
            return false;
        };
        self.note(
            "mites add up",
            Act::Mites {
                count: Some(m.value as u32),
                bees: None,
            },
            None,
            &[m],
        );
        self.state.counted = m.value as u32;
        self.state.fact = Fact::Mites;
        true
    }

    /// "two percent", "three and a bit per cent": of the bees, and no count.
    fn a_rate(&self, m: &Mark) -> bool {
        let mut i = m.to;
        while crate::numbers::is_number_word(self.word(i))
            || matches!(
                self.word(i),
                "and" | "a" | "bit" | "half" | "or" | "point" | "something" | "odd" | "little"
            )
        {
            i += 1;
        }
        self.word(i) == "percent" || self.word(i) == "per" && self.word(i + 1) == "cent"
    }

    /// "there's another on the side there": of the mites that are counted, where no comb is put.
    pub(crate) fn mite_on_the_side(&self, m: &Mark) -> bool {
        let puts = |i: usize| {
            matches!(
                self.word(i),
                "it" | "that" | "this" | "comb" | "bar" | "put" | "set" | "leave" | "lean"
            )
        };
        self.state.washing
            && self.state.counted > 0
            && self.word(m.to - 1) == "side"
            && !(0..self.tokens.len()).any(puts)
    }

    /// "none, not one" after the sample.
    fn clean(&mut self, marks: &[Mark]) -> bool {
        let first = marks.iter().find(|m| m.concept != C::Stop);
        let none =
            first.is_some_and(|m| m.concept == C::Share && m.value < 0.01 || m.concept == C::Not);
        let only = marks.iter().all(|m| {
            matches!(m.concept, C::Share | C::Not | C::Stop | C::Num | C::Word)
                && (m.concept != C::Share || m.value < 0.01)
                && (m.concept != C::Num || m.value < 2.0)
        });
        let open = self.state.visit.bees.is_some() && self.state.visit.mites.is_none();
        if !(none && only && open) {
            return false;
        }
        self.note(
            "no mites",
            Act::Mites {
                count: Some(0),
                bees: None,
            },
            None,
            marks,
        );
        true
    }

    /// "seven mites outta three hundred".
    fn told(&mut self, marks: &[Mark]) -> bool {
        let mites = marks.iter().position(|m| m.concept == C::Mites);
        // "five in three hundred"
        let sample = mites.is_some()
            || marks.iter().any(|m| {
                matches!(m.concept, C::Bees | C::HalfCup) || m.concept == C::Num && m.value >= 50.0
            });
        let count = marks.iter().enumerate().find(|&(i, m)| {
            m.concept == C::Num
                && m.value < 200.0
                && m.value.fract() == 0.0
                && !next(marks, i + 1, C::Bees)
                && !self.of(m)
                && !matches!(
                    self.word(m.to),
                    "minutes" | "minute" | "seconds" | "times" | "days"
                )
                && !self.a_rate(m)
                && (next(marks, i + 1, C::Mites)
                    || self.state.visit.bees.is_some()
                        && m.from > 0
                        && matches!(
                            self.word(m.from - 1),
                            "counted" | "count" | "got" | "found" | "counting" | "is" | "'s" | ":"
                        )
                    || mites.is_some_and(|at| at < i)
                    || sample
                        && matches!(
                            self.word(m.to),
                            "out" | "outta" | "of" | "in" | "from" | "per" | "over"
                        )
                    || self.state.fact == Fact::Mites
                        && matches!(self.word(m.to), "altogether" | "all")
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
        self.state.wash_told = sample && self.state.visit.bees.is_some();
        self.state.fact = Fact::Mites;
        true
    }
}

impl crate::ear::State {
    /// A comb is met, or an end opened: "mite wash today", and then the combs; what is counted now is
    /// no mites until they are spoken of again.
    pub(crate) fn combs_go_on(&mut self) {
        self.wash_day |= std::mem::take(&mut self.washing);
    }
}

fn next(marks: &[Mark], at: usize, concept: C) -> bool {
    marks.get(at).is_some_and(|m| m.concept == concept)
}
