// The published table is checked in tests/reference/alarm-signals.test.ts.
import { describe, expect, it } from 'vitest';
import { bellLevels } from '../../../core/bells/level.ts';
import { score } from '../../../web/src/sound/score.ts';

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
