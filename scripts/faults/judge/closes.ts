import type { Recorded } from '../../../core/events.ts';
import { visitOf } from '../../../core/events.ts';
import type { EpochMs, Ms } from '../../../core/time.ts';

/** The two figures that a close hangs on (E3). */
export interface CloseFigures {
  readonly ceilingMs: Ms;
  readonly maxAfterMs: Ms;
}

interface Head {
  readonly begunAt: EpochMs;
  finishedAt: EpochMs | null;
  offAt: EpochMs | null;
  readonly overs: EpochMs[];
}

/**
 * Heads for which `over` did not ring exactly once at their close, reckoned from first touch, last touch and water alone, with none
 * of the product's functions: close = the earlier of begin + ceiling and finish + most. Knows visits of one pass without
 * corrections, tests or limits of their own.
 */
export function wrongClosesOf(
  log: readonly Recorded[],
  now: EpochMs,
  { ceilingMs, maxAfterMs }: CloseFigures,
): { readonly heads: number; readonly due: number; readonly wrong: readonly string[] } {
  const heads = new Map<string, Head>();
  for (const { stream, at, event } of log) {
    const visit = visitOf(stream);
    if (visit === null) continue;
    const head = heads.get(visit);
    if (event.type === 'ApplicationBegun') heads.set(visit, { begunAt: at, finishedAt: null, offAt: null, overs: [] });
    if (head === undefined) continue;
    if (event.type === 'PartMarkedDone') head.finishedAt = event.part === LAST_PART ? at : head.finishedAt;
    if (event.type === 'ApplicationFinished') head.finishedAt = at;
    if (event.type === 'RinseBegun' || event.type === 'WentClear') head.offAt ??= at;
    if (event.type === 'BellRung' && event.cause === 'off' && event.kind === 'over') head.overs.push(event.dueAt);
  }
  let due = 0;
  const wrong = [...heads].flatMap(([visit, { begunAt, finishedAt, offAt, overs }]) => {
    const close = Math.min(begunAt + ceilingMs, (finishedAt ?? Infinity) + maxAfterMs);
    // In the very second of the close either may come first.
    const must = (offAt ?? now) > close;
    const may = (offAt ?? now) >= close;
    if (must) due += 1;
    const right = must ? overs.length === 1 && overs[0] === close : overs.length === 0 || (may && overs.length === 1);
    return right ? [] : [`${visit}: close ${close}, off ${offAt}, over rung for ${JSON.stringify(overs)}`];
  });
  return { heads: heads.size, due, wrong };
}

/** The directions of these trials have four parts. */
const LAST_PART = 3;
