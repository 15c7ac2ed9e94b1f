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
