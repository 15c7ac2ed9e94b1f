/*
 * Sources, each borrowed as an order of urgency; Basinbell is no medical alarm system and never says so.
 * IEC 60601-1-8, Tables 2 and 3 (light, duty, pulses, gaps) and Table 4 (shape of a pulse): read in documents that quote the standard by
 * table, not in the standard itself. Pulse lengths: from memory, not verified. ISO 7731 (500–2500 Hz): read in documents that quote it.
 * WCAG 2.2, 2.3.1 (three flashes): read at the W3C. ANSI Z535.4-2007, 4.14: see sign-colours.
 */
import { describe, expect, it } from 'vitest';
import { repeatEvery } from '../../core/bells/bell.ts';
import { bellLevels, type BellLevel } from '../../core/bells/level.ts';
import { HARMONICS, score } from '../../web/src/sound/score.ts';
import { readSource } from '../web/support/source.ts';

/** Mapping of R5: DANGER as high, WARNING and CAUTION as medium, NOTICE as low priority. */
const published = {
  DANGER: { pulses: [10], gapS: [2.5, 15], pulseMs: [75, 200] },
  WARNING: { pulses: [3], gapS: [2.5, 30], pulseMs: [125, 250] },
  CAUTION: { pulses: [3], gapS: [2.5, 30], pulseMs: [125, 250] },
  // Over 15 s, or none.
  NOTICE: { pulses: [1, 2], gapS: null, pulseMs: [125, 250] },
} as const satisfies Record<BellLevel, object>;

const within = (value: number, [least, most]: readonly [number, number]): void => {
  expect(value).toBeGreaterThanOrEqual(least);
  expect(value).toBeLessThanOrEqual(most);
};

describe.each(bellLevels)('the sound of %s', (level) => {
  const { pulses, lengthMs } = score(level);
  const table = published[level];

  it('[R5] has the pulses of its priority in a burst (Table 3)', () => {
    expect(table.pulses).toContain(pulses.length);
  });
  it('[R5] leaves the published gap from the end of a burst to the next (Table 3)', () => {
    const everyMs = repeatEvery[level];
    expect(score(level).everyMs).toBe(everyMs);
    const last = pulses.at(-1)!;
    expect(lengthMs).toBe(last.atMs + last.lengthMs);
    expect(everyMs === null).toBe(table.gapS === null);
    if (everyMs !== null && table.gapS !== null) within((everyMs - lengthMs) / 1000, table.gapS);
  });
  it('[R5] has pulses of 75–200 ms as high, 125–250 ms as any other (from memory)', () => {
    for (const pulse of pulses) within(pulse.lengthMs, table.pulseMs);
  });
  it('[R5] rises within 10–20 % of a pulse and has fallen when it ends (Table 4)', () => {
    for (const pulse of pulses) {
      within(pulse.riseMs / pulse.lengthMs, [0.1, 0.2]);
      expect(pulse.riseMs + pulse.fallMs).toBeLessThan(pulse.lengthMs);
    }
  });
  it('[R5] has fundamentals of 500–2500 Hz (ISO 7731)', () => {
    for (const { hz } of pulses) within(hz, [500, 2_500]);
  });
  it('[R5] has at least four harmonics in 300–4000 Hz, within 15 dB of the fundamental (Table 4)', () => {
    for (const { hz } of pulses) {
      const counted = HARMONICS.map((part, n) => ({ hz: hz * (n + 1), dB: 20 * Math.log10(part / HARMONICS[0]) }))
        .slice(1)
        .filter((one) => one.hz >= 300 && one.hz <= 4_000);
      expect(counted.length).toBeGreaterThanOrEqual(4);
      for (const { dB } of counted) within(dB, [-15, 15]);
    }
  });
});

it('[R5] DANGER has the rhythm 3 + 2, pause, 3 + 2 (Table 3)', () => {
  const starts = score('DANGER').pulses.map(({ atMs }) => atMs);
  const gaps = starts.slice(1).map((at, n) => at - starts[n]!);
  const [short, middle, long] = [gaps[0]!, gaps[2]!, gaps[4]!];
  expect(gaps).toEqual([short, short, middle, short, long, short, short, middle, short]);
  expect(middle).toBeGreaterThan(short);
  expect(long).toBeGreaterThan(middle);
});

it('[R5] the more urgent never repeats more slowly', () => {
  expect(repeatEvery.DANGER).toBeLessThan(repeatEvery.WARNING);
  expect(repeatEvery.WARNING).toBeLessThan(repeatEvery.CAUTION);
});

describe('the light of a bell', () => {
  const block = readSource('parts/LevelBlock.svelte');
  const animated = [...block.matchAll(/\.([A-Z]+) \{[^}]*animation: blink ([\d.]+)ms steps\(1, end\) infinite/g)];
  const hz = 1000 / Number(animated[0]?.[2]);

  it('[W2] of DANGER blinks at 1.4–2.8 Hz as high priority (Table 2), which is under three flashes a second (WCAG 2.3.1)', () => {
    expect(animated.map(([, level]) => level)).toEqual(['DANGER']);
    within(hz, [1.4, 2.8]);
    expect(hz).toBeLessThan(3);
  });
  it('[W2] of DANGER is on for 20–60 % of the time (Table 2)', () => {
    // Stops of the keyframes: opacity 1 from 0 % to the first number, 0 from the second on.
    const stops = /0%,\s*([\d.]+)% \{\s*opacity: 1;\s*\}\s*([\d.]+)%,\s*100% \{\s*opacity: 0;/.exec(block);
    within(Number(stops?.[1]) / 100, [0.2, 0.6]);
    expect(Number(stops?.[2]) - Number(stops?.[1])).toBeLessThan(0.1);
  });
  it('[W2] of the others is steady: as published for low priority, and calmer than the 0.4–0.8 Hz published for medium', () => {
    expect(block.match(/animation: blink/g)).toHaveLength(1);
  });
});
