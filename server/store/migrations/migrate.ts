import type { Database } from 'better-sqlite3';
import { DataFileError } from '../data-file-error.ts';
import { rebuild } from '../rebuild.ts';
import type { Migration } from './migration.ts';

/** "BsnB" in SQLite's header: tells our files from others. */
export const applicationId = 0x42736e42;

/** The file's shape, read without writing a byte; 0 for an empty one. */
function shapeOf(db: Database): number {
  const id = db.pragma('application_id', { simple: true }) as number;
  const shape = db.pragma('user_version', { simple: true }) as number;
  const tables = db.prepare('SELECT count(*) FROM sqlite_schema').pluck().get() as number;
  if (id === applicationId) return shape;
  if (id === 0 && shape === 0 && tables === 0) return 0;
  throw new DataFileError('not-ours', `${db.name} is not a floor's data file. Choose another data folder.`);
}

/** The steps that a file still wants; throws for somebody else's file and for one from a newer version. */
export function stepsFor(db: Database, all: readonly Migration[]): readonly Migration[] {
  const shape = shapeOf(db);
  if (shape <= all.length) return all.slice(shape);
  throw new DataFileError(
    'newer',
    `${db.name} was written by a newer version (its shape is ${shape}, this program knows ${all.length}). ` +
      'Start the newer version, or choose another data folder.',
  );
}

/** Takes the steps, one transaction each, so that a power cut leaves the file between two whole shapes. */
export function migrate(db: Database, steps: readonly Migration[]): void {
  for (const step of steps) {
    db.transaction(() => {
      db.exec(step.sql);
      if (step.rebuilds) rebuild(db);
      db.pragma(`application_id = ${applicationId}`);
      db.pragma(`user_version = ${step.version}`);
    }).immediate();
  }
}
