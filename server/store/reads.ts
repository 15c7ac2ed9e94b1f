import type { Database, Statement } from 'better-sqlite3';
import { visitStream, type Recorded } from '../../core/events.ts';
import { evolve } from '../../core/evolve.ts';
import { emptyFloor, type Floor } from '../../core/floor.ts';
import type { CommandId, VisitId } from '../../core/ids.ts';
import type { LastAlive } from '../../core/trust/timescale.ts';
import { eventColumns, recordedOf, type EventRow } from './event-rows.ts';
import { keptFor } from './projections/visit-row.ts';
import type { KeptAnswer, Opened } from './store.ts';
import { versionsOf } from './turn.ts';

/** The main thread reads no more at a time. */
export const readAtMost = 5_000;

/** Visits that a start folds, as `keptAtHand` says, each arm by its own index: two years of visits lie beside them. */
const AT_HAND = `
  SELECT id FROM visit INDEXED BY visit_running WHERE ended_at IS NULL OR bells > 0
  UNION SELECT id FROM visit INDEXED BY visit_ended WHERE ended_at IS NOT NULL AND ended_at >= @now - ${keptFor.ended}
  UNION SELECT id FROM visit INDEXED BY visit_ended WHERE ended_at IS NOT NULL AND ended_at >= @now - ${keptFor.owing} AND owes > 0`;

/**
 * The salon's stream grows by the day's beginning alone: what these say is over once the timescale was taken anew, so a start
 * passes over those before the last `TimescaleTaken`. The fold of the rest is the same.
 */
const LAST_TAKEN = `SELECT version FROM event WHERE stream = 'salon' AND type = 'TimescaleTaken' ORDER BY version DESC LIMIT 1`;
const NOT_OVER = `NOT (stream = 'salon' AND version < @taken AND type IN ('TimescaleTaken', 'GapSeen', 'CivilStepped'))`;

/** Above every character, so that `prefix` to `prefix + LAST` spans all keys that begin with it. */
export const LAST = '\u{10FFFF}';

/** What the floor asks of the log, on whichever connection there is. */
export class Reads {
  readonly #db: Database;
  readonly #answer: Statement<[string], KeptAnswer>;
  readonly #stream: Statement<[string, number], EventRow>;

  constructor(db: Database) {
    this.#db = db;
    this.#answer = db.prepare('SELECT command AS id, body_hash AS bodyHash, answer FROM answer WHERE command = ?');
    this.#stream = db.prepare(`SELECT ${eventColumns} FROM event WHERE stream = ? ORDER BY version LIMIT ?`);
  }

  opened(): Opened {
    const lastAlive = this.alive();
    const seq = this.#db.prepare<[], number>('SELECT coalesce(max(seq), 0) FROM event').pluck().get() ?? 0;
    const visits = this.#db
      .prepare<{ now: number }, VisitId>(AT_HAND)
      .pluck()
      .all({ now: lastAlive?.now ?? 0 });
    const taken = this.#db.prepare<[], number>(LAST_TAKEN).pluck().get() ?? 0;
    const rows = this.#db
      .prepare<{ streams: string; taken: number }, EventRow>(
        `SELECT ${eventColumns} FROM event WHERE stream IN (SELECT value FROM json_each(@streams)) AND ${NOT_OVER} ORDER BY seq`,
      )
      .all({ streams: JSON.stringify(['salon', 'people', 'directions', ...visits.map(visitStream)]), taken });
    const folded = rows.reduce((floor, row) => evolve(floor, recordedOf(row)), emptyFloor);
    const floor: Floor = { ...folded, words: this.#wordsFor(visits) };
    return { floor, seq, versions: versionsOf(rows), lastAlive };
  }

  alive(): LastAlive | null {
    const select = 'SELECT now, wall, boot_id AS bootId, uptime, timescale FROM alive';
    return this.#db.prepare<[], LastAlive>(select).get() ?? null;
  }

  answerOf(id: CommandId): KeptAnswer | null {
    return this.#answer.get(id) ?? null;
  }

  eventsOf(visit: VisitId, limit: number): Recorded[] {
    return this.#stream.all(visitStream(visit), Math.min(limit, readAtMost)).map(recordedOf);
  }

  wordsOf(prefix: string): Readonly<Record<string, string>> {
    return this.#words('key >= @from AND key < @to', { from: prefix, to: prefix + LAST });
  }

  /** Words of the salon and of the visits at hand; those of earlier clients stay in the file. */
  #wordsFor(visits: readonly VisitId[]): Readonly<Record<string, string>> {
    const own = this.#words("key < 'visit/' OR key >= 'visit0'", {});
    return Object.assign(own, ...visits.map((visit) => this.wordsOf(`visit/${visit}/`))) as Record<string, string>;
  }

  #words(where: string, range: object): Record<string, string> {
    const rows = this.#db
      .prepare<object, { key: string; text: string }>(`SELECT key, text FROM word WHERE ${where}`)
      .all(range);
    return Object.fromEntries(rows.map(({ key, text }) => [key, text]));
  }
}
