import { expect, it } from 'vitest';
import type { ChairOnFloor } from '../../../web/src/state/floor-mirror.svelte.ts';
import { basinOf } from '../../../web/src/state/floor-mirror.svelte.ts';
import { MINUTE } from '../../../core/time.ts';
import { basinRows } from '../../../web/src/wall/basin-band.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

it('names who is in which basin, and whose basin nobody named', () => {
  const life = FloorLife.salon();
  const begin = (chair: number): string =>
    life.do({ type: 'BeginApplication', chair, visit: null, service: 'service-1' });
  const [one, two] = [begin(1), begin(2)];
  begin(3);
  life.pass(26);
  life.do({ type: 'BeginRinse', chair: 1, visit: one, basin: 92 });
  life.do({ type: 'BeginRinse', chair: 2, visit: two, basin: null });
  const visits = Object.values(life.floor.visits).map(({ facts }) => facts);
  const chairs: ChairOnFloor[] = visits.map((visit) => ({
    number: visit.chair,
    label: `c${visit.chair}`,
    visit,
    client: null,
  }));
  const basins = [91, 92].map((number) => ({
    number,
    label: number === 91 ? 'A' : 'B',
    heads: visits.filter((visit) => basinOf(visit) === number),
  }));
  const rows = basinRows(basins, chairs);
  expect(rows.map(({ label, heads }) => [label, heads.map((head) => head.label)])).toEqual([
    ['A', []],
    ['B', ['c1']],
    [null, ['c2']],
  ]);
  // Since the water, until the rinse's minimum of five minutes.
  expect(rows[1]?.heads[0]).toMatchObject({ fromAt: NOON + 26 * MINUTE, untilAt: NOON + 31 * MINUTE });
});
