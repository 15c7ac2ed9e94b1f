import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteDatabase, { type Database } from 'better-sqlite3';
import { HOUR, MINUTE, type EpochMs, type Ms } from '../../core/time.ts';
import { dataFileName } from '../../server/store/file-names.ts';
import { SqliteStore } from '../../server/store/sqlite-store.ts';
import { LivedDay } from './lived-day.ts';
import type { Line } from './table.ts';

const DAY: Ms = 24 * HOUR;
const BEGIN: EpochMs = Date.UTC(2024, 2, 11, 9);
/** Heads on the floor when the server starts. */
const OPEN = 8;
const ROUNDS = 15;
const WARM_UP = 3;

interface Span {
  readonly name: string;
  readonly days: number;
  readonly events: number;
}
const SPANS: readonly Span[] = [
  { name: 'one week', days: 7, events: 14_400 },
  { name: 'two years', days: 730, events: 1_500_000 },
];

/** Tables with a visit's id or stream in them, and the columns that hold instants; all else is copied as it is. */
const copied = [
  { table: 'visit', id: 'id', instants: ['seated_at', 'ended_at'] },
  { table: 'span', id: 'visit', instants: ['from_at', 'to_at'] },
  { table: 'rinse', id: 'visit', instants: ['begun_at', 'opens_at', 'closes_at', 'water_at', 'clear_at'] },
] as const;

/** One lived visit again and again, spread over the days before it: its events, answers, words and projections. */
function multiply(db: Database, visit: string, { days, events }: Span): void {
  const one = (sql: string): number => db.prepare<[], number>(sql).pluck().get() ?? 0;
  const stream = `visit/${visit}`;
  const each = one(`SELECT count(*) FROM event WHERE stream = '${stream}'`);
  const visits = Math.ceil(events / each);
  const last = one('SELECT max(seq) FROM event');
  const back = `((nth + 1) * ${Math.floor((days * DAY) / visits)} * -1)`;
  const copies = `WITH RECURSIVE copy (nth) AS (SELECT 0 UNION ALL SELECT nth + 1 FROM copy WHERE nth < ${visits - 1})`;
  const name = "printf('bench-copy-%07d', nth)";
  db.exec('DROP TRIGGER event_follows');
  db.transaction(() => {
    db.exec(`${copies} INSERT INTO event SELECT ${last} + nth * ${each} + version, 'visit/' || ${name}, version, type,
      at + ${back}, recorded_at + ${back}, by_person, device, CASE WHEN command IS NULL THEN NULL ELSE command || nth END, body
      FROM copy, event WHERE stream = '${stream}' ORDER BY nth, version`);
    db.exec(`${copies} INSERT INTO answer SELECT command || nth, body_hash, answer, at_seq FROM copy, answer
      WHERE command IN (SELECT command FROM event WHERE stream = '${stream}')`);
    db.exec(`${copies} INSERT INTO word SELECT 'visit/' || ${name} || '/label', text FROM copy, word
      WHERE key = '${stream}/label'`);
    for (const { table, id, instants } of copied) {
      const all = db.pragma(`table_info(${table})`) as { name: string }[];
      const said = all.map((column) => {
        if (column.name === id) return name;
        return (instants as readonly string[]).includes(column.name) ? `${column.name} + ${back}` : column.name;
      });
      db.exec(`${copies} INSERT INTO ${table} SELECT ${said.join(', ')} FROM copy, ${table} WHERE ${id} = '${visit}'`);
    }
    growBells(db, visit, copies, back, name, last, each);
    growSalon(db, days);
  })();
}

function growBells(
  db: Database,
  visit: string,
  copies: string,
  back: string,
  name: string,
  last: number,
  each: number,
): void {
  const first = db.prepare<[], number>(`SELECT min(seq) FROM event WHERE stream = 'visit/${visit}'`).pluck().get() ?? 0;
  db.exec(`${copies} INSERT INTO bell SELECT ${last} + nth * ${each} + seq - ${first} + 1, ${name}, cause, kind, level, episode,
    due_at + ${back}, rung_at + ${back}, first_taken_by, first_taken_at + ${back}, ended_at + ${back}, why
    FROM copy, bell WHERE subject = '${visit}'`);
}

