import { backupTrials } from './backup/backup-trial.ts';
import { clockTrials } from './clock/clock-trial.ts';
import { malformedTrials } from './malformed/malformed-trial.ts';
import { stormTrials } from './crowd/storm-trial.ts';
import { damagedTrials } from './disk/damaged-trial.ts';
import { narrowTrials } from './disk/narrow-trial.ts';
import { heapTrials } from './heap/heap-trial.ts';
import { killTrials } from './kill/kill-trial.ts';
import { blackHoleTrials } from './link/black-hole-trial.ts';
import { phoneTrials } from './phone/phone-trial.ts';
import type { Trial } from './trial.ts';

/** All trials, in the order in which they are numbered. */
export const trials: readonly Trial[] = [
  ...killTrials,
  ...clockTrials,
  ...blackHoleTrials,
  ...phoneTrials,
  ...narrowTrials,
  ...damagedTrials,
  ...backupTrials,
  ...stormTrials,
  ...malformedTrials,
  ...heapTrials,
];
