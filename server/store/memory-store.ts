import { visitOf, visitStream, type Recorded } from '../../core/events.ts';
import { evolve } from '../../core/evolve.ts';
import { emptyFloor } from '../../core/floor.ts';
import type { CommandId, VisitId } from '../../core/ids.ts';
import type { LastAlive } from '../../core/trust/timescale.ts';
import { evolveVisit, type Visit } from '../../core/visit/history.ts';
import { withWords } from '../../core/words.ts';
import type { Damage } from './damage.ts';
import { erasuresIn } from './erasures.ts';
import { recordedOf, rowOf, type EventRow } from './event-rows.ts';
import { MemoryReachTables } from './memory-reach-tables.ts';
import { bellEventOf, stepBell, subjectOf, type BellRow } from './projections/bells.ts';
import type { Projected } from './projections/projected.ts';
import { rinsesOf, type RinseRow } from './projections/rinses.ts';
import { spansOf, type SpanRow } from './projections/spans.ts';
import { keptAtHand, visitRow, type VisitRow } from './projections/visit-row.ts';
import { LogConflict, StorageError, type Batch, type KeptAnswer, type Opened, type Store } from './store.ts';
import { touched, versionsOf } from './turn.ts';

interface AboutVisit {
  readonly row: VisitRow;
  readonly spans: readonly SpanRow[];
  readonly rinses: readonly RinseRow[];
}

/** All that a store keeps; replaced whole when a turn has gone through, so that a failed turn leaves nothing. */
interface Kept {
  readonly log: readonly EventRow[];
  readonly versions: ReadonlyMap<string, number>;
  readonly words: Readonly<Record<string, string>>;
  readonly answers: ReadonlyMap<CommandId, KeptAnswer>;
  readonly visits: ReadonlyMap<VisitId, AboutVisit>;
  readonly bells: ReadonlyMap<number, BellRow>;
  readonly alive: LastAlive | null;
}

const nothing: Kept = {
  log: [],
  versions: new Map(),
  words: {},
  answers: new Map(),
  visits: new Map(),
  bells: new Map(),
  alive: null,
};

function about(visit: Visit): AboutVisit {
  return { row: visitRow(visit), spans: spansOf(visit), rinses: rinsesOf(visit) };
}

function withBells(bells: ReadonlyMap<number, BellRow>, events: readonly Recorded[]): ReadonlyMap<number, BellRow> {
  const next = new Map(bells);
  for (const recorded of events) {
    const event = bellEventOf(recorded);
    if (event === null) continue;
    const subject = subjectOf(recorded);
    const stands = (row: BellRow): boolean =>
      row.subject === subject && row.cause === event.cause && row.endedAt === null;
    for (const row of stepBell([...next.values()].find(stands) ?? null, event, recorded)) next.set(row.seq, row);
  }
  return next;
}

function append(kept: Kept, { events, words, kept: answer }: Batch): Kept {
  const log = [...kept.log];
  const versions = new Map(kept.versions);
  for (const recorded of events) {
    const { seq, stream, version } = recorded;
    if (seq !== log.length + 1 || version !== (versions.get(stream) ?? 0) + 1) {
      throw new Error(`an event takes the next place in the log and in its stream: ${stream} ${version}`);
    }
    // As JSON, like a file would: what is read back shares nothing with what was given.
    log.push(rowOf(recorded));
    versions.set(stream, version);
  }
  const answers = new Map(kept.answers);
  if (answer !== null) {
    if (answers.has(answer.id)) throw new Error(`a command's id is used once: ${answer.id}`);
    answers.set(answer.id, { ...answer });
  }
  const erased = erasuresIn([{ events }]).map(({ prefix }) => prefix);
  const left = (key: string): boolean => !erased.some((prefix) => key.startsWith(prefix));
  const now = withWords(kept.words, words);
  return {
    ...kept,
    log,
    versions,
    answers,
    words: erased.length === 0 ? now : pick(now, left),
    bells: withBells(kept.bells, events),
  };
}

/** A store without a file, for tests and measurements: behaves like the one on disk, and forgets everything at the end. */
export class MemoryStore implements Store {
  readonly reach = new MemoryReachTables(() => this.#refuseDamaged());
  #kept = nothing;
  #damage: Damage | null = null;

  get damage(): Damage | null {
    return this.#damage;
  }

  declareDamaged(what: string, by: Damage['by']): void {
    this.#damage ??= { foundAt: this.#kept.alive?.wall ?? 0, what, by };
  }

  open(): Opened {
    const { log, visits, words, alive } = this.#kept;
    const now = alive?.now ?? 0;
    const atHand = new Set([...visits.values()].filter(({ row }) => keptAtHand(row, now)).map(({ row }) => row.id));
    const events = log.map(recordedOf).filter(({ stream }) => {
      const id = visitOf(stream);
      return id === null || atHand.has(id);
    });
    const belongs = (key: string): boolean => !key.startsWith('visit/') || atHand.has(key.split('/')[1] ?? '');
    const floor = { ...events.reduce(evolve, emptyFloor), words: pick(words, belongs) };
    return { floor, seq: log.length, versions: versionsOf(log), lastAlive: alive };
  }

  write(batches: readonly Batch[], alive: LastAlive): void {
    this.#refuseDamaged();
    let next = this.#kept;
    batches.forEach((batch, i) => {
      try {
        next = append(next, batch);
      } catch (error) {
        throw new LogConflict(i, error);
      }
    });
    const visits = new Map(next.visits);
    for (const [id, visit] of touched(batches)) visits.set(id, about(visit));
    this.#kept = { ...next, visits, alive: { ...alive } };
  }

  keepAlive(alive: LastAlive): void {
    this.#refuseDamaged();
    this.#kept = { ...this.#kept, alive: { ...alive } };
  }

  answerOf(id: CommandId): KeptAnswer | null {
    return this.#kept.answers.get(id) ?? null;
  }

  eventsOf(visit: VisitId, limit = Number.POSITIVE_INFINITY): Recorded[] {
    const stream = visitStream(visit);
    const rows = this.#kept.log.filter((row) => row.stream === stream);
    return rows.slice(0, limit).map(recordedOf);
  }

  wordsOf(prefix: string): Readonly<Record<string, string>> {
    return pick(this.#kept.words, (key) => key.startsWith(prefix));
  }

  projected(): Projected {
    const { visits, bells } = this.#kept;
    const byId = [...visits.values()].sort((a, b) => (a.row.id < b.row.id ? -1 : 1));
    return {
      visits: byId.map(({ row }) => row),
      spans: byId.flatMap(({ spans }) => spans),
      rinses: byId.flatMap(({ rinses }) => rinses),
      bells: [...bells.values()].sort((a, b) => a.seq - b.seq),
    };
  }

  rebuild(): void {
    const events = this.#kept.log.map(recordedOf);
    const visits = new Map<VisitId, Visit>();
    for (const recorded of events) {
      const id = visitOf(recorded.stream);
      if (id !== null) visits.set(id, evolveVisit(visits.get(id), id, recorded));
    }
    const bells = withBells(new Map(), events);
    this.#kept = { ...this.#kept, bells, visits: new Map([...visits].map(([id, visit]) => [id, about(visit)])) };
  }

  #refuseDamaged(): void {
    if (this.#damage !== null) throw new StorageError('corrupt', new Error(this.#damage.what));
  }

  close(): void {
    // Nothing is held open.
  }
}

function pick(words: Readonly<Record<string, string>>, wanted: (key: string) => boolean): Record<string, string> {
  return Object.fromEntries(Object.entries(words).filter(([key]) => wanted(key)));
}
