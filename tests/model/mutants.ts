import type { BellStep } from '../../core/bells/due.ts';
import type { Recorded } from '../../core/events.ts';
import { visitAt, type Floor } from '../../core/floor.ts';
import { refuse } from '../../core/decision.ts';
import type { VisitEvent, VisitEventType } from '../../core/visit/events.ts';
import type { Visit } from '../../core/visit/history.ts';
import type { Pass, VisitFacts } from '../../core/visit/visit.ts';
import { trueCore, type Core } from './core-chair.ts';

/** Core with one rule altered. */
export interface Mutant {
  rule: string;
  does: string;
  core: Core;
}

const { decide, evolve, bellsDue } = trueCore;
export const altering = (change: Partial<Core>): Core => ({ ...trueCore, ...change });
const core = altering;
const everSeen = 1_000_000;

/** Facts after events of one type, altered. */
export function folding(
  type: VisitEventType,
  alter: (after: VisitFacts, before: VisitFacts | undefined) => VisitFacts,
): Core {
  return core({
    evolve: (floor: Floor, recorded: Recorded) => {
      const next = evolve(floor, recorded);
      if (recorded.event.type !== type) return next;
      const id = recorded.stream.slice('visit/'.length);
      const visit = next.visits[id];
      if (visit === undefined) return next;
      const altered: Visit = { ...visit, facts: alter(visit.facts, floor.visits[id]?.facts) };
      return { ...next, visits: { ...next.visits, [id]: altered } };
    },
  });
}

/** Events of one type are recorded otherwise. */
export function recording<T extends VisitEventType>(
  type: T,
  alter: (event: Extract<VisitEvent, { type: T }>) => VisitEvent,
): Core {
  const isIt = (event: { type: string }): event is Extract<VisitEvent, { type: T }> => event.type === type;
  return core({
    evolve: (floor, recorded) =>
      evolve(floor, isIt(recorded.event) ? { ...recorded, event: alter(recorded.event) } : recorded),
  });
}

export function ringing(alter: (step: Extract<BellStep, { do: 'ring' }>, now: number) => BellStep | null): Core {
  return core({
    bellsDue: (floor, now, unsaved) =>
      bellsDue(floor, now, unsaved)
        .map((step) => (step.do === 'ring' ? alter(step, now) : step))
        .filter((step) => step !== null),
  });
}

export const eachPass = (facts: VisitFacts, alter: (pass: Pass) => Pass): VisitFacts => ({
  ...facts,
  passes: facts.passes.map(alter),
});

