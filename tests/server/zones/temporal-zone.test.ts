import { describe, expect, test } from 'vitest';
import { isZone, machineZone, TemporalZone } from '../../../server/zones/temporal-zone.ts';

describe('names of zones', () => {
  test.each(['Europe/Berlin', 'America/Argentina/Buenos_Aires', 'UTC'])('[D1] %s is one', (name) => {
    expect(isZone(name)).toBe(true);
    expect(new TemporalZone(name).name).toBe(name);
  });

  test.each(['', 'Europe/Nowhere', '+02:00', '-0500', '02:00', 'Europe/Berlin; ', ' Europe/Berlin'])(
    '[D1] "%s" is none',
    (name) => {
      expect(isZone(name)).toBe(false);
      expect(() => new TemporalZone(name)).toThrow(RangeError);
    },
  );

  test('[D1] what the machine proposes is one', () => {
    expect(isZone(machineZone())).toBe(true);
  });
});
