//! The steps of a visit, and what they come to.

use hive::entry::{End, Piece};
use hive::pen::{Pen, Stamp, Subject};
use hive::{DeviceId, Entry, EntryId, Hive, HiveId, Known, Yard, check};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use talk::act::{Act, Noted, Side};
use talk::record::{RecordError, Transcript, record};
use talk::{Heard, Tap};
use uuid::Uuid;

use crate::advised::{carried, note_advice, to_the_split};
use crate::bare::doubt_comb_on_bare_bars;
use crate::due::Written;
use crate::put_right::Taken;
use crate::step::{Did, Step};

/// A visit as it is kept, so that it goes on where it was broken off: what was said and done, and
/// what of it is written down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Session {
    /// The hive.
    pub hive: HiveId,
    /// The visit's name in the journal.
    pub visit: EntryId,
    /// The end that is open, where no step says it.
    pub end: Option<End>,
    /// In the order taken.
    pub steps: Vec<Step>,
    /// Entries written so far that still stand for this session, in the order written.
    pub(crate) written: Vec<Written>,
    /// Entries that somebody else took back, and the steps that told them with them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) gone: Vec<Written>,
}

/// What a step came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// What was understood, the question that it asks, what must be asked back.
    pub heard: Heard,
    /// Whether anything changed by it.
    pub changed: bool,
    /// It took back what was said before ("scratch that") and told nothing itself.
    pub took_back: bool,
}

/// An entry that the journal should hold.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Target {
    pub(crate) at: Timestamp,
    pub(crate) said: Option<String>,
    pub(crate) known: Known,
}

/// A session with everything that follows from it.
#[derive(Debug, Clone)]
pub struct Live {
    session: Session,
    /// The hive without anything of this visit.
    base: Hive,
    transcript: Transcript,
    /// When each kept phrase was said.
    times: Vec<Timestamp>,
    told: Vec<Told>,
    /// What was said comes to, the last time it came to anything.
    drafted: Vec<Target>,
    pub(crate) targets: Vec<Target>,
    bars: Vec<hive::BarId>,
    carried: Vec<hive::BarId>,
    refused: Option<RecordError>,
    doubts: Vec<String>,
    hive: Hive,
}

impl Session {
    /// A visit that begins.
    pub const fn begin(hive: HiveId, visit: EntryId) -> Self {
        Self {
            hive,
            visit,
            end: None,
            steps: Vec::new(),
            written: Vec::new(),
            gone: Vec::new(),
        }
    }

    /// Takes over what others changed in the journal, once the steps come to the same.
    pub(crate) fn settle(&mut self) {
        self.gone
            .extend(self.written.extract_if(.., |w| w.says().is_none()));
        for written in &mut self.written {
            if let Some(says) = written.says.take() {
                written.known = says;
            }
            written.theirs = false;
        }
    }

    /// True when the last word was said.
    pub fn is_over(&self) -> bool {
        self.steps.iter().any(|step| step.did == Did::Over)
    }

    /// The hive that combs carried away on their bars go to; `None` is no hive of this yard.
    pub fn carried_to(&self) -> Option<HiveId> {
        self.carrying()?.0
    }

    /// The last word on where carried combs go: which hive, when it was said, and the words.
    fn carrying(&self) -> Option<(Option<HiveId>, Timestamp, Option<&str>)> {
        self.steps.iter().rev().find_map(|step| match &step.did {
            Did::CarriedTo { to, said } => Some((*to, step.at, said.as_deref())),
            _ => None,
        })
    }

    /// A split happens when its combs are carried and it is said where they go.
    fn told_of_carrying(&self, target: Target) -> Target {
        match (&target.known, self.carrying()) {
            (Known::SplitTo { .. }, Some((_, at, said))) => Target {
                at: target.at.max(at),
                said: said.map(str::to_owned).or(target.said),
                ..target
            },
            _ => target,
        }
    }

    /// True while something of it is written that stands.
    pub const fn has_written(&self) -> bool {
        !self.written.is_empty()
    }
}

/// The hive as it stood before a visit, with everything else that the journal knows of it; `None` when
/// there is no such hive.
pub fn before(yard: &Yard, hive: HiveId, visit: EntryId) -> Option<Hive> {
    if yard.entry(visit).is_none() {
        return yard.hive(hive).cloned();
    }
    let others = yard.journal().filter(|entry| entry.visit != Some(visit));
    Yard::fold(others.cloned()).hive(hive).cloned()
}

