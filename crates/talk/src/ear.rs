//! One phrase being heard: its words and marks, and the state that it changes.

use crate::act::{Act, Decision, End, Noted, Rule};
use crate::concept::Concept;
use crate::mark::Mark;
use crate::token::Token;
use crate::visit::{Comb, MOST_COMBS, Visit};

/// What was last said in figures; "make that three" changes it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Fact {
    #[default]
    Nothing,
    Share,
    Kg,
    Mm,
    Temperature,
    Litres,
    Mites,
    QueenCells,
    Bar,
}

/// The course of the talk so far.
#[derive(Debug, Clone, PartialEq, Default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is one thing said or not said"
)]
pub(crate) struct State {
    pub(crate) visit: Visit,
    /// Combs that "it" means, by index.
    pub(crate) hand: Vec<usize>,
    /// First comb of the end being worked.
    pub(crate) end_start: usize,
    /// A face was named and its share not yet said.
    pub(crate) face: Option<Faces>,
    /// A face was named last, and may yet have a share of its own.
    pub(crate) perhaps: Option<Faces>,
    /// A share was said and no face.
    pub(crate) share: Option<f64>,
    /// Combs whose side was asked for.
    pub(crate) asked: Vec<usize>,
    /// Combs that the question just put is about.
    pub(crate) due: Vec<usize>,
    /// Faces that the last share was for.
    pub(crate) last_faces: Option<Faces>,
    /// The last share was not said, only that the face is capped.
    pub(crate) implicit: bool,
    pub(crate) fact: Fact,
    /// Last weight unit, in kilograms.
    pub(crate) weight_unit: f64,
    /// The near face is called the front.
    pub(crate) says_front: bool,
    /// "back" was said alone, and may be the face or the verdict.
    pub(crate) back_open: bool,
    /// "thickness" was said, and its figure not yet.
    pub(crate) thick_awaited: bool,
    /// The last phrase ended so, and this one may be the figure.
    pub(crate) thick_due: bool,
    /// The temperature was asked for.
    pub(crate) temperature_asked: bool,
    /// It was asked for in the last phrase, and this one may be the answer.
    pub(crate) temperature_due: bool,
    /// The one who holds the comb was asked for the side that looks at them.
    pub(crate) asked_your_side: bool,
    /// It was asked in the last phrase, and "my side" is the far one.
    pub(crate) told_by_the_other: bool,
    /// The queen is being looked for, and "no" is about her.
    pub(crate) hunting: bool,
    /// The queen was last named, and nothing said of her.
    pub(crate) queen_named: bool,
    /// She was seen in the last phrase, and may be none after all.
    pub(crate) queen_just_seen: bool,
    /// The last phrase was an offer that came to nothing.
    pub(crate) offered: bool,
    /// The comb in hand was called by its place in the row: "the third".
    pub(crate) by_order: bool,
    /// The next comb was spoken of, and nothing told of it yet.
    pub(crate) next_due: bool,
    /// Weights are being added up.
    pub(crate) summing: bool,
    /// What they came to.
    pub(crate) sum: Option<f64>,
    /// "bar" was said, and its number not yet.
    pub(crate) bar_awaited: bool,
    /// The last phrase ended so, and this one begins with the number.
    pub(crate) bar_due: bool,
    /// Combs met in one breath: "the next three".
    pub(crate) group: Vec<usize>,
    /// Weights are told of combs that were taken before.
    pub(crate) weighing: bool,
    /// Combs that this telling gave a weight.
    pub(crate) weighed: Vec<usize>,
    /// The last phrase was a verdict and nothing else.
    pub(crate) lone: Option<crate::verdict_first::Lone>,
    /// The keeper says first what becomes of a comb, and then what it is.
    pub(crate) verdict_first: bool,
    /// A bar without comb is in hand; what becomes of it is of no comb.
    pub(crate) bare_bar: bool,
    /// The bar before the comb in hand had none.
    pub(crate) bare_before: bool,
    /// Bars without comb that were counted among those of this end: "first bar nothing".
    pub(crate) bare_counted: usize,
    /// The number of the last bar called, where no comb hung on it.
    pub(crate) bare_number: Option<u32>,
    /// Combs are called up again and settled.
    pub(crate) reviewing: bool,
    /// The end that they are called from, by the order opened.
    pub(crate) review_end: Option<usize>,
    /// Mites are being counted.
    pub(crate) washing: bool,
    /// A count was spoken of; half a cup or a mite is enough to begin it.
    pub(crate) wash_day: bool,
    /// The count was told with its bees; a number alone is no more of it.
    pub(crate) wash_told: bool,
    /// The number that counting aloud has reached.
    pub(crate) counted: u32,
    /// Queen cells that the last count added.
    pub(crate) cells_added: u32,
    /// Queen cells counted before the comb in hand was met.
    pub(crate) cells_before: u32,
    /// The order of closing is being said.
    pub(crate) closing: bool,
    /// The last phrase said that the hive is being closed.
    pub(crate) shutting: bool,
    /// The phrase before it did.
    pub(crate) shut_before: bool,
    /// Since the last row of it something was put right, and no row.
    pub(crate) closing_doubted: bool,
    /// The last row of it was one comb, described and not only named.
    pub(crate) closed_in_words: bool,
    /// The comb in hand was taken back; the next one named replaces it.
    pub(crate) retracted: bool,
    /// A correction was announced at the end of the last phrase.
    pub(crate) correcting: bool,
    /// Where the comb was put that stands aside: the word for the place.
    pub(crate) stand: String,
    /// What is known of the comb in hand was said of another: "same again".
    pub(crate) copied: bool,
    /// What the last phrase asked for of the comb in hand: "any brood in it".
    pub(crate) asked_for: Vec<Concept>,
    /// The comb that was said to hang together with the next one, which is not met yet.
    pub(crate) into_next: Option<usize>,
    /// The comb in hand got another number, and had this one before.
    pub(crate) renumbered: Option<(usize, u32)>,
    /// How many hand's breadths a comb is deep, as this keeper says.
    pub(crate) hands_deep: Option<f64>,
    /// They are being counted, and their kinds may be told.
    pub(crate) counts_kinds: bool,
    /// Combs were counted.
    pub(crate) recap: crate::added_up::Recap,
    /// How often what was just said was said once more.
    pub(crate) echoes: u32,
    /// What the last phrase added to the comb in hand.
    pub(crate) last_acts: Vec<(Option<usize>, Act)>,
}

