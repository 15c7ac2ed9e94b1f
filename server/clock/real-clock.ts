import { uptime } from 'node:os';
import { performance } from 'node:perf_hooks';
import type { Reading } from '../../core/trust/timescale.ts';
import { SECOND, type Ms } from '../../core/time.ts';
import { bootId } from './boot-id.ts';
import type { Clock } from './clock.ts';

/** ms since boot, sleep included: `os.uptime` reads /proc/uptime or the like of it, to 10 ms on Linux. */
function sinceBoot(): Ms {
  return uptime() * SECOND;
}

/** The machine's own clocks. The boot is named once: a process never outlives it. */
export class RealClock implements Clock {
  readonly #bootId = bootId(Date.now(), sinceBoot());

  read(): Reading {
    return { wall: Date.now(), mono: performance.now(), uptime: sinceBoot(), bootId: this.#bootId };
  }
}
