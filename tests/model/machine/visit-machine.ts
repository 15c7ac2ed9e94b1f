import { assign, createMachine, initialTransition, transition, type SnapshotFrom } from 'xstate';
import * as act from './acts.ts';
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

/** What people can say. `seen`: the number of the act that the sender had seen last; null: none. */
export type Said = { seen: number | null } & (
  | { type: 'SeatVisit'; service: number }
  | { type: 'BeginApplication'; service: number | null }
  | { type: 'MarkPartDone'; part: number | null }
  | { type: 'BeginRinse' }
  | { type: 'MarkShampoo'; indicator: 'colourless' | 'coloured' | null; strip: number | null }
  | { type: 'MoveOn'; to: Stage }
  | { type: 'MoveTo'; chair: 'free' | 'taken' | 'unknown' }
  | { type: 'ReportBurns'; place: 'skin' | 'eye' }
  | { type: 'TakeBell'; cause: Cause; person: boolean }
  | { type: 'FinishApplication' | 'NameBasin' | 'ClearAndOff' | 'PutNeutralizerOn' | 'TakeRodsOut' | 'Abandon' }
  | { type: 'SettleAbandoned' | 'Discard' | 'CloseBurns' | 'TakeBack' }
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

// Each stage's lines below hold from the top; what no line takes does not fit.
const anywhere = (stage: Stage): Table => ({
  BeginRinse: [
    {
      when: (head) => burning(head) && head.burns?.water === false,
      to: ['rinse'],
      act: (head, _, now) => act.water(head, now),
    },
    {
      when: (head, said) => passOf(head).water !== null && !seen(said, passOf(head).water?.act ?? 0),
      ...alreadyDone,
    },
    { to: ['rinse'], act: (head, _, now) => act.water(head, now) },
  ],
  SeatVisit: [{ when: productOn, refuse: 'product-on' }],
  MoveTo: [
    { when: (_, said) => said.chair === 'unknown', refuse: 'unknown-place' },
    { when: (_, said) => said.chair === 'taken', refuse: 'place-taken' },
    { to: here(stage), act: (head, _, now) => act.moved(head, head, now) },
  ],
  Abandon: [{ to: ['finished'], act: (head, _, now) => act.abandon(head, now) }],
  Discard: [{ when: productOn, refuse: 'product-on' }, { refuse: 'wrong-stage' }],
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
        act: (head) => act.noted(head, { ...head, burns: head.burns && { ...head.burns, open: false } }),
      },
      { when: (head) => head.burns !== null, ...alreadyDone },
      { refuse: 'wrong-stage' },
    ],
    SettleAbandoned: [{ refuse: 'wrong-stage' }],
    TakeBell: [
      { when: (_, said) => !said.person, refuse: 'person-needed' },
      { when: (head, said) => head.bells[said.cause] === undefined, refuse: 'bell-gone' },
      { when: (head, said) => head.bells[said.cause]?.taken === true, ...alreadyDone },
      {
        to: here(stage),
        act: (head, said) => {
          const bell = head.bells[said.cause];
          return bell === undefined
            ? head
            : { ...head, bells: { ...head.bells, [said.cause]: { ...bell, taken: true } } };
        },
      },
    ],
    TakeBack: [
      { when: (head, _, now) => head.last === null || now - head.last.at > 600, refuse: 'nothing-to-take-back' },
      { when: (head, said) => !seen(said, head.last?.act ?? 0), refuse: 'moved-on' },
      { to: open, act: (head) => act.takeBack(head) },
    ],
  };
}

const begun = (head: Head) => passOf(head).begun !== null;
const isClear = (head: Head) => passOf(head).clear !== null;
const nextPass = (head: Head) => head.pass + 1 < head.passes.length;

/** Once a product is off: the next pass begins (S10); else it is a repeat. */
const beginAfterOff: Line<'BeginApplication'>[] = [
  burnHolds,
  {
    when: (head, said) =>
      isClear(head) && nextPass(head) && (said.seen === null || seen(said, passOf(head).begun?.act ?? 0)),
    to: ['apply'],
    act: (head, _, now) => act.begin(head, now),
  },
  { when: begun, ...alreadyDone },
];

const moveOn: Line<'MoveOn'>[] = [
  { when: productOn, refuse: 'product-on' },
  { when: (head, said) => head.stage === said.to, ...alreadyDone },
  burnHolds,
  {
    when: (head, said) => act.laterPlace(head, said.to) !== null,
    to: ['prep', 'neutralize', 'condition', 'dry', 'finished'],
    act: (head, said, now) => act.moveOn(head, said.to, now),
  },
];

