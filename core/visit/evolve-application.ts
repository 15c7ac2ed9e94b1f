import type { HeatLimits } from '../directions/rules.ts';
import { limitsOf } from '../exposure/limits.ts';
import { helperWhoGoes, inWork, leftSince } from '../exposure/parts.ts';
import { earliest, type EpochMs, type Ms } from '../time.ts';
import type { VisitEvent } from './events.ts';
import type { Hands, Mark, PartDone, Pass, StrandTest } from './visit.ts';
import type { PersonId } from '../ids.ts';

type EventOf<T extends VisitEvent['type']> = Extract<VisitEvent, { type: T }>;

/** First touch: whoever began is the first pair of hands. */
export function begun(pass: Pass, mark: Mark): Pass {
  const first: Hands = { by: mark.by, fromAt: mark.at, untilAt: null, freeAt: mark.at };
  return { ...pass, begun: mark, beginUnknown: false, hands: [first] };
}

/** A part is done. A mark may come later than those of parts done after it: whose hands did what is told anew (P0, X3). */
export function partDone(pass: Pass, part: number, mark: Mark): Pass {
  return replay(pass, [...pass.parts, { part, begunAt: mark.at, doneAt: mark.at, by: mark.by }]);
}

function replay(pass: Pass, marks: readonly PartDone[]): Pass {
  const fresh = { ...pass, parts: [], hands: pass.hands.map((one) => ({ ...one, freeAt: one.fromAt })) };
  return [...marks].sort((a, b) => a.doneAt - b.doneAt).reduce(counted, fresh);
}

/** One more part in the order in which they were done; its begin is told by whose hands did it (P0). */
function counted(pass: Pass, { part, doneAt, by }: PartDone): Pass {
  const who = handsFor(pass.hands, by, doneAt);
  const begunAt = Math.min(pass.hands[who]?.freeAt ?? doneAt, leftSince(pass, part) ?? doneAt, doneAt);
  const hands = pass.hands.map((one, i) => (i === who ? { ...one, freeAt: Math.max(one.freeAt, doneAt) } : one));
  return { ...pass, hands, parts: [...pass.parts, { part, begunAt, doneAt, by }] };
}

/**
 * Whose hands did a part that was done at an instant (P0): the person's own pair if they are at it; if that is not
 * known, the pair that could have begun it earliest, since a longer time on hair is the safer guess.
 */
function handsFor(hands: readonly Hands[], by: PersonId | null, doneAt: EpochMs): number {
  const atIt = (one: Hands): boolean => one.freeAt <= doneAt && (one.untilAt === null || doneAt <= one.untilAt);
  // Who left and came back is at it since then.
  const own = hands.reduce((found, one, i) => (by !== null && one.by === by && atIt(one) ? i : found), -1);
  if (own >= 0) return own;
  // Who had finished a part when leaving was at nothing since; whoever came after `doneAt` is never the earliest.
  const free = hands.map((one) => (one.untilAt === null || one.freeAt < one.untilAt ? one.freeAt : Infinity));
  return free.indexOf(Math.min(...free));
}

export function helperJoined(pass: Pass, { person }: EventOf<'HelperJoined'>, mark: Mark): Pass {
  const helper: Hands = { by: person, fromAt: mark.at, untilAt: null, freeAt: mark.at };
  return replay({ ...pass, hands: [...pass.hands, helper] }, pass.parts);
}

/** The helper named goes, else the one who came last; whoever began stays. */
export function helperLeft(pass: Pass, { person }: EventOf<'HelperLeft'>, mark: Mark): Pass {
  const goes = helperWhoGoes(pass, person);
  const hands = pass.hands.map((one, i) => (i === goes ? { ...one, untilAt: mark.at } : one));
  // Who was at which of them is a guess, so that none of them may lose its first touch.
  const left = inWork(pass).map(({ part, hands: { freeAt } }) => ({ part, sinceAt: freeAt }));
  return { ...pass, hands, leftInWork: [...pass.leftInWork, ...left] };
}

export function strandTested(pass: Pass, event: EventOf<'StrandTested'>, mark: Mark): Pass {
  const test: StrandTest = { ...mark, place: event.place, result: event.result, part: event.part };
  return { ...pass, tests: [...pass.tests, test] };
}

export function heatSet(pass: Pass, on: boolean, mark: Mark): Pass {
  return { ...pass, heat: { ...mark, on }, heated: pass.heated || on };
}

/** Limits for this head alone (E9): they stand in its rules from now on, and nowhere else. */
export function limitsSet(pass: Pass, set: SetLimits): Pass {
  const { rules } = pass;
  if (rules === null) return pass;
  const { underHeat } = rules;
  const cold = { minAfterMs: rules.minAfterMs, maxAfterMs: rules.maxAfterMs, ceilingMs: rules.ceilingMs };
  const warmHolds = underHeat !== null && limitsOf(pass) === underHeat;
  if (warmHolds) return { ...pass, rules: { ...rules, ...noLater(cold, set), underHeat: told(underHeat, set) } };
  return { ...pass, rules: { ...rules, ...told(cold, set), underHeat: underHeat && noLater(underHeat, set) } };
}

interface SetLimits {
  readonly minAfterMs: Ms | null;
  readonly maxAfterMs: Ms | null;
  readonly ceilingMs: Ms | null;
}

/** What is told holds at once. */
function told(limits: HeatLimits, set: SetLimits): HeatLimits {
  return {
    minAfterMs: set.minAfterMs ?? limits.minAfterMs,
    maxAfterMs: set.maxAfterMs ?? limits.maxAfterMs,
    ceilingMs: set.ceilingMs ?? limits.ceilingMs,
  };
}

/** The figures that hold with heat and without are two sets: the one that does not hold now comes no later than what is told. */
function noLater(limits: HeatLimits, set: SetLimits): HeatLimits {
  return {
    minAfterMs: Math.min(limits.minAfterMs, set.minAfterMs ?? limits.minAfterMs),
    maxAfterMs: Math.min(limits.maxAfterMs, set.maxAfterMs ?? limits.maxAfterMs),
    ceilingMs: earliest(limits.ceilingMs, set.ceilingMs),
  };
}
