// IEC 60601-1-8, Tables 2 to 4, as quoted by documents that cite them by table; ISO 7731 for the band. This is a
// borrowing as an order of urgency: Basinbell is no medical alarm system. Pulse lengths are from memory.
import { describe, expect, it } from 'vitest';
import { bellLevels } from '../../../core/bells/level.ts';
import { HARMONICS, score } from '../../../web/src/sound/score.ts';

const gapMs = (level: (typeof bellLevels)[number]) => score(level).everyMs! - score(level).lengthMs;

describe('the published table', () => {
  it('[R5] DANGER has 10 pulses in the rhythm 3 + 2, pause, 3 + 2', () => {
    const starts = score('DANGER').pulses.map((pulse) => pulse.atMs);
    expect(starts).toHaveLength(10);
    const gaps = starts.slice(1).map((at, n) => at - starts[n]!);
    const [short, middle, long] = [gaps[0]!, gaps[2]!, gaps[4]!];
    expect(gaps).toEqual([short, short, middle, short, long, short, short, middle, short]);
    expect(middle).toBeGreaterThan(short);
    expect(long).toBeGreaterThan(middle);
  });
  it('[R5] WARNING and CAUTION have 3 pulses, NOTICE 1 or 2', () => {
    expect(score('WARNING').pulses).toHaveLength(3);
    expect(score('CAUTION').pulses).toHaveLength(3);
    expect([1, 2]).toContain(score('NOTICE').pulses.length);
  });
  it('[R5] repeats after 5 s, 15 s, 30 s, and NOTICE not at all', () => {
    expect(bellLevels.map((level) => score(level).everyMs)).toEqual([null, 30_000, 15_000, 5_000]);
  });
  it('[R5] the gap between bursts is 2.5–15 s for high and 2.5–30 s for medium', () => {
    expect(gapMs('DANGER')).toBeGreaterThanOrEqual(2_500);
    expect(gapMs('DANGER')).toBeLessThanOrEqual(15_000);
    for (const level of ['WARNING', 'CAUTION'] as const) {
      expect(gapMs(level)).toBeGreaterThanOrEqual(2_500);
      expect(gapMs(level)).toBeLessThanOrEqual(30_000);
    }
  });
  it('[R5] pulses last 75–200 ms for high, 125–250 ms for the others (from memory)', () => {
    for (const level of bellLevels) {
      const [least, most] = level === 'DANGER' ? [75, 200] : [125, 250];
      for (const { lengthMs } of score(level).pulses) {
        expect(lengthMs).toBeGreaterThanOrEqual(least);
        expect(lengthMs).toBeLessThanOrEqual(most);
      }
    }
  });
  it.each(bellLevels)(
    '[R5] a pulse of %s rises within 10–20 % of its length and has fallen before it ends',
    (level) => {
      for (const { riseMs, fallMs, lengthMs } of score(level).pulses) {
        expect(riseMs / lengthMs).toBeGreaterThanOrEqual(0.1);
        expect(riseMs / lengthMs).toBeLessThanOrEqual(0.2);
        expect(riseMs + fallMs).toBeLessThan(lengthMs);
      }
    },
  );
  it.each(bellLevels)(
    '[R5] %s has fundamentals of 500–2500 Hz with at least four harmonics in 300–4000 Hz',
    (level) => {
      for (const { hz } of score(level).pulses) {
        expect(hz).toBeGreaterThanOrEqual(500);
        expect(hz).toBeLessThanOrEqual(2_500);
        const above = HARMONICS.map((_, n) => hz * (n + 1)).slice(1);
        expect(above.filter((harmonic) => harmonic >= 300 && harmonic <= 4_000).length).toBeGreaterThanOrEqual(4);
      }
    },
  );
  it('[R5] harmonics are within ±15 dB of the fundamental', () => {
    for (const part of HARMONICS) expect(Math.abs(20 * Math.log10(part / HARMONICS[0]))).toBeLessThanOrEqual(15);
  });
});

describe('within a burst', () => {
  it.each(bellLevels)('pulses of %s follow each other without overlapping, and end with the burst', (level) => {
    const { pulses, lengthMs } = score(level);
    pulses.slice(1).forEach((pulse, n) => expect(pulse.atMs).toBeGreaterThan(pulses[n]!.atMs + pulses[n]!.lengthMs));
    expect(pulses.at(-1)!.atMs + pulses.at(-1)!.lengthMs).toBe(lengthMs);
  });
});

it('[R5] each level has a pattern of pitches of its own', () => {
  const contour = (level: (typeof bellLevels)[number]) =>
    score(level)
      .pulses.slice(1)
      .map((pulse, n) => Math.sign(pulse.hz - score(level).pulses[n]!.hz))
      .join(' ');
  expect(new Set(bellLevels.map(contour)).size).toBe(bellLevels.length);
});
