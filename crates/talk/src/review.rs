//! Combs called up again when they were all looked at, and settled: "one to four stay and so does
//! seven", "on the right end the first comes out", "second and fourth stay".

use crate::act::{Act, Decision, End, Fill, Hold};
use crate::concept::Concept as C;
use crate::decisions::{Said, said};
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::whole;

/// Combs and the verdict on them; the words of the verdict, by place.
struct Settled {
    combs: Vec<usize>,
    said: Said,
    words: usize,
}

impl Ear<'_> {
    /// Hears it; false if the phrase says more than combs met before and verdicts on them.
    pub(crate) fn review(&mut self, marks: &[Mark]) -> bool {
        let busy = self.state.washing || self.state.closing;
        if busy || self.state.visit.combs.is_empty() || self.except_at().is_some() {
            return false;
        }
        let mut reading = Reading {
            ear: self,
            end: self.state.review_end,
            names: Vec::new(),
            again: false,
            not: false,
            told: Vec::new(),
        };
        if reading.read(marks).is_none() {
            return false;
        }
        let Reading {
            end, names, told, ..
        } = reading;
        if told.is_empty() {
            // "four", a pause: the verdict follows
            let called = self.state.reviewing && names.len() == 1;
            if called {
                self.state.review_end = end;
                self.back_to(names);
            }
            return called;
        }
        self.state.reviewing |= told.iter().any(|t| t.combs != self.state.hand);
        self.state.review_end = end;
        for t in told {
            self.settle("reviewed", t.said, &t.combs, &marks[t.words..=t.words]);
            self.back_to(t.combs);
        }
        true
    }

    /// She is looked for, and "no" is said of her.
    fn seeks_the_queen(&self) -> bool {
        self.state.hunting && !self.state.visit.queen_seen
    }

    /// Combs of an end, by the order it was opened.
    fn of_end(&self, end: usize) -> Vec<usize> {
        let combs = &self.state.visit.combs;
        (0..combs.len()).filter(|&c| combs[c].end == end).collect()
    }

    /// The verdict that was said last, before this phrase.
    fn last_verdict(&self) -> Option<Said> {
        let mut last = self.state.last_acts.iter().rev();
        last.find_map(|(_, act)| match act {
            Act::Decided(Some(Decision::Take)) => Some(Said::Take),
            Act::Decided(Some(Decision::Leave)) => Some(Said::Leave),
            _ => None,
        })
    }
}

/// A phrase being read as a review.
struct Reading<'e, 'a> {
    ear: &'e Ear<'a>,
    /// The end that the ordinals count from, where it was called.
    end: Option<usize>,
    /// Called, and not settled yet.
    names: Vec<usize>,
    /// "so does": the verdict before holds for what is called next.
    again: bool,
    /// "not the first": it stays.
    not: bool,
    told: Vec<Settled>,
}

impl Reading<'_, '_> {
    /// `None` where something else is said.
    fn read(&mut self, marks: &[Mark]) -> Option<()> {
        let mut at = 0;
        while at < marks.len() {
            if let Some((used, end)) = self.end_called(marks, at) {
                self.end = Some(end);
                at += used;
                continue;
            }
            if let Some((used, mut combs)) = self.called(marks, at) {
                self.names.append(&mut combs);
                let last = marks[at + used - 1].to;
                if let Some(said) = self.one_word(last) {
                    self.settle(said, at);
                    // the word is the verdict, whatever else it may be
                    at += used + usize::from(marks.get(at + used).is_some_and(|m| m.from == last));
                    continue;
                }
                if std::mem::take(&mut self.not) {
                    self.settle(Said::Leave, at);
                } else if self.again {
                    let said = match self.told.last() {
                        Some(t) => t.said,
                        None => self.ear.last_verdict()?,
                    };
                    self.settle(said, at);
                }
                at += used;
                continue;
            }
            self.word(marks, at)?;
            at += 1;
        }
        // "six I'll leave and seven as well"
        let also = self
            .ear
            .tokens
            .last()
            .is_some_and(|t| matches!(&*t.text, "too" | "also" | "well" | "likewise"));
        if let Some(said) = self.told.last().map(|t| t.said)
            && also
            && !self.names.is_empty()
        {
            self.settle(said, marks.len() - 1);
        }
        (self.told.is_empty() || self.names.is_empty()).then_some(())
    }

