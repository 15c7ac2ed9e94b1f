import type { Database, Statement, Transaction } from 'better-sqlite3';
import type { Recorded, WordChange } from '../../core/events.ts';
import type { CommandId, VisitId } from '../../core/ids.ts';
import type { LastAlive } from '../../core/trust/timescale.ts';
import { tryToMark, type Damage } from './damage.ts';
import { erasuresIn, noteErasures } from './erasures.ts';
import { rowOf, type EventRow } from './event-rows.ts';
import { damagedFile, openFile, type FileOptions, type OpenedFile } from './open-file.ts';
import type { Projected } from './projections/projected.ts';
import { SqliteProjections } from './projections/sqlite-projections.ts';
import { LAST, Reads, readAtMost } from './reads.ts';
import { rebuild } from './rebuild.ts';
import { SqliteReachTables } from './sqlite-reach-tables.ts';
import { inOrder, onDisk, onFolder, troubleOf } from './storage-trouble.ts';
import { StorageError, type Batch, type KeptAnswer, type Opened, type Store } from './store.ts';
import { touched } from './turn.ts';

/**
 * The log in one SQLite file. Opens it at once; throws a DataFileError when it cannot be used. Once the file is found
 * damaged it fails closed: nothing more is written, not even a checkpoint, and what can still be read is read.
 */
export class SqliteStore implements Store {
  readonly reach = new SqliteReachTables({
    read: (work) =>
      this.#looking('work', () => work(this.#damage === null ? this.#opened.writer : this.#opened.reader)),
    write: (work) => this.#writing(() => work(this.#opened.writer)),
  });
  readonly #opened: OpenedFile;
  readonly #folder: string;
  readonly #wall: () => number;
  readonly #projections: SqliteProjections;
  readonly #putEvent: Statement<[EventRow]>;
  readonly #putWord: Statement<[WordChange]>;
  readonly #dropWord: Statement<[string]>;
  readonly #dropWords: Statement<[string, string]>;
  readonly #putAnswer: Statement<[KeptAnswer]>;
  readonly #putAlive: Statement<[LastAlive]>;
  readonly #turn: Transaction<(batches: readonly Batch[], alive: LastAlive) => void>;
  #reads: Reads;
  #damage: Damage | null = null;
  /** Erased words may still stand in the log of writes, until a checkpoint has cut it. */
  #logHoldsErased = false;

