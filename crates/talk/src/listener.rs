//! The listener: phrase by phrase, from words to what was understood.

use std::collections::{BTreeSet, VecDeque};

use crate::act::{Act, Decision, Hold, Noted};
use crate::ask::{self, Advice, Question};
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact, State};
use crate::lexicon::LEXICON;
use crate::mark::{self, Mark};
use crate::opening::{Named, describes, fresh, whole};
use crate::scope::in_scope;
use crate::slips;
use crate::tap::Tap;
use crate::token::tokens;
use crate::visit::{Comb, Visit};

/// Longer phrases are heard in pieces; nobody says this much in one breath.
const LONGEST_PHRASE: usize = 2000;
/// How many phrases can be taken back one after another.
const HISTORY: usize = 8;

/// What was understood of one phrase.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Heard {
    /// In the order understood.
    pub acts: Vec<Noted>,
    /// A question to the program; [`Listener::answer`] gives the answer.
    pub question: Option<Question>,
    /// What must be asked back, because it changes a decision; one short sentence.
    pub ask: Option<String>,
}

/// Listens to one visit.
#[derive(Debug, Clone, Default)]
pub struct Listener {
    state: State,
    history: VecDeque<State>,
    /// Numbers of the bars that the hive has; empty if not known.
    bars: BTreeSet<u32>,
}

impl Listener {
    /// A listener at the hive, nothing said yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// A listener who knows which bars the hive has, and asks back when another is named.
    pub fn with_bars(bars: impl IntoIterator<Item = u32>) -> Self {
        Self {
            bars: bars.into_iter().collect(),
            ..Self::default()
        }
    }

    /// The answer to a question, one short sentence.
    pub fn answer(&self, question: Question, advice: &dyn Advice) -> String {
        ask::answer(
            question,
            &self.state.visit,
            self.state.hand.last().copied(),
            advice,
        )
    }

    /// Takes back the last phrase that came to something; false if there is none.
    pub fn undo(&mut self) -> bool {
        match self.history.pop_back() {
            Some(old) => {
                self.state = old;
                true
            }
            None => false,
        }
    }

    /// Hears one phrase: what the recogniser gives between two pauses. Never fails; a phrase that
    /// is not about the hive gives no acts.
    pub fn hear(&mut self, phrase: &str) -> Heard {
        let mut heard = Heard::default();
        let mut offset = 0;
        for line in phrase.split_inclusive(['\n', '\r']) {
            let mut rest = line;
            while !rest.is_empty() {
                let piece = breath(rest);
                self.hear_breath(piece, offset, &mut heard);
                offset += piece.len();
                rest = &rest[piece.len()..];
            }
        }
        heard
    }

    /// The comb in hand, by the order met; the last of them where several are.
    pub fn in_hand(&self) -> Option<usize> {
        self.state.hand.last().copied()
    }

    /// Takes a tap as if it had been said: what follows, spoken or tapped, goes on from it.
    pub fn tap(&mut self, tap: &Tap) -> Heard {
        let before = self.state.clone();
        self.state.correcting = false;
        let mut ear = Ear {
            tokens: &[],
            state: &mut self.state,
            acts: Vec::new(),
            correcting: false,
        };
        ear.tapped(tap);
        let acts = std::mem::take(&mut ear.acts);
        self.remember((!acts.is_empty()).then_some(before), &acts);
        Heard {
            ask: self.doubt(&acts),
            acts,
            question: None,
        }
    }

    /// The visit as understood so far.
    pub fn visit(&self) -> &Visit {
        &self.state.visit
    }

    /// The end of the visit.
    pub fn finish(self) -> Visit {
        self.state.visit
    }

