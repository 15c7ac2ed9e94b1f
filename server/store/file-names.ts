/** The log and all that belongs to it; SQLite keeps `-wal` and `-shm` beside it. */
export const dataFileName = 'floor.db';

/** What SQLite lays beside a file in use. */
export const companions = ['-wal', '-shm'] as const;
