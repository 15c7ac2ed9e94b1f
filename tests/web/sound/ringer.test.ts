import { describe, expect, it } from 'vitest';
import type { BellLevel } from '../../../core/bells/level.ts';
import { Ringer } from '../../../web/src/sound/ringer.ts';
import type { SoundingBell } from '../../../web/src/sound/ringer-plan.ts';
import { score } from '../../../web/src/sound/score.ts';
import { HandTimers } from '../support/hand-timers.ts';

function bell(key: string, level: BellLevel, sinceAt = 0): SoundingBell {
  return { key, level, sinceAt };
}

function ringing() {
  const timers = new HandTimers();
  const bursts: { at: number; level: BellLevel }[] = [];
  const began: string[] = [];
  const sound = { works: true };
  const ringer = new Ringer({
    now: () => timers.nowMs,
    timers,
    play: ({ level }) => {
      if (sound.works) bursts.push({ at: timers.nowMs, level });
      return sound.works;
    },
    began: (burst) => began.push(burst.key),
  });
  return { timers, bursts, began, ringer, sound };
}

const times = (bursts: readonly { at: number; level: BellLevel }[], level: BellLevel) =>
  bursts.filter((one) => one.level === level).map((one) => one.at);

describe('one bell', () => {
  it.each([
    ['DANGER', [0, 5_000, 10_000, 15_000, 20_000, 25_000, 30_000]],
    ['WARNING', [0, 15_000, 30_000]],
    ['CAUTION', [0, 30_000]],
    ['NOTICE', [0]],
  ] as const)('[R5] %s sounds at once and repeats in its rhythm', (level, at) => {
    const { ringer, timers, bursts } = ringing();
    ringer.sound([bell('a', level)]);
    timers.advance(30_000);
    expect(times(bursts, level)).toEqual(at);
  });
  it('[R5] stops when it is taken or ended', () => {
    const { ringer, timers, bursts } = ringing();
    ringer.sound([bell('a', 'DANGER')]);
    timers.advance(6_000);
    ringer.sound([]);
    timers.advance(60_000);
    expect(times(bursts, 'DANGER')).toEqual([0, 5_000]);
    expect(timers.waiting).toBe(0);
  });
  it('being told the same again adds no burst', () => {
    const { ringer, timers, bursts } = ringing();
    for (let at = 0; at < 10_000; at += 100) {
      ringer.sound([bell('a', 'WARNING')]);
      timers.advance(100);
    }
    expect(times(bursts, 'WARNING')).toEqual([0]);
  });
  it('[R2] under a key of its own a second ringing sounds at once', () => {
    const { ringer, timers, bursts } = ringing();
    ringer.sound([bell('a', 'CAUTION')]);
    timers.advance(4_000);
    ringer.sound([]);
    timers.advance(1_000);
    ringer.sound([bell('a again', 'CAUTION')]);
    expect(times(bursts, 'CAUTION')).toEqual([0, 5_000]);
  });
});

