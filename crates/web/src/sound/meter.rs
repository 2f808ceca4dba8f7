//! How loud the microphone's stream is.

use wasm_bindgen::JsValue;
use web_sys::{AnalyserNode, AudioContext, AudioContextState, MediaStream};

use super::sharing::Level;

/// Samples looked at together: a third of a second at 48 kHz, so that looks at every quarter miss nothing.
const SAMPLES: u32 = 16_384;

/// A meter on a stream; dropped, it ends.
pub(super) struct Meter {
    context: AudioContext,
    analyser: AnalyserNode,
}

impl Meter {
    /// Puts one on. It changes nothing of the stream.
    pub(super) fn on(stream: &MediaStream) -> Result<Self, JsValue> {
        let context = AudioContext::new()?;
        let analyser = context.create_analyser()?;
        analyser.set_fft_size(SAMPLES);
        let source = context.create_media_stream_source(stream)?;
        source.connect_with_audio_node(&analyser)?;
        // a browser that keeps it asleep tells nothing of the level
        let _ = context.resume();
        Ok(Self { context, analyser })
    }

    /// What it shows now; `None` while the browser keeps it asleep.
    pub(super) fn level(&self) -> Option<Level> {
        if self.context.state() != AudioContextState::Running {
            return None;
        }
        let mut samples = vec![0.0; SAMPLES as usize];
        self.analyser.get_float_time_domain_data(&mut samples);
        let peak = samples.iter().fold(0.0_f32, |peak, at| peak.max(at.abs()));
        let power: f32 = samples.iter().map(|at| at * at).sum();
        Some(Level {
            rms: (power / SAMPLES as f32).sqrt(),
            peak,
        })
    }
}

impl Drop for Meter {
    fn drop(&mut self) {
        // it ends with the page at the latest
        let _ = self.context.close();
    }
}
