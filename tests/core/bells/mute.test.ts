import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bellCauses, bellKinds } from '../../../core/bells/bell.ts';
import { bellLevels } from '../../../core/bells/level.ts';
import { beginMute, isMuting, muteKey, muteLimit, mutes } from '../../../core/bells/mute.ts';
import { MINUTE, SECOND } from '../../../core/time.ts';

const NOW = 1_800_000_000_000;
const rinse = { cause: 'off', episode: 1, kind: 'rinse', level: 'WARNING' } as const;
const key = muteKey('visit-1', rinse);
const standing = [{ key, level: 'WARNING' as const }];

describe('a mute of one device', () => {
  it('[R4] covers what stands at its start, for two minutes and no longer', () => {
    const mute = beginMute(standing, NOW);
    expect(mute.untilAt).toBe(NOW + 2 * MINUTE);
    expect(mutes(mute, key, 'WARNING', NOW)).toBe(true);
    expect(mutes(mute, key, 'WARNING', NOW + 2 * MINUTE - 1)).toBe(true);
    expect(mutes(mute, key, 'WARNING', NOW + 2 * MINUTE)).toBe(false);
    expect(mutes(null, key, 'WARNING', NOW)).toBe(false);
  });
  it('[R4] can be shorter, never longer', () => {
    expect(beginMute(standing, NOW, 30 * SECOND).untilAt).toBe(NOW + 30 * SECOND);
    expect(beginMute(standing, NOW, 30 * MINUTE).untilAt).toBe(NOW + 2 * MINUTE);
    expect(isMuting(beginMute(standing, NOW, -1), NOW)).toBe(false);
    // Kept by a page that reckoned otherwise: the limit holds all the same.
    expect(isMuting({ fromAt: NOW, untilAt: NOW + 30 * MINUTE, keys: [key] }, NOW + 2 * MINUTE)).toBe(false);
  });
  it.each([
    ['another head', 'visit-2', rinse],
    ['a later episode of the same cause', 'visit-1', { ...rinse, episode: 2 }],
    ['a louder level of it', 'visit-1', { ...rinse, level: 'DANGER' as const }],
    ['its next row at the same level', 'visit-1', { ...rinse, kind: 'over' as const }],
    ['another cause at the same head', 'visit-1', { ...rinse, cause: 'test' as const, kind: 'test' as const }],
  ])('[R4] never covers %s', (_what, subject, bell) => {
    expect(mutes(beginMute(standing, NOW), muteKey(subject, bell), bell.level, NOW + SECOND)).toBe(false);
  });
  it('[R4] ends when the clock goes back before its start', () => {
    expect(mutes(beginMute(standing, NOW), key, 'WARNING', NOW - 1)).toBe(false);
  });
});

const bells = fc.array(
  fc.record({
    subject: fc.constantFrom('visit-1', 'visit-2', 'chair/4', 'floor'),
    cause: fc.constantFrom(...bellCauses),
    kind: fc.constantFrom(...bellKinds),
    episode: fc.integer({ min: 1, max: 3 }),
    level: fc.constantFrom(...bellLevels),
  }),
  { maxLength: 12 },
);
const listed = (some: readonly { subject: string; level: (typeof bellLevels)[number] }[]) =>
  some.map((bell) => ({ key: muteKey(bell.subject, bell as never), level: bell.level }));

it('[R4] over random floors, wishes and clocks: DANGER always sounds, what came later sounds, and nothing is muted at two minutes', () => {
  fc.assert(
    fc.property(bells, bells, fc.integer(), fc.maxSafeInteger(), (before, after, wish, now) => {
      const mute = beginMute(listed(before), NOW, wish);
      const stood = new Set(listed(before).map((bell) => bell.key));
      for (const bell of listed([...before, ...after])) {
        const muted = mutes(mute, bell.key, bell.level, now);
        if (!muted) continue;
        expect(bell.level).not.toBe('DANGER');
        expect(stood.has(bell.key)).toBe(true);
        expect(now - NOW).toBeGreaterThanOrEqual(0);
        expect(now - NOW).toBeLessThan(muteLimit);
      }
    }),
    { numRuns: 300 },
  );
  // The same with instants around the mute, where most is muted.
  fc.assert(
    fc.property(bells, fc.integer({ min: -1_000, max: 130_000 }), (before, after) => {
      const mute = beginMute(listed(before), NOW);
      for (const bell of listed(before)) {
        const wanted = bell.level !== 'DANGER' && after >= 0 && after < muteLimit;
        expect(mutes(mute, bell.key, bell.level, NOW + after)).toBe(wanted);
      }
    }),
    { numRuns: 300 },
  );
});