describe('several bells', () => {
  it('never overlap', () => {
    const { ringer, timers, bursts } = ringing();
    const levels: BellLevel[] = ['CAUTION', 'DANGER', 'WARNING', 'DANGER', 'CAUTION', 'NOTICE', 'WARNING'];
    ringer.sound(levels.map((level, n) => bell(`b${n}`, level, n)));
    timers.advance(120_000);
    expect(bursts.length).toBeGreaterThan(30);
    bursts.slice(1).forEach((burst, n) => {
      expect(burst.at).toBeGreaterThanOrEqual(bursts[n]!.at + score(bursts[n]!.level).lengthMs);
    });
  });
  it('the most urgent goes first, then the one that stands longest', () => {
    const { ringer, timers, began } = ringing();
    ringer.sound([
      bell('c', 'CAUTION', 1),
      bell('late', 'WARNING', 9),
      bell('early', 'WARNING', 2),
      bell('d', 'DANGER', 8),
    ]);
    timers.advance(12_000);
    expect([...new Set(began)]).toEqual(['d', 'early', 'late', 'c']);
  });
  it('a lesser bell does not delay DANGER, which keeps its five seconds', () => {
    const { ringer, timers, bursts } = ringing();
    ringer.sound([bell('d', 'DANGER'), bell('w', 'WARNING'), bell('c', 'CAUTION')]);
    timers.advance(60_000);
    const danger = times(bursts, 'DANGER');
    danger.slice(1).forEach((at, n) => expect(at - danger[n]!).toBe(5_000));
    expect(times(bursts, 'WARNING').length).toBeGreaterThanOrEqual(4);
    expect(times(bursts, 'CAUTION').length).toBeGreaterThanOrEqual(2);
  });
  it('a more urgent one that comes waits only for the burst under way', () => {
    const { ringer, timers, bursts } = ringing();
    const caution = bell('c', 'CAUTION');
    ringer.sound([caution]);
    timers.advance(100);
    ringer.sound([caution, bell('d', 'DANGER')]);
    timers.advance(2_000);
    const [at] = times(bursts, 'DANGER');
    expect(at).toBeGreaterThanOrEqual(score('CAUTION').lengthMs);
    expect(at).toBeLessThanOrEqual(score('CAUTION').lengthMs + 500);
  });
  it('heads of one level share a rhythm, and each has its first burst', () => {
    const { ringer, timers, bursts, began } = ringing();
    ringer.sound([1, 2, 3, 4].map((n) => bell(`h${n}`, 'CAUTION', n)));
    timers.advance(28_000);
    expect(began).toEqual(['h1', 'h2', 'h3', 'h4']);
    timers.advance(60_000);
    expect(times(bursts, 'CAUTION').length).toBe(6);
  });
});

describe('a device without sound', () => {
  it('rings as soon as sound is back, once', () => {
    const { ringer, timers, bursts, sound } = ringing();
    sound.works = false;
    ringer.sound([bell('w', 'WARNING')]);
    timers.advance(60_500);
    expect(bursts).toEqual([]);
    sound.works = true;
    ringer.look();
    timers.advance(2_000);
    expect(times(bursts, 'WARNING')).toEqual([60_500]);
  });
  it('after a gap plays one burst, not those it missed', () => {
    const { ringer, timers, bursts } = ringing();
    ringer.sound([bell('d', 'DANGER')]);
    timers.nowMs = 100_000; // the page was frozen: no timer ran
    ringer.look();
    timers.advance(100);
    expect(times(bursts, 'DANGER')).toEqual([0, 100_000]);
  });
});

describe('a bell that was not heard', () => {
  it('[R4] sounds at once when its mute ends, whatever its rhythm', () => {
    const { ringer, timers, began } = ringing();
    const muted = { ...bell('m', 'CAUTION'), muted: true };
    ringer.sound([bell('m', 'CAUTION')]);
    timers.advance(3_000);
    ringer.sound([muted]);
    timers.advance(117_000);
    expect(began).toEqual(['m']);
    // Another one has just sounded: the shared rhythm would make it wait for half a minute.
    ringer.sound([muted, bell('n', 'CAUTION')]);
    timers.advance(2_000);
    ringer.sound([bell('m', 'CAUTION'), bell('n', 'CAUTION')]);
    expect(began).toEqual(['m', 'n', 'm']);
  });
  it('[R4] a mute silences nothing but what it covers', () => {
    const { ringer, timers, began } = ringing();
    ringer.sound([{ ...bell('m', 'WARNING'), muted: true }, bell('d', 'DANGER')]);
    timers.advance(4_000);
    expect(began).toEqual(['d']);
  });
  it('begins anew when the device lost its sound during the burst', () => {
    const { ringer, timers, bursts, sound } = ringing();
    ringer.sound([bell('c', 'CAUTION')]);
    timers.advance(200);
    sound.works = false;
    ringer.cutOff();
    timers.advance(2_000);
    sound.works = true;
    ringer.look();
    expect(times(bursts, 'CAUTION')).toEqual([0, 2_200]);
  });
  it('keeps its rhythm when sound was lost after the burst', () => {
    const { ringer, timers, bursts } = ringing();
    ringer.sound([bell('c', 'CAUTION')]);
    timers.advance(5_000);
    ringer.cutOff();
    timers.advance(10_000);
    expect(times(bursts, 'CAUTION')).toEqual([0]);
  });
});
