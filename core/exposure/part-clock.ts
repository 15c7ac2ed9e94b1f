import type { EpochMs, Ms } from '../time.ts';
import type { Pass } from '../visit/visit.ts';
import { partsOnHair } from './parts.ts';
import { offHairAt } from './time-on-hair.ts';
import { partWindows } from './window.ts';

/** One part of the plan as it stands: not touched yet, in work, or with all its product on. */
export interface PartClock {
  readonly part: number;
  readonly state: 'waiting' | 'in-work' | 'on';
  /** Somebody marked it done. */
  readonly marked: boolean;
  /** Time on hair since its first touch; null while it waits. */
  readonly onMs: Ms | null;
  /** Its own ceiling from first touch, where one was entered (E3). */
  readonly ceilingMs: Ms | null;
  /** Until when it must be off, as far as that is known (E3, E4). */
  readonly closesAt: EpochMs | null;
}

/**
 * Every part of the plan, in its order (E1, E4, E5). With no part marked the head counts as one part: while it goes on, the first of
 * the plan is shown as the one in work.
 */
export function partClocks(pass: Pass, now: EpochMs, waterSureMs: Ms): readonly PartClock[] {
  const off = offHairAt(pass, waterSureMs);
  const until = off === null ? now : Math.min(now, off);
  const marked = new Set(pass.parts.map((one) => one.part));
  const windows = new Map(partWindows(pass).map((one) => [one.part, one.closesAt]));
  const onHair = partsOnHair(pass);
  const whole = onHair.find((one) => one.part === null);
  return (pass.rules?.parts ?? []).map((_, part) => {
    const asHead = whole !== undefined && (part === 0 || whole.doneAt !== null) ? whole : undefined;
    const one = onHair.find((other) => other.part === part) ?? asHead;
    if (one === undefined) {
      return { part, state: 'waiting', marked: false, onMs: null, ceilingMs: null, closesAt: null };
    }
    const byCeiling = one.ceilingMs === null ? null : one.begunAt + one.ceilingMs;
    return {
      part,
      state: one.doneAt === null ? 'in-work' : 'on',
      marked: marked.has(part),
      onMs: Math.max(0, until - one.begunAt),
      ceilingMs: one.ceilingMs,
      closesAt: windows.get(whole === undefined ? part : 0) ?? byCeiling,
    };
  });
}

/** The part that must come off first; null where none is before all the others. */
export function firstToComeOff(clocks: readonly PartClock[]): number | null {
  const [first, second] = clocks
    .flatMap(({ part, closesAt }) => (closesAt === null ? [] : [{ part, closesAt }]))
    .sort((a, b) => a.closesAt - b.closesAt);
  return first !== undefined && second !== undefined && first.closesAt < second.closesAt ? first.part : null;
}
