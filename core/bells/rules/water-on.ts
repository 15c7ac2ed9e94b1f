import { windowOf } from '../../exposure/window.ts';
import { SECOND, type EpochMs } from '../../time.ts';
import { currentPass, type Pass, type VisitFacts, type Water } from '../../visit/visit.ts';
import type { BellRule } from './rule.ts';

const ASK_AFTER = 90 * SECOND;

/**
 * The first water, if it may have been said to be on by mistake: before the window, or with neither basin nor person. Water
 * said to be on once more does not answer that.
 */
function doubtful(visit: VisitFacts): { readonly pass: Pass; readonly water: Water } | null {
  const pass = visit.stage === 'rinse' ? currentPass(visit) : null;
  const water = pass?.firstWater ?? null;
  if (pass === null || pass.water === null || water === null || water.confirmed) return null;
  // Whoever is burnt has somebody beside them, and only one thing to think of.
  const { burns } = visit;
  if (burns !== null && burns.at >= (pass.begun?.at ?? burns.at)) return null;
  const window = windowOf(pass, water.at);
  const early = window !== null && water.at < Math.min(window.opensAt, window.closesAt);
  return early || (water.basin === null && water.by === null) ? { pass, water } : null;
}

function askAt(visit: VisitFacts): EpochMs | null {
  const asked = doubtful(visit);
  return asked === null ? null : asked.water.at + ASK_AFTER;
}

/** Is the water really on? Ends when the basin is named or the water runs clear. */
export const waterOnAsk: BellRule = {
  cause: 'water-on?',
  kind: 'water-on?',
  level: () => 'CAUTION',
  from: askAt,
};

/** Asked louder once the close has come; a begin nobody knows counts as past it (S2); what product nobody knows has none. */
export const waterOnAskLouder: BellRule = {
  cause: 'water-on?',
  kind: 'water-on?',
  level: () => 'WARNING',
  from: (visit) => {
    const asked = doubtful(visit);
    if (asked === null) return null;
    const askedAt = asked.water.at + ASK_AFTER;
    const window = windowOf(asked.pass, asked.water.at);
    if (window === null) return asked.pass.beginUnknown && asked.pass.rules !== null ? askedAt : null;
    return Math.max(askedAt, window.closesAt);
  },
};
