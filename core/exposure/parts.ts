import type { EpochMs, Ms } from '../time.ts';
import type { Hands, Pass } from '../visit/visit.ts';
import { ceilingOfPart, limitsOf } from './limits.ts';

/** A part with product on it: first touch b, last touch e (null while it is in work), its own ceiling. */
export interface PartOnHair {
  /** Index in the plan; null when the head counts as one part (E5). */
  readonly part: number | null;
  readonly begunAt: EpochMs;
  readonly doneAt: EpochMs | null;
  readonly ceilingMs: Ms | null;
}

/** Pairs of hands that are at the application, the one free longest first. */
export function handsAtWork(pass: Pass): readonly Hands[] {
  return pass.hands.filter((one) => one.untilAt === null).sort((a, b) => a.freeAt - b.freeAt);
}

/** Parts nobody has marked, in the order of the plan. */
export function openParts(pass: Pass): readonly number[] {
  const marked = new Set(pass.parts.map((one) => one.part));
  return (pass.rules?.parts ?? []).map((_, part) => part).filter((part) => !marked.has(part));
}

/**
 * The parts begun so far (E3, E5, P0). Without marks the head counts as one part. With marks, each pair of hands is at the
 * next part of the plan since it was free; what nobody marked when application ended ran from there to that end.
 */
export function partsOnHair(pass: Pass): PartOnHair[] {
  const { begun, rules } = pass;
  if (begun === null || rules === null) return [];
  const appliedAt = pass.applied?.at ?? null;
  if (pass.parts.length === 0) {
    return [{ part: null, begunAt: begun.at, doneAt: appliedAt, ceilingMs: limitsOf(pass)?.ceilingMs ?? null }];
  }
  const done: PartOnHair[] = pass.parts.map(({ part, begunAt, doneAt }) => ({
    part,
    begunAt,
    doneAt,
    ceilingMs: ceilingOfPart(pass, part),
  }));
  return [...done, ...unmarked(pass, appliedAt)];
}

function unmarked(pass: Pass, appliedAt: EpochMs | null): PartOnHair[] {
  const open = openParts(pass);
  const hands = handsAtWork(pass);
  const firstFree = hands[0]?.freeAt ?? pass.begun?.at ?? 0;
  const begunOf = (i: number): EpochMs => (appliedAt === null ? (hands[i]?.freeAt ?? firstFree) : firstFree);
  const inWork = appliedAt === null ? open.slice(0, Math.max(1, hands.length)) : open;
  return inWork.map((part, i) => ({
    part,
    begunAt: begunOf(i),
    doneAt: appliedAt,
    ceilingMs: ceilingOfPart(pass, part),
  }));
}
