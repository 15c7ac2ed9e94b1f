import * as act from './acts.ts';
import { stated } from './application.ts';
import { passOf, productOn, type Head, type Stage } from './head.ts';
import { beside, passBell } from './beside.ts';
import { alreadyDone, burning, doesNotFit, here, open, seen, type Table } from './said.ts';

export const nobodyOfThatName = {
  when: (_: Head, said: { person: string | null }) => said.person === 'person-nobody',
  refuse: 'unknown-person',
};

// Lines hold from the top; what no line takes does not fit.
export const anywhere = (stage: Stage): Table => ({
  BeginRinse: [
    {
      when: (head, said) => passOf(head).water !== null && !seen(said, passOf(head).water?.act ?? 0),
      ...alreadyDone,
    },
    { to: ['rinse'], act: (head, said, now) => act.water(head, said.by, said.basin, now) },
  ],
  SeatVisit: [{ when: productOn, refuse: 'product-on' }],
  JoinAsHelper: [nobodyOfThatName],
  LeaveAsHelper: [nobodyOfThatName],
  MoveTo: [
    { when: (_, said) => said.chair === 'unknown', refuse: 'unknown-place' },
    { when: (_, said) => said.chair === 'taken', refuse: 'place-taken' },
    { to: here(stage), act: (head, _, now) => act.moved(head, head, now) },
  ],
  Abandon: [{ to: ['finished'], act: (head, _, now) => act.abandon(head, now) }],
  Discard: [{ when: productOn, refuse: 'product-on' }],
  ReportBurns: [
    { when: (head, said) => burning(head) && head.burns?.place === said.place, ...alreadyDone },
    { to: ['rinse'], act: (head, said, now) => act.burn(head, said.place, now) },
  ],
  ...beside(stage),
  ...atAnyTime(stage),
});

/** Holds for a finished visit too. */
function atAnyTime(stage: Stage): Table {
  return {
    CloseBurns: [
      {
        when: burning,
        to: here(stage),
        act: (head, _, now) => act.noted(head, { ...head, burns: head.burns && { ...head.burns, open: false } }, now),
      },
      { when: (head) => head.burns !== null, ...alreadyDone },
    ],
    TakeBell: [
      { when: (_, said) => said.by === null, refuse: 'person-needed' },
      { when: (head, said) => head.bells[said.cause] === undefined, refuse: 'bell-gone' },
      // R3: quiet for a while after a taking; then, and for anybody else, it can be taken anew.
      {
        when: (head, said, now) => {
          const bell = head.bells[said.cause];
          if (bell?.taken?.by !== said.by || bell.taken.at < bell.since) return false;
          return now < bell.taken.at + (bell.level === 'DANGER' ? 30 : 90);
        },
        ...alreadyDone,
      },
      {
        to: here(stage),
        act: (head, said, now) => {
          const bell = head.bells[said.cause];
          if (bell === undefined || said.by === null) return head;
          return { ...head, bells: { ...head.bells, [said.cause]: { ...bell, taken: { by: said.by, at: now } } } };
        },
      },
    ],
    PassBell: passBell(stage),
    TakeBack: [
      { when: (head, _, now) => head.last === null || now - head.last.at > 600, refuse: 'nothing-to-take-back' },
      { when: (head, said) => !seen(said, head.last?.act ?? 0), refuse: 'moved-on' },
      { to: open, act: (head, _, now) => act.takeBack(head, now) },
    ],
  };
}

/** To a visit that is over every step comes too late: others moved on. */
const tooLate = { refuse: 'moved-on' };
export const finished: Table = {
  SayPrep: [tooLate],
  // X3: what a device did while it was away is kept, also of a visit that is over.
  MarkPartDone: [
    { when: (_, said) => said.ago !== null, ...tooLate, to: ['finished'], act: (head, _, now) => stated(head, now) },
    tooLate,
  ],
  JoinAsHelper: [tooLate],
  LeaveAsHelper: [tooLate],
  TestStrand: [tooLate],
  SetHeat: [tooLate],
  SetLimits: [tooLate],
  FinishApplication: [tooLate],
  NameBasin: [tooLate],
  ClearAndOff: [tooLate],
  MarkShampoo: [tooLate],
  PutNeutralizerOn: [tooLate],
  TakeRodsOut: [tooLate],
  MoveOn: [tooLate],
  MoveTo: [tooLate],
  Abandon: [tooLate],
  Discard: [tooLate],
  ReportTingles: [tooLate],
  AnswerTingles: [tooLate],
  OfferHead: [tooLate],
  AnswerOffer: [tooLate],
  ...atAnyTime('finished'),
  SettleAbandoned: [
    { when: (head) => head.end !== 'abandoned-with-product', ...doesNotFit },
    { when: (head) => head.settled, ...alreadyDone },
    { to: ['finished'], act: (head, _, now) => act.noted(head, { ...head, settled: true }, now) },
  ],
};