    fn hear_breath(&mut self, text: &str, offset: usize, heard: &mut Heard) {
        if let Some(question) = ask::question(text) {
            heard.question = Some(question);
            return;
        }
        let lower = text.to_ascii_lowercase();
        let tokens = slips::repair(&tokens(&lower));
        if tokens.is_empty() {
            return;
        }
        let marks = in_scope(&tokens, &mark::marks(&tokens));
        let before = self
            .state
            .clone_if(marks.iter().any(|m| m.concept != C::Word));
        let mut acts = Vec::new();
        let mut correcting = self.state.correcting;
        self.state.correcting = false;
        for (cue, part) in parts(&marks) {
            match cue {
                Some(C::Undo) => {
                    let earlier = !acts.is_empty();
                    self.take_back(before.as_ref().filter(|_| earlier));
                    acts.clear();
                    correcting = true;
                }
                Some(_) => correcting = true,
                None => {}
            }
            let mut ear = Ear {
                tokens: &tokens,
                state: &mut self.state,
                acts: Vec::new(),
                correcting,
            };
            ear.part(&part);
            acts.append(&mut ear.acts);
            if part.is_empty() && cue.is_some() {
                self.state.correcting = true;
            }
        }
        self.remember(before.filter(|_| !acts.is_empty()), &acts);
        heard.ask = self.doubt(&acts).or(heard.ask.take());
        for noted in &mut acts {
            noted.words = noted.words.start + offset..noted.words.end + offset;
        }
        heard.acts.append(&mut acts);
    }

    /// Keeps the state before acts, so that they can be taken back.
    fn remember(&mut self, before: Option<State>, acts: &[Noted]) {
        let Some(before) = before else { return };
        self.history.push_back(before);
        if self.history.len() > HISTORY {
            self.history.pop_front();
        }
        self.state.last_acts = acts.iter().map(|n| (n.comb, n.act.clone())).collect();
    }

    /// What must be asked: a bar that is not there; a face not told of a comb that is taken.
    fn doubt(&self, acts: &[Noted]) -> Option<String> {
        acts.iter().rev().find_map(|noted| match noted.act {
            Act::CombMet { bar: Some(bar) } | Act::Renumbered(bar)
                if !self.bars.is_empty() && !self.bars.contains(&bar) =>
            {
                Some(format!(
                    "There is no bar {bar} in this hive; which bar is it?"
                ))
            }
            Act::Decided(Some(Decision::Take)) => {
                let at = noted.comb?;
                let comb = self.state.visit.combs.get(at)?;
                let side = match (comb.this, comb.other) {
                    (Some(_), None) => "other",
                    (None, Some(_)) => "near",
                    _ => return None,
                };
                let open =
                    comb.decision == Some(Decision::Take) && !comb.to_other_hive && !comb.broke;
                open.then(|| {
                    format!(
                        "{}: how much of the {side} side is capped?",
                        ask::name(at, comb)
                    )
                })
            }
            _ => None,
        })
    }

    /// Takes back what the last phrase said of combs; the combs themselves stay met.
    fn take_back(&mut self, this_phrase: Option<&State>) {
        let Some(old) = this_phrase.cloned().or_else(|| self.history.pop_back()) else {
            return;
        };
        let hand = std::mem::take(&mut self.state.hand);
        let bars: Vec<Option<u32>> = self.state.visit.combs.iter().map(|c| c.bar).collect();
        let end_start = self.state.end_start;
        self.state = old;
        self.state.end_start = end_start;
        for bar in bars.iter().skip(self.state.visit.combs.len()) {
            let end = self.state.visit.ends.len().saturating_sub(1);
            self.state.visit.combs.push(Comb {
                bar: *bar,
                end,
                ..Comb::default()
            });
        }
        self.state.hand = hand;
        self.state.retracted = true;
    }
}

impl State {
    fn clone_if(&self, wanted: bool) -> Option<Self> {
        wanted.then(|| self.clone())
    }
}

/// A piece of at most [`LONGEST_PHRASE`] bytes, cut at a blank where there is one.
fn breath(text: &str) -> &str {
    if text.len() <= LONGEST_PHRASE {
        return text;
    }
    let mut end = LONGEST_PHRASE;
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let cut = text[..end].rfind(' ').map_or(end, |at| at + 1);
    &text[..cut]
}

/// The phrase cut where it is taken back: each part with the cue before it.
fn parts(marks: &[Mark]) -> Vec<(Option<C>, Vec<Mark>)> {
    let mut all: Vec<(Option<C>, Vec<Mark>)> = vec![(None, Vec::new())];
    for m in marks {
        if matches!(m.concept, C::Undo | C::Correct) {
            all.push((Some(m.concept), Vec::new()));
        } else if let Some((_, part)) = all.last_mut() {
            part.push(*m);
        }
    }
    // "no two": another number for the one just said
    for (cue, part) in &mut all {
        if cue.is_none()
            && part.len() > 1
            && part[0].concept == C::Not
            && matches!(part[1].concept, C::Num)
            && part[0].to == part[1].from
            && part.len() < 4
        {
            *cue = Some(C::Correct);
            part.remove(0);
        }
    }
    if all.len() > 1 && all[0].1.is_empty() {
        all.remove(0);
    }
    all
}

