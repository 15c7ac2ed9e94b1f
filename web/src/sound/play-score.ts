import type { AudioPort } from './audio-port.ts';
import { HARMONICS } from './score.ts';
import type { Pulse, Score } from './score.ts';

/** A little time to hand the burst over before its first pulse begins. */
const LEAD_S = 0.03;

/** The tone colour of every bell: the harmonics of `HARMONICS`, as sines. */
export function toneColour(context: AudioPort): PeriodicWave {
  const imag = new Float32Array([0, ...HARMONICS]);
  return context.createPeriodicWave(new Float32Array(imag.length), imag);
}

function playPulse(context: AudioPort, wave: PeriodicWave, pulse: Pulse, burstAt: number): void {
  const beginAt = burstAt + pulse.atMs / 1000;
  const endAt = beginAt + pulse.lengthMs / 1000;
  const tone = context.createOscillator();
  const loudness = context.createGain();
  tone.setPeriodicWave(wave);
  tone.frequency.value = pulse.hz;
  loudness.gain.setValueAtTime(0, beginAt);
  loudness.gain.linearRampToValueAtTime(1, beginAt + pulse.riseMs / 1000);
  loudness.gain.setValueAtTime(1, endAt - pulse.fallMs / 1000);
  loudness.gain.linearRampToValueAtTime(0, endAt);
  tone.connect(loudness);
  loudness.connect(context.destination);
  tone.onended = () => {
    tone.disconnect();
    loudness.disconnect();
  };
  tone.start(beginAt);
  tone.stop(endAt);
}

/** Hands a whole burst to the audio clock at once, so that a busy page cannot spoil its rhythm. */
export function playScore(context: AudioPort, wave: PeriodicWave, burst: Score): void {
  const burstAt = context.currentTime + LEAD_S;
  for (const pulse of burst.pulses) playPulse(context, wave, pulse, burstAt);
}