/** Each morning the timescale is taken from the wall clock and the night's gap is told: these pile up in the salon's stream. */
function growSalon(db: Database, days: number): void {
  const last = db
    .prepare<[], { seq: number; version: number }>(
      `SELECT (SELECT max(seq) FROM event) AS seq, (SELECT max(version) FROM event WHERE stream = 'salon') AS version`,
    )
    .get();
  const put = db.prepare(`INSERT INTO event VALUES (?, 'salon', ?, ?, ?, ?, NULL, NULL, NULL, ?)`);
  for (let i = 0; i < days * 2; i += 1) {
    const at = BEGIN - (days - i / 2) * DAY;
    const type = i % 2 === 0 ? 'GapSeen' : 'TimescaleTaken';
    const body = i % 2 === 0 ? JSON.stringify({ fromAt: at - 12 * HOUR, why: 'rebooted' }) : '{}';
    put.run((last?.seq ?? 0) + 1 + i, (last?.version ?? 0) + 1 + i, type, at, at, body);
  }
}

async function made(span: Span): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'basinbell-bench-'));
  const store = new SqliteStore({ folder });
  const day = new LivedDay(store, BEGIN, 'former');
  await day.setUp(OPEN);
  const visit = await day.wholeVisit(1);
  store.close();
  const db = new SqliteDatabase(join(folder, dataFileName));
  const follows = db.prepare("SELECT sql FROM sqlite_schema WHERE name = 'event_follows'").pluck().get() as string;
  // Thrown away at the end: nothing here has to survive a power cut.
  db.pragma('journal_mode = DELETE');
  db.pragma('journal_mode = OFF');
  db.pragma('synchronous = OFF');
  multiply(db, visit, span);
  db.exec(follows);
  db.close();
  const again = new SqliteStore({ folder });
  const today = new LivedDay(again, BEGIN + 3 * HOUR, 'today');
  for (let chair = 1; chair <= OPEN; chair += 1) {
    const open = { type: 'BeginApplication', chair, visit: null, service: 'bench-service' } as const;
    await today.pass(MINUTE).do(open);
  }
  again.close();
  return folder;
}

function started(folder: string): { readonly ms: number; readonly heads: number } {
  const from = performance.now();
  const store = new SqliteStore({ folder });
  const { floor } = store.open();
  const ms = performance.now() - from;
  store.close();
  return { ms, heads: Object.values(floor.visits).filter(({ facts }) => facts.end === null).length };
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

/** Opening the file and folding what a start needs, in turns. The file is in the system's cache: what is read is compared, not a disk. */
export async function history(): Promise<Line[]> {
  const folders: string[] = [];
  try {
    for (const span of SPANS) folders.push(await made(span));
    const taken = folders.map(() => [] as number[]);
    for (let round = 0; round < WARM_UP + ROUNDS; round += 1) {
      folders.forEach((folder, i) => {
        const { ms, heads } = started(folder);
        if (heads !== OPEN) throw new Error(`${heads} heads instead of ${OPEN}`);
        if (round >= WARM_UP) taken[i]?.push(ms);
      });
    }
    const [week, years] = taken.map(median) as [number, number];
    const size = Math.round(statSync(join(folders[1] ?? '', dataFileName)).size / 2 ** 20);
    return [
      {
        what: `start with two years of history (1.5 million events, ${size} MiB, ${OPEN} open visits)`,
        measured: `${years.toFixed(1)} ms`,
        against: `one week, ${week.toFixed(1)} ms`,
        ratio: `${(years / week).toFixed(2)} ×`,
        goal: '≤ 1.3 ×',
      },
    ];
  } finally {
    for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  }
}
