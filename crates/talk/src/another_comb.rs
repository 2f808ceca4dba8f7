//! Another comb was meant: "I said five, that was six", "no, that was the next one", "wrong bar, it was
//! nine". What was told of the comb in hand is told of the other one.

use crate::act::{Act, Decision, Side};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::{UNITS, describes, whole};
use crate::visit::Comb;

/// Nobody passes over more bars than this without noticing.
const FAR: u32 = 3;

impl Ear<'_> {
    /// Hears it, before the phrase is cut where it is taken back; false if something else is said.
    pub(crate) fn another_was_meant(&mut self, marks: &[Mark]) -> bool {
        if self.state.closing || self.state.washing || self.state.hand.len() != 1 {
            return false;
        }
        self.said_and_was(marks)
            || self.was_beside(marks)
            || self.was_the_bar(marks)
            || self.was_right_at_first(marks)
    }

    /// "sorry I said five, that was six": the number said, and the one meant.
    fn said_and_was(&mut self, marks: &[Mark]) -> bool {
        let said = |i: usize| {
            matches!(self.word(i), "said" | "called" | "wrote" | "read")
                && i > 0
                && matches!(self.word(i - 1), "i" | "we" | "you")
        };
        let Some(said) = (0..self.tokens.len()).find(|&i| said(i)) else {
            return false;
        };
        let mut numbers =
            (0..marks.len()).filter(|&i| marks[i].from > said && whole(&marks[i]).is_some());
        let (Some(a), Some(b)) = (numbers.next(), numbers.next()) else {
            return false;
        };
        let (old, new) = (marks[a], marks[b]);
        let meant = self.between(
            &old,
            &new,
            &["was", "is", "'s", "meant", "mean", "be", "make"],
        );
        let near = new.from <= old.to + 6 && !self.counts(marks, a) && !self.counts(marks, b);
        let (Some(old_bar), Some(bar)) = (whole(&old), whole(&new)) else {
            return false;
        };
        let in_hand = self.state.hand[0];
        if !meant || !near || old_bar == bar || self.bar_index(old_bar) != Some(in_hand) {
            return false;
        }
        self.is_the_bar(bar, &marks[a..=b]);
        self.goes_on(&marks[b + 1..]);
        true
    }

    /// "no, that was the next one": said of a comb that is not settled.
    fn was_beside(&mut self, marks: &[Mark]) -> bool {
        let from = self.state.hand[0];
        let Some((was, _)) = self.was(marks) else {
            return false;
        };
        let at = marks.iter().position(|m| m.from >= was);
        let Some(at) = at.filter(|&at| marks[at].from <= was + 1) else {
            return false;
        };
        let open = self.newest(from) && self.is_told(from) && self.comb().is_some_and(unsettled);
        let ends = !marks[at + 1..].iter().any(|m| describes(m.concept));
        if !open || !ends {
            return false;
        }
        let to = match marks[at].concept {
            C::Next if self.said(&marks[at], "next") => {
                let bar = self.bar_behind(from);
                self.meet("the next was meant", &[bar], &marks[at..=at]);
                from + 1
            }
            C::Previous if from > self.state.end_start && !self.is_told(from - 1) => from - 1,
            _ => return false,
        };
        if to < self.state.visit.combs.len() {
            self.told_of_another(from, to, &marks[at..=at]);
        }
        true
    }

    /// "no that was nine", "wrong bar, it was nine".
    fn was_the_bar(&mut self, marks: &[Mark]) -> bool {
        let from = self.state.hand[0];
        let Some((was, past)) = self.was(marks) else {
            return false;
        };
        let named = |m: &Mark| matches!(m.concept, C::Bar | C::Number | C::Comb | C::Correct);
        let Some(at) = marks.iter().position(|m| m.from >= was && !named(m)) else {
            return false;
        };
        let in_hand = self.comb().and_then(|c| c.bar);
        let (Some(bar), Some(in_hand)) = (whole(&marks[at]), in_hand) else {
            return false;
        };
        let called = marks[..at].iter().any(named) && marks[at].from > was;
        // "that was two": kilos, where a weight was told
        let figure = matches!(
            self.state.fact,
            crate::ear::Fact::Kg | crate::ear::Fact::Mm | crate::ear::Fact::QueenCells
        );
        let near = bar != in_hand && bar.abs_diff(in_hand) <= FAR;
        if !near
            || figure && !called
            || self.counts(marks, at)
            || !self.newest(from)
            || !self.is_told(from)
            || !past && (self.bar_index(bar).is_some() || !self.comb().is_some_and(unsettled))
        {
            return false;
        }
        self.is_the_bar(bar, &marks[at..=at]);
        self.goes_on(&marks[at + 1..]);
        true
    }

    /// "sorry that's six", a pause, "no, it's written on it, seven": the number that was said first.
    fn was_right_at_first(&mut self, marks: &[Mark]) -> bool {
        let Some((comb, old)) = self.state.renumbered else {
            return false;
        };
        let again = self.state.hand == [comb] && !self.is_told(comb);
        let number = |m: &Mark| whole(m).is_some();
        let only = marks.iter().filter(|m| number(m)).count() == 1
            && marks.iter().any(|m| whole(m) == Some(old))
            && !marks.iter().any(|m| m.concept == C::Bar);
        let cue = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "no" | "yes" | "yeah" | "sorry" | "right" | "wait"));
        if !again || !only || !cue {
            return false;
        }
        self.state.renumbered = None;
        self.note_hand("right at first", &Act::Renumbered(old), marks);
        true
    }

    /// The word behind "no, that was the", and whether it says "was": a correction is announced, and
    /// nothing but it stands before.
    fn was(&self, marks: &[Mark]) -> Option<(usize, bool)> {
        let word = |i: usize| self.word(i);
        let was = (1..self.tokens.len()).rfind(|&i| {
            matches!(word(i), "was" | "'s" | "is") && matches!(word(i - 1), "that" | "it" | "this")
        })?;
        let cue = (0..was).any(|i| {
            matches!(
                word(i),
                "no" | "sorry" | "wait" | "wrong" | "oops" | "hang" | "hold" | "mistake" | "pardon"
            )
        });
        let before = marks.iter().take_while(|m| m.from < was);
        let little = before.into_iter().all(|m| {
            matches!(
                m.concept,
                C::Correct | C::Not | C::That | C::But | C::Stop | C::Word | C::Bar | C::Comb
            )
        });
        // "that's the wrong one", a pause: which it was is said later
        let from = was + 1 + usize::from(word(was + 1) == "the");
        (cue && little).then(|| (from, word(was) == "was"))
    }

    /// A number that counts or measures.
    fn counts(&self, marks: &[Mark], at: usize) -> bool {
        let unit = |m: &Mark| UNITS.contains(&m.concept) && m.concept != C::Num;
        marks.get(at + 1).is_some_and(unit) || matches!(self.word(marks[at].to), "percent" | "of")
    }

    /// The comb was met last.
    fn newest(&self, comb: usize) -> bool {
        comb + 1 == self.state.visit.combs.len()
    }

    fn is_told(&self, comb: usize) -> bool {
        let told = |c: &Comb| c.described() || c.decision.is_some() || c.aside;
        self.state.visit.combs.get(comb).is_some_and(told)
    }

    /// The number of the bar behind this one, where the combs before tell which way they are counted.
    fn bar_behind(&self, comb: usize) -> Option<u32> {
        let combs = &self.state.visit.combs;
        let bar = combs.get(comb)?.bar?;
        let before = combs.get(comb.checked_sub(1)?)?.bar?;
        match before.cmp(&bar) {
            std::cmp::Ordering::Less => Some(bar + 1),
            std::cmp::Ordering::Greater => bar.checked_sub(1).filter(|b| *b > 0),
            std::cmp::Ordering::Equal => None,
        }
    }

    /// The comb in hand is this bar: it gets its number, or what was told goes to the comb that has it.
    fn is_the_bar(&mut self, bar: u32, words: &[Mark]) {
        let from = self.state.hand[0];
        match self.bar_index(bar) {
            None => self.note_hand("another bar", &Act::Renumbered(bar), words),
            Some(to) if to != from && self.newest(from) => self.told_of_another(from, to, words),
            Some(to) => self.back_to(vec![to]),
        }
    }

    /// A comb that was met under a wrong number is one met before: there never was another.
    pub(crate) fn was_met_before(&mut self, wrong: usize, met: usize, words: &[Mark]) -> bool {
        if met == wrong || !self.newest(wrong) {
            return false;
        }
        self.told_of_another(wrong, met, words);
        let state = &mut *self.state;
        state.visit.combs.truncate(wrong);
        for combs in [
            &mut state.asked,
            &mut state.due,
            &mut state.weighed,
            &mut state.group,
        ] {
            combs.retain(|&comb| comb != wrong);
        }
        self.acts.retain(|noted| noted.comb != Some(wrong));
        true
    }

    /// What else the phrase says of the comb.
    fn goes_on(&mut self, rest: &[Mark]) {
        let more = |m: &Mark| describes(m.concept) && m.concept != C::Not;
        // "that was for nine, eight stays": of one that was met
        let known = |m: &Mark| whole(m).is_some_and(|n| self.bar_index(n).is_some());
        let other =
            |m: &Mark| matches!(m.concept, C::Num | C::Next | C::Ord | C::Comb) && !known(m);
        if rest.iter().any(more) && !rest.iter().any(other) {
            self.walk(rest);
        }
    }

    /// What was told of one comb goes to the other, which is in hand now.
    fn told_of_another(&mut self, from: usize, to: usize, words: &[Mark]) {
        let old = &mut self.state.visit.combs[from];
        let blank = Comb {
            bar: old.bar,
            end: old.end,
            ..Comb::default()
        };
        let told = std::mem::replace(old, blank);
        self.back_to(vec![to]);
        let mut acts = Vec::new();
        acts.extend(told.this.map(|share| Act::Capped(Side::This, share)));
        acts.extend(told.other.map(|share| Act::Capped(Side::Other, share)));
        acts.extend(told.holds.into_iter().map(Act::Holds));
        acts.extend(told.fill.map(Act::Filled));
        acts.extend(told.attached.map(Act::Attached));
        acts.extend(told.straight.map(Act::Straight));
        acts.extend(told.kg.map(Act::Weighs));
        acts.extend(told.mm.map(Act::Thick));
        match told.decision {
            Some(Decision::Take) if told.broke => acts.push(Act::Broke),
            Some(Decision::Take) if told.whole => acts.push(Act::TakenWhole),
            Some(decision) => acts.push(Act::Decided(Some(decision))),
            None if told.aside => acts.push(Act::Decided(None)),
            None => {}
        }
        for act in acts {
            self.note("of another comb", act, Some(to), words);
        }
        let comb = &mut self.state.visit.combs[to];
        comb.loose = told.loose.or(comb.loose);
        comb.to_other_hive |= told.to_other_hive;
        if self.state.visit.queen_on == Some(from) {
            self.state.visit.queen_on = Some(to);
        }
    }
}

fn unsettled(comb: &Comb) -> bool {
    comb.decision.is_none()
}
