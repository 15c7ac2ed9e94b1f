import { assign, createActor, createMachine } from 'xstate';
import { finished } from './any-stage.ts';
import { beforeWater } from './before-water.ts';
import { fromWater } from './from-water.ts';
import type { Offer } from './head.ts';
import { tooLateToMark } from './part-lines.ts';
import { ring } from './ringing.ts';
import { doesNotFit, saidTypes, type Heard, type Line, type SaidType, type Table } from './said.ts';
import { atEmptyChair, seatNext } from './seating.ts';
import { transitionsOf, type World } from './transitions.ts';

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
    answer:
      (event.type === 'TakeBell' || event.type === 'PassBell') && event.by === null ? 'person-needed' : 'unknown-visit',
  })),
};

/** Whose bell it is, is asked before whose visit. */
const ofUnknownVisits = { TakeBell: unknownVisitsBell, PassBell: unknownVisitsBell };

const unknownVisit = Object.fromEntries(
  saidTypes.map((type) => [type, { actions: assign(() => ({ answer: 'unknown-visit' })) }]),
);

export const visitMachine = createMachine({
  id: 'visit',
  types: {} as { context: World; events: Heard; input: { offers: Offer[] } },
  context: ({ input }) => ({ now: 0, head: null, serials: 0, answer: '', offers: input.offers }),
  initial: 'none',
  states: {
    none: { on: { ...unknownVisit, ...atEmptyChair, ...ofUnknownVisits, TimePasses: timePasses } },
    ...Object.fromEntries(
      Object.entries({ ...beforeWater, ...fromWater }).map(([stage, lines]) => [stage, stateOf(lines, seatNext)]),
    ),
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
