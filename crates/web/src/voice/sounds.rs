//! Short sounds: heard and understood, heard and not about the hive.

use web_sys::{AudioContext, AudioContextState, OscillatorType};

/// The sound card, once the page was touched.
#[derive(Default)]
pub(super) struct Sounds {
    context: Option<AudioContext>,
}

/// How long one sounds, seconds.
const LONG: f64 = 0.07;
/// How loud at most, of 1.
const LOUD: f32 = 0.12;

impl Sounds {
    /// Makes sound possible; must be called while a touch is handled.
    pub(super) fn wake(&mut self) {
        if self.context.is_none() {
            self.context = AudioContext::new().ok();
        }
        if let Some(context) = &self.context {
            // a browser that keeps it asleep is only silent
            let _ = context.resume();
        }
    }

    /// High for understood, low for not.
    pub(super) fn play(&self, understood: bool) {
        // a sound that does not come is no fault
        let _ = self.tone(if understood { 880.0 } else { 233.0 });
    }

    fn tone(&self, pitch_hz: f32) -> Option<()> {
        let context = self.context.as_ref()?;
        if context.state() != AudioContextState::Running {
            // a call took it away; the phone gives it back when asked
            let _ = context.resume();
        }
        let (source, gain) = (
            context.create_oscillator().ok()?,
            context.create_gain().ok()?,
        );
        source.set_type(OscillatorType::Sine);
        source.frequency().set_value(pitch_hz);
        let now = context.current_time();
        // without a click at the beginning and the end
        gain.gain().set_value_at_time(0.0, now).ok()?;
        gain.gain()
            .linear_ramp_to_value_at_time(LOUD, now + 0.01)
            .ok()?;
        gain.gain()
            .linear_ramp_to_value_at_time(0.0, now + LONG)
            .ok()?;
        source.connect_with_audio_node(&gain).ok()?;
        gain.connect_with_audio_node(&context.destination()).ok()?;
        source.start().ok()?;
        source.stop_with_when(now + LONG + 0.02).ok()
    }
}
