//! A share that was said without its side: "half capped", and the keeper goes on.
//!
//! It is on no face until its side is told. A keeper often pauses before the side, so it is asked for
//! only when the comb is left; what is said next may be the answer.

use crate::act::End;
use crate::concept::Concept as C;
use crate::ear::{Ear, Faces, State};
use crate::mark::Mark;
use crate::token::Token;
use crate::visit::Comb;

/// Shares nearer to each other than this are one and the same. Common practice, no source.
const ALIKE: f64 = 0.05;

/// What the next phrase is to the question that was just put.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reply {
    /// Something else.
    None,
    /// It named the side.
    Told,
    /// It named a side, and the comb in hand waits for one as well.
    OfEither,
}

impl Comb {
    /// A share without a side is told when a face has it, or when both have one.
    pub(crate) fn side_told(&mut self, share: f64) {
        let this_one = self
            .loose
            .is_some_and(|loose| (loose - share).abs() < 0.005);
        if this_one || self.this.is_some() && self.other.is_some() {
            self.loose = None;
        }
    }

    /// Whether a share without a side is news: not where a face was told so, or both were told.
    fn news(&self, share: f64) -> bool {
        let alike = |face: Option<f64>| face.is_some_and(|face| (face - share).abs() < ALIKE);
        !(alike(self.this) || alike(self.other) || self.this.is_some() && self.other.is_some())
    }
}

impl State {
    /// The share that waits for its side on all of these combs.
    pub(crate) fn loose_on(&self, combs: &[usize]) -> Option<f64> {
        let mut loose = combs.iter().map(|&c| self.visit.combs.get(c)?.loose);
        let first = loose.next()??;
        loose.all(|share| share == Some(first)).then_some(first)
    }

    /// The question for the side of a share, once the keeper has left its comb or closes up; each comb
    /// is asked about once.
    pub(crate) fn which_side(&mut self) -> Option<String> {
        let combs = &self.visit.combs;
        let over = self.shutting || self.closing || !self.visit.closing.is_empty();
        let left = |c: &usize| {
            (over || !self.hand.contains(c)) && !self.asked.contains(c) && combs[*c].loose.is_some()
        };
        let first = (0..combs.len()).find(left)?;
        let share = combs[first].loose?;
        // told in one breath, asked in one
        let alike = |c: &usize| combs[*c].loose == Some(share);
        let due: Vec<usize> = (first..combs.len())
            .take_while(|c| left(c) && alike(c))
            .collect();
        let question = question(share, &self.called(&due));
        self.asked.extend(&due);
        self.due = due;
        Some(question)
    }

    /// Combs as the keeper can call them: by number, or counted from their end.
    pub(crate) fn called(&self, combs: &[usize]) -> String {
        let all = &self.visit.combs;
        let called = |&c: &usize| {
            let comb = &all[c];
            let place = all[..=c].iter().filter(|o| o.end == comb.end).count();
            let here = comb.end + 1 >= self.visit.ends.len();
            let end = match self.visit.ends.get(comb.end).copied().flatten() {
                Some(End::Left) if !here => " at the left end",
                Some(End::Right) if !here => " at the right end",
                _ => "",
            };
            let by_place = || format!("the {} comb{end}", nth(place));
            comb.bar.map_or_else(by_place, |bar| format!("bar {bar}"))
        };
        combs.iter().map(called).collect::<Vec<_>>().join(" and ")
    }

    /// After a side that may be of one comb or another.
    pub(crate) fn which_comb(&self, due: &[usize]) -> String {
        let (asked, hand) = (self.called(due), self.called(&self.hand));
        format!("Is that {asked} or {hand}? Say which, and the side.")
    }

