//! Whose turn it is: when to listen, when to wait, what counts as heard. No browser in it.
//!
//! Recognisers end by themselves: after each sentence on some phones, after silence on others, when the
//! network goes. As long as the keeper wants to be heard, they are started again; while the program
//! speaks, they are not, so that it never hears itself.

use super::results::{Piece, Readings, Results};

/// Whether it hears, and if not, why.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Hearing {
    /// Not wanted.
    #[default]
    Off,
    /// Being started.
    Starting,
    /// It hears.
    Hears,
    /// The program speaks.
    Speaking,
    /// Between two turns of the recogniser: what is said now is lost.
    Deaf,
    /// The browser recognises by the network, and there is none.
    NoNetwork,
    /// The keeper or the browser does not allow the microphone.
    NotAllowed,
    /// No microphone, or another program has it.
    NoMicrophone,
    /// The browser has a recogniser that does not work here: it refuses, or nothing comes of it.
    NotHere,
    /// The browser has no recogniser.
    NoRecogniser,
}

/// Why the recogniser failed, as the Web Speech API names it (`SpeechRecognitionErrorCode`).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Failure {
    /// `no-speech`, `aborted`: nothing to worry about.
    Nothing,
    /// `network`.
    Network,
    /// `not-allowed`.
    NotAllowed,
    /// `service-not-allowed`: the browser or the device lets no page recognise speech here. So an app
    /// on the home screen of some phones, where dictation is switched off in the device's settings.
    NotHere,
    /// `audio-capture`.
    NoMicrophone,
    /// `language-not-supported`: not in the place where it was to be recognised.
    Language,
    /// `phrases-not-supported`: it cannot be told what to expect.
    Phrases,
    /// Anything else.
    Other,
}

impl Failure {
    /// By its name in the Web Speech API.
    pub fn named(name: &str) -> Self {
        match name {
            "no-speech" | "aborted" => Self::Nothing,
            "network" => Self::Network,
            "not-allowed" => Self::NotAllowed,
            "service-not-allowed" => Self::NotHere,
            "audio-capture" => Self::NoMicrophone,
            "language-not-supported" => Self::Language,
            "phrases-not-supported" => Self::Phrases,
            _ => Self::Other,
        }
    }
}

/// What happens.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// The keeper wants to be heard.
    WantedOn,
    /// No more.
    WantedOff,
    /// The recogniser has started. Its microphone need not be open yet: that can take seconds.
    Started,
    /// Its microphone is open.
    Opened,
    /// The turn has gone on for a while.
    Steady,
    /// The turn's results as they are now.
    Heard {
        /// All of them, in order.
        pieces: Vec<Piece>,
        /// When, in milliseconds of any clock that goes on.
        at_ms: f64,
    },
    /// Nothing has changed for a while; when.
    Quiet {
        /// In milliseconds of the same clock.
        at_ms: f64,
    },
    /// It failed; its end follows.
    Failed(Failure),
    /// It has ended, for whatever reason.
    Ended {
        /// When, in milliseconds of the same clock.
        at_ms: f64,
    },
    /// The program begins to speak.
    SpeechBegins,
    /// It has spoken.
    SpeechEnded,
    /// A wait is over.
    Waited,
    /// Nothing was heard of the recogniser for as long as it was watched.
    Stuck,
    /// The page is put away, or is in front again.
    Away(bool),
}

/// What is to be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// Start the recogniser.
    Start,
    /// End it at once, without results.
    Abort,
    /// Wait, then tell [`Event::Waited`]; a later wait takes the place of an earlier one.
    Wait {
        /// How long.
        millis: u64,
    },
    /// Wait, then tell [`Event::Steady`]; a later one takes the place of an earlier one.
    Trust {
        /// How long.
        millis: u64,
    },
    /// Wait, then tell [`Event::Stuck`]; a later one takes the place of an earlier one.
    Watch {
        /// How long.
        millis: u64,
    },
    /// Have done with this recogniser, whatever it still tells, and take another for the next start.
    Renew,
    /// Wait, then tell [`Event::Quiet`]; a later one takes the place of an earlier one.
    Settle {
        /// How long.
        millis: u64,
    },
    /// A phrase was heard.
    Deliver(Readings),
}

