import type { Database } from 'better-sqlite3';
import { backUp, type BackupOrder } from '../backup/back-up.ts';
import { findingsOf } from './findings.ts';

/** What the reader can be asked for: each with the file open to read alone, for this one job. */
export const jobs = {
  /** What is wrong with the file, at most a few findings; empty if nothing. Leaves out what `integrity_check` alone sees. */
  'quick-check': (db: Database, _: null) => findingsOf(db, 'quick_check'),
  'back-up': (db: Database, order: BackupOrder) => backUp(db, order),
} as const;

export type JobKind = keyof typeof jobs;
export type OrderOf<K extends JobKind> = Parameters<(typeof jobs)[K]>[1];
export type ResultOf<K extends JobKind> = Awaited<ReturnType<(typeof jobs)[K]>>;

/** From the process to its reader. */
export interface Asked {
  readonly id: number;
  readonly kind: JobKind;
  readonly order: unknown;
}

/** From the reader back: the result, or why there is none. */
export type Answered =
  | { readonly id: number; readonly result: unknown }
  | { readonly id: number; readonly failed: { readonly code: string | null; readonly message: string } };
