import type { Database, Statement, Transaction } from 'better-sqlite3';
import { visitStream, type Recorded, type WordChange } from '../../core/events.ts';
import { evolve } from '../../core/evolve.ts';
import { emptyFloor, type Floor } from '../../core/floor.ts';
import type { CommandId, VisitId } from '../../core/ids.ts';
import type { LastAlive } from '../../core/trust/timescale.ts';
import { eventColumns, recordedOf, rowOf, type EventRow } from './event-rows.ts';
import { openFile, type FileOptions } from './open-file.ts';
import { SqliteProjections } from './projections/sqlite-projections.ts';
import type { Projected } from './projections/projected.ts';
import { keptFor } from './projections/visit-row.ts';
import { rebuild } from './rebuild.ts';
import { inOrder, onDisk } from './storage-trouble.ts';
import type { Batch, KeptAnswer, Opened, Store } from './store.ts';
import { touched, versionsOf } from './turn.ts';

/** The main thread reads no more at a time. */
export const readAtMost = 5_000;

/** Visits that a start folds, as `keptAtHand` says, each arm by its own index: two years of visits lie beside them. */
const AT_HAND = `
  SELECT id FROM visit INDEXED BY visit_running WHERE ended_at IS NULL OR bells > 0
  UNION SELECT id FROM visit INDEXED BY visit_ended WHERE ended_at IS NOT NULL AND ended_at >= @now - ${keptFor.ended}
  UNION SELECT id FROM visit INDEXED BY visit_ended WHERE ended_at IS NOT NULL AND ended_at >= @now - ${keptFor.owing} AND owes > 0`;

/** Above every character, so that `prefix` to `prefix + LAST` spans all keys that begin with it. */
const LAST = '\u{10FFFF}';

/** The log in one SQLite file. Opens it at once; throws a DataFileError when it cannot be used. */
export class SqliteStore implements Store {
  readonly #db: Database;
  readonly #close: () => void;
  readonly #projections: SqliteProjections;
  readonly #putEvent: Statement<[EventRow]>;
  readonly #putWord: Statement<[WordChange]>;
  readonly #dropWord: Statement<[string]>;
  readonly #putAnswer: Statement<[KeptAnswer]>;
  readonly #putAlive: Statement<[LastAlive]>;
  readonly #answer: Statement<[string], KeptAnswer>;
  readonly #stream: Statement<[string, number], EventRow>;
  readonly #turn: Transaction<(batches: readonly Batch[], alive: LastAlive) => void>;

  constructor(options: FileOptions) {
    const { db, close } = openFile(options);
    this.#db = db;
    this.#close = close;
    this.#projections = new SqliteProjections(db);
    this.#putEvent = db.prepare(
      `INSERT INTO event (seq, stream, version, type, at, recorded_at, by_person, device, command, body)
       VALUES (@seq, @stream, @version, @type, @at, @recordedAt, @by, @device, @command, @body)`,
    );
    this.#putWord = db.prepare(
      'INSERT INTO word (key, text) VALUES (@key, @text) ON CONFLICT (key) DO UPDATE SET text = @text',
    );
    this.#dropWord = db.prepare('DELETE FROM word WHERE key = ?');
    this.#putAnswer = db.prepare(
      `INSERT INTO answer (command, body_hash, answer, at_seq)
       VALUES (@id, @bodyHash, @answer, (SELECT coalesce(max(seq), 0) FROM event))`,
    );
    this.#putAlive = db.prepare(
      `INSERT INTO alive (id, now, wall, boot_id, uptime, timescale) VALUES (1, @now, @wall, @bootId, @uptime, @timescale)
       ON CONFLICT (id) DO UPDATE SET now = @now, wall = @wall, boot_id = @bootId, uptime = @uptime, timescale = @timescale`,
    );
    this.#answer = db.prepare('SELECT command AS id, body_hash AS bodyHash, answer FROM answer WHERE command = ?');
    this.#stream = db.prepare(`SELECT ${eventColumns} FROM event WHERE stream = ? ORDER BY version LIMIT ?`);
    // A transaction within a transaction is a savepoint.
    const one = db.transaction((batch: Batch) => this.#keep(batch));
    this.#turn = db.transaction((batches, alive) => {
      batches.forEach((batch, i) => inOrder(i, () => one(batch)));
      for (const visit of touched(batches).values()) this.#projections.rewrite(visit);
      this.#putAlive.run(alive);
    });
  }

  open(): Opened {
    return onDisk(() => {
      const lastAlive = this.#alive();
      const seq = this.#db.prepare<[], number>('SELECT coalesce(max(seq), 0) FROM event').pluck().get() ?? 0;
      const visits = this.#db
        .prepare<{ now: number }, VisitId>(AT_HAND)
        .pluck()
        .all({ now: lastAlive?.now ?? 0 });
      const rows = this.#db
        .prepare<[string], EventRow>(
          `SELECT ${eventColumns} FROM event WHERE stream IN (SELECT value FROM json_each(?)) ORDER BY seq`,
        )
        .all(JSON.stringify(['salon', 'people', 'directions', ...visits.map(visitStream)]));
      const folded = rows.reduce((floor, row) => evolve(floor, recordedOf(row)), emptyFloor);
      const floor: Floor = { ...folded, words: this.#wordsFor(visits) };
      return { floor, seq, versions: versionsOf(rows), lastAlive };
    });
  }

  write(batches: readonly Batch[], alive: LastAlive): void {
    onDisk(() => this.#turn.immediate(batches, alive));
  }

  keepAlive(alive: LastAlive): void {
    onDisk(() => this.#putAlive.run(alive));
  }

  answerOf(id: CommandId): KeptAnswer | null {
    return onDisk(() => this.#answer.get(id) ?? null);
  }

  eventsOf(visit: VisitId, limit = readAtMost): Recorded[] {
    return onDisk(() => this.#stream.all(visitStream(visit), Math.min(limit, readAtMost)).map(recordedOf));
  }

  wordsOf(prefix: string): Readonly<Record<string, string>> {
    return onDisk(() => this.#words('key >= @from AND key < @to', { from: prefix, to: prefix + LAST }));
  }

  /** All that is computed from the log; for checks. */
  projected(): Projected {
    return onDisk(() => this.#projections.all());
  }

  /** Computes it anew. */
  rebuild(): void {
    onDisk(() => this.#db.transaction(() => rebuild(this.#db)).immediate());
  }

  close(): void {
    this.#close();
  }

  #keep({ events, words, kept }: Batch): void {
    for (const recorded of events) this.#putEvent.run(rowOf(recorded));
    for (const { key, text } of words) {
      if (text === null) this.#dropWord.run(key);
      else this.#putWord.run({ key, text });
    }
    if (kept !== null) this.#putAnswer.run(kept);
    this.#projections.stepBells(events);
  }

  #alive(): LastAlive | null {
    const select = 'SELECT now, wall, boot_id AS bootId, uptime, timescale FROM alive';
    return this.#db.prepare<[], LastAlive>(select).get() ?? null;
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
