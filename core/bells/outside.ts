import type { EpochMs } from '../time.ts';
import type { Reach } from './carrying.ts';

/** What bells also follow from, and no event says: told by whoever keeps the log and the lines to the devices. */
export interface Outside {
  /** Since when something is kept in memory only. */
  readonly unsavedSince: EpochMs | null;
  /** Null where nobody watches over the devices: then nobody is marked as not reached. */
  readonly reach: Reach | null;
}
