//! Whether recogniser and recording share the microphone. No browser in it.
//!
//! On many phones they do not: one of the two is given silence, or fails, and nobody says so (reports
//! with phones' browsers: WebAudio/web-speech-api issue 101, cwilso/AudioRecorder issue 9). Then the recording gives
//! way: what is understood at once is worth more than what can be heard again.

use crate::voice::turn::Tally;

/// How loud it is, root mean square of full scale, when somebody speaks near by. Common practice, no
/// source.
const VOICE: f32 = 0.02;
/// Whatever is quieter than this at its loudest is no microphone. Common practice, no source.
const NOTHING: f32 = 0.0005;
/// So long may it be loud and no word come, seconds, before the recogniser is taken for deaf: nobody talks
/// so long to a helper without a pause or a word that is recognised. Common practice, no source.
const LOUD_S: f64 = 8.0;
/// Turns without a word that the recogniser must have ended meanwhile.
const TURNS: u32 = 2;
/// Words must have come in so often, and so long must it have been looked at, seconds, before a silent
/// recording is taken for empty: words of before the meter ran, or of a microphone that is just waking,
/// say nothing. Common practice, no source.
const WORDS: u32 = 20;
const SILENT_S: f64 = 8.0;

/// What the recording hears at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// Root mean square, of full scale.
    pub rms: f32,
    /// The loudest, of full scale.
    pub peak: f32,
}

/// What is to be done about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judged {
    /// Go on, and look on.
    Open,
    /// Both hear. This need not be asked again.
    Shared,
    /// One of them hears nothing: the recording gives way.
    Yield,
}

/// What was seen of one recording so far.
#[derive(Debug, Clone)]
pub struct Sharing {
    first: Tally,
    /// Words that had come in when the meter first told.
    unmetered: Option<u32>,
    metered_s: f64,
    loud_s: f64,
    peak: f32,
}

impl Sharing {
    /// A recording that is about to begin, and what the turns have come to before it.
    pub const fn begin(first: Tally) -> Self {
        Self {
            first,
            unmetered: None,
            metered_s: 0.0,
            loud_s: 0.0,
            peak: 0.0,
        }
    }

    /// Takes in what the recogniser's turns have come to, and what the recording heard over the last
    /// so many seconds; `None` when that cannot be told.
    pub fn judge(&mut self, tally: Tally, level: Option<Level>, seconds: f64) -> Judged {
        let first = self.first;
        let words = tally.words - first.words;
        if tally.no_microphone > first.no_microphone {
            return Judged::Yield;
        }
        let Some(level) = level else {
            return Judged::Open;
        };
        self.peak = self.peak.max(level.peak);
        self.metered_s += seconds;
        let beside = tally.words - *self.unmetered.get_or_insert(tally.words);
        if words > 0 && self.peak >= NOTHING {
            return Judged::Shared;
        }
        if beside >= WORDS && self.metered_s >= SILENT_S {
            return Judged::Yield;
        }
        if tally.listens && level.rms >= VOICE {
            self.loud_s += seconds;
        }
        if self.loud_s >= LOUD_S && tally.in_vain - first.in_vain >= TURNS {
            return Judged::Yield;
        }
        Judged::Open
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPEECH: Level = Level {
        rms: 0.08,
        peak: 0.5,
    };
    const SILENCE: Level = Level {
        rms: 0.0,
        peak: 0.0,
    };
    const BEES: Level = Level {
        rms: 0.006,
        peak: 0.03,
    };

    fn heard(words: u32, in_vain: u32) -> Tally {
        Tally {
            listens: true,
            words,
            in_vain,
            no_microphone: 0,
        }
    }

    /// Quarter seconds of the same, and how it was judged in the end.
    fn over(sharing: &mut Sharing, seconds: u32, tally: Tally, level: Level) -> Judged {
        let mut judged = Judged::Open;
        for _ in 0..seconds * 4 {
            judged = sharing.judge(tally, Some(level), 0.25);
            if judged != Judged::Open {
                break;
            }
        }
        judged
    }

    #[test]
    fn words_and_sound_together_are_shared() {
        let mut sharing = Sharing::begin(heard(0, 0));
        assert_eq!(over(&mut sharing, 2, heard(0, 1), SPEECH), Judged::Open);
        assert_eq!(over(&mut sharing, 1, heard(1, 1), SPEECH), Judged::Shared);
    }

    #[test]
    fn a_recogniser_that_hears_nothing_of_loud_talk_is_given_way() {
        let mut sharing = Sharing::begin(heard(0, 0));
        assert_eq!(over(&mut sharing, 20, heard(0, 0), SPEECH), Judged::Open);
        assert_eq!(over(&mut sharing, 1, heard(0, 1), SPEECH), Judged::Open);
        assert_eq!(over(&mut sharing, 1, heard(0, 2), SPEECH), Judged::Yield);
    }

    #[test]
    fn nobody_speaks_and_nothing_is_taken_for_deaf() {
        let mut sharing = Sharing::begin(heard(0, 0));
        for turns in 0..100 {
            assert_eq!(over(&mut sharing, 5, heard(0, turns), BEES), Judged::Open);
        }
    }

    #[test]
    fn a_silent_recording_beside_words_gives_way() {
        let mut sharing = Sharing::begin(heard(0, 0));
        assert_eq!(over(&mut sharing, 9, heard(0, 0), SILENCE), Judged::Open);
        assert_eq!(over(&mut sharing, 9, heard(19, 0), SILENCE), Judged::Open);
        assert_eq!(over(&mut sharing, 1, heard(20, 0), SILENCE), Judged::Yield);
    }

    #[test]
    fn words_of_before_the_meter_ran_do_not_make_it_silent() {
        let mut sharing = Sharing::begin(heard(0, 0));
        assert_eq!(sharing.judge(heard(30, 0), None, 0.25), Judged::Open);
        assert_eq!(over(&mut sharing, 30, heard(30, 0), SILENCE), Judged::Open);
        assert_eq!(over(&mut sharing, 1, heard(30, 0), BEES), Judged::Shared);
    }

    #[test]
    fn many_words_in_a_moment_wait_for_the_sound() {
        let mut sharing = Sharing::begin(heard(0, 0));
        assert_eq!(over(&mut sharing, 1, heard(0, 0), SILENCE), Judged::Open);
        assert_eq!(over(&mut sharing, 6, heard(40, 0), SILENCE), Judged::Open);
        assert_eq!(over(&mut sharing, 1, heard(40, 0), BEES), Judged::Shared);
    }

    #[test]
    fn a_recogniser_without_a_microphone_is_given_way_at_once() {
        let mut sharing = Sharing::begin(heard(0, 0));
        let none = Tally {
            no_microphone: 1,
            ..heard(0, 1)
        };
        assert_eq!(sharing.judge(none, None, 0.25), Judged::Yield);
    }

    #[test]
    fn where_the_level_cannot_be_told_only_a_failure_counts() {
        let mut sharing = Sharing::begin(heard(0, 0));
        for turn in 0..50 {
            assert_eq!(sharing.judge(heard(turn, turn), None, 5.0), Judged::Open);
        }
    }

    #[test]
    fn while_the_program_speaks_its_own_sound_counts_for_nothing() {
        let mut sharing = Sharing::begin(heard(0, 0));
        let speaking = Tally {
            listens: false,
            ..heard(0, 9)
        };
        assert_eq!(over(&mut sharing, 60, speaking, SPEECH), Judged::Open);
    }
}
