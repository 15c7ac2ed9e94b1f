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
  type PassLife,
  type Place,
  type Stage,
} from './head.ts';
import { owedForLeaving, owedHere } from './owing.ts';
import { ring } from './ringing.ts';
import { beforeWindow } from './window.ts';

/** The head after one more act that is a move: it can be taken back (X2). */
export function moved(before: Head, after: Head, now: number): Head {
  const act = before.acts + 1;
  return { ...after, acts: act, latestAt: now, last: { at: now, act, before } };
}

/** An act that is no move: nothing before it can be taken back any more. */
export function noted(before: Head, after: Head, now: number): Head {
  return { ...after, acts: before.acts + 1, latestAt: now, last: null };
}

export function comeTo(head: Head, place: Place, now: number, owed: Owed[] = []): Head {
  const stays = head.stage === place.stage && head.pass === place.pass;
  const came = stays ? {} : { stageAt: now, stageAct: head.acts + 1, prepared: null };
  return { ...head, ...place, ...came, owed: [...head.owed, ...owed] };
}

export function end(head: Head, how: NonNullable<Head['end']>, now: number, owed: Owed[] = []): Head {
  return { ...comeTo(head, { stage: 'finished', pass: head.pass }, now, owed), end: how };
}

/** Nothing was done yet: nothing can be owed. */
function waitsForFirst(head: Head): boolean {
  return head.stage === 'prep' && head.pass === 0;
}

