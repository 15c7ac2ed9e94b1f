import type { Limits } from '../../../core/exposure/limits.ts';
import { MINUTE, type Ms } from '../../../core/time.ts';

export const limitFields = ['minAfterMs', 'maxAfterMs', 'ceilingMs'] as const;
export type LimitField = (typeof limitFields)[number];

/** The three figures as they are on the panel; null: none was entered. */
export type Wanted = Readonly<Record<LimitField, Ms | null>>;

export interface LimitsChange {
  /** What is sent: null where it stays as it is. */
  readonly set: Wanted;
  /** Some figure comes later than it stands: that wants the right and a reason (E9). */
  readonly raised: boolean;
}

/** What has to be said to come from the limits that stand to those wanted; null where nothing changes. */
export function limitsChange(stands: Limits, wanted: Wanted): LimitsChange | null {
  const changed = (field: LimitField): Ms | null => (wanted[field] === stands[field] ? null : wanted[field]);
  const set = { minAfterMs: changed('minAfterMs'), maxAfterMs: changed('maxAfterMs'), ceilingMs: changed('ceilingMs') };
  if (limitFields.every((field) => set[field] === null)) return null;
  return { set, raised: limitFields.some((field) => raises(set[field], stands[field])) };
}

function raises(to: Ms | null, from: Ms | null): boolean {
  return to !== null && from !== null && to > from;
}

/** A figure some minutes up or down; never below nothing. Where none was entered the first step says the longest one that stands. */
export function stepLimit(at: Ms | null, minutes: number, start: Ms): Ms {
  return at === null ? start : Math.max(0, at + minutes * MINUTE);
}

const faults = ['max-below-min', 'ceiling-below-min', 'ceiling-missing', 'out-of-range'] as const;
export type LimitFault = (typeof faults)[number];

/** The field that a refusal is about, and what is wrong with it: "maxAfterMs:max-below-min". */
export function faultOf(field: string | null): {
  readonly field: LimitField | null;
  readonly fault: LimitFault | null;
} {
  const [name = '', what = ''] = (field ?? '').split(':');
  // A part's own ceiling that does not fit is mended by the least time too.
  const known = limitFields.find((one) => one === name) ?? (name.endsWith('.ceilingMs') ? 'minAfterMs' : null);
  return { field: known, fault: faults.find((one) => one === what) ?? null };
}
