import { SECOND } from '../../time.ts';
import type { BellRule } from './rule.ts';

/** Burns or product in the eye, until a person says what was done (S6). */
export const burns: BellRule = {
  cause: 'burns',
  kind: 'burns',
  level: () => 'DANGER',
  from: (visit) => (visit.burns !== null && visit.burns.closed === null ? visit.burns.at : null),
};

/** A client left with product on, until somebody has seen to it (X4). */
export const abandoned: BellRule = {
  cause: 'abandoned',
  kind: 'abandoned',
  level: () => 'WARNING',
  from: (visit) => {
    if (visit.end !== 'abandoned-with-product' || visit.settled !== null) return null;
    return visit.way[visit.way.length - 1]?.at ?? visit.seatedAt;
  },
};

/** Unanswered for so long it rings as burns do (S6). */
const TINGLES_UNANSWERED = 60 * SECOND;

/** It itches or tingles, and nobody has looked at it yet; whoever has gone home cannot be looked at. */
export const tingles: BellRule = {
  cause: 'tingles',
  kind: 'tingles',
  level: () => 'CAUTION',
  from: ({ tingles: told, stage }) =>
    told !== null && told.answered === null && stage !== 'finished' ? told.at : null,
};

/** Nobody has answered; somebody who said that they go has as long again, once. */
export const tinglesUnanswered: BellRule = {
  cause: 'tingles',
  kind: 'tingles',
  level: () => 'DANGER',
  from: (visit, figures) => {
    const at = tingles.from(visit, figures);
    if (at === null) return null;
    const takenAt = visit.bells.find((bell) => bell.cause === 'tingles')?.taken?.at ?? at;
    return Math.min(Math.max(at, takenAt), at + TINGLES_UNANSWERED) + TINGLES_UNANSWERED;
  },
};
