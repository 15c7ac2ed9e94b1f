import type { CommandId, PersonId } from '../ids.ts';
import type { EpochMs } from '../time.ts';
import type { VisitEvent } from './events.ts';

/** One thing that counts towards a visit; `at` is already corrected, what was taken back is gone. */
export interface Entry {
  readonly version: number;
  readonly at: EpochMs;
  readonly recordedAt: EpochMs;
  readonly by: PersonId | null;
  readonly command: CommandId | null;
  readonly event: VisitEvent;
}
