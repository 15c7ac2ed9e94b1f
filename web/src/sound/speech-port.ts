/** What of the browser's voices is used, so that tests can hand in others. */
export interface SpeechPort {
  /** May be empty at first: some browsers load their voices late, and not all say when. */
  voices(): readonly SpeechSynthesisVoice[];
  /** Says it; told once when it begins and once when it is over, well or not. */
  say(text: string, voice: SpeechSynthesisVoice, told: { began: () => void; over: (well: boolean) => void }): void;
  /** Also what is under way. */
  cancel(): void;
}

/** The browser's own, or null where it has none. */
export function browserSpeech(): SpeechPort | null {
  if (typeof speechSynthesis === 'undefined' || typeof SpeechSynthesisUtterance === 'undefined') return null;
  // Chrome forgets to tell of an utterance that nothing holds (collected as garbage): the last one is held.
  const held: { utterance: SpeechSynthesisUtterance | null } = { utterance: null };
  return {
    voices: () => speechSynthesis.getVoices(),
    say(text, voice, { began, over }) {
      const utterance = new SpeechSynthesisUtterance(text);
      utterance.voice = voice;
      utterance.lang = voice.lang;
      utterance.onstart = began;
      utterance.onend = () => over(true);
      utterance.onerror = () => over(false);
      held.utterance = utterance;
      speechSynthesis.speak(utterance);
    },
    cancel: () => speechSynthesis.cancel(),
  };
}

const tagOf = (lang: string): string => lang.replace('_', '-').toLowerCase();

/**
 * A voice of the screen's language: of its very region before others, one of this device before one that needs the internet.
 * Null rather than a voice of another language, which nobody would understand.
 */
export function voiceFor(locale: string, voices: readonly SpeechSynthesisVoice[]): SpeechSynthesisVoice | null {
  const wanted = tagOf(locale);
  const [language] = wanted.split('-');
  const worth = ({ lang, localService }: SpeechSynthesisVoice): number =>
    (localService ? 2 : 0) + (tagOf(lang) === wanted ? 1 : 0);
  const some = voices.filter(({ lang }) => tagOf(lang).split('-')[0] === language);
  return [...some].sort((a, b) => worth(b) - worth(a))[0] ?? null;
}