/// The face that an act sets by itself.
const fn face(act: &Act) -> Option<Side> {
    match act {
        Act::Capped(side, _) => Some(*side),
        _ => None,
    }
}

/// Both steps as one at the time of the first, where the second sets the face that the first one set.
fn joined(last: &Step, step: &Step) -> Option<Step> {
    let (Did::Tapped(taps), Did::Tapped(more)) = (&last.did, &step.did) else {
        return None;
    };
    let sets = |taps: &[Tap]| match taps {
        [Tap::Tell(act), ..] => face(act),
        _ => None,
    };
    let goes_on = more.len() == 1 && sets(more).is_some() && sets(more) == sets(taps);
    goes_on.then(|| Step {
        at: last.at,
        did: Did::Tapped([taps.as_slice(), more].concat()),
    })
}

impl Live {
    /// A session at its hive, as that stood before the visit.
    pub fn new(session: Session, base: Hive) -> Self {
        let mut live = Self {
            transcript: Transcript::default(),
            times: Vec::new(),
            told: Vec::new(),
            drafted: Vec::new(),
            targets: Vec::new(),
            bars: Vec::new(),
            carried: Vec::new(),
            refused: None,
            doubts: Vec::new(),
            hive: base.clone(),
            session,
            base,
        };
        live.fold();
        live
    }

    /// The session, to be kept.
    pub const fn session(&self) -> &Session {
        &self.session
    }

    /// Takes a step; what it came to. A press on the face that the step before set goes into that
    /// step: an eighth more and an eighth more is one thing told.
    pub fn step(&mut self, step: Step) -> &Told {
        let together = self
            .session
            .steps
            .last()
            .and_then(|last| joined(last, &step));
        let step = if let Some(together) = together {
            self.session.steps.pop();
            self.take_on(&together);
            together
        } else if matches!(step.did, Did::PutRight { .. }) {
            self.session.steps.push(step);
            self.fold();
            return &self.told[self.told.len() - 1];
        } else {
            self.take(&step, Taken::AsHeard);
            step
        };
        self.session.steps.push(step);
        self.come_to();
        &self.told[self.told.len() - 1]
    }

    /// The last press of a step that goes on; the others were taken before.
    fn take_on(&mut self, step: &Step) {
        let before = self.told.pop();
        let Did::Tapped(taps) = &step.did else { return };
        let (heard, changed) = self.tapped(&taps[taps.len().saturating_sub(1)..], step.at);
        let changed = before.is_some_and(|told| told.changed) || changed;
        self.told.push(Told {
            heard,
            changed,
            took_back: false,
        });
    }

    /// What taps come to, and whether any of them changed the visit.
    fn tapped(&mut self, taps: &[Tap], at: Timestamp) -> (Heard, bool) {
        let mut all = Heard::default();
        let mut changed = false;
        for tap in taps {
            let visit = self.transcript.visit().clone();
            let heard = self.transcript.tap(tap);
            self.times.resize(self.transcript.len(), at);
            // of presses on one face the last counts
            let said_anew = |noted: &Noted| {
                heard.acts.iter().any(|new| {
                    new.comb == noted.comb
                        && face(&new.act).is_some_and(|f| face(&noted.act) == Some(f))
                })
            };
            all.acts.retain(|noted| !said_anew(noted));
            all.acts.extend(heard.acts);
            all.ask = heard.ask.or(all.ask);
            changed |= *self.transcript.visit() != visit;
        }
        (all, changed)
    }

    /// The step that [`Live::undo`] would take back, and what it came to.
    pub fn last_change(&self) -> Option<(&Step, &Told)> {
        self.told().rev().find(|(_, told)| told.changed)
    }

    /// What the step at this place took back that told nothing itself, as far as it can be told.
    pub fn taken_back_by(&self, nth: usize) -> Option<(&Step, &Told)> {
        let mut standing = Vec::new();
        for (at, told) in self.told.iter().enumerate() {
            if told.took_back {
                let was = standing.pop();
                if at == nth {
                    return was.map(|was| (&self.session.steps[was], &self.told[was]));
                }
            } else if !told.heard.acts.is_empty() || told.heard.loose.is_some() {
                standing.push(at);
            }
        }
        None
    }