/// What the turns so far have come to. The counts only grow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    /// It hears at this moment.
    pub listens: bool,
    /// Words that came in, settled or not, counted by their arrivals.
    pub words: u32,
    /// Turns that ended without a word.
    pub in_vain: u32,
    /// Turns that ended for want of a microphone.
    pub no_microphone: u32,
}

/// The state between events.
#[derive(Debug, Clone, PartialEq, Default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is one thing that is so or not"
)]
pub struct Turn {
    wanted: bool,
    running: bool,
    started: bool,
    /// The microphone is open, as far as is known.
    open: bool,
    /// It has started before: no question of the browser's stands before it any more.
    allowed: bool,
    /// Started for the first time, it told nothing for long.
    mute: bool,
    away: bool,
    speaking: bool,
    waiting: bool,
    failure: Option<Failure>,
    /// Turns that ended one after the other without a word.
    in_vain: u32,
    heard: bool,
    results: Results,
    /// The list as it came last.
    pieces: Vec<Piece>,
    tally: Tally,
}

/// Before it is started again after a good turn: some browsers refuse at once.
const SOON_MS: u64 = 120;
/// Words that a browser is not sure of are settled when nothing new came for so long: a keeper who pauses
/// has said it. Common practice, no source.
const QUIET_MS: u64 = 1200;
/// A browser that does not tell of its microphone has opened it by then, and one that finds no network
/// has said so: Chromium opens the first microphone after up to 2.2 s and gives up a network that is not
/// there 2 ms later (measured, Chromium 156).
const STEADY_MS: u64 = 4000;
/// Once it was allowed, it begins within this time. Common practice, no source.
const BEGINS_MS: u64 = 10_000;
/// The first time, a question of the browser's may stand before it for as long as the keeper likes; but
/// some tell nothing at all, ever (apps on a home screen, WebKit bug 225298), so after so long it is said
/// what else can be done. Common practice, no source.
const FIRST_MS: u64 = 12_000;
/// Nothing heard of it for so long, it is taken for dead: browsers end a silent turn sooner, but some
/// never tell it, after a call or a locked screen. Common practice, no source.
const SILENT_MS: u64 = 90_000;
/// After the program has spoken, its echo dies away.
const ECHO_MS: u64 = 250;
/// No wait is longer: a keeper who speaks must be heard.
const LONGEST_MS: u64 = 8000;

impl Turn {
    /// Takes an event in; what is to be done, in order.
    pub fn on(&mut self, event: Event) -> Vec<Act> {
        match event {
            Event::WantedOn => self.wanted_on(),
            Event::WantedOff => {
                self.wanted = false;
                self.waiting = false;
                self.results.drop_open();
                self.abort()
            }
            Event::Started => {
                self.started = true;
                self.allowed = true;
                self.mute = false;
                vec![
                    Act::Watch { millis: SILENT_MS },
                    Act::Trust { millis: STEADY_MS },
                ]
            }
            Event::Opened => {
                self.open = true;
                if self.failure == Some(Failure::NoMicrophone) {
                    self.failure = None;
                }
                vec![Act::Trust { millis: STEADY_MS }]
            }
            Event::Steady => {
                // one that was set in a turn that has ended says nothing of the next
                if self.running && self.started {
                    self.open = true;
                    if self.failure == Some(Failure::Network) {
                        self.failure = None;
                    }
                }
                Vec::new()
            }
            Event::Heard { pieces, at_ms } => self.heard(pieces, at_ms),
            Event::Quiet { at_ms } => {
                if self.results.is_doubtful() {
                    self.settle(at_ms)
                } else {
                    Vec::new()
                }
            }
            Event::Failed(failure) => {
                if self.away {
                    // a page that is put away is refused; that says nothing of when it is in front
                    return Vec::new();
                }
                if failure == Failure::NoMicrophone {
                    self.tally.no_microphone += 1;
                }
                if failure != Failure::Nothing {
                    self.failure = Some(failure);
                }
                if matches!(failure, Failure::NotAllowed | Failure::NotHere) {
                    self.wanted = false;
                }
                Vec::new()
            }
            Event::Ended { at_ms } => self.ended(at_ms),
            Event::SpeechBegins => {
                self.speaking = true;
                self.waiting = false;
                self.results.drop_open();
                self.abort()
            }
            Event::SpeechEnded if !self.speaking => Vec::new(),
            Event::SpeechEnded => {
                self.speaking = false;
                self.wait(ECHO_MS)
            }
            Event::Waited => {
                self.waiting = false;
                self.start()
            }
            Event::Stuck => self.stuck(),
            Event::Away(true) => {
                self.away = true;
                self.waiting = false;
                self.abort()
            }
            Event::Away(false) => {
                self.away = false;
                self.in_vain = 0;
                self.wait(SOON_MS)
            }
        }
    }

