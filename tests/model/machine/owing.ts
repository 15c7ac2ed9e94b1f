import {
  finishingOf,
  passOf,
  placeOnWay,
  wayOf,
  type Finishing,
  type Head,
  type Owed,
  type PassLife,
  type Place,
} from './head.ts';
import { shampoosWanted } from './ringing.ts';

type Item = string;

function failed(shampoo: PassLife['shampoos'][number], limit: number | null): boolean {
  return shampoo.indicator === 'coloured' || (shampoo.strip !== null && limit !== null && shampoo.strip > limit);
}

function shampoosLack(
  pass: PassLife,
  step: Extract<Finishing, { kind: 'shampoos' }>,
  since: number,
  now: number,
): Item[] {
  const items: Item[] = [];
  const missing = pass.shampoos.length < shampoosWanted(pass);
  if (missing) items.push('shampoos-short');
  // Each shampoo of this stay at the basin wants its dwell, the one that is on as well.
  const ends = pass.shampoos.map((one) => one.at).filter((at) => at >= since);
  if (missing) ends.push(now);
  if (ends.some((at, index) => at - (ends[index - 1] ?? since) < step.dwell)) items.push('dwell-short');
  const last = pass.shampoos.at(-1);
  const proof = step.proof === 'strip' ? last?.strip : last?.indicator;
  const shown = step.proof === 'count' || (proof ?? null) !== null;
  if (!shown || (last !== undefined && failed(last, step.limit))) items.push('proof-missing');
  return items;
}

function neutralizerLacks(pass: PassLife, step: Extract<Finishing, { kind: 'neutralizer' }>, now: number): Item[] {
  const items: Item[] = [];
  if (pass.neutralizerOn === null) items.push('neutralizer-not-timed');
  const water = pass.neutralizerWater;
  if (water === null) items.push('not-marked');
  else if (now - water.at < step.rinse) items.push('rinse-short');
  if (step.rods && pass.rods === null) items.push('rods-not-marked');
  return items;
}

/** S4: what the present stage still wants at the moment it is left. */
export function lacking(head: Head, now: number): Item[] {
  const pass = passOf(head);
  if (head.stage === 'rinse') {
    const least = pass.leaflet?.rinse ?? 0;
    if (pass.water === null) return ['not-marked'];
    return now - pass.water.at < least ? ['rinse-short'] : [];
  }
  const step = finishingOf(pass, head.stage);
  if (step === null) return [];
  switch (step.kind) {
    case 'condition':
      return now - head.stageAt < step.dwell ? ['dwell-short'] : [];
    case 'neutralizer':
      return neutralizerLacks(pass, step, now);
    case 'shampoos':
      return shampoosLack(pass, step, head.stageAt, now);
    default:
      throw new Error(step satisfies never);
  }
}

/** S4: cut short is named, skipped is "not marked". */
export function owedForLeaving(head: Head, to: Place, now: number): Owed[] {
  const way = wayOf(head);
  const from = placeOnWay(way, head);
  const skipped = way.slice(from + 1, placeOnWay(way, to)).map((place) => ({ item: 'not-marked', ...place }));
  return [...owedHere(head, now), ...skipped];
}

export function owedHere(head: Head, now: number): Owed[] {
  return lacking(head, now).map((item) => ({ item, stage: head.stage, pass: head.pass }));
}
