import type { Migration } from './migration.ts';

/**
 * How people and lights outside the pages are reached. These are addresses and keys, not history: rows are replaced and
 * deleted, and nothing in the log refers to them. Instants are wall clock, epoch ms: they mean nothing to the floor.
 */
export const reachTables: Migration = {
  version: 2,
  rebuilds: false,
  sql: `
    CREATE TABLE secret (
      name TEXT PRIMARY KEY,
      value TEXT NOT NULL
    ) STRICT, WITHOUT ROWID;

    CREATE TABLE push_subscription (
      device TEXT PRIMARY KEY,
      person TEXT NOT NULL,
      endpoint TEXT NOT NULL,
      p256dh TEXT NOT NULL,
      auth TEXT NOT NULL,
      made_at INTEGER NOT NULL,
      confirmed_at INTEGER
    ) STRICT, WITHOUT ROWID;

    CREATE TABLE hook (
      id TEXT PRIMARY KEY,
      name TEXT NOT NULL,
      url TEXT NOT NULL,
      secret TEXT NOT NULL,
      is_on INTEGER NOT NULL CHECK (is_on IN (0, 1)),
      made_at INTEGER NOT NULL
    ) STRICT, WITHOUT ROWID;
  `,
};
