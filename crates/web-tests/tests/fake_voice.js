// A recogniser and a voice of the test's own, under the names that pages know (Web Speech API). It behaves
// as those of phones are reported to (see crates/web/src/voice/results.rs): it ends after each sentence, calls
// settled what still grows, with no confidence, and settles the whole twice.
// `speakToIt(words, others)` gives true when it was listening; `others` are further readings of the whole.
(() => {
  let ear = null;
  window.spoken = [];
  window.starts = [];
  class FakeRecogniser {
    // on this device where the test says so
    static async available({ processLocally }) {
      return processLocally && window.onDevice ? window.onDevice : "unavailable";
    }
    static async install() {
      window.installed = (window.installed ?? 0) + 1;
      window.onDevice = "available";
      return true;
    }
    start() {
      // as in apps on the home screen of some phones (WebKit bug 225298)
      if (window.mute) return;
      if (ear) throw new DOMException("already started", "InvalidStateError");
      ear = this;
      window.heardIn = this.lang;
      const phrases = [...(this.phrases ?? [])].map(({ phrase, boost }) => [phrase, boost]);
      window.starts.push({ local: this.processLocally, phrases });
      setTimeout(() => this.onstart?.(new Event("start")), 5);
      setTimeout(() => this.onaudiostart?.(new Event("audiostart")), 10);
    }
    stop() {
      this.abort();
    }
    abort() {
      if (ear !== this) return;
      ear = null;
      setTimeout(() => this.onend?.(new Event("end")), 5);
    }
  }
  const result = (...pieces) => {
    const results = pieces.map(([transcript, confidence, others = []]) => {
      const further = others.map((words) => ({ transcript: words, confidence: 0.1 }));
      return Object.assign([{ transcript, confidence }, ...further], { isFinal: true });
    });
    return Object.assign(new Event("result"), { resultIndex: 0, results });
  };
  window.speakToIt = (words, others) => {
    const one = ear;
    if (!one || window.speaking) return false;
    const all = words.split(" ");
    const grown = all.map((_, n) => [all.slice(0, n + 1).join(" "), 0]);
    for (const n of grown.keys()) one.onresult?.(result(...grown.slice(0, n + 1)));
    one.onresult?.(result(...grown, [words, 0.9, others]));
    one.onresult?.(result(...grown, [words, 0.9, others], [words, 0.9, others]));
    ear = null;
    one.onend?.(new Event("end"));
    return true;
  };
  window.failIt = (error) => {
    const one = ear;
    ear = null;
    one?.onerror?.(Object.assign(new Event("error"), { error }));
    one?.onend?.(new Event("end"));
  };
  window.SpeechRecognitionPhrase = class {
    constructor(phrase, boost) {
      Object.assign(this, { phrase, boost });
    }
  };
  window.SpeechRecognition = FakeRecogniser;
  window.webkitSpeechRecognition = FakeRecogniser;
  let primed = false;
  const voice = {
    cancel() {},
    speak(utterance) {
      // some phones drop what is first asked for outside a touch, without a word
      primed ||= navigator.userActivation.isActive;
      if (!primed) return;
      // nothing to be heard
      if (utterance.volume === 0) return;
      window.spoken.push(utterance.text);
      window.speaking = true;
      // whatever is said aloud now must not be heard
      setTimeout(() => {
        window.speaking = false;
        utterance.onend?.(new Event("end"));
      }, 40);
    },
  };
  Object.defineProperty(window, "speechSynthesis", { value: voice });
})();
