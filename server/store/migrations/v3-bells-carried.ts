import type { Migration } from './migration.ts';

/** How far each bell was carried, who it was not shown to, and when it was first shown (R6, R7). */
export const bellsCarried: Migration = {
  version: 3,
  rebuilds: true,
  sql: `
    ALTER TABLE bell ADD COLUMN circle INTEGER NOT NULL DEFAULT 0;
    ALTER TABLE bell ADD COLUMN first_shown_at INTEGER;
    ALTER TABLE bell ADD COLUMN missed INTEGER NOT NULL DEFAULT 0;
    ALTER TABLE bell ADD COLUMN passed INTEGER NOT NULL DEFAULT 0;
  `,
};
