import SqliteDatabase, { type Database } from 'better-sqlite3';
import type { EpochMs } from '../../core/time.ts';
import { findingsOf } from '../reader/findings.ts';
import { applicationId } from '../store/migrations/migrate.ts';
import { migrations } from '../store/migrations/migrations.ts';
import { sqliteCode, troubleOf } from '../store/storage-trouble.ts';

/** What a data file holds, for whoever chooses one. */
export interface Contents {
  readonly shape: number;
  readonly events: number;
  readonly visits: number;
  readonly openVisits: number;
  /** Wall clock of its last sign of life; null for a file without one. */
  readonly aliveAt: EpochMs | null;
}

/** Why a file cannot be taken for a data file of this program. */
export type Unusable = 'missing' | 'not-ours' | 'newer' | 'damaged' | 'unreadable';

export type Inspected =
  | { readonly usable: true; readonly contents: Contents }
  | { readonly usable: false; readonly why: Unusable; readonly what: string };

const refused = (why: Unusable, what: string): Inspected => ({ usable: false, why, what });

/**
 * Looks at a file by a connection that only reads: is it ours, of a shape we know, and, unless only a glance is asked for,
 * sound to the last page?
 */
export function inspect(file: string, how: 'whole' | 'glance' = 'whole'): Inspected {
  let db: Database | null = null;
  try {
    db = new SqliteDatabase(file, { readonly: true, fileMustExist: true });
    return inspected(db, how);
  } catch (error) {
    const code = sqliteCode(error) ?? '';
    const what = error instanceof Error ? error.message : String(error);
    if (code.startsWith('SQLITE_NOTADB')) return refused('not-ours', what);
    if (troubleOf(error) === 'corrupt') return refused('damaged', what);
    return refused(code.startsWith('SQLITE_CANTOPEN') || code === '' ? 'missing' : 'unreadable', what);
  } finally {
    db?.close();
  }
}

function inspected(db: Database, how: 'whole' | 'glance'): Inspected {
  const id = db.pragma('application_id', { simple: true }) as number;
  const shape = db.pragma('user_version', { simple: true }) as number;
  if (id !== applicationId) return refused('not-ours', `its mark is ${id}`);
  if (shape > migrations.length)
    return refused('newer', `its shape is ${shape}, this program knows ${migrations.length}`);
  const findings = how === 'whole' ? findingsOf(db, 'integrity_check') : [];
  if (findings.length > 0) return refused('damaged', findings.join('; '));
  return { usable: true, contents: contentsOf(db) };
}

function contentsOf(db: Database): Contents {
  const one = (sql: string): number | null => db.prepare<[], number | null>(sql).pluck().get() ?? null;
  return {
    shape: db.pragma('user_version', { simple: true }) as number,
    events: one('SELECT max(seq) FROM event') ?? 0,
    visits: one('SELECT count(*) FROM visit') ?? 0,
    openVisits: one('SELECT count(*) FROM visit WHERE ended_at IS NULL') ?? 0,
    aliveAt: one('SELECT wall FROM alive'),
  };
}