    /// The end that is open, where no step says it.
    pub fn set_end(&mut self, end: Option<End>) {
        self.session.end = end;
        self.come_to();
    }

    /// Takes back the last step that changed anything, and what came after it; false when there is
    /// none. The journal only grows: what was written of it is taken back by [`Live::due`].
    pub fn undo(&mut self) -> bool {
        let Some(last) = self.told.iter().rposition(|told| told.changed) else {
            return false;
        };
        self.session.steps.truncate(last);
        self.fold();
        true
    }

    /// Whether there is anything to take back.
    pub fn can_undo(&self) -> bool {
        self.told.iter().any(|told| told.changed)
    }

    /// What each step came to, in their order.
    pub fn told(&self) -> impl DoubleEndedIterator<Item = (&Step, &Told)> {
        self.session.steps.iter().zip(&self.told)
    }

    /// The visit as understood so far.
    pub fn visit(&self) -> &talk::Visit {
        self.transcript.visit()
    }

    /// What was said, for answers.
    pub const fn transcript(&self) -> &Transcript {
        &self.transcript
    }

    /// The hive as it stands now, with everything said, but without the histories of before: of each
    /// bar the last look, of visits this one.
    pub const fn hive(&self) -> &Hive {
        &self.hive
    }

    /// The same with all its history, for what learns from it.
    pub fn hive_with_history(&self) -> Hive {
        check::staged(&self.base, &self.entries())
    }

    /// The hive as it stood before the visit.
    pub const fn before(&self) -> &Hive {
        &self.base
    }

    /// The bar of each comb heard, in the order met; of none while that cannot be told.
    pub fn bars(&self) -> &[hive::BarId] {
        &self.bars
    }

    /// The bar in hand.
    pub fn in_hand(&self) -> Option<hive::BarId> {
        self.bars.get(self.transcript.in_hand()?).copied()
    }

    /// Bars that are carried away whole with their combs, in the order met.
    pub fn carried(&self) -> &[hive::BarId] {
        &self.carried
    }

    /// Why what was said cannot be recorded as it is; everything said is kept all the same.
    pub const fn refused(&self) -> Option<&RecordError> {
        self.refused.as_ref()
    }

    /// Ends that were closed step by step.
    pub fn closed_ends(&self) -> Vec<End> {
        let closed = |step: &Step| match &step.did {
            Did::Arranged { end, .. } => Some(*end),
            _ => None,
        };
        self.session.steps.iter().filter_map(closed).collect()
    }

    /// What is worth a question before the hive is closed.
    pub fn doubts(&self) -> &[String] {
        &self.doubts
    }

    pub(crate) const fn session_mut(&mut self) -> &mut Session {
        &mut self.session
    }

    /// Folds all steps anew.
    pub(crate) fn fold(&mut self) {
        self.take_all(false);
        self.come_to();
        if self.refused.is_some() {
            // what could be recorded before stands, as it does when the words come one by one
            self.take_all(true);
        }
    }

    fn take_all(&mut self, one_by_one: bool) {
        self.transcript = Transcript::at_bars(self.base.numbers());
        self.times.clear();
        self.told.clear();
        self.drafted.clear();
        self.bars.clear();
        self.carried.clear();
        self.doubts.clear();
        let steps = std::mem::take(&mut self.session.steps);
        for (nth, step) in steps.iter().enumerate() {
            self.take(step, Taken::of(&steps, nth));
            self.session.steps.push(step.clone());
            if one_by_one {
                self.come_to();
            }
        }
    }

    /// Takes a step; a phrase in the words that it was put right with, if it was.
    fn take(&mut self, step: &Step, taken: Taken<'_>) {
        let (visit, hand) = (self.transcript.visit().clone(), self.transcript.in_hand());
        let carried_to = self.session.carried_to();
        let mut any_tap = false;
        let heard = match &step.did {
            Did::Said(_) if taken == Taken::LeftOut => Heard::default(),
            Did::Said(heard) => {
                let words = match taken {
                    Taken::Instead(words) => words,
                    Taken::AsHeard | Taken::LeftOut => heard,
                };
                let heard = self.transcript.hear(words);
                self.times.resize(self.transcript.len(), step.at);
                heard
            }
            Did::Tapped(taps) => {
                let (heard, changed) = self.tapped(taps, step.at);
                any_tap = changed;
                heard
            }
            Did::Arranged { .. } | Did::CarriedTo { .. } | Did::PutRight { .. } | Did::Over => {
                Heard::default()
            }
        };
        let changed = match &step.did {
            Did::Arranged { .. } | Did::PutRight { .. } | Did::Over => true,
            Did::CarriedTo { to, .. } => *to != carried_to,
            Did::Said(_) | Did::Tapped(_) => false,
        } || heard.noted
            || any_tap
            || *self.transcript.visit() != visit
            || self.transcript.in_hand() != hand;
        let told_nothing = heard.acts.is_empty() && heard.loose.is_none() && !heard.noted;
        let said = matches!(step.did, Did::Said(_)) && heard.question.is_none();
        let took_back = said && told_nothing && *self.transcript.visit() != visit;
        self.told.push(Told {
            heard,
            changed,
            took_back,
        });
    }

