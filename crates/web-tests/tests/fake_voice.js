// A recogniser and a voice of the test's own, under the names that pages know (Web Speech API). It ends
// after each sentence, as on phones. `speakToIt(words)` gives true when it was listening.
(() => {
  let ear = null;
  window.spoken = [];
  class FakeRecogniser {
    start() {
      if (ear) throw new DOMException("already started", "InvalidStateError");
      ear = this;
      window.heardIn = this.lang;
      setTimeout(() => this.onstart?.(new Event("start")), 5);
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
  const result = (transcript, isFinal) => {
    const results = [Object.assign([{ transcript, confidence: isFinal ? 0.9 : 0 }], { isFinal })];
    return Object.assign(new Event("result"), { resultIndex: 0, results });
  };
  window.speakToIt = (words) => {
    const one = ear;
    if (!one || window.speaking) return false;
    one.onresult?.(result(words.split(" ").slice(0, 2).join(" "), false));
    one.onresult?.(result(words, true));
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
  window.SpeechRecognition = FakeRecogniser;
  window.webkitSpeechRecognition = FakeRecogniser;
  const voice = {
    cancel() {},
    speak(utterance) {
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
