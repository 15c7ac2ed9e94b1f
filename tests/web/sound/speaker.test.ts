import { describe, expect, it } from 'vitest';
import type { BellLevel } from '../../../core/bells/level.ts';
import { Ringer } from '../../../web/src/sound/ringer.ts';
import { score } from '../../../web/src/sound/score.ts';
import { AFTER_BURST_MS, BEGINS_WITHIN_MS, OVER_WITHIN_MS, Speaker } from '../../../web/src/sound/speaker.ts';
import { voiceFor, type SpeechPort } from '../../../web/src/sound/speech-port.ts';
import { HandTimers } from '../support/hand-timers.ts';

const voice = (lang: string, localService = true) => ({ lang, localService, name: lang }) as SpeechSynthesisVoice;
type Told = Parameters<SpeechPort['say']>[2];

/** A wall that rings and speaks; its voice says what the test makes it say. */
function room(voices: SpeechSynthesisVoice[] | null = [voice('en-GB')]) {
  const timers = new HandTimers();
  const said: { text: string; at: number; told: Told; cut: boolean }[] = [];
  const bursts: { from: number; to: number }[] = [];
  const port: SpeechPort | null = voices && {
    voices: () => voices,
    say: (text, _voice, told) => void said.push({ text, at: timers.nowMs, told, cut: false }),
    cancel: () => {
      const last = said.at(-1);
      if (last) last.cut = true;
    },
  };
  const speaker = new Speaker({ port, locale: () => 'en-GB', now: () => timers.nowMs, timers });
  const ringer = new Ringer({
    now: () => timers.nowMs,
    timers,
    play: ({ lengthMs }) => bursts.push({ from: timers.nowMs, to: timers.nowMs + lengthMs }) > 0,
    began: (burst) => speaker.burst(burst, score(burst.level).lengthMs),
  });
  const sound = (...bells: { key: string; level: BellLevel; sinceAt: number; said: string | null }[]) => {
    ringer.sound(bells);
    speaker.follow(bells);
  };
  const texts = () => said.map(({ text }) => text);
  const finish = () => {
    said.at(-1)?.told.began();
    said.at(-1)?.told.over(true);
  };
  return { timers, said, bursts, speaker, sound, texts, finish };
}
const bell = (key: string, level: BellLevel, said: string | null, sinceAt = 0) => ({ key, level, said, sinceAt });
const SIX = bell('six', 'WARNING', 'chair six, rinse now');

describe('a spoken bell', () => {
  it('[W4] is said once its burst is over', () => {
    const { sound, timers, said, texts, bursts } = room();
    sound(SIX);
    timers.advance(score('WARNING').lengthMs);
    expect(texts()).toEqual([]);
    timers.advance(AFTER_BURST_MS);
    expect(texts()).toEqual(['chair six, rinse now']);
    expect(said[0]!.at).toBeGreaterThan(bursts[0]!.to);
  });
  it('[W4] is cut off by the next burst, and said again after it', () => {
    const { sound, timers, said, texts } = room();
    sound(SIX);
    timers.advance(2_000);
    said[0]!.told.began();
    sound(SIX, bell('one', 'DANGER', 'chair one, water now'));
    expect(said[0]!.cut).toBe(true);
    timers.advance(3_000);
    expect(texts()).toEqual(['chair six, rinse now', 'chair one, water now']);
  });
  it('[W4] the most urgent is said first, then, with time left, the next', () => {
    const { sound, timers, texts, finish } = room();
    sound(bell('two', 'CAUTION', 'chair two, test a strand'), SIX);
    timers.advance(4_000);
    expect(texts()).toEqual(['chair six, rinse now']);
    finish();
    timers.advance(1_000);
    expect(texts()).toEqual(['chair six, rinse now', 'chair two, test a strand']);
  });
  it('[W4] is not said with every burst, but again after a minute', () => {
    const { sound, timers, texts, finish } = room();
    sound(SIX);
    timers.advance(3_000);
    finish();
    timers.advance(50_000);
    expect(texts()).toHaveLength(1);
    timers.advance(30_000);
    expect(texts()).toHaveLength(2);
  });
  it('[W4] is not said once it has ended, and not to its end', () => {
    const { sound, timers, said, texts } = room();
    sound(SIX);
    timers.advance(500);
    sound();
    timers.advance(5_000);
    expect(texts()).toEqual([]);
    sound({ ...SIX, key: 'six again' });
    timers.advance(2_000);
    expect(texts()).toHaveLength(1);
    sound();
    expect(said[0]!.cut).toBe(true);
  });
  it('[W4] without a sentence nothing is said', () => {
    const { sound, timers, texts } = room();
    sound(bell('six', 'WARNING', null));
    timers.advance(60_000);
    expect(texts()).toEqual([]);
  });
});

describe('voices', () => {
  it.each([
    ['no voices at all', null],
    ['none of its language', [voice('de-DE'), voice('fr-FR')]],
    ['none yet', []],
  ])('[W4] a page with %s rings and says nothing', (_what, voices) => {
    const { sound, timers, texts, bursts, speaker } = room(voices);
    sound(SIX);
    timers.advance(40_000);
    expect(bursts).toHaveLength(3);
    expect(texts()).toEqual([]);
    expect(speaker.hasVoice).toBe(false);
  });
  it('[W4] that come late are found at the next burst', () => {
    const voices: SpeechSynthesisVoice[] = [];
    const { sound, timers, texts } = room(voices);
    sound(SIX);
    timers.advance(5_000);
    voices.push(voice('en_US'));
    timers.advance(15_000);
    expect(texts()).toEqual(['chair six, rinse now']);
  });
  it('[W4] its region first, one of this device before one of the internet, never another language', () => {
    const [gb, us, far] = [voice('en-GB'), voice('en-US'), voice('en-GB', false)];
    expect(voiceFor('en-GB', [voice('de-DE'), us, far, gb])).toBe(gb);
    expect(voiceFor('en-GB', [far, us])).toBe(us);
    expect(voiceFor('en', [voice('enm'), voice('de')])).toBeNull();
  });
  it('[W4] one that hangs before it begins does not silence the next bell', () => {
    const { sound, timers, said, texts } = room();
    sound(SIX);
    timers.advance(1_500 + BEGINS_WITHIN_MS);
    expect(said[0]!.cut).toBe(true);
    sound(SIX, bell('two', 'WARNING', 'chair two, rinse now'));
    timers.advance(2_000);
    expect(texts().at(-1)).toBe('chair two, rinse now');
  });
  it('[W4] one that never says that it is over does not either', () => {
    const { sound, timers, said } = room();
    sound(bell('six', 'CAUTION', 'chair six, rinse now'));
    timers.advance(2_000);
    said[0]!.told.began();
    timers.advance(OVER_WITHIN_MS);
    expect(said[0]!.cut).toBe(true);
    timers.advance(21_500);
    expect(said).toHaveLength(2);
  });
  it('[W4] that always fail are left alone for a while', () => {
    const { sound, timers, said } = room();
    sound(SIX);
    for (let n = 0; n < 20; n += 1) {
      timers.advance(15_000);
      said.at(-1)?.told.over(false);
    }
    expect(said.length).toBeLessThan(8);
    expect(said.length).toBeGreaterThanOrEqual(3);
  });
});
