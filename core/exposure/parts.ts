import type { EpochMs, Ms } from '../time.ts';
import type { Pass } from '../visit/visit.ts';

/** A part with product on it: first touch b, last touch e (null while it is in work), its own ceiling. */
export interface PartOnHair {
  /** Index in the plan; null when the head counts as one part (E5). */
  readonly part: number | null;
  readonly begunAt: EpochMs;
  readonly doneAt: EpochMs | null;
  readonly ceilingMs: Ms | null;
}

/**
 * The parts begun so far (E3, E5, P0). Without marks the head counts as one part. With marks, the next part of the plan
 * is in work from the last mark on; what nobody marked when application ended was done between the last mark and that end.
 */
export function partsOnHair(pass: Pass): PartOnHair[] {
  const { begun, rules } = pass;
  if (begun === null || rules === null) return [];
  const appliedAt = pass.applied?.at ?? null;
  if (pass.parts.length === 0) {
    return [{ part: null, begunAt: begun.at, doneAt: appliedAt, ceilingMs: rules.ceilingMs }];
  }
  const ceilingOf = (part: number): Ms | null => rules.parts[part]?.ceilingMs ?? rules.ceilingMs;
  const done: PartOnHair[] = pass.parts.map((one) => ({
    part: one.part,
    begunAt: one.begunAt,
    doneAt: one.doneAt,
    ceilingMs: ceilingOf(one.part),
  }));
  const marked = new Set(pass.parts.map((one) => one.part));
  const open = rules.parts.map((_, part) => part).filter((part) => !marked.has(part));
  const lastDoneAt = pass.parts[pass.parts.length - 1]?.doneAt ?? begun.at;
  const unmarked = appliedAt === null ? open.slice(0, 1) : open;
  return [
    ...done,
    ...unmarked.map((part) => ({ part, begunAt: lastDoneAt, doneAt: appliedAt, ceilingMs: ceilingOf(part) })),
  ];
}
