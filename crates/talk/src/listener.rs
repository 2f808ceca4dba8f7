//! The listener: phrase by phrase, from words to what was understood.

use std::collections::{BTreeSet, VecDeque};

use crate::act::{Act, Decision, Noted};
use crate::added_up::Recap;
use crate::ask::{self, Advice, Question};
use crate::concept::Concept as C;
use crate::ear::{Ear, Faces, Fact, State};
use crate::hands::{as_parts, hands_deep};
use crate::lexicon::LEXICON;
use crate::loose::Reply;
use crate::mark::{self, Mark};
use crate::scope::{asked_for, in_scope};
use crate::slips;
use crate::tap::Tap;
use crate::token::{Token, tokens};
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
    /// A capped share said without a side, of the comb in hand; no face has it yet.
    pub loose: Option<f64>,
    /// The comb that it is about, where that is not the one in hand: a question on it was answered.
    pub about: Option<String>,
    /// Whether the phrase is kept whole as a note: it tells of disease or treatment.
    pub noted: bool,
}

/// Listens to one visit.
#[derive(Debug, Clone, Default)]
pub struct Listener {
    state: State,
    history: VecDeque<State>,
    /// Numbers of the bars that the hive has; empty if not known.
    bars: BTreeSet<u32>,
    /// Questions reach the keeper, and what is said next may answer them.
    answered: bool,
}

