//! A hive at which work goes on: the visit as it stands, shared by the screens of the visit and of the
//! closing-up.
//!
//! Every step is taken in at once, shown, and kept (`keeping`): the steps durable in the browser's
//! database, the entries with them as they settle. A visit broken off is found again as it was left.

mod carried;
mod command;
mod follow;
mod keeping;
mod readings;
mod shown;

use std::sync::Arc;
use std::time::Duration;

use advice::advise::Surroundings;
use advice::stores::Scales;
use hive::entry::End;
use hive::{Hive, HiveId, Yard};
use jiff::{SignedDuration, Timestamp};
use leptos::prelude::*;
use live::answer::Offer;
use live::closing::Arrangement;
use live::concern::Concern;
use live::{Did, Live, Session, Step, Told};
use talk::Tap;
use wasm_bindgen_futures::spawn_local;

use crate::advised::around;
use crate::browser::nap::Nap;
use crate::browser::{clock, locks};
use crate::journal::{Journal, Saying};
use crate::preferences::{DaysAhead, Units};
use crate::reserves::{Reserves, use_reserves};
use crate::texts;

pub use carried::Goal;
pub use command::{Command, Part};
pub use keeping::Keeping;
use readings::OtherReadings;
pub use shown::{Carried, InHand, Phrase, Shown};

/// How far the visit is opened.
#[derive(Debug, Clone, PartialEq)]
pub enum Phase {
    /// Being read from the device.
    Opening,
    /// It goes on in another tab of this browser; once that is closed, it goes on here.
    Elsewhere,
    /// It goes on.
    Ready,
    /// There is no such hive.
    NoHive,
    /// The hive has ended; no visit of it is open.
    Ended,
    /// It cannot be read; the words for it.
    Failed(String),
}

/// What the program says back.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Answer {
    /// The words; empty when there is nothing to say.
    pub words: String,
    /// A question to the keeper, not an answer.
    pub asks: bool,
    /// Stands on the screen by itself: it is only spoken.
    pub spoken_only: bool,
    /// Warns: marked on the screen, and not by colour alone.
    pub minds: bool,
    /// The last phrase, answered or not.
    pub to: Option<Last>,
    /// Counts what was said, so that the same words twice are told twice.
    pub nth: u32,
}

/// The last phrase said or typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Last {
    /// As it was heard.
    pub heard: String,
    /// What it came to; empty when to nothing.
    pub understood: String,
}

/// The work at one hive. Copies are the same.
#[derive(Clone, Copy)]
pub struct Room {
    /// Which hive.
    pub hive: HiveId,
    /// How far it is opened.
    pub phase: RwSignal<Phase>,
    /// What is shown of the visit; `None` before it is opened.
    pub shown: RwSignal<Option<Arc<Shown>>>,
    /// Whether what is shown is kept.
    pub keeping: RwSignal<Keeping>,
    /// What the program said last.
    pub answer: RwSignal<Answer>,
    /// Counts steps that came to something and steps that did not, for the sounds.
    pub heard: RwSignal<(u32, u32)>,
    /// Which part of the work goes on.
    pub part: RwSignal<Part>,
    /// The last command to the program, counted, for the screen that it concerns.
    pub command: RwSignal<(Option<Command>, u32)>,
    live: RwSignal<Option<Live>>,
    journal: StoredValue<Journal>,
    saver: StoredValue<keeping::Saver, LocalStorage>,
    left: StoredValue<Nap, LocalStorage>,
    aside: StoredValue<Aside>,
    chosen: StoredValue<Chosen>,
    reserves: Reserves,
}

/// What the keeper has chosen for all visits.
#[derive(Clone, Copy)]
struct Chosen {
    days: RwSignal<DaysAhead>,
    units: RwSignal<Units>,
}

/// After so long, what holds a visit up is another tab. Common practice, no source.
const ELSEWHERE: Duration = Duration::from_secs(2);

/// After so long the screen stands, and the keeper has not said much yet. Common practice, no source.
const SETTLED: Duration = Duration::from_millis(300);

/// The room that is open in this tab; provided by [`crate::app::App`].
#[derive(Clone)]
pub struct Rooms {
    owner: Owner,
    journal: Journal,
    open: RwSignal<Option<Room>>,
}

