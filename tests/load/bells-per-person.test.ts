/*
 * Source: ISA-18.2 / IEC 62682 and EEMUA 191 (from secondary sources): alarms per operator and 10 min about 1, at most about 2; a
 * flood is more than 10 in 10 min, under 1 % of the time; chattering 0. Three activations within 60 s count as chattering
 * (an operational rule), floods are counted in clock-aligned buckets of 600 s, empty ones included (an author's convention). A
 * head that rings on a phone is no alarm of a plant: the figures are borrowed as a measure of how many sounds a person can bear.
 */
import { mean, quantileRankSorted } from 'simple-statistics';
import { beforeAll, describe, expect, it } from 'vitest';
import { HOUR, type Ms } from '../../core/time.ts';
import { chattering, dayOfBells, perTenMinutes, staffOf, type DayOfBells } from './day-of-bells.ts';

const published = { target: 1, limit: 2, flood: 10, floodShare: 0.01 } as const;

/** The whole of a Saturday is played where there is time for it; elsewhere its first half. */
const saturday: Ms = process.env.BASINBELL_LONG === undefined ? 5 * HOUR : 9 * HOUR;

describe.each([
  { day: 'the model day', chairs: 8, seed: 1, lengthMs: 2 * HOUR },
  { day: 'a full Saturday, 8 chairs', chairs: 8, seed: 7, lengthMs: saturday },
  { day: 'a full Saturday, 12 chairs', chairs: 12, seed: 7, lengthMs: saturday },
])('$day', ({ chairs, seed, lengthMs }) => {
  let day: DayOfBells;
  beforeAll(async () => {
    day = await dayOfBells(seed, chairs, lengthMs);
  });

  it('[R11] nobody bears more sounds in ten minutes than the published limit, and all together about the target', () => {
    const each = staffOf(chairs).map((person) => mean(perTenMinutes(day, person)));
    for (const one of each) expect(one).toBeLessThanOrEqual(published.limit);
    // "About": within half of it.
    expect(mean(each)).toBeLessThanOrEqual(published.target * 1.5);
    expect(Math.min(...each)).toBeGreaterThan(0);
  });

  it('[R11] floods stay under the published share of the time, and nothing chatters', () => {
    const buckets = staffOf(chairs).flatMap((person) => perTenMinutes(day, person));
    expect(buckets.filter((count) => count > published.flood).length / buckets.length).toBeLessThan(
      published.floodShare,
    );
    expect(chattering(day)).toEqual([]);
  });

  it('[R11] an ordinary visit sounds one or two bells besides its strand tests', () => {
    const sounded = new Map<string, number>();
    for (const { ear, source } of day.heard) {
      const [visit = '', cause] = source.split('/');
      if (ear !== 'room' || !day.ended.has(visit)) continue;
      if (cause !== 'test') sounded.set(visit, (sounded.get(visit) ?? 0) + 1);
    }
    const each = [...day.ended].map((visit) => sounded.get(visit) ?? 0).sort((a, b) => a - b);
    expect(each.length).toBeGreaterThan(5);
    expect(quantileRankSorted(each, 2)).toBeGreaterThanOrEqual(0.8);
  });

  it('[R8] every bell that began has ended or stands, and everybody asked was shown it', () => {
    const types = day.log.map(({ event }) => event.type);
    expect(types.filter((type) => type === 'BellRung').length).toBeGreaterThan(20);
    expect(types).not.toContain('BellNotReached');
  });
});
