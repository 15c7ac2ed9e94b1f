import type { Hands, PassLife } from './head.ts';

interface Free extends Hands {
  free: number;
}
type Mark = PassLife['parts'][number] & { from: number };

/** P0: b never moves later, though the pair that was at a part went. */
export function keptBegin(pass: PassLife, part: number): number | null {
  const begins = pass.keptBegins.filter((one) => one.part === part).map((one) => one.from);
  return begins.length === 0 ? null : Math.min(...begins);
}

/** Told once per pass as it is: heads are never changed in place. */
const told = new WeakMap<PassLife, { marks: Mark[]; hands: Free[] }>();
function followed(pass: PassLife): { marks: Mark[]; hands: Free[] } {
  const known = told.get(pass) ?? follow(pass);
  told.set(pass, known);
  return known;
}

/** P0: parts in the order in which they were done, each with the hands that did it. */
function follow(pass: PassLife): { marks: Mark[]; hands: Free[] } {
  const hands: Free[] = pass.hands.map((one) => ({ ...one, free: one.from }));
  const inOrder = [...pass.parts].sort((one, other) => one.at - other.at || one.act - other.act);
  const marks = inOrder.map((mark) => {
    const there = hands.filter((one) => one.from <= mark.at && (one.until === null || one.until >= mark.at));
    const known = mark.by === null ? undefined : there.filter((one) => one.by === mark.by).at(-1);
    // Whoever left may have begun it before.
    const could = hands.filter((one) => one.free < mark.at && (one.until === null || one.free < one.until));
    const earliest = could.reduce<Free | undefined>(
      (best, one) => (best === undefined || one.free < best.free ? one : best),
      undefined,
    );
    const did = known ?? earliest ?? hands[0];
    if (did === undefined) throw new Error('a part done by nobody');
    const from = Math.min(did.free, mark.at, keptBegin(pass, mark.part) ?? mark.at);
    did.free = Math.max(did.free, mark.at);
    return { ...mark, from };
  });
  return { marks, hands };
}

export const marksInOrder = (pass: PassLife): Mark[] => followed(pass).marks;

export function unmarked(pass: PassLife): number[] {
  return (pass.leaflet?.parts ?? []).map((_, part) => part).filter((p) => !pass.parts.some((one) => one.part === p));
}

/** The hands still there, in the order in which they came free. */
function workers(pass: PassLife): Free[] {
  const { hands } = followed(pass);
  return hands.filter((one) => one.until === null).sort((one, other) => one.free - other.free);
}

/** Since when the pair has been free that has been so longest: what nobody marked may have run from there (P0). */
export const freeLongest = (pass: PassLife): number | null => workers(pass)[0]?.free ?? null;

/** P0, E5: each pair of hands has the next part of the plan in work since it came free. */
export function partsInWork(pass: PassLife): { part: number; from: number }[] {
  const free = workers(pass);
  return unmarked(pass)
    .slice(0, free.length)
    .map((part, index) => ({ part, from: free[index]?.free ?? 0 }));
}

/** P1: what the whole head takes at the pace so far. */
function wholeHead(pass: PassLife): number {
  const { leaflet } = pass;
  if (leaflet === null) return 0;
  const n = leaflet.parts.length;
  const marks = marksInOrder(pass);
  const took = marks.reduce((sum, one) => sum + one.at - one.from, 0);
  const share = marks.reduce((sum, one) => sum + (leaflet.shares[one.part] ?? 0), 0);
  return (leaflet.nominal / n + took) / (1 / n + share);
}

/** P2: list scheduling of what is left. */
export function expectedFinish(pass: PassLife, now: number): number | null {
  const { leaflet, begun, applied } = pass;
  if (leaflet === null || begun === null) return null;
  if (applied !== null) return applied.at;
  if (pass.parts.length === 0) return begun.at + Math.max(leaflet.nominal, now - begun.at);
  const whole = wholeHead(pass);
  const length = (part: number) => whole * (leaflet.shares[part] ?? 0);
  const working = partsInWork(pass);
  const ends = working.map(({ part, from }) => Math.max(from + length(part), now));
  const later = unmarked(pass).slice(working.length);
  for (const part of later) {
    const soonest = ends.indexOf(Math.min(...ends));
    ends[soonest] = (ends[soonest] ?? now) + length(part);
  }
  return Math.max(now, ...ends, ...pass.parts.map((one) => one.at));
}