impl Rooms {
    /// None open yet. What is opened lives as long as the app.
    pub fn new(journal: Journal) -> Self {
        Self {
            owner: Owner::current().unwrap_or_default(),
            journal,
            open: RwSignal::new(None),
        }
    }

    /// The room of a hive; opened anew when another was open.
    pub fn of(&self, hive: HiveId) -> Room {
        if let Some(room) = self.open.get_untracked()
            && room.hive == hive
            && matches!(
                room.phase.get_untracked(),
                Phase::Opening | Phase::Elsewhere | Phase::Ready
            )
            && !room.is_over()
        {
            return room;
        }
        if let Some(former) = self.open.get_untracked() {
            former.leave();
        }
        let room = self.owner.with(|| Room::open(self.journal, hive));
        self.open.set(Some(room));
        room
    }

    /// Writes down everything said at the hive that is open.
    pub fn settle(&self) {
        let open = self.open.get_untracked();
        if let Some(room) = open.filter(|room| room.phase.get_untracked() == Phase::Ready) {
            room.keep_all();
        }
    }
}

/// The rooms, from anywhere below [`crate::app::App`].
pub fn use_rooms() -> Rooms {
    expect_context()
}

impl Room {
    fn open(journal: Journal, hive: HiveId) -> Self {
        let room = Self {
            hive,
            phase: RwSignal::new(Phase::Opening),
            shown: RwSignal::new(None),
            keeping: RwSignal::new(Keeping::Kept),
            answer: RwSignal::new(Answer::default()),
            heard: RwSignal::new((0, 0)),
            part: RwSignal::new(Part::default()),
            command: RwSignal::new((None, 0)),
            live: RwSignal::new(None),
            journal: StoredValue::new(journal),
            saver: StoredValue::new_local(keeping::Saver::default()),
            left: StoredValue::new_local(Nap::default()),
            aside: StoredValue::new(Aside::default()),
            chosen: StoredValue::new(Chosen {
                days: expect_context(),
                units: expect_context(),
            }),
            reserves: use_reserves(),
        };
        keeping::keep_when_hidden(room);
        // two tabs that write down one visit would not know of each other's steps
        let work = async move {
            room.find().await;
            room.left.get_value().sleep(Duration::MAX).await;
        };
        spawn_local(async move { locks::alone(&room.name(), work).await });
        // it may arrive from the server later
        Effect::new(move || {
            let there = journal.yard.with(|yard| yard.hive(hive).is_some());
            if there && room.phase.get_untracked() == Phase::NoHive {
                room.begin();
            }
        });
        follow::follow(room);
        spawn_local(async move {
            Nap::default().sleep(ELSEWHERE).await;
            if room.phase.get_untracked() == Phase::Opening {
                room.phase.set(Phase::Elsewhere);
            }
        });
        room
    }

    /// Lets another tab, or another room of this hive, go on with the visit.
    fn leave(self) {
        self.phase.set(Phase::Elsewhere);
        self.left.with_value(Nap::wake);
    }

    /// Reads the visit that goes on, or begins one.
    async fn find(self) {
        let found = match self.journal().beside::<Session>(&self.name()).await {
            Ok(found) => found.filter(|session| session.hive == self.hive && !session.is_over()),
            Err(why) => {
                self.phase.set(Phase::Failed(texts::journal_error(&why)));
                return;
            }
        };
        match found {
            Some(session) => self.go_on(session),
            None => self.begin(),
        }
    }

    /// Begins a visit; nothing is written before the first step.
    pub fn begin(self) {
        let ended = |hive: &Hive| hive.ended.is_some();
        let yard = self.journal().yard;
        if yard.with_untracked(|yard| yard.hive(self.hive).is_some_and(ended)) {
            self.phase.set(Phase::Ended);
            return;
        }
        match Saying::fresh_id() {
            Ok(visit) => self.go_on(Session::begin(self.hive, visit)),
            Err(why) => self.phase.set(Phase::Failed(texts::journal_error(&why))),
        }
    }