/// One face or both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Faces {
    This,
    Other,
    Both,
}

/// A phrase and the state that it changes.
pub(crate) struct Ear<'a> {
    pub(crate) tokens: &'a [Token<'a>],
    pub(crate) state: &'a mut State,
    pub(crate) acts: Vec<Noted>,
    /// A correction was announced before this part of the phrase.
    pub(crate) correcting: bool,
    /// A share was said without its side.
    pub(crate) loose: Option<f64>,
}

impl<'a> Ear<'a> {
    pub(crate) const fn new(
        tokens: &'a [Token<'a>],
        state: &'a mut State,
        correcting: bool,
    ) -> Self {
        Self {
            tokens,
            state,
            acts: Vec::new(),
            correcting,
            loose: None,
        }
    }
}

impl Ear<'_> {
    /// Writes an act down with the words from one mark to another.
    pub(crate) fn note(
        &mut self,
        rule: &'static str,
        act: Act,
        comb: Option<usize>,
        words: &[Mark],
    ) {
        let from = words.iter().map(|m| m.from).min().unwrap_or(0);
        let to = words.iter().map(|m| m.to).max().unwrap_or(0).max(from + 1);
        let start = self.tokens.get(from).map_or(0, |t| t.span.start);
        let end = self.tokens.get(to - 1).map_or(start, |t| t.span.end);
        self.state.visit.apply(&act, comb);
        self.acts.push(Noted {
            act,
            comb,
            words: start..end.max(start),
            rule: Rule(rule),
        });
    }

    /// The same for every comb in hand.
    pub(crate) fn note_hand(&mut self, rule: &'static str, act: &Act, words: &[Mark]) {
        for comb in self.state.hand.clone() {
            self.note(rule, act.clone(), Some(comb), words);
        }
    }

    pub(crate) fn decide(
        &mut self,
        rule: &'static str,
        d: Option<Decision>,
        combs: &[usize],
        words: &[Mark],
    ) {
        for &comb in combs {
            self.note(rule, Act::Decided(d), Some(comb), words);
        }
    }

    /// Takes combs not met before in hand.
    pub(crate) fn meet(&mut self, rule: &'static str, bars: &[Option<u32>], words: &[Mark]) {
        if std::mem::take(&mut self.state.back_open) {
            // no share came after "back": it was the verdict
            for comb in self.state.hand.clone() {
                let told = self.state.visit.combs.get(comb);
                if told.is_some_and(|c| c.other.is_none() && c.decision.is_none()) {
                    let back = Act::Decided(Some(Decision::Leave));
                    self.note("it went back", back, Some(comb), words);
                }
            }
        }
        self.state.hand.clear();
        self.state.face = None;
        self.state.share = None;
        self.state.perhaps = None;
        self.state.last_faces = None;
        self.state.closing = false;
        self.state.copied = false;
        for &bar in bars {
            if self.state.visit.combs.len() >= MOST_COMBS {
                return;
            }
            let comb = self.state.visit.combs.len();
            self.note(rule, Act::CombMet { bar }, Some(comb), words);
            self.state.hand.push(comb);
        }
        self.state.group = if bars.len() > 1 {
            self.state.hand.clone()
        } else {
            Vec::new()
        };
        self.state.combs_go_on();
        self.state.by_order = rule == "ordinal";
        self.state.summing = false;
        self.state.next_due = false;
        self.state.bare_before = std::mem::take(&mut self.state.bare_bar);
        self.state.bare_number = None;
        self.state.counts_kinds = false;
        self.state.weighing = false;
        self.state.weighed.clear();
        self.state.reviewing = false;
        // "one cell" on another comb is no echo
        let here = |n: &Noted| matches!(n.act, Act::QueenCells(_));
        let counted = self.state.visit.queen_cells.unwrap_or(0);
        if !self.acts.iter().any(here) {
            self.state.cells_added = 0;
        }
        self.state.cells_before = counted.saturating_sub(self.state.cells_added);
        self.state.review_end = None;
        if bars.iter().any(Option::is_some) {
            self.state.fact = Fact::Bar;
        }
    }

    /// Takes combs met before in hand again.
    pub(crate) fn back_to(&mut self, combs: Vec<usize>) {
        if combs != self.state.hand {
            self.state.face = None;
            // "bar fifteen", a pause, "both sides": of the share that was said without a side
            self.state.share = self.state.loose_on(&combs);
        }
        self.state.hand = combs;
    }

    /// The comb that is the nth of those met in one breath, where they are still spoken of.
    pub(crate) fn in_group(&self, n: usize) -> Option<usize> {
        let group = &self.state.group;
        let spoken_of = self.state.hand.iter().all(|c| group.contains(c));
        let comb = *group.get(n.checked_sub(1)?)?;
        (spoken_of && !self.state.hand.is_empty()).then_some(comb)
    }

    pub(crate) fn comb(&self) -> Option<&Comb> {
        self.state.visit.combs.get(*self.state.hand.last()?)
    }

    pub(crate) fn word(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", |t| &*t.text)
    }

    /// The words of a mark.
    pub(crate) fn said(&self, mark: &Mark, word: &str) -> bool {
        (mark.from..mark.to).any(|i| self.word(i) == word)
    }

    /// Whether one of the words stands between two marks.
    pub(crate) fn between(&self, a: &Mark, b: &Mark, words: &[&str]) -> bool {
        (a.to..b.from).any(|i| words.contains(&self.word(i)))
    }

    pub(crate) fn open_end(&mut self, rule: &'static str, end: Option<End>, words: &[Mark]) {
        self.note(rule, Act::EndOpened(end), None, words);
        self.state.end_start = self.state.visit.combs.len();
        self.state.bare_number = None;
        self.state.bare_counted = 0;
        self.state.combs_go_on();
        self.state.hand.clear();
        self.state.face = None;
        self.state.share = None;
    }
}
