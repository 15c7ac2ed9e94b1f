import * as fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Draft, Recorded, SalonEvent } from '../../core/events.ts';
import { evolve } from '../../core/evolve.ts';
import type { Floor } from '../../core/floor.ts';
import { defaultRoom } from '../../core/salon/room.ts';
import type { SqliteStore } from '../../server/store/sqlite-store.ts';
import { dataFolder } from '../support/store-kinds.ts';
import { aliveAt, storedSalon } from '../support/stored-life.ts';

const HOUR = 3_600_000;

/** Everything that time does to the salon, as its events are. */
const happenings: readonly SalonEvent[] = [
  { type: 'TimescaleTaken' },
  { type: 'GapSeen', fromAt: HOUR, why: 'restarted' },
  { type: 'CivilStepped', offsetMs: -HOUR },
  { type: 'TimeBecameUncertain', aliveAt: HOUR, timescale: 'scale-1' },
  { type: 'TimeConfirmed', fromAt: HOUR, byMs: 60_000 },
  { type: 'WallSet', wall: { diagonalIn: 55, distanceM: 6 } },
  {
    type: 'FloorBellRung',
    chair: null,
    cause: 'time-uncertain',
    kind: 'time-uncertain',
    level: 'WARNING',
    episode: 1,
    dueAt: HOUR,
    circle: 2,
    helper: null,
  },
  { type: 'FloorBellEnded', chair: null, cause: 'time-uncertain', episode: 1, why: 'deed-done' },
  { type: 'RoomSet', room: { ...defaultRoom, spoken: true } },
  { type: 'PushSet', on: true },
  { type: 'HelpAsked', chair: 3 },
];

describe('a start passes over what is over in the salon’s stream', () => {
  let data: ReturnType<typeof dataFolder>;
  let store: SqliteStore;
  beforeEach(() => {
    data = dataFolder();
    store = data.open();
  });
  afterEach(() => data.end());

  test('[T2] and folds to the same floor as all of it, whatever time did', () => {
    const life = storedSalon(store);
    let floor: Floor = life.floor;
    let seq = life.log.length;
    let version = life.log.filter(({ stream }) => stream === 'salon').length;
    const happen = (event: SalonEvent): void => {
      seq += 1;
      version += 1;
      const draft: Draft = { stream: 'salon', at: life.now + seq, event };
      const recorded: Recorded = {
        ...draft,
        seq,
        version,
        recordedAt: draft.at,
        by: null,
        device: null,
        command: null,
      };
      floor = evolve(floor, recorded);
      store.write([{ events: [recorded], words: [], kept: null, floor }], aliveAt(life.now));
    };
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...happenings), { maxLength: 12 }), (events) => {
        events.forEach(happen);
        const opened = store.open();
        expect(opened.floor).toEqual(floor);
        expect(opened).toMatchObject({ seq, versions: { salon: version } });
      }),
      { numRuns: 40 },
    );
  });
});