impl Listener {
    /// A listener at the hive, nothing said yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// A listener beside a keeper at the hive: it knows which bars the hive has, asks back when
    /// another is named, and takes what is said next for the answer where it can be one.
    pub fn with_bars(bars: impl IntoIterator<Item = u32>) -> Self {
        Self {
            bars: bars.into_iter().collect(),
            answered: true,
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

    /// The same with one phrase to take back, to try a phrase on.
    pub(crate) fn to_try(&self) -> Self {
        Self {
            state: self.state.clone(),
            history: self.history.back().cloned().into_iter().collect(),
            bars: self.bars.clone(),
            answered: self.answered,
        }
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
        let due = std::mem::take(&mut self.state.due);
        if self.answered && !due.is_empty() && self.hear_reply(phrase, &due, &mut heard) {
            return heard;
        }
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
        if heard.question.is_none() && heard.ask.is_none() {
            heard.ask = self.state.which_side();
        }
        heard
    }

    /// Hears whether a phrase names the side that was asked for, and nothing else.
    fn hear_reply(&mut self, phrase: &str, due: &[usize], heard: &mut Heard) -> bool {
        let lower = phrase.to_ascii_lowercase();
        let tokens = slips::repair(&tokens(&lower));
        let marks = mark::marks(&tokens);
        let before = self.state.clone();
        let mut ear = Ear::new(&tokens, &mut self.state, false);
        let reply = ear.replies(&marks, due);
        let acts = std::mem::take(&mut ear.acts);
        match reply {
            Reply::None => {
                if marks.is_empty() {
                    // "um": the answer is still to come
                    self.state.due = due.to_vec();
                }
                return false;
            }
            Reply::OfEither => heard.ask = Some(self.state.which_comb(due)),
            Reply::Told => {
                self.remember(Some(before), &acts);
                heard.about = Some(self.state.called(due));
                heard.acts = acts;
                heard.ask = self.state.which_side();
            }
        }
        true
    }

    /// The comb in hand, by the order met; the last of them where several are.
    pub fn in_hand(&self) -> Option<usize> {
        self.state.hand.last().copied()
    }

    /// Takes a tap as if it had been said: what follows, spoken or tapped, goes on from it.
    pub fn tap(&mut self, tap: &Tap) -> Heard {
        let before = self.state.clone();
        self.state.correcting = false;
        let mut ear = Ear::new(&[], &mut self.state, false);
        ear.tapped(tap);
        let acts = std::mem::take(&mut ear.acts);
        self.remember((!acts.is_empty()).then_some(before), &acts);
        Heard {
            ask: self.doubt(&acts).or_else(|| self.state.which_side()),
            acts,
            ..Heard::default()
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

    /// "what's it say on the thermometer", a pause, "eighteen".
    fn await_temperature(&mut self, tokens: &[Token<'_>], marks: &[Mark]) {
        self.state.temperature_due = std::mem::take(&mut self.state.temperature_asked);
        self.state.temperature_asked = self.state.visit.combs.is_empty()
            && tokens
                .iter()
                .any(|t| matches!(&*t.text, "temp" | "temperature" | "thermometer"))
            && marks.iter().all(|m| m.concept != C::Num);
    }

    /// "what's your side", a pause, "my side's half": told by the one on the far side.
    fn await_the_far_side(&mut self, tokens: &[Token<'_>]) {
        self.state.told_by_the_other = std::mem::take(&mut self.state.asked_your_side);
        let yours = tokens
            .windows(2)
            .any(|w| w[0].is("your") && matches!(&*w[1].text, "side" | "face"));
        let asks = tokens
            .iter()
            .any(|t| matches!(&*t.text, "what" | "how" | "and" | "?" | "about"));
        self.state.asked_your_side = yours && asks && tokens.len() <= 7;
    }

    /// "bar", a pause, "eighteen": the number is the bar's.
    fn await_bar(&mut self, marks: &[Mark]) {
        self.state.thick_due = std::mem::take(&mut self.state.thick_awaited);
        self.state.thick_awaited = matches!(marks, [m] if m.concept == C::Thick);
        self.state.bar_due = std::mem::take(&mut self.state.bar_awaited);
        self.state.bar_awaited = match marks {
            [only] => matches!(only.concept, C::Bar | C::Number) && only.to == only.from + 1,
            [a, b] => {
                matches!(a.concept, C::Next | C::Bar | C::But)
                    && matches!(b.concept, C::Bar | C::Number)
            }
            _ => false,
        };
    }

    fn hear_breath(&mut self, text: &str, offset: usize, heard: &mut Heard) {
        let lower = text.to_ascii_lowercase();
        let mut tokens = tokens(&lower);
        self.state.hears_a_count(&tokens);
        if let Some(question) = ask::question(text) {
            heard.question = Some(question);
            return;
        }
        if let Some(deep) = hands_deep(&tokens) {
            // how it will be told is of no comb
            self.state.hands_deep = Some(deep);
            return;
        }
        if let Some(deep) = self.state.hands_deep {
            tokens = as_parts(tokens, deep);
        }
        let tokens = slips::repair(&tokens);
        if tokens.is_empty() {
            return;
        }
        let opening = self.state.visit.combs.is_empty();
        let all = mark::marks(&tokens);
        let marks = in_scope(&tokens, &all, opening);
        let marks = self.state.counted_from_the_first_comb(marks);
        let asked_for = std::mem::replace(&mut self.state.asked_for, asked_for(&tokens, &all));
        let told = asked_for.into_iter().filter(|_| says_yes(&tokens));
        let told: Vec<Mark> = told.map(|concept| Mark::of_words(concept, 0, 1)).collect();
        let marks = [told, marks].concat();
        self.await_bar(&marks);
        self.await_temperature(&tokens, &marks);
        self.await_the_far_side(&tokens);
        self.state.recap = self.state.recap.later();
        self.state.hunting |= hunts_the_queen(&tokens);
        self.state.hears_shutting(&tokens, &marks);
        let before = self
            .state
            .clone_if(marks.iter().any(|m| m.concept != C::Word));
        let mut acts = Vec::new();
        let mut loose = None;
        let mut correcting = self.state.correcting;
        self.state.correcting = false;
        let mut ear = Ear::new(&tokens, &mut self.state, true);
        let parts = if ear.no_queen_after_all() || ear.another_was_meant(&marks) {
            acts.append(&mut ear.acts);
            Vec::new()
        } else {
            parts(&tokens, &marks)
        };
        for (cue, part) in parts {
            match cue {
                // "scratch that, leave three": the verdict alone is another
                Some(C::Undo) if self.state.last_verdict_only(&part) => correcting = true,
                // "I'll give them that as well", a pause, "scratch that"
                Some(C::Undo) if self.state.offered && acts.is_empty() => correcting = true,
                Some(C::Undo) => {
                    let earlier = !acts.is_empty();
                    let faces = self.state.last_faces;
                    self.take_back(before.as_ref().filter(|_| earlier));
                    acts.clear();
                    // "scratch that, it's three quarters": of the face that was just told
                    if part.iter().any(|m| m.concept == C::Share) {
                        self.state.last_faces = faces;
                        self.state.fact = Fact::Share;
                        self.state.retracted = false;
                    }
                    correcting = true;
                }
                Some(_) => correcting = true,
                None => {}
            }
            if correcting && !acts.is_empty() {
                // what was said in this breath is what is corrected
                self.state.last_acts = acts
                    .iter()
                    .map(|n: &Noted| (n.comb, n.act.clone()))
                    .collect();
            }
            let mut ear = Ear::new(&tokens, &mut self.state, correcting);
            ear.part(&part);
            acts.append(&mut ear.acts);
            loose = ear.loose.or(loose);
            if part.is_empty() && cue.is_some() {
                self.state.correcting = true;
            }
        }
        // a side that was told in the same breath took it
        let waits = |share: &f64| {
            let combs = &self.state.visit.combs;
            combs.iter().any(|comb| comb.loose == Some(*share))
        };
        heard.loose = loose.filter(waits).or(heard.loose.take());
        let came = !acts.is_empty() || loose.is_some();
        self.state.queen_just_seen = acts.iter().any(|n| n.act == Act::QueenSeen);
        self.state.hears_an_offer(&tokens, came);
        self.state.hears_an_echo(&marks, &acts);
        self.state.asks_how_much(&tokens, &all);
        self.state.hears_the_next(&tokens);
        self.remember(before.filter(|_| came), &acts);
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
        if acts.is_empty() {
            return;
        }
        self.state.last_acts = acts.iter().map(|n| (n.comb, n.act.clone())).collect();
    }

    /// What must be asked: a bar that is not there; a face not told of a comb that is taken.
    fn doubt(&self, acts: &[Noted]) -> Option<String> {
        acts.iter().rev().find_map(|noted| match noted.act {
            Act::CombMet { bar: Some(bar) } | Act::Renumbered(bar) if self.lacks(bar) => Some(
                format!("There is no bar {bar} in this hive; which bar is it?"),
            ),
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

    /// Whether the hive is known not to have this bar.
    pub(crate) fn lacks(&self, bar: u32) -> bool {
        !self.bars.is_empty() && !self.bars.contains(&bar)
    }

    /// Takes back what the last phrase said of combs; the combs themselves stay met.
    fn take_back(&mut self, this_phrase: Option<&State>) {
        let Some(old) = this_phrase.cloned().or_else(|| self.history.pop_back()) else {
            return;
        };
        let hand = std::mem::take(&mut self.state.hand);
        let bars: Vec<Option<u32>> = self.state.visit.combs.iter().map(|c| c.bar).collect();
        let end_start = self.state.end_start;
        let asked = std::mem::take(&mut self.state.asked);
        self.state = old;
        self.state.asked = asked;
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
    /// A part that says another verdict and nothing else, after a phrase that told more than its own.
    fn last_verdict_only(&self, part: &[Mark]) -> bool {
        let verdict = part.iter().any(|m| matches!(m.concept, C::Take | C::Leave));
        let only = part.iter().all(|m| {
            matches!(
                m.concept,
                C::Take | C::Leave | C::Num | C::Bar | C::Ord | C::That | C::But | C::Stop
            )
        });
        let decided = |(_, act): &(Option<usize>, Act)| matches!(act, Act::Decided(_));
        verdict && only && self.last_acts.iter().any(decided)
    }

    /// "so how much is sealed facing us": the share that is told next is that face's.
    fn asks_how_much(&mut self, tokens: &[Token<'_>], marks: &[Mark]) {
        let asks = tokens
            .windows(2)
            .any(|w| w[0].is("how") && (w[1].is("much") || w[1].is("far")));
        let mut faces = marks.iter().filter_map(|m| match m.concept {
            C::This => Some(Faces::This),
            C::Other => Some(Faces::Other),
            C::Both => Some(Faces::Both),
            _ => None,
        });
        if let (true, Some(face), None) = (asks, faces.next(), faces.next())
            && !self.hand.is_empty()
        {
            self.face = Some(face);
        }
    }

    fn clone_if(&self, wanted: bool) -> Option<Self> {
        wanted.then(|| self.clone())
    }
}

/// "queen hunt", "I'm after the queen today", "looking for her".
fn hunts_the_queen(tokens: &[Token<'_>]) -> bool {
    let her = |i: usize| {
        tokens
            .iter()
            .skip(i)
            .take(3)
            .any(|t| matches!(&*t.text, "queen" | "her"))
    };
    tokens.iter().enumerate().any(|(i, t)| match &*t.text {
        "hunt" => i > 0 && tokens[i - 1].is("queen"),
        "after" | "find" => i < 4 && her(i + 1),
        "looking" | "searching" | "hunting" => {
            tokens.get(i + 1).is_some_and(|t| t.is("for")) && her(i + 2)
        }
        _ => false,
    })
}

/// "yes", "yeah loads": what was asked for is there.
fn says_yes(tokens: &[Token<'_>]) -> bool {
    let yes = tokens.first().is_some_and(|t| {
        matches!(
            &*t.text,
            "yes" | "yeah" | "yep" | "yup" | "aye" | "loads" | "plenty" | "lots" | "heaps"
        )
    });
    yes && !tokens
        .iter()
        .any(|t| matches!(&*t.text, "no" | "not" | "n't" | "none"))
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
fn parts(tokens: &[Token<'_>], marks: &[Mark]) -> Vec<(Option<C>, Vec<Mark>)> {
    let mut all: Vec<(Option<C>, Vec<Mark>)> = vec![(None, Vec::new())];
    for m in marks {
        if matches!(m.concept, C::Undo | C::Correct) {
            all.push((Some(m.concept), Vec::new()));
        } else if let Some((_, part)) = all.last_mut() {
            part.push(*m);
        }
    }
    // "I said take but there's not enough behind it": what was said before, and is not meant now
    for (cue, part) in &mut all {
        let old = part.len() > 1 && part[0].concept.is_verdict() && part[1].concept == C::But;
        if *cue == Some(C::Correct) && old {
            part.remove(0);
        }
    }
    // "bar sixteen, no, fourteen": another number for the bar
    let one = |m: &Mark| m.concept == C::Num && m.value.fract() == 0.0 && m.value < 100.0;
    if let [(None, part)] = all.as_mut_slice()
        && let [bar, old, no, new] = part.as_slice()
        && matches!(bar.concept, C::Bar | C::Number)
        && one(old)
        && no.concept == C::Not
        && no.to == no.from + 1
        && tokens[no.from].is("no")
        && one(new)
    {
        let new = part.split_off(3);
        part.truncate(2);
        all.push((Some(C::Correct), new));
    }
    // "no two": another number for the one just said
    for (cue, part) in &mut all {
        if cue.is_none()
            && part.len() > 1
            && part[0].concept == C::Not
            && matches!(part[1].concept, C::Num)
            && part[0].to == part[1].from
            && (part.len() < 4 || part[2].concept == C::QueenCell && part[1].value > 1.5)
        {
            *cue = Some(C::Correct);
            part.remove(0);
        }
    }
    // "no it isn't dripping": what the cue denies
    for (_, part) in all.iter_mut().skip(1) {
        let denied = part.first().is_some_and(|m| {
            m.concept.is_held()
                || matches!(
                    m.concept,
                    C::Empty
                        | C::NewComb
                        | C::StraightYes
                        | C::StraightNo
                        | C::AttachedYes
                        | C::AttachedNo
                        | C::Capped
                )
        });
        if denied && let Some(not) = denial(tokens, marks, part) {
            part.insert(0, not);
        }
    }
    // "no scratch that": one taking back
    if let [(None, first), (Some(C::Undo), _), ..] = all.as_mut_slice()
        && first
            .iter()
            .all(|m| matches!(m.concept, C::Not | C::Stop | C::But))
    {
        first.clear();
    }
    if all.len() > 1 && all[0].1.is_empty() {
        all.remove(0);
    }
    all
}

/// The "n't" of a correction that ends in one, right before this part.
fn denial(tokens: &[Token<'_>], marks: &[Mark], part: &[Mark]) -> Option<Mark> {
    let first = part.first()?;
    let cue = marks
        .iter()
        .find(|m| m.concept == C::Correct && m.to == first.from)?;
    let not = tokens.get(cue.to - 1)?;
    matches!(&*not.text, "n't" | "not").then(|| Mark::of_words(C::Not, cue.to - 1, cue.to))
}

impl Ear<'_> {
    /// One part of a phrase.
    fn part(&mut self, marks: &[Mark]) {
        if marks.is_empty() {
            return;
        }
        let marks = &self.without_what_is_not_meant(marks);
        if let Some(parts) = self.part_no_brood(marks) {
            for part in parts {
                self.part(&part);
            }
            return;
        }
        let parted = self.but_a_strip(marks);
        let marks = parted.as_deref().unwrap_or(marks);
        let due = self.state.lone.take();
        let alone = self.lone_verdict(marks);
        self.part_told(marks);
        match alone {
            Some(lone) => self.state.lone = Some(lone),
            None => self.belongs_to_the_next(due, marks),
        }
    }

    fn part_told(&mut self, marks: &[Mark]) {
        if self.misread(marks)
            || self.rather_not(marks)
            || self.correcting && self.renumber(marks)
            || self.no_other_bar(marks)
        {
            return;
        }
        if self.wash(marks) || self.closing(marks) {
            return;
        }
        if self.review(marks) {
            return;
        }
        if let Some(at) = self.turns_at(marks) {
            self.part_told(&marks[..at]);
            self.part_told(&marks[at..]);
            return;
        }
        self.state.says_front |= marks
            .iter()
            .any(|m| m.concept == C::This && self.said(m, "front"));
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
                        | C::Left
                        | C::Right
                        | C::Follower
                )
            });
            marks.retain(|m| !(alone && matches!(m.concept, C::Ord | C::First)));
        }
        let marks = self.temperature(marks);
        let marks = self.feeding(marks);
        if self.weight_of_the_lot(&marks)
            || self.frames_added_up(&marks)
            || self.kinds_added_up(&marks)
            || self.against_what_was_wanted(&marks)
            || self.taken_and_their_weight(&marks)
            || self.adds_weights_up(&marks)
        {
            return;
        }
        let recap = !self.weighed_later(&marks) && !self.told_apart(&marks);
        if !recap {
            return;
        }
        if self.is_recap(&marks) || self.cells_and_combs(&marks) {
            self.state.recap = Recap::Told;
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

    /// "third brood staying, so across to the right end": where the talk leaves the combs of one end.
    fn turns_at(&self, marks: &[Mark]) -> Option<usize> {
        let moves = |m: &Mark| {
            (m.from.saturating_sub(1)..m.from + 4).any(|i| {
                matches!(
                    self.word(i),
                    "across" | "over" | "round" | "around" | "now" | "to" | "go" | "onto"
                )
            })
        };
        let at = marks
            .iter()
            .rposition(|m| matches!(m.concept, C::But | C::Then) && moves(m))?;
        let end = marks[at..].iter().any(|m| m.concept == C::End)
            && marks[at..]
                .iter()
                .any(|m| matches!(m.concept, C::Left | C::Right | C::HiveSide));
        let told = marks[..at].iter().any(|m| {
            matches!(
                m.concept,
                C::Brood | C::SealedBrood | C::Leave | C::Take | C::Capped | C::Share | C::Eggs
            )
        });
        (end && told && !self.state.visit.ends.is_empty()).then_some(at)
    }
}

/// The concepts that a phrase is read as, in order, each with the lexicon's phrase where it was
/// one. What is left out as not about this hive today is not among them. For explaining and for
/// the honesty check.
pub fn concepts_of(phrase: &str) -> Vec<(&'static str, String)> {
    let lower = phrase.to_ascii_lowercase();
    let tokens = slips::repair(&tokens(&lower));
    in_scope(&tokens, &mark::marks(&tokens), false)
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

/// Reads the lexicon, which the first phrase would otherwise wait for: a phone takes a third of a second.
pub fn get_ready() {
    // it lies in tables that are made when they are first looked into
    Listener::new().hear("bar one is half capped");
}

/// Hears a whole text, line by line, as [`Listener::hear`] would.
pub fn hear_text(text: &str) -> (Visit, Vec<Heard>) {
    let mut listener = Listener::new();
    let heard = text.lines().map(|line| listener.hear(line)).collect();
    (listener.finish(), heard)
}
