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
    Closing {
        /// So many steps are ticked, and undo takes these back first.
        ticked: usize,
    },
}

impl Part {
    const fn is_closing(self) -> bool {
        matches!(self, Self::Closing { .. })
    }
}

impl Command {
    /// The command that a phrase is, if it is one and nothing else.
    pub fn of(phrase: &str, part: Part) -> Option<Self> {
        Some(match plain(phrase).as_str() {
            "undo" | "undo that" | "undo it" | "undo last" | "undo the last" | "undo last one"
            | "undo the last one" | "undo that one" | "undo last step" | "undo the last step"
            | "take that back" | "take it back" | "i take that back" | "i take it back"
            | "no take that back" => Self::Undo,
            "quiet" | "be quiet" | "silence" | "hush" => Self::Quiet,
            "speak" | "speak up" | "answer me" | "talk to me" => Self::Speak,
            "stop listening" | "microphone off" => Self::StopListening,
            "done" | "next" | "next step" | "ok" | "okay" | "that s done" | "did it"
                if part.is_closing() =>
            {
                Self::Done
            }
            "back" | "go back" | "step back" if part.is_closing() => Self::Back,
            "again" | "say again" | "repeat" | "what was that" | "say that again"
                if part.is_closing() =>
            {
                Self::Again
            }
            said if closes(said) => Self::CloseUp,
            _ => return None,
        })
    }
}

/// Whether a phrase ends the looking and says nothing else; one with an order of closing, or with the end
/// that is closed, goes on to be understood.
fn closes(phrase: &str) -> bool {
    let mut core = phrase;
    let mut nest = false;
    while let Some((words, rest)) = LEADS
        .iter()
        .find_map(|words| Some((*words, core.strip_prefix(words)?.strip_prefix(' ')?)))
    {
        nest |= words.ends_with("nest") || words.ends_with("brood");
        core = rest;
    }
    while let Some(rest) = TAILS
        .iter()
        .find_map(|word| core.strip_suffix(word)?.strip_suffix(' '))
    {
        core = rest;
    }
    CLOSES.contains(&core) || nest && matches!(core, "stop" | "we stop" | "i stop")
}

/// What may stand before.
const LEADS: [&str; 22] = [
    "that s the brood nest",
    "that s the nest",
    "that s the brood",
    "there s the nest",
    "that s brood",
    "thats the nest",
    "that s it",
    "that s all",
    "that ll do",
    "that will do",
    "okay",
    "ok",
    "now",
    "then",
    "and",
    "let s",
    "i m",
    "i ll",
    "we ll",
    "we re",
    "time to",
    "going to",
];
/// And behind.
const TAILS: [&str; 4] = ["now", "then", "today", "for"];
const CLOSES: [&str; 20] = [
    "stop here",
    "stopping here",
    "i stop here",
    "we stop here",
    "close up",
    "closing up",
    "close her up",
    "closing her up",
    "close it up",
    "closing it up",
    "close them up",
    "close this up",
    "close the hive",
    "close the hive up",
    "close up the hive",
    "closing the hive",
    "closing the hive up",
    "closing up the hive",
    "close up here",
    "closing up here",
];

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
            "take it back to the car",
        ] {
            assert_eq!(Command::of(talk, Part::Combs), None, "{talk}");
        }
    }

    #[test]
    fn what_was_said_is_taken_back_in_many_words() {
        for words in [
            "take that back",
            "Take it back.",
            "undo the last one",
            "undo the last step",
        ] {
            assert_eq!(
                Command::of(words, Part::Combs),
                Some(Command::Undo),
                "{words}"
            );
        }
    }

    #[test]
    fn words_of_closing_alone_end_the_looking() {
        for words in [
            "stop here",
            "Close up.",
            "closing up now",
            "close her up",
            "okay closing up",
            "time to close up",
            "that's the nest so stop",
            "that\u{2019}s the nest, so stop here",
            "that's it, close it up",
            "let's close up for today",
        ] {
            assert_eq!(
                Command::of(words, Part::Combs),
                Some(Command::CloseUp),
                "{words}"
            );
        }
        for words in [
            "closing from the nest full cut full follower",
            "closing up the right end",
            "stop",
            "that's the nest",
            "it is closing time",
            "close up full full cut follower",
            "stop here at bar nine",
        ] {
            assert_eq!(Command::of(words, Part::Combs), None, "{words}");
        }
    }

    #[test]
    fn next_is_a_comb_at_the_combs_and_a_step_at_the_closing() {
        assert_eq!(Command::of("next", Part::Combs), None);
        assert_eq!(
            Command::of("next", Part::Closing { ticked: 0 }),
            Some(Command::Done)
        );
        assert_eq!(
            Command::of("again", Part::Closing { ticked: 0 }),
            Some(Command::Again)
        );
    }
}
