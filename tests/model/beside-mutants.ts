import type { Bell } from '../../core/bells/bell.ts';
import type { VisitFacts } from '../../core/visit/visit.ts';
import { trueCore } from './core-chair.ts';
import { altering, folding, ringing, type Mutant } from './mutants.ts';

const { bellsDue, decide } = trueCore;

const eachBell = (
  after: VisitFacts,
  before: VisitFacts | undefined,
  alter: (bell: Bell, was: Bell) => Bell,
): VisitFacts => ({
  ...after,
  bells: after.bells.map((bell) => {
    const was = before?.bells.find((one) => one.cause === bell.cause);
    return was === undefined ? bell : alter(bell, was);
  }),
});

/** Rules of tingles, of handing over and of "I can't", each altered. */
export const besideMutants: Mutant[] = [
  {
    rule: 'S6',
    does: 'tingles that nobody answers never ring as burns do',
    core: ringing((step) => (step.cause === 'tingles' && step.level === 'DANGER' ? null : step)),
  },
  {
    rule: 'S6',
    does: 'water on does not answer tingles',
    core: folding('RinseBegun', (after, before) => ({ ...after, tingles: before?.tingles ?? null })),
  },
  {
    rule: 'S6',
    does: 'tingles ring on at a head whose client has gone',
    core: altering({
      bellsDue: (floor, now, outside) =>
        bellsDue(floor, now, outside).filter(
          (step) => step.do !== 'end' || step.cause !== 'tingles' || step.why !== 'visit-ended',
        ),
    }),
  },
  {
    rule: 'S7',
    does: 'anybody accepts a head that is handed over',
    core: altering({
      decide: (floor, command, sender, now) => {
        if (command.type !== 'AnswerOffer') return decide(floor, command, sender, now);
        const to = floor.visits[command.visit]?.facts.offered?.to ?? sender.by;
        return decide(floor, command, { ...sender, by: to }, now);
      },
    }),
  },
  {
    rule: 'S7',
    does: 'a head is given away by offering it',
    core: folding('HeadOffered', (after) => ({ ...after, stylist: after.offered?.to ?? null })),
  },
  {
    rule: 'R3',
    does: '"I can’t" leaves an "I’ll go" as it is',
    core: folding('BellPassed', (after, before) =>
      eachBell(after, before, (bell, was) => ({ ...bell, taken: was.taken })),
    ),
  },
  {
    rule: 'R3',
    does: 'whoever could not go is not asked again at a higher level',
    core: folding('BellRung', (after, before) =>
      eachBell(after, before, (bell, was) => ({ ...bell, passed: was.passed })),
    ),
  },
  {
    rule: 'S5',
    does: '`back-to-rinse` stands on after a shampoo that shows it neutral',
    core: altering({
      bellsDue: (floor, now, outside) =>
        bellsDue(floor, now, outside).filter((step) => step.do !== 'end' || step.cause !== 'back-to-rinse'),
    }),
  },
];
