//! From a heard visit to what the journal records: combs become bars, "this side" a face that stays
//! true, "into the bucket" a harvest.
//!
//! Nothing is written here: [`record`] gives drafts in the order in which they were said, each with
//! the words it came from, and the doubts worth a question. Give the phrases as [`Transcript`]s hear
//! them; live, record again after each phrase and write only what is new.

mod bars;
mod closing;
mod contents;

use comb::order::InOrder as _;
use comb::{Mass, Temperature};
use hive::entry::{End, Harvest, Weather};
use hive::matching::Matching;
use hive::{BarId, Hive, Known};
use jiff::Timestamp;
use thiserror::Error;

use crate::act::{self, Act};
use crate::ask::{Advice, Question};
use crate::listener::{Heard, Listener};
use crate::loose::question;
use crate::tap::Tap;
use crate::visit::{Comb, Visit};
use crate::worth_noting::worth_noting;

/// What was said, phrase by phrase, and what was understood of it.
#[derive(Debug, Clone, Default)]
pub struct Transcript {
    listener: Listener,
    /// With their words; a tap has none.
    phrases: Vec<(Option<String>, Heard)>,
}

impl Transcript {
    /// Of a visit to a hive that has these bars; asks back when another is named.
    pub fn at_bars(bars: impl IntoIterator<Item = u32>) -> Self {
        Self {
            listener: Listener::with_bars(bars),
            phrases: Vec::new(),
        }
    }

    /// Of a whole text, a phrase a line.
    pub fn of(text: &str) -> Self {
        let mut transcript = Self::default();
        for line in text.lines() {
            transcript.hear(line);
        }
        transcript
    }

    /// Hears one more phrase. Phrases that said nothing about the hive are not kept; what is told of
    /// disease and treatments is, as a note.
    pub fn hear(&mut self, phrase: &str) -> Heard {
        let mut heard = self.listener.hear(phrase);
        heard.noted = heard.question.is_none() && worth_noting(phrase);
        if !heard.acts.is_empty() || heard.noted {
            let words = Some(phrase.trim().to_owned());
            self.phrases.push((words, heard.clone()));
        }
        heard
    }

    /// Takes a tap as if it had been said.
    pub fn tap(&mut self, tap: &Tap) -> Heard {
        let heard = self.listener.tap(tap);
        if !heard.acts.is_empty() {
            self.phrases.push((None, heard.clone()));
        }
        heard
    }

    /// How many phrases and taps said something about the hive.
    pub fn len(&self) -> usize {
        self.phrases.len()
    }

    /// What is kept whole as a note, in order.
    pub fn notes(&self) -> impl Iterator<Item = &str> {
        let noted = self.phrases.iter().filter(|(_, heard)| heard.noted);
        noted.filter_map(|(words, _)| words.as_deref())
    }

    /// The place of the reading to hear, see [`Listener::likeliest`].
    pub fn likeliest(&self, readings: &[impl AsRef<str>]) -> Option<usize> {
        self.listener.likeliest(readings)
    }

    /// The comb in hand, by the order met; the last of them where several are.
    pub fn in_hand(&self) -> Option<usize> {
        self.listener.in_hand()
    }

    /// The answer to a question, one short sentence.
    pub fn answer(&self, question: Question, advice: &dyn Advice) -> String {
        self.listener.answer(question, advice)
    }

    /// True while nothing about a hive was understood.
    pub fn is_empty(&self) -> bool {
        self.phrases.is_empty()
    }

    /// The visit as understood so far.
    pub fn visit(&self) -> &Visit {
        self.listener.visit()
    }

    /// The last phrase with an act of this kind, and its words.
    fn last(&self, is: impl Fn(&Act, Option<usize>) -> bool) -> Option<usize> {
        self.phrases
            .iter()
            .rposition(|(_, heard)| heard.acts.iter().any(|n| is(&n.act, n.comb)))
    }

