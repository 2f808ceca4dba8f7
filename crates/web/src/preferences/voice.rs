//! What the app says, sounds and records at a visit.

use crate::browser::{languages, storage};

/// Voice and sound at a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Voice {
    /// Answers are spoken.
    pub spoken: bool,
    /// Short sounds confirm what was understood.
    pub sounds: bool,
    /// The visit's sound is recorded beside the journal, to be heard again where words were lost.
    pub recording: Recording,
    /// The English that is listened for and spoken, one of [`ENGLISH`].
    pub english: &'static str,
}

/// Whether visits are recorded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Recording {
    /// They are.
    #[default]
    On,
    /// The keeper does not want it.
    Off,
    /// It was seen that this device gives the microphone to one at a time, and listening goes first.
    GaveWay,
}

impl Recording {
    const ALL: [Self; 3] = [Self::On, Self::Off, Self::GaveWay];

    const fn word(self) -> &'static str {
        match self {
            Self::On => "on",
            Self::Off => "off",
            Self::GaveWay => "gave-way",
        }
    }

    /// As the keeper wants it. Whoever wants it again may have another microphone: it is tried again.
    pub const fn wanted(wanted: bool) -> Self {
        if wanted { Self::On } else { Self::Off }
    }
}

/// Kinds of English that recognisers and voices are made for, as BCP 47 tags.
pub const ENGLISH: [&str; 8] = [
    "en-AU", "en-CA", "en-IN", "en-IE", "en-NZ", "en-ZA", "en-GB", "en-US",
];

impl Default for Voice {
    fn default() -> Self {
        Self {
            spoken: true,
            sounds: true,
            recording: Recording::On,
            english: ENGLISH[0],
        }
    }
}

const SPOKEN: &str = "voice-spoken";
const SOUNDS: &str = "voice-sounds";
const RECORDED: &str = "voice-recorded";
const LANGUAGE: &str = "voice-english";

impl Voice {
    /// As kept; on where nothing is kept, in the English that the browser is set to.
    pub fn kept() -> Self {
        let usual = Self::default();
        let wanted = storage::get(LANGUAGE).into_iter().chain(languages());
        Self {
            spoken: storage::get_switch(SPOKEN, usual.spoken),
            sounds: storage::get_switch(SOUNDS, usual.sounds),
            recording: storage::get(RECORDED)
                .and_then(|word| Recording::ALL.into_iter().find(|one| one.word() == word))
                .unwrap_or(usual.recording),
            english: first_known(wanted).unwrap_or(usual.english),
        }
    }

    /// Keeps it.
    pub fn keep(self) {
        storage::set_switch(SPOKEN, self.spoken);
        storage::set_switch(SOUNDS, self.sounds);
        storage::set(RECORDED, self.recording.word());
    }

    /// Listens for this English from now on; one that is not known changes nothing.
    pub fn speak(&mut self, tag: &str) {
        if let Some(known) = known(tag) {
            self.english = known;
            storage::set(LANGUAGE, known);
        }
    }
}

fn first_known(wanted: impl IntoIterator<Item = String>) -> Option<&'static str> {
    wanted.into_iter().find_map(|tag| known(&tag))
}

fn known(tag: &str) -> Option<&'static str> {
    ENGLISH
        .into_iter()
        .find(|known| known.eq_ignore_ascii_case(tag))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_english_of_the_browser_counts() {
        let browser = ["de-DE", "de", "en-ie", "en-US"].map(str::to_owned);
        assert_eq!(first_known(browser), Some("en-IE"));
        assert_eq!(first_known(["en".to_owned()]), None);
    }
}
