import { comeTo, moved, noted } from './acts.ts';
import { passOf, withPass, type Head, type Limits } from './head.ts';
import { partsInWork } from './hands.ts';
import { limitsOf, warm } from './window.ts';

/** Parts, tests, helpers, heat and limits: what people say while product goes on and works. */

/** `at`: when the application ended, which may lie before now. */
function applied(head: Head, at: number): Head {
  return withPass(comeTo(head, { stage: 'process', pass: head.pass }, at), { applied: { at, act: head.acts + 1 } });
}

export function nextOfPlan(head: Head): number | null {
  const pass = passOf(head);
  const next = (pass.leaflet?.parts ?? []).findIndex((_, index) => !pass.parts.some((mark) => mark.part === index));
  return next < 0 ? null : next;
}

/** A part, now or forgotten and told with its time (X3). The last part ends the application (S3). */
export function markPart(head: Head, part: number | null, by: string | null, ago: number, now: number): Head {
  const pass = passOf(head);
  const one = part ?? nextOfPlan(head) ?? 0;
  const parts = [...pass.parts, { part: one, by, at: now - ago, act: head.acts + 1 }];
  const after = withPass(head, { parts });
  const all = parts.length === (pass.leaflet?.parts ?? []).length && head.stage === 'apply';
  const ended = all ? applied(after, Math.max(...parts.map((mark) => mark.at))) : after;
  return { ...moved(head, ended, now), latestAt: Math.max(head.latestAt, now - ago) };
}

export function finishApplication(head: Head, now: number): Head {
  return moved(head, applied(head, now), now);
}

/** X3: kept as a statement; nothing changes. */
export function stated(head: Head, now: number): Head {
  return { ...noted(head, head, now), latestAt: head.latestAt };
}

/** E6: ready in apply ends the application of a whole-head product. */
export function testStrand(head: Head, said: { ready: boolean; part: number | null }, now: number): Head {
  const pass = passOf(head);
  const tests = [...pass.tests, { at: now, act: head.acts + 1, ready: said.ready, part: said.part }];
  const after = withPass(head, { tests });
  const ends = said.ready && head.stage === 'apply' && pass.leaflet?.byPart === false;
  return moved(head, ends ? applied(after, now) : after, now);
}

export function join(head: Head, person: string | null, now: number): Head {
  return moved(head, withPass(head, { hands: [...passOf(head).hands, { by: person, from: now, until: null }] }), now);
}

/** Whoever is there at a head; the first is never a helper. */
export const helpers = (head: Head) =>
  passOf(head)
    .hands.slice(1)
    .filter((one) => one.until === null);
export const isThere = (head: Head, person: string | null) =>
  person !== null && passOf(head).hands.some((one) => one.until === null && one.by === person);

/** The helper named, else the last without a name, else the one who came last; whoever began stays. */
export const helperWhoGoes = (head: Head, person: string | null) => {
  const there = helpers(head);
  return there.filter((one) => one.by === person).at(-1) ?? (person === null ? there.at(-1) : undefined);
};

/** P0: every part in work at that instant keeps its first touch, whoever finishes it. */
export function leave(head: Head, person: string | null, now: number): Head {
  const pass = passOf(head);
  const who = helperWhoGoes(head, person);
  const hands = pass.hands.map((one) => (one === who ? { ...one, until: now } : one));
  return moved(head, withPass(head, { hands, keptBegins: [...pass.keptBegins, ...partsInWork(pass)] }), now);
}

export function setHeat(head: Head, on: boolean, now: number): Head {
  return moved(head, withPass(head, { heat: on, heated: passOf(head).heated || on }), now);
}

export interface Asked {
  minAfter: number | null;
  maxAfter: number | null;
  ceiling: number | null;
}

/** What is told holds at once; of the other set, with heat or without, no figure comes later than it. */
function told(limits: Limits, asked: Asked): Limits {
  return {
    minAfter: asked.minAfter ?? limits.minAfter,
    maxAfter: asked.maxAfter ?? limits.maxAfter,
    ceiling: asked.ceiling ?? limits.ceiling,
  };
}
const least = (one: number | null, other: number | null) =>
  one === null || other === null ? (one ?? other) : Math.min(one, other);
function noLater(limits: Limits, asked: Asked): Limits {
  return {
    minAfter: least(limits.minAfter, asked.minAfter) ?? 0,
    maxAfter: least(limits.maxAfter, asked.maxAfter) ?? 0,
    ceiling: least(limits.ceiling, asked.ceiling),
  };
}

/** E4: a ceiling below what has to be reached, a most below the least. */
export function contradicts(head: Head, asked: Asked): boolean {
  const now = limitsOf(passOf(head));
  const { leaflet } = passOf(head);
  if (now === null || leaflet === null) return false;
  const limits = told(now, asked);
  if (leaflet.parts.some((own) => own !== null && own < limits.minAfter)) return true;
  if (limits.maxAfter < limits.minAfter) return true;
  return limits.ceiling !== null && limits.ceiling < Math.max(limits.minAfter, leaflet.minTotal ?? 0);
}

export function raises(head: Head, asked: Asked): boolean {
  const limits = limitsOf(passOf(head));
  if (limits === null) return false;
  const over = (one: number | null, now: number | null) => one !== null && now !== null && one > now;
  return (
    over(asked.minAfter, limits.minAfter) ||
    over(asked.maxAfter, limits.maxAfter) ||
    over(asked.ceiling, limits.ceiling)
  );
}

/** Nothing told; or no length of a timed step is below nothing or over three hours; a most and a ceiling are at least a minute. */
export function outOfRange(asked: Asked): boolean {
  if (asked.minAfter === null && asked.maxAfter === null && asked.ceiling === null) return true;
  const beyond = (one: number | null, least: number) => one !== null && (one < least || one > 180 * 60);
  return beyond(asked.minAfter, 0) || beyond(asked.maxAfter, 60) || beyond(asked.ceiling, 60);
}

export function setLimits(head: Head, asked: Asked, now: number): Head {
  const pass = passOf(head);
  const { own, leaflet } = pass;
  if (leaflet === null) return head;
  const cold = own.cold ?? leaflet;
  const hot = own.warm ?? leaflet.underHeat;
  const next = warm(pass)
    ? { cold: noLater(cold, asked), warm: hot && told(hot, asked) }
    : { cold: told(cold, asked), warm: hot && noLater(hot, asked) };
  return moved(head, withPass(head, { own: next }), now);
}

export function sayPrep(head: Head, complete: boolean, now: number): Head {
  return moved(head, { ...head, prepared: complete ? now : null }, now);
}
