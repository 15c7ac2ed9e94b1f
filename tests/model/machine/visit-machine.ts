import { assign, createActor, createMachine } from 'xstate';
import * as act from './acts.ts';
import * as work from './application.ts';
import {
  finishingOf,
  passOf,
  productOn,
  stages,
  withPass,
  type Cause,
  type Head,
  type Offer,
  type Stage,
} from './head.ts';
import { ring } from './ringing.ts';

/** What people can say, and who. `seen`: the number of the act that the sender had seen last; null: none. */
export type Said = { seen: number | null; by: string | null } & (
  | { type: 'SeatVisit'; service: number }
  /** `byChair`: whoever sits there, no visit named. */
  | { type: 'BeginApplication'; service: number | null; byChair: boolean }
  /** `ago`: seconds since it was done; null: now. */
  | { type: 'MarkPartDone'; part: number | null; ago: number | null }
  | { type: 'SayPrep'; complete: boolean }
  | { type: 'JoinAsHelper'; person: string | null }
  | { type: 'TestStrand'; ready: boolean; place: 'first' | 'last' | 'porous'; part: number | null }
  | { type: 'SetHeat'; on: boolean }
  | ({ type: 'SetLimits'; reason: string | null } & work.Asked)
  | { type: 'BeginRinse'; basin: boolean }
  | { type: 'MarkShampoo'; indicator: 'colourless' | 'coloured' | null; strip: number | null }
  | { type: 'MoveOn'; to: Stage }
  | { type: 'MoveTo'; chair: 'free' | 'taken' | 'unknown' }
  | { type: 'ReportBurns'; place: 'skin' | 'eye' }
  | { type: 'TakeBell'; cause: Cause }
  | { type: 'FinishApplication' | 'NameBasin' | 'ClearAndOff' | 'PutNeutralizerOn' | 'TakeRodsOut' | 'Abandon' }
  | { type: 'LeaveAsHelper' | 'SettleAbandoned' | 'Discard' | 'CloseBurns' | 'TakeBack' }
);
export type SaidType = Said['type'];
type Heard = Said | { type: 'TimePasses'; seconds: number };

export interface World {
  now: number;
  head: Head | null;
  serials: number;
  answer: string;
  offers: Offer[];
}

/** One line of the table below: under which condition it holds, and the refusal or the act and where it may lead. */
interface Line<T extends SaidType> {
  when?: (head: Head, said: Extract<Said, { type: T }>, now: number) => boolean;
  refuse?: string;
  to?: readonly Stage[];
  act?: (head: Head, said: Extract<Said, { type: T }>, now: number) => Head;
}
type Table = { [T in SaidType]?: Line<T>[] };

const seen = (said: Said, number: number) => said.seen !== null && said.seen >= number;
const burning = (head: Head) => head.burns?.open === true;
const burnHolds = { when: burning, refuse: 'does-not-fit' };
const doesNotFit = { refuse: 'does-not-fit' };
const alreadyDone = { refuse: 'already-done' };
const open = stages.filter((stage) => stage !== 'none');
const here = (stage: Stage) => [stage] as const;

const nobodyOfThatName: Line<'JoinAsHelper'> = {
  when: (_, said) => said.person === 'person-nobody',
  refuse: 'unknown-person',
};

// Lines hold from the top; what no line takes does not fit.
const anywhere = (stage: Stage): Table => ({
  BeginRinse: [
    {
      when: (head, said) => passOf(head).water !== null && !seen(said, passOf(head).water?.act ?? 0),
      ...alreadyDone,
    },
    { to: ['rinse'], act: (head, said, now) => act.water(head, said.by, said.basin, now) },
  ],
  SeatVisit: [{ when: productOn, refuse: 'product-on' }],
  JoinAsHelper: [nobodyOfThatName],
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
    TakeBack: [
      { when: (head, _, now) => head.last === null || now - head.last.at > 600, refuse: 'nothing-to-take-back' },
      { when: (head, said) => !seen(said, head.last?.act ?? 0), refuse: 'moved-on' },
      { to: open, act: (head, _, now) => act.takeBack(head, now) },
    ],
  };
}