    fn settle(&mut self, said: Said, words: usize) {
        let combs = std::mem::take(&mut self.names);
        self.told.push(Settled { combs, said, words });
    }

    /// A mark that calls no comb.
    fn word(&mut self, marks: &[Mark], at: usize) -> Option<()> {
        let m = &marks[at];
        let ear = self.ear;
        let ends = matches!(
            ear.word(m.to),
            "" | "," | "." | "and" | "but" | "as" | "too" | "then" | "with"
        );
        // "three and four stop where they are", "fourteen can stop"
        let stops = matches!(
            ear.word(m.from),
            "stop" | "bide" | "sit" | "hang" | "wait" | "keep"
        ) && (ends
            || matches!(ear.word(m.to), "where" | "put" | "there" | "here" | "home"));
        // "four goes", "the third to go", "nine comes as well"
        let goes = matches!(ear.word(m.from), "goes" | "comes")
            || matches!(ear.word(m.from), "go" | "come")
                && matches!(
                    ear.word(m.from.wrapping_sub(1)),
                    "to" | "can" | "will" | "may" | "should" | "well" | "must"
                );
        let verdict = match m.concept {
            C::Word if goes && ends && !self.names.is_empty() => Some(Said::Take),
            // "twenty aren't"
            C::Not
                if !self.names.is_empty()
                    && !ear.seeks_the_queen()
                    && (at + 1 == marks.len()
                        || matches!(ear.word(m.to), "ready" | "ripe" | "coming" | "going")) =>
            {
                Some(Said::Leave)
            }
            C::Word if stops && !self.names.is_empty() => Some(Said::Leave),
            C::All if ear.said(m, "stay") => Some(Said::Leave),
            _ => said(marks, at),
        };
        let does = |i: usize| matches!(ear.word(i), "do" | "does" | "can" | "will" | "may");
        match (verdict, m.concept) {
            (Some(said), _) if !self.names.is_empty() => self.settle(said, at),
            // "thank you very much" after the verdict
            (Some(_), _) => return (!self.told.is_empty()).then_some(()),
            (_, C::Not) if self.called(marks, at + 1).is_some() => self.not = true,
            (_, C::Same) => {
                let so = ear.word(m.from) == "so" && does(m.to - 1);
                self.again = so.then_some(true)?;
            }
            (_, C::But) if ear.word(m.from) == "so" && does(m.to) => self.again = true,
            (
                _,
                C::And
                | C::Then
                | C::But
                | C::Stop
                | C::That
                | C::Settled
                | C::Total
                | C::Word
                | C::AfterAll
                | C::OpenEnd,
            ) => self.again &= matches!(m.concept, C::And | C::Then) || does(m.from),
            _ => return None,
        }
        Some(())
    }

    /// "on the right end", where it was opened before.
    fn end_called(&self, marks: &[Mark], at: usize) -> Option<(usize, usize)> {
        let end = match marks[at].concept {
            C::Left => End::Left,
            C::Right => End::Right,
            _ => return None,
        };
        marks.get(at + 1).filter(|m| m.concept == C::End)?;
        let ends = &self.ear.state.visit.ends;
        Some((2, ends.iter().rposition(|e| *e == Some(end))?))
    }

    /// Combs met before that are called here.
    fn called(&self, marks: &[Mark], at: usize) -> Option<(usize, Vec<usize>)> {
        match marks.get(at)?.concept {
            c if c.is_held() => self.by_content(marks, at),
            C::FillFull | C::FillPart | C::FillLight => self.by_fill(&marks[at]),
            C::Rest => self.untold().map(|combs| (1, combs)),
            C::Other => self.other_few(marks, at),
            C::Ord => self.by_order(marks, at),
            C::Bar | C::Comb | C::Number => {
                let comb = self.ear.bar_index(whole(marks.get(at + 1)?)?)?;
                Some((2, vec![comb]))
            }
            C::Num => self
                .range(marks, at)
                .or_else(|| self.number(marks, at))
                .or_else(|| self.all_of_end(marks, at)),
            _ => None,
        }
    }

