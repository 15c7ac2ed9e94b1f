import * as act from './acts.ts';
import { anywhere } from './any-stage.ts';
import { finishingOf, passOf, withPass, type Head } from './head.ts';
import { afterClear, beginNext, clearAgain, moveOn } from './off-lines.ts';
import { alreadyDone, burnHolds, doesNotFit, nowDone, seen, type Table } from './said.ts';

const asNeutralizer = (head: Head) => finishingOf(passOf(head), 'neutralize')?.kind === 'neutralizer';
const asShampoos = (head: Head) => finishingOf(passOf(head), 'neutralize')?.kind === 'shampoos';
const wantsRods = (head: Head) => {
  const step = finishingOf(passOf(head), 'neutralize');
  return step?.kind === 'neutralizer' && step.rods;
};

/** What each stage takes, from water on to the dryer. */
export const fromWater: Record<'rinse' | 'neutralize' | 'condition' | 'dry', Table> = {
  rinse: {
    ...anywhere('rinse'),
    NameBasin: [
      { when: (head) => passOf(head).water !== null, to: ['rinse'], act: (head, _, now) => act.nameBasin(head, now) },
    ],
    ClearAndOff: [burnHolds, { to: afterClear, act: (head, _, now) => act.clear(head, now) }],
    MoveOn: moveOn,
  },
  neutralize: {
    ...anywhere('neutralize'),
    BeginApplication: beginNext,
    BeginRinse: [
      {
        when: (head, said) => {
          const was = passOf(head).neutralizerWater;
          return asNeutralizer(head) && was !== null && !seen(said, was.act);
        },
        ...alreadyDone,
      },
      {
        when: asNeutralizer,
        to: ['neutralize'],
        act: (head, _, now) => act.neutralizerWater(head, now),
      },
      ...(anywhere('neutralize').BeginRinse ?? []),
    ],
    NameBasin: [
      {
        when: (head) => passOf(head).neutralizerWater !== null,
        to: ['neutralize'],
        act: (head, _, now) => act.moved(head, head, now),
      },
    ],
    ClearAndOff: [
      {
        when: (head) => asNeutralizer(head) && passOf(head).neutralizerWater !== null,
        to: ['prep', 'condition', 'dry'],
        act: (head, _, now) => act.clear(head, now),
      },
      clearAgain,
    ],
    MarkShampoo: [
      { when: (head) => !asShampoos(head), ...doesNotFit },
      {
        when: (head, said) => {
          const last = passOf(head).shampoos.at(-1);
          return last !== undefined && !seen(said, last.act);
        },
        ...alreadyDone,
      },
      {
        to: ['neutralize'],
        act: (head, said, now) => {
          const { indicator, strip } = said;
          const shampoos = [...passOf(head).shampoos, { ...nowDone(head, now), indicator, strip }];
          return act.moved(head, withPass(head, { shampoos }), now);
        },
      },
    ],
    PutNeutralizerOn: [
      { when: (head) => !asNeutralizer(head), ...doesNotFit },
      { when: (head) => passOf(head).neutralizerOn !== null, ...alreadyDone },
      {
        to: ['neutralize'],
        act: (head, _, now) => act.moved(head, withPass(head, { neutralizerOn: nowDone(head, now) }), now),
      },
    ],
    TakeRodsOut: [
      { when: (head) => !wantsRods(head), ...doesNotFit },
      { when: (head) => passOf(head).rods !== null, ...alreadyDone },
      { to: ['neutralize'], act: (head, _, now) => act.moved(head, withPass(head, { rods: nowDone(head, now) }), now) },
    ],
    MoveOn: moveOn,
  },
  condition: {
    ...anywhere('condition'),
    BeginApplication: beginNext,
    ClearAndOff: [clearAgain],
    MoveOn: moveOn,
  },
  dry: { ...anywhere('dry'), ClearAndOff: [clearAgain], MoveOn: moveOn },
};