    fn go_on(self, session: Session) {
        let yard = self.journal().yard.get_untracked();
        let Some(base) = live::session::before(&yard, self.hive, session.visit) else {
            self.phase.set(Phase::NoHive);
            return;
        };
        let mut live = Live::new(session, base);
        live.mind(&yard);
        let followed = follow::Followed::of(&yard, self.hive, live.session().visit);
        self.saver.update_value(|saver| saver.followed = followed);
        self.live.set(Some(live));
        self.answer.update(|answer| answer.words.clear());
        self.refresh();
        self.phase.set(Phase::Ready);
        spawn_local(async {
            // once the hive is on the screen
            Nap::default().sleep(SETTLED).await;
            talk::get_ready();
            // the browser takes long to tell it for the first time, and the first step kept wants it
            clock::zone();
        });
    }

    /// Hears a phrase as a recogniser gives it: what it may be, the likeliest first. The reading that makes
    /// sense of where the visit stands is heard.
    pub fn hear(self, readings: &[String]) {
        let part = self.part.get_untracked();
        let is_ours =
            |words: &String| Command::of(words, part).is_some() || self.said_goal(words).is_some();
        let told = match readings {
            [] => None,
            [first, ..] if is_ours(first) => Some(first),
            [first, others @ ..] => self
                .live
                .with_untracked(|live| live.as_ref()?.transcript().likeliest(readings))
                .map(|at| &readings[at])
                .or_else(|| others.iter().find(|words| is_ours(words)))
                .or(Some(first)),
        };
        if let Some(words) = told {
            self.say(words);
            self.note_readings(words, readings);
        }
    }

    /// What else the recogniser took the last phrase for.
    fn note_readings(self, words: &str, readings: &[String]) {
        let last = self.with(|live| {
            let step = live.session().steps.last()?;
            matches!(&step.did, Did::Said(said) if said == words.trim()).then_some(step.at)
        });
        if let Some(at) = last.flatten() {
            let at_ms = at.as_millisecond();
            self.aside
                .update_value(|aside| aside.readings.note(at_ms, words, readings));
        }
    }

    /// What else the phrase of this moment may have been, the likelier first; nothing of what was typed, or
    /// heard before the app was opened.
    pub fn other_readings(self, at_ms: i64) -> Vec<String> {
        self.aside.with_value(|aside| aside.readings.of(at_ms))
    }

    /// Hears a phrase, as it was typed or read.
    pub fn say(self, words: &str) {
        let words = words.trim();
        if words.is_empty() {
            return;
        }
        if let Some(command) = Command::of(words, self.part.get_untracked()) {
            self.note_last(words, texts::visit::command(command).to_owned());
            self.obey(command);
            return;
        }
        if let Some(to) = self.said_goal(words) {
            self.carry_to(Some(to), Some(words.to_owned()));
            let told = self.shown.with_untracked(|shown| {
                let carried = shown.as_ref().map(|shown| shown.carried.clone());
                carried.and_then(|carried| texts::visit::carried_to(&carried))
            });
            self.note_last(words, told.clone().unwrap_or_default());
            self.tell(told.unwrap_or_default(), false);
            return;
        }
        let Some((told, warned)) = self.take(Did::Said(words.to_owned())) else {
            return;
        };
        if !told.changed && told.heard.question.is_none() {
            self.heard.update(|(_, nothing)| *nothing += 1);
        }
        let latest = self.shown.with_untracked(|shown| {
            let phrases = &shown.as_ref()?.phrases;
            phrases.first().map(|phrase| phrase.understood.clone())
        });
        let understood = match told.heard.question {
            Some(_) => texts::visit::A_QUESTION.to_owned(),
            None => latest.unwrap_or_default(),
        };
        if told.took_back {
            self.tell(texts::sentence(&understood), false);
        }
        self.note_last(words, understood);
        if !told.took_back {
            self.answer_to(&told, &warned);
        }
    }

    fn note_last(self, words: &str, understood: String) {
        let last = Last {
            heard: words.to_owned(),
            understood,
        };
        self.answer.update(|answer| answer.to = Some(last));
    }

