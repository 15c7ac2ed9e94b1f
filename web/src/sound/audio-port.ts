/** What of Web Audio is used, so that tests can hand in another. A real AudioContext fits. */
export interface AudioPort {
  /** `interrupted` is WebKit's: a telephone call, a locked screen. */
  readonly state: string;
  /** Seconds; stands still on a context that is dead though it says running. */
  readonly currentTime: number;
  readonly destination: AudioNode;
  onstatechange: ((this: never, event: Event) => unknown) | null;
  resume(): Promise<void>;
  close(): Promise<void>;
  createGain(): GainNode;
  createOscillator(): OscillatorNode;
  createPeriodicWave(real: Float32Array<ArrayBuffer>, imag: Float32Array<ArrayBuffer>): PeriodicWave;
}

/** Where touches come from; the listener stays for ever, since sound can be lost at any time. */
export interface GestureSource {
  addEventListener(kind: string, listener: () => void, options?: AddEventListenerOptions): void;
}

export const GESTURES = ['pointerup', 'keydown', 'touchend'] as const;

/** The browser's own, or null where it has none. */
export function browserAudio(): AudioPort | null {
  return typeof AudioContext === 'undefined' ? null : (new AudioContext({ latencyHint: 'interactive' }) as AudioPort);
}

/** iOS mutes Web Audio with the ringer switch unless the page says it plays for a reason (audio-session draft). */
export function claimPlayback(navigator: Navigator): void {
  const session = (navigator as Navigator & { audioSession?: { type: string } }).audioSession;
  if (session) session.type = 'playback';
}