    /// What the steps come to: the entries that should be there and the hive as it stands.
    pub(crate) fn come_to(&mut self) {
        let now = self
            .session
            .steps
            .last()
            .map_or(self.base.started, |step| step.at);
        match record(&self.transcript, &self.base, self.session.end, now) {
            Ok(mut recording) => {
                note_advice(&self.base, &mut recording);
                doubt_comb_on_bare_bars(&self.base, now, &mut recording);
                self.carried = carried(&recording);
                if let Some(to) = self.session.carried_to() {
                    to_the_split(&mut recording, to);
                }
                let times = &self.times;
                let drafts = recording.drafts.into_iter();
                self.drafted = drafts
                    .map(|draft| Target {
                        at: times.get(draft.phrase).copied().unwrap_or(now),
                        said: draft.said,
                        known: draft.known,
                    })
                    .map(|target| self.session.told_of_carrying(target))
                    .collect();
                self.bars = recording.bars;
                self.doubts = recording.doubts;
                self.refused = None;
            }
            Err(RecordError::NothingHeard) => {
                self.drafted.clear();
                self.bars.clear();
                self.carried.clear();
                self.doubts.clear();
                self.refused = None;
            }
            // what was to be written stays as it was until the words are put right
            Err(why) => self.refused = Some(why),
        }
        self.targets = self.to_be_written();
        self.hive = check::staged_without_history(&self.base, &self.entries());
    }

    /// Entries of what was said, then closings done step by step, then the end of the visit.
    fn to_be_written(&self) -> Vec<Target> {
        let closes = |known: &Known| matches!(known, Known::VisitClosed {});
        let over = self.session.is_over();
        let said = self.drafted.iter();
        let mut targets: Vec<Target> = said
            .clone()
            // how combs were recognised is settled when all were met
            .filter(|t| !closes(&t.known) && (over || !matches!(t.known, Known::Matched { .. })))
            .cloned()
            .collect();
        if targets.is_empty() {
            return targets;
        }
        for step in &self.session.steps {
            let known = match &step.did {
                Did::Arranged { end, beyond, row } => Known::EndArranged {
                    end: *end,
                    beyond: Some(*beyond),
                    row: self.without_carried(row),
                },
                Did::Over => Known::VisitClosed {},
                Did::Said(_) | Did::Tapped(_) | Did::CarriedTo { .. } | Did::PutRight { .. } => {
                    continue;
                }
            };
            let said = said.clone().find(|t| closes(&t.known) && closes(&known));
            targets.push(Target {
                at: step.at,
                said: said.and_then(|t| t.said.clone()),
                known,
            });
        }
        targets
    }

    /// A row as it was closed, without combs that were carried away afterwards.
    fn without_carried(&self, row: &[Piece]) -> Vec<Piece> {
        let stays = |piece: &&Piece| piece.bar().is_none_or(|bar| !self.carried.contains(&bar));
        row.iter().filter(stays).cloned().collect()
    }

    /// The targets as entries that nobody has written, for the fold.
    fn entries(&self) -> Vec<Entry> {
        let mut pen = Pen::new(DeviceId(Uuid::nil()), 1, "", "UTC");
        let about = Subject::visit(self.session.hive, self.session.visit);
        let targets = self.standing_targets().into_iter().enumerate();
        targets
            .map(|(nth, target)| {
                let id = match target.known {
                    Known::VisitOpened { .. } => self.session.visit,
                    _ => EntryId(Uuid::from_u64_pair(0, nth as u64 + 1)),
                };
                pen.write(Stamp::now(id, target.at), about, target.known.into())
            })
            .collect()
    }
}