    fn obey(self, command: Command) {
        let part = self.part.get_untracked();
        let closing = part != Part::Combs;
        match command {
            // a step that was ticked is taken back before anything of the visit
            Command::Undo if matches!(part, Part::Closing { ticked: 1.. }) => {}
            Command::Undo => self.undo(),
            Command::CloseUp if !closing => {
                if self.has_begun() {
                    self.keep_all();
                    self.read_aloud(texts::closing_up::BEGINS.to_owned());
                } else {
                    self.tell(texts::closing_up::NOTHING_TO_CLOSE.to_owned(), false);
                }
            }
            _ => {}
        }
        self.command
            .update(|(last, nth)| (*last, *nth) = (Some(command), *nth + 1));
    }

    /// Whether the last word of the visit was said.
    fn is_over(self) -> bool {
        self.live
            .with_untracked(|live| live.as_ref().is_some_and(|live| live.session().is_over()))
    }

    /// Takes a tap.
    pub fn tap(self, tap: Tap) {
        if let Some((told, warned)) = self.take(Did::Tapped(vec![tap])) {
            self.answer_to(&told, &warned);
        }
    }

    /// The end that is open was chosen by a tap, before or after combs were met.
    pub fn open_end(self, end: talk::act::End) {
        self.tap(Tap::OpenEnd(end));
    }

    /// Whether anything was said or done, so that there is something to close.
    pub fn has_begun(self) -> bool {
        self.shown
            .with_untracked(|shown| shown.as_ref().is_some_and(|shown| shown.begun))
    }

    /// Takes back the last step, and says which.
    pub fn undo(self) {
        let yard = self.journal().yard.get_untracked();
        let units = self.units();
        let what = self.live.with_untracked(|live| {
            let (step, told) = live.as_ref()?.last_change()?;
            Some(shown::comes_to(step, told, &yard, units))
        });
        let mut undone = false;
        self.live
            .update(|live| undone = live.as_mut().is_some_and(Live::undo));
        if undone {
            self.refresh();
            self.tell(texts::visit::undone(&what.unwrap_or_default()), false);
            self.keep();
        } else {
            self.tell(texts::visit::NOTHING_TO_UNDO.to_owned(), false);
        }
    }

    /// A phrase of this visit was misheard: these words count in its place; without any it is left out.
    pub fn put_right(self, nth: usize, words: Option<&str>) {
        let outcome = self.change(|live, at| {
            if !live.put_right(at, nth, words) {
                return None;
            }
            live.told().nth(nth).map(|(_, told)| told.clone())
        });
        let Some((told, warned)) = outcome else {
            return;
        };
        let units = self.units();
        let left_out = self.with(|live| live.session().is_left_out(nth)) == Some(true);
        let understood = match told.heard.question {
            Some(_) => texts::visit::A_QUESTION.to_owned(),
            None => shown::told_words(&told, units),
        };
        let done = if left_out {
            texts::visit::WAS_LEFT_OUT.to_owned()
        } else {
            texts::visit::was_put_right(&understood)
        };
        match warned.as_str() {
            "" => self.tell(done, false),
            warned => self.mind(format!("{done} {warned}"), false),
        }
    }

    /// Combs carried away on their bars go to this hive, with the words if it was said.
    pub fn carry_to(self, to: Option<HiveId>, said: Option<String>) {
        self.take(Did::CarriedTo { to, said });
    }

    /// Hives that combs carried away can go to; nothing while there are none.
    pub fn goals(self) -> Option<Vec<Goal>> {
        let yard = self.journal().yard.get();
        self.live.with(|live| {
            let live = live.as_ref().filter(|live| !live.carried().is_empty())?;
            let to = live.session().carried_to();
            Some(carried::goals(&yard, self.hive, live.carried(), to))
        })
    }

    /// Where a phrase sends combs, while there are any that were carried away.
    fn said_goal(self, words: &str) -> Option<HiveId> {
        let goals = untrack(|| self.goals())?;
        carried::said(words, &goals)
    }

    /// Notes that an end was closed in this order.
    pub fn arranged(self, done: &Arrangement) {
        self.take(Did::Arranged {
            end: done.end,
            beyond: done.beyond,
            row: done.row.clone(),
        });
    }

