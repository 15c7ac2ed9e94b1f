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

function shampoosLack(pass: PassLife, step: Extract<Finishing, { kind: 'shampoos' }>, since: number): Item[] {
  const items: Item[] = [];
  if (pass.shampoos.length < shampoosWanted(pass)) items.push('shampoos-short');
  const begins = [since, ...pass.shampoos.map((one) => one.at)];
  if (pass.shampoos.some((one, index) => one.at - (begins[index] ?? 0) < step.dwell)) items.push('dwell-short');
  const last = pass.shampoos.at(-1);
  const shown =
    step.proof === 'count' ||
    (step.proof === 'indicator' && last?.indicator === 'colourless') ||
    (step.proof === 'strip' && typeof last?.strip === 'number' && step.limit !== null && last.strip <= step.limit);
  if (!shown) items.push('proof-missing');
  return items;
}

function neutralizerLacks(pass: PassLife, step: Extract<Finishing, { kind: 'neutralizer' }>, now: number): Item[] {
  const items: Item[] = [];
  if (pass.neutralizerOn === null) items.push('neutralizer-not-timed');
  const water = pass.neutralizerWater;
  if (water === null || now - water.at < step.rinse) items.push('rinse-short');
  if (step.rods && pass.rods === null) items.push('rods-not-marked');
  return items;
}

/** S4: what the present stage still wants at the moment it is left. */
function lacking(head: Head, now: number): Item[] {
  const pass = passOf(head);
  if (head.stage === 'rinse') {
    const least = pass.leaflet?.rinse ?? 0;
    return pass.water === null || now - pass.water.at < least ? ['rinse-short'] : [];
  }
  const step = finishingOf(pass, head.stage);
  if (step === null) return [];
  switch (step.kind) {
    case 'condition':
      return now - head.stageAt < step.dwell ? ['dwell-short'] : [];
    case 'neutralizer':
      return neutralizerLacks(pass, step, now);
    case 'shampoos':
      return shampoosLack(pass, step, head.stageAt);
    default:
      throw new Error(step satisfies never);
  }
}

/** S4: cut short is named, skipped is "not marked". */
export function owedForLeaving(head: Head, to: Place, now: number): Owed[] {
  const way = wayOf(head);
  const from = placeOnWay(way, head);
  const short = lacking(head, now).map((item) => ({ item, stage: head.stage, pass: head.pass }));
  const skipped = way.slice(from + 1, placeOnWay(way, to)).map((place) => ({ item: 'not-marked', ...place }));
  return [...short, ...skipped];
}
