import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { backupName, namedBackup } from '../../../server/backup/backup-name.ts';
import { superfluous } from '../../../server/backup/which-to-keep.ts';
import { TemporalZone } from '../../../server/zones/temporal-zone.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const NOW = Date.UTC(2026, 10, 25, 13);
const zone = new TemporalZone('Europe/Berlin');
const dateOf = (at: number) => zone.dateOf(at);
const at = (time: number) => ({ name: backupName(time, zone.name, 1), at: time, revision: 1 });
const left = (times: readonly number[], now = NOW) => {
  const all = times.map(at);
  const gone = superfluous(all, now, dateOf);
  return all.filter((one) => !gone.includes(one)).map((one) => one.at);
};

describe('the name of a backup', () => {
  it('[R8] sorts by time, tells the salon its own clock, and is read back', () => {
    const name = backupName(NOW + 7_999, 'Europe/Berlin', 1234);
    expect(name).toBe('floor-20261125T130007Z-salon-1400-r1234.db');
    expect(namedBackup(name)).toEqual({ name, at: NOW + 7_000, revision: 1234 });
  });

  it('[D1] two backups of the hour that comes twice in autumn sort as they were made', () => {
    const times = [Date.UTC(2026, 9, 25, 0, 30), Date.UTC(2026, 9, 25, 1, 30)];
    const names = times.map((time) => backupName(time, 'Europe/Berlin', 5));
    expect(names.map((name) => /salon-(\d+)/.exec(name)?.[1])).toEqual(['0230', '0230']);
    expect([...names].sort()).toEqual(names);
  });

  it.each(['floor.db', 'floor-20261125T130007Z-salon-1400-r1234.db.part', 'notes.txt', 'floor-2026-r1.db'])(
    '[R8] what is called %s is not counted, and so never deleted',
    (name) => expect(namedBackup(name)).toBeNull(),
  );
});

describe('which backups are kept', () => {
  it('[R8] all of the last 24 hours, the last one of a day for 30 days, the last one of a month for a year', () => {
    const hourly = Array.from({ length: 24 * 500 }, (_, i) => NOW - i * HOUR);
    const kept = left(hourly);
    const ages = kept.map((time) => (NOW - time) / DAY);
    expect(ages.filter((age) => age <= 1)).toHaveLength(25);
    const daily = kept.filter((time) => NOW - time > DAY && NOW - time <= 30 * DAY);
    expect(new Set(daily.map(dateOf)).size).toBe(daily.length);
    expect(daily.length).toBeGreaterThanOrEqual(29);
    expect(daily.slice(1).every((time) => zone.dateOf(time + HOUR) !== zone.dateOf(time))).toBe(true);
    const monthly = kept.filter((time) => NOW - time > 30 * DAY);
    expect(new Set(monthly.map((time) => dateOf(time).slice(0, 7))).size).toBe(monthly.length);
    expect(monthly.length).toBeGreaterThanOrEqual(12);
    expect(Math.max(...ages)).toBeLessThanOrEqual(366);
  });

  it('[R8] the newest is never deleted, however old it is', () => {
    expect(left([NOW - 900 * DAY, NOW - 901 * DAY])).toEqual([NOW - 900 * DAY]);
  });

  it('[R8] one from the future is not judged: a clock went wrong', () => {
    expect(left([NOW + 500 * DAY, NOW - 2 * HOUR, NOW - HOUR])).toHaveLength(3);
  });

  it('[R8] deleting twice deletes nothing more, and the newest stays whatever there is', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -2 * DAY, max: 800 * DAY }), { minLength: 1, maxLength: 60 }), (ages) => {
        const times = [...new Set(ages.map((age) => NOW - age))];
        const once = left(times);
        expect(left(once)).toEqual(once);
        expect(once).toContain(Math.max(...times));
        expect(once).toEqual(expect.arrayContaining(times.filter((time) => NOW - time <= DAY)));
      }),
    );
  });
});
