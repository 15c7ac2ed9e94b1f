import { SECOND, type EpochMs, type Ms } from '../time.ts';
import type { Pass } from '../visit/visit.ts';
import { handsAtWork, leftSince, openParts } from './parts.ts';

/**
 * Time that one part is expected to take (P1). With shares wᵢ, R = (N/n + Σ dⱼ)/(1/n + Σ wⱼ) for a whole head and part i takes
 * R·wᵢ: the plan counts as one mean part already done. Equal shares give r = (N/n + Σ dⱼ)/(1 + k). Not rounded.
 */
export function expectedPartMs(pass: Pass, part: number): number {
  const { rules } = pass;
  if (rules === null) return 0;
  const plan = rules.parts;
  const spent = pass.parts.reduce((sum, one) => sum + (one.doneAt - one.begunAt), 0);
  const done = pass.parts.reduce((sum, one) => sum + (plan[one.part]?.share ?? 0), 0);
  const head = (rules.nominalMs / plan.length + spent) / (1 / plan.length + done);
  return head * (plan[part]?.share ?? 0);
}

/** A part that nobody has marked: when it is expected to be touched first and last, or was (P2). Whole ms. */
export interface ExpectedPart {
  readonly part: number;
  readonly begunAt: EpochMs;
  readonly doneAt: EpochMs;
}

/**
 * How the parts that nobody has marked are expected to go on (P2): each pair of hands takes the next unbegun part of the plan
 * when it is free; one in work ends at begin + max(expected, time in it). In the order of the plan.
 */
export function expectedParts(pass: Pass, now: EpochMs): readonly ExpectedPart[] {
  const { begun } = pass;
  if (begun === null) return [];
  const free = handsAtWork(pass).map((one) => ({ at: one.freeAt, inWork: true }));
  if (free.length === 0) free.push({ at: pass.parts[pass.parts.length - 1]?.doneAt ?? begun.at, inWork: true });
  return openParts(pass).map((part) => {
    // Which of two that are free at one instant is all one: who was at work is expected to end no earlier than now.
    const next = free.reduce((least, one) => (one.at < least.at ? one : least));
    const takes = expectedPartMs(pass, part);
    const begunAt = Math.min(Math.round(next.at), leftSince(pass, part) ?? Infinity);
    next.at += next.inWork ? Math.max(takes, now - next.at) : takes;
    next.inWork = false;
    return { part, begunAt, doneAt: Math.round(next.at) };
  });
}

/** Expected end of the application (P2). Without marks the head counts as one part (E5). Whole ms. */
export function expectedFinishAt(pass: Pass, now: EpochMs): EpochMs | null {
  const { begun, rules } = pass;
  if (begun === null || rules === null) return null;
  if (pass.applied !== null) return pass.applied.at;
  if (pass.parts.length === 0) return begun.at + Math.max(rules.nominalMs, now - begun.at);
  return expectedParts(pass, now).reduce((end, one) => Math.max(end, one.doneAt), now);
}

/**
 * The first instant at which the expected finish lies after a limit, if nothing is marked until then (P4): whole seconds, not
 * before the last mark. The expected finish never falls as time passes and is never before now, so that a search finds it.
 */
export function lateFrom(pass: Pass, limitAt: EpochMs): EpochMs | null {
  if (pass.begun === null || pass.applied !== null) return null;
  const late = (now: EpochMs): boolean => (expectedFinishAt(pass, now) ?? now) > limitAt;
  const since = Math.max(pass.begun.at, ...pass.hands.map((one) => Math.max(one.fromAt, one.freeAt, one.untilAt ?? 0)));
  if (late(since)) return since;
  let [early, lateAt]: [Ms, Ms] = [0, Math.floor((limitAt - since) / SECOND) + 1];
  while (lateAt - early > 1) {
    const middle = Math.floor((early + lateAt) / 2);
    if (late(since + middle * SECOND)) lateAt = middle;
    else early = middle;
  }
  return since + lateAt * SECOND;
}
