import type { Recorded, WordChange } from '../../core/events.ts';
import type { Floor } from '../../core/floor.ts';
import type { CommandId, VisitId } from '../../core/ids.ts';
import type { LastAlive } from '../../core/trust/timescale.ts';
import type { StorageTrouble } from '../../shared/wire.ts';
import type { Damage } from './damage.ts';
import type { ReachTables } from './reach-tables.ts';

export type { StorageTrouble };

/** An answer kept with its command's id, so that a repeated command gets the same one (S8). */
export interface KeptAnswer {
  readonly id: CommandId;
  /** SHA-256 of the canonical body; another body under the same id is `id-reused`. */
  readonly bodyHash: string;
  /** The answer as JSON text. */
  readonly answer: string;
}

/** What one command, or the floor by itself, adds to the log. */
export interface Batch {
  readonly events: readonly Recorded[];
  readonly words: readonly WordChange[];
  /** Null for what the floor did by itself. */
  readonly kept: KeptAnswer | null;
  /** The floor after these events: projections of the visits touched are rewritten from it. */
  readonly floor: Floor;
}

/** What is known at start. */
export interface Opened {
  /** Folded from salon, people, directions, open visits and visits that still owe something or just ended. */
  readonly floor: Floor;
  /** Last place in the log; 0 for an empty one. */
  readonly seq: number;
  /** Last version of each stream that is not a visit's; 0 for one without events. A visit's is in its facts. */
  readonly versions: Readonly<Record<'salon' | 'people' | 'directions', number>>;
  readonly lastAlive: LastAlive | null;
}

/** Thrown by a store that could not keep what it was given; nothing of that turn is then kept. */
export class StorageError extends Error {
  readonly trouble: StorageTrouble;
  constructor(trouble: StorageTrouble, cause: unknown) {
    super(`the log could not be written: ${trouble}`, { cause });
    this.trouble = trouble;
  }
}

/**
 * Thrown when a batch does not follow from the log: a place, a version or a command's id is used already, or one was
 * left out. A bug or a second writer, not trouble with the disk; nothing of that turn is kept.
 */
export class LogConflict extends Error {
  /** Index of the batch within its turn. */
  readonly batch: number;
  constructor(batch: number, cause: unknown) {
    super(`batch ${batch} does not follow from the log`, { cause });
    this.batch = batch;
  }
}

/** The log with its projections. One writer; everything is synchronous. */
export interface Store {
  /** Set once what is stored was found damaged; every write is then refused as `corrupt`, until it is replaced. */
  readonly damage: Damage | null;
  /** Beside the log: push subscriptions, hooks and their keys. */
  readonly reach: ReachTables;
  open(): Opened;
  /**
   * Stores the batches of one turn in one transaction, a savepoint each, in order, with the sign of life.
   * Returns only once they are durable. Throws StorageError, and then has kept none of them.
   */
  write(batches: readonly Batch[], alive: LastAlive): void;
  /** The sign of life alone (T3). Throws StorageError. */
  keepAlive(alive: LastAlive): void;
  answerOf(id: CommandId): KeptAnswer | null;
  /** Events of one visit, oldest first, at most `limit` (5,000 unless told); finished visits included. */
  eventsOf(visit: VisitId, limit?: number): Recorded[];
  /** Words whose key begins with `prefix`. */
  wordsOf(prefix: string): Readonly<Record<string, string>>;
  /** Somebody else saw the damage: from now on nothing is written. */
  declareDamaged(what: string, by: Damage['by']): void;
  close(): void;
}