/** S7: what the running pass has behind it was done by somebody else. */
const behind: Table = {
  MarkPartDone: [{ when: (head, said) => passOf(head).parts.some((one) => one.part === said.part), ...alreadyDone }],
  FinishApplication: [{ when: (head) => passOf(head).applied !== null, ...alreadyDone }],
  ClearAndOff: [{ when: isClear, ...alreadyDone }],
  PutNeutralizerOn: [{ when: (head) => passOf(head).neutralizerOn !== null, ...alreadyDone }],
  TakeRodsOut: [{ when: (head) => passOf(head).rods !== null, ...alreadyDone }],
};

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

/** The table of stages and what each takes. */
export const table: Record<Exclude<Stage, 'none' | 'finished'>, Table> = {
  prep: {
    ...anywhere('prep'),
    BeginApplication: [{ to: ['apply'], act: (head, _, now) => act.begin(head, now) }],
    MoveOn: [
      { when: (head, said) => said.to === 'prep' && head.stage === 'prep', ...alreadyDone },
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
      { refuse: 'wrong-stage' },
    ],
  },
  apply: {
    ...anywhere('apply'),
    BeginApplication: [alreadyDone],
    MarkPartDone: [
      {
        when: (head, said) => said.part !== null && said.part >= (passOf(head).leaflet?.parts.length ?? 0),
        refuse: 'unknown-part',
      },
      { when: (head, said) => passOf(head).parts.some((one) => one.part === said.part), ...alreadyDone },
      {
        when: (head, said) =>
          said.part === null && said.seen !== null && passOf(head).parts.some((one) => !seen(said, one.act)),
        ...alreadyDone,
      },
      { to: ['apply', 'process'], act: (head, said, now) => act.markPart(head, said.part, now) },
    ],
    FinishApplication: [{ to: ['process'], act: (head, _, now) => act.finishApplication(head, now) }],
    ClearAndOff: clearFromProduct,
    MoveOn: moveOn,
  },
  process: {
    ...anywhere('process'),
    ...behind,
    BeginApplication: [alreadyDone],
    ClearAndOff: clearFromProduct,
    MoveOn: moveOn,
  },
  rinse: {
    ...anywhere('rinse'),
    ...behind,
    BeginApplication: beginAfterOff,
    NameBasin: [{ to: ['rinse'], act: (head, _, now) => act.moved(head, head, now) }],
    ClearAndOff: [burnHolds, { to: afterClear, act: (head, _, now) => act.clear(head, now) }],
    MoveOn: moveOn,
  },
  neutralize: {
    ...anywhere('neutralize'),
    ...behind,
    BeginApplication: beginAfterOff,
    BeginRinse: [
      {
        when: (head, said) => {
          const was = passOf(head).neutralizerWater;
          return asNeutralizer(head) && was !== null && !seen(said, was.act);
        },
        ...alreadyDone,
      },
      {
        when: (head, said) =>
          asNeutralizer(head) && (passOf(head).neutralizerOn !== null || seen(said, passOf(head).water?.act ?? 0)),
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
      { when: isClear, ...alreadyDone },
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
  condition: { ...anywhere('condition'), ...behind, BeginApplication: beginAfterOff, MoveOn: moveOn },
  dry: { ...anywhere('dry'), ...behind, BeginApplication: beginAfterOff, MoveOn: moveOn },
};

const finished: Table = {
  ...atAnyTime('finished'),
  SettleAbandoned: [
    { when: (head) => head.end !== 'abandoned-with-product', refuse: 'wrong-stage' },
    { when: (head) => head.settled, ...alreadyDone },
    { to: ['finished'], act: (head) => act.noted(head, { ...head, settled: true }) },
  ],
  MoveOn: [{ when: (_, said) => said.to === 'finished', ...alreadyDone }],
  Discard: [{ refuse: 'wrong-stage' }],
};

/** The refusal in words of S7: others acted since the sender looked, or it never fitted. */
function refusal(world: World, said: Said, code: string): string {
  if (code !== 'does-not-fit') return code;
  const stale = said.seen !== null && world.head !== null && said.seen < world.head.acts;
  return stale ? 'moved-on' : 'wrong-stage';
}

const config = (world: World, event: Heard) => ({ world, said: event as Said });

/** One line as xstate transitions: one per stage it may lead to. */
function transitionsOf(line: Line<SaidType>) {
  const holds = (world: World, said: Said) =>
    world.head !== null && (line.when === undefined || line.when(world.head, said as never, world.now));
  if (line.act === undefined) {
    return [
      {
        guard: ({ context, event }: { context: World; event: Heard }) => holds(context, config(context, event).said),
        actions: assign(({ context, event }: { context: World; event: Heard }) => ({
          answer: refusal(context, event as Said, line.refuse ?? 'does-not-fit'),
        })),
      },
    ];
  }
  const { act: deed, to = [] } = line;
  const after = (world: World, said: Said) => deed(world.head as Head, said as never, world.now);
  return to.map((target) => ({
    target: `#visit.${target}`,
    guard: ({ context, event }: { context: World; event: Heard }) =>
      holds(context, event as Said) && (to.length === 1 || after(context, event as Said).stage === target),
    actions: assign(({ context, event }: { context: World; event: Heard }) => {
      const head = after(context, event as Said);
      if (head.stage !== target) throw new Error(`${event.type} leads to ${head.stage}, not to ${target}`);
      return { answer: 'done', head: ring(head, context.now) };
    }),
  }));
}

const saidTypes: SaidType[] = [
  'SeatVisit',
  'BeginApplication',
  'MarkPartDone',
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

/** Chair commands at an empty chair (or one whose visit may end) make a new visit. */
function seating(
  type: SaidType,
  target: Stage,
  make: (seated: Head, said: Said, now: number) => Head,
  only: (world: World) => boolean,
) {
  return {
    target: `#visit.${target}`,
    guard: ({ context }: { context: World }) => only(context),
    actions: assign(({ context, event }: { context: World; event: Heard }) => {
      const said = event as Said;
      const service =
        said.type === 'SeatVisit' ? said.service : said.type === 'BeginApplication' ? (said.service ?? 0) : null;
      const offer = service === null ? null : (context.offers[service] ?? null);
      const seated = act.seat(context.head, context.serials + 1, offer, context.now);
      const head = ring(make(seated, said, context.now), context.now);
      return { answer: 'done', serials: context.serials + 1, head };
    }),
  };
}

const always = () => true;
const atEmptyChair = {
  SeatVisit: [seating('SeatVisit', 'prep', (seated) => seated, always)],
  BeginApplication: [
    seating('BeginApplication', 'apply', (seated, _, now) => act.inOneTouch(seated, act.begin(seated, now)), always),
  ],
  BeginRinse: [
    seating('BeginRinse', 'rinse', (seated, _, now) => act.inOneTouch(seated, act.water(seated, now)), always),
  ],
  ReportBurns: [
    seating(
      'ReportBurns',
      'rinse',
      (seated, said, now) => {
        return act.inOneTouch(seated, act.burn(seated, said.type === 'ReportBurns' ? said.place : 'skin', now));
      },
      always,
    ),
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
    const taken = ((lines[type] ?? []) as Line<SaidType>[]).flatMap(transitionsOf);
    on[type] = [...taken, ...(more[type] ?? []), ...transitionsOf(doesNotFit)];
  }
  return { on };
}

const unknownVisit = Object.fromEntries(
  saidTypes.map((type) => [type, { actions: assign(() => ({ answer: 'unknown-visit' })) }]),
);

const seatNext = {
  SeatVisit: [
    seating(
      'SeatVisit',
      'prep',
      (seated) => seated,
      (world) => world.head !== null && !productOn(world.head),
    ),
  ],
};

export const visitMachine = createMachine({
  id: 'visit',
  types: {} as { context: World; events: Heard; input: { offers: Offer[] } },
  context: ({ input }) => ({ now: 0, head: null, serials: 0, answer: '', offers: input.offers }),
  initial: 'none',
  states: {
    none: { on: { ...unknownVisit, ...atEmptyChair, TimePasses: timePasses } },
    ...Object.fromEntries(Object.entries(table).map(([stage, lines]) => [stage, stateOf(lines, seatNext)])),
    finished: stateOf(finished, atEmptyChair),
  } as never,
});

export type VisitSnapshot = SnapshotFrom<typeof visitMachine>;

export function newChair(offers: Offer[]): VisitSnapshot {
  return initialTransition(visitMachine, { offers })[0];
}

export function hear(snapshot: VisitSnapshot, heard: Heard): VisitSnapshot {
  return transition(visitMachine, snapshot, heard)[0];
}
