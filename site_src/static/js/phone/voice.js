/** A voice that is on the phone itself. */

export class Voice {
  constructor() {
    this.synthesis = "speechSynthesis" in window ? window.speechSynthesis : null;
  }

  /**
   * Voices may take a moment to load: wait a little for the first.
   * @returns {Promise<SpeechSynthesisVoice | null>}
   */
  async find() {
    const { synthesis } = this;
    if (!synthesis) return null;
    if (!synthesis.getVoices().length) {
      await new Promise((resolve) => {
        synthesis.addEventListener("voiceschanged", resolve, { once: true });
        setTimeout(resolve, 1500);
      });
    }
    return this.pick();
  }

  /** One that is on the phone, in English. */
  pick() {
    const voices = this.synthesis?.getVoices() ?? [];
    return voices.find(({ localService, lang }) => localService && /^en\b/i.test(lang)) ?? null;
  }

  /** Say a text in place of whatever is being said. @param {string} text */
  say(text) {
    const voice = this.pick();
    if (!this.synthesis || !voice) return;
    const utterance = new SpeechSynthesisUtterance(text);
    utterance.voice = voice;
    utterance.lang = voice.lang;
    this.synthesis.cancel();
    this.synthesis.speak(utterance);
  }

  hush() {
    this.synthesis?.cancel();
  }
}
