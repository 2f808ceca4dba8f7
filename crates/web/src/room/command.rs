//! Words to the program itself, not about the hive.

/// What the keeper wants of the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Command {
    /// Take back the last step.
    Undo,
    /// Answer no more aloud.
    Quiet,
    /// Answer aloud again.
    Speak,
    /// Hear no more.
    StopListening,
    /// On to the closing-up.
    CloseUp,
    /// The step is done.
    Done,
    /// One step back.
    Back,
    /// Say the step again.
    Again,
}

/// Which part of the work goes on: some words mean something else at the combs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Part {
    /// Comb after comb.
    #[default]
    Combs,
    /// Step after step.
    Closing,
}

impl Command {
    /// The command that a phrase is, if it is one and nothing else.
    pub fn of(phrase: &str, part: Part) -> Option<Self> {
        Some(match plain(phrase).as_str() {
            "undo" | "undo that" | "undo it" | "undo last" => Self::Undo,
            "quiet" | "be quiet" | "silence" | "hush" => Self::Quiet,
            "speak" | "speak up" | "answer me" | "talk to me" => Self::Speak,
            "stop listening" | "microphone off" => Self::StopListening,
            "stop here" | "close up" | "closing up" | "time to close up" => Self::CloseUp,
            "done" | "next" | "next step" | "ok" | "okay" | "that s done" | "did it"
                if part == Part::Closing =>
            {
                Self::Done
            }
            "back" | "go back" | "step back" if part == Part::Closing => Self::Back,
            "again" | "say again" | "repeat" | "what was that" | "say that again"
                if part == Part::Closing =>
            {
                Self::Again
            }
            _ => return None,
        })
    }
}

/// A phrase as commands are compared: its words in lower case, without fillers and points.
pub(super) fn plain(phrase: &str) -> String {
    let lower = phrase.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty() && !FILLERS.contains(word))
        .collect();
    words.join(" ")
}

const FILLERS: [&str; 6] = ["um", "uh", "please", "right", "so", "well"];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_command_is_a_whole_phrase() {
        assert_eq!(Command::of("Undo.", Part::Combs), Some(Command::Undo));
        assert_eq!(
            Command::of("um, quiet please", Part::Combs),
            Some(Command::Quiet)
        );
        for talk in [
            "undo the lid first",
            "next one",
            "they are quiet today",
            "take it back",
        ] {
            assert_eq!(Command::of(talk, Part::Combs), None, "{talk}");
        }
    }

    #[test]
    fn next_is_a_comb_at_the_combs_and_a_step_at_the_closing() {
        assert_eq!(Command::of("next", Part::Combs), None);
        assert_eq!(Command::of("next", Part::Closing), Some(Command::Done));
        assert_eq!(Command::of("again", Part::Closing), Some(Command::Again));
    }
}
