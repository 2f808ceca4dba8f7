//! What the app says, sounds and records at a visit.

use crate::browser::storage;

/// Voice and sound at a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Voice {
    /// Answers are spoken.
    pub spoken: bool,
    /// Short sounds confirm what was understood.
    pub sounds: bool,
    /// The visit's sound is recorded beside the journal, to be heard again where words were lost.
    pub recorded: bool,
}

impl Default for Voice {
    fn default() -> Self {
        Self {
            spoken: true,
            sounds: true,
            recorded: true,
        }
    }
}

const SPOKEN: &str = "voice-spoken";
const SOUNDS: &str = "voice-sounds";
const RECORDED: &str = "voice-recorded";

impl Voice {
    /// As kept; on where nothing is kept.
    pub fn kept() -> Self {
        let usual = Self::default();
        Self {
            spoken: storage::get_switch(SPOKEN, usual.spoken),
            sounds: storage::get_switch(SOUNDS, usual.sounds),
            recorded: storage::get_switch(RECORDED, usual.recorded),
        }
    }

    /// Keeps it.
    pub fn keep(self) {
        storage::set_switch(SPOKEN, self.spoken);
        storage::set_switch(SOUNDS, self.sounds);
        storage::set_switch(RECORDED, self.recorded);
    }
}