/** S9: the visit before ends with its open steps not marked. */
function endedByNext(head: Head, now: number): Head {
  const finished = { stage: 'finished' as const, pass: head.passes.length - 1 };
  const owed = waitsForFirst(head) ? [] : owedForLeaving(head, finished, now);
  return ring(moved(head, end(head, 'next-seated', now, owed), now), now);
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
    stageAct: 1,
    owed: [],
    prepared: null,
    latestAt: now,
    burns: null,
    tingles: null,
    stylist: null,
    offered: null,
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

export function begin(head: Head, by: string | null, now: number): Head {
  const begun = { at: now, act: head.acts + 1 };
  const change = { begun, hands: [{ by, from: now, until: null }] };
  if (head.stage === 'prep')
    return moved(head, withPass(comeTo(head, { stage: 'apply', pass: head.pass }, now), change), now);
  const place = { stage: 'apply' as const, pass: head.pass + 1 };
  const owed = owedForLeaving(head, place, now).filter((one) => one.stage !== 'prep');
  return moved(head, withPass(comeTo(head, place, now, owed), change), now);
}

/** S6: the first that comes of it answers it. */
export function tinglesAnswered(head: Head, answer: string): Head {
  if (head.tingles === null || head.tingles.answer !== null) return head;
  return { ...head, tingles: { ...head.tingles, answer } };
}

export function water(head: Head, by: string | null, named: boolean, now: number): Head {
  const pass = passOf(head);
  const asked = (item: string) => head.owed.some((one) => one.item === item && one.pass === head.pass);
  const owed = head.stage === 'apply' ? [owedItem(head, 'not-marked', 'process')] : [];
  // S2: what nobody knows is asked for afterwards, once.
  if (pass.begun === null && !asked('begin-unknown')) owed.push(owedItem(head, 'begin-unknown', 'apply'));
  if (pass.leaflet === null && !asked('product-unknown')) owed.push(owedItem(head, 'product-unknown', 'prep'));
  const burns = head.burns?.open === true ? { ...head.burns, water: true } : head.burns;
  const there = comeTo(head, { stage: 'rinse', pass: head.pass }, now, owed);
  const doubtful = (by === null && !named) || beforeWindow(pass, now);
  const change = {
    unknown: pass.begun === null,
    water: { at: now, act: head.acts + 1 },
    clear: null,
    everWet: true,
    // Said once more without a basin it answers nothing.
    firstWater: (named ? answered(pass) : pass.firstWater) ?? { at: now, doubtful, answered: false },
  };
  return moved(head, withPass(tinglesAnswered({ ...there, burns }, 'to-water'), change), now);
}

/** S1: water on inside the neutralizer; the stage stays. */
export function neutralizerWater(head: Head, now: number): Head {
  const owed = passOf(head).neutralizerOn === null ? [owedItem(head, 'neutralizer-not-timed', 'neutralize')] : [];
  const after = { ...head, owed: [...head.owed, ...owed] };
  return moved(
    head,
    withPass(tinglesAnswered(after, 'to-water'), { neutralizerWater: { at: now, act: head.acts + 1 } }),
    now,
  );
}

export function nextAfter(head: Head, stage: Stage): Place {
  const way = wayOf(head);
  const next = way[placeOnWay(way, { stage, pass: head.pass }) + 1];
  if (next === undefined) throw new Error('nothing follows');
  return next;
}

/** Bell `water-on?`: the basin was named, or water ran clear. */
function answered({ firstWater }: PassLife): PassLife['firstWater'] {
  return firstWater && { ...firstWater, answered: true };
}

export function nameBasin(head: Head, now: number): Head {
  const change = head.stage === 'rinse' ? { firstWater: answered(passOf(head)) } : {};
  return moved(head, withPass(head, change), now);
}

/** S9: off, and on to what follows the rinse, or the neutralizer. */
export function clear(head: Head, now: number): Head {
  const inNeutralizer = head.stage === 'neutralize';
  const next = nextAfter(head, inNeutralizer ? 'neutralize' : 'rinse');
  const after = comeTo(head, next, now, owedForLeaving(head, next, now));
  if (inNeutralizer) return moved(head, after, now);
  const off = { clear: { at: now, act: head.acts + 1 }, firstWater: answered(passOf(head)) };
  return moved(head, { ...after, passes: withPass(head, off).passes }, now);
}

/** S4: the first later step of that name on the way. */
export function laterPlace(head: Head, to: Stage): Place | null {
  const way = wayOf(head);
  return way.slice(placeOnWay(way, head) + 1).find((place) => place.stage === to) ?? null;
}

export function moveOn(head: Head, to: Stage, now: number): Head {
  const place = laterPlace(head, to);
  if (place === null) throw new Error('no such step ahead');
  if (to === 'finished') {
    return moved(head, end(head, 'done', now, waitsForFirst(head) ? [] : owedForLeaving(head, place, now)), now);
  }
  const after = comeTo(head, place, now, owedForLeaving(head, place, now));
  // To go on from the rinse says that product is off.
  if (!productOn(head)) return moved(head, after, now);
  const off = { clear: { at: now, act: head.acts + 1 }, firstWater: answered(passOf(head)) };
  return moved(head, { ...after, passes: withPass(head, off).passes }, now);
}

export function abandon(head: Head, now: number): Head {
  return moved(
    head,
    end(head, productOn(head) ? 'abandoned-with-product' : 'abandoned', now, owedHere(head, now)),
    now,
  );
}

/** S6: to the water from any stage; what was rinsed before does not count. */
export function burn(head: Head, place: 'skin' | 'eye', now: number): Head {
  const pass = passOf(head);
  const burns = { place, pass: head.pass, water: head.stage === 'rinse' && pass.water !== null, open: true };
  const told = tinglesAnswered(head, 'burns');
  if (head.stage === 'rinse') return moved(head, { ...told, burns }, now);
  const there = comeTo(told, { stage: 'rinse', pass: head.pass }, now);
  const dry = withPass({ ...there, burns }, { water: null, clear: null, unknown: pass.begun === null });
  return moved(head, dry, now);
}

/** X2: exactly what was before, but for bells and the count of acts. */
export function takeBack(head: Head, now: number): Head {
  const before = head.last?.before ?? null;
  if (before !== null) return noted(head, { ...before, bells: head.bells, episodes: head.episodes }, now);
  const prior = head.ended;
  if (prior?.last?.before)
    return noted(prior, { ...prior.last.before, bells: prior.bells, episodes: prior.episodes }, now);
  // A visit that nobody seated: nothing of it is left.
  const passes = head.passes.map((one) => unbegun(one.leaflet));
  return noted(
    head,
    {
      ...head,
      stage: 'finished',
      end: 'discarded',
      pass: 0,
      passes,
      owed: [],
      prepared: null,
      burns: null,
      tingles: null,
    },
    now,
  );
}