    /// Every phrase with an act of this kind on a comb; one that has several stands as often.
    fn all(&self, comb: usize, is: impl Fn(&Act) -> bool) -> Vec<usize> {
        let of_phrase = |(at, (_, heard)): (usize, &(_, Heard))| {
            let acts = heard.acts.iter();
            let count = acts.filter(|n| n.comb == Some(comb) && is(&n.act)).count();
            std::iter::repeat_n(at, count)
        };
        self.phrases
            .iter()
            .enumerate()
            .flat_map(of_phrase)
            .collect()
    }

    fn words(&self, phrase: usize) -> Option<String> {
        self.phrases.get(phrase)?.0.clone()
    }
}

/// One entry to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// Which kept phrase it came from; drafts are in this order.
    pub phrase: usize,
    /// The words.
    pub said: Option<String>,
    /// What happened.
    pub known: Known,
}

/// What is to be recorded of a visit.
#[derive(Debug, Clone, PartialEq)]
pub struct Recording {
    /// How many phrases said something about the hive.
    pub phrases: usize,
    /// Entries, the opening of the visit first.
    pub drafts: Vec<Draft>,
    /// The bar of each comb heard, in the order met.
    pub bars: Vec<BarId>,
    /// How combs without a number said were recognised; `None` when every number was said.
    pub matching: Option<Matching>,
    /// What is worth a question, because it changes a decision or the record.
    pub doubts: Vec<String>,
}

/// Why a visit cannot be recorded into this hive.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum RecordError {
    /// Nothing about a hive was understood.
    #[error("nothing about a hive was understood in these words")]
    NothingHeard,
    /// A number that no bar bears.
    #[error("there is no bar {number} in {hive}; its bars are {have}")]
    NoSuchBar {
        /// The number heard.
        number: u32,
        /// The hive.
        hive: String,
        /// The numbers there are, as ranges.
        have: String,
    },
    /// More combs were met than there are bars.
    #[error("{met} combs were met at the {end} end of {hive}, which has {bars} bars there")]
    TooManyCombs {
        /// Combs met.
        met: usize,
        /// Which end, in words.
        end: &'static str,
        /// The hive.
        hive: String,
        /// Bars to be met.
        bars: usize,
    },
    /// Combs were counted from an end that was not named.
    #[error("which end of {hive} was opened was not said, and combs were counted from it")]
    EndNotSaid {
        /// The hive.
        hive: String,
    },
    /// A share, weight or other figure outside its range.
    #[error("comb {comb}: {why}")]
    Figure {
        /// Which comb, counted from 1 in the order met.
        comb: usize,
        /// What is wrong.
        why: String,
    },
}

/// What is to be recorded of a visit heard, for this hive as it stands.
///
/// `end` stands in where the keeper did not say which end was opened.
///
/// # Errors
/// [`RecordError`]: a number that is not there, more combs than bars, an end nobody named.
pub fn record(
    transcript: &Transcript,
    hive: &Hive,
    end: Option<End>,
    now: Timestamp,
) -> Result<Recording, RecordError> {
    let visit = transcript.visit();
    if transcript.phrases.is_empty() {
        return Err(RecordError::NothingHeard);
    }
    let seen = contents::seen(visit)?;
    let told = bars::resolve(visit, &seen, hive, end, now)?;
    let mut writing = Writing {
        transcript,
        hive,
        drafts: Vec::new(),
        doubts: Vec::new(),
    };
    writing.opening(visit, &told.ends);
    for (index, comb) in visit.combs.iter().enumerate() {
        let near = told.ends[comb.end.min(told.ends.len() - 1)];
        writing.comb(index, comb, told.bars[index], &seen[index], near);
    }
    writing.counts(visit, &told.bars);
    writing.notes();
    writing.closing(visit, &told);
    if let Some(matching) = &told.matching {
        writing.matched(matching);
    }
    let Writing {
        mut drafts, doubts, ..
    } = writing;
    drafts.order_by_key(|draft| draft.phrase);
    let opening = drafts
        .iter()
        .position(|d| matches!(d.known, Known::VisitOpened { .. }));
    if let Some(opening) = opening {
        drafts[..=opening].rotate_right(1);
    }
    let phrases = transcript.phrases.len();
    Ok(Recording {
        phrases,
        drafts,
        bars: told.bars,
        matching: told.matching,
        doubts,
    })
}