    /// Whether it hears.
    pub fn hearing(&self) -> Hearing {
        match (self.wanted, self.failure) {
            (_, Some(Failure::NotAllowed)) => Hearing::NotAllowed,
            (_, Some(Failure::NotHere)) => Hearing::NotHere,
            (true, Some(Failure::NoMicrophone)) => Hearing::NoMicrophone,
            (true, Some(Failure::Network)) => Hearing::NoNetwork,
            (false, _) => Hearing::Off,
            (true, _) if self.speaking => Hearing::Speaking,
            (true, _) if self.running && self.open => Hearing::Hears,
            (true, _) if self.running && self.mute => Hearing::NotHere,
            (true, _) if self.running => Hearing::Starting,
            (true, _) => Hearing::Deaf,
        }
    }

    /// Whether the keeper wants to be heard.
    pub const fn is_wanted(&self) -> bool {
        self.wanted
    }

    /// What the turns have come to.
    pub fn tally(&self) -> Tally {
        Tally {
            listens: self.hearing() == Hearing::Hears,
            ..self.tally
        }
    }

    /// What is being said.
    pub fn interim(&self) -> &str {
        self.results.open()
    }

    fn wanted_on(&mut self) -> Vec<Act> {
        self.wanted = true;
        self.failure = None;
        self.in_vain = 0;
        let mut acts = Vec::new();
        if std::mem::take(&mut self.mute) {
            self.running = false;
            acts.push(Act::Renew);
        }
        acts.extend(self.start());
        acts
    }

    fn stuck(&mut self) -> Vec<Act> {
        if !self.running {
            return Vec::new();
        }
        if !self.allowed {
            // not ended: the browser's question may still stand
            self.mute = true;
            return Vec::new();
        }
        self.running = false;
        self.results.drop_open();
        let mut acts = vec![Act::Renew];
        acts.extend(self.wait(SOON_MS));
        acts
    }

    fn start(&mut self) -> Vec<Act> {
        if !self.wanted || self.running || self.speaking || self.away {
            return Vec::new();
        }
        self.running = true;
        self.started = false;
        self.open = false;
        self.heard = false;
        self.results = self.results.next_turn();
        self.pieces.clear();
        let millis = if self.allowed { BEGINS_MS } else { FIRST_MS };
        vec![Act::Start, Act::Watch { millis }]
    }

    fn has_heard(&mut self) {
        self.heard = true;
        self.open = true;
        self.failure = None;
        self.tally.words += 1;
    }

    fn abort(&mut self) -> Vec<Act> {
        if self.running {
            vec![Act::Abort]
        } else {
            Vec::new()
        }
    }

    fn wait(&mut self, millis: u64) -> Vec<Act> {
        if !self.wanted || self.speaking || self.waiting || self.away {
            return Vec::new();
        }
        self.waiting = true;
        vec![Act::Wait { millis }]
    }

    fn ended(&mut self, at_ms: f64) -> Vec<Act> {
        self.running = false;
        // words that were never settled are heard all the same: better a word too many than one lost
        let mut acts = self.settle(at_ms);
        self.in_vain = if self.heard { 0 } else { self.in_vain + 1 };
        if !self.heard && !self.speaking {
            self.tally.in_vain += 1;
        }
        let millis = match self.in_vain {
            0 => SOON_MS,
            n => (SOON_MS << n.min(8)).min(LONGEST_MS),
        };
        // silence is no failure: it is simply started again
        let millis = if self.failure.is_none() {
            millis.min(4 * SOON_MS)
        } else {
            millis
        };
        acts.extend(self.wait(millis));
        acts
    }