    /// "all shut", "closing up": whether a phrase says that the hive is being closed.
    pub(crate) fn hears_shutting(&mut self, tokens: &[Token<'_>], marks: &[Mark]) {
        let shut = |m: &Mark| {
            m.concept == C::Close
                && tokens[m.from..m.to].iter().any(|t| {
                    matches!(
                        &*t.text,
                        "closing" | "closed" | "shut" | "shutting" | "packing" | "together" | "up"
                    )
                })
        };
        self.shut_before = std::mem::replace(&mut self.shutting, marks.iter().any(shut));
    }
}

impl Ear<'_> {
    /// Keeps a share without its side for the combs in hand.
    pub(crate) fn set_loose(&mut self, share: f64) {
        for &comb in &self.state.hand {
            let Some(told) = self.state.visit.combs.get_mut(comb) else {
                continue;
            };
            if told.news(share) {
                told.loose = Some(share);
                self.state.asked.retain(|&c| c != comb);
                self.loose = Some(share);
            }
        }
    }

    /// Another share takes its place.
    pub(crate) fn drop_loose(&mut self) {
        for &comb in &self.state.hand {
            if let Some(told) = self.state.visit.combs.get_mut(comb) {
                told.loose = None;
            }
        }
        self.state.share = None;
    }

    /// "no two thirds": puts right a share that waits for its side.
    pub(crate) fn loose_put_right(&self) -> bool {
        let no = matches!(self.word(0), "no" | "nope" | "nah");
        (self.correcting || no) && self.state.loose_on(&self.state.hand).is_some()
    }

    /// "both sides", "the other one": nothing but a side, after the question for it. A side that the
    /// comb in hand may have been waiting for is its own.
    pub(crate) fn replies(&mut self, marks: &[Mark], due: &[usize]) -> Reply {
        let Some((side, share)) = self.side_alone(marks).zip(self.state.loose_on(due)) else {
            return Reply::None;
        };
        if self.state.face.is_some() || self.completes(side) {
            return Reply::None;
        }
        if self.state.hand.as_slice() != due && self.state.loose_on(&self.state.hand).is_some() {
            return Reply::OfEither;
        }
        let hand = std::mem::replace(&mut self.state.hand, due.to_vec());
        let (faces, fact) = (self.state.last_faces, self.state.fact);
        self.capped(side, share, marks);
        self.state.last_faces = faces;
        self.state.fact = fact;
        self.state.hand = hand;
        Reply::Told
    }

    /// "the other side", where this side was told of the comb in hand.
    fn completes(&self, face: Faces) -> bool {
        self.comb().is_some_and(|c| match face {
            Faces::This => c.this.is_none() && c.other.is_some(),
            Faces::Other => c.other.is_none() && c.this.is_some(),
            Faces::Both => false,
        })
    }

    fn side_alone(&self, marks: &[Mark]) -> Option<Faces> {
        let plain = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::This
                    | C::Other
                    | C::Both
                    | C::BothOf
                    | C::Same
                    | C::That
                    | C::And
                    | C::But
                    | C::Word
                    | C::Stop
            )
        });
        // "back" alone is the verdict as often
        let back = |m: &Mark| {
            self.word(m.from) == "back"
                && m.to == m.from + 1
                && self.word(m.from.wrapping_sub(1)) != "the"
        };
        if !plain || self.tokens.len() > 8 || marks.iter().any(back) {
            return None;
        }
        let has = |c: C| marks.iter().any(|m| m.concept == c);
        match (has(C::This), has(C::Other)) {
            _ if has(C::Both) || has(C::BothOf) => Some(Faces::Both),
            (true, true) => Some(Faces::Both),
            (true, false) => Some(Faces::This),
            (false, true) => Some(Faces::Other),
            (false, false) => None,
        }
    }
}

fn nth(n: usize) -> String {
    let ending = match (n % 10, n % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{n}{ending}")
}

/// What is asked for a share that was said without its side.
pub(crate) fn question(share: f64, of: &str) -> String {
    format!("{} capped on which side of {of}, or both?", amount(share))
}

/// A share as a sentence begins with it.
fn amount(share: f64) -> String {
    const WORDS: [(f64, &str); 7] = [
        (0.0, "Nothing"),
        (0.25, "A quarter"),
        (0.33, "A third"),
        (0.5, "Half"),
        (0.67, "Two thirds"),
        (0.75, "Three quarters"),
        (1.0, "All"),
    ];
    let word = WORDS.iter().find(|(of, _)| (of - share).abs() < 0.005);
    word.map_or_else(
        || format!("{:.0} percent", share * 100.0),
        |(_, word)| (*word).to_owned(),
    )
}