    /// The visit is over; nothing more is said of it.
    pub fn over(self) {
        self.take(Did::Over);
        self.keep_all();
    }

    /// What the live visit gives.
    pub fn with<T>(self, give: impl FnOnce(&Live) -> T) -> Option<T> {
        self.live.with(|live| live.as_ref().map(give))
    }

    /// Says something to the keeper.
    pub fn tell(self, words: String, asks: bool) {
        self.answer.update(|answer| {
            *answer = Answer {
                words,
                asks,
                spoken_only: false,
                minds: false,
                to: answer.to.take(),
                nth: answer.nth + 1,
            };
        });
    }

    /// The same, but an answer that stands is not talked over: it says why the screen changed.
    pub fn read_after_answer(self, words: String) {
        let free = |answer: &Answer| answer.words.is_empty() || answer.spoken_only;
        if self.answer.with_untracked(free) {
            self.read_aloud(words);
        }
    }

    /// Reads something aloud that the screen shows by itself.
    pub fn read_aloud(self, words: String) {
        self.answer.update(|answer| {
            *answer = Answer {
                words,
                asks: false,
                spoken_only: true,
                minds: false,
                to: answer.to.take(),
                nth: answer.nth + 1,
            };
        });
    }

    /// In which units measures are told.
    fn units(self) -> Units {
        self.chosen.get_value().units.get_untracked()
    }

    fn journal(self) -> Journal {
        self.journal.get_value()
    }

    fn name(self) -> String {
        format!("visit/{}", self.hive)
    }

    /// Says what must be minded.
    pub fn mind(self, words: String, asks: bool) {
        self.tell(words, asks);
        self.answer.update(|answer| answer.minds = true);
    }

    /// Takes a step; what it came to, and what it must be warned of, in words.
    fn take(self, did: Did) -> Option<(Told, String)> {
        self.change(|live, at| Some(live.step(Step { at, did }).clone()))
    }

    /// Changes the visit; what that came to, and what it must be warned of, in words. `None` when there was
    /// nothing to change.
    fn change(
        self,
        change: impl FnOnce(&mut Live, Timestamp) -> Option<Told>,
    ) -> Option<(Told, String)> {
        let mut told = None;
        let (against, cautioned) = (self.against(), self.cautions());
        self.live.update(|live| {
            if let Some(live) = live {
                let at = next_instant(live);
                told = change(live, at);
            }
        });
        let told = told?;
        if told.changed {
            self.heard.update(|(something, _)| *something += 1);
        }
        self.refresh();
        self.keep();
        let now = self.against();
        let new = now.iter().filter(|concern| concern.is_new(&against));
        let new = new.map(texts::visit::concern);
        let cautions = self.cautions().into_iter();
        let cautions = cautions.filter(|caution| !cautioned.contains(caution));
        let new: Vec<String> = cautions.chain(new).collect();
        Some((told, new.join(" ")))
    }

    /// What the weather and the hive's health say against the work, as sentences.
    fn cautions(self) -> Vec<String> {
        let units = self.units();
        self.shown.with_untracked(|shown| {
            let all = shown.iter().flat_map(|shown| &shown.advice.cautions);
            all.map(|caution| texts::visit::caution(caution, units))
                .collect()
        })
    }

    /// What stands against what was taken.
    fn against(self) -> Vec<Concern> {
        self.shown.with_untracked(|shown| {
            let concerns = shown.as_ref().map(|shown| shown.concerns.clone());
            concerns.unwrap_or_default()
        })
    }

    /// Why what was said cannot be recorded as it is, in words.
    fn refused(self) -> Option<String> {
        self.live.with_untracked(|live| {
            let refused = live.as_ref().and_then(|live| live.refused().cloned());
            refused.map(|why| texts::visit::refused(&why))
        })
    }

