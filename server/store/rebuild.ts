import type { Database } from 'better-sqlite3';
import { visitOf, type Stream } from '../../core/events.ts';
import { evolveVisit, type Visit } from '../../core/visit/history.ts';
import { eventColumns, recordedOf, type EventRow } from './event-rows.ts';
import { SqliteProjections } from './projections/sqlite-projections.ts';

/**
 * Throws away all that is computed from the log and computes it again, stream by stream; gives what living gave.
 * For migrations and checks: it reads the whole log. Call it inside a transaction.
 */
export function rebuild(db: Database): void {
  const projections = new SqliteProjections(db);
  const eventsOf = db.prepare<[string], EventRow>(
    `SELECT ${eventColumns} FROM event WHERE stream = ? ORDER BY version`,
  );
  const streams = db.prepare<[], string>('SELECT DISTINCT stream FROM event').pluck().all() as Stream[];
  projections.clear();
  for (const stream of streams) {
    const events = eventsOf.all(stream).map(recordedOf);
    projections.stepBells(events);
    const id = visitOf(stream);
    if (id === null) continue;
    let visit: Visit | undefined;
    for (const recorded of events) visit = evolveVisit(visit, id, recorded);
    if (visit !== undefined) projections.rewrite(visit);
  }
}
