import type { EventRow } from '../../../server/store/event-rows.ts';

/** What is in a log twice, or does not follow: places, versions of a stream, the events of one command. */
export function doubledOf(rows: readonly EventRow[]): string[] {
  const faults: string[] = [];
  const versions = new Map<string, number>();
  const lastOf = new Map<string, number>();
  let seq = 0;
  rows.forEach((row, i) => {
    if (row.seq !== seq + 1) faults.push(`place ${row.seq} follows ${seq}`);
    seq = row.seq;
    const version = versions.get(row.stream) ?? 0;
    if (row.version !== version + 1) faults.push(`${row.stream}: version ${row.version} follows ${version}`);
    versions.set(row.stream, row.version);
    if (row.command === null) return;
    // A command's events are stored together: the same id further on is a second set of them.
    const before = lastOf.get(row.command);
    if (before !== undefined && before !== i - 1)
      faults.push(`command ${row.command} is done twice, again at ${row.seq}`);
    lastOf.set(row.command, i);
  });
  return faults;
}
