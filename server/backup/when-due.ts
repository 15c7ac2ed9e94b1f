import { HOUR, MINUTE, type EpochMs, type Ms } from '../../core/time.ts';

/** Every hour in which something changed. */
export const BACKUP_EVERY: Ms = HOUR;
/** With nobody in a chair for so long, the day is over, or its rush is: what changed since is backed up at once. */
export const QUIET_FOR: Ms = 20 * MINUTE;
/** After a failure. */
export const TRY_AGAIN_AFTER: Ms = 5 * MINUTE;

export interface BackupSituation {
  readonly now: EpochMs;
  /** Last place in the log. */
  readonly revision: number;
  readonly openVisits: boolean;
  /** When the log last grew, or this server started. */
  readonly changedAt: EpochMs;
  /** The newest backup; null: none. */
  readonly last: { readonly at: EpochMs; readonly revision: number } | null;
  /** The attempt that failed last; null if the last one went well. */
  readonly failedAt: EpochMs | null;
}

/** Why a backup is due now; null if none is. A clock that went back must not stop them: distances count, not order. */
export function backupDue(situation: BackupSituation): 'first' | 'hourly' | 'quiet' | null {
  const { now, revision, openVisits, changedAt, last, failedAt } = situation;
  if (revision === 0 || last?.revision === revision) return null;
  if (failedAt !== null && Math.abs(now - failedAt) < TRY_AGAIN_AFTER) return null;
  if (last === null) return 'first';
  if (Math.abs(now - last.at) >= BACKUP_EVERY) return 'hourly';
  const quiet = !openVisits && Math.abs(now - changedAt) >= QUIET_FOR && Math.abs(now - last.at) >= QUIET_FOR;
  return quiet ? 'quiet' : null;
}
