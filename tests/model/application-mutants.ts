import type { BellStep } from '../../core/bells/due.ts';
import type { Outside } from '../../core/bells/outside.ts';
import type { Floor } from '../../core/floor.ts';
import type { Visit } from '../../core/visit/history.ts';
import type { Pass } from '../../core/visit/visit.ts';
import { trueCore } from './core-chair.ts';
import { altering, eachPass, folding, recording, ringing, type Mutant } from './mutants.ts';

const { bellsDue, decide, evolve } = trueCore;

/** The floor as if no pace bell stood: what core would then ring is judged without the minute of slack (P4). */
function withoutPace(floor: Floor): Floor {
  const visits = Object.entries(floor.visits).map(([id, visit]): [string, Visit] => {
    const bells = visit.facts.bells.filter((bell) => bell.cause !== 'pace');
    return [id, { ...visit, facts: { ...visit.facts, bells } }];
  });
  return { ...floor, visits: Object.fromEntries(visits) };
}

function paceWithoutSlack(floor: Floor, now: number, outside: Outside | null): BellStep[] {
  const steps = bellsDue(floor, now, outside);
  const anew = bellsDue(withoutPace(floor), now, outside).filter((step) => step.do === 'ring' && step.cause === 'pace');
  for (const { facts } of Object.values(floor.visits)) {
    const stands = facts.bells.find((bell) => bell.cause === 'pace');
    const gone = stands !== undefined && !anew.some((step) => step.subject === facts.id);
    const told = steps.some((step) => step.subject === facts.id && step.cause === 'pace');
    if (gone && !told)
      steps.push({ do: 'end', subject: facts.id, cause: 'pace', episode: stands.episode, why: 'cleared' });
  }
  return steps;
}

/** The floor as if nobody had been burnt. */
function unburnt(floor: Floor): Floor {
  const visits = Object.entries(floor.visits).map(([id, visit]): [string, Visit] => [
    id,
    { ...visit, facts: { ...visit.facts, burns: null } },
  ]);
  return { ...floor, visits: Object.fromEntries(visits) };
}

function askingTheBurnt(floor: Floor, now: number, outside: Outside | null): BellStep[] {
  const asked = (step: BellStep) => step.cause === 'water-on?';
  return [
    ...bellsDue(floor, now, outside).filter((step) => !asked(step)),
    ...bellsDue(unburnt(floor), now, outside).filter(asked),
  ];
}

const withRules = (change: (rules: NonNullable<Pass['rules']>) => NonNullable<Pass['rules']>) =>
  recording('VisitSeated', (event) => ({
    ...event,
    passes: event.passes.map((plan) => ({ ...plan, rules: plan.rules && change(plan.rules) })),
  }));

/** Rules of parts, pace, strand tests, heat and limits, each altered. */
export const applicationMutants: Mutant[] = [
  {
    rule: 'P4',
    does: '`pace` rings one minute late',
    core: ringing((step, now) => (step.kind === 'pace' && now < step.dueAt + 60_000 ? null : step)),
  },
  { rule: 'P4', does: '`pace` is withdrawn without slack', core: altering({ bellsDue: paceWithoutSlack }) },
  {
    rule: 'P2',
    does: 'a helper counts for nothing',
    core: folding('HelperJoined', (after) => eachPass(after, (pass) => ({ ...pass, hands: pass.hands.slice(0, 1) }))),
  },
  {
    rule: 'P2',
    does: 'a helper who left still works',
    core: folding('HelperLeft', (after) =>
      eachPass(after, (pass) => ({ ...pass, hands: pass.hands.map((one) => ({ ...one, untilAt: null })) })),
    ),
  },
  {
    rule: 'P0',
    does: 'a part left in work loses its begin',
    core: folding('HelperLeft', (after) => eachPass(after, (pass) => ({ ...pass, leftInWork: [] }))),
  },
  {
    rule: 'P0',
    does: 'of a part left in work only the last begin counts',
    core: folding('HelperLeft', (after) =>
      eachPass(after, (pass) => ({
        ...pass,
        leftInWork: pass.leftInWork.filter((one, i, all) => !all.slice(i + 1).some((later) => later.part === one.part)),
      })),
    ),
  },
  {
    rule: 'P0',
    does: 'whoever joined last goes, though another is named',
    core: recording('HelperLeft', (event) => ({ ...event, person: null })),
  },
  {
    rule: 'E6',
    does: 'a strand of a by-part product need not name its part',
    core: altering({
      decide: (floor, command, sender, now) => {
        if (command.type !== 'TestStrand' || command.part !== null) return decide(floor, command, sender, now);
        const visit = floor.visits[command.visit]?.facts;
        const byPart = visit?.passes[visit.pass]?.rules?.manner === 'by-part';
        return decide(floor, byPart ? { ...command, part: 0 } : command, sender, now);
      },
    }),
  },
  {
    rule: 'R2',
    does: '`water-on?` is asked of somebody burnt',
    core: altering({ bellsDue: askingTheBurnt }),
  },
  {
    rule: 'E6',
    does: 'ready does not close the window',
    core: withRules((rules) => ({ ...rules, graceMs: 10_800_000 })),
  },
  {
    rule: 'E6',
    does: 'ready does not end the application',
    core: folding('StrandTested', (after, before) => ({
      ...after,
      stage: before?.stage ?? after.stage,
      passes: after.passes.map((pass, i) => ({ ...pass, applied: before?.passes[i]?.applied ?? null })),
    })),
  },
  {
    rule: 'E6',
    does: 'the next test does not move with the last',
    core: folding('StrandTested', (after) =>
      eachPass(after, (pass) => ({ ...pass, tests: pass.tests.filter((one) => one.result === 'ready') })),
    ),
  },
  {
    rule: 'R2',
    does: 'naming the basin does not answer `water-on?`',
    core: folding('BasinNamed', (after) =>
      eachPass(after, (pass) => ({
        ...pass,
        firstWater: pass.firstWater && { ...pass.firstWater, confirmed: false },
      })),
    ),
  },
  {
    rule: 'E10',
    does: 'own figures under heat are not heeded',
    core: withRules((rules) => ({ ...rules, underHeat: null })),
  },
  {
    rule: 'E10',
    does: 'heat never spoken of counts as none',
    core: folding('ApplicationBegun', (after) =>
      eachPass(after, (pass) => ({
        ...pass,
        heat: pass.heat ?? { on: false, at: after.seatedAt, by: null, version: 0 },
      })),
    ),
  },
  {
    rule: 'E9',
    does: 'limits told for one head are not heeded',
    core: folding('LimitsSet', (after, before) => ({
      ...after,
      passes: after.passes.map((pass, i) => ({ ...pass, rules: before?.passes[i]?.rules ?? pass.rules })),
    })),
  },
  {
    rule: 'E9',
    does: 'anybody may raise a limit',
    core: altering({
      decide: (floor, command, sender, now) =>
        decide(floor, command, command.type === 'SetLimits' ? { ...sender, by: 'person-sena' } : sender, now),
    }),
  },
  {
    rule: 'R2',
    does: '`begun?` is not raised to CAUTION',
    core: ringing((step) => (step.kind === 'begun?' && step.level === 'CAUTION' ? null : step)),
  },
  {
    rule: 'X3',
    does: 'a forgotten part is taken as done when it was said',
    core: altering({
      evolve: (floor, recorded) =>
        evolve(floor, recorded.event.type === 'PartMarkedDone' ? { ...recorded, at: recorded.recordedAt } : recorded),
    }),
  },
];
