//! The voice.

use crate::voice::turn::Hearing;

/// Begins to listen.
pub const LISTEN: &str = "Listen";
/// Goes to the field, where the browser recognises no speech.
pub const DICTATE: &str = "Dictate";
/// Stops.
pub const STOP: &str = "Stop";
/// Whether it hears, in a word or two.
pub const fn hearing(hearing: Hearing) -> &'static str {
    match hearing {
        Hearing::Off => "not listening",
        Hearing::Starting => "one moment",
        Hearing::Hears => "listening",
        Hearing::Speaking => "speaking",
        Hearing::Deaf => "deaf, one moment",
        Hearing::NoNetwork => "deaf: no network",
        Hearing::NotAllowed => "not allowed",
        Hearing::NoMicrophone => "no microphone",
        Hearing::NotHere => "nothing comes",
        Hearing::NoRecogniser => "by the keyboard's key",
    }
}
/// What to do about it.
pub const fn remedy(hearing: Hearing) -> Option<&'static str> {
    match hearing {
        Hearing::NoNetwork => Some(
            "This browser recognises speech over the network, and there is none. Use the keyboard's dictation key in the field, type or tap; all of it is kept.",
        ),
        Hearing::NotAllowed => Some(
            "The browser does not let the app hear. Allow the microphone in the address line's menu, then tap Listen again.",
        ),
        Hearing::NoMicrophone => {
            Some("No microphone, or another app has it. Close that one, then tap Listen again.")
        }
        Hearing::NotHere => Some(
            "The browser has not begun to hear. If it asks for the microphone, allow it. If it asks nothing: an app opened from the home screen may not recognise speech, nor a phone with dictation switched off in its settings. Then open this address in the browser itself, or tap the field and use the keyboard's dictation key: it works the same.",
        ),
        Hearing::NoRecogniser => Some(
            "This browser does not recognise speech. Tap Dictate and use the keyboard's dictation key: it works the same.",
        ),
        _ => None,
    }
}
/// Said before the first listening.
pub const MAY_LEAVE: &str =
    "While it listens, this browser may send the sound to its maker to be recognised.";
/// Where the browser recognises on the device.
pub const ON_DEVICE: &str = "Speech is recognised on this device; the sound does not leave it.";
/// Answers aloud.
pub const ALOUD: &str = "Answer aloud (off by saying \"quiet\")";
