import {
  passOf,
  placeOnWay,
  productOn,
  unbegun,
  wayOf,
  withPass,
  type Head,
  type Offer,
  type Owed,
  type Place,
  type Stage,
} from './head.ts';
import { owedForLeaving } from './owing.ts';

/** The head after one more act that is a move: it can be taken back (X2). */
export function moved(before: Head, after: Head, now: number): Head {
  const act = before.acts + 1;
  return { ...after, acts: act, last: { at: now, act, before } };
}

/** An act that is no move: nothing before it can be taken back any more. */
export function noted(before: Head, after: Head): Head {
  return { ...after, acts: before.acts + 1, last: null };
}

export function comeTo(head: Head, place: Place, now: number, owed: Owed[] = []): Head {
  const stays = head.stage === place.stage && head.pass === place.pass;
  return { ...head, ...place, stageAt: stays ? head.stageAt : now, owed: [...head.owed, ...owed] };
}

export function end(head: Head, how: NonNullable<Head['end']>, now: number, owed: Owed[] = []): Head {
  return { ...comeTo(head, { stage: 'finished', pass: head.pass }, now, owed), end: how };
}

/** S9: the visit before ends with its open steps not marked. */
function endedByNext(head: Head, now: number): Head {
  const finished = { stage: 'finished' as const, pass: head.passes.length - 1 };
  return moved(head, end(head, 'next-seated', now, owedForLeaving(head, finished, now)), now);
}

export function seat(prior: Head | null, serial: number, offer: Offer | null, now: number): Head {
  const ended = prior !== null && prior.stage !== 'finished' ? endedByNext(prior, now) : null;
  return {
    serial,
    stage: 'prep',
    pass: 0,
    passes: offer === null ? [unbegun(null)] : offer.passes.map(unbegun),
    limits: offer?.limits ?? {},
    stageAt: now,
    owed: [],
    burns: null,
    end: null,
    settled: false,
    acts: 1,
    last: { at: now, act: 1, before: null },
    ended,
    bells: {},
    episodes: {},
  };
}

/** What follows a seat in the same touch is one act with it. */
export function inOneTouch(seated: Head, after: Head): Head {
  return { ...after, acts: seated.acts, last: seated.last };
}

function owedItem(head: Head, item: string, stage: Stage): Owed {
  return { item, stage, pass: head.pass };
}

export function begin(head: Head, now: number): Head {
  const done = { at: now, act: head.acts + 1 };
  if (head.stage === 'prep')
    return moved(head, withPass(comeTo(head, { stage: 'apply', pass: head.pass }, now), { begun: done }), now);
  const place = { stage: 'apply' as const, pass: head.pass + 1 };
  const owed = owedForLeaving(head, place, now).filter((one) => one.stage !== 'prep');
  return moved(head, withPass(comeTo(head, place, now, owed), { begun: done }), now);
}

export function markPart(head: Head, part: number | null, now: number): Head {
  const pass = passOf(head);
  const plan = pass.leaflet?.parts ?? [];
  const one = part ?? plan.findIndex((_, index) => !pass.parts.some((mark) => mark.part === index));
  const from = Math.max(pass.begun?.at ?? now, ...pass.parts.map((mark) => mark.at));
  const parts = [...pass.parts, { part: one, from, at: now, act: head.acts + 1 }];
  const after = withPass(head, { parts });
  return moved(head, parts.length === plan.length ? applied(after, now) : after, now);
}

function applied(head: Head, now: number): Head {
  return withPass(comeTo(head, { stage: 'process', pass: head.pass }, now), {
    applied: { at: now, act: head.acts + 1 },
  });
}

export function finishApplication(head: Head, now: number): Head {
  return moved(head, applied(head, now), now);
}

export function water(head: Head, now: number): Head {
  const pass = passOf(head);
  const unknown = pass.begun === null;
  const owed = unknown && !pass.unknown ? [owedItem(head, 'begin-unknown', 'rinse')] : [];
  if (pass.leaflet === null && !pass.unknown) owed.push(owedItem(head, 'product-unknown', 'rinse'));
  const burns = head.burns?.open === true ? { ...head.burns, water: true } : head.burns;
  const there = comeTo(head, { stage: 'rinse', pass: head.pass }, now, owed);
  return moved(head, withPass({ ...there, burns }, { unknown, water: { at: now, act: head.acts + 1 } }), now);
}

/** S1: water on inside the neutralizer; the stage stays. */
export function neutralizerWater(head: Head, now: number): Head {
  return moved(head, withPass(head, { neutralizerWater: { at: now, act: head.acts + 1 } }), now);
}

export function nextAfter(head: Head, stage: Stage): Place {
  const way = wayOf(head);
  const next = way[placeOnWay(way, { stage, pass: head.pass }) + 1];
  if (next === undefined) throw new Error('nothing follows');
  return next;
}

/** S9: off, and on to what follows the rinse, or the neutralizer. */
export function clear(head: Head, now: number): Head {
  const inNeutralizer = head.stage === 'neutralize';
  const next = nextAfter(head, inNeutralizer ? 'neutralize' : 'rinse');
  const after = comeTo(head, next, now, owedForLeaving(head, next, now));
  if (inNeutralizer) return moved(head, after, now);
  const off = { clear: { at: now, act: head.acts + 1 } };
  return moved(head, { ...after, passes: withPass(head, off).passes }, now);
}

/** S1, S10: neutralize and condition are the running pass's own; prep is the next pass's. */
export function laterPlace(head: Head, to: Stage): Place | null {
  const way = wayOf(head);
  const later = way.slice(placeOnWay(way, head) + 1).filter((place) => place.stage === to);
  const own = to === 'neutralize' || to === 'condition' ? later.filter((place) => place.pass === head.pass) : later;
  return own[0] ?? null;
}

export function moveOn(head: Head, to: Stage, now: number): Head {
  const place = laterPlace(head, to);
  if (place === null) throw new Error('no such step ahead');
  const owed = owedForLeaving(head, place, now);
  return moved(head, to === 'finished' ? end(head, 'done', now, owed) : comeTo(head, place, now, owed), now);
}

export function abandon(head: Head, now: number): Head {
  return moved(head, end(head, productOn(head) ? 'abandoned-with-product' : 'abandoned', now), now);
}

export function burn(head: Head, place: 'skin' | 'eye', now: number): Head {
  const pass = passOf(head);
  const running = head.stage === 'rinse' && pass.water !== null;
  const there = comeTo(head, { stage: 'rinse', pass: head.pass }, now);
  return moved(head, { ...there, burns: { place, water: running, open: true } }, now);
}

/** X2: exactly what was before, but for bells and the count of acts. */
export function takeBack(head: Head): Head {
  const before = head.last?.before ?? null;
  if (before !== null) return noted(head, { ...before, bells: head.bells, episodes: head.episodes });
  const prior = head.ended;
  if (prior?.last?.before) return noted(prior, { ...prior.last.before, bells: prior.bells, episodes: prior.episodes });
  return noted(head, { ...head, stage: 'finished', end: 'discarded' });
}
