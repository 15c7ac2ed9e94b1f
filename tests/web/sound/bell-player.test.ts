import { describe, expect, it } from 'vitest';
import type { AudioPort } from '../../../web/src/sound/audio-port.ts';
import { BellPlayer } from '../../../web/src/sound/bell-player.ts';
import type { SoundState } from '../../../web/src/sound/bell-player.ts';
import { score } from '../../../web/src/sound/score.ts';
import { HandTimers } from '../support/hand-timers.ts';

/** An audio context whose state and clock are set by hand; it notes what is played. */
class HandAudio {
  state = 'suspended';
  resumable = true;
  frozen = false;
  /** A browser that neither resumes nor refuses. */
  answers = true;
  onstatechange: ((event: Event) => unknown) | null = null;
  readonly destination = {};
  readonly starts: { hz: number; at: number; until: number }[] = [];
  readonly gains: [string, number, number][] = [];
  closed = false;
  /** Tones that began at once and never end. */
  awake = 0;
  readonly #timers: HandTimers;
  constructor(timers: HandTimers) {
    this.#timers = timers;
  }
  get currentTime(): number {
    return this.frozen ? 7 : this.#timers.nowMs / 1000;
  }
  become(state: string): void {
    this.state = state;
    this.onstatechange?.(new Event('statechange'));
  }
  resume(): Promise<void> {
    if (!this.answers) return new Promise(() => undefined);
    if (!this.resumable) return Promise.reject(new Error('not now'));
    this.become('running');
    return Promise.resolve();
  }
  close(): Promise<void> {
    this.closed = true;
    this.state = 'closed';
    return Promise.resolve();
  }
  createPeriodicWave(_real: Float32Array, imag: Float32Array) {
    return { harmonics: imag.length - 1 };
  }
  createGain() {
    const note = (kind: string) => (value: number, at: number) => void this.gains.push([kind, value, at]);
    return {
      gain: { setValueAtTime: note('set'), linearRampToValueAtTime: note('ramp') },
      connect: () => undefined,
      disconnect: () => undefined,
    };
  }
  createOscillator() {
    const tone = { hz: 0, at: 0, until: 0 };
    return {
      frequency: {
        set value(hz: number) {
          tone.hz = hz;
        },
      },
      setPeriodicWave: () => undefined,
      connect: () => undefined,
      disconnect: () => undefined,
      start: (at?: number) => (at === undefined ? void (this.awake += 1) : void (tone.at = at)),
      stop: (until: number) => void this.starts.push({ ...tone, until }),
    };
  }
}

function device(setUp: (audio: HandAudio) => void = () => undefined, staysAwake = false) {
  const timers = new HandTimers();
  timers.nowMs = 1_000;
  const made: HandAudio[] = [];
  const listeners: (() => void)[] = [];
  const claims = { count: 0 };
  const player = new BellPlayer({
    makeContext: () => {
      const audio = new HandAudio(timers);
      setUp(audio);
      made.push(audio);
      return audio as unknown as AudioPort;
    },
    gestures: { addEventListener: (_kind, listener) => void listeners.push(listener) },
    timers,
    claim: () => void (claims.count += 1),
    staysAwake,
  });
  const states: SoundState[] = [];
  player.subscribe((state) => states.push(state));
  const touch = async () => {
    for (const listener of listeners) listener();
    // Resumption is a promise of the browser: let its continuations run.
    await Promise.resolve()
      .then(() => undefined)
      .then(() => undefined);
  };
  return { player, timers, made, states, touch, claims, audio: () => made.at(-1)! };
}

describe('sound on a device', () => {
  it('is locked until the first touch, and one touch unlocks it', async () => {
    const { player, states, touch } = device();
    expect(player.soundState).toBe('locked');
    expect(player.play(score('WARNING'))).toBe(false);
    await touch();
    expect(player.soundState).toBe('on');
    expect(states).toEqual(['locked', 'on']);
  });
  it('is on from the start where the browser allows it', () => {
    expect(device((audio) => (audio.state = 'running')).player.soundState).toBe('on');
  });
  it('is absent without Web Audio', async () => {
    const player = new BellPlayer({
      makeContext: () => null,
      gestures: { addEventListener: () => undefined },
      timers: new HandTimers(),
    });
    expect(player.soundState).toBe('absent');
    expect(await player.unlock()).toBe('absent');
    expect(player.play(score('DANGER'))).toBe(false);
  });
  it.each(['suspended', 'interrupted', 'closed'])('is broken when its context becomes %s', async (state) => {
    const { player, states, touch, audio } = device();
    await touch();
    audio().become(state);
    expect(player.soundState).toBe('broken');
    expect(states.at(-1)).toBe('broken');
    expect(player.play(score('DANGER'))).toBe(false);
  });
  it('comes back by any later touch, however often it was lost', async () => {
    const { player, touch, audio } = device();
    for (let n = 0; n < 3; n += 1) {
      await touch();
      expect(player.soundState).toBe('on');
      audio().become('interrupted');
      expect(player.soundState).toBe('broken');
    }
  });
  it('is made anew when its context cannot be resumed, and the old one is closed', async () => {
    const { made, touch, audio } = device();
    await touch();
    audio().become('interrupted');
    audio().resumable = false;
    await touch();
    expect(made.length).toBeGreaterThan(1);
    expect(made[0]!.closed).toBe(true);
  });
  it('notices a context that says running while its clock stands, and makes another', async () => {
    const { player, timers, made, touch, audio } = device();
    await touch();
    timers.advance(1_000);
    expect(made).toHaveLength(1);
    audio().frozen = true;
    expect(player.play(score('CAUTION'))).toBe(true);
    timers.advance(200);
    expect(made).toHaveLength(2);
    expect(made[0]!.closed).toBe(true);
    expect(player.soundState).toBe('broken');
  });
});

