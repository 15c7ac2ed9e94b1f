import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bellLevels } from '../../../core/bells/level.ts';
import { defaultRoom, roomLimits, soundedLevels } from '../../../core/salon/room.ts';
import { loudnessOf } from '../../../web/src/sound/loudness.ts';

describe('how loud a level is', () => {
  it('[R5] is what the salon chose', () => {
    expect(soundedLevels.map((level) => loudnessOf(level, defaultRoom.volume))).toEqual([0.7, 0.85, 1]);
  });
  it('[R5] is raised to that of a lesser level, never lowered', () => {
    const volume = { CAUTION: 0.9, WARNING: 0.3, DANGER: 0.5 };
    expect(soundedLevels.map((level) => loudnessOf(level, volume))).toEqual([0.9, 0.9, 0.9]);
  });
  it('[R5] a test of NOTICE sounds as CAUTION', () => {
    expect(loudnessOf('NOTICE', defaultRoom.volume)).toBe(0.7);
  });
  it('[R5] whatever was entered: within the limits, no level silent, none quieter than a lesser one', () => {
    const wish = fc.oneof(fc.double(), fc.double({ min: 0, max: 1 }));
    fc.assert(
      fc.property(fc.record({ CAUTION: wish, WARNING: wish, DANGER: wish }), (volume) => {
        const heard = bellLevels.map((level) => loudnessOf(level, volume));
        expect([...heard].sort((a, b) => a - b)).toEqual(heard);
        for (const level of soundedLevels) {
          expect(loudnessOf(level, volume)).toBeGreaterThanOrEqual(roomLimits[level][0]);
          expect(loudnessOf(level, volume)).toBeLessThanOrEqual(roomLimits[level][1]);
        }
      }),
    );
  });
});
