import { neutralizerWindow } from '../../exposure/finishing.ts';
import { currentPass, type VisitFacts } from '../../visit/visit.ts';
import type { BellRule } from './rule.ts';

function windowIn(visit: VisitFacts): ReturnType<typeof neutralizerWindow> {
  const pass = visit.stage === 'neutralize' ? currentPass(visit) : null;
  return pass === null ? null : neutralizerWindow(pass);
}

/** A neutralizer has a window of its own, rung under its own cause (S1). */
export const neutralizerSoon: BellRule = {
  cause: 'neutralizer',
  kind: 'soon',
  level: () => 'NOTICE',
  from: (visit, figures) => {
    const window = windowIn(visit);
    return window === null ? null : Math.min(window.opensAt, window.closesAt) - figures.soonMs;
  },
};

export const neutralizerRinse: BellRule = {
  cause: 'neutralizer',
  kind: 'rinse',
  level: () => 'CAUTION',
  from: (visit, figures) => {
    const window = windowIn(visit);
    return window === null ? null : window.closesAt - figures.rinseLeadMs - figures.walkMs;
  },
};

export const neutralizerOver: BellRule = {
  cause: 'neutralizer',
  kind: 'over',
  level: () => 'CAUTION',
  from: (visit) => windowIn(visit)?.closesAt ?? null,
};