  constructor(options: FileOptions) {
    this.#opened = openFile(options);
    this.#folder = options.folder;
    this.#wall = options.wall ?? Date.now;
    const db = this.#opened.writer;
    this.#reads = new Reads(db);
    this.#projections = new SqliteProjections(db);
    this.#putEvent = db.prepare(
      `INSERT INTO event (seq, stream, version, type, at, recorded_at, by_person, device, command, body)
       VALUES (@seq, @stream, @version, @type, @at, @recordedAt, @by, @device, @command, @body)`,
    );
    this.#putWord = db.prepare(
      'INSERT INTO word (key, text) VALUES (@key, @text) ON CONFLICT (key) DO UPDATE SET text = @text',
    );
    this.#dropWord = db.prepare('DELETE FROM word WHERE key = ?');
    this.#dropWords = db.prepare('DELETE FROM word WHERE key >= ? AND key < ?');
    this.#putAnswer = db.prepare(
      `INSERT INTO answer (command, body_hash, answer, at_seq)
       VALUES (@id, @bodyHash, @answer, (SELECT coalesce(max(seq), 0) FROM event))`,
    );
    this.#putAlive = db.prepare(
      `INSERT INTO alive (id, now, wall, boot_id, uptime, timescale) VALUES (1, @now, @wall, @bootId, @uptime, @timescale)
       ON CONFLICT (id) DO UPDATE SET now = @now, wall = @wall, boot_id = @bootId, uptime = @uptime, timescale = @timescale`,
    );
    this.#turn = this.#turnOn(db);
  }

  get damage(): Damage | null {
    return this.#damage;
  }

  open(): Opened {
    try {
      return this.#looking('start', () => this.#reads.opened());
    } catch (error) {
      if (this.#damage === null) throw error;
      throw damagedFile(this.#opened.file, this.#damage.what);
    }
  }

  write(batches: readonly Batch[], alive: LastAlive): void {
    this.#writing(() => {
      const erasures = erasuresIn(batches);
      // Before the turn: an erasure that stands on no list would come back with an older file.
      onFolder(() => noteErasures(this.#folder, erasures));
      this.#turn.immediate(batches, alive);
      this.#logHoldsErased ||= erasures.length > 0;
      this.#cutLog();
    });
  }

  keepAlive(alive: LastAlive): void {
    this.#writing(() => {
      this.#putAlive.run(alive);
      this.#cutLog();
    });
  }

  answerOf(id: CommandId): KeptAnswer | null {
    return this.#looking('work', () => this.#reads.answerOf(id));
  }

  eventsOf(visit: VisitId, limit = readAtMost): Recorded[] {
    return this.#looking('work', () => this.#reads.eventsOf(visit, limit));
  }

  wordsOf(prefix: string): Readonly<Record<string, string>> {
    return this.#looking('work', () => this.#reads.wordsOf(prefix));
  }

  /** All that is computed from the log; for checks. */
  projected(): Projected {
    return this.#looking('work', () => this.#projections.all());
  }

  /** Computes it anew. */
  rebuild(): void {
    this.#writing(() => this.#opened.writer.transaction(() => rebuild(this.#opened.writer)).immediate());
  }

  /** From now on nothing is written; the finding is left for later starts. */
  declareDamaged(what: string, by: Damage['by']): void {
    if (this.#damage !== null) return;
    this.#damage = { foundAt: this.#wall(), what, by };
    // Reading goes on by the other connection, which never makes a checkpoint.
    this.#reads = new Reads(this.#opened.reader);
    this.#opened.closeWriter();
    tryToMark(this.#folder, this.#damage);
  }

  close(): void {
    this.#opened.close();
  }

  #turnOn(db: Database): Transaction<(batches: readonly Batch[], alive: LastAlive) => void> {
    // A transaction within a transaction is a savepoint.
    const one = db.transaction((batch: Batch) => this.#keep(batch));
    return db.transaction((batches, alive) => {
      batches.forEach((batch, i) => inOrder(i, () => one(batch)));
      for (const visit of touched(batches).values()) this.#projections.rewrite(visit);
      this.#putAlive.run(alive);
    });
  }

  #keep({ events, words, kept }: Batch): void {
    for (const recorded of events) this.#putEvent.run(rowOf(recorded));
    for (const { key, text } of words) {
      if (text === null) this.#dropWord.run(key);
      else this.#putWord.run({ key, text });
    }
    for (const { prefix } of erasuresIn([{ events }])) this.#dropWords.run(prefix, prefix + LAST);
    if (kept !== null) this.#putAnswer.run(kept);
    this.#projections.stepBells(events);
  }

  /** Waits for nobody: while somebody reads, the next write tries again. What was stored stays stored either way. */
  #cutLog(): void {
    if (!this.#logHoldsErased) return;
    const db = this.#opened.writer;
    const timeout = db.pragma('busy_timeout', { simple: true }) as number;
    try {
      db.pragma('busy_timeout = 0');
      const [done] = db.pragma('wal_checkpoint(TRUNCATE)') as [{ readonly busy: number }];
      this.#logHoldsErased = done.busy !== 0;
    } catch (error) {
      if (troubleOf(error) === 'corrupt') this.declareDamaged(String(error), 'work');
    } finally {
      if (db.open) db.pragma(`busy_timeout = ${timeout}`);
    }
  }

  #writing<T>(work: () => T): T {
    if (this.#damage !== null) throw new StorageError('corrupt', new Error(this.#damage.what));
    return this.#looking('work', work);
  }

  /** Trouble with the disk as a StorageError; damage to the file also ends all writing. */
  #looking<T>(by: Damage['by'], work: () => T): T {
    try {
      return onDisk(work);
    } catch (error) {
      if (error instanceof StorageError && error.trouble === 'corrupt') {
        this.declareDamaged(error.cause instanceof Error ? error.cause.message : String(error.cause), by);
      }
      throw error;
    }
  }
}
