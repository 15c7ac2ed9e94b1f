import * as act from './acts.ts';
import { productOn, type Head, type Stage } from './head.ts';
import { alreadyDone, burnHolds, isClear, open, seen, type Line } from './said.ts';

/** What is said of product coming off, and of going on after it. */
const nextPass = (head: Head) => head.pass + 1 < head.passes.length;

/** Once a product is off, the next pass begins (S10). */
export const beginNext: Line<'BeginApplication'>[] = [
  {
    when: (head) => isClear(head) && nextPass(head),
    to: ['apply'],
    act: (head, said, now) => act.begin(head, said.by, now),
  },
];

const afterOff: Stage[] = ['prep', 'neutralize', 'condition', 'dry', 'finished'];
const productStays: Line<'MoveOn'> = {
  when: (head, said) => said.to === 'finished' && productOn(head),
  refuse: 'product-on',
};
/** While product works the way forward is water on, or clear and off (S4). */
export const moveOnWithProduct: Line<'MoveOn'>[] = [productStays];
export const moveOn: Line<'MoveOn'>[] = [
  productStays,
  burnHolds,
  { when: (head, said) => head.stage === said.to && !seen(said, head.stageAct), ...alreadyDone },
  {
    when: (head, said) => act.laterPlace(head, said.to) !== null,
    to: afterOff,
    act: (head, said, now) => act.moveOn(head, said.to, now),
  },
];
export const clearAgain: Line<'ClearAndOff'> = { when: isClear, ...alreadyDone };
export const afterClear = open.filter((stage) => stage !== 'rinse' && stage !== 'finished');

export const clearFromProduct: Line<'ClearAndOff'>[] = [
  { when: productOn, to: afterClear, act: (head, _, now) => act.clear(head, now) },
];
