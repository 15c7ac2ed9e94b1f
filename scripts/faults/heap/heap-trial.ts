import type { Trial } from '../trial.ts';
import { wallHeap } from '../wall-heap.ts';

/** Simulated hours before the wall. */
const HOURS = 8;

export const heapTrials: readonly Trial[] = [
  {
    name: 'heap of the wall page',
    form: 'long',
    run: async ({ built, say, claim }) => {
      const { ok, lines } = await wallHeap({ hours: HOURS, log: say, launch: { run: [built.server] } });
      claim('the wall grows by less than 1 % over the last half of 8 h', ok, lines.at(-1) ?? '');
    },
  },
];
