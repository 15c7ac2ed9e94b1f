import { actedFor } from '../bells/bell.ts';
import type { Entry } from './entry.ts';
import { isMove } from './events.ts';
import type { Act, Mark, TinglesAnswer, VisitFacts } from './visit.ts';

/** Whoever seats a client stands at the chair. */
export function seatedBy({ at, by }: Entry): readonly Act[] {
  return [{ by, at }];
}

/** The facts with whoever did this at the head; words written about it from elsewhere are no acts (R3). */
export function actedAt(facts: VisitFacts, { event, at, by }: Entry): VisitFacts {
  if (!isMove(event)) return facts;
  const others = facts.acts.filter((act) => act.by !== by && act.at > at - actedFor);
  const own = facts.acts.find((act) => act.by === by);
  return { ...facts, acts: [...others, { by, at: Math.max(at, own?.at ?? at) }] };
}

/** What came of it; only the first answer counts, and an answer to nothing changes nothing. */
export function tinglesAnswered(facts: VisitFacts, answer: TinglesAnswer, mark: Mark): VisitFacts {
  const { tingles } = facts;
  if (tingles === null || tingles.answered !== null || mark.at < tingles.at) return facts;
  return { ...facts, tingles: { ...tingles, answered: { ...mark, answer } } };
}