    /// Combs of which nothing was decided yet, in this phrase neither.
    fn untold(&self) -> Option<Vec<usize>> {
        let combs = &self.ear.state.visit.combs;
        let told = |c: &usize| self.told.iter().any(|t| t.combs.contains(c));
        let open: Vec<usize> = (0..combs.len())
            .filter(|&c| combs[c].decision.is_none())
            .filter(|c| !told(c))
            .collect();
        let any = !open.is_empty() && (self.ear.state.reviewing || !self.told.is_empty());
        any.then_some(open)
    }

    /// "the other three": as many as are left.
    fn other_few(&self, marks: &[Mark], at: usize) -> Option<(usize, Vec<usize>)> {
        let few = marks.get(at + 1).and_then(whole)? as usize;
        let other = self.ear.said(&marks[at], "other") && marks[at + 1].from == marks[at].to;
        let open = self.untold().filter(|open| other && open.len() == few)?;
        Some((2, open))
    }

    /// "comb one in, comb two out": the verdict of one word right after the name.
    fn one_word(&self, at: usize) -> Option<Said> {
        let ear = self.ear;
        let said = match ear.word(at) {
            // "bar three, yes": answered, when nothing is told of it yet
            "yes" if !self.names.iter().any(|&c| self.told_or_settled(c)) => return None,
            "yes" => return Some(Said::Take),
            "in" | "back" | "down" => Said::Leave,
            "out" | "off" => Said::Take,
            _ => return None,
        };
        let next = ear.word(at + 1);
        let ends = matches!(
            next,
            "" | "and" | "," | "." | "bar" | "comb" | "number" | "but"
        ) || crate::numbers::is_number_word(next)
            || crate::numbers::ordinal(next).is_some();
        ends.then_some(said)
    }

    fn told_or_settled(&self, comb: usize) -> bool {
        let combs = &self.ear.state.visit.combs;
        combs
            .get(comb)
            .is_some_and(|c| c.described() || c.decision.is_some() || c.aside)
    }

    /// "the brood stays", once combs are called up again: all that hold it.
    fn by_content(&self, marks: &[Mark], at: usize) -> Option<(usize, Vec<usize>)> {
        let ear = self.ear;
        let hold = match marks[at].concept {
            C::Brood | C::SealedBrood => Hold::WorkerBrood,
            C::Drone => Hold::DroneBrood,
            C::Eggs => Hold::Eggs,
            C::Pollen => Hold::Pollen,
            _ => return None,
        };
        let settled = marks
            .get(at + 1)
            .is_some_and(|m| m.concept == C::Leave || m.concept == C::Take);
        let combs: Vec<usize> = (0..ear.state.visit.combs.len())
            .filter(|&c| ear.state.visit.combs[c].holds.contains(&hold))
            .collect();
        let reviewed = ear.state.reviewing && !ear.state.hand.iter().any(|c| combs.contains(c));
        (settled && reviewed && !combs.is_empty()).then_some((1, combs))
    }

    /// "the heavy one": the only comb so full, or so light.
    fn by_fill(&self, m: &Mark) -> Option<(usize, Vec<usize>)> {
        let ear = self.ear;
        let fill = match m.concept {
            C::FillFull => Fill::Full,
            C::FillPart => Fill::Part,
            _ => Fill::Light,
        };
        let one = ear.word(m.from.wrapping_sub(1)) == "the"
            && (ear.word(m.to) == "one" || ear.word(m.to - 1) == "one");
        let combs = &ear.state.visit.combs;
        let mut found = (0..combs.len()).filter(|&c| combs[c].fill == Some(fill));
        let only = found.next().filter(|_| found.next().is_none())?;
        one.then(|| (1, vec![only]))
    }