    fn answer_to(self, told: &Told, warned: &str) {
        let refused = self.refused();
        if let Some(question) = told.heard.question {
            let words = self.live.with_untracked(|live| {
                let shown = self.shown.get_untracked();
                let (live, shown) = (live.as_ref()?, shown?);
                let offer = Offer::from(&shown.advice).told_in(self.units().told_in());
                Some(live.transcript().answer(question, &offer))
            });
            if let Some(words) = words {
                self.tell(words, false);
            }
            return;
        }
        let stands = self.shown.with_untracked(|shown| {
            let shown = shown.as_ref();
            shown.is_some_and(|shown| shown.refused.is_some())
        });
        let (asked, refused) = (told.heard.ask.clone(), refused);
        if let (None, Some(refused), true) = (&asked, &refused, stands) {
            // a line in sight says it for as long as it stands
            let all = [warned, refused.as_str()].join(" ");
            if self
                .answer
                .with_untracked(|answer| answer.words != all.trim())
            {
                self.read_aloud(all.trim().to_owned());
            }
            return;
        }
        let ask = asked.or(refused);
        if let (false, Some(ask)) = (warned.is_empty(), &ask) {
            self.mind(format!("{warned} {ask}"), true);
        } else if !warned.is_empty() {
            // the lines beside the count say it
            self.read_aloud(warned.to_owned());
        } else if let Some(ask) = ask {
            // what stands open is asked once, and stays on the screen
            if self.answer.with_untracked(|answer| answer.words != ask) {
                self.tell(ask, true);
            }
        } else if told.changed || !self.answer.with_untracked(|answer| answer.asks) {
            // an answer to what was said before would only mislead
            self.answer.update(|answer| {
                answer.words.clear();
                answer.minds = false;
            });
        }
    }

    /// The scales of the hive, learnt anew only when a comb was weighed: going through every look of the
    /// yard at each phrase would be felt.
    fn scales(self, yard: &Yard, live: &Live) -> Scales {
        let kilograms: Vec<_> = live
            .visit()
            .combs
            .iter()
            .filter(|comb| comb.kg.is_some())
            .map(|comb| comb.kg)
            .collect();
        let known = self.aside.with_value(|aside| {
            let weighed = aside.weighed.as_ref();
            let weighed = weighed.filter(|weighed| weighed.kilograms == kilograms);
            weighed.map(|weighed| weighed.scales.clone())
        });
        known.unwrap_or_else(|| {
            let hive = live.hive_with_history();
            let others = yard.hives().filter(|other| other.id != hive.id);
            let scales = Scales::of(&hive, others.chain([&hive]));
            let made = Weighed {
                kilograms,
                scales: scales.clone(),
            };
            self.aside.update_value(|aside| aside.weighed = Some(made));
            scales
        })
    }

    /// What advice needs to know beside the hive, as it is known now.
    pub fn around(self, yard: &Yard, hive: &Hive) -> Surroundings {
        let model = self.reserves.of_untracked(self.hive);
        let days = self.chosen.get_value().days.get_untracked();
        around(yard, hive, &days, model, &clock::now_here())
    }

    /// Computes what is shown.
    fn refresh(self) {
        let yard = self.journal().yard.get_untracked();
        let shown = self.live.with_untracked(|live| {
            let live = live.as_ref()?;
            let hive = live.hive();
            let around = self.around(&yard, hive);
            let advice = advice::advise::running(hive, &self.scales(&yard, live), &around);
            Some(Arc::new(Shown::of(
                live,
                advice,
                &yard,
                &clock::time_zone(),
                self.units(),
            )))
        });
        self.shown.set(shown);
    }
}

/// What is remembered beside the visit while the page lives.
#[derive(Debug, Clone, Default)]
struct Aside {
    weighed: Option<Weighed>,
    readings: OtherReadings,
}

/// Scales learn from combs that were weighed: these were, when they were made.
#[derive(Debug, Clone)]
struct Weighed {
    kilograms: Vec<Option<f64>>,
    scales: Scales,
}

/// Now, but after the last step: steps are told apart by their time.
fn next_instant(live: &Live) -> Timestamp {
    let now = clock::now();
    let last = live.session().steps.last().map(|step| step.at);
    let after = last.and_then(|at| at.checked_add(SignedDuration::from_millis(1)).ok());
    after.map_or(now, |after| now.max(after))
}

/// An end in the words of taps.
pub const fn tapped_end(end: End) -> talk::act::End {
    match end {
        End::Left => talk::act::End::Left,
        End::Right => talk::act::End::Right,
    }
}
