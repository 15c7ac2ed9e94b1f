import type { Database, Statement } from 'better-sqlite3';
import type { Recorded } from '../../../core/events.ts';
import type { Visit } from '../../../core/visit/history.ts';
import { bellEventOf, stepBell, subjectOf, type BellRow } from './bells.ts';
import type { Projected } from './projected.ts';
import { rinsesOf, type RinseRow } from './rinses.ts';
import { spansOf, type SpanRow } from './spans.ts';
import { visitRow, type VisitRow } from './visit-row.ts';

/** A table's columns, each with the name it has in its row here. */
type Columns<Row> = { readonly [K in keyof Row]-?: string };

export const visitColumns: Columns<VisitRow> = {
  id: 'id',
  version: 'version',
  chair: 'chair',
  service: 'service',
  stylist: 'stylist',
  seatedAt: 'seated_at',
  stage: 'stage',
  pass: 'pass',
  endedAt: 'ended_at',
  endedHow: 'ended_how',
  owes: 'owes',
  bells: 'bells',
};
const spanColumns: Columns<SpanRow> = {
  visit: 'visit',
  n: 'n',
  stage: 'stage',
  pass: 'pass',
  chair: 'chair',
  basin: 'basin',
  fromAt: 'from_at',
  toAt: 'to_at',
  by: 'by_person',
};
const rinseColumns: Columns<RinseRow> = {
  visit: 'visit',
  pass: 'pass',
  class: 'class',
  begunAt: 'begun_at',
  opensAt: 'opens_at',
  closesAt: 'closes_at',
  expected: 'expected',
  waterAt: 'water_at',
  basin: 'basin',
  clearAt: 'clear_at',
  entered: 'entered',
  burns: 'burns',
  by: 'by_person',
};
const bellColumns: Columns<BellRow> = {
  seq: 'seq',
  subject: 'subject',
  cause: 'cause',
  kind: 'kind',
  level: 'level',
  episode: 'episode',
  dueAt: 'due_at',
  rungAt: 'rung_at',
  firstTakenBy: 'first_taken_by',
  firstTakenAt: 'first_taken_at',
  circle: 'circle',
  firstShownAt: 'first_shown_at',
  missed: 'missed',
  passed: 'passed',
  endedAt: 'ended_at',
  why: 'why',
};

function inserting(table: string, columns: Readonly<Record<string, string>>): string {
  const names = Object.keys(columns);
  return `INSERT INTO ${table} (${names.map((name) => columns[name]).join(', ')}) VALUES (${names.map((name) => `@${name}`).join(', ')})`;
}

/** On the key given, the other columns are replaced. Not REPLACE: that would delete what refers to the row. */
function upserting(table: string, columns: Readonly<Record<string, string>>, key: string): string {
  const others = Object.values(columns).filter((column) => column !== key);
  return `${inserting(table, columns)} ON CONFLICT (${key}) DO UPDATE SET ${others.map((c) => `${c} = excluded.${c}`).join(', ')}`;
}

function selecting(table: string, columns: Readonly<Record<string, string>>): string {
  return `SELECT ${Object.entries(columns)
    .map(([name, column]) => `${column} AS "${name}"`)
    .join(', ')} FROM ${table}`;
}

/** Writes what is computed from the log; always inside the transaction that stores the events. */
export class SqliteProjections {
  readonly #db: Database;
  readonly #putVisit: Statement<[VisitRow]>;
  readonly #putSpan: Statement<[SpanRow]>;
  readonly #putRinse: Statement<[RinseRow]>;
  readonly #putBell: Statement<[BellRow]>;
  readonly #dropSpans: Statement<[string]>;
  readonly #dropRinses: Statement<[string]>;
  readonly #standing: Statement<[string, string], BellRow>;

  constructor(db: Database) {
    this.#db = db;
    this.#putVisit = db.prepare(upserting('visit', visitColumns, 'id'));
    this.#putSpan = db.prepare(inserting('span', spanColumns));
    this.#putRinse = db.prepare(inserting('rinse', rinseColumns));
    this.#putBell = db.prepare(upserting('bell', bellColumns, 'seq'));
    this.#dropSpans = db.prepare('DELETE FROM span WHERE visit = ?');
    this.#dropRinses = db.prepare('DELETE FROM rinse WHERE visit = ?');
    this.#standing = db.prepare(
      `${selecting('bell', bellColumns)} WHERE subject = ? AND cause = ? AND ended_at IS NULL`,
    );
  }

  /** Rewrites everything about one visit from its facts and history. */
  rewrite(visit: Visit): void {
    const { id } = visit.facts;
    this.#putVisit.run(visitRow(visit));
    this.#dropSpans.run(id);
    for (const row of spansOf(visit)) this.#putSpan.run(row);
    this.#dropRinses.run(id);
    for (const row of rinsesOf(visit)) this.#putRinse.run(row);
  }

  stepBells(events: readonly Recorded[]): void {
    for (const recorded of events) {
      const event = bellEventOf(recorded);
      if (event === null) continue;
      const standing = this.#standing.get(subjectOf(recorded), event.cause) ?? null;
      for (const row of stepBell(standing, event, recorded)) this.#putBell.run(row);
    }
  }

  clear(): void {
    for (const table of ['span', 'rinse', 'bell', 'visit']) this.#db.exec(`DELETE FROM ${table}`);
  }

  /** Everything; for checks, not for a floor at work. */
  all(): Projected {
    const rows = <Row>(table: string, columns: Columns<Row>, key: string): Row[] =>
      this.#db.prepare<[], Row>(`${selecting(table, columns as Record<string, string>)} ORDER BY ${key}`).all();
    return {
      visits: rows('visit', visitColumns, 'id'),
      spans: rows('span', spanColumns, 'visit, n'),
      rinses: rows('rinse', rinseColumns, 'visit, pass'),
      bells: rows('bell', bellColumns, 'seq'),
    };
  }
}
