import type { PersonId } from '../ids.ts';
import { earliest, type EpochMs, type Ms } from '../time.ts';
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

/** Who is at which part now: each pair of hands at the next open part of the plan, the one free longest at the first (P0). */
export function inWork(pass: Pass): readonly { readonly hands: Hands; readonly part: number }[] {
  const open = openParts(pass);
  return handsAtWork(pass).flatMap((hands, i) => {
    const part = open[i];
    return part === undefined ? [] : [{ hands, part }];
  });
}

/** Since when product has been on a part that was in work when a helper went; null for any other (P0). */
export function leftSince(pass: Pass, part: number): EpochMs | null {
  return earliest(...pass.leftInWork.map((one) => (one.part === part ? one.sinceAt : null)));
}

/** More pairs of hands than this do not fit around one head (common practice, no source). */
export const MOST_HANDS = 4;

/**
 * Whose going "helper goes" means: the helper named; with nobody named the nameless one who joined last, else whoever joined
 * last. −1 where there is none.
 */
export function helperWhoGoes(pass: Pass, person: PersonId | null): number {
  const last = (goes: (one: Hands) => boolean): number =>
    pass.hands.reduce((found, one, i) => (i > 0 && one.untilAt === null && goes(one) ? i : found), -1);
  const called = last((one) => one.by === person);
  return called === -1 && person === null ? last(() => true) : called;
}

function unmarked(pass: Pass, appliedAt: EpochMs | null): PartOnHair[] {
  const firstFree = handsAtWork(pass)[0]?.freeAt ?? pass.begun?.at ?? 0;
  const begunAt = (part: number): EpochMs | null => {
    const worked = appliedAt === null ? inWork(pass).find((one) => one.part === part)?.hands.freeAt : firstFree;
    return earliest(worked ?? null, leftSince(pass, part));
  };
  const open = openParts(pass);
  return open.flatMap((part) => {
    // The next part of the plan counts as begun with nobody left at the head, too.
    const since = begunAt(part) ?? (part === open[0] ? firstFree : null);
    return since === null ? [] : [{ part, begunAt: since, doneAt: appliedAt, ceilingMs: ceilingOfPart(pass, part) }];
  });
}
