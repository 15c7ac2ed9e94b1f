import type { AudioPort } from './audio-port.ts';
import { HARMONICS } from './score.ts';
import type { Pulse, Score } from './score.ts';

/** A little time to hand the burst over before its first pulse begins. */
const LEAD_S = 0.03;

/**
 * Below what a wall's loudspeaker can make and an ear can hear (25 Hz, 54 dB under a bell), yet not zero: browsers and sound
 * servers put a loudspeaker to sleep that gets nothing but zeros. Common practice, no source for the figures.
 */
const AWAKE_HZ = 25;
const AWAKE_LOUDNESS = 0.002;

/** The tone colour of every bell: the harmonics of `HARMONICS`, as sines. */
export function toneColour(context: AudioPort): PeriodicWave {
  const imag = new Float32Array([0, ...HARMONICS]);
  return context.createPeriodicWave(new Float32Array(imag.length), imag);
}

interface Burst {
  readonly wave: PeriodicWave;
  /** Seconds of the audio clock. */
  readonly beginAt: number;
  /** Peak of its amplitude, 0 to 1. */
  readonly loudness: number;
}

function playPulse(context: AudioPort, burst: Burst, pulse: Pulse): void {
  const beginAt = burst.beginAt + pulse.atMs / 1000;
  const endAt = beginAt + pulse.lengthMs / 1000;
  const tone = context.createOscillator();
  const edge = context.createGain();
  tone.setPeriodicWave(burst.wave);
  tone.frequency.value = pulse.hz;
  edge.gain.setValueAtTime(0, beginAt);
  edge.gain.linearRampToValueAtTime(burst.loudness, beginAt + pulse.riseMs / 1000);
  edge.gain.setValueAtTime(burst.loudness, endAt - pulse.fallMs / 1000);
  edge.gain.linearRampToValueAtTime(0, endAt);
  tone.connect(edge);
  edge.connect(context.destination);
  tone.onended = () => {
    tone.disconnect();
    edge.disconnect();
  };
  tone.start(beginAt);
  tone.stop(endAt);
}

/** Hands a whole burst to the audio clock at once, so that a busy page cannot spoil its rhythm. */
export function playScore(context: AudioPort, wave: PeriodicWave, score: Score, loudness: number): void {
  const burst = { wave, beginAt: context.currentTime + LEAD_S, loudness };
  for (const pulse of score.pulses) playPulse(context, burst, pulse);
}

/**
 * Keeps a wall's loudspeaker awake. A sink that slept swallows the first 0.5 s and more of a bell, and a lead-in before each burst
 * would delay every bell by as much without covering the slower ones; so it never sleeps. Phones and tablets go without: their
 * own loudspeakers wake at once, and the tone would cost battery and the user's music.
 */
export function keepAwake(context: AudioPort): void {
  const tone = context.createOscillator();
  const quiet = context.createGain();
  tone.frequency.value = AWAKE_HZ;
  quiet.gain.setValueAtTime(AWAKE_LOUDNESS, context.currentTime);
  tone.connect(quiet);
  quiet.connect(context.destination);
  tone.start();
}
