import type { Migration } from './migration.ts';

/**
 * The log, words that can be erased, answers by command, and what is computed from the log.
 * Instants are INTEGER ms on the timescale unless named wall.
 */
export const firstShape: Migration = {
  version: 1,
  rebuilds: false,
  sql: `
    CREATE TABLE event (
      seq INTEGER PRIMARY KEY,
      stream TEXT NOT NULL,
      version INTEGER NOT NULL,
      type TEXT NOT NULL,
      at INTEGER NOT NULL,
      recorded_at INTEGER NOT NULL,
      by_person TEXT,
      device TEXT,
      command TEXT,
      body TEXT NOT NULL CHECK (json_valid(body)),
      UNIQUE (stream, version)
    ) STRICT;

    -- Append-only. The third also stops REPLACE, which deletes without asking the second.
    CREATE TRIGGER event_is_not_edited BEFORE UPDATE ON event
    BEGIN SELECT RAISE(ABORT, 'stored events are never edited'); END;
    CREATE TRIGGER event_is_not_deleted BEFORE DELETE ON event
    BEGIN SELECT RAISE(ABORT, 'stored events are never deleted'); END;
    CREATE TRIGGER event_follows BEFORE INSERT ON event
    WHEN NEW.seq IS NOT (SELECT coalesce(max(seq), 0) + 1 FROM event)
      OR NEW.version IS NOT (SELECT coalesce(max(version), 0) + 1 FROM event WHERE stream = NEW.stream)
    BEGIN SELECT RAISE(ABORT, 'an event takes the next place in the log and in its stream'); END;

    CREATE TABLE word (
      key TEXT PRIMARY KEY,
      text TEXT NOT NULL
    ) STRICT, WITHOUT ROWID;

    CREATE TABLE answer (
      command TEXT PRIMARY KEY,
      body_hash TEXT NOT NULL,
      answer TEXT NOT NULL CHECK (json_valid(answer)),
      at_seq INTEGER NOT NULL
    ) STRICT, WITHOUT ROWID;

    CREATE TABLE alive (
      id INTEGER PRIMARY KEY CHECK (id = 1),
      now INTEGER NOT NULL,
      wall INTEGER NOT NULL,
      boot_id TEXT NOT NULL,
      uptime REAL NOT NULL,
      timescale TEXT NOT NULL
    ) STRICT;

    CREATE TABLE visit (
      id TEXT PRIMARY KEY,
      version INTEGER NOT NULL,
      chair INTEGER NOT NULL,
      service TEXT,
      stylist TEXT,
      seated_at INTEGER NOT NULL,
      stage TEXT NOT NULL,
      pass INTEGER NOT NULL,
      ended_at INTEGER,
      ended_how TEXT,
      owes INTEGER NOT NULL,
      bells INTEGER NOT NULL
    ) STRICT, WITHOUT ROWID;
    CREATE INDEX visit_running ON visit (id) WHERE ended_at IS NULL OR bells > 0;
    CREATE INDEX visit_ended ON visit (ended_at) WHERE ended_at IS NOT NULL;

    CREATE TABLE span (
      visit TEXT NOT NULL REFERENCES visit (id),
      n INTEGER NOT NULL,
      stage TEXT NOT NULL,
      pass INTEGER NOT NULL,
      chair INTEGER NOT NULL,
      basin INTEGER,
      from_at INTEGER NOT NULL,
      to_at INTEGER,
      by_person TEXT,
      PRIMARY KEY (visit, n)
    ) STRICT, WITHOUT ROWID;
    CREATE INDEX span_from ON span (from_at);

    CREATE TABLE rinse (
      visit TEXT NOT NULL REFERENCES visit (id),
      pass INTEGER NOT NULL,
      class TEXT,
      begun_at INTEGER,
      opens_at INTEGER,
      closes_at INTEGER,
      expected INTEGER NOT NULL,
      water_at INTEGER NOT NULL,
      basin INTEGER,
      clear_at INTEGER,
      entered TEXT NOT NULL CHECK (entered IN ('live', 'later')),
      burns INTEGER NOT NULL,
      by_person TEXT,
      PRIMARY KEY (visit, pass)
    ) STRICT, WITHOUT ROWID;
    CREATE INDEX rinse_water ON rinse (water_at);

    CREATE TABLE bell (
      seq INTEGER PRIMARY KEY,
      subject TEXT NOT NULL,
      cause TEXT NOT NULL,
      kind TEXT NOT NULL,
      level TEXT NOT NULL,
      episode INTEGER NOT NULL,
      due_at INTEGER NOT NULL,
      rung_at INTEGER NOT NULL,
      first_taken_by TEXT,
      first_taken_at INTEGER,
      ended_at INTEGER,
      why TEXT
    ) STRICT;
    CREATE UNIQUE INDEX bell_standing ON bell (subject, cause) WHERE ended_at IS NULL;
    CREATE INDEX bell_rung ON bell (rung_at);
  `,
};