/** Continuations of the browser's promises run. */
const settled = () =>
  Promise.resolve()
    .then(() => undefined)
    .then(() => undefined)
    .then(() => undefined);

describe('sound that was lost', () => {
  it('does not wait for ever for a resumption: the next touch makes another context', async () => {
    let contexts = 0;
    const { player, timers, made, touch, audio } = device((one) => (one.answers = contexts++ > 0));
    await touch();
    expect(player.soundState).toBe('locked');
    timers.advance(1_000);
    await touch();
    expect(made).toHaveLength(2);
    expect(audio().closed).toBe(false);
    expect(made[0]!.closed).toBe(true);
    await settled();
    expect(player.soundState).toBe('on');
  });
  it('comes back without a touch where the browser allows it, looked for every ten seconds', async () => {
    const { player, timers, touch, audio } = device();
    await touch();
    audio().become('suspended');
    timers.advance(10_000);
    await settled();
    expect(player.soundState).toBe('on');
  });
  it('claims the session inside a touch only', async () => {
    const { timers, touch, audio, claims, player } = device();
    audio().become('suspended');
    timers.advance(60_000);
    await player.revive();
    expect(claims.count).toBe(0);
    await touch();
    const claimed = claims.count;
    expect(claimed).toBeGreaterThan(0);
    audio().become('interrupted');
    timers.advance(60_000);
    await player.revive();
    expect(claims.count).toBe(claimed);
  });
  it('keeps an interrupted context while nobody touches: it comes back by itself when the call ends', async () => {
    const { player, timers, made, touch, audio } = device();
    await touch();
    audio().become('interrupted');
    audio().resumable = false;
    for (let n = 0; n < 6; n += 1) {
      timers.advance(10_000);
      await settled();
    }
    expect(made).toHaveLength(1);
    audio().become('running');
    expect(player.soundState).toBe('on');
  });
  it('is noticed between bells: a dead clock is seen within ten seconds and a bit', async () => {
    const { player, timers, touch, audio } = device();
    await touch();
    timers.advance(1_000);
    audio().frozen = true;
    timers.advance(10_200);
    expect(player.soundState).toBe('broken');
  });
});

describe('a loudspeaker that would sleep', () => {
  it('is kept awake on a wall by a tone that is not zero and that nobody hears', () => {
    const { audio } = device(undefined, true);
    expect(audio().awake).toBe(1);
    const [[, loudness]] = audio().gains as [[string, number, number]];
    expect(loudness).toBeGreaterThan(0);
    expect(20 * Math.log10(loudness)).toBeLessThan(-50);
  });
  it('is left alone on what people carry', () => {
    expect(device().audio().awake).toBe(0);
  });
});

it('[R5] a burst peaks at the loudness it is given', async () => {
  const { player, touch, audio } = device();
  await touch();
  player.play(score('CAUTION'), 0.4);
  expect(Math.max(...audio().gains.map(([, value]) => value))).toBe(0.4);
});

it('[R5] hands a whole burst to the audio clock, pulse by pulse, each rising from silence and falling to it', async () => {
  const { player, touch, audio } = device();
  await touch();
  expect(player.play(score('WARNING'))).toBe(true);
  const { starts, gains } = audio();
  const first = starts[0]!.at;
  expect(first).toBeGreaterThanOrEqual(1);
  starts.forEach((tone, n) => {
    const pulse = score('WARNING').pulses[n]!;
    expect(tone.hz).toBe(pulse.hz);
    expect((tone.at - first) * 1000).toBeCloseTo(pulse.atMs, 6);
    expect((tone.until - tone.at) * 1000).toBeCloseTo(pulse.lengthMs, 6);
  });
  expect(starts).toHaveLength(3);
  expect(gains.slice(0, 4).map(([kind, value]) => [kind, value])).toEqual([
    ['set', 0],
    ['ramp', 1],
    ['set', 1],
    ['ramp', 0],
  ]);
});