struct Writing<'a> {
    transcript: &'a Transcript,
    hive: &'a Hive,
    drafts: Vec<Draft>,
    doubts: Vec<String>,
}

impl Writing<'_> {
    fn write(&mut self, phrase: Option<usize>, known: Known) {
        let said = phrase.and_then(|p| self.transcript.words(p));
        let phrase = phrase.unwrap_or(0);
        self.drafts.push(Draft {
            phrase,
            said,
            known,
        });
    }

    fn opening(&mut self, visit: &Visit, ends: &[End]) {
        let temperature = self
            .transcript
            .last(|act, _| matches!(act, Act::Temperature(_)));
        let weather = Weather {
            temperature_c: visit.temperature_c.map(Temperature::celsius),
            words: temperature.and_then(|p| self.transcript.words(p)),
        };
        self.drafts.push(Draft {
            phrase: 0,
            said: self.transcript.words(0),
            known: Known::VisitOpened { aim: None, weather },
        });
        let opened: Vec<usize> = self
            .transcript
            .phrases
            .iter()
            .enumerate()
            .flat_map(|(at, (_, heard))| {
                heard
                    .acts
                    .iter()
                    .filter(|n| matches!(n.act, Act::EndOpened(_)))
                    .map(move |_| at)
            })
            .collect();
        for (index, end) in ends.iter().enumerate() {
            let phrase = opened.get(index).copied();
            self.write(phrase, Known::EndOpened { end: *end });
        }
    }

    fn comb(&mut self, index: usize, comb: &Comb, bar: BarId, seen: &contents::Seen, near: End) {
        let of_comb = |is: fn(&Act) -> bool| {
            self.transcript
                .last(|act, which| which == Some(index) && is(act))
        };
        let met = of_comb(|act| matches!(act, Act::CombMet { .. }));
        let judged = of_comb(judges).or(met);
        let decided =
            of_comb(|act| matches!(act, Act::Decided(_) | Act::Broke | Act::TakenWhole)).or(judged);
        let broke = of_comb(|act| matches!(act, Act::Broke)).is_some();
        let turned = self.transcript.all(index, |act| matches!(act, Act::Turned));
        if seen.says_something() {
            // faces are told as they hung when it was judged
            let since = turned.iter().filter(|at| Some(**at) > judged).count();
            let near = if since % 2 == 1 { near.other() } else { near };
            let contents = seen.contents(near);
            self.write(judged, Known::CombSeen { bar, contents });
        }
        for at in turned {
            self.write(Some(at), Known::BarTurned { bar });
        }
        if comb.aside {
            self.write(decided, Known::SetAside { bar });
        }
        self.doubt_of_side(comb, bar);
        let Some(decision) = comb.decision else {
            return;
        };
        let take = decision == act::Decision::Take;
        self.write(
            decided,
            Known::Decided {
                bar,
                decision: if take {
                    hive::entry::Decision::Take
                } else {
                    hive::entry::Decision::Leave
                },
                advised: None,
            },
        );
        if take {
            let how = if broke {
                Harvest::Broken
            } else if comb.to_other_hive || comb.whole {
                // a comb that moves with its bees keeps its bar
                Harvest::Whole
            } else {
                Harvest::Cut
            };
            self.write(decided, Known::CombTaken { bar, how });
        }
        self.doubt_of(comb, bar, take);
    }

    /// Asked only where the answer changes what is done: a comb taken on the look of one side.
    fn doubt_of(&mut self, comb: &Comb, bar: BarId, take: bool) {
        let one_side = comb.this.is_some() != comb.other.is_some();
        let brood = comb.holds.iter().any(|h| {
            matches!(
                h,
                act::Hold::WorkerBrood | act::Hold::DroneBrood | act::Hold::Eggs
            )
        });
        let number = self.hive.bar(bar).map_or(0, |bar| bar.number);
        if take && one_side && !brood && !comb.to_other_hive {
            self.doubts.push(format!(
                "Bar {number} is taken on one side's look: what of the other?"
            ));
        }
        if take && brood && !comb.to_other_hive {
            self.doubts.push(format!(
                "Bar {number} is taken with brood on it: is that meant?"
            ));
        }
        if comb.aside && comb.decision.is_none() {
            self.doubts.push(format!(
                "Bar {number} is still set aside: take it or put it back?"
            ));
        }
    }

    /// A share without a side is on no face of the record.
    fn doubt_of_side(&mut self, comb: &Comb, bar: BarId) {
        let Some(share) = comb.loose else { return };
        let number = self.hive.bar(bar).map_or(0, |bar| bar.number);
        self.doubts.push(question(share, &format!("bar {number}")));
    }

    fn counts(&mut self, visit: &Visit, bars: &[BarId]) {
        let on = |transcript: &Transcript, phrase: Option<usize>| {
            let (_, heard) = transcript.phrases.get(phrase?)?;
            heard
                .acts
                .iter()
                .rev()
                .find_map(|n| n.comb)
                .and_then(|comb| bars.get(comb).copied())
        };
        if visit.queen_seen {
            let phrase = self.transcript.last(|act, _| matches!(act, Act::QueenSeen));
            // "saw the queen there": on the comb in hand
            let in_hand = visit.queen_on.and_then(|comb| bars.get(comb).copied());
            let bar = on(self.transcript, phrase).or(in_hand);
            self.write(phrase, Known::QueenSeen { bar });
        }
        let cells = self
            .transcript
            .last(|act, _| matches!(act, Act::QueenCells(_)));
        if let Some(count) = visit.queen_cells {
            self.write(cells, Known::QueenCells { bar: None, count });
        }
        if let (Some(mites), Some(bees)) = (visit.mites, visit.bees) {
            let phrase = self
                .transcript
                .last(|act, _| matches!(act, Act::Mites { .. }));
            self.write(phrase, Known::MiteWash { mites, bees });
        }
        if let Some(food) = visit
            .feed
            .clone()
            .or_else(|| visit.litres.or(visit.feed_kg).map(|_| "syrup".to_owned()))
        {
            let phrase = self
                .transcript
                .last(|act, _| matches!(act, Act::Fed { .. }));
            self.write(
                phrase,
                Known::Fed {
                    food,
                    litres: visit.litres,
                    mass_kg: visit.feed_kg.map(Mass::kg),
                },
            );
        }
    }

    /// What tells of disease and treatments, as it was said.
    fn notes(&mut self) {
        let phrases = self.transcript.phrases.iter().enumerate();
        let noted = phrases.filter(|(_, (_, heard))| heard.noted);
        let noted: Vec<(usize, String)> = noted
            .filter_map(|(at, (words, _))| Some((at, words.clone()?)))
            .collect();
        for (at, text) in noted {
            self.write(Some(at), Known::Note { text });
        }
    }

    fn matched(&mut self, matching: &Matching) {
        let last = self.transcript.phrases.len() - 1;
        self.drafts.push(Draft {
            phrase: last,
            said: None,
            known: Known::Matched {
                bars: matching.matches(),
            },
        });
        if matching.unsure().next().is_some() {
            self.doubts
                .push(format!("Bars without numbers: {}.", matching.in_words()));
        }
    }
}

/// Acts that judge a comb.
fn judges(act: &Act) -> bool {
    matches!(
        act,
        Act::Capped(..)
            | Act::Holds(_)
            | Act::HoldsNot(_)
            | Act::Filled(_)
            | Act::Attached(_)
            | Act::Straight(_)
            | Act::Weighs(_)
            | Act::Thick(_)
    )
}
