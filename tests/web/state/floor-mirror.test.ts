import { describe, expect, it } from 'vitest';
import { emptyFloor } from '../../../core/floor.ts';
import type { Push, Snapshot } from '../../../shared/wire.ts';
import { ahead } from '../../../web/src/state/ahead.ts';
import { FloorMirror } from '../../../web/src/state/floor-mirror.svelte.ts';
import { entitiesOf } from '../../support/entities.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { min } from '../../support/pass-kit.ts';

const snapshot = (revision: number, life: FloorLife | null, run = 'run-1'): Snapshot => ({
  stream: 'floor',
  run,
  protocol: 2,
  revision,
  timescale: 'timescale-1',
  now: life?.now ?? 0,
  civilOffsetMs: 0,
  entities: life === null ? entitiesOf(emptyFloor) : entitiesOf(life.floor),
});

function processing(): { life: FloorLife; visit: string } {
  const life = FloorLife.salon();
  const visit = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  life.at(15).do({ type: 'FinishApplication', visit });
  return { life, visit };
}

const bells = (mirror: FloorMirror): string[] => mirror.bells.map(({ bell }) => `${bell.kind} ${bell.level}`);

describe('what a screen holds', () => {
  it('[T5] an older snapshot of the same run is passed over; one of another run counts whatever its revision', () => {
    const { life } = processing();
    const mirror = new FloorMirror();
    mirror.take(snapshot(40, life));
    mirror.take(snapshot(39, null));
    expect(mirror.revision).toBe(40);
    expect(mirror.chairs).toHaveLength(4);
    mirror.take(snapshot(3, null, 'run-2'));
    expect(mirror.revision).toBe(3);
    expect(mirror.chairs).toEqual([]);
  });

  it('[T5] a push is applied once and in order; a gap wants a snapshot', () => {
    const { life } = processing();
    const mirror = new FloorMirror();
    mirror.take(snapshot(40, life));
    const push = (previous: number, revision: number): Push => ({ stream: 'floor', previous, revision, entities: {} });
    expect(mirror.apply(push(40, 41))).toBe(true);
    expect(mirror.apply(push(40, 41))).toBe(true);
    expect(mirror.apply(push(39, 40))).toBe(true);
    expect(mirror.revision).toBe(41);
    expect(mirror.apply(push(42, 43))).toBe(false);
    expect(mirror.revision).toBe(41);
  });

  it('[R10] alone it rings what falls due, and lets go of that once the server is heard', () => {
    const { life, visit } = processing();
    const mirror = new FloorMirror();
    mirror.take(snapshot(40, life));
    for (const [minute, standing] of [
      [21, []],
      [22, ['soon NOTICE']],
      [27, ['rinse WARNING']],
      [30, ['over DANGER']],
    ] as const) {
      mirror.aloneAt = min(minute);
      expect(bells(mirror)).toEqual(standing);
    }
    mirror.aloneAt = null;
    expect(bells(mirror)).toEqual([]);
    life.at(30);
    mirror.take(snapshot(43, life));
    expect(mirror.visitOf(visit)?.facts.bells).toMatchObject([{ kind: 'over', episode: 1 }]);
  });

  it('[S7] shows its own touches, and knows which version the server told', () => {
    const { life, visit } = processing();
    const mirror = new FloorMirror();
    mirror.foresee = ahead;
    mirror.take(snapshot(40, life));
    const told = life.facts(visit).version;
    mirror.touches = [
      {
        id: 'touch-0001',
        command: { type: 'BeginRinse', chair: 2, visit, basin: 91 },
        by: null,
        device: null,
        happenedAt: null,
        touchedAt: min(28),
      },
    ];
    mirror.aloneAt = min(31);
    expect(mirror.visitOf(visit)?.facts).toMatchObject({ stage: 'rinse', bells: [] });
    expect(mirror.basins[0]?.heads.map(({ id }) => id)).toEqual([visit]);
    expect(mirror.unsettled.has(visit)).toBe(true);
    expect(mirror.heardVersion(visit)).toBe(told);
    expect(mirror.heardVersion('visit-nowhere')).toBeNull();
  });

  it('[T5] what was kept from before this page gives way to whatever the server says', () => {
    const { life } = processing();
    const mirror = new FloorMirror();
    mirror.takeKept(snapshot(40, life));
    expect(mirror.chairs).toHaveLength(4);
    expect(mirror.run).toBeNull();
    mirror.take(snapshot(12, null));
    expect(mirror.revision).toBe(12);
  });
});