impl Ear<'_> {
    /// One part of a phrase.
    fn part(&mut self, marks: &[Mark]) {
        if marks.is_empty() {
            return;
        }
        if self.correcting && self.renumber(marks) {
            return;
        }
        if self.wash(marks) || self.closing(marks) {
            return;
        }
        let ends = self.state.visit.ends.len();
        let marks = self.alone(marks);
        let mut marks = self.ends(marks);
        if self.state.visit.ends.len() > ends {
            // "first the right side": the end, not a comb
            let alone = marks.iter().all(|m| {
                matches!(
                    m.concept,
                    C::Ord
                        | C::First
                        | C::OpenEnd
                        | C::Word
                        | C::But
                        | C::Then
                        | C::And
                        | C::Stop
                        | C::Both
                        | C::Here
                        | C::End
                        | C::Follower
                )
            });
            marks.retain(|m| !(alone && matches!(m.concept, C::Ord | C::First)));
        }
        let marks = self.temperature(marks);
        let marks = self.feeding(marks);
        if self.is_recap(&marks) {
            return;
        }
        let marks = self.queen(&marks);
        if self.all_except(&marks) {
            return;
        }
        let marks = self.stand_named(&marks).to_vec();
        self.walk(&marks);
        if self.acts.iter().any(|n| n.act == Act::QueenSeen) {
            self.state.visit.queen_on = self.state.hand.last().copied();
        }
    }

    /// "no wait that's sixteen": the bar in hand has another number.
    fn renumber(&mut self, marks: &[Mark]) -> bool {
        let at = marks.iter().position(|m| {
            !matches!(
                m.concept,
                C::That | C::Bar | C::Number | C::Stop | C::But | C::Total | C::Comb
            )
        });
        let Some(n) = at.and_then(|i| whole(&marks[i])) else {
            return false;
        };
        let at = at.unwrap_or(0);
        let barred = marks[..at]
            .iter()
            .any(|m| matches!(m.concept, C::Bar | C::Number));
        let unit = marks.get(at + 1).is_some_and(|m| {
            !matches!(
                m.concept,
                C::Stop
                    | C::Word
                    | C::But
                    | C::Bar
                    | C::AfterAll
                    | C::Next
                    | C::Brood
                    | C::Honey
                    | C::Capped
                    | C::Leave
                    | C::Take
                    | C::Not
            )
        });
        let numbered = self.comb().is_some_and(|c| c.bar.is_some());
        let just = self.state.fact == Fact::Bar
            || self
                .state
                .last_acts
                .iter()
                .any(|(_, a)| matches!(a, Act::CombMet { bar: Some(_) }))
            || self
                .acts
                .iter()
                .any(|n| matches!(n.act, Act::CombMet { .. }));
        if !numbered
            || unit
            || !just
            || !barred && self.state.fact == Fact::Kg
            || self.bar_index(n).is_some()
        {
            return false;
        }
        let words = &marks[..=at];
        self.note_hand("renumbered", &Act::Renumbered(n), words);
        if marks.len() > at + 1 {
            self.walk(&marks[at + 1..]);
        }
        true
    }

    /// Goes through the marks; a comb named on the way is taken in hand.
    fn walk(&mut self, marks: &[Mark]) {
        let mut from = 0;
        let mut at = 0;
        while at < marks.len() {
            if let Some((used, named)) = self.named(marks, at).filter(|(_, named)| {
                !self.likened(marks, at) && !self.only_mentioned(named, marks, at)
            }) {
                self.describe(&marks[from..at]);
                let joined = marks[from..at]
                    .iter()
                    .rev()
                    .take(2)
                    .any(|m| m.concept == C::StraightNo && self.runs_into(m));
                let before = self.state.hand.clone();
                let met = self.state.visit.combs.len();
                self.take_in_hand(named, &marks[at..at + used]);
                if joined && !before.is_empty() && self.state.visit.combs.len() > met {
                    let new = self.state.hand.clone();
                    self.note_hand("joined", &Act::Straight(false), &marks[at..at + used]);
                    self.state.hand = before.into_iter().chain(new).collect();
                }
                at += used;
                from = at;
                continue;
            }
            if at + 1 < marks.len() {
                let before = marks[from..at].to_vec();
                if matches!(marks[at].concept, C::Take | C::Leave | C::Aside)
                    && let Some(used) = self.decision_ahead_after(&before, marks, at)
                {
                    at += used;
                    from = at;
                    continue;
                }
            }
            at += 1;
        }
        self.describe(&marks[from..]);
    }

    /// "we've got that one and the second one", "bar seven we have not even opened".
    fn only_mentioned(&self, named: &Named, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let plain = !marks[..at].iter().any(|m| describes(m.concept));
        let listed = matches!(named, Named::Ordinal(_))
            && self.word(m.from.wrapping_sub(1)) == "the"
            && self.word(m.from.wrapping_sub(2)) == "and"
            && (0..m.from).any(|i| matches!(self.word(i), "that" | "this"));
        let unopened = self.tokens.iter().any(|t| {
            matches!(
                &*t.text,
                "opened" | "looked" | "reached" | "checked" | "inspected" | "unopened" | "open"
            )
        }) && marks.iter().any(|m| m.concept == C::Not)
            && !marks[at..].iter().any(|m| {
                describes(m.concept) && !matches!(m.concept, C::Not | C::Open | C::Comb | C::Next)
            });
        plain && (listed || unopened)
    }

    /// "joined up with the", "runs over to": the comb named next is part of the same.
    pub(crate) fn runs_into(&self, m: &Mark) -> bool {
        [
            "with", "to", "into", "onto", "together", "over", "joined", "joins", "joining",
        ]
        .iter()
        .any(|w| self.said(m, w) || self.word(m.to) == *w)
    }

    fn decision_ahead_after(
        &mut self,
        before: &[Mark],
        marks: &[Mark],
        at: usize,
    ) -> Option<usize> {
        let hand = self.state.hand.clone();
        let used = self.decision_ahead(marks, at)?;
        let new_hand = std::mem::replace(&mut self.state.hand, hand);
        self.describe(before);
        self.state.hand = new_hand;
        Some(used)
    }

    /// A stretch of talk about the combs in hand.
    fn describe(&mut self, marks: &[Mark]) {
        if !marks.iter().any(|m| {
            describes(m.concept)
                || matches!(
                    m.concept,
                    C::Num | C::All | C::BothOf | C::Those | C::Rest | C::Settled
                )
                || matches!(m.concept, C::Kg | C::Pound | C::Mm | C::Inch | C::Cm)
        }) {
            return;
        }
        self.implied(marks);
        self.the_two(marks);
        if self.no_comb(marks) {
            return;
        }
        if self.correcting {
            self.replaces(marks);
        }
        self.copies(marks);
        self.faces(marks);
        self.holds(marks);
        self.extent(marks);
        self.measures(marks);
        self.decisions(marks);
    }

    /// "the two of them honey mostly": said of the last two.
    fn the_two(&mut self, marks: &[Mark]) {
        let Some(at) = marks.iter().position(|m| m.concept == C::BothOf) else {
            return;
        };
        let told = marks[at + 1..].iter().any(|m| {
            matches!(
                m.concept,
                C::Honey
                    | C::Brood
                    | C::SealedBrood
                    | C::Pollen
                    | C::Empty
                    | C::StraightNo
                    | C::StraightYes
                    | C::NewComb
            )
        });
        let two = self.said(&marks[at], "two") || self.said(&marks[at], "pair");
        if self.state.hand.len() == 1 && fresh(marks, at) && told && two && self.here() >= 2 {
            let n = self.state.visit.combs.len();
            self.back_to(vec![n - 2, n - 1]);
        }
    }

    /// A comb described without being named: the first of an end, or the next after a decision.
    fn implied(&mut self, marks: &[Mark]) {
        let has = |c: C| marks.iter().any(|m| m.concept == c);
        let face = has(C::This) || has(C::Other) || has(C::Both);
        let share = has(C::Share) || has(C::Capped) || has(C::Uncapped);
        let shown = marks
            .iter()
            .filter(|m| {
                describes(m.concept)
                    && !matches!(m.concept, C::Take | C::Leave | C::Not | C::Other | C::Comb)
            })
            .count();
        if self.state.hand.is_empty() {
            let opened = !self.state.visit.ends.is_empty() && self.here() == 0;
            if opened && (face && share || shown >= 2 || has(C::NewComb)) {
                self.meet("implied first", &[None], marks);
            }
            return;
        }
        let again = |c: &Comb| {
            c.decision.is_some()
                && ((has(C::This) || has(C::Both)) && c.this.is_some()
                    || (has(C::Other) || has(C::Both)) && c.other.is_some())
        };
        if !self.correcting
            && !self.state.copied
            && face
            && share
            && fresh(marks, 0)
            && self.comb().is_some_and(again)
            && self.here() > 0
            && !self.state.visit.combs.iter().any(|c| c.bar.is_some())
        {
            self.meet("implied next", &[None], marks);
        }
    }

    /// "only the wax line": no comb hangs there.
    fn no_comb(&mut self, marks: &[Mark]) -> bool {
        let bare = marks.iter().any(|m| m.concept == C::NoComb)
            || marks
                .iter()
                .any(|m| m.concept == C::Empty && self.said(m, "bar"));
        let combs = self.state.visit.combs.len();
        let blank = self.state.hand.iter().all(|&c| {
            c + self.state.hand.len() >= combs
                && self
                    .state
                    .visit
                    .combs
                    .get(c)
                    .is_some_and(|c| !c.described())
        });
        if !bare || self.state.hand.is_empty() || !blank {
            return false;
        }
        let keep = combs - self.state.hand.len();
        self.state.visit.combs.truncate(keep);
        self.acts.retain(|n| n.comb.is_none_or(|c| c < keep));
        self.state.hand.clear();
        true
    }

    /// "no wait, that's honey": what the last phrase said it holds is not so.
    fn replaces(&mut self, marks: &[Mark]) {
        let states = marks.iter().take(1).any(|m| m.concept == C::That);
        let holds = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Honey
                    | C::Brood
                    | C::SealedBrood
                    | C::Drone
                    | C::DroneBees
                    | C::Pollen
                    | C::Eggs
                    | C::Empty
                    | C::Unripe
            )
        });
        if !states || !holds {
            return;
        }
        let last: Vec<(usize, Hold)> = self
            .state
            .last_acts
            .iter()
            .chain(
                self.acts
                    .iter()
                    .map(|n| (n.comb, n.act.clone()))
                    .collect::<Vec<_>>()
                    .iter(),
            )
            .filter_map(|(c, a)| match (c, a) {
                (Some(c), Act::Holds(h)) => Some((*c, *h)),
                _ => None,
            })
            .collect();
        // brood takes the place of brood, else of what was said last
        let broods = |h: Hold| matches!(h, Hold::WorkerBrood | Hold::DroneBrood);
        let brood = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Brood | C::SealedBrood | C::Drone | C::DroneBees
            )
        });
        let kept: Vec<(usize, Hold)> = if brood && last.iter().any(|(_, h)| broods(*h)) {
            last.into_iter().filter(|(_, h)| broods(*h)).collect()
        } else {
            let said = last.last().map(|(_, h)| *h);
            last.into_iter().filter(|(_, h)| Some(*h) == said).collect()
        };
        let drone = marks
            .iter()
            .any(|m| matches!(m.concept, C::Drone | C::DroneBees));
        for (comb, hold) in kept {
            if self.state.hand.contains(&comb) {
                self.note("corrected", Act::HoldsNot(hold), Some(comb), marks);
                if drone && hold == Hold::WorkerBrood {
                    self.note("corrected", Act::Holds(Hold::DroneBrood), Some(comb), marks);
                }
            }
        }
    }
}

/// The concepts that a phrase is read as, in order, each with the lexicon's phrase where it was
/// one. What is left out as not about this hive today is not among them. For explaining and for
/// the honesty check.
pub fn concepts_of(phrase: &str) -> Vec<(&'static str, String)> {
    let lower = phrase.to_ascii_lowercase();
    let tokens = slips::repair(&tokens(&lower));
    in_scope(&tokens, &mark::marks(&tokens))
        .into_iter()
        .map(|m| {
            let words: Vec<&str> = tokens[m.from..m.to].iter().map(|t| &*t.text).collect();
            let phrase = m
                .phrase
                .map_or_else(|| words.join(" "), |p| LEXICON.phrase(p).to_owned());
            (m.concept.name(), phrase)
        })
        .collect()
}

/// Hears a whole text, line by line, as [`Listener::hear`] would.
pub fn hear_text(text: &str) -> (Visit, Vec<Heard>) {
    let mut listener = Listener::new();
    let heard = text.lines().map(|line| listener.hear(line)).collect();
    (listener.finish(), heard)
}