    /// Delivers what is new and settled of the turn's results.
    fn heard(&mut self, pieces: Vec<Piece>, at_ms: f64) -> Vec<Act> {
        let says = pieces.iter().any(|piece| !piece.words.trim().is_empty());
        if self.speaking || !self.wanted || !says {
            return Vec::new();
        }
        self.has_heard();
        let new = self.results.take(&pieces, at_ms);
        self.pieces = pieces;
        let mut acts = vec![Act::Watch { millis: SILENT_MS }];
        acts.extend(new.into_iter().map(|words| self.deliver(words)));
        if self.results.is_doubtful() {
            acts.push(Act::Settle { millis: QUIET_MS });
        }
        acts
    }

    /// Delivers what was never settled.
    fn settle(&mut self, at_ms: f64) -> Vec<Act> {
        if self.speaking || !self.wanted {
            self.results.drop_open();
            return Vec::new();
        }
        let left = self.results.settle(at_ms);
        left.map(|words| self.deliver(words)).into_iter().collect()
    }

    fn deliver(&self, words: String) -> Act {
        Act::Deliver(Readings::of(words, &self.pieces))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::voice::results::Settled;

    /// The only result of a turn, settled.
    fn last(words: &str) -> Event {
        heard(words, Settled::Yes)
    }

    fn heard(words: &str, settled: Settled) -> Event {
        let words = words.to_owned();
        Event::Heard {
            pieces: vec![Piece {
                words,
                others: Vec::new(),
                settled,
            }],
            at_ms: 0.0,
        }
    }

    /// What is to be done beside watching.
    fn on(turn: &mut Turn, event: Event) -> Vec<Act> {
        let mut acts = turn.on(event);
        acts.retain(|act| !matches!(act, Act::Watch { .. } | Act::Trust { .. }));
        acts
    }

    const ENDED: Event = Event::Ended { at_ms: 900.0 };

    fn delivered(acts: &[Act]) -> Vec<&str> {
        acts.iter()
            .filter_map(|act| match act {
                Act::Deliver(readings) => Some(readings.all()[0].as_str()),
                _ => None,
            })
            .collect()
    }

    fn listening() -> Turn {
        let mut turn = Turn::default();
        assert_eq!(on(&mut turn, Event::WantedOn), [Act::Start]);
        turn.on(Event::Started);
        assert_eq!(turn.hearing(), Hearing::Starting, "not yet");
        turn.on(Event::Opened);
        assert_eq!(turn.hearing(), Hearing::Hears);
        turn
    }

    #[test]
    fn without_word_of_the_microphone_it_is_taken_for_open_after_a_while() {
        let mut turn = Turn::default();
        turn.on(Event::WantedOn);
        let millis = STEADY_MS;
        assert!(turn.on(Event::Started).contains(&Act::Trust { millis }));
        assert_eq!(turn.hearing(), Hearing::Starting);
        turn.on(Event::Steady);
        assert_eq!(turn.hearing(), Hearing::Hears);
        // words are as good a sign
        turn.on(ENDED);
        turn.on(Event::Waited);
        turn.on(Event::Started);
        assert_eq!(turn.hearing(), Hearing::Starting);
        turn.on(heard("bar", Settled::Open));
        assert_eq!(turn.hearing(), Hearing::Hears);
        // and what was waited for in a turn that has ended says nothing
        turn.on(ENDED);
        turn.on(Event::Waited);
        turn.on(Event::Steady);
        assert_eq!(turn.hearing(), Hearing::Starting);
    }

    #[test]
    fn a_recogniser_that_never_begins_is_said_to_be_none() {
        let mut turn = Turn::default();
        let millis = FIRST_MS;
        assert!(turn.on(Event::WantedOn).contains(&Act::Watch { millis }));
        assert_eq!(turn.hearing(), Hearing::Starting);
        assert_eq!(turn.on(Event::Stuck), [], "the browser may still be asking");
        assert_eq!(turn.hearing(), Hearing::NotHere);
        // and a keeper who takes long to answer is heard
        turn.on(Event::Started);
        turn.on(Event::Opened);
        assert_eq!(turn.hearing(), Hearing::Hears);
        // tapped again, another is tried
        let mut turn = Turn::default();
        turn.on(Event::WantedOn);
        turn.on(Event::Stuck);
        assert_eq!(on(&mut turn, Event::WantedOn), [Act::Renew, Act::Start]);
        assert_eq!(turn.hearing(), Hearing::Starting);
    }

    #[test]
    fn a_service_that_refuses_is_no_question_of_the_microphone() {
        let mut turn = Turn::default();
        turn.on(Event::WantedOn);
        turn.on(Event::Failed(Failure::named("service-not-allowed")));
        assert_eq!(on(&mut turn, ENDED), [], "it would refuse again");
        assert_eq!(turn.hearing(), Hearing::NotHere);
    }

    #[test]
    fn a_microphone_that_opens_is_there_again() {
        let mut turn = listening();
        turn.on(Event::Failed(Failure::NoMicrophone));
        turn.on(ENDED);
        assert_eq!(turn.hearing(), Hearing::NoMicrophone);
        turn.on(Event::Waited);
        turn.on(Event::Started);
        assert_eq!(turn.hearing(), Hearing::NoMicrophone, "not yet");
        turn.on(Event::Opened);
        assert_eq!(turn.hearing(), Hearing::Hears);
    }

    #[test]
    fn a_turn_that_goes_on_has_found_the_network_again() {
        let mut turn = listening();
        turn.on(Event::Failed(Failure::Network));
        turn.on(ENDED);
        turn.on(Event::Waited);
        turn.on(Event::Started);
        turn.on(Event::Opened);
        assert_eq!(turn.hearing(), Hearing::NoNetwork, "it may say so again");
        turn.on(Event::Steady);
        assert_eq!(turn.hearing(), Hearing::Hears);
    }

    #[test]
    fn it_starts_again_after_every_sentence_and_every_silence() {
        let mut turn = listening();
        for n in 0..20 {
            if n % 2 == 0 {
                assert_eq!(delivered(&turn.on(last("next one"))), ["next one"]);
            } else {
                turn.on(Event::Failed(Failure::Nothing));
            }
            let acts = turn.on(ENDED);
            let [Act::Wait { millis }] = acts[..] else {
                panic!("{acts:?}")
            };
            assert!(
                millis <= 500,
                "a pause is no reason to be deaf for {millis} ms"
            );
            assert_eq!(turn.hearing(), Hearing::Deaf);
            assert_eq!(on(&mut turn, Event::Waited), [Act::Start]);
            turn.on(Event::Started);
        }
    }

    #[test]
    fn it_never_hears_itself() {
        let mut turn = listening();
        assert_eq!(on(&mut turn, Event::SpeechBegins), [Act::Abort]);
        assert_eq!(on(&mut turn, last("two taken")), []);
        turn.on(Event::Failed(Failure::Nothing));
        assert_eq!(on(&mut turn, ENDED), [], "not while it speaks");
        assert_eq!(turn.hearing(), Hearing::Speaking);
        assert_eq!(
            on(&mut turn, Event::SpeechEnded),
            [Act::Wait { millis: ECHO_MS }]
        );
        assert_eq!(on(&mut turn, Event::Waited), [Act::Start]);
    }

    #[test]
    fn refused_it_stays_off_until_wanted_again() {
        let mut turn = listening();
        turn.on(Event::Failed(Failure::named("not-allowed")));
        assert_eq!(on(&mut turn, ENDED), []);
        assert_eq!(turn.hearing(), Hearing::NotAllowed);
        assert_eq!(on(&mut turn, Event::WantedOn), [Act::Start]);
        assert_eq!(turn.hearing(), Hearing::Starting);
    }

    #[test]
    fn without_a_network_it_says_so_and_tries_ever_more_seldom() {
        let mut turn = listening();
        let mut waits = Vec::new();
        for _ in 0..9 {
            turn.on(Event::Failed(Failure::named("network")));
            for act in turn.on(ENDED) {
                if let Act::Wait { millis } = act {
                    waits.push(millis);
                }
            }
            assert_eq!(turn.hearing(), Hearing::NoNetwork);
            turn.on(Event::Waited);
        }
        assert!(waits.windows(2).all(|two| two[0] <= two[1]), "{waits:?}");
        assert_eq!(waits.last(), Some(&LONGEST_MS));
        // words prove that it works again
        turn.on(Event::Started);
        turn.on(heard("bar", Settled::Open));
        assert_eq!(turn.hearing(), Hearing::Hears);
    }

    #[test]
    fn words_that_the_browser_is_not_sure_of_are_delivered_once_it_is_quiet() {
        let mut turn = listening();
        let millis = QUIET_MS;
        let doubtful = heard("bar twelve", Settled::Doubtful);
        assert_eq!(on(&mut turn, doubtful), [Act::Settle { millis }]);
        assert_eq!(turn.interim(), "bar twelve");
        let quiet = Event::Quiet { at_ms: 1300.0 };
        assert_eq!(delivered(&turn.on(quiet.clone())), ["bar twelve"]);
        // told again at the end of the turn, it is not heard again
        assert_eq!(on(&mut turn, last("bar twelve")), []);
        assert_eq!(delivered(&turn.on(ENDED)), Vec::<&str>::new());
        // what the browser itself calls open waits for the browser
        assert_eq!(on(&mut turn, Event::Waited), [Act::Start]);
        turn.on(Event::Started);
        assert_eq!(on(&mut turn, heard("all brood", Settled::Open)), []);
        assert_eq!(on(&mut turn, quiet), []);
    }

    #[test]
    fn words_cut_off_at_the_seam_are_kept() {
        let mut turn = listening();
        turn.on(heard("two thirds capped", Settled::Open));
        assert_eq!(turn.interim(), "two thirds capped");
        assert_eq!(delivered(&turn.on(ENDED)), ["two thirds capped"]);
        assert_eq!(turn.interim(), "");
    }

    #[test]
    fn switched_off_it_hears_nothing_more() {
        let mut turn = listening();
        turn.on(heard("and then", Settled::Open));
        assert_eq!(on(&mut turn, Event::WantedOff), [Act::Abort]);
        assert_eq!(on(&mut turn, last("and then some")), []);
        assert_eq!(on(&mut turn, ENDED), []);
        assert_eq!(turn.hearing(), Hearing::Off);
    }

    #[test]
    fn a_recogniser_that_tells_nothing_any_more_is_given_up() {
        let mut turn = Turn::default();
        turn.on(Event::WantedOn);
        let millis = SILENT_MS;
        assert!(turn.on(Event::Started).contains(&Act::Watch { millis }));
        let heard_on = turn.on(heard("bar", Settled::Open));
        assert!(heard_on.contains(&Act::Watch { millis }), "{heard_on:?}");
        let acts = turn.on(Event::Stuck);
        assert_eq!(acts, [Act::Renew, Act::Wait { millis: SOON_MS }]);
        assert_eq!(turn.hearing(), Hearing::Deaf);
        let millis = BEGINS_MS;
        assert_eq!(turn.on(Event::Waited), [Act::Start, Act::Watch { millis }]);
        turn.on(Event::Started);
        assert_eq!(delivered(&turn.on(last("bar nine"))), ["bar nine"]);
        // what was watched is over
        turn.on(ENDED);
        assert_eq!(turn.on(Event::Stuck), []);
    }

    #[test]
    fn a_page_that_is_put_away_waits_and_goes_on() {
        let mut turn = listening();
        assert_eq!(turn.on(Event::Away(true)), [Act::Abort]);
        // phones refuse it then; that is no answer of the keeper's
        turn.on(Event::Failed(Failure::NotAllowed));
        assert_eq!(turn.on(ENDED), []);
        assert_eq!(turn.on(Event::Waited), []);
        assert_eq!(turn.hearing(), Hearing::Deaf);
        let millis = SOON_MS;
        assert_eq!(turn.on(Event::Away(false)), [Act::Wait { millis }]);
        assert_eq!(on(&mut turn, Event::Waited), [Act::Start]);
        turn.on(Event::Started);
        turn.on(Event::Opened);
        assert_eq!(turn.hearing(), Hearing::Hears);
    }
}
