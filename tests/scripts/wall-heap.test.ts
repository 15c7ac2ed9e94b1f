import { linearRegression, mean } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { growthOver, lastHalf, type Point } from '../../scripts/faults/heap/slope.ts';

/** Some noise, the same each time. */
const noisy = (n: number, growsBy: number): readonly Point[] =>
  Array.from({ length: n }, (_, i) => ({ at: i * 480_000, bytes: 5e6 + i * growsBy + ((i * 7919) % 13) * 1_000 }));

describe('how much a page holds more and more', () => {
  it('[R10] is the slope of least squares, as a share of the mean, from first to last', () => {
    for (const growsBy of [0, 137, -55]) {
      const points = noisy(60, growsBy);
      // Checked against simple-statistics.
      const { m } = linearRegression(points.map(({ at, bytes }) => [at, bytes]));
      const span = (points.at(-1)?.at ?? 0) - (points[0]?.at ?? 0);
      expect(growthOver(points)).toBeCloseTo((m * span) / mean(points.map(({ bytes }) => bytes)), 12);
    }
  });

  it('[R10] sees ten kilobytes an hour', () => {
    // 480 s between points: 7.5 of them an hour, 30 in the last half of eight hours.
    expect(growthOver(lastHalf(noisy(60, 10_000 / 7.5)))).toBeGreaterThan(0.005);
    expect(growthOver(lastHalf(noisy(60, 30_000 / 7.5)))).toBeGreaterThan(0.01);
    expect(Math.abs(growthOver(lastHalf(noisy(60, 0))))).toBeLessThan(0.002);
  });

  it('[R10] one point, or none, grows nothing', () => {
    expect([growthOver([]), growthOver(noisy(1, 5)), lastHalf([]).length]).toEqual([0, 0, 0]);
    expect(lastHalf(noisy(61, 0))).toHaveLength(31);
  });
});
