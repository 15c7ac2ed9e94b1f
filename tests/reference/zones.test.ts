/**
 * Sources: the changes of clock in 2026 as the IANA time zone database has them (release 2025b; computed from it, not
 * copied from a table), and luxon, an independent library that asks the runtime's own copy of that database.
 */
import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { TemporalZone } from '../../server/zones/temporal-zone.ts';
import { HOUR } from '../../core/time.ts';

interface Change {
  readonly zone: string;
  readonly short: string;
  readonly long: string;
  /** Length of the two days in hours; an hour less and more unless told. */
  readonly hours?: readonly [number, number];
}

const changes: readonly Change[] = [
  { zone: 'America/New_York', short: '2026-03-08', long: '2026-11-01' },
  { zone: 'America/Chicago', short: '2026-03-08', long: '2026-11-01' },
  { zone: 'America/Los_Angeles', short: '2026-03-08', long: '2026-11-01' },
  { zone: 'Europe/London', short: '2026-03-29', long: '2026-10-25' },
  { zone: 'Europe/Berlin', short: '2026-03-29', long: '2026-10-25' },
  { zone: 'Africa/Cairo', short: '2026-04-24', long: '2026-10-29' },
  { zone: 'Australia/Sydney', short: '2026-10-04', long: '2026-04-05' },
  { zone: 'Pacific/Auckland', short: '2026-09-27', long: '2026-04-05' },
  { zone: 'America/Santiago', short: '2026-09-06', long: '2026-04-04' },
  { zone: 'Australia/Lord_Howe', short: '2026-10-04', long: '2026-04-05', hours: [23.5, 24.5] },
];
const unchanging = ['America/Sao_Paulo', 'Africa/Johannesburg', 'Africa/Lagos', 'Asia/Tokyo'];

function hoursOf(zone: TemporalZone, date: string): number {
  return (zone.startOf(zone.addDays(date, 1)) - zone.startOf(date)) / HOUR;
}

function days2026(zone: TemporalZone): string[] {
  return Array.from({ length: 365 }, (_, i) => zone.addDays('2026-01-01', i));
}

describe.each(changes)('$zone in 2026', ({ zone: name, short, long, hours = [23, 25] }) => {
  const zone = new TemporalZone(name);

  test(`[D1] has its short day on ${short} and its long day on ${long}, and 363 of 24 hours`, () => {
    expect(hoursOf(zone, short)).toBe(hours[0]);
    expect(hoursOf(zone, long)).toBe(hours[1]);
    expect(days2026(zone).filter((date) => hoursOf(zone, date) !== 24)).toEqual([short, long].sort());
  });

  test('[D1] begins each day when luxon does, and both call its first and last instant by its date', () => {
    for (const date of days2026(zone)) {
      const start = zone.startOf(date);
      const end = zone.startOf(zone.addDays(date, 1)) - 1;
      expect(start).toBe(DateTime.fromISO(date, { zone: name }).startOf('day').toMillis());
      for (const at of [start, end]) {
        expect(zone.dateOf(at)).toBe(date);
        expect(DateTime.fromMillis(at, { zone: name }).toISODate()).toBe(date);
      }
    }
  });
});

test.each(unchanging)('[D1] %s has 365 days of 24 hours', (name) => {
  const zone = new TemporalZone(name);
  expect(days2026(zone).filter((date) => hoursOf(zone, date) !== 24)).toEqual([]);
});

test('[D1] a day whose midnight is skipped begins at 01:00', () => {
  const zone = new TemporalZone('Africa/Cairo');
  expect(DateTime.fromMillis(zone.startOf('2026-04-24'), { zone: 'Africa/Cairo' }).toFormat('HH:mm')).toBe('01:00');
});

test('[D1] days are counted on the calendar, over months, leap days and years, as luxon counts them', () => {
  const zone = new TemporalZone('Europe/Berlin');
  for (const [date, days] of [
    ['2026-03-28', 1],
    ['2026-12-31', 1],
    ['2028-02-28', 1],
    ['2026-03-01', -1],
    ['2026-10-24', 7],
    ['2026-01-31', 365],
  ] as const) {
    expect(zone.addDays(date, days)).toBe(DateTime.fromISO(date, { zone: 'utc' }).plus({ days }).toISODate());
  }
});