export const mutants: Mutant[] = [
  {
    rule: 'S2',
    does: 'water on is refused in dry',
    core: core({
      decide: (floor, command, sender, now) =>
        command.type === 'BeginRinse' && visitAt(floor, command.chair)?.stage === 'dry'
          ? refuse('wrong-stage')
          : decide(floor, command, sender, now),
    }),
  },
  {
    rule: 'S2',
    does: 'a repeated water on is taken from somebody who had not seen the latest',
    core: core({
      decide: (floor, command, sender, now) =>
        decide(floor, command, command.type === 'BeginRinse' ? { ...sender, seen: everSeen } : sender, now),
    }),
  },
  {
    rule: 'S2',
    does: 'an unknown begin is not noted',
    core: folding('RinseBegun', (after) => eachPass(after, (pass) => ({ ...pass, beginUnknown: false }))),
  },
  {
    rule: 'S4',
    does: 'a skipped step is not owed',
    core: recording('MovedOn', (event) => ({
      ...event,
      owed: event.owed.filter((one) => one.item !== 'not-marked'),
    })),
  },
  {
    rule: 'S4',
    does: 'a short rinse is not named',
    core: recording('WentClear', (event) => ({
      ...event,
      owed: event.owed.filter((one) => one.item !== 'rinse-short'),
    })),
  },
  {
    rule: 'S3',
    does: 'the last part does not end the application',
    core: folding('PartMarkedDone', (after, before) => ({ ...after, stage: before?.stage ?? after.stage })),
  },
  {
    rule: 'S5',
    does: 'no shampoo is added after a failure',
    core: recording('ShampooMarked', (event) => ({ ...event, indicator: null, strip: null })),
  },
  {
    rule: 'S1',
    does: "the neutralizer's water moves the stage",
    core: folding('RinseBegun', (after) => ({ ...after, stage: 'rinse' })),
  },
  {
    rule: 'S6',
    does: 'burns do not move to rinse',
    core: folding('BurnsReported', (after, before) => ({ ...after, stage: before?.stage ?? after.stage })),
  },
  {
    rule: 'S6',
    does: 'the service goes on while burns stand',
    core: core({
      decide: (floor, command, sender, now) => {
        const visit = command.type === 'ClearAndOff' ? floor.visits[command.visit] : undefined;
        if (visit === undefined) return decide(floor, command, sender, now);
        const closed: Visit = { ...visit, facts: { ...visit.facts, burns: null } };
        return decide({ ...floor, visits: { ...floor.visits, [visit.facts.id]: closed } }, command, sender, now);
      },
    }),
  },
  {
    rule: 'S7',
    does: 'what others did meanwhile is told as a wrong stage',
    core: core({
      decide: (floor, command, sender, now) => {
        const decision = decide(floor, command, sender, now);
        const { answer } = decision;
        if (answer.outcome === 'done' || answer.code !== 'moved-on') return decision;
        return { ...decision, answer: { ...answer, code: 'wrong-stage' } };
      },
    }),
  },
  {
    rule: 'S9',
    does: 'the next client is seated over product',
    core: core({
      decide: (floor, command, sender, now) => {
        if (command.type !== 'SeatVisit') return decide(floor, command, sender, now);
        const visits = Object.entries(floor.visits).filter(([, { facts }]) => facts.chair !== command.chair);
        return decide({ ...floor, visits: Object.fromEntries(visits) }, command, sender, now);
      },
    }),
  },
  {
    rule: 'S10',
    does: 'the next pass begins in the one before',
    core: recording('ApplicationBegun', (event) => ({ ...event, pass: 0 })),
  },
  {
    rule: 'X2',
    does: 'a take-back leaves the stage',
    core: folding('MoveTakenBack', (after, before) => ({ ...after, stage: before?.stage ?? after.stage })),
  },
  {
    rule: 'X2',
    does: 'a move can be taken back for eleven minutes',
    core: core({
      decide: (floor, command, sender, now) =>
        decide(floor, command, sender, command.type === 'TakeBack' ? now - 60_000 : now),
    }),
  },
  {
    rule: 'X4',
    does: 'leaving with product on is recorded as leaving',
    core: recording('VisitEnded', (event) => ({
      ...event,
      end: event.end === 'abandoned-with-product' ? 'abandoned' : event.end,
    })),
  },
  {
    rule: 'E3',
    does: "a part's own ceiling is not heeded",
    core: recording('VisitSeated', (event) => ({
      ...event,
      passes: event.passes.map(({ rules, ...plan }) => ({
        ...plan,
        rules: rules && { ...rules, parts: rules.parts.map((part) => ({ ...part, ceilingMs: null })) },
      })),
    })),
  },
  {
    rule: 'E2',
    does: 'the least on hair from first touch is not heeded',
    core: recording('VisitSeated', (event) => ({
      ...event,
      passes: event.passes.map(({ rules, ...plan }) => ({ ...plan, rules: rules && { ...rules, minTotalMs: null } })),
    })),
  },
  {
    rule: 'R2',
    does: '`rinse` rings one minute late',
    core: ringing((step, now) => (step.kind === 'rinse' && now < step.dueAt + 60_000 ? null : step)),
  },
  {
    rule: 'R2',
    does: 'a level falls as a later row replaces it',
    core: ringing((step) => (step.why === 'replaces' && step.kind === 'over' ? { ...step, level: 'NOTICE' } : step)),
  },
  {
    rule: 'R2',
    does: '`over` is not DANGER for hydroxide',
    core: ringing((step) => (step.kind === 'over' && step.level === 'DANGER' ? { ...step, level: 'WARNING' } : step)),
  },
  {
    rule: 'R2',
    does: 'episodes are not counted',
    core: ringing((step) => ({ ...step, episode: 1 })),
  },
  {
    rule: 'R2',
    does: 'a later row forgets that its bell is taken',
    core: folding('BellRung', (after) => ({ ...after, bells: after.bells.map((bell) => ({ ...bell, taken: null })) })),
  },
  {
    rule: 'R2',
    does: 'a cause that no row supports stands on',
    core: core({
      bellsDue: (floor, now, unsaved) =>
        bellsDue(floor, now, unsaved).filter((step) => step.do === 'ring' || step.cause !== 'dwell'),
    }),
  },
  {
    rule: 'S1',
    does: "the neutralizer's close rings WARNING",
    core: ringing((step) =>
      step.cause === 'neutralizer' && step.kind === 'over' ? { ...step, level: 'WARNING' } : step,
    ),
  },
];
