import type { Database } from 'better-sqlite3';
import { troubleOf } from '../store/storage-trouble.ts';

/** More would say the same at length. */
const MOST = 5;

/** Harm that leaves SQLite's structure whole, which its checks pass over: measured with 3.53.2, CHECK included. */
const HARMED: readonly (readonly [string, string])[] = [
  ['events that are not JSON', 'SELECT count(*) FROM event WHERE NOT json_valid(body)'],
  ['places of the log that are missing', 'SELECT coalesce(max(seq), 0) - count(*) FROM event'],
];

/**
 * What SQLite's own check finds, in its words, which name tables and rows but none of their contents; if nothing, what is
 * wrong with the log as such. Empty if all is well.
 */
export function findingsOf(db: Database, check: 'quick_check' | 'integrity_check'): string[] {
  try {
    const rows = db.pragma(`${check}(${MOST})`) as Readonly<Record<string, string>>[];
    const said = rows.flatMap((row) => Object.values(row)).filter((text) => text !== 'ok');
    if (said.length > 0) return said;
    const counted = HARMED.map(([what, sql]) => ({ what, count: db.prepare<[], number>(sql).pluck().get() ?? 0 }));
    return counted.filter(({ count }) => count !== 0).map(({ what, count }) => `${count} ${what}`);
  } catch (error) {
    // Damage that the check cannot even walk over is a finding; trouble with the disk is none.
    if (error instanceof Error && troubleOf(error) === 'corrupt') return [error.message];
    throw error;
  }
}
