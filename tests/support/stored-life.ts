import type { WordChange } from '../../core/events.ts';
import type { LastAlive } from '../../core/trust/timescale.ts';
import type { Batch, KeptAnswer, Store } from '../../server/store/store.ts';
import { FloorLife } from './floor-life.ts';

/** The sign of life at an instant of a floor whose clocks all agree. */
export function aliveAt(now: number): LastAlive {
  return { timescale: 'scale-1', now, wall: now, bootId: 'boot-a', uptime: 60_000.25 };
}

function wordsBetween(before: Readonly<Record<string, string>>, after: Readonly<Record<string, string>>): WordChange[] {
  const changes: WordChange[] = [];
  for (const [key, text] of Object.entries(after)) if (before[key] !== text) changes.push({ key, text });
  for (const key of Object.keys(before)) if (after[key] === undefined) changes.push({ key, text: null });
  return changes;
}

/** What `act` made of the floor, as one batch for a store. */
export function batchOf(life: FloorLife, act: (life: FloorLife) => void, kept: KeptAnswer | null = null): Batch {
  const before = { events: life.log.length, words: life.floor.words };
  act(life);
  return {
    events: life.log.slice(before.events),
    words: wordsBetween(before.words, life.floor.words),
    kept,
    floor: life.floor,
  };
}

/** Lives one turn and stores it in each of the stores. */
export function turn(life: FloorLife, stores: readonly Store[], act: (life: FloorLife) => void): void {
  const batch = batchOf(life, act);
  for (const store of stores) store.write([batch], aliveAt(life.now));
}

/** A set-up salon, stored from its first event on. */
export function storedSalon(...stores: readonly Store[]): FloorLife {
  const life = FloorLife.salon();
  const batch: Batch = {
    events: life.log,
    words: wordsBetween({}, life.floor.words),
    kept: null,
    floor: life.floor,
  };
  for (const store of stores) store.write([batch], aliveAt(life.now));
  return life;
}
