import type { Limits, PassLife, StrandTest } from './head.ts';
import { expectedFinish, freeLongest, keptBegin, marksInOrder, partsInWork, unmarked } from './hands.ts';

/** E10: whether the figures under heat hold. */
export function warm(pass: PassLife): boolean {
  const { leaflet } = pass;
  return leaflet?.heat === 'allowed' && leaflet.underHeat !== null && (pass.heated || pass.heat === null);
}

/** E9, E10: the limits that hold for this head. */
export function limitsOf(pass: PassLife): Limits | null {
  const { leaflet, own } = pass;
  return warm(pass) ? (own.warm ?? leaflet?.underHeat ?? null) : (own.cold ?? leaflet);
}

/** E3: the part's own ceiling or else the head's; a head's that was lowered holds for its parts too. */
export function ceilingOf(pass: PassLife, part: number): number | null {
  const own = pass.leaflet?.parts[part] ?? null;
  const head = limitsOf(pass)?.ceiling ?? null;
  return own === null ? head : head === null ? own : Math.min(own, head);
}

/** First touch of a part and, once done, its last (E5, P0). */
export interface Touched {
  part: number;
  from: number;
  until: number | null;
}

/** Every part begun; with no parts marked there is none, and the head counts as one. */
export function touched(pass: PassLife): Touched[] {
  if (pass.begun === null || pass.parts.length === 0) return [];
  const marked = marksInOrder(pass).map(({ part, from, at }) => ({ part, from, until: at }));
  const F = pass.applied?.at ?? null;
  const left = unmarked(pass);
  if (F === null) {
    const since = new Map(partsInWork(pass).map(({ part, from }) => [part, from]));
    // A part left in work stays begun, also while nobody is at it.
    const begun = left.filter((part) => since.has(part) || keptBegin(pass, part) !== null);
    const first = (part: number) => Math.min(since.get(part) ?? Infinity, keptBegin(pass, part) ?? Infinity);
    return [...marked, ...begun.map((part) => ({ part, from: first(part), until: null }))];
  }
  // What was never marked ran to F: nobody knows whose hands did it, so from when the first of them was free.
  const from = freeLongest(pass) ?? pass.begun.at;
  return [...marked, ...left.map((part) => ({ part, from: Math.min(from, keptBegin(pass, part) ?? from), until: F }))];
}

/** First touch + ceiling, the least of all parts begun; null without any ceiling. */
export function ceilingAt(pass: PassLife): number | null {
  if (pass.leaflet === null || pass.begun === null) return null;
  const ends = touched(pass).map(({ part, from }) => {
    const ceiling = ceilingOf(pass, part);
    return ceiling === null ? null : from + ceiling;
  });
  const head = limitsOf(pass)?.ceiling ?? null;
  if (ends.length === 0 && head !== null) ends.push(pass.begun.at + head);
  const known = ends.filter((one) => one !== null);
  return known.length === 0 ? null : Math.min(...known);
}

/** E6: the first counts. */
export function readyOf(pass: PassLife): StrandTest | null {
  return pass.tests.find((one) => one.ready) ?? null;
}

/** E3, E6: the certain close; null while nothing is certain. */
export function certainClose(pass: PassLife): number | null {
  const limits = limitsOf(pass);
  const { leaflet, applied } = pass;
  if (leaflet === null || limits === null || pass.begun === null) return null;
  const ready = readyOf(pass);
  const ends = [
    ceilingAt(pass),
    applied === null ? null : applied.at + limits.maxAfter,
    ready === null ? null : ready.at + leaflet.grace,
  ].filter((one) => one !== null);
  return ends.length === 0 ? null : Math.min(...ends);
}

/** E2, E4, E6. */
export function opens(pass: PassLife): number | null {
  const limits = limitsOf(pass);
  const { leaflet, begun, applied } = pass;
  if (leaflet === null || limits === null || begun === null) return null;
  const ready = readyOf(pass);
  if (ready !== null) return ready.at;
  if (applied === null) return null;
  return Math.max(applied.at + limits.minAfter, begun.at + (leaflet.minTotal ?? 0));
}

/** Water too early: before the window; without room, before somebody was to come (bell `water-on?`). */
export function beforeWindow(pass: PassLife, now: number): boolean {
  if (pass.begun === null || pass.leaflet === null) return false;
  const applied = pass.applied ?? { at: expectedFinish(pass, now) ?? now, act: 0 };
  const first = opens({ ...pass, applied }) ?? now;
  const close = closeExpected(pass, now) ?? Infinity;
  return now < (first <= close ? first : close - 180);
}

/** The close as it was expected at a moment: F, if it is not known, is expected then (E7). */
export function closeExpected(pass: PassLife, then: number): number | null {
  const limits = limitsOf(pass);
  const finish = expectedFinish(pass, then);
  if (limits === null || finish === null) return null;
  return Math.min(certainClose(pass) ?? Infinity, finish + limits.maxAfter);
}

/** E6: when the next strand test is due, as long as that is before the close. */
export function nextTest(pass: PassLife): number | null {
  const { leaflet, applied } = pass;
  if (leaflet === null || applied === null || readyOf(pass) !== null) return null;
  const last = pass.tests.filter((one) => one.at >= applied.at).at(-1);
  const due = last === undefined ? applied.at + leaflet.firstTest : last.at + leaflet.testEvery;
  const close = certainClose(pass);
  return close !== null && due >= close ? null : due;
}
