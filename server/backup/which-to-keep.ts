import { HOUR, type EpochMs } from '../../core/time.ts';
import type { NamedBackup } from './backup-name.ts';

const DAY = 24 * HOUR;

/** All of so long, then one a day, then one a month. */
export const keptFor = { all: DAY, daily: 30 * DAY, monthly: 366 * DAY } as const;

/**
 * Backups that may be deleted: of a day, and later of a month, the last one stays. The newest of all stays however old it
 * is, and one that seems to come from the future (a clock went wrong) is not judged by its age. `dateOf` names the salon's
 * civil date.
 */
export function superfluous<B extends NamedBackup>(
  backups: readonly B[],
  now: EpochMs,
  dateOf: (at: EpochMs) => string,
): B[] {
  const newestFirst = [...backups].sort((a, b) => b.at - a.at || (a.name < b.name ? 1 : -1));
  const taken = new Set<string>();
  return newestFirst.filter(({ at }, i) => {
    const age = now - at;
    if (i === 0 || age <= keptFor.all) return false;
    if (age > keptFor.monthly) return true;
    const date = dateOf(at);
    const period = age > keptFor.daily ? date.slice(0, 'yyyy-mm'.length) : date;
    if (taken.has(period)) return true;
    taken.add(period);
    return false;
  });
}
