import type { Reading } from '../../core/trust/timescale.ts';

/** The machine's clocks. Read once per turn at the edge (T1). */
export interface Clock {
  read(): Reading;
}