    /// "the first", "the first three", of the end that was called or is open.
    fn by_order(&self, marks: &[Mark], at: usize) -> Option<(usize, Vec<usize>)> {
        let ear = self.ear;
        let m = &marks[at];
        let n = m.value as usize;
        let first = n.checked_sub(1)?;
        let one = marks.get(at + 1).is_some_and(|w| {
            w.concept == C::Comb
                || w.concept == C::Num && ear.word(w.from) == "one" && w.to == w.from + 1
        });
        if ear.no_comb_counted(m.to) {
            return None;
        }
        let combs = match self.end {
            Some(end) => ear.of_end(end),
            None => match ear.in_group(n) {
                Some(_) => ear.state.group.clone(),
                None => (ear.state.end_start..ear.state.visit.combs.len()).collect(),
            },
        };
        let few = marks
            .get(at + 1)
            .and_then(whole)
            .filter(|_| first == 0 && !one);
        if let Some(few) = few {
            return Some((2, combs.get(..few as usize)?.to_vec()));
        }
        Some((1 + usize::from(one), vec![*combs.get(first)?]))
    }

    /// "one to four", "seventeen through nineteen".
    fn range(&self, marks: &[Mark], at: usize) -> Option<(usize, Vec<usize>)> {
        let ear = self.ear;
        let to = marks[at + 1..].iter().position(|m| m.concept == C::Num)? + at + 1;
        let through = ["to", "through", "thru", "till", "until"];
        let joined = ear.between(&marks[at], &marks[to], &through)
            || marks[at + 1..to]
                .iter()
                .any(|m| through.iter().any(|w| ear.said(m, w)));
        let bare = marks[at + 1..to]
            .iter()
            .all(|m| matches!(m.concept, C::Bar | C::Word));
        let (a, b) = (whole(&marks[at])?, whole(&marks[to])?);
        ear.bar_index(a).and(ear.bar_index(b))?;
        let row = if a < b { a..=b } else { b..=a };
        let combs = row.filter_map(|bar| ear.bar_index(bar)).collect();
        (joined && bare).then_some((to + 1 - at, combs))
    }

    /// "seven", where it is on a bar and counts nothing.
    fn number(&self, marks: &[Mark], at: usize) -> Option<(usize, Vec<usize>)> {
        let ear = self.ear;
        let m = &marks[at];
        let comb = ear.bar_index(whole(m)?)?;
        let listed = |n: Option<&Mark>| {
            n.is_some_and(|n| {
                n.concept == C::Num
                    && (n.to == m.from
                        || m.to == n.from
                        || n.to + 1 == m.from
                        || m.to + 1 == n.from)
            })
        };
        let in_row = listed(marks.get(at + 1))
            || at > 0 && listed(marks.get(at - 1))
            || marks.get(at + 1).is_some_and(|a| a.concept == C::And) && listed_past(marks, at + 1)
            || at > 1 && marks[at - 1].concept == C::And && marks[at - 2].concept == C::Num;
        let one = matches!(
            ear.word(m.to),
            "stays"
                | "goes"
                | "comes"
                | "is"
                | "'s"
                | "was"
                | "can"
                | "has"
                | "leave"
                | "take"
                | "i"
                | "we"
                | "as"
                | "too"
                | "yes"
                | "no"
        );
        let reviewed = ear.state.reviewing
            && matches!(
                ear.word(m.to),
                "" | "stay" | "staying" | "going" | "yes" | "no"
            );
        (in_row || one || reviewed || self.again)
            .then_some(())
            .filter(|()| !ear.one_as_pronoun(m))?;
        Some((1, vec![comb]))
    }

    /// "the three on the left end": all of them.
    fn all_of_end(&self, marks: &[Mark], at: usize) -> Option<(usize, Vec<usize>)> {
        let n = whole(&marks[at])? as usize;
        let comb = usize::from(marks.get(at + 1).is_some_and(|m| m.concept == C::Comb));
        let next = at + 1 + comb;
        marks.get(next)?;
        let (used, end) = self.end_called(marks, next)?;
        let combs = self.ear.of_end(end);
        (combs.len() == n).then_some((1 + comb + used, combs))
    }
}

fn listed_past(marks: &[Mark], and: usize) -> bool {
    marks.get(and + 1).is_some_and(|m| whole(m).is_some())
}