const isClear = (head: Head) => passOf(head).clear !== null;
const nextPass = (head: Head) => head.pass + 1 < head.passes.length;

/** Once a product is off, the next pass begins (S10). */
const beginNext: Line<'BeginApplication'>[] = [
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
const moveOnWithProduct: Line<'MoveOn'>[] = [productStays];
const moveOn: Line<'MoveOn'>[] = [
  productStays,
  burnHolds,
  { when: (head, said) => head.stage === said.to && !seen(said, head.stageAct), ...alreadyDone },
  {
    when: (head, said) => act.laterPlace(head, said.to) !== null,
    to: afterOff,
    act: (head, said, now) => act.moveOn(head, said.to, now),
  },
];
const clearAgain: Line<'ClearAndOff'> = { when: isClear, ...alreadyDone };

const asNeutralizer = (head: Head) => finishingOf(passOf(head), 'neutralize')?.kind === 'neutralizer';
const asShampoos = (head: Head) => finishingOf(passOf(head), 'neutralize')?.kind === 'shampoos';
const wantsRods = (head: Head) => {
  const step = finishingOf(passOf(head), 'neutralize');
  return step?.kind === 'neutralizer' && step.rods;
};
const nowDone = (head: Head, now: number) => ({ at: now, act: head.acts + 1 });
const afterClear = open.filter((stage) => stage !== 'rinse' && stage !== 'finished');

const clearFromProduct: Line<'ClearAndOff'>[] = [
  { when: productOn, to: afterClear, act: (head, _, now) => act.clear(head, now) },
];

const inApplication = (head: Head) => head.stage === 'apply' || head.stage === 'process';
/** X3: late is what precedes the latest act or lies further back than half an hour. */
const late = (head: Head, said: { ago: number | null }, now: number) =>
  said.ago !== null && (said.ago > 1800 || now - said.ago < head.latestAt);
/** X3: a forgotten part, though, lies between first touch and the end of application. */
function forgotten(head: Head, said: { ago: number | null }, now: number): boolean {
  const pass = passOf(head);
  if (said.ago === null || said.ago > 1800 || pass.begun === null || !inApplication(head)) return false;
  const at = now - said.ago;
  return at >= pass.begun.at && (pass.applied === null || at <= pass.applied.at);
}
const tooLateToMark: Line<'MarkPartDone'>[] = stages
  .filter((stage) => stage !== 'none' && stage !== 'finished')
  .map((stage) => ({
    when: (head, said, now) => head.stage === stage && late(head, said, now) && !forgotten(head, said, now),
    refuse: 'moved-on',
    to: [stage],
    act: (head, _, now) => work.stated(head, now),
  }));
const unfitPart: Line<'MarkPartDone'>[] = [
  {
    when: (head, said) => said.part !== null && said.part >= (passOf(head).leaflet?.parts.length ?? 0),
    refuse: 'unknown-part',
  },
  { when: (head, said) => passOf(head).parts.some((one) => one.part === said.part), ...alreadyDone },
  { when: (head, said) => said.part === null && work.nextOfPlan(head) === null, refuse: 'unknown-part' },
];
const markPart: Line<'MarkPartDone'>[] = [
  {
    when: (head, said, now) => said.ago === null || forgotten(head, said, now),
    to: ['apply', 'process'],
    act: (head, said, now) => work.markPart(head, said.part, said.by, said.ago ?? 0, now),
  },
];
const testStrand: Line<'TestStrand'>[] = [
  {
    when: (head, said) => said.part !== null && said.part >= (passOf(head).leaflet?.parts.length ?? 0),
    refuse: 'unknown-part',
  },
  // Once the whole head is ready nothing is left to test (E6).
  {
    when: (head) => passOf(head).leaflet?.byPart === false && passOf(head).tests.some((one) => one.ready),
    ...alreadyDone,
  },
  { to: ['apply', 'process'], act: (head, said, now) => work.testStrand(head, said, now) },
];
const setHeat: Line<'SetHeat'>[] = [
  {
    when: (head, said) => said.on && passOf(head).leaflet?.heat === 'never',
    refuse: 'against-directions',
  },
  { when: (head, said) => passOf(head).heat === said.on, ...alreadyDone },
  { to: ['apply', 'process'], act: (head, said, now) => work.setHeat(head, said.on, now) },
];
const mayRaise = (by: string | null) => by === 'person-sena';
const setLimits = (stage: Stage): Line<'SetLimits'>[] => [
  { when: (head) => passOf(head).leaflet === null, ...doesNotFit },
  { when: (_, said) => work.outOfRange(said), refuse: 'out-of-range' },
  { when: (head, said) => work.contradicts(head, said), refuse: 'directions-contradict' },
  { when: (head, said) => work.raises(head, said) && !mayRaise(said.by), refuse: 'not-allowed' },
  { when: (head, said) => work.raises(head, said) && said.reason === null, refuse: 'reason-needed' },
  { to: here(stage), act: (head, said, now) => work.setLimits(head, said, now) },
];

/** The table of stages and what each takes. */
export const table: Record<Exclude<Stage, 'none' | 'finished'>, Table> = {
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
      {
        when: (head) => work.helpers(head).length > 0,
        to: ['apply'],
        act: (head, _, now) => work.leave(head, now),
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

/** To a visit that is over every step comes too late: others moved on. */
const tooLate = { refuse: 'moved-on' };
const finished: Table = {
  SayPrep: [tooLate],
  MarkPartDone: [tooLate],
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
  ...atAnyTime('finished'),
  SettleAbandoned: [
    { when: (head) => head.end !== 'abandoned-with-product', ...doesNotFit },
    { when: (head) => head.settled, ...alreadyDone },
    { to: ['finished'], act: (head, _, now) => act.noted(head, { ...head, settled: true }, now) },
  ],
};

/** The refusal in words of S7: others acted since the sender looked, or it never fitted. */
function refusal(world: World, said: Said, code: string): string {
  if (code !== 'does-not-fit') return code;
  const stale = said.seen !== null && world.head !== null && said.seen < world.head.acts;
  return stale ? 'moved-on' : 'wrong-stage';
}

/** One line as xstate transitions: one per stage it may lead to. */
function transitionsOf(line: Line<SaidType>) {
  const holds = (world: World, said: Said) =>
    world.head !== null && (line.when === undefined || line.when(world.head, said as never, world.now));
  if (line.act === undefined) {
    return [
      {
        guard: ({ context, event }: { context: World; event: Heard }) => holds(context, event as Said),
        actions: assign(({ context, event }: { context: World; event: Heard }) => ({
          answer: refusal(context, event as Said, line.refuse ?? 'does-not-fit'),
        })),
      },
    ];
  }
  const { act: deed, to = [] } = line;
  // The guards of all targets ask for the same.
  let asked: { world: World; said: Said; head: Head } | null = null;
  const after = (world: World, said: Said) => {
    if (asked?.world !== world || asked.said !== said)
      asked = { world, said, head: deed(world.head as Head, said as never, world.now) };
    return asked.head;
  };
  return to.map((target) => ({
    target: `#visit.${target}`,
    guard: ({ context, event }: { context: World; event: Heard }) =>
      holds(context, event as Said) && (to.length === 1 || after(context, event as Said).stage === target),
    actions: assign(({ context, event }: { context: World; event: Heard }) => {
      const head = after(context, event as Said);
      if (head.stage !== target) throw new Error(`${event.type} leads to ${head.stage}, not to ${target}`);
      return { answer: line.refuse ?? 'done', head: ring(head, context.now) };
    }),
  }));
}

const saidTypes: SaidType[] = [
  'SeatVisit',
  'BeginApplication',
  'MarkPartDone',
  'SayPrep',
  'JoinAsHelper',
  'LeaveAsHelper',
  'TestStrand',
  'SetHeat',
  'SetLimits',
  'FinishApplication',
  'BeginRinse',
  'NameBasin',
  'ClearAndOff',
  'MarkShampoo',
  'PutNeutralizerOn',
  'TakeRodsOut',
  'MoveOn',
  'MoveTo',
  'Abandon',
  'SettleAbandoned',
  'Discard',
  'ReportBurns',
  'CloseBurns',
  'TakeBell',
  'TakeBack',
];

/** Chair commands at an empty chair (or one whose visit may end) make a new visit; what follows is the same touch (S9). */
function seating(
  target: Stage,
  deed: (seated: Head, said: Said, now: number) => Head,
  only: (head: Head | null, said: Said) => boolean,
) {
  return {
    target: `#visit.${target}`,
    guard: ({ context, event }: { context: World; event: Heard }) => only(context.head, event as Said),
    actions: assign(({ context, event }: { context: World; event: Heard }) => {
      const said = event as Said;
      const service =
        said.type === 'SeatVisit' ? said.service : said.type === 'BeginApplication' ? (said.service ?? 0) : null;
      const offer = service === null ? null : (context.offers[service] ?? null);
      const seated = act.seat(context.head, context.serials + 1, offer, context.now);
      const after = act.inOneTouch(seated, deed({ ...seated, acts: 0 }, said, context.now));
      return { answer: 'done', serials: context.serials + 1, head: ring(after, context.now) };
    }),
  };
}

const always = () => true;
const justSeat = (head: Head) => head;
const beginOn = (head: Head, said: Said, now: number) => act.begin(head, said.by, now);
const waterOn = (head: Head, said: Said, now: number) =>
  act.water(head, said.by, said.type === 'BeginRinse' && said.basin, now);
const burnOn = (head: Head, said: Said, now: number) =>
  act.burn(head, said.type === 'ReportBurns' ? said.place : 'skin', now);
const atEmptyChair = {
  SeatVisit: [seating('prep', justSeat, always)],
  BeginApplication: [seating('apply', beginOn, always)],
  BeginRinse: [seating('rinse', waterOn, always)],
  ReportBurns: [seating('rinse', burnOn, always)],
};

/** With nobody's product on, the chair's next client may be seated, by Begin too where no further pass waits. */
const productOff = (head: Head | null) => head !== null && !productOn(head);
const seatNext = {
  SeatVisit: [seating('prep', justSeat, productOff)],
  BeginApplication: [
    seating('apply', beginOn, (head, said) => productOff(head) && said.type === 'BeginApplication' && said.byChair),
  ],
};

const timePasses = {
  actions: assign(({ context, event }: { context: World; event: Heard }) => {
    const now = context.now + (event.type === 'TimePasses' ? event.seconds : 0);
    return { now, answer: '', head: context.head && ring(context.head, now) };
  }),
};

function stateOf(lines: Table, more: Partial<Record<SaidType, unknown[]>> = {}) {
  const on: Record<string, unknown> = { TimePasses: timePasses };
  for (const type of saidTypes) {
    const first = type === 'MarkPartDone' ? tooLateToMark : [];
    const taken = ([...first, ...(lines[type] ?? [])] as Line<SaidType>[]).flatMap(transitionsOf);
    on[type] = [...taken, ...(more[type] ?? []), ...transitionsOf(doesNotFit)];
  }
  return { on };
}

const unknownVisitsBell = {
  actions: assign(({ event }: { event: Heard }) => ({
    answer: event.type === 'TakeBell' && event.by === null ? 'person-needed' : 'unknown-visit',
  })),
};

const unknownVisit = Object.fromEntries(
  saidTypes.map((type) => [type, { actions: assign(() => ({ answer: 'unknown-visit' })) }]),
);

export const visitMachine = createMachine({
  id: 'visit',
  types: {} as { context: World; events: Heard; input: { offers: Offer[] } },
  context: ({ input }) => ({ now: 0, head: null, serials: 0, answer: '', offers: input.offers }),
  initial: 'none',
  states: {
    none: { on: { ...unknownVisit, ...atEmptyChair, TakeBell: unknownVisitsBell, TimePasses: timePasses } },
    ...Object.fromEntries(Object.entries(table).map(([stage, lines]) => [stage, stateOf(lines, seatNext)])),
    finished: stateOf(finished, atEmptyChair),
  } as never,
});

/** One chair that hears what is said and tells what it is now. */
export class ModelChair {
  private readonly actor;

  constructor(offers: Offer[]) {
    this.actor = createActor(visitMachine, { input: { offers } }).start();
  }

  get world(): World {
    return this.actor.getSnapshot().context;
  }

  hear(heard: Heard): void {
    this.actor.send(heard);
  }
}
