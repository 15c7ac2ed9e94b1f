import type { DirectionsId, PersonId, ServiceId } from '../ids.ts';
import type { EpochMs, Ms } from '../time.ts';
import type { Stage } from '../visit/stages/stage.ts';
import type { Rules } from './rules.ts';

/** One product's directions as last written down; its name and source are words kept aside. */
export interface Directions {
  readonly id: DirectionsId;
  /** Counts from 1; a visit keeps the version it began with. */
  readonly version: number;
  readonly rules: Rules;
  readonly copiedAt: EpochMs;
  readonly copiedBy: PersonId | null;
  readonly retired: boolean;
}

/** Longest a stage should last before somebody is asked (bell `long-stage`). */
export interface StageLimit {
  readonly stage: Stage;
  readonly limitMs: Ms;
}

/** What is sold: its passes in order, each with directions, and a limit per stage. */
export interface Service {
  readonly id: ServiceId;
  readonly passes: readonly DirectionsId[];
  readonly limits: readonly StageLimit[];
  readonly retired: boolean;
}
