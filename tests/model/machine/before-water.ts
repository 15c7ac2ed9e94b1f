import * as act from './acts.ts';
import { anywhere, nobodyOfThatName } from './any-stage.ts';
import * as work from './application.ts';
import { clearAgain, clearFromProduct, moveOnWithProduct } from './off-lines.ts';
import { forgotten, markPart, setHeat, setLimits, testStrand, unfitPart } from './part-lines.ts';
import { alreadyDone, doesNotFit, seen, type Table } from './said.ts';

/** What each stage takes, up to the water. */
export const beforeWater: Record<'prep' | 'apply' | 'process', Table> = {
  prep: {
    ...anywhere('prep'),
    SayPrep: [
      { when: (head, said) => said.complete && head.prepared !== null, ...alreadyDone },
      { to: ['prep'], act: (head, said, now) => work.sayPrep(head, said.complete, now) },
    ],
    SetLimits: setLimits('prep'),
    BeginApplication: [{ to: ['apply'], act: (head, said, now) => act.begin(head, said.by, now) }],
    ClearAndOff: [clearAgain],
    MoveOn: [
      { when: (head, said) => said.to === 'prep' && !seen(said, head.stageAct), ...alreadyDone },
      {
        when: (_, said) => said.to === 'finished',
        to: ['finished'],
        act: (head, said, now) => act.moveOn(head, said.to, now),
      },
    ],
    Discard: [
      {
        when: (head) => head.pass === 0,
        to: ['finished'],
        act: (head, _, now) => act.moved(head, act.end(head, 'discarded', now), now),
      },
    ],
  },
  apply: {
    ...anywhere('apply'),
    BeginApplication: [alreadyDone],
    MarkPartDone: [...unfitPart, ...markPart],
    TestStrand: testStrand,
    JoinAsHelper: [
      nobodyOfThatName,
      { when: (head, said) => work.isThere(head, said.person), ...alreadyDone },
      { when: (head) => work.helpers(head).length >= 3, refuse: 'out-of-range' },
      { to: ['apply'], act: (head, said, now) => work.join(head, said.person, now) },
    ],
    LeaveAsHelper: [
      nobodyOfThatName,
      {
        when: (head, said) => work.helperWhoGoes(head, said.person) !== undefined,
        to: ['apply'],
        act: (head, said, now) => work.leave(head, said.person, now),
      },
    ],
    SetHeat: setHeat,
    SetLimits: setLimits('apply'),
    FinishApplication: [{ to: ['process'], act: (head, _, now) => work.finishApplication(head, now) }],
    ClearAndOff: clearFromProduct,
    MoveOn: moveOnWithProduct,
  },
  process: {
    ...anywhere('process'),
    MarkPartDone: [
      { when: (head, said, now) => !forgotten(head, said, now), ...doesNotFit },
      ...unfitPart,
      ...markPart,
    ],
    TestStrand: testStrand,
    SetHeat: setHeat,
    SetLimits: setLimits('process'),
    FinishApplication: [alreadyDone],
    ClearAndOff: clearFromProduct,
    MoveOn: moveOnWithProduct,
  },
};
